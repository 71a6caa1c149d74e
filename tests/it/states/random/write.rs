//! Random layouts as files, for comparison with another method.

use super::{asked, shaken};
use crate::support::random::{Flavour, layout};
use fallwright::file::{Format, parse, to_text, write};
use fallwright::layout::Layout;
use std::path::Path;

/// `FALLWRIGHT_RANDOM_OUT=some-folder FALLWRIGHT_RANDOM=1000 cargo test --test it plain_layouts_are_files`
/// writes a thousand of them there.
#[test]
fn plain_layouts_are_files() {
    are_files("plain", |seed| Some(layout(seed, Flavour::Plain)));
}

/// The same of the wild ones: what the generator draws counts as data.
#[test]
fn wild_layouts_are_files() {
    are_files("wild", |seed| Some(layout(seed, Flavour::Wild)));
}

/// The same of those whose pipes rise.
#[test]
fn rising_layouts_are_files() {
    are_files("rising", |seed| Some(layout(seed, Flavour::Rising)));
}

/// The same of the shaken ones.
#[test]
fn shaken_layouts_are_files() {
    let known = shaken::known();
    are_files("shaken", |seed| shaken::shaken(seed, &known));
}

fn are_files(word: &str, make: impl Fn(u64) -> Option<Layout>) {
    let out = std::env::var("FALLWRIGHT_RANDOM_OUT").ok();
    for seed in asked(20) {
        let Some(drawn) = make(seed) else { continue };
        let text = to_text(&drawn, Format::Ron).unwrap_or_else(|error| panic!("{seed}: {error}"));
        let back = parse(&text, Format::Ron).unwrap_or_else(|error| panic!("{seed}: {error}"));
        assert_eq!(back, drawn, "{seed}");
        if let Some(folder) = &out {
            let path = Path::new(folder).join(format!("{word}-{seed:06}.ron"));
            write(&drawn, &path).unwrap_or_else(|error| panic!("{seed}: {error}"));
        }
    }
}
