//! Protects work: starts where the user left off, remembers views, warns when saving is not possible and survives an
//! internal error.

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

/// State of the recovery.
#[derive(Default)]
pub(super) struct Recovery {
    /// Set after drawing has failed; drawing continues only when the user asks for it.
    mishap: Option<CaughtPanic>,
    /// A layout whose solve failed with an internal error, and the notice about it.
    unsolved: Option<(Arc<Layout>, String)>,
    /// The file that is also open in another window, already reported.
    told_elsewhere: Option<PathBuf>,
    before_drawing: Option<BeforeDrawing>,
}
