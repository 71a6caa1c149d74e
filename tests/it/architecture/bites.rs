//! Proof that the rules bite: snippets that must be reported, and their neighbours that must not.

use super::order::{Source, cycles, passed_on, tuples};
use super::rules::breaches;

/// A module, code in it, and what must be said of it.
type Bite = (&'static [&'static str], &'static str, &'static str);

#[rustfmt::skip]
const BITES: &[Bite] = &[
    // use trees
    (&["solve"], "use crate::layout::Layout;", "solve may not import layout::Layout"),
    (&["solve", "trace"], "use crate::{network::Link, layout::{self, Id}};", "solve may not import layout::Id"),
    (&["solve", "trace"], "use crate::{network::Link, layout::{self, Id}};", "solve may not import layout"),
    (&["solve"], "use crate::catalogue as other;", "solve may not import catalogue"),
    (&["network"], "pub use crate::solve::*;", "network may not import solve::*"),
    (&["units"], "use super::geometry::Point;", "units may not import geometry::Point"),
    (&["lower", "run"], "use super::super::solve::System;", "lower may not import solve::System"),
    (&["hydraulics"], "fn f() { use crate::network::Port; }", "hydraulics may not import network::Port"),
    (&["check"], "use fallwright::advise::cure;", "check may not import advise::cure"),
    // inline paths
    (&["solve"], "fn f() -> f64 { crate::lower::g() }", "solve may not import lower::g"),
    (&["solve", "a", "b"], "fn f(x: super::super::super::layout::Id) {}", "solve may not import layout::Id"),
    (&["solve"], "mod inner { fn f() { super::super::file::read() } }", "solve may not import file::read"),
    (&["network"], "fn f() { match x { crate::finding::State::Rest => {} } }", "network may not import finding::State::Rest"),
    (&["geometry"], "impl crate::units::Show for X {}", "geometry may not import units::Show"),
    (&["geometry"], "type X = Vec<Option<crate::layout::Id>>;", "geometry may not import layout::Id"),
    // inside macros and attributes
    (&["solve"], "fn f() { g!(1, crate::layout::h(), 2); }", "solve may not import layout::h"),
    (&["solve"], "fn f() { g! { use crate::{network::X, layout::Y}; } }", "solve may not import layout::Y"),
    (&["solve"], "macro_rules! m { () => { $crate::file::read() } }", "solve may not import file::read"),
    (&["units"], "#[derive(crate::layout::Derive)] struct X;", "units may not import layout::Derive"),
    (&["geometry"], "#[serde(with = \"crate::units::si\")] struct X;", "geometry may not import units::si"),
    // one name of a room and no more
    (&["finding"], "use crate::layout::{Id, Layout};", "finding may not import layout::Layout"),
    (&["finding"], "use crate::layout;", "finding may not import layout"),
    (&["finding"], "use crate::layout::*;", "finding may not import layout::*"),
    // the root as a whole
    (&["evaluate"], "use crate::*;", "evaluate may not import *"),
    (&["evaluate"], "use super::*;", "evaluate may not import *"),
    (&["evaluate"], "use crate as all;", "evaluate may not import *"),
    (&["evaluate"], "use crate::{self as all};", "evaluate may not import *"),
    (&[], "pub use crate::layout::Layout;", "lib may not import layout::Layout"),
    (&["main"], "fn main() { fallwright::solve::jump() }", "main may not import solve::jump"),
    // a room without a line may import nothing
    (&["attic"], "use crate::units::metres;", "attic may not import units::metres"),
    // what is kept to some rooms
    (&["evaluate"], "use std::{io, fs::File};", "evaluate may not use std::fs"),
    (&["main"], "fn main() { std::fs::read(\"a\"); }", "main may not use std::fs"),
    (&["advise"], "fn f() { ::std::thread::spawn(g); }", "advise may not use std::thread"),
    (&["advise"], "fn f() { g!(std::thread::spawn(h)); }", "advise may not use std::thread"),
    (&["check"], "use rayon::prelude::*;", "check may not use rayon"),
    (&["draw"], "use egui;", "draw may not use egui"),
    (&["editor"], "fn f(at: eframe::egui::Pos2) {}", "editor may not use eframe"),
    (&["evaluate"], "fn f() { std::time::Instant::now(); }", "evaluate may not use std::time"),
    (&["check"], "use std as s;", "std is not imported whole"),
    (&["check"], "use std::{self as s};", "std is not imported whole"),
    (&["check"], "extern crate std as s;", "std is not imported whole"),
    // habits
    (&["file"], "fn f() { g().unwrap(); }", "unwrap() ends the program"),
    (&["file"], "fn f() { g().expect(\"h\"); }", "expect() ends the program"),
    (&["file"], "fn f() { g.map(Option::unwrap); }", "unwrap() ends the program"),
    (&["file"], "fn f() { format!(\"{}\", g().unwrap()); }", "unwrap() ends the program"),
    (&["file"], "fn f() { panic!(\"h\"); }", "panic! ends the program"),
    (&["file"], "fn f() { g!(std::todo!()); }", "todo! ends the program"),
    (&["file"], "#[cfg(not(test))] fn f() { g().unwrap(); }", "unwrap() ends the program"),
    (&["solve"], "fn f() { println!(\"h\"); }", "println! speaks past the command line"),
    (&["file"], "fn f( {", "does not parse: "),
];

