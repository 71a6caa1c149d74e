//! What must be true of every answer, whatever the layout.

use fallwright::catalogue::Catalogue;
use fallwright::evaluate::Evaluation;
use fallwright::finding::{Code, Finding};
use fallwright::hydraulics::pump::LEAST_SPEED_RATIO;
use fallwright::layout::{CurveForm, Direction, End, Id, Layout, Opening, Pipe, Run, Vessel};
use fallwright::lower::{Age, Pumps, Situation, Walls, lower};
use fallwright::network::{Node, Storage};
use fallwright::state::State;
use fallwright::states::report::{PumpReport, RunReport, StateReport, VesselReport};

/// Flow that counts, m³/s, and levels that are one, metres.
const FLOW_M3_S: f64 = 2e-9;
const SAME_M: f64 = 1e-6;
/// Errors that count as solved, m³/s and metres.
const MASS_M3_S: f64 = 1e-9;
const ENERGY_M: f64 = 1e-6;
/// A level that moves slower than this counts as still, m/s.
const STILL_M_S: f64 = 1e-4 / 3600.0;
/// What steps in time may leave a dry vessel under its floor, metres: each may err by a tenth of a millimetre.
const STEP_M: f64 = 5e-4;

/// Everything that is wrong with an answer, in words.
pub fn faults(layout: &Layout, found: &Evaluation) -> Vec<String> {
    let mut list: Vec<String> = found
        .unsolved
        .iter()
        .map(|one| format!("unsolved {one:?}"))
        .collect();
    list.extend(no_number(found));
    for report in &found.states {
        let of_state = state(layout, report);
        list.extend(
            of_state
                .into_iter()
                .map(|fault| format!("{}: {fault}", report.state.word())),
        );
        let primed = report
            .primed
            .iter()
            .flat_map(|primed| state(layout, primed));
        list.extend(primed.map(|fault| format!("{} primed: {fault}", report.state.word())));
    }
    list.extend(water_lost(layout, found));
    list
}

/// Everything that a reader could be shown, searched for what is no number.
fn no_number(found: &Evaluation) -> Option<String> {
    let text = format!("{found:?}");
    let words = [": NaN", "(NaN", " NaN", ": inf", "(inf", "-inf"];
    let at = words.iter().find_map(|word| text.find(word))?;
    Some(format!(
        "no number: …{}",
        &text[at.saturating_sub(120)..(at + 20).min(text.len())]
    ))
}

fn state(layout: &Layout, report: &StateReport) -> Vec<String> {
    let mut list = Vec::new();
    let solved = report.mass_error_m3_s <= MASS_M3_S && report.energy_error_m <= ENERGY_M;
    if !solved {
        list.push(format!(
            "not solved: mass {:e}, energy {:e}",
            report.mass_error_m3_s, report.energy_error_m
        ));
    }
    if let Some(course) = &report.course {
        // A day's trace may lose a millilitre; these may run for years.
        let days = 1.0 + course.time_s / 86_400.0;
        let open_m3 = course.volume_error_m3.abs();
        if open_m3 > 1e-6 * days && open_m3 > 1e-6 * days + last_digits_m3(layout) {
            list.push(format!(
                "books open by {:e} m³ in {days} days",
                course.volume_error_m3
            ));
        }
    }
    list.extend(
        layout
            .vessels
            .iter()
            .zip(&report.vessels)
            .filter_map(|(_, one)| under_floor(one)),
    );
    if report.cycle.is_some() || !report.converged {
        // Means of a round obey no law of a moment, nor does the moment of a switch.
        return list;
    }
    for (run, one) in layout.runs.iter().zip(&report.runs) {
        list.extend(against_check(run, one));
        list.extend(out_of_dry(layout, report, (run, one)));
        list.extend(energy(layout, report, (run, one)));
        if one.free_drop_m < -SAME_M {
            list.push(format!("{} free drop {}", one.id, one.free_drop_m));
        }
    }
    list.extend(report.pumps.iter().filter_map(|one| off_curve(layout, one)));
    list.extend(unbalanced(layout, report));
    list
}

fn under_floor(one: &VesselReport) -> Option<String> {
    let levels = [one.level_m, one.with_spill.map(|spill| spill.level_m)];
    let low = levels
        .into_iter()
        .flatten()
        .find(|level| *level < one.floor_m - STEP_M)?;
    Some(format!(
        "{} stands {:e} m under its floor",
        one.id,
        one.floor_m - low
    ))
}

