//! The laws held to measurements: how far off they are, and to which side.
//!
//! A law is no fit to any one of these tests, so that being off is no failure by itself; being off to the side on
//! which water stands higher, or flows slower, than foretold is one, unless it is known and said.

use super::Kind;
use super::page::significant;
use super::reference::Case;
use crate::networks::course::Course;
use crate::support::layouts::{at, fitting, law_of, run, submerged, upstand};
use fallwright::file::{Format, parse};
use fallwright::hydraulics::STANDARD_GRAVITY_M_S2 as G;
use fallwright::hydraulics::losses::friction::{Wall, darcy_factor};
use fallwright::hydraulics::losses::loss::{Loss, Minor};
use fallwright::hydraulics::openings::clear_share;
use fallwright::hydraulics::openings::coefficients::Coefficients;
use fallwright::hydraulics::openings::hole;
use fallwright::hydraulics::openings::inlet::{Inlet, rim_spill};
use fallwright::hydraulics::openings::notch::{Notch, Rectangle};
use fallwright::hydraulics::openings::screen;
use fallwright::hydraulics::openings::submerged_weir::SubmergedWeir;
use fallwright::hydraulics::water::Water;
use fallwright::layout::{Layout, Pipe, Run};
use std::fmt::Write as _;

const FILE: &str = include_str!("../../reference/experiments.csv");

/// The side of the measurement on which a builder is misled.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Unsafe {
    /// Foretold too low: a level, a loss, a time.
    Low,
    /// Foretold too high: what passes at a head.
    High,
}

impl Unsafe {
    fn word(self) -> &'static str {
        match self {
            Unsafe::Low => "too low",
            Unsafe::High => "too high",
        }
    }
}

/// How a measurement is foretold.
struct Law {
    foretold: fn(&Case) -> f64,
    unsafe_side: Unsafe,
}

/// What cannot be foretold, and why.
const NOT_COMPUTED: [(&str, &str); 3] = [
    (
        "BR-1",
        "depths are told up to the critical one, which stands a few bores before the free end",
    ),
    (
        "AI-1",
        "no law of the program has a front of air in a level pipe",
    ),
    (
        "AI-2",
        "no law of the program has a long bubble in a plumb pipe",
    ),
];

/// Rows that are off to the unsafe side by more than their own uncertainty, each with what is to be said of it.
const KNOWN: [(&str, &str); 4] = [
    (
        "FR-O3",
        "between Re 2000 and 4000 no published law holds, and the smooth way from laminar to turbulent lies below flow that is turbulent already",
    ),
    (
        "NO-L3",
        "a notch of 30 mm is outside the range of its law, from 150 mm on, and a note says so",
    ),
    (
        "EL-5",
        "the K of one fitting differs by maker and handbook by more than this; leave a reserve",
    ),
    (
        "EM-W3",
        "at depths of a few bores over a tube of 8 mm, and times that do not rise evenly with its length",
    ),
];

fn law(given: &Case) -> Option<Law> {
    let low = |foretold| {
        Some(Law {
            foretold,
            unsafe_side: Unsafe::Low,
        })
    };
    let high = |foretold| {
        Some(Law {
            foretold,
            unsafe_side: Unsafe::High,
        })
    };
    let kind = given.id.split('-').next().unwrap_or_default();
    match (kind, given.id) {
        ("FR", _) => low(friction),
        ("OR", _) => high(free_hole),
        ("MO", _) => high(short_pipe),
        ("EN", _) => low(entrance),
        ("OD", _) => high(hole_under_water),
        (_, "NO-P1") => low(thick_notch),
        ("NO", _) if given.what.ends_with("vee") => low(vee),
        ("NO", _) => low(|given| Inlet::Notch(rectangle(given)).head_for(flow(given)).value),
        ("RI", _) => low(rim),
        ("CU", _) => low(culvert),
        ("UP", _) => low(|given| {
            let lip = Inlet::lip(given.n("bore_m"), &Coefficients::default());
            lip.head_for(flow(given)).value
        }),
        ("EL", _) => low(of_fitting),
        ("SC", _) => low(|given| {
            let clear = clear_share::clear_share(given.n("open_share"), 0.0);
            screen::gross_k(screen::rack_k(clear), clear)
        }),
        (_, id) if id.starts_with("EM-W") => low(through_a_tube),
        (_, id) if id.starts_with("EM-S") => low(through_a_hole),
        ("DW", _) => low(|given| {
            let weir = SubmergedWeir::new(rectangle(given));
            weir.head_for(flow(given), given.n("tail_m")).head_m
        }),
        _ => None,
    }
}

