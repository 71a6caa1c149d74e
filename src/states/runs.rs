//! Runs in a state.

use super::NO_FLOW_M3_S;
use super::air;
use super::capacity;
use super::report::{Control, DepthPoint, Regime, RunReport, Surge};
use super::vessels;
use crate::hydraulics::openings::coefficients;
use crate::hydraulics::openings::siphon_break::lost_through_hole;
use crate::hydraulics::openings::vortex::froude;
use crate::hydraulics::profile::grade_table::Grade;
use crate::hydraulics::profile::high_point::SELF_VENTING_FROUDE;
use crate::hydraulics::profile::profile_points::ProfilePoint;
use crate::layout::{Layout, Opening, Run};
use crate::lower::{Lowered, RunFacts};
use crate::network::{Check, FlowControl, Link, RunLaw, Sense};
use crate::solve::NetworkState;

/// Spare head behind a crest above which the crest counts as the flow control, metres.
const FREE_DROP_M: f64 = 1e-6;

/// Difference below which two levels of a mouth are one, metres. A choice.
const SURGE_M: f64 = 0.01;

/// A run between its levels.
pub(super) struct RunBetweenLevels<'a> {
    pub law: &'a RunLaw,
    pub facts: &'a RunFacts,
    /// Nodes at source and target of the link.
    pub nodes: [usize; 2],
    /// Levels at source and target of the link, metres.
    pub levels: [f64; 2],
    /// Flow of the link, m³/s.
    pub flow: f64,
}

impl RunBetweenLevels<'_> {
    pub(super) fn sense(&self) -> Sense {
        if self.flow < 0.0 {
            Sense::Backward
        } else {
            Sense::Forward
        }
    }

    /// Levels as (upstream, downstream).
    pub(super) fn along(&self) -> [f64; 2] {
        self.sense().along(self.levels)
    }

    /// The same inside the screens.
    pub(super) fn inside(&self) -> [f64; 2] {
        self.sense()
            .along(self.law.inside_m(self.flow, self.levels))
    }

    pub(super) fn upstream_node(&self) -> usize {
        self.nodes[usize::from(self.sense() == Sense::Backward)]
    }
}

/// Every run of the layout with its law, facts, levels and flow.
pub(super) fn all<'a>(
    lowered: &'a Lowered,
    end: &'a NetworkState,
) -> impl Iterator<Item = Option<RunBetweenLevels<'a>>> {
    let origin = &lowered.origin;
    origin
        .runs
        .iter()
        .zip(&origin.run_facts)
        .map(move |(&link, facts)| {
            let edge = (link as u32).into();
            let (source, target) = lowered.network.edge_endpoints(edge)?;
            let Some(Link::Run(law)) = lowered.network.edge_weight(edge) else {
                return None;
            };
            let nodes = [source.index(), target.index()];
            let levels = nodes.map(|node| end.head_m[node]);
            Some(RunBetweenLevels {
                law,
                facts,
                nodes,
                levels,
                flow: end.flow_m3_s[link],
            })
        })
}

/// The runs, in the order of the layout.
pub(super) fn reports(layout: &Layout, lowered: &Lowered, end: &NetworkState) -> Vec<RunReport> {
    let mut reports = plain_reports(layout, lowered, end);
    let runs = layout.runs.iter().zip(all(lowered, end));
    let runs = runs.filter_map(|(run, here)| Some((run, here?)));
    for (report, (run, here)) in reports.iter_mut().zip(runs) {
        report.capacity_at_rim_m3_s = capacity::at_rim(layout, (lowered, end), &here);
        report.surge = surge((run, layout), (lowered, &here), report.control);
        report.through_hole_m3_s = through_hole_m3_s(layout, &here);
    }
    reports
}

/// The runs, in the order of the layout, without their capacity, their surge, and the flow of a siphon break hole.
pub(super) fn plain_reports(
    layout: &Layout,
    lowered: &Lowered,
    end: &NetworkState,
) -> Vec<RunReport> {
    layout
        .runs
        .iter()
        .zip(all(lowered, end))
        .filter_map(|(run, here)| {
            let here = here?;
            let still = here.flow.abs() < NO_FLOW_M3_S;
            let control = control(&here, still);
            let flow = if still {
                0.0
            } else {
                here.facts.as_drawn(here.flow)
            };
            Some(RunReport {
                id: run.id.clone(),
                from: run.from.at.clone(),
                to: run.to.at.clone(),
                flow_m3_s: flow,
                velocity_m_s: here.law.loss.velocity_m_s(flow),
                bore_m: here.facts.bore_m,
                length_m: here.facts.length_m,
                loss_m: if still {
                    0.0
                } else {
                    here.facts.as_drawn(loss_m(&here))
                },
                screens_m: if still { [0.0; 2] } else { screens_m(&here) },
                free_drop_m: if still {
                    0.0
                } else {
                    here.law
                        .free_drop_m(here.sense(), here.flow.abs(), here.along())
                },
                control,
                regime: regime(&here, control, layout.coefficients.gravity_m_s2),
                valve_open: here.facts.valve_open,
                capacity_at_rim_m3_s: None,
                drowned: pressurised(&here),
                surge: None,
                through_hole_m3_s: None,
                profile: profile(&here, still),
                air: air::report(&here),
            })
        })
        .collect()
}