fn against_check(run: &Run, one: &RunReport) -> Option<String> {
    let way = run.check_valve.filter(|_| !run.check_valve_failed)?;
    let flow_m3_s = match way {
        Direction::Forward => one.flow_m3_s,
        Direction::Backward => -one.flow_m3_s,
    };
    (flow_m3_s < 0.0).then(|| format!("{} flows {flow_m3_s:e} up its check valve", one.id))
}

/// The head at a part, metres.
fn head(report: &StateReport, id: &Id) -> Option<f64> {
    let vessel = report
        .vessels
        .iter()
        .find(|one| one.id == *id)
        .map(|one| one.level_m);
    let joint = report
        .joints
        .iter()
        .find(|one| one.id == *id)
        .map(|one| one.head_m);
    let fixed = report
        .fixed
        .iter()
        .find(|one| one.id == *id)
        .map(|one| Some(one.level_m));
    vessel.or(joint).or(fixed).flatten()
}

fn out_of_dry(
    layout: &Layout,
    report: &StateReport,
    (run, one): (&Run, &RunReport),
) -> Option<String> {
    if one.flow_m3_s.abs() <= FLOW_M3_S {
        return None;
    }
    let end: &End = if one.flow_m3_s > 0.0 {
        &run.from
    } else {
        &run.to
    };
    let opening = end.opening.as_ref()?;
    let lip_m = match opening {
        Opening::Mouth { air_gap: true, .. } => {
            return Some(format!(
                "{} draws {:e} through an air gap",
                one.id, one.flow_m3_s
            ));
        }
        Opening::RaisedIntake { intake_m, .. } => *intake_m,
        other => other
            .crest_m()
            .or_else(|| Some(layout.vessel(&end.at)?.floor_m))?,
    };
    let level_m = head(report, &end.at)?;
    let dry = level_m < lip_m - SAME_M;
    dry.then(|| {
        format!(
            "{} draws {:e} from {:e} m under its lip",
            one.id,
            one.flow_m3_s,
            lip_m - level_m
        )
    })
}

/// Head from end to end is what is lost, less what the pump gives, and what is left over as free drop:
/// where both ends are under water for good, so that no height of an outlet counts.
fn energy(layout: &Layout, report: &StateReport, (run, one): (&Run, &RunReport)) -> Option<String> {
    let flow_m3_s = one.flow_m3_s;
    let end: &End = if flow_m3_s > 0.0 { &run.to } else { &run.from };
    let no_lip = match &end.opening {
        None => layout.vessel(&end.at).is_none(),
        Some(Opening::Submerged { lip_m, .. }) => lip_m.is_none(),
        _ => false,
    };
    // Without a pipe the other end is the same opening, at the same height.
    if !no_lip || run.pipe == Pipe::Open || flow_m3_s.abs() <= FLOW_M3_S {
        return None;
    }
    let fall_m = head(report, &run.from.at)? - head(report, &run.to.at)?;
    let pump = report
        .pumps
        .iter()
        .find(|pump| pump.run == run.id && pump.on);
    let pushed_m = pump.map_or(0.0, |pump| {
        let forward = run
            .pump
            .as_ref()
            .is_some_and(|pump| pump.pushes == Direction::Forward);
        if forward { pump.head_m } else { -pump.head_m }
    });
    let open_m = fall_m + pushed_m - one.loss_m - one.free_drop_m.copysign(flow_m3_s);
    let scale_m = fall_m.abs() + one.loss_m.abs() + pushed_m.abs();
    (open_m.abs() > 2e-6 + 1e-9 * scale_m).then(|| {
        format!(
            "{} energy open by {open_m:e} m at {flow_m3_s:e} m³/s, {:?}",
            one.id, one.control
        )
    })
}

