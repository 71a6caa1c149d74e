//! What the window does so that nothing is lost: it begins with what was there, keeps how a file is looked at, says
//! what stands against keeping and saving, and lives through a fault of the program.

mod asks;
mod begin;
mod caught_panic;
mod notices;
mod view;

pub(super) use asks::{UnsavedWork, ask_changed, ask_left, ask_not_saved};

use crate::layout::Layout;
use caught_panic::CaughtPanic;
use std::path::PathBuf;
use std::sync::Arc;

/// Called with the layout before it is drawn.
type BeforeDrawing = Box<dyn Fn(&Layout)>;

/// What the window minds besides the layout.
#[derive(Default)]
pub(super) struct Recovery {
    /// Drawing has failed, and goes on when that is asked for.
    mishap: Option<CaughtPanic>,
    /// Solving has failed on this layout, which was put aside there.
    unsolved: Option<(Arc<Layout>, String)>,
    /// The file of which it was said that another window has it open.
    told_elsewhere: Option<PathBuf>,
    before_drawing: Option<BeforeDrawing>,
}