/// Head lost in the whole run, signed as the flow of the link, metres.
fn loss_m(here: &RunBetweenLevels) -> f64 {
    let flow = here.flow.abs();
    let in_pipe = here.law.lost_m(here.sense(), flow, here.along());
    let rise = here.law.raised.as_ref();
    (in_pipe + rise.map_or(0.0, |raised| raised.rise.at(flow).value)).copysign(here.flow)
}

/// The part of that loss at the screens of its ends as drawn, metres.
fn screens_m(here: &RunBetweenLevels) -> [f64; 2] {
    let (sense, flow) = (here.sense(), here.flow.abs());
    let [upstream, downstream] = here.along();
    let along_flow = [
        here.law.lost_before_m(sense, flow, upstream),
        here.law.lost_behind_m(sense, flow, downstream),
    ];
    let backward = (sense == Sense::Backward) != here.facts.reversed;
    match backward {
        true => [along_flow[1], along_flow[0]],
        false => along_flow,
    }
}

/// Flow out of the hole of a run that flows towards its siphon break, m³/s.
///
/// Inside the mouth the grade is the level outside, or the lip in air; up at the hole it is higher by the
/// loss of the pipe between the two. A hole above that grade draws air and lets out nothing.
fn through_hole_m3_s(layout: &Layout, here: &RunBetweenLevels) -> Option<f64> {
    let hole = here.facts.siphon_break.filter(|hole| !hole.grown_over)?;
    let end = match here.facts.reversed {
        true => 1 - hole.end,
        false => hole.end,
    };
    let leaves_there = (here.flow > 0.0) == (end == 1) && here.flow.abs() >= NO_FLOW_M3_S;
    if !leaves_there {
        return Some(0.0);
    }
    let lip_m = *here.facts.end_lips_m.get(hole.end)?;
    let (level_m, lip_m) = (here.levels[end], lip_m?);
    let loss = here.law.loss_along(here.sense());
    let friction_m = loss.parts(here.flow).friction_m;
    let share = (hole.height_m - lip_m).abs() / loss.length_m.max(1e-9);
    let grade_m = level_m.max(lip_m) + friction_m * share.min(1.0);
    let head_m = grade_m - level_m.max(hole.height_m);
    let coefficients = coefficients::Coefficients {
        orifice: layout.coefficients.orifice,
        gravity_m_s2: layout.coefficients.gravity_m_s2,
        ..coefficients::Coefficients::default()
    };
    Some(lost_through_hole(hole.bore_m, head_m, &coefficients))
}

/// Depth along a run whose grade is marched, from its `from` end.
fn profile(here: &RunBetweenLevels, still: bool) -> Vec<DepthPoint> {
    let Some(grade) = here.law.grade(here.sense()).filter(|_| !still) else {
        return Vec::new();
    };
    let [_, downstream] = here.inside();
    let course = grade.profile();
    let length_m = course.length_m();
    let ends_at_to = here.facts.as_drawn(here.flow) > 0.0;
    let point = |place: ProfilePoint| DepthPoint {
        distance_m: if ends_at_to {
            length_m - place.distance_m
        } else {
            place.distance_m
        },
        depth_m: place.invert_m.map_or(course.bore_m(), |invert_m| {
            (place.grade_m - invert_m).min(course.bore_m())
        }),
        grade_m: place.grade_m,
        velocity_m_s: place.velocity_m_s,
        invert_m: place.invert_m,
    };
    let mut points: Vec<DepthPoint> = course
        .profile_points(here.flow.abs(), downstream)
        .into_iter()
        .map(point)
        .collect();
    if ends_at_to {
        points.reverse();
    }
    points
}

/// Whether the outlet is submerged.
fn pressurised(here: &RunBetweenLevels) -> bool {
    let end = usize::from(here.sense() == Sense::Forward);
    here.inside()[1] >= here.law.ends[end].lip_m
}

fn control(here: &RunBetweenLevels, still: bool) -> Control {
    if !still {
        return match here.law.flow_control(here.flow, here.levels) {
            FlowControl::Inlet => Control::Inlet,
            _ if limited_by_crest(here) => Control::Inlet,
            _ if here.law.is_free_weir(here.flow, here.levels) => Control::Inlet,
            _ if here.law.pump.is_some() => Control::Pumped,
            _ => Control::Outlet,
        };
    }
    let unchecked = RunLaw {
        check: Check::None,
        ..here.law.clone()
    };
    let would = unchecked.flow(here.levels[0], here.levels[1], 0.0);
    let way = if would < 0.0 {
        Check::ForwardOnly
    } else {
        Check::BackwardOnly
    };
    let held_back = would.abs() >= NO_FLOW_M3_S && here.law.check == way;
    if here.law.check == Check::Shut || held_back {
        return Control::Shut;
    }
    let covered =
        (0..2).any(|end| here.levels[end] > here.law.ends[end].lip_m.max(crest(here.law)));
    if covered {
        Control::Still
    } else {
        Control::Dry
    }
}

