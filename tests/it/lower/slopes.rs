//! The slopes of the law of a run are those of its heads.
//!
//! Newton goes by them: with one that is wrong a layout is solved after a hundred times the work, or never.

use crate::support::layouts::RUNNING;
use crate::support::random::{Flavour, layout};
use fallwright::catalogue::Catalogue;
use fallwright::lower::lower;
use fallwright::network::{Link, RunLaw, Sense};

/// Flows that are tried, m³/s: a trickle, a tap, a drain, a flood.
const FLOWS_M3_S: [f64; 7] = [1e-12, 1e-9, 1e-7, 3e-6, 1e-4, 1.3e-3, 2e-2];
/// By how much a level is moved, m, and a flow, as a share.
const NUDGE_M: f64 = 1e-7;
const NUDGE: f64 = 1e-6;
/// How far a slope may be from that of the heads, as a share of it and by itself.
const SHARE: f64 = 0.02;

/// Whether a slope is that of the heads on either side, or between the two: at a corner either will do.
fn is_near(slope: f64, sides: [f64; 2], least: f64) -> bool {
    let low = sides[0].min(sides[1]);
    let high = sides[0].max(sides[1]);
    slope >= low - SHARE * low.abs() - least && slope <= high + SHARE * high.abs() + least
}

fn wrong(run: &RunLaw, sense: Sense, flow_m3_s: f64, level_m: f64) -> Option<String> {
    let head_m = |flow, level| run.required_head(sense, flow, level).head_m;
    let need = run.required_head(sense, flow_m3_s, level_m);
    let by_level =
        [-NUDGE_M, NUDGE_M].map(|by_m| (head_m(flow_m3_s, level_m + by_m) - need.head_m) / by_m);
    // The last digits of the heads.
    let least = 1e-3 + 1e-15 * need.head_m.abs() / NUDGE_M;
    if !is_near(need.by_level, by_level, least) {
        return Some(format!(
            "by level {} where the heads say {by_level:?}",
            need.by_level
        ));
    }
    let step = NUDGE * flow_m3_s;
    let by_flow = [-step, step].map(|by| (head_m(flow_m3_s + by, level_m) - need.head_m) / by);
    // The last digits of the heads.
    let least = 1e-13 * (1.0 + need.head_m.abs()) / step;
    (!is_near(need.by_flow, by_flow, least))
        .then(|| format!("by flow {} where the heads say {by_flow:?}", need.by_flow))
}

#[test]
fn prop_slopes_of_a_law_are_those_of_its_heads() {
    let mut told = Vec::new();
    // Wild layouts have screens and cages.
    let rising = (0..40).map(|seed| (seed, Flavour::Rising));
    let wild = (0..20).map(|seed| (seed, Flavour::Wild));
    let weirs = (0..10).map(|seed| (seed, Flavour::Weirs));
    for (seed, flavour) in rising.chain(wild).chain(weirs) {
        let drawn = layout(seed, flavour);
        let lowered = lower(&drawn, Catalogue::builtin(), RUNNING);
        for (index, link) in lowered.network.edge_weights().enumerate() {
            let Link::Run(run) = link else { continue };
            for sense in [Sense::Forward, Sense::Backward] {
                let lip_m = run.ends[usize::from(sense == Sense::Forward)].lip_m;
                let base_m = if lip_m.is_finite() { lip_m } else { 0.5 };
                for step in 0..24 {
                    let level_m = base_m - 0.3 + 0.0713 * f64::from(step);
                    for flow_m3_s in FLOWS_M3_S {
                        if let Some(what) = wrong(run, sense, flow_m3_s, level_m) {
                            told.push(format!("{flavour:?} {seed}, link {index}, {sense:?}, {flow_m3_s:e} m3/s against {level_m:.4}: {what}"));
                        }
                    }
                }
            }
        }
    }
    assert!(
        told.is_empty(),
        "{}\n{}",
        told.len(),
        told[..told.len().min(60)].join("\n")
    );
}
