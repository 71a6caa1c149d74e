//! The only way to change a layout: edits that can be undone, and the intents that build them.
//!
//! An intent (`crest`, `rename`, `pipe`) takes a layout and returns an [`Edit`]; the edit makes a new layout. A
//! [`History`] records edits.
//!
//! Invariant: knows no window, no file, no thread and no result; makes no layout that could not be opened again.

mod apply;
mod between;
mod built;
mod error;
mod field;
mod fitted;
mod history;
mod intent;
mod levels;
mod overlap;
mod part;
mod preset;
pub mod propose;
mod settings;
mod step;
mod words;

pub use built::{Lock, lock};
pub use error::EditError;
pub use history::{History, MOST_STEPS};
pub use intent::add::add;
pub use intent::align::{Alignment, align, stand_on, turn};
pub use intent::along::{Along, Priming, place_along, priming};
pub use intent::changes::{changed, changes};
pub use intent::copy::{MOST_COPIES, duplicate, excerpt, paste, row};
pub use intent::crest::crest;
pub use intent::edge::edge;
pub use intent::floor::floor;
pub use intent::fresh::{fresh_id, fresh_name, hyphened};
pub use intent::name::{rename, title};
pub use intent::number::{clear, number};
pub use intent::pipe::pipe;
pub use intent::pump_curve::pump_curve;
pub use intent::remove::remove;
pub use intent::replace::replace;
pub use intent::screen::{Screening, screen};
pub use intent::setting::{friction, setting, units};
pub use intent::shift::{Shift, set_out, shift, shift_along};
pub use intent::survey::{Surveyed, SurveyedHeights, survey, surveyed};
pub use intent::underlay::{lay_picture, scale_picture, take_picture_away};
pub use intent::valve::valve;
pub use intent::vent::{VentAt, Venting, vent};
pub use intent::within::{Item, RemovedItem, insert, kind_words, opening, pipe_of_many, take_out};
pub use levels::{Closed, Closing, Levels, ReadPoint, Reading, SetUp, Sight, Survey};
pub use overlap::clear_of;
pub use part::Part;
pub use preset::Preset;
pub use settings::Settings;
pub use step::EditStep;

use crate::finding::Sentence;

/// One change of a layout, with a readable name.
///
/// The name may refer to a part that the edit deletes: read it with a layout in which the part still exists, or put
/// the part's name in as text.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Edit {
    /// What it does, as an imperative without a full stop: “Set the crest of … to …”.
    pub name: Sentence,
    /// Its steps, applied in order.
    pub steps: Vec<EditStep>,
}