/// On its curve, by the curve as entered and the affinity laws.
fn off_curve(layout: &Layout, one: &PumpReport) -> Option<String> {
    let pump = layout.run(&one.run)?.pump.as_ref()?;
    if !one.on || one.curve_rises || pump.speed <= 0.0 {
        return None;
    }
    // What is slower counts as this.
    let speed = pump.speed.max(LEAST_SPEED_RATIO);
    let at = one.flow_m3_s.max(0.0) / speed;
    let (low_m, high_m) = match &pump.curve {
        CurveForm::Power { h0_m, c, n } => {
            let head_m = h0_m - c * at.powf(*n);
            (head_m, head_m)
        }
        CurveForm::Label {
            largest_head_m,
            largest_flow_m3_s,
        } => {
            let head_m = largest_head_m * (1.0 - (at / largest_flow_m3_s).powi(2));
            (head_m, head_m)
        }
        CurveForm::Points(points) => {
            let pair = points.windows(2).find(|pair| at <= pair[1].flow_m3_s)?;
            (pair[1].head_m, pair[0].head_m)
        }
    };
    let head_m = one.head_m / (speed * speed);
    let room_m = 1e-6 * (1.0 + high_m.abs() + low_m.abs());
    let off = head_m < low_m - room_m || head_m > high_m + room_m;
    off.then(|| {
        format!(
            "{} gives {head_m} m at {at} m³/s, not {low_m} to {high_m}",
            one.id
        )
    })
}

/// What flows into every joint flows out; of a vessel that stands still too.
fn unbalanced(layout: &Layout, report: &StateReport) -> Vec<String> {
    let net = |id: &Id| {
        let runs = report.runs.iter();
        runs.map(|one| {
            f64::from(u8::from(one.to == *id)) * one.flow_m3_s
                - f64::from(u8::from(one.from == *id)) * one.flow_m3_s
        })
        .sum::<f64>()
    };
    let through = |id: &Id| {
        let runs = report
            .runs
            .iter()
            .filter(|one| one.to == *id || one.from == *id);
        runs.map(|one| one.flow_m3_s.abs()).sum::<f64>()
    };
    let mut list = Vec::new();
    for (joint, one) in layout.joints.iter().zip(&report.joints) {
        // What no run brings is not drawn, what none takes not let in: that is told by itself, and the head lies
        // out of sight.
        let wish_m3_s = joint.make_up_m3_s;
        let beyond = |head_m: f64| head_m * wish_m3_s.signum() > 900.0;
        let told = wish_m3_s != 0.0 && one.head_m.is_none_or(beyond);
        let open = net(&joint.id) + joint.make_up_m3_s;
        // Flows too small to be told are missing from the sum.
        let room = FLOW_M3_S + 1e-10 * layout.runs.len() as f64 + 1e-12 * through(&joint.id);
        if open.abs() > room && !told {
            list.push(format!("{} is out of balance by {open:e} m³/s", joint.id));
        }
    }
    if report.converged && matches!(report.state, State::Running | State::Fouled) {
        let vessels = layout.vessels.iter().zip(&report.vessels);
        for ((vessel, one), area_m2) in vessels.zip(areas_m2(layout)) {
            list.extend(unsteady(layout, (vessel, area_m2), one, net(&vessel.id)));
        }
    }
    list
}

/// A vessel that runs steadily gives what it takes.
fn unsteady(
    layout: &Layout,
    (vessel, area_m2): (&Vessel, f64),
    one: &VesselReport,
    net_m3_s: f64,
) -> Option<String> {
    let outside =
        vessel.float_valve.is_some() || layout.weather.rain_m_s > 0.0 || vessel.make_up_m3_s < 0.0;
    if outside || one.level_m.is_none() {
        return None;
    }
    let open = net_m3_s + vessel.make_up_m3_s;
    let room = FLOW_M3_S + 1e-10 * layout.runs.len() as f64 + 2.0 * area_m2 * STILL_M_S;
    (open.abs() > room).then(|| format!("{} gains {open:e} m³/s and stands still", vessel.id))
}

