//! Plans that nobody could draw without crossings, and trees.

use super::super::networks::Dice;
use super::Plan;

/// A branched tree with a loop at every twentieth node.
pub fn tree(nodes: usize, seed: u64) -> Plan {
    let mut dice = Dice(seed);
    let mut pairs = Vec::new();
    for node in 1..nodes {
        // From one of the last few hundred: branches, but no star.
        let back = 1 + dice.below(node.min(300));
        pairs.push([node - back, node]);
        if node > 40 && dice.chance(0.05) {
            pairs.push([node - 1 - dice.below(40), node]);
        }
    }
    Plan { nodes, pairs }
}

/// A ring on which every node is joined to the two before it, and one run in fifty goes anywhere.
pub fn small_world(nodes: usize, seed: u64) -> Plan {
    let mut dice = Dice(seed);
    let mut pairs = Vec::new();
    for node in 0..nodes {
        for step in 1..=2 {
            let other = if dice.chance(0.02) {
                dice.below(nodes)
            } else {
                (node + step) % nodes
            };
            pairs.push([node, other]);
        }
    }
    Plan { nodes, pairs }
}

/// Every node joins `links` that are there already, the more readily the more runs those have.
fn preferring_hubs(nodes: usize, seed: u64, second: f64) -> Plan {
    let mut dice = Dice(seed);
    let mut pairs = vec![[0, 1], [1, 2], [2, 0]];
    for node in 3..nodes {
        let links = if dice.chance(second) { 2 } else { 1 };
        for _ in 0..links {
            let [a, b] = pairs[dice.below(pairs.len())];
            pairs.push([if dice.chance(0.5) { a } else { b }, node]);
        }
    }
    Plan { nodes, pairs }
}

/// Hubs with branches: one node in eight joins two others.
pub fn hubs(nodes: usize, seed: u64) -> Plan {
    preferring_hubs(nodes, seed, 0.125)
}

/// Hubs with hardly a branch: every node joins two others.
pub fn scale_free(nodes: usize, seed: u64) -> Plan {
    preferring_hubs(nodes, seed, 1.0)
}

/// Storeys of streets, with a riser at every corner.
pub fn cubic(nodes: usize, _seed: u64) -> Plan {
    let side = (nodes as f64).cbrt().round().max(2.0) as usize;
    let (row, storey) = (side, side * side);
    let mut pairs = Vec::new();
    for node in 0..side * side * side {
        if node % side + 1 < side {
            pairs.push([node, node + 1]);
        }
        if node / row % side + 1 < side {
            pairs.push([node, node + row]);
        }
        if node / storey + 1 < side {
            pairs.push([node, node + storey]);
        }
    }
    Plan {
        nodes: side * side * side,
        pairs,
    }
}
