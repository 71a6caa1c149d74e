//! Films: a course that is looked at at any moment.

use super::hard::cone_over_a_tank;
use super::six::{lift, when};
use super::{layout, near};
use crate::networks::{level, read, solved};
use fallwright::catalogue::Catalogue;
use fallwright::evaluate::{AsBuilt, Observed, series};
use fallwright::layout::{Layout, Vessel};
use fallwright::state::State;
use fallwright::states::report::{Standing, StateReport};
use fallwright::states::{EventKind, InitialChange, InterpolatedSeries};

fn filmed(layout: &Layout, watched: &Observed) -> InterpolatedSeries {
    let film = series(layout, Catalogue::builtin(), watched, &|| true);
    film.unwrap().unwrap()
}

fn example(name: &str) -> Layout {
    read(&format!("../../examples/{name}.ron"))
}

fn levels_m(report: &StateReport) -> Vec<f64> {
    let vessels = report.vessels.iter();
    vessels.map(|vessel| vessel.level_m.unwrap()).collect()
}

fn all_near(got: &[f64], wanted: &[f64], room: f64) {
    assert_eq!(got.len(), wanted.len());
    for (got, wanted) in got.iter().zip(wanted) {
        near(*got, *wanted, room);
    }
}

#[test]
fn a_film_at_a_step_is_the_trace_at_that_step() {
    for name in ["two-beds", "glasshouse", "drain-too-high"] {
        let layout = example(name);
        let ground = AsBuilt::new(&layout, Catalogue::builtin()).unwrap();
        for turn in [InitialChange::Start, InitialChange::Stop] {
            let trace = ground.trace(turn, None).unwrap();
            let film = ground.series(turn).unwrap();
            near(film.end_s(), *trace.times_s.last().unwrap(), 1e-9);
            for (index, time_s) in trace.times_s.iter().enumerate() {
                let report = film.at(*time_s);
                let levels = trace.levels_m.iter().map(|(_, levels)| levels[index]);
                all_near(&levels_m(&report), &levels.collect::<Vec<f64>>(), 1e-12);
                for ((_, flows), run) in trace.flows_m3_s.iter().zip(&report.runs) {
                    near(run.flow_m3_s, flows[index], 1e-12);
                }
            }
            assert_eq!(film.events(), trace.told);
        }
    }
}

#[test]
fn a_film_ends_with_the_report_of_its_state() {
    let cases = [
        ("two-beds", State::Starting, Observed::Starting),
        ("two-beds", State::Stopped, Observed::Stopped),
        (
            "two-beds",
            State::Blocked,
            Observed::Blocked("hole-2".into()),
        ),
        ("drain-too-high", State::Starting, Observed::Starting),
        ("drain-too-high", State::Stopped, Observed::Stopped),
        ("rain-cistern", State::Stopped, Observed::Stopped),
    ];
    for (name, state, watched) in cases {
        let layout = example(name);
        let wanted = solved(&layout, state);
        let film = filmed(&layout, &watched);
        let end = film.at(film.end_s());
        assert_eq!(end.state, state);
        assert_eq!(end.vessels, wanted.vessels, "{name} {watched:?}");
        assert_eq!(end.runs, wanted.runs, "{name} {watched:?}");
        assert_eq!(end.pumps, wanted.pumps, "{name} {watched:?}");
        assert_eq!(film.events(), wanted.course.unwrap().told);
        // Beyond its end nothing more happens.
        assert_eq!(film.at(film.end_s() + 1e6).vessels, end.vessels);
    }
}

#[test]
fn a_film_begins_where_its_state_starts_from() {
    for name in ["two-beds", "glasshouse", "rain-cistern"] {
        let layout = example(name);
        let rest = solved(&layout, State::Rest);
        let start = filmed(&layout, &Observed::Starting).at(0.0);
        all_near(&levels_m(&start), &levels_m(&rest), 1e-12);
        let running = solved(&layout, State::Running);
        if running.cycle.is_some() || running.vessels.iter().any(|one| one.with_spill.is_some()) {
            continue;
        }
        let stop = filmed(&layout, &Observed::Stopped).at(0.0);
        all_near(&levels_m(&stop), &levels_m(&running), 1e-12);
        // The pumps are off from the first moment on, and nothing is pushed any more.
        assert!(stop.pumps.iter().all(|pump| pump.standing == Standing::Off));
    }
}

/// Water in the vessels and what has left over rims.
fn all_water_m3(report: &StateReport) -> f64 {
    let spills = report.vessels.iter().filter_map(|one| one.with_spill);
    report.water_m3() + report.in_runs_m3 + spills.map(|spill| spill.lost_m3).sum::<f64>()
}