/// Of a layout that nothing flows into or out of: what was filled in is there, or has gone over a rim.
fn water_lost(layout: &Layout, found: &Evaluation) -> Option<String> {
    let outside = layout
        .vessels
        .iter()
        .any(|one| one.make_up_m3_s != 0.0 || one.float_valve.is_some());
    let joints = layout.joints.iter().any(|one| one.make_up_m3_s != 0.0);
    if outside || joints || !layout.fixed.is_empty() || layout.weather.rain_m_s > 0.0 {
        return None;
    }
    let rest = found.state(State::Rest)?;
    let course = rest.course.as_ref()?;
    // What goes round in a ring of rims, or uphill, is lost, and said to be.
    let never_caught = |vessel: &Vessel| {
        let mut told = found.findings.iter();
        let lost = |one: &Finding| match one.code {
            Code::SpillsInARing => one.about.contains(&vessel.id),
            // The other is the one that it would have to rise to.
            Code::SpillsUphill => one.about.first() == Some(&vessel.id),
            _ => false,
        };
        vessel.spills_to.is_none() || told.any(lost)
    };
    let spilled = layout
        .vessels
        .iter()
        .zip(&course.vessels)
        .filter(|(one, _)| never_caught(one));
    let spilled_m3: f64 = spilled.map(|(_, one)| one.spilled_m3).sum();
    let levels = || rest.vessels.iter().all(|one| one.level_m.is_some());
    let filled_m3 = filled_m3(layout);
    let held_m3 = |report: &StateReport| {
        report.water_m3() + report.in_runs_m3 + under_floors_m3(layout, report)
    };
    let open_m3 = held_m3(rest) + spilled_m3 - filled_m3;
    let room_m3 = 2e-6 + 1e-9 * filled_m3 + 1e-6 * course.time_s / 86_400.0;
    if levels() && open_m3.abs() > room_m3 {
        return Some(format!(
            "rest: {open_m3:e} m³ of {filled_m3} m³ out of nothing"
        ));
    }
    let running = found.state(State::Running)?;
    let levels = running.vessels.iter().all(|one| one.level_m.is_some());
    let open_m3 = held_m3(running) - held_m3(rest);
    // Within what a level that counts as still may be off.
    if levels && running.cycle.is_none() && open_m3.abs() > 10.0 * room_m3 {
        return Some(format!(
            "running: {open_m3:e} m³ of {filled_m3} m³ out of nothing"
        ));
    }
    // A stop begins where the layout ran, unless it lost water on the way there.
    let (starting, stopped) = (found.state(State::Starting)?, found.state(State::Stopped)?);
    let spilled_m3 = |report: &StateReport| -> Option<f64> {
        let course = report.course.as_ref()?;
        Some(course.vessels.iter().map(|one| one.spilled_m3).sum())
    };
    let dry = spilled_m3(starting)? == 0.0 && spilled_m3(stopped)? == 0.0;
    let levels = stopped.vessels.iter().all(|one| one.level_m.is_some());
    let open_m3 = held_m3(stopped) - held_m3(running);
    let steady = running.cycle.is_none() && stopped.cycle.is_none() && running.converged;
    (dry && levels && steady && open_m3.abs() > 10.0 * room_m3)
        .then(|| format!("stopped: {open_m3:e} m³ of {filled_m3} m³ out of nothing"))
}

fn filled_m3(layout: &Layout) -> f64 {
    sum(layout, |storage, level_m| storage.volume_m3(level_m))
}

/// What the last digits of level and volume are in water, m³: of a lake of square kilometres, far from the datum,
/// more than a millilitre.
fn last_digits_m3(layout: &Layout) -> f64 {
    let digits = |storage: &Storage, level_m: f64| {
        storage.area_m2(level_m) * level_m.abs() + storage.volume_m3(level_m)
    };
    8.0 * f64::EPSILON * sum(layout, digits)
}

/// What is missing in vessels that stand a hair under their floors, m³ (≤ 0): no report calls water less than none.
fn under_floors_m3(layout: &Layout, report: &StateReport) -> f64 {
    let mut levels = report.vessels.iter().map(|one| one.level_m);
    sum(layout, |storage, _| {
        let level_m = levels.next().flatten();
        level_m.map_or(0.0, |level_m| storage.volume_m3(level_m).min(0.0))
    })
}

/// Largest plan area of each vessel, m².
fn areas_m2(layout: &Layout) -> Vec<f64> {
    let mut list = Vec::new();
    sum(layout, |storage, _| {
        list.push(storage.area_m2(1e5));
        0.0
    });
    list
}

fn sum(layout: &Layout, mut of: impl FnMut(&Storage, f64) -> f64) -> f64 {
    let situation = Situation {
        pumps: Pumps::Off,
        walls: Walls::AsBuilt,
        age: Age::New,
    };
    let lowered = lower(layout, Catalogue::builtin(), situation);
    let nodes = lowered.network.node_weights();
    nodes
        .map(|node| match node {
            Node::Vessel {
                storage, level_m, ..
            } => of(storage, *level_m),
            _ => 0.0,
        })
        .sum()
}
