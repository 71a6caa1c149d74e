//! The rooms of the house and what each may import. One line per room, the lowest first.
//!
//! A room may import only what stands on its line, and only rooms above its line, so there
//! is no ring. `layout::Id` admits that one name; a bare room admits all of its public names.
//! Rooms that are planned have their line already.

/// A room and the paths that it may import.
pub struct Room {
    pub name: &'static str,
    pub may_import: &'static [&'static str],
}

const fn room(name: &'static str, may_import: &'static [&'static str]) -> Room {
    Room { name, may_import }
}

/// Every room, lowest first.
#[rustfmt::skip]
pub const ROOMS: &[Room] = &[
    room("units", &[]),
    room("geometry", &[]),
    room("state", &[]),
    room("catalogue", &["units"]),
    room("layout", &["units", "geometry"]),
    room("finding", &["state", "layout::Id", "layout::NumberField", "units"]),
    room("hydraulics", &[]),
    room("network", &["hydraulics"]),
    room("solve", &["network", "hydraulics"]),
    room("lower", &["state", "layout", "catalogue", "geometry", "network", "hydraulics"]),
    room("states", &["state", "layout", "lower", "network", "hydraulics", "solve"]),
    room("check", &["state", "layout", "catalogue", "units", "finding", "states", "hydraulics::openings::vortex", "hydraulics::pump", "lower::Origin", "lower::RunFacts", "lower::problem"]),
    room("takeoff", &["layout", "catalogue", "geometry", "units"]),
    room("evaluate", &["state", "layout", "catalogue", "finding", "hydraulics::pump", "lower", "states", "check"]),
    room("edit", &["layout", "catalogue", "units", "geometry", "finding::Sentence", "finding::Piece", "finding::Change"]),
    room("file", &["layout", "catalogue", "units"]),
    room("sweep", &["evaluate", "states", "layout"]),
    room("advise", &["evaluate", "state", "states", "edit", "check", "sweep", "layout", "catalogue", "units", "finding", "lower::problem"]),
    room("draw", &["layout", "catalogue", "evaluate", "state", "states", "geometry", "units", "finding"]),
    room("sheets", &["draw", "evaluate", "state", "states", "advise", "takeoff", "layout", "catalogue", "geometry", "units", "finding"]),
    room("session", &["edit", "file", "evaluate", "advise", "sweep", "layout", "catalogue", "finding", "state", "states"]),
    room("editor", &["layout", "edit", "geometry", "units", "catalogue", "finding", "draw"]),
    room("cli", &["session", "evaluate", "state", "states", "check::blocked_severity", "advise", "sweep", "file", "sheets", "draw", "layout", "catalogue", "finding", "units"]),
    room("window", &["session", "editor", "sheets", "draw", "advise", "sweep", "evaluate", "state", "states", "edit", "takeoff", "layout", "catalogue", "finding", "geometry", "units"]),
    room("main", &["cli", "window"]),
];

/// A path from outside that only some rooms may use.
pub struct Ban {
    pub path: &'static str,
    pub except: &'static [&'static str],
}

const fn only(path: &'static str, except: &'static [&'static str]) -> Ban {
    Ban { path, except }
}

/// Paths from outside that are kept to some rooms.
#[rustfmt::skip]
pub const BANS: &[Ban] = &[
    only("std::fs", &["file", "session", "cli"]),
    only("std::thread", &["session", "sweep"]),
    only("rayon", &["session", "sweep"]),
    only("std::env", &["main", "session", "cli"]),
    only("std::process", &["main", "cli", "file"]),
    only("std::time", &["session", "window"]),
    only("std::net", &[]),
    only("egui", &["window"]),
    only("eframe", &["window"]),
    only("rfd", &["window"]),
    only("faer", &["solve"]),
    only("pulp", &["hydraulics"]),
    only("petgraph", &["network", "solve", "lower"]),
    only("clap", &["cli"]),
    only("directories", &["session"]),
    only("image", &["file"]),
    only("resvg", &["draw"]),
    only("svg2pdf", &["draw"]),
    only("pdf_writer", &["draw"]),
    only("ttf_parser", &["draw"]),
];

/// Methods that have no place in the program: they end it on somebody's data.
pub const ENDS_THE_PROGRAM: &[&str] = &["unwrap", "expect", "unwrap_err", "expect_err"];

/// Macros that do the same.
pub const MACROS_THAT_END: &[&str] = &["panic", "todo", "unimplemented", "unreachable"];

/// Macros that speak past the one place where output is printed.
pub const MACROS_THAT_SPEAK: &[&str] = &["print", "println", "eprint", "eprintln", "dbg"];

/// A breach that stands: the file, what is said of it, and why it may.
pub type Excuse = (&'static str, &'static str, &'static str);

/// Breaches that stand. An excuse that nothing needs any longer fails the test.
#[rustfmt::skip]
pub const EXCUSES: &[Excuse] = &[
    ("src/catalogue/mod.rs", "expect() ends the program", "the text is compiled in, never the user's, and a test reads it"),
];

/// Most lines of a source file.
pub const MOST_LINES: usize = 800;

/// Lines from which a file is mentioned.
pub const MANY_LINES: usize = 200;