#[test]
fn prop_no_water_is_made_or_lost_at_any_moment() {
    for (name, watched) in [
        ("two-beds", Observed::Starting),
        ("two-beds", Observed::Blocked("hole-2".into())),
        ("glasshouse", Observed::Stopped),
        ("drain-too-high", Observed::Starting),
        ("drain-too-high", Observed::Stopped),
    ] {
        let mut layout = example(name);
        // Nothing comes from outside, and nothing goes there but over rims.
        for vessel in &mut layout.vessels {
            vessel.make_up_m3_s = 0.0;
            vessel.float_valve = None;
            vessel.spills_to = None;
        }
        assert!(layout.fixed.is_empty(), "{name}");
        let film = filmed(&layout, &watched);
        // As long as anything is to be seen to move.
        let end_s = film
            .still_since_s()
            .map_or(film.end_s(), |still_s| 1.5 * still_s);
        let water_m3 = all_water_m3(&film.at(0.0));
        for step in 0..=97 {
            let share = f64::from(step) / 97.0;
            let time_s = end_s * share * share;
            near(all_water_m3(&film.at(time_s)), water_m3, 2e-6);
        }
    }
}

#[test]
fn what_spills_is_told_from_the_moment_on_at_which_it_does() {
    let layout = example("two-beds");
    let film = filmed(&layout, &Observed::Blocked("hole-2".into()));
    let (vessel, time_s) = film.first_spill().unwrap();
    assert_eq!(vessel.as_str(), "bed-2");
    let spilling = |time_s: f64| {
        let report = film.at(time_s);
        let bed = report.vessels.iter().find(|one| one.id.as_str() == "bed-2");
        bed.unwrap().with_spill
    };
    assert!(spilling(0.5 * time_s).is_none());
    let later = spilling(time_s + 20.0).unwrap();
    assert!(later.spill_m3_s > 0.0 && later.lost_m3 > 0.0);
    near(later.first_spill_s.unwrap(), time_s, 1e-12);
    assert!(spilling(time_s + 60.0).unwrap().lost_m3 > later.lost_m3);
}

#[test]
fn a_pump_stands_from_the_moment_on_at_which_it_runs_dry() {
    let layout = lift(0.25, "check_valve: forward,");
    let wanted = solved(&layout, State::Starting);
    let dry_s = when(&wanted, EventKind::PumpRunsDry).unwrap();
    let film = filmed(&layout, &Observed::Starting);
    let before = film.at(dry_s - 1e-3);
    assert_eq!(before.pumps[0].standing, Standing::Runs);
    assert!(before.pumps[0].flow_m3_s > 0.0);
    let after = film.at(dry_s);
    assert_eq!(after.pumps[0].standing, Standing::RanDry);
    assert_eq!(after.pumps[0].flow_m3_s, 0.0);
    near(level(&after, "sump"), level(&before, "sump"), 1e-4);
}

/// A pit of 0.3 m² that 0.5 L/s runs into, and a pump on a float that lifts it out.
fn pit() -> Layout {
    layout(
        "vessels: [(id: \"pit\", shape: prism(area_m2: 0.3), floor_m: 0, rim_m: 3, fill_m: 0.4, make_up_m3_s: 5.0e-4)], \
         fixed: [(id: \"ditch\", role: waste, level_m: -5)], \
         runs: [(id: \"lift\", from: (at: \"pit\", opening: submerged()), \
           to: (at: \"ditch\", opening: mouth(lip_m: 10, turned: up, air_gap: true)), pipe: own(bore_m: 0.1), \
           length_m: 0, total_k: 0, check_valve: forward, \
           pump: (id: \"pump\", curve: power(h0_m: 14, c: 1.0e6, n: 2), float: (on_m: 0.8, off_m: 0.3)))]",
    )
}

#[test]
fn a_round_that_is_watched_closes() {
    let layout = pit();
    let cycle = solved(&layout, State::Running).cycle.unwrap();
    let film = filmed(&layout, &Observed::Running);
    assert_eq!(film.state(), State::Running);
    near(film.end_s(), cycle.period_s, 1e-6);
    near(film.period_s().unwrap(), cycle.period_s, 1e-9);
    let (first, last) = (film.at(0.0), film.at(film.end_s()));
    near(level(&first, "pit"), level(&last, "pit"), 2e-4);
    // Filled and emptied once.
    let levels: Vec<f64> = (0..=200)
        .map(|step| level(&film.at(film.end_s() * f64::from(step) / 200.0), "pit"))
        .collect();
    let lowest = levels.iter().copied().fold(f64::INFINITY, f64::min);
    let highest = levels.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    near(lowest, 0.3, 0.02);
    near(highest, 0.8, 0.02);
    assert_eq!(film.events().len(), 2);
}

#[test]
fn what_comes_to_rest_has_no_round() {
    let nothing = series(
        &example("two-beds"),
        Catalogue::builtin(),
        &Observed::Running,
        &|| true,
    );
    assert!(nothing.unwrap().is_none());
    let gone = Observed::Blocked("nowhere".into());
    let nothing = series(&example("two-beds"), Catalogue::builtin(), &gone, &|| true);
    assert!(nothing.unwrap().is_none());
}