fn flow(given: &Case) -> f64 {
    given.n("flow_m3_s")
}

fn friction(given: &Case) -> f64 {
    let relative = given.n("roughness_m") / given.n("bore_m");
    let re = given.maybe("re").unwrap_or_else(|| {
        let water = Water::at(given.n("temperature_c"), 0.0).unwrap();
        given.n("velocity_m_s") * given.n("bore_m") / water.kinematic_viscosity_m2_s
    });
    darcy_factor(re, relative).value
}

fn area_m2(bore_m: f64) -> f64 {
    std::f64::consts::FRAC_PI_4 * bore_m * bore_m
}

fn free_hole(given: &Case) -> f64 {
    let (bore_m, head_m) = (given.n("bore_m"), given.n("head_m"));
    let hole = Inlet::side_hole(bore_m, &Coefficients::default());
    let passed = hole.capacity(head_m + 0.5 * bore_m).value;
    passed / (area_m2(bore_m) * (2.0 * G * head_m).sqrt())
}

/// Entrance, wall and the velocity head that is lost behind it.
fn short_pipe(given: &Case) -> f64 {
    let (bore_m, head_m) = (given.n("bore_m"), given.n("head_m"));
    let pipe = Loss {
        bore_m,
        length_m: given.n("length_m"),
        wall: Wall::Darcy { roughness_m: 0.0 },
        minors: vec![Minor { k: 1.5, bore_m }],
        equipment_a: 0.0,
        equipment_b: 0.0,
        kinematic_viscosity_m2_s: 1e-6,
        gravity_m_s2: G,
        hazen_williams_k: 10.67,
    };
    let ideal = area_m2(bore_m) * (2.0 * G * head_m).sqrt();
    crate::hydraulics::solve(0.0, ideal, head_m, |flow| pipe.at(flow).value) / ideal
}

fn entrance(given: &Case) -> f64 {
    let (hole_m, pipe_m) = (given.n("hole_m"), given.n("bore_m"));
    if hole_m < pipe_m {
        hole::entrance_k(hole_m, pipe_m)
    } else {
        Coefficients::default().entrance_k
    }
}

fn hole_under_water(_: &Case) -> f64 {
    hole::in_wall_k(hole::SUBMERGED_ORIFICE).powf(-0.5)
}

fn rectangle(given: &Case) -> Notch {
    let shape = Rectangle {
        width_m: given.n("width_m"),
        channel_m: given.maybe("channel_m"),
        height_m: given.maybe("crest_m"),
    };
    Notch::rectangular(shape, G)
}

fn vee(given: &Case) -> f64 {
    let vee = Inlet::Notch(Notch::vee(given.n("angle_deg"), G));
    vee.head_for(flow(given)).value
}

/// As its page has it entered.
fn thick_notch(given: &Case) -> f64 {
    let notch = Notch::plain_rectangular(given.n("width_m"), 0.48, G);
    Inlet::Notch(notch).head_for(flow(given)).value
}

fn rim(given: &Case) -> f64 {
    let coefficient = Coefficients::default().rim;
    let spill = |head_m: f64| rim_spill(coefficient, given.n("perimeter_m"), head_m).value;
    crate::hydraulics::solve(0.0, 1.0, flow(given), spill)
}

fn culvert(given: &Case) -> f64 {
    let hole = Inlet::side_hole(given.n("bore_m"), &Coefficients::default());
    hole.head_for(flow(given)).value
}

