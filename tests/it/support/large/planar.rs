//! Plans that can be drawn on paper, or nearly so.

use super::super::networks::Dice;
use super::Plan;

fn side_of(nodes: usize) -> usize {
    (nodes as f64).sqrt().round().max(2.0) as usize
}

/// Runs along rows and columns of a rectangle; the nodes row by row.
fn rectangle(rows: usize, columns: usize) -> Plan {
    let mut pairs = Vec::new();
    for node in 0..rows * columns {
        if node % columns + 1 < columns {
            pairs.push([node, node + 1]);
        }
        if node + columns < rows * columns {
            pairs.push([node, node + columns]);
        }
    }
    Plan {
        nodes: rows * columns,
        pairs,
    }
}

/// Streets at right angles.
pub fn square(nodes: usize, _seed: u64) -> Plan {
    let side = side_of(nodes);
    rectangle(side, side)
}

/// Streets at right angles, and one diagonal through every block.
pub fn diagonals(nodes: usize, _seed: u64) -> Plan {
    let side = side_of(nodes);
    let mut plan = rectangle(side, side);
    for row in 1..side {
        for column in 1..side {
            let node = row * side + column;
            plan.pairs.push([node - side - 1, node]);
        }
    }
    plan
}

/// Three runs at every node: bricks, which are hexagons.
pub fn hexagons(nodes: usize, _seed: u64) -> Plan {
    let side = side_of(nodes);
    let mut plan = rectangle(side, side);
    plan.pairs.retain(|&[a, b]| {
        let upright = b - a == side;
        !upright || (a / side + a % side).is_multiple_of(2)
    });
    plan
}

/// Long and thin: four runs abreast.
pub fn ladder(nodes: usize, _seed: u64) -> Plan {
    rectangle((nodes / 4).max(2), 4)
}

/// A grid with a diagonal this way or that through every block, and every fifth run left out.
pub fn triangles(nodes: usize, seed: u64) -> Plan {
    let mut dice = Dice(seed);
    let side = side_of(nodes);
    let mut plan = rectangle(side, side);
    for row in 1..side {
        for column in 1..side {
            let node = row * side + column;
            plan.pairs.push(if dice.chance(0.5) {
                [node - side - 1, node]
            } else {
                [node - side, node - 1]
            });
        }
    }
    plan.pairs.retain(|_| !dice.chance(0.2));
    plan
}

/// Districts of about 400 nodes, each a grid, joined to their neighbours by one or two mains.
pub fn districts(nodes: usize, seed: u64) -> Plan {
    const SIDE: usize = 20;
    let mut dice = Dice(seed);
    let across = side_of((nodes / (SIDE * SIDE)).max(1));
    let district = SIDE * SIDE;
    let mut plan = Plan {
        nodes: across * across * district,
        pairs: Vec::new(),
    };
    for place in 0..across * across {
        let first = place * district;
        let inside = rectangle(SIDE, SIDE).pairs;
        plan.pairs
            .extend(inside.into_iter().map(|pair| pair.map(|node| first + node)));
        for _ in 0..2 {
            let along = dice.below(SIDE);
            if place % across + 1 < across {
                let (from, to) = (along * SIDE + SIDE - 1, along * SIDE);
                plan.pairs.push([first + from, first + district + to]);
            }
            if place + across < across * across {
                let from = (SIDE - 1) * SIDE + along;
                plan.pairs
                    .push([first + from, first + across * district + along]);
            }
        }
    }
    plan
}

/// Rings of 25 nodes on rings of rings: each joined to the next by two runs, with a few shortcuts.
pub fn rings(nodes: usize, seed: u64) -> Plan {
    const RING: usize = 25;
    let mut dice = Dice(seed);
    let count = (nodes / RING).max(3);
    let mut pairs = Vec::new();
    for ring in 0..count {
        let (first, next) = (ring * RING, (ring + 1) % count * RING);
        pairs.extend((0..RING).map(|node| [first + node, first + (node + 1) % RING]));
        for _ in 0..2 {
            pairs.push([first + dice.below(RING), next + dice.below(RING)]);
        }
        // Every tenth ring is on a larger ring too.
        if ring % 10 == 0 {
            pairs.push([first, (ring + 10) % count * RING]);
        }
    }
    Plan {
        nodes: count * RING,
        pairs,
    }
}

/// Points thrown on a square, joined where they are near: about six runs to a node.
pub fn geometric(nodes: usize, seed: u64) -> Plan {
    let mut dice = Dice(seed);
    let near = (6.0 / (std::f64::consts::PI * nodes as f64)).sqrt();
    let cells = (1.0 / near).floor().max(1.0) as usize;
    let cell_of = |x: f64| ((x * cells as f64) as usize).min(cells - 1);
    let mut points: Vec<[f64; 2]> = (0..nodes).map(|_| [dice.roll(), dice.roll()]).collect();
    // Row by row of cells, so that numbers near each other are near on the square.
    points.sort_by_key(|&[x, y]| (cell_of(y), cell_of(x)));
    let mut inside: Vec<Vec<usize>> = vec![Vec::new(); cells * cells];
    for (node, &[x, y]) in points.iter().enumerate() {
        inside[cell_of(y) * cells + cell_of(x)].push(node);
    }
    let mut pairs = Vec::new();
    for (node, &[x, y]) in points.iter().enumerate() {
        let (row, column) = (cell_of(y), cell_of(x));
        for cell_row in row.saturating_sub(1)..(row + 2).min(cells) {
            for cell_column in column.saturating_sub(1)..(column + 2).min(cells) {
                for &other in &inside[cell_row * cells + cell_column] {
                    let [dx, dy] = [points[other][0] - x, points[other][1] - y];
                    if other > node && dx * dx + dy * dy <= near * near {
                        pairs.push([node, other]);
                    }
                }
            }
        }
    }
    Plan { nodes, pairs }
}
