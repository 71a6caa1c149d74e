//! A size as a person types it: which pipes answer to it, and when it has to be asked about.

use fallwright::catalogue::{Catalogue, PipeSize, SizeRefusal};
use fallwright::units::UnitSystem;
use proptest::prelude::*;

fn read(text: &str, within: Option<&str>) -> Result<Vec<PipeSize<'static>>, SizeRefusal<'static>> {
    Catalogue::builtin().read_size(text, within, UnitSystem::Metric)
}

fn outside_mm(pipe: &PipeSize<'_>) -> f64 {
    (pipe.od_m() * 1e4).round() / 10.0
}

#[test]
fn within_a_family_every_way_of_writing_a_size_finds_it() {
    let inch = Some("pvc-sch40-average");
    for text in ["2\"", "2 in", "2", "2”", "DN50", "DN 50", "2\u{a0}in"] {
        let found = read(text, inch).unwrap();
        assert_eq!(found.len(), 1, "{text}");
        assert_eq!(found[0].size.size, "2 in", "{text}");
    }
    for text in ["1½", "1 1/2 in", "1-1/2\"", "1.5", "dn40"] {
        assert_eq!(read(text, inch).unwrap()[0].size.size, "1-1/2 in", "{text}");
    }
    let metric = Some("pvcu-en1452-pn10");
    for text in ["63", "63 mm", "d63", "DN50", "DN 50"] {
        assert_eq!(read(text, metric).unwrap()[0].size.size, "63", "{text}");
    }
}

#[test]
fn the_dn_of_a_drain_is_its_outside_diameter() {
    let drain = read("DN 110", Some("pvcu-sewer-sn4")).unwrap();
    assert_eq!(outside_mm(&drain[0]), 110.0);
    let waste = read("DN/OD 50", Some("pvcu-waste-en1329")).unwrap();
    assert_eq!(outside_mm(&waste[0]), 50.0);
}

#[test]
fn within_a_family_a_size_of_the_other_units_is_offered_and_not_taken() {
    let refused = read("1½ in", Some("pvcu-en1452-pn10")).unwrap_err();
    assert_eq!(
        refused.words,
        "PVC-U pressure pipe PN 10, EN ISO walls is not made in size 1½ in; the nearest is 50, 50.0 mm outside."
    );
    assert_eq!(refused.candidates[0].size.size, "50");
    let refused = read("50 mm", Some("pvc-sch40-average")).unwrap_err();
    assert_eq!(refused.candidates[0].size.size, "2 in");
    assert!(read("big", Some("pvc-sch40-average")).unwrap_err().words.contains("1-1/4 in"));
    assert!(read("2 in", Some("none")).unwrap_err().words.contains("no family"));
}

#[test]
fn a_size_that_means_one_outside_diameter_is_found_in_all_its_families() {
    for text in ["63 mm", "63", "d63"] {
        let found = read(text, None).unwrap();
        assert!(found.len() > 5, "{text}");
        assert!(found.iter().all(|pipe| outside_mm(pipe) == 63.0), "{text}");
    }
}

#[test]
fn a_size_that_means_several_outside_diameters_is_asked_about_with_them() {
    for (text, diameters) in [
        ("50 mm", &["50.0 mm", "63.0 mm", "60.3 mm"][..]),
        ("50", &["50.0 mm", "63.0 mm", "60.3 mm"]),
        ("1½ in", &["48.3 mm", "50.0 mm"]),
        ("1 1/2 in", &["48.3 mm", "50.0 mm"]),
        ("1½", &["48.3 mm", "50.0 mm"]),
        ("2\"", &["60.3 mm", "63.0 mm"]),
        ("DN50", &["60.3 mm", "63.0 mm", "50.0 mm"]),
    ] {
        let refused = read(text, None).unwrap_err();
        for diameter in diameters {
            assert!(refused.words.contains(diameter), "{text}: {}", refused.words);
        }
        assert!(refused.words.ends_with("Choose the family first."));
    }
}

#[test]
fn what_is_called_so_comes_before_what_is_sold_with_it() {
    let refused = read("50 mm", None).unwrap_err();
    assert_eq!(outside_mm(&refused.candidates[0]), 50.0);
    let refused = read("1½ in", None).unwrap_err();
    assert_eq!(outside_mm(&refused.candidates[0]), 48.3);
}

#[test]
fn the_outside_diameters_are_told_in_the_units_of_the_layout() {
    let refused = Catalogue::builtin().read_size("2\"", None, UnitSystem::Us).unwrap_err();
    assert!(refused.words.contains("2.37 in") && refused.words.contains("2.48 in"), "{}", refused.words);
}

#[test]
fn what_is_no_size_is_refused_with_examples() {
    for text in ["", "big", "0", "-2", "2 kg", "DN", "DN 51", "1e3", "999"] {
        let refused = read(text, None).unwrap_err();
        assert!(refused.words.contains("2 in"), "{text}: {}", refused.words);
        assert!(refused.candidates.is_empty(), "{text}");
    }
}

proptest! {
    #[test]
    fn prop_any_text_gives_pipes_of_one_diameter_or_a_sentence(text in "[0-9dDnN½/ .\"'mi-]{0,10}|\\PC{0,8}") {
        match read(&text, None) {
            Ok(found) => {
                let first = outside_mm(&found[0]);
                prop_assert!(found.iter().all(|pipe| (outside_mm(pipe) - first).abs() < 0.3));
            }
            Err(refused) => prop_assert!(refused.words.ends_with('.')),
        }
    }
}