#[rustfmt::skip]
const ALLOWED: &[(&[&str], &str)] = &[
    (&["solve"], "use crate::network::{self, Link}; use super::hydraulics::Slope; mod inner { use super::super::network::Node; }"),
    (&["solve", "trace"], "use super::step::step; use crate::solve::System; pub(crate) fn f() {} pub(in crate::solve) fn g() {}"),
    (&["finding"], "use crate::layout::Id; fn f(id: crate::layout::Id) {}"),
    (&["file"], "use std::fs; #[cfg(test)] mod tests { fn f() { g().unwrap(); h!(i.expect(\"j\")); panic!(); } }"),
    (&["main"], "fn main() { fallwright::cli::run(std::env::args_os()); }"),
    (&["units"], "/// See [`crate::layout::Id`], which knows more; never unwrap().\nfn f() { let egui = 1; g(egui).unwrap_or(2); }"),
    (&["window"], "use eframe::egui; use crate::session::Session;"),
    (&["lower"], "use nodes::Nodes; use std::collections::HashMap; fn f() { self::run::g(); format!(\"crate::solve\"); }"),
];

#[test]
fn every_breach_is_seen() {
    for (module, code, said) in BITES {
        let found = breaches(code, module);
        let seen = found
            .iter()
            .any(|breach| breach == said || (said.ends_with(": ") && breach.starts_with(said)));
        assert!(
            seen,
            "in {module:?}\n  {code}\nwanted: {said}\nfound: {found:?}"
        );
    }
}

#[test]
fn nothing_else_is_reported() {
    for (module, code) in ALLOWED {
        let found = breaches(code, module);
        assert!(
            found.is_empty(),
            "in {module:?}\n  {code}\nfound: {found:?}"
        );
    }
}

fn source(module: &[&str], code: &str) -> Source {
    Source {
        module: module.iter().map(|part| (*part).to_string()).collect(),
        code: code.to_string(),
    }
}

/// Two siblings in `draw`, one of them a folder, with this code in the files.
fn siblings(a: &str, b: &str) -> Vec<String> {
    cycles(&[
        source(&["draw"], "mod a; mod b; pub use a::A;"),
        source(&["draw", "a"], a),
        source(&["draw", "b"], "mod inner;"),
        source(&["draw", "b", "inner"], b),
    ])
}

#[test]
fn a_cycle_among_siblings_is_seen() {
    let ring = "draw: a, b";
    for (a, b) in [
        ("use super::b::B;", "use crate::draw::a::A;"),
        ("use super::b::inner;", "use super::super::a::A;"),
        ("fn f() { super::b::g() }", "fn g(x: crate::draw::a::A) {}"),
        ("fn f() { h!(super::b::g()) }", "use crate::draw::{a, c};"),
    ] {
        assert_eq!(siblings(a, b), [ring], "{a} and {b}");
    }
    // One way only, through `mod.rs`, and a type that lives in `mod.rs` itself.
    for (a, b) in [
        ("use super::b::B;", "use crate::layout::Id;"),
        ("", "use crate::draw::a::A;"),
        ("use super::Shared;", "use crate::draw::a::A;"),
    ] {
        assert!(siblings(a, b).is_empty(), "{a} and {b}");
    }
}

#[test]
fn rooms_that_need_each_other_are_a_cycle_too() {
    let found = cycles(&[
        source(&["check"], "use crate::lower::Origin;"),
        source(&["lower"], "use crate::check::Code;"),
    ]);
    assert_eq!(found, ["src: check, lower"]);
}

#[test]
fn a_type_of_another_room_that_is_passed_on_is_seen() {
    for (code, name) in [
        ("pub use crate::states::Event;", "states::Event"),
        (
            "pub(crate) use crate::states::{Event as E};",
            "states::Event",
        ),
        ("pub(in crate::evaluate) use super::states::*;", "states::*"),
    ] {
        assert_eq!(passed_on(&source(&["evaluate"], code)), [name], "{code}");
    }
    for code in [
        "use crate::states::Event;",
        "pub use series::Series;",
        "pub use self::series::Series;",
        "pub use crate::evaluate::series::Series;",
    ] {
        let found = passed_on(&source(&["evaluate"], code));
        assert!(found.is_empty(), "{code}: {found:?}");
    }
}

#[test]
fn a_tuple_for_arguments_is_seen() {
    for code in [
        "fn f((a, b): (f64, f64)) {}",
        "impl X { fn f(&self, c: u8, (a, b): (&str, f64)) {} }",
        "trait X { fn f(&self, (a, b): (u8, u8)) {} }",
        "mod inner { fn f((a, (b, c)): (u8, (u8, u8))) {} }",
    ] {
        assert_eq!(tuples(code), ["f"], "{code}");
    }
    for code in [
        "fn f(a: f64, b: f64) {}",
        "fn f(ends: (f64, f64)) { let g = |(a, b): (u8, u8)| a; }",
        "fn f(Pair { a, b }: Pair) {}",
    ] {
        assert!(tuples(code).is_empty(), "{code}");
    }
}
