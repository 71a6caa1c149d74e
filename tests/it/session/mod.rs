//! Tests of the session: the open layout, its file, its history and its results.

mod bands;
mod beside;
mod engines;
mod files;
mod films;
mod kept;
mod killed;
mod notes;
mod outside;
mod picture;
mod recent;
mod solving;
mod systems;
mod upset;

use fallwright::edit::{Edit, crest};
use fallwright::layout::{Layout, RunEnd};
use fallwright::session::{Options, Session};

/// The demo, solved by the house's own engine, with every preview in the same call.
fn session() -> Session {
    Session::with_services(Options::default(), engines::patient())
}

/// The crest of bed 3 set to this.
fn raised(layout: &Layout, to_m: f64) -> Edit {
    crest(layout, &"step-3".into(), RunEnd::From, to_m).unwrap()
}

fn commit(session: &mut Session, to_m: f64) {
    let edit = raised(session.layout(), to_m);
    session.commit(edit).unwrap();
}
