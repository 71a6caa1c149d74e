//! The curve of a pump from points, a label, a table and a picture: without a window.

use fallwright::editor::curve::{
    AxisMark, CurveRefusal, DefaultUnits, Dot, FLOW_UNITS, HEAD_UNITS, InputPosition, SheetAxes,
    label, points, read_points, table,
};
use fallwright::layout::CurveForm;
use fallwright::units::{Quantity, UnitSystem, read};
use proptest::prelude::*;

const METRIC: DefaultUnits<'static> = DefaultUnits {
    system: UnitSystem::Metric,
    flow: "L/min",
    head: "m",
};

fn rows(texts: &[(&str, &str)]) -> Vec<[String; 2]> {
    let row = |(flow, head): &(&str, &str)| [(*flow).to_owned(), (*head).to_owned()];
    texts.iter().map(row).collect()
}

/// Flow in L/min and head in metres.
fn numbers(curve: &CurveForm) -> Vec<(f64, f64)> {
    let CurveForm::Points(points) = curve else {
        panic!("{curve:?}")
    };
    let one = |value: f64| (value * 1e6).round() / 1e6;
    let point =
        |point: &fallwright::layout::CurvePoint| (one(point.flow_m3_s * 6e4), one(point.head_m));
    points.iter().map(point).collect()
}

fn why<T: std::fmt::Debug>(refused: Result<T, CurveRefusal>) -> String {
    refused.unwrap_err().read()
}

#[test]
fn every_unit_that_can_be_chosen_is_one_that_is_read() {
    for unit in FLOW_UNITS {
        read(Quantity::Flow, &format!("1 {unit}"), UnitSystem::Metric).unwrap();
    }
    for unit in HEAD_UNITS {
        read(Quantity::Head, &format!("1 {unit}"), UnitSystem::Metric).unwrap();
    }
}

#[test]
fn points_are_typed_in_any_units_and_empty_rows_are_passed_over() {
    let typed = rows(&[
        ("0", "6"),
        ("", ""),
        ("3 m³/h", "50 kPa"),
        ("1,5 L/s", "3 1/2 ft"),
        (" ", ""),
    ]);
    let found = numbers(&points(&typed, METRIC).unwrap());
    let head_m = 50e3 / (998.207 * 9.806_65);
    assert_eq!(found[0], (0.0, 6.0));
    assert!((found[1].0 - 50.0).abs() < 1e-6 && (found[1].1 - head_m).abs() < 1e-6);
    assert_eq!(found[2], (90.0, 1.0668));
}

#[test]
fn bare_numbers_have_the_units_that_were_chosen_and_not_those_of_the_layout() {
    let bare = DefaultUnits {
        flow: "gph",
        head: "psi",
        ..METRIC
    };
    let found = numbers(&points(&rows(&[("0", "8"), ("500", "4")]), bare).unwrap());
    assert!((found[0].1 - 5.6347).abs() < 5e-4);
    assert!((found[1].0 - 500.0 * 3.785_411_784 / 60.0).abs() < 1e-6);
}

#[test]
fn a_refusal_names_the_row_and_the_number() {
    let refused = points(&rows(&[("0", "6"), ("20", "5"), ("x", "4")]), METRIC).unwrap_err();
    assert_eq!(refused.at, InputPosition::Flow(2));
    assert!(refused.read().starts_with("Row 3: "), "{}", refused.read());
    let refused = points(&rows(&[("0", "6"), ("20", "5 L/min")]), METRIC).unwrap_err();
    assert_eq!(refused.at, InputPosition::Head(1));
    assert!(
        refused
            .why
            .starts_with("L/min is a flow; a head is typed such as")
    );
    let refused = points(&rows(&[("0", "6"), ("20", "5"), ("20", "4")]), METRIC).unwrap_err();
    assert_eq!(
        refused.read(),
        "Row 3: the flow 20 L/min is not above the 20 L/min before it; list points by rising flow, each flow once."
    );
    let refused = points(&rows(&[("0", "6"), ("30", "")]), METRIC).unwrap_err();
    assert_eq!(refused.at, InputPosition::Head(1));
    assert!(why(points(&rows(&[("-1", "6"), ("30", "2")]), METRIC)).contains("no negative flow"));
    assert!(
        why(points(&rows(&[("1", "6"), ("30", "-2")]), METRIC))
            .contains("ends where its head is 0")
    );
    for few in [&[][..], &[("0", "6")], &[("", "")]] {
        assert!(why(points(&rows(few), METRIC)).contains("at least two points"));
    }
}

