//! From a plan to a network: levels, draw-offs, bores that carry them, a few valves and pumps.

use super::super::networks::{Dice, VISCOSITY};
use super::Plan;
use fallwright::hydraulics::losses::friction::Wall;
use fallwright::hydraulics::losses::loss::{Loss, Minor};
use fallwright::hydraulics::pump::Curve;
use fallwright::network::{Check, Link, Network, Node, Port, PumpLaw, RunLaw};

const BORES_M: [f64; 12] = [
    0.05, 0.065, 0.08, 0.1, 0.15, 0.2, 0.25, 0.3, 0.4, 0.6, 0.8, 1.2,
];
const ROUGHNESSES_M: [f64; 4] = [1.5e-6, 1e-5, 1e-4, 1e-3];
/// Velocity by which a bore is chosen, m/s.
const BRISK_M_S: f64 = 0.8;
/// One held level for so many nodes, and so many more.
const NODES_TO_A_LEVEL: usize = 2500;
const LEAST_LEVELS: usize = 4;

/// The shortest ways from the held levels to every node.
struct Ways {
    /// For each node the run by which water comes, and the node from which; none where the level is held.
    by: Vec<Option<(usize, usize)>>,
    /// Nodes from near to far.
    order: Vec<usize>,
}

/// The plan with numbers: the same for the same seed.
pub fn dressed(plan: &Plan, seed: u64) -> Network {
    let mut dice = Dice(seed ^ 0xD4E5_5EED);
    let mut level_m = vec![None; plan.nodes];
    let levels = LEAST_LEVELS + plan.nodes / NODES_TO_A_LEVEL;
    for place in 0..levels {
        let share = (place as f64 + dice.roll()) / levels as f64;
        level_m[(share * plan.nodes as f64) as usize] = Some(dice.between(58.0, 62.0));
    }
    let drawn: Vec<f64> = (0..plan.nodes)
        .map(|_| {
            if dice.chance(0.8) {
                dice.scale(1e-5, 1e-4)
            } else {
                0.0
            }
        })
        .collect();
    let ways = ways(plan, &level_m);
    let loads = loads(plan, &ways, &drawn);
    let mut network = Network::new();
    for (level, drawn) in level_m.iter().zip(&drawn) {
        network.add_node(match level {
            Some(level_m) => Node::Fixed { level_m: *level_m },
            None => Node::Joint {
                source_m3_s: -drawn,
            },
        });
    }
    for (&[a, b], load) in plan.pairs.iter().zip(loads) {
        network.add_edge((a as u32).into(), (b as u32).into(), run(&mut dice, load));
    }
    network
}

fn ways(plan: &Plan, level_m: &[Option<f64>]) -> Ways {
    let mut touching = vec![Vec::new(); plan.nodes];
    for (index, &[a, b]) in plan.pairs.iter().enumerate() {
        touching[a].push((index, b));
        touching[b].push((index, a));
    }
    let mut order: Vec<usize> = (0..plan.nodes)
        .filter(|&node| level_m[node].is_some())
        .collect();
    let mut seen: Vec<bool> = level_m.iter().map(Option::is_some).collect();
    let mut by = vec![None; plan.nodes];
    let mut next = 0;
    while let Some(&node) = order.get(next) {
        next += 1;
        for &(index, other) in &touching[node] {
            if !seen[other] {
                seen[other] = true;
                by[other] = Some((index, node));
                order.push(other);
            }
        }
    }
    Ways { by, order }
}

/// What every run carries if all water comes by the shortest way, m³/s; none where it carries nothing then.
fn loads(plan: &Plan, ways: &Ways, drawn: &[f64]) -> Vec<Option<f64>> {
    let mut through = drawn.to_vec();
    let mut loads = vec![None; plan.pairs.len()];
    for &node in ways.order.iter().rev() {
        if let Some((index, from)) = ways.by[node] {
            loads[index] = Some(through[node]);
            through[from] += through[node];
        }
    }
    loads
}

fn run(dice: &mut Dice, load_m3_s: Option<f64>) -> Link {
    let area_m2 = load_m3_s.unwrap_or(0.0) / BRISK_M_S;
    let wanted_m = (area_m2 / std::f64::consts::FRAC_PI_4).sqrt();
    let least = BORES_M.partition_point(|bore| *bore < wanted_m);
    let bore_m = BORES_M[(least + dice.below(3)).min(BORES_M.len() - 1)];
    let loss = Loss {
        bore_m,
        length_m: dice.between(20.0, 200.0),
        wall: Wall::Darcy {
            roughness_m: ROUGHNESSES_M[dice.below(4)],
        },
        minors: vec![Minor {
            k: dice.between(0.0, 5.0),
            bore_m,
        }],
        equipment_a: 0.0,
        equipment_b: 0.0,
        kinematic_viscosity_m2_s: VISCOSITY,
        gravity_m_s2: 9.80665,
        hazen_williams_k: 10.67,
    };
    // Only off the shortest ways, so that no valve cuts a node off.
    let spare = load_m3_s.is_none();
    let pumped = spare && dice.chance(0.002);
    let pump = pumped.then(|| PumpLaw {
        curve: Curve::Power {
            h0_m: dice.between(1.0, 8.0),
            c: dice.between(1e3, 1e5),
            n: 2.0,
        },
        backward: false,
    });
    let valve = pumped || (spare && dice.chance(0.03));
    Link::Run(Box::new(RunLaw {
        ends: [Port::closed(), Port::closed()],
        loss,
        loss_back: None,
        pump,
        check: if valve {
            Check::ForwardOnly
        } else {
            Check::None
        },
        raised: None,
        grades: [None, None],
        primed_grades: [None, None],
        primed: false,
    }))
}