/// A cistern that a pump on a float empties by strokes of 20 L into a tank, out of which 0.1 L/s is taken.
fn cistern() -> Layout {
    layout(
        "vessels: [(id: \"cistern\", shape: prism(area_m2: 20), floor_m: 0, rim_m: 2, fill_m: 1.5), \
           (id: \"tank\", shape: prism(area_m2: 0.1), floor_m: 3, rim_m: 4.5, fill_m: 3.9, make_up_m3_s: -1.0e-4)], \
         runs: [(id: \"lift\", from: (at: \"cistern\", opening: submerged()), \
           to: (at: \"tank\", opening: mouth(lip_m: 4.4, turned: down, air_gap: true)), pipe: own(bore_m: 0.025), \
           length_m: 6, check_valve: forward, \
           pump: (id: \"pump\", curve: power(h0_m: 12, c: 1.0e7, n: 2), float: (at: \"tank\", on_m: 3.8, off_m: 4.0)))]",
    )
}

#[test]
fn rounds_that_were_leapt_over_are_seen_all_the_same() {
    let layout = cistern();
    let film = filmed(&layout, &Observed::Starting);
    let wanted = solved(&layout, State::Starting);
    assert_eq!(film.at(film.end_s()).vessels, wanted.vessels);
    let water = |time_s: f64| film.at(time_s).water_m3();
    let mut runs = 0;
    for step in 0..4000 {
        let time_s = 1000.0 + 70.0 * f64::from(step);
        // What is taken out, while anything is left.
        near(water(time_s), water(0.0) - 1e-4 * time_s, 0.02);
        let report = film.at(time_s);
        let tank_m = level(&report, "tank");
        assert!((3.79..4.01).contains(&tank_m), "{tank_m} after {time_s}");
        runs += usize::from(report.pumps[0].standing == Standing::Runs);
    }
    // It comes and goes the whole time.
    assert!((100..2000).contains(&runs), "{runs}");
}

/// What runs over beside rounds that are leapt over is counted as if each had been followed.
#[test]
fn what_spills_during_rounds_that_were_leapt_over_is_counted() {
    let mut layout = cistern();
    let spill_m3_s = 2.0e-5;
    layout.vessels.push(Vessel {
        id: "gutter".into(),
        make_up_m3_s: spill_m3_s,
        floor_m: 0.0,
        rim_m: 0.5,
        fill_m: 0.5,
        ..layout.vessels[1].clone()
    });
    let course = solved(&layout, State::Starting).course.unwrap();
    let gutter = course.vessels.last().unwrap();
    assert!(course.time_s > 2e5, "{}", course.time_s);
    let wanted_m3 = spill_m3_s * course.time_s;
    near(gutter.spilled_m3, wanted_m3, 1e-2 * wanted_m3);
}

#[test]
fn a_film_of_few_moments_keeps_what_happens_and_is_near_the_whole_one() {
    let layout = example("two-beds");
    let ground = AsBuilt::new(&layout, Catalogue::builtin()).unwrap();
    let run = layout
        .runs
        .iter()
        .position(|run| run.id.as_str() == "hole-2");
    let turn = InitialChange::Block(run.unwrap());
    let whole = ground.series(turn).unwrap();
    let few = ground.series_within(turn, 40).unwrap();
    let (all, kept) = (whole.times_s().len(), few.times_s().len());
    assert!(kept <= 40 && all > 60, "{kept} of {all}");
    assert_eq!(few.events(), whole.events());
    assert_eq!(few.first_spill(), whole.first_spill());
    for told in few.events() {
        let [few, whole] = [&few, &whole].map(|film| film.at(told.time_s));
        assert_eq!(few.vessels, whole.vessels, "{told:?}");
        assert_eq!(few.pumps, whole.pumps, "{told:?}");
    }
    assert_eq!(few.at(few.end_s()).vessels, whole.at(whole.end_s()).vessels);
    for step in 0..60 {
        let time_s = 10.0 * f64::from(step);
        let [few, whole] = [&few, &whole].map(|film| film.at(time_s));
        all_near(&levels_m(&few), &levels_m(&whole), 5e-3);
        near(all_water_m3(&few), all_water_m3(&whole), 2e-6);
    }
    // Nothing is kept less than what happens: a limit of none leaves that, the first and the last.
    let least = ground.series_within(turn, 0).unwrap();
    assert!(least.times_s().len() > least.events().len());
    assert_eq!(least.events(), whole.events());
}

/// The tip of a cone is emptied by half a drop too much: looked at step by step it stands at its floor all the same.
#[test]
fn a_vessel_that_runs_dry_is_seen_at_its_floor() {
    let layout = cone_over_a_tank();
    let film = filmed(&layout, &Observed::Starting);
    let cone = &layout.vessels[0].id;
    let levels: Vec<f64> = film.levels_m(0).collect();
    assert!(!levels.is_empty());
    for (time_s, level_m) in film.times_s().iter().zip(levels) {
        assert_eq!(film.level_at_m(cone, *time_s), Some(level_m));
        assert_eq!(level(&film.at(*time_s), "v1"), level_m);
        assert_eq!(level_m, 60.0, "after {time_s} s");
    }
}
