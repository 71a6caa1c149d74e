//! Finding a size, a family or a kind by what people type.

use fallwright::catalogue::{Catalogue, Units};

/// The ways in which people write a size that the catalogue writes as `size`.
fn spellings(size: &str, units: Units) -> Vec<String> {
    match units {
        Units::Metric => ["", " mm", "mm", ".0", "  "]
            .iter()
            .map(|end| format!("{size}{end}"))
            .chain(
                ["d", "d ", "Ø", "ø "]
                    .iter()
                    .map(|mark| format!("{mark}{size}")),
            )
            .collect(),
        Units::Us => {
            let number = size.trim_end_matches(" in");
            let spaced = number.replace('-', " ");
            let signed = spaced
                .replace(" 1/2", "½")
                .replace(" 1/4", "¼")
                .replace(" 3/4", "¾")
                .replace("1/2", "½")
                .replace("1/4", "¼")
                .replace("3/4", "¾");
            let decimal = spaced
                .replace(" 1/2", ".5")
                .replace(" 1/4", ".25")
                .replace(" 3/4", ".75")
                .replace("1/2", "0.5")
                .replace("1/4", "0.25")
                .replace("3/4", "0.75");
            let numbers = [number.to_owned(), spaced, signed, decimal];
            let ends = ["", " in", "in", "\"", " \"", "″", " inch", " IN", "''"];
            numbers
                .iter()
                .flat_map(|number| ends.map(|end| format!("{number}{end}")))
                .collect()
        }
    }
}

#[test]
fn every_spelling_of_every_row_finds_that_row() {
    let catalogue = Catalogue::builtin();
    for family in catalogue.families() {
        for size in &family.sizes {
            for text in spellings(&size.size, family.units) {
                let found = catalogue.pipe(&family.key, &text);
                let found =
                    found.unwrap_or_else(|| panic!("{}: {text:?} finds nothing", family.key));
                assert_eq!(found.size, size, "{}: {text:?}", family.key);
                assert_eq!(found.family.key, family.key);
            }
        }
    }
}

#[test]
fn the_units_of_a_size_are_never_guessed_across() {
    let catalogue = Catalogue::builtin();
    for text in ["50 mm", "d2", "2 mm", "DN 50"] {
        assert_eq!(catalogue.pipe("pvc-sch40-average", text), None, "{text}");
    }
    for text in ["63 in", "63\"", "2 in", "1-1/2", "DN 63"] {
        assert_eq!(catalogue.pipe("pvcu-en1452-pn10", text), None, "{text}");
    }
}

#[test]
fn nonsense_finds_nothing() {
    let catalogue = Catalogue::builtin();
    for text in [
        "",
        " ",
        "in",
        "d",
        "-2",
        "2-",
        "1/0",
        "3/2",
        "1 1/2 1/4",
        "1.5 1/2",
        "two",
        "2e0",
        "NaN",
        "inf",
        "1e309",
        "99999999999999",
        "½½",
        "1//2",
        "mm",
    ] {
        let found = catalogue.pipe("pvc-sch40-average", text);
        assert_eq!(found, None, "{text:?}");
    }
    assert_eq!(catalogue.pipe("no-such-family", "2 in"), None);
}

#[test]
fn the_nearest_key_is_offered() {
    let catalogue = Catalogue::builtin();
    assert_eq!(
        catalogue.nearest_family("pvc-sch40-avarage"),
        Some("pvc-sch40-average")
    );
    assert_eq!(
        catalogue.nearest_family("pvc sch80 minimum"),
        Some("pvc-sch80-minimum")
    );
    assert_eq!(
        catalogue.nearest_family("PE100-SDR-17"),
        Some("pe100-sdr17")
    );
    assert_eq!(catalogue.nearest_fitting("elbow90"), Some("elbow-90"));
    assert_eq!(catalogue.nearest_fitting("bulk-head"), Some("bulkhead"));
    assert_eq!(catalogue.nearest_valve("butterfy"), Some("butterfly"));
    assert_eq!(catalogue.nearest_valve("gate valve"), Some("gate"));
    assert_eq!(catalogue.nearest_family("zzzzzz"), None);
    assert_eq!(catalogue.nearest_valve(""), None);
}

#[test]
fn the_nearest_size_is_offered() {
    let catalogue = Catalogue::builtin();
    assert_eq!(
        catalogue.nearest_size("pvc-sch40-average", "7 in"),
        Some("6 in")
    );
    assert_eq!(
        catalogue.nearest_size("pvc-sch40-average", "50 mm"),
        Some("2 in")
    );
    assert_eq!(catalogue.nearest_size("pvcu-en1452-pn10", "60"), Some("63"));
    assert_eq!(
        catalogue.nearest_size("pvcu-en1452-pn10", "4 in"),
        Some("110")
    );
    assert_eq!(catalogue.nearest_size("pvcu-en1452-pn10", "big"), None);
    assert_eq!(catalogue.nearest_size("no-such-family", "2 in"), None);
}
