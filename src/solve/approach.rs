//! Where the water went in the final step to a steady state.
//!
//! That step stands for years. The volume a link passes in it is its flow times those years, and no mass balance is
//! exact enough for that product. What the vessels gained or lost is exact, and it passed through the links that
//! lead out.

use super::system::{NetworkState, System};
use crate::network::Node;
use petgraph::unionfind::UnionFind;

/// The water accounting of the final step to a steady state.
#[derive(Debug, Default)]
pub(super) struct FinalApproach {
    /// Volume that each link to a fixed level passed, m³, positive from source to target.
    pub passed_m3: Vec<(usize, f64)>,
    /// Water gained or lost where no link leads in or out, m³, each with the vessel that gained most there.
    pub open_m3: Vec<(usize, f64)>,
}

/// Volumes that passed the links to fixed levels between `before` and its steady state `limit`.
///
/// Each part of the network that is connected by flow is treated separately: the gain or loss of its vessels is
/// shared among the links that carry flow out or in at the steady state, or failing that among those that did so
/// before. Where a node has an inflow or draw-off of its own, its share cannot be told, and nothing is recorded.
pub(super) fn approach(
    system: &System,
    before: &NetworkState,
    limit: &NetworkState,
) -> FinalApproach {
    let points = [limit, before];
    let part_of = hanging_together(system, points);
    let gained = |node: usize| limit.volume_m3[node] - before.volume_m3[node];
    let mut gained_m3 = vec![0.0; part_of.len()];
    let mut is_fed = vec![false; part_of.len()];
    let mut leads_out = vec![Vec::new(); part_of.len()];
    for (node, &part) in part_of.iter().enumerate() {
        gained_m3[part] += gained(node);
        is_fed[part] |= points
            .iter()
            .any(|point| system.source(node, point.head_m[node]).0 != 0.0);
    }
    for (index, link) in system.links.iter().enumerate() {
        let [source, target] = link.ends();
        match [source, target].map(|node| is_balanced(system, node)) {
            [false, true] => leads_out[part_of[source]].push((index, 1.0)),
            [true, false] => leads_out[part_of[target]].push((index, -1.0)),
            _ => {}
        }
    }
    let mut found = FinalApproach::default();
    for (part, gained_m3) in gained_m3.into_iter().enumerate() {
        if is_fed[part] || gained_m3 == 0.0 {
            continue;
        }
        let lost_m3 = -gained_m3;
        match points
            .iter()
            .find_map(|point| shares(point, &leads_out[part], lost_m3))
        {
            Some(passed_m3) => found.passed_m3.extend(passed_m3),
            None => {
                let vessels = system.vessels.iter().copied();
                let of_part = vessels.filter(|&node| part_of[node] == part);
                let most = of_part.max_by(|&a, &b| gained(a).total_cmp(&gained(b)));
                found.open_m3.extend(most.map(|node| (node, gained_m3)));
            }
        }
    }
    found
}

/// For every node the number of its connected part: two nodes belong together where water flows between them in one
/// of `points`.
fn hanging_together(system: &System, points: [&NetworkState; 2]) -> Vec<usize> {
    let mut parts = UnionFind::new(system.nodes.len());
    for (index, link) in system.links.iter().enumerate() {
        let ends = link.ends();
        let flows = points.iter().any(|point| point.flow_m3_s[index] != 0.0);
        if flows && !ends.iter().any(|&node| is_balanced(system, node)) {
            parts.union(ends[0], ends[1]);
        }
    }
    parts.into_labeling()
}

fn is_balanced(system: &System, node: usize) -> bool {
    matches!(system.nodes[node], Node::Fixed { .. })
}

/// A loss (negative: gain), m³, distributed over the links in proportion to their flow in that direction; none where
/// nothing flows in that direction.
///
/// `leads_out`: links, with 1 where they lead out from source to target and −1 where from target to source.
fn shares(
    point: &NetworkState,
    leads_out: &[(usize, f64)],
    lost_m3: f64,
) -> Option<Vec<(usize, f64)>> {
    let takes =
        |&(link, out): &(usize, f64)| (lost_m3.signum() * out * point.flow_m3_s[link]).max(0.0);
    let all: f64 = leads_out.iter().map(takes).sum();
    let share = |one: &(usize, f64)| (one.0, lost_m3 * one.1 * takes(one) / all);
    (all > 0.0).then(|| leads_out.iter().map(share).collect())
}
