//! What stands behind an outside value, and so what a check against it proves.

use super::{all_rows, experiments};

#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Kind {
    /// Printed by somebody else, and read.
    Read,
    /// The law as a library of others has it.
    Library,
    /// Printed by somebody else, written down here without the source at hand.
    Memory,
    /// The very table that the program's own data was typed from.
    Transcription,
    /// Our own working: a closed form, or a script that solves the same equations by other numerics.
    Own,
}

impl Kind {
    pub const ALL: [Kind; 5] = [
        Kind::Read,
        Kind::Library,
        Kind::Memory,
        Kind::Transcription,
        Kind::Own,
    ];

    pub fn word(self) -> &'static str {
        match self {
            Kind::Read => "published, read",
            Kind::Library => "library",
            Kind::Memory => "from memory",
            Kind::Transcription => "transcription",
            Kind::Own => "own script",
        }
    }

    pub fn proves(self) -> &'static str {
        match self {
            Kind::Read => {
                "Somebody else printed the figure, and it was read there or where it is quoted."
            }
            Kind::Library => "A library written by others has the same law and gives the figure.",
            Kind::Memory => {
                "Somebody else printed the figure; it was written down, in whole or in part, without the source at \
                 hand."
            }
            Kind::Transcription => {
                "The program's own data was typed from the same table: only slips of typing would show."
            }
            Kind::Own => {
                "A closed form, or a script of ours, solves the same equations in another way: it shows errors of the \
                 solver and of the code, not of the equations."
            }
        }
    }

    /// By what the data say of how a figure came here. What is partly from memory counts as that.
    pub fn of(how: &str) -> Kind {
        const LIBRARIES: [&str; 4] = ["fluids", "iapws", "CoolProp", "gsw"];
        let known = how.split(';').next().unwrap_or(how);
        let with = known.strip_prefix("computed with ").unwrap_or("");
        let named = LIBRARIES.iter().any(|library| with.starts_with(library));
        if known.starts_with("from memory") || how.contains("are from memory") {
            Kind::Memory
        } else if known.starts_with("read") {
            Kind::Read
        } else if named
            || with.contains("PchipInterpolator")
            || known.contains(" by the fluids library")
        {
            Kind::Library
        } else if ["computed", "closed form", "by inspection"]
            .iter()
            .any(|start| known.starts_with(start))
        {
            Kind::Own
        } else {
            panic!("what kind is this: {how}");
        }
    }
}

#[test]
fn every_row_has_a_kind_and_every_kind_a_row() {
    let mut kinds: Vec<Kind> = all_rows().iter().map(|row| row.kind).collect();
    kinds.extend(experiments::kinds());
    for kind in Kind::ALL {
        assert!(kinds.contains(&kind), "{kind:?}");
    }
}

#[test]
fn what_the_data_say_makes_the_kind() {
    for (how, kind) in [
        ("read in a web copy of the table", Kind::Read),
        ("read; uncertainty estimated: bore 7 mm", Kind::Read),
        (
            "read in a solution page; the data of the pipes are from memory",
            Kind::Memory,
        ),
        ("from memory; uncertainty estimated", Kind::Memory),
        (
            "computed with CoolProp 8.0.0; iapws 1.5.5 agrees",
            Kind::Library,
        ),
        (
            "computed with scipy 1.17.1 (PchipInterpolator)",
            Kind::Library,
        ),
        (
            "computed with scipy 1.17.1, fluids 1.3.1 and iapws 1.5.5 (peer/freeze.py)",
            Kind::Own,
        ),
        ("closed form", Kind::Own),
    ] {
        assert_eq!(Kind::of(how), kind, "{how}");
    }
    assert!(std::panic::catch_unwind(|| Kind::of("heard of it")).is_err());
}
