//! The engine's half of the comparison in tests/reference/scale: writes networks, and solves them.
//!
//!     scale list
//!     scale write FAMILY NODES DIRECTORY
//!     scale solve FAMILY NODES REPEATS DIRECTORY
//!
//! `write` puts nodes.csv and runs.csv into the directory; `solve` puts heads.f64 there and prints one line
//! of JSON. Seconds are those of the processor, the least of the repeats.
#![allow(
    missing_docs,
    dead_code,
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic
)]

#[path = "../it/support/large/mod.rs"]
mod large;
#[path = "../it/support/networks.rs"]
mod networks;

use cpu_time::ThreadTime;
use faer::prelude::Solve;
use faer::sparse::linalg::solvers::{Llt, SymbolicLlt};
use faer::sparse::{SparseColMatRef, SymbolicSparseColMatRef};
use faer::{ColMut, Side};
use fallwright::hydraulics::losses::friction::Wall;
use fallwright::hydraulics::pump::Curve;
use fallwright::network::{Check, Link, Network, Node};
use fallwright::solve::{LinearStep, NetworkState, System, steady_state};
use petgraph::visit::EdgeRef;
use std::fmt::Write;
use std::path::Path;

const SEED: u64 = 1;

fn main() {
    let words: Vec<String> = std::env::args().skip(1).collect();
    let words: Vec<&str> = words.iter().map(String::as_str).collect();
    match words[..] {
        ["list"] => {
            for family in large::FAMILIES {
                println!("{} {}", family.name, family.planar);
            }
        }
        ["write", family, nodes, directory] => {
            write(&network(family, nodes), Path::new(directory));
        }
        ["solve", family, nodes, repeats, directory] => {
            let repeats = repeats.parse().expect("a number of repeats");
            let (line, end) = solve(&network(family, nodes), repeats);
            let heads: Vec<u8> = end.head_m.iter().flat_map(|h| h.to_le_bytes()).collect();
            std::fs::write(Path::new(directory).join("heads.f64"), heads).expect("heads written");
            println!("{line}");
        }
        // As a bench among others it does nothing by itself.
        _ => eprintln!("scale: run by tests/reference/scale/side_by_side.py"),
    }
}

fn network(family: &str, nodes: &str) -> Network {
    let family = large::Family::named(family).expect("a family of the list");
    family.network(nodes.parse().expect("a number of nodes"), SEED)
}

/// Seconds of the processor of the quickest of `repeats`, and what came out last.
fn least<T>(repeats: usize, mut work: impl FnMut() -> T) -> (f64, T) {
    let mut once = || {
        let begun = ThreadTime::now();
        let done = work();
        (begun.elapsed().as_secs_f64(), done)
    };
    let mut best = once();
    for _ in 1..repeats {
        let next = once();
        best = (best.0.min(next.0), next.1);
    }
    best
}

fn solve(network: &Network, repeats: usize) -> (String, NetworkState) {
    let (lay_out_s, system) = least(repeats, || System::new(network));
    let start = system.start();
    let (jump_s, done) = least(repeats, || steady_state(&system, &start));
    let (end, stats) = done.expect("the network solves");
    let (whole_s, _) = least(repeats, || {
        let system = System::new(network);
        steady_state(&system, &system.start()).map(|(_, stats)| stats)
    });
    let peak_mb = peak_mb();
    let mut linear = system.linear_step(&end);
    let (factor_s, solved) = least(3 * repeats, || linear.solve());
    assert!(solved, "the last matrix is regular");
    let library_s = by_the_library(&linear, 3 * repeats);
    let line = format!(
        r#"{{"nodes": {}, "runs": {}, "steps": {}, "sweeps": {}, "lay_out_s": {lay_out_s}, "jump_s": {jump_s}, "cpu_s": {whole_s}, "factor_s": {factor_s}, "library_s": {library_s}, "peak_mb": {peak_mb}}}"#,
        network.node_count(),
        network.edge_count(),
        stats.newton_steps,
        stats.sweeps,
    );
    (line, end)
}

/// Seconds to factor the matrix of a step and solve with it by a library as it comes, its order found beforehand.
fn by_the_library(linear: &LinearStep<'_, '_>, repeats: usize) -> f64 {
    let (starts, rows, values) = linear.by_columns();
    let size = starts.len() - 1;
    let pattern = SymbolicSparseColMatRef::new_checked(size, size, starts, None, rows);
    let symbolic = SymbolicLlt::try_new(pattern, Side::Lower).expect("an order");
    let matrix = SparseColMatRef::new(pattern, values);
    let mut step = linear.right_hand_side().to_vec();
    let (seconds, ()) = least(repeats, || {
        step.copy_from_slice(linear.right_hand_side());
        let factors = Llt::try_new_with_symbolic(symbolic.clone(), matrix, Side::Lower);
        let step = ColMut::from_slice_mut(&mut step).as_mat_mut();
        factors
            .expect("a matrix that is positive")
            .solve_in_place(step);
    });
    seconds
}

/// The most memory that this process has held, megabytes; 0 where the system does not tell.
fn peak_mb() -> f64 {
    let status = std::fs::read_to_string("/proc/self/status").unwrap_or_default();
    let line = status.lines().find(|line| line.starts_with("VmHWM"));
    let kilobytes = line.and_then(|line| line.split_whitespace().nth(1)?.parse::<f64>().ok());
    kilobytes.unwrap_or(0.0) / 1024.0
}

fn write(network: &Network, directory: &Path) {
    let mut nodes = String::new();
    for node in network.node_weights() {
        match node {
            Node::Fixed { level_m } => writeln!(nodes, "1,{level_m},0"),
            Node::Joint { source_m3_s } => writeln!(nodes, "0,0,{source_m3_s}"),
            Node::Vessel { .. } => panic!("the peer knows no vessels"),
        }
        .unwrap();
    }
    let mut runs = String::new();
    for edge in network.edge_references() {
        let Link::Run(run) = edge.weight() else {
            panic!("the peer knows no rims")
        };
        let (loss, ends) = (&run.loss, (edge.source().index(), edge.target().index()));
        let Wall::Darcy { roughness_m } = loss.wall else {
            panic!("the peer knows one law of the wall")
        };
        let (h0, c) = match &run.pump {
            None => (0.0, 0.0),
            Some(pump) => match pump.curve {
                Curve::Power { h0_m, c, n: 2.0 } => (h0_m, c),
                _ => panic!("the peer knows parabolas only"),
            },
        };
        let check = i32::from(run.check == Check::ForwardOnly);
        writeln!(
            runs,
            "{},{},{},{},{roughness_m},{},{},{check},{h0},{c}",
            ends.0,
            ends.1,
            loss.bore_m,
            loss.length_m,
            loss.minors[0].k,
            loss.kinematic_viscosity_m2_s,
        )
        .unwrap();
    }
    std::fs::write(directory.join("nodes.csv"), nodes).expect("nodes written");
    std::fs::write(directory.join("runs.csv"), runs).expect("runs written");
}
