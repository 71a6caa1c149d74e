//! Both formats hold the same layout, bit for bit.

use super::any_layout::{any_number, layout};
use super::everything::everything;
use super::good;
use fallwright::file::{Format, parse, to_text};
use fallwright::layout::{Joint, Layout};
use proptest::prelude::*;

/// The bits of every number of a layout, with everything else beside them. `==` would take −0 for 0.
fn exactly(layout: &Layout) -> String {
    format!("{layout:?}")
}

fn there_and_back(layout: &Layout, format: Format) -> Layout {
    let text = to_text(layout, format).unwrap();
    let again = parse(&text, format).unwrap_or_else(|error| panic!("{error}\n{text}"));
    assert_eq!(to_text(&again, format).unwrap(), text, "the same bytes");
    again
}

fn check(layout: &Layout) {
    let ron = there_and_back(layout, Format::Ron);
    assert_eq!(exactly(&ron), exactly(layout));
    let json = there_and_back(&ron, Format::Json);
    assert_eq!(exactly(&json), exactly(layout));
    let ron_again = there_and_back(&json, Format::Ron);
    assert_eq!(exactly(&ron_again), exactly(layout));
}

#[test]
fn the_good_and_the_full_layout_survive() {
    check(&good());
    check(&everything());
    check(&Layout::default());
}

#[test]
fn one_field_stands_on_each_line_of_a_part() {
    for (format, key) in [
        (Format::Ron, "floor_m: 0.8,"),
        (Format::Json, "\"floor_m\": 0.8,"),
    ] {
        let text = to_text(&good(), format).unwrap();
        assert!(text.lines().any(|line| line.trim() == key), "{text}");
        assert!(
            text.lines().all(|line| line.chars().count() <= 100),
            "{text}"
        );
        assert!(text.ends_with('\n') && !text.contains(" \n") && !text.contains('\r'));
    }
}

#[test]
fn a_change_of_one_number_changes_one_line() {
    let mut changed = good();
    changed.vessels[1].rim_m = 1.2;
    for format in [Format::Ron, Format::Json] {
        let [before, after] = [&good(), &changed].map(|layout| to_text(layout, format).unwrap());
        let pairs = before.lines().zip(after.lines());
        assert_eq!(pairs.filter(|(one, other)| one != other).count(), 1);
        assert_eq!(before.lines().count(), after.lines().count());
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 300, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn prop_every_number_survives_by_its_bits(numbers in prop::collection::vec(any_number(), 1..20)) {
        let joint = |(index, number): (usize, &f64)| Joint {
            id: format!("j{index}").as_str().into(),
            elevation_m: *number,
            ..Joint::default()
        };
        let joints = numbers.iter().enumerate().map(joint).collect();
        let layout = Layout { joints, ..Layout::default() };
        for format in [Format::Ron, Format::Json] {
            let again = there_and_back(&layout, format);
            let bits: Vec<u64> = again.joints.iter().map(|j| j.elevation_m.to_bits()).collect();
            let wanted: Vec<u64> = numbers.iter().map(|number| number.to_bits()).collect();
            prop_assert_eq!(bits, wanted);
        }
    }

    #[test]
    fn prop_every_layout_survives(layout in layout()) {
        prop_assert_eq!(layout.faults(), vec![]);
        check(&layout);
    }

    #[test]
    fn prop_every_title_survives(title in any::<Vec<char>>().prop_map(String::from_iter)) {
        check(&Layout { title, ..Layout::default() });
    }
}