/// K of one, on the bore of its own.
fn of_fitting(given: &Case) -> f64 {
    let bore_m = given.n("bore_m");
    let pipe = |with: bool| {
        let law = law_of(Run {
            pipe: Pipe::Own {
                bore_m,
                roughness_m: None,
                hazen_williams_c: None,
            },
            fittings: with
                .then(|| fitting(given.text("kind")))
                .into_iter()
                .collect(),
            ..run("pipe", at("upper", upstand(1.2)), at("lower", submerged()))
        });
        law.loss.minors.iter().map(|minor| minor.k).sum::<f64>()
    };
    pipe(true) - pipe(false)
}

fn emptied(vessel: &str, runs: &str, [from_m, to_m]: [f64; 2]) -> f64 {
    let text = format!(
        "(fallwright: 1, title: \"A tank that empties\", \
          vessels: [(id: \"tank\", {vessel}, floor_m: 0, rim_m: 0.5, fill_m: {from_m})], \
          fixed: [(id: \"floor\", level_m: -1)], runs: [(id: \"out\", {runs})])"
    );
    let layout: Layout = parse(&text, Format::Ron).unwrap_or_else(|error| panic!("{error}"));
    Course::tall(layout).time_to("tank", to_m)
}

/// Levels count over the start of the tube, that is from its centre.
fn through_a_tube(given: &Case) -> f64 {
    let (bore_m, length_m) = (given.n("bore_m"), given.n("length_m"));
    let radius_m = 0.5 * bore_m;
    let end_m = 0.1 - given.n("fall_m") - radius_m;
    let runs = format!(
        "from: (at: \"tank\", opening: side_hole(invert_m: {})), to: (at: \"floor\", opening: mouth(lip_m: {end_m})), \
         pipe: own(bore_m: {bore_m}), length_m: {length_m}",
        0.1 - radius_m
    );
    let shape = format!("shape: prism(area_m2: {})", given.n("area_m2"));
    emptied(
        &shape,
        &runs,
        [0.1 + given.n("from_m"), 0.1 + given.n("to_m")],
    )
}

/// The tank of the source: a rectangle with round corners that widens upwards.
fn through_a_hole(given: &Case) -> f64 {
    let bore_m = given.n("bore_m");
    let invert_m = given.n("centre_m") - 0.5 * bore_m;
    let rows: Vec<String> = [0.0, 0.25, 0.5, 0.75, 1.0]
        .map(|share: f64| {
            let between = |low: f64, high: f64| low + share * (high - low);
            let [a_m, b_m] = [between(0.134, 0.146), between(0.078, 0.090)];
            let round_m =
                (2.0 * (a_m + b_m) - between(0.401, 0.443)) / (8.0 - std::f64::consts::TAU);
            let area_m2 = a_m * b_m - (4.0 - std::f64::consts::PI) * round_m * round_m;
            format!("(depth_m: {}, area_m2: {area_m2})", 0.286 * share)
        })
        .to_vec();
    let shape = format!("shape: table(rows: [{}])", rows.join(", "));
    let runs = format!(
        "from: (at: \"tank\", opening: side_hole(invert_m: {invert_m}, bore_m: {bore_m})), to: (at: \"floor\"), pipe: open"
    );
    let centre_m = given.n("centre_m");
    emptied(
        &shape,
        &runs,
        [given.n("from_m") + centre_m, given.n("to_m") + centre_m],
    )
}

/// A measurement beside what the program says.
struct Held {
    case: Case,
    measured: f64,
    foretold: f64,
    /// By how much of the measurement.
    off: f64,
    uncertainty: f64,
    unsafe_side: Unsafe,
}

impl Held {
    fn of(case: Case) -> Option<Held> {
        let law = law(&case)?;
        let measured: f64 = case.expected.parse().expect("a measurement is a number");
        let percent = case.tolerance.strip_suffix('%').expect("a share");
        let foretold = (law.foretold)(&case);
        Some(Held {
            measured,
            foretold,
            off: foretold / measured - 1.0,
            uncertainty: percent.parse::<f64>().expect("a number") / 100.0,
            unsafe_side: law.unsafe_side,
            case,
        })
    }

    fn is_misleading(&self) -> bool {
        self.verdict() == "unsafe"
    }