#[test]
fn a_label_gives_its_two_numbers_and_says_that_it_is_a_guess() {
    let guess = label("4000 L/h", "8 psi", METRIC).unwrap();
    assert!(guess.is_guess());
    let CurveForm::Label {
        largest_head_m,
        largest_flow_m3_s,
    } = guess
    else {
        panic!("{guess:?}")
    };
    assert!((largest_flow_m3_s * 3600.0 - 4.0).abs() < 1e-9);
    assert!((largest_head_m - 5.6347).abs() < 5e-4);
    assert_eq!(
        label("0", "3", METRIC).unwrap_err().at,
        InputPosition::Flow(0)
    );
    assert_eq!(
        label("20", "0", METRIC).unwrap_err().at,
        InputPosition::Head(0)
    );
    assert_eq!(
        label("20", "", METRIC).unwrap_err().at,
        InputPosition::Head(0)
    );
    assert!(why(label("500 gal", "3", METRIC)).contains("500 gph"));
}

const THREE: &[(f64, f64)] = &[(0.0, 6.0), (22.5, 5.0), (50.0, 1.2)];

#[test]
fn tables_are_read_however_their_columns_are_separated() {
    for text in [
        "0;6\n22.5;5\n50;1.2\n",
        "0;6\r\n22,5;5\r\n50;1,2\r\n",
        "0\t6\n22,5\t5\n50\t1,2",
        "0,6\n22.5,5\n50,1.2\n",
        "\u{feff}flow,head\n0,6\n22.5,5\n50,1.2\n",
        "0  6\n22.5  5\n50  1.2\n",
        "0 6\n22.5 5\n50 1.2\n",
        "\n# measured in June\n0;6\n\n22.5;5\n50;1.2\n",
        "0 L/min;6 m\n22.5 L/min;5 m\n50 L/min;1.2 m\n",
        "\"0\",\"6\"\n\"22,5\",\"5\"\n\"50\",\"1,2\"\n",
    ] {
        let read =
            table(text, METRIC).unwrap_or_else(|refused| panic!("{text}: {}", refused.read()));
        assert_eq!(numbers(&read.curve), THREE, "{text}");
    }
}

#[test]
fn a_heading_says_units_and_which_column_is_which() {
    for text in [
        "flow (L/min);head (m)\n0;6\n22,5;5\n50;1,2",
        "Head [m],Flow [L/min]\n6,0\n5,22.5\n1.2,50",
        "Nr,Q in L/min,P (W),H in m\n1,0,40,6\n2,22.5,60,5\n3,50,70,1.2",
        "m\tL/min\n6\t0\n5\t22.5\n1.2\t50",
        "flow (m³/h);head (m)\n0;6\n1,35;5\n3;1,2",
    ] {
        let bare = DefaultUnits {
            flow: "gph",
            head: "psi",
            ..METRIC
        };
        let read = table(text, bare).unwrap_or_else(|refused| panic!("{text}: {}", refused.read()));
        assert_eq!(numbers(&read.curve), THREE, "{text}");
        assert!(
            read.flow_unit.is_some() && read.head_unit.is_some(),
            "{text}"
        );
    }
}

#[test]
fn a_heading_without_units_leaves_them_to_the_choice() {
    let read = table("H;Q\n6;0\n5;22.5\n1.2;50", METRIC).unwrap();
    assert_eq!(numbers(&read.curve), THREE);
    assert_eq!((read.flow_unit, read.head_unit), (None, None));
}

#[test]
fn what_is_wrong_in_a_table_is_told_with_its_line() {
    for (text, words) in [
        ("", "The table is empty"),
        ("flow;head\n", "at least two points"),
        ("0;6\n22.5\n", "Line 2: found one number"),
        ("0;6\n22.5;tall\n", "Line 2: head: tall cannot be read"),
        ("0;6\n\n5 kg;3\n", "Line 3: flow: “kg” is no unit"),
        (
            "0;6\n30;3\n20;2\n",
            "Line 3: the flow 20 L/min is not above",
        ),
        ("0,6\n1,5,2,3\n", "Line 2: found 4 numbers"),
        (
            "flow (m);head (m)\n0;6\n1;2",
            "Line 1: m is a length; a flow is typed such as",
        ),
        ("flow (foo);head (m)\n0;6\n1;2", "Line 1: “foo” is no unit"),
        ("a,b,c\n0,6,1\n", "Line 1: the heading does not name"),
        (
            "\"1,215\",6\n2,1.0",
            "Line 1: flow: 1,215 can be read in two ways",
        ),
    ] {
        let why = why(table(text, METRIC));
        assert!(why.contains(words), "{text}: {why}");
    }
}

/// A sheet of 400 by 300 dots with 0 to 100 L/min and 0 to 8 m, its corner at (60, 340), turned and slanted.
struct Picture {
    along: (f64, f64),
    up: (f64, f64),
}

const STRAIGHT: Picture = Picture {
    along: (400.0, 0.0),
    up: (0.0, -300.0),
};

impl Picture {
    fn dot(&self, flow_l_min: f64, head_m: f64) -> Dot {
        let (a, b) = (flow_l_min / 100.0, head_m / 8.0);
        Dot {
            x: 60.0 + a * self.along.0 + b * self.up.0,
            y: 340.0 + a * self.along.1 + b * self.up.1,
        }
    }

