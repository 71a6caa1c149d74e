//! Checks against the outside world: the rows, the comparison, and the page they make.
//!
//! A row says what is known from outside and how the program gets it. Published figures live in
//! `tests/reference/*.csv`; a module turns them into rows, and one named test each, like this:
//!
//! ```ignore
//! crate::verification::checks! {
//!     val_smooth_1e4: "FF-4-0" => |given| colebrook(given.n("re"), 0.0);
//! }
//! ```
//!
//! A module whose figures are not in those files may build a [`Row`] itself. Either way it adds
//! its `rows()` to [`all_rows`]; `docs/verification.md` is then made again with
//! `FALLWRIGHT_BLESS=1 cargo test verification_page`.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

mod experiments;
mod kind;
mod page;
mod reference;

pub use kind::Kind;
use reference::cases;
pub use reference::{Case, case};
use std::collections::BTreeMap;

/// Every row of every module; add yours here.
pub fn all_rows() -> Vec<Row> {
    let mut rows = crate::hydraulics::rows();
    rows.extend(crate::networks::rows());
    // The K rows that the laws answer too are listed with those.
    let known: Vec<&str> = rows.iter().map(|row| row.id).collect();
    let catalogue = crate::catalogue::rows::rows();
    let fresh = catalogue.into_iter().filter(|row| !known.contains(&row.id));
    let fresh: Vec<Row> = fresh.map(of_catalogue).collect();
    rows.extend(fresh);
    rows
}

/// A row of the catalogue, whose sources say themselves how they were read.
fn of_catalogue(row: crate::catalogue::rows::Row) -> Row {
    use crate::catalogue::rows::Tolerance as Given;
    Row {
        id: row.id,
        group: match row.group {
            "5 dimensions" => "bores",
            _ => "fittings of the catalogue",
        },
        what: row.what,
        expected: row.expected,
        tolerance: match row.tolerance {
            Given::Relative(share) => Tolerance::Relative(share),
            Given::Absolute(amount) => Tolerance::Absolute(amount),
        },
        unit: row.unit,
        source: row.source,
        how: match crate::catalogue::rows::kind(row.source) {
            Kind::Transcription => "the catalogue was typed from it",
            Kind::Library => "computed with fluids 1.3.1",
            _ => "read where it is quoted",
        },
        kind: crate::catalogue::rows::kind(row.source),
        got: row.got,
    }
}

/// One outside value and the way the program gets it.
#[derive(Clone, Copy)]
pub struct Row {
    pub id: &'static str,
    pub group: &'static str,
    pub what: &'static str,
    pub expected: f64,
    pub tolerance: Tolerance,
    pub unit: &'static str,
    pub source: &'static str,
    /// How the value came here: read, computed with a named library, or from memory.
    pub how: &'static str,
    /// What it proves.
    pub kind: Kind,
    pub got: fn() -> f64,
}

#[derive(Clone, Copy)]
pub enum Tolerance {
    Relative(f64),
    Absolute(f64),
}

impl Tolerance {
    fn parse(text: &str) -> Tolerance {
        let number = |s: &str| s.trim().parse::<f64>().expect("a tolerance is a number");
        if let Some(percent) = text.strip_suffix('%') {
            Tolerance::Relative(number(percent) / 100.0)
        } else if let Some(relative) = text.strip_suffix("rel") {
            Tolerance::Relative(number(relative))
        } else if let Some(absolute) = text.strip_suffix("abs") {
            Tolerance::Absolute(number(absolute))
        } else {
            panic!("tolerance {text} is neither %, rel nor abs");
        }
    }

    fn allows(self, expected: f64, got: f64) -> bool {
        let room = match self {
            Tolerance::Relative(share) => share * expected.abs(),
            Tolerance::Absolute(amount) => amount,
        };
        (got - expected).abs() <= room
    }

    fn text(self) -> String {
        match self {
            Tolerance::Relative(share) if share < 1e-4 => format!("{share:e} of it"),
            Tolerance::Relative(share) => format!("{} %", (1e8 * share).round() / 1e6),
            Tolerance::Absolute(amount) => format!("± {amount}"),
        }
    }
}

impl Row {
    /// The row of a reference file, with the program's way to get it.
    pub fn of(id: &'static str, got: fn() -> f64) -> Row {
        let case = case(id);
        Row {
            id,
            group: case.group,
            what: case.what,
            expected: case
                .expected
                .parse()
                .expect("the expected value is a number"),
            tolerance: Tolerance::parse(case.tolerance),
            unit: case.unit,
            source: case.source,
            how: case.how,
            kind: Kind::of(case.how),
            got,
        }
    }
}

/// Panics unless the program gets the outside value to its tolerance.
pub fn prove(row: &Row) {
    let got = (row.got)();
    assert!(
        row.tolerance.allows(row.expected, got),
        "{}: {} should be {} {} (allowed {}; {}), got {got}",
        row.id,
        row.what,
        row.expected,
        row.unit,
        row.tolerance.text(),
        row.source,
    );
}

/// Makes `rows()` and one test per row out of `name: "ID" => |given| law;` lines.
macro_rules! checks {
    ($($name:ident: $id:literal => $law:expr;)+) => {
        pub fn rows() -> Vec<$crate::verification::Row> {
            vec![$($crate::verification::Row::of($id, || {
                let law: fn(&$crate::verification::Case) -> f64 = $law;
                law(&$crate::verification::case($id))
            })),+]
        }

        $(
            #[test]
            fn $name() {
                let rows = rows();
                let row = rows.iter().find(|row| row.id == $id).expect("its own row");
                $crate::verification::prove(row);
            }
        )+
    };
}
pub(crate) use checks;

#[test]
fn every_outside_value_is_checked_once() {
    let mut uses: BTreeMap<&str, usize> = cases().map(|case| (case.id, 0)).collect();
    assert_eq!(uses.len(), cases().count(), "an id is given twice");
    let rows = all_rows();
    let mut seen = BTreeMap::new();
    for row in &rows {
        *seen.entry(row.id).or_insert(0) += 1;
        if let Some(count) = uses.get_mut(row.id) {
            *count += 1;
        }
    }
    let unused: Vec<_> = uses.iter().filter(|(_, n)| **n != 1).collect();
    assert!(unused.is_empty(), "not checked exactly once: {unused:?}");
    assert!(seen.values().all(|n| *n == 1), "an id has two rows");
}

#[test]
fn a_wrong_value_is_caught() {
    let row = Row {
        got: || 1.02,
        expected: 1.0,
        tolerance: Tolerance::Relative(0.01),
        ..all_rows()[0]
    };
    assert!(std::panic::catch_unwind(|| prove(&row)).is_err());
    assert!(!Tolerance::Absolute(0.1).allows(1.0, f64::NAN));
}
