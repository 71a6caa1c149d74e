//! A user's own catalogue: what is accepted, and what is said of what is not.

use fallwright::catalogue::{Catalogue, CatalogueError};

const FAMILY: &str = r#"(key: "own-hose", words: "hose", material: "EPDM", standard: "none", bore_is: Average, units: Metric,
    roughness_m: 1e-5, roughness_source: "common-practice", hazen_williams_c: 140.0, hazen_williams_source: "common-practice",
    sizes: [(size: "40", od_m: 0.050, bore_m: 0.040, source: "common-practice"),
            (size: "50", od_m: 0.060, bore_m: 0.050, source: "common-practice")])"#;

fn with_family(change: &str, to: &str) -> Result<Catalogue, CatalogueError> {
    assert!(
        FAMILY.contains(change),
        "the sample does not hold {change:?}"
    );
    Catalogue::from_ron(&format!("(families: [{}])", FAMILY.replacen(change, to, 1)))
}

fn with_valve(valve: &str) -> Result<Catalogue, CatalogueError> {
    Catalogue::from_ron(&format!(r#"(valves: [(key: "v", words: "v", {valve})])"#))
}

fn with_rule(rule: &str) -> Result<Catalogue, CatalogueError> {
    let choice = format!(r#"(source: "common-practice", rule: {rule})"#);
    let fitting = format!(r#"(key: "f", words: "f", place: Along, choices: [{choice}])"#);
    Catalogue::from_ron(&format!("(fittings: [{fitting}])"))
}

#[test]
fn a_family_of_ones_own_joins_the_built_in_ones() {
    let own = with_family("hose", "hose").unwrap();
    let all = Catalogue::builtin().joined(&own).unwrap();
    assert_eq!(all.pipe("own-hose", "50 mm").unwrap().bore_m(), 0.050);
    assert!(all.pipe("pvc-sch40-average", "2 in").is_some());
}

#[test]
fn the_sample_in_the_docs_reads() {
    let page = include_str!("../../../docs/method/catalogue.md");
    let sample = page
        .split("```ron")
        .nth(1)
        .unwrap()
        .split("```")
        .next()
        .unwrap();
    let own = Catalogue::from_ron(sample).unwrap();
    assert_eq!(own.pipe("own-hose", "32").unwrap().od_m(), 0.041);
}

#[test]
fn joining_twice_is_refused() {
    let own = with_family("hose", "hose").unwrap();
    let all = Catalogue::builtin().joined(&own).unwrap();
    let twice = all.joined(&own).unwrap_err();
    assert_eq!(
        twice,
        CatalogueError::Twice {
            list: "families",
            key: "own-hose".into()
        }
    );
}

#[test]
fn nothing_at_all_is_a_catalogue() {
    assert_eq!(Catalogue::from_ron("()").unwrap(), Catalogue::default());
}

#[test]
fn text_that_does_not_read_is_placed() {
    let error = Catalogue::from_ron("(families: [\n  oops])").unwrap_err();
    let CatalogueError::Unreadable { line, .. } = error else {
        panic!("{error}")
    };
    assert_eq!(line, 2);
    assert!(matches!(
        Catalogue::from_ron("(pipes: [])"),
        Err(CatalogueError::Unreadable { .. })
    ));
    assert!(matches!(
        Catalogue::from_ron(""),
        Err(CatalogueError::Unreadable { .. })
    ));
}

#[test]
fn an_undeclared_source_is_refused() {
    let error = with_family("common-practice", "hearsay").unwrap_err();
    let expected = CatalogueError::UnknownSource {
        entry: "own-hose".into(),
        source_key: "hearsay".into(),
    };
    assert_eq!(error, expected);
}

#[test]
fn sizes_that_cannot_be_are_refused() {
    let impossible = [
        ("bore_m: 0.040", "bore_m: 0.050"),
        ("bore_m: 0.040", "bore_m: 0.0"),
        ("bore_m: 0.040", "bore_m: NaN"),
        ("od_m: 0.060", "od_m: inf"),
        ("od_m: 0.050", "od_m: 0.060"),
        (r#"size: "50""#, r#"size: "d40 mm""#),
    ];
    for (change, to) in impossible {
        let error = with_family(change, to).unwrap_err();
        assert!(
            matches!(error, CatalogueError::ImpossibleSize { .. }),
            "{to}: {error}"
        );
    }
    for name in [r#"size: "fifty""#, r#"size: "2 in""#] {
        let error = with_family(r#"size: "50""#, name).unwrap_err();
        assert!(
            matches!(error, CatalogueError::SizeNotUnderstood { .. }),
            "{name}: {error}"
        );
    }
}

#[test]
fn walls_that_cannot_be_are_refused() {
    for (change, to) in [
        ("roughness_m: 1e-5", "roughness_m: -1e-5"),
        ("c: 140.0", "c: 0.0"),
        ("c: 140.0", "c: NaN"),
    ] {
        let error = with_family(change, to).unwrap_err();
        assert!(
            matches!(error, CatalogueError::Impossible { .. }),
            "{to}: {error}"
        );
    }
}

#[test]
fn rules_that_cannot_be_are_refused() {
    assert!(with_rule("BySize([(0.02, 1.0), (0.05, 0.8)])").is_ok());
    for rule in [
        "Fixed(-0.1)",
        "TurbulentTimes(NaN)",
        "BySize([])",
        "BySize([(0.05, 1.0), (0.02, 0.8)])",
        "LengthBySize([(0.0, 1.0)])",
        "LengthBySize([(0.02, inf)])",
    ] {
        let error = with_rule(rule).unwrap_err();
        assert!(
            matches!(error, CatalogueError::Impossible { .. }),
            "{rule}: {error}"
        );
    }
}

#[test]
fn valves_that_cannot_be_are_refused() {
    let open = r#"open: [(source: "common-practice", rule: Fixed(0.1))]"#;
    let hand = |points: &str| {
        format!(
            r#"acts: ByHand, {open}, throttled: [(source: "common-practice", points: [{points}])]"#
        )
    };
    assert!(with_valve(&hand("(0.5, 2.0), (0.2, 9.0)")).is_ok());
    let refused = [
        hand("(0.2, 9.0), (0.5, 2.0)"),
        hand("(0.5, 9.0), (0.2, 2.0)"),
        hand("(1.0, 2.0)"),
        hand("(0.0, 2.0)"),
        hand("(0.5, NaN)"),
        format!("acts: ByHand, {open}, throttled: []"),
        r#"acts: Check, open: [], throttled: []"#.to_owned(),
        r#"acts: Check, open: [(source: "common-practice", rule: Diameters(3.0))], throttled: []"#
            .to_owned(),
        format!(r#"acts: Check, {open}, throttled: [(source: "common-practice", points: [])]"#),
    ];
    for valve in refused {
        let error = with_valve(&valve).unwrap_err();
        assert!(
            matches!(error, CatalogueError::Impossible { .. }),
            "{valve}: {error}"
        );
    }
}
