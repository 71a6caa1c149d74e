//! Edits: that each does what its name says, can be taken back, and is refused where it would spoil a layout.

mod along;
mod between;
mod field;
mod history;
mod intents;
mod office;
mod overlap;
mod propose;
mod random;
mod refusals;
mod survey;
mod underlay;
mod words;

use fallwright::edit::Edit;
use fallwright::file::{Format, parse};
use fallwright::layout::Layout;
use fallwright::units::UnitSystem;

/// The demo.
pub fn glasshouse() -> Layout {
    let text = include_str!("../../../examples/glasshouse.ron");
    parse(text, Format::Ron).unwrap()
}

/// The layout with the edit made, once it is seen that taking it back gives the equal layout.
fn made(layout: &Layout, edit: &Edit) -> Layout {
    let outcome = edit.apply(layout).unwrap();
    assert_eq!(edit.inverse().apply(&outcome).as_ref(), Ok(layout));
    assert_eq!(edit.inverse().inverse(), *edit);
    outcome
}

/// The name of an edit for a reader.
fn read(edit: &Edit, layout: &Layout, system: UnitSystem) -> String {
    let name_of = |id: &_| layout.name_of(id).to_owned();
    edit.name.read(&name_of, system)
}