/// The crest of a raised intake; −∞ for any other run.
pub(super) fn crest(law: &RunLaw) -> f64 {
    law.raised
        .as_ref()
        .map_or(f64::NEG_INFINITY, |raised| raised.crest_m)
}

/// Whether the crest of a raised intake, and not the grade behind it, sets the level.
fn limited_by_crest(here: &RunBetweenLevels) -> bool {
    here.law.raised.is_some()
        && here.sense() == Sense::Forward
        && here.law.free_drop_m(here.sense(), here.flow, here.along()) > FREE_DROP_M
}

fn regime(here: &RunBetweenLevels, control: Control, gravity: f64) -> Regime {
    match control {
        Control::Shut | Control::Dry | Control::Still => Regime::None,
        Control::Pumped
            if here
                .law
                .grade(here.sense())
                .is_none_or(|grade| full(here, grade)) =>
        {
            Regime::Full
        }
        Control::Pumped => Regime::PartFull,
        Control::Inlet
            if froude(here.flow.abs(), here.facts.bore_m, gravity) > SELF_VENTING_FROUDE =>
        {
            Regime::Surging
        }
        Control::Inlet => Regime::Free,
        Control::Outlet => {
            let [_, downstream] = here.inside();
            let is_full = match here.law.grade(here.sense()) {
                Some(grade) => full(here, grade),
                None => fills(here, downstream),
            };
            if is_full {
                Regime::Full
            } else {
                Regime::PartFull
            }
        }
    }
}

/// Whether no leg of a run whose grade is marched has a free surface, and no air stands in it.
fn full(here: &RunBetweenLevels, grade: &Grade) -> bool {
    let [_, downstream] = here.inside();
    grade.profile().march(here.flow.abs(), downstream).full
}

/// For a run whose grade is not marched: whether its outlet is submerged or nearly full.
fn fills(here: &RunBetweenLevels, downstream: f64) -> bool {
    let tail = here.law.tail_m(here.sense(), here.flow.abs(), downstream);
    let end = usize::from(here.sense() == Sense::Forward);
    let lip = here.law.ends[end].lip_m;
    tail <= lip || tail >= lip + 0.95 * here.facts.bore_m || pressurised(here)
}

/// A mouth under orifice control whose pipe could pass the same flow at a lower level: the level swings
/// between the two. For any mouth other than an upstand only where air may also stay out.
fn surge(
    (run, layout): (&Run, &Layout),
    (lowered, here): (&Lowered, &RunBetweenLevels),
    control: Control,
) -> Option<Surge> {
    if !matches!(control, Control::Inlet | Control::Outlet) {
        return None;
    }
    let upstream = usize::from(here.sense() == Sense::Backward);
    let at_from = (upstream == 0) != here.facts.reversed;
    let end = if at_from { &run.from } else { &run.to };
    let port = &here.law.ends[upstream];
    let flow = here.flow.abs();
    let [weir_m, with_air_m] = port.inlet.submerged_m(flow)?;
    if froude(flow, here.facts.bore_m, here.law.loss.gravity_m_s2) <= SELF_VENTING_FROUDE {
        return None;
    }
    let [upstream_m, downstream_m] = here.along();
    let before_m = here.law.lost_before_m(here.sense(), flow, upstream_m);
    let high_m = port.intake_m() + with_air_m + before_m;
    let need_m = upstream_m
        - here
            .law
            .free_drop_m(here.sense(), flow, [upstream_m, downstream_m]);
    let low_m = need_m.max(port.intake_m() + weir_m + before_m);
    let upstand = matches!(end.opening, Some(Opening::Upstand { .. }));
    let least_m = if upstand { low_m } else { upstream_m };
    if high_m - least_m <= SURGE_M {
        return None;
    }
    let [node, below] = here.sense().along(here.nodes);
    let stands = lowered.origin.vessels.iter().position(|at| *at == below);
    let rim_m = stands
        .and_then(|index| layout.vessels.get(index))
        .map(|below| below.rim_m);
    let volume_m3 = |node: usize, level_m: f64| vessels::volume(lowered, node, level_m);
    Some(Surge {
        low_m,
        likely_m: upstream_m,
        high_m,
        gulp_m3: volume_m3(node, high_m) - volume_m3(node, low_m),
        room_m3: rim_m.map(|rim_m| volume_m3(below, rim_m) - volume_m3(below, downstream_m)),
    })
}