    /// Marks that lie on the axes, but not at their ends.
    fn sheet(&self) -> SheetAxes {
        let flow = |flow: f64| AxisMark {
            at: self.dot(flow, 0.0),
            value: flow / 6e4,
        };
        let head = |head: f64| AxisMark {
            at: self.dot(0.0, head),
            value: head,
        };
        SheetAxes {
            flow: [flow(10.0), flow(90.0)],
            head: [head(1.0), head(7.0)],
        }
    }
}

#[test]
fn a_straight_picture_is_read_off_by_its_marks() {
    let dots: Vec<Dot> = [(50.0, 1.2), (0.0, 6.0), (22.5, 5.0)]
        .map(|(q, h)| STRAIGHT.dot(q, h))
        .into();
    let curve = read_points(&STRAIGHT.sheet(), &dots).unwrap();
    assert_eq!(numbers(&curve), THREE);
}

#[test]
fn marks_that_lie_off_their_axes_along_the_grid_read_the_same() {
    // The marks of flow on the line of 4 m, and those of head on the line of 60 L/min.
    let mut sheet = STRAIGHT.sheet();
    sheet.flow = [20.0, 80.0].map(|flow| AxisMark {
        at: STRAIGHT.dot(flow, 4.0),
        value: flow / 6e4,
    });
    sheet.head = [2.0, 6.0].map(|head| AxisMark {
        at: STRAIGHT.dot(60.0, head),
        value: head,
    });
    let dots = [(0.0, 6.0), (22.5, 5.0), (50.0, 1.2)].map(|(q, h)| STRAIGHT.dot(q, h));
    assert_eq!(numbers(&read_points(&sheet, &dots).unwrap()), THREE);
}

#[test]
fn marks_that_fix_no_scale_are_refused() {
    let check = |change: fn(&mut SheetAxes)| {
        let mut sheet = STRAIGHT.sheet();
        change(&mut sheet);
        why(sheet.check())
    };
    assert!(
        check(|sheet| sheet.flow[1].at = sheet.flow[0].at)
            .contains("marks on the flow axis are at one place")
    );
    assert!(
        check(|sheet| sheet.head[1].value = sheet.head[0].value)
            .contains("marks on the head axis have the same value")
    );
    assert!(check(|sheet| sheet.head[0].at.x = f64::NAN).contains("not a number"));
    let along = check(|sheet| {
        sheet.head = [
            sheet.flow[0],
            AxisMark {
                value: 3.0,
                ..sheet.flow[1]
            },
        ];
    });
    assert!(along.contains("are parallel"), "{along}");
}

#[test]
fn clicks_that_miss_the_axis_a_little_are_on_it_and_others_are_refused() {
    let near = [(-0.8, 6.0), (22.5, 5.0), (60.0, -0.05)].map(|(q, h)| STRAIGHT.dot(q, h));
    let found = numbers(&read_points(&STRAIGHT.sheet(), &near).unwrap());
    assert_eq!((found[0].0, found[2].1), (0.0, 0.0));
    let left = [(-20.0, 6.0), (22.5, 5.0)].map(|(q, h)| STRAIGHT.dot(q, h));
    let refused = read_points(&STRAIGHT.sheet(), &left).unwrap_err();
    assert_eq!(
        refused.read(),
        "Point 1: the point is left of zero flow; remove it."
    );
    let twice = [(20.0, 6.0), (20.0, 5.0)].map(|(q, h)| STRAIGHT.dot(q, h));
    assert!(why(read_points(&STRAIGHT.sheet(), &twice)).contains("the same flow"));
    assert!(why(read_points(&STRAIGHT.sheet(), &[])).contains("at least two points"));
}

proptest! {
    #[test]
    fn prop_a_picture_askew_reads_as_a_straight_one(
        turn in -0.6..0.6_f64,
        slant in -0.4..0.4_f64,
        (wide, tall) in (100.0..3000.0_f64, 100.0..3000.0_f64),
        (flow, head) in (0.5..100.0_f64, 0.1..8.0_f64),
    ) {
        let askew = Picture {
            along: (wide * turn.cos(), wide * turn.sin()),
            up: (tall * (turn + slant).sin(), -tall * (turn + slant).cos()),
        };
        let sheet = askew.sheet();
        prop_assert!(sheet.check().is_ok());
        let (read_flow, read_head) = sheet.at(askew.dot(flow, head));
        prop_assert!((read_flow * 6e4 - flow).abs() < 1e-7 * 100.0);
        prop_assert!((read_head - head).abs() < 1e-7 * 8.0);
    }

    #[test]
    fn prop_any_text_makes_a_curve_that_can_be_held_or_a_sentence(text in "[0-9;,. \t\n\"a-zH()/³-]{0,60}") {
        match table(&text, METRIC) {
            Ok(read) => {
                let points = numbers(&read.curve);
                prop_assert!(points.len() >= 2);
            }
            Err(refused) => prop_assert!(refused.read().ends_with('.'), "{}", refused.read()),
        }
    }
}
