//! Large looped networks of many shapes, made from a seed: for benches and for counts of steps.

mod dress;
mod planar;
mod wild;

pub use dress::dressed;

use fallwright::network::Network;

/// Which nodes are joined.
pub struct Plan {
    /// Number of nodes.
    pub nodes: usize,
    /// The two ends of every run, each pair once.
    pub pairs: Vec<[usize; 2]>,
}

/// A family of plans of about any size.
#[derive(Clone, Copy)]
pub struct Family {
    /// Its name, in words joined by hyphens.
    pub name: &'static str,
    /// It can be drawn on paper without crossings, or nearly so.
    pub planar: bool,
    make: fn(usize, u64) -> Plan,
}

/// All families.
pub const FAMILIES: [Family; 13] = [
    family("square-grid", true, planar::square),
    family("grid-with-diagonals", true, planar::diagonals),
    family("hexagons", true, planar::hexagons),
    family("ladder", true, planar::ladder),
    family("triangles-thinned", true, planar::triangles),
    family("grid-of-grids", true, planar::districts),
    family("ring-of-rings", true, planar::rings),
    family("random-geometric", true, planar::geometric),
    family("tree-with-loops", true, wild::tree),
    family("small-world", false, wild::small_world),
    family("hubs-and-branches", false, wild::hubs),
    family("scale-free", false, wild::scale_free),
    family("cubic-lattice", false, wild::cubic),
];

const fn family(name: &'static str, planar: bool, make: fn(usize, u64) -> Plan) -> Family {
    Family { name, planar, make }
}

impl Family {
    /// The family of that name.
    pub fn named(name: &str) -> Option<Family> {
        FAMILIES.into_iter().find(|family| family.name == name)
    }

    /// A network of about `nodes` nodes; the same for the same seed.
    pub fn network(&self, nodes: usize, seed: u64) -> Network {
        dressed(&joined((self.make)(nodes, seed)), seed)
    }
}

/// The plan with its pieces joined into one, piece by piece in the order of their first nodes.
fn joined(mut plan: Plan) -> Plan {
    for pair in &mut plan.pairs {
        pair.sort_unstable();
    }
    plan.pairs.sort_unstable();
    plan.pairs.dedup();
    plan.pairs.retain(|[a, b]| a != b);
    let mut root: Vec<usize> = (0..plan.nodes).collect();
    for &[a, b] in &plan.pairs {
        let (a, b) = (find(&mut root, a), find(&mut root, b));
        root[a.max(b)] = a.min(b);
    }
    for node in 1..plan.nodes {
        if find(&mut root, node) == node {
            plan.pairs.push([node - 1, node]);
            let before = find(&mut root, node - 1);
            root[node] = before;
        }
    }
    plan
}

fn find(root: &mut [usize], mut node: usize) -> usize {
    while root[node] != node {
        root[node] = root[root[node]];
        node = root[node];
    }
    node
}