    fn verdict(&self) -> &'static str {
        let is_low = self.off < 0.0;
        if self.off.abs() <= self.uncertainty {
            "within"
        } else if is_low == (self.unsafe_side == Unsafe::Low) {
            "unsafe"
        } else {
            "safe side"
        }
    }
}

fn all() -> Vec<Held> {
    Case::all(FILE).filter_map(Held::of).collect()
}

/// What stands behind each measurement.
pub fn kinds() -> Vec<Kind> {
    all().iter().map(|held| Kind::of(held.case.how)).collect()
}

/// The section of the page.
pub fn section() -> String {
    let mut text = String::from(
        "\n## Measurements\n\n\
         Tests by others, and what the program's laws say of them as it comes, with no coefficient set for the row.\n\
         \"Unsafe\" is the side on which a builder would be misled: a level, a loss or a time foretold too low, a flow at a head foretold too high.\n\
         A row is within where it is off by no more than the measurement is uncertain.\n\n\
         | id | what | inputs | measured | foretold | unit | off | uncertainty | unsafe where | verdict | source | kind | how known |\n\
         |---|---|---|---|---|---|---|---|---|---|---|---|---|\n",
    );
    for held in all() {
        let case = held.case;
        let _ = writeln!(
            text,
            "| {} | {} | {} | {} | {} | {} | {:+.1} % | {} | {} | {} | {} | {} | {} |",
            case.id,
            case.what,
            case.inputs,
            significant(held.measured),
            significant(held.foretold),
            case.unit,
            100.0 * held.off,
            case.tolerance,
            held.unsafe_side.word(),
            held.verdict(),
            case.source,
            Kind::of(case.how).word(),
            case.how,
        );
    }
    text.push_str("\nNot computed:\n\n");
    for (id, why) in NOT_COMPUTED {
        let _ = writeln!(text, "- {id}: {why}.");
    }
    for (id, why) in KNOWN {
        let _ = writeln!(text, "- {id} is unsafe: {why}.");
    }
    text
}

#[test]
fn every_measurement_is_computed_or_said_not_to_be() {
    for case in Case::all(FILE) {
        let said = NOT_COMPUTED.iter().any(|(id, _)| *id == case.id);
        assert!(law(&case).is_some() != said, "{}", case.id);
    }
    assert!(all().len() > 40);
}

#[test]
fn val_no_law_misleads_beyond_what_was_measured() {
    let told: Vec<String> = all()
        .iter()
        .filter(|held| {
            let known = KNOWN.iter().any(|(id, _)| *id == held.case.id);
            held.is_misleading() != known
        })
        .map(|held| {
            let (case, off) = (held.case, 100.0 * held.off);
            format!(
                "{}: {} measured, {} foretold, {off:+.1} %",
                case.id, held.measured, held.foretold
            )
        })
        .collect();
    assert!(told.is_empty(), "{told:#?}");
}

/// The tests of full-width weirs under water.
#[test]
fn val_drowned_weirs() {
    let weirs: Vec<Held> = all()
        .into_iter()
        .filter(|held| held.case.id.starts_with("DW"))
        .collect();
    assert_eq!(weirs.len(), 2);
    for held in weirs {
        assert!(held.off.abs() < 0.03, "{}: {:+.3}", held.case.id, held.off);
    }
}

/// Over planks and a level crest the default rim is within the measurement: 1.7 was 11 to 13 % low.
#[test]
fn val_thick_crests() {
    for held in all() {
        if ["RI-1", "RI-3", "NO-P1"].contains(&held.case.id) {
            assert!(held.off.abs() < 0.05, "{}: {:+.3}", held.case.id, held.off);
        }
    }
}

#[test]
fn a_law_that_misleads_is_seen() {
    let mut held = all()
        .into_iter()
        .find(|held| held.case.id == "DW-1")
        .unwrap();
    held.off = -0.1;
    assert!(held.is_misleading());
    held.off = 0.1;
    assert_eq!(held.verdict(), "safe side");
    held.off = held.uncertainty;
    assert_eq!(held.verdict(), "within");
}
