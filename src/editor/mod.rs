//! Direct manipulation of the drawings (views, picking, dragging, placing, drawing pipe, measuring), and input of
//! pump curves. Without a window.
//!
//! Invariant: knows no toolkit, no session and no thread. Events are plain points of the page; the results are
//! requests, and their receiver changes the layout.

mod aim;
pub mod curve;
mod draft;
mod drag;
mod events;
mod guide;
mod hit;
mod lay;
mod laying;
mod nudge;
mod picks;
mod piping;
mod reach;
mod snap;
mod snap_candidates;
mod tool;
mod tool_state;
pub mod underlay;
mod view_state;

pub use drag::{height_m, standing};
pub use events::{DrawingKind, NudgeSize, ToolContext, ToolEvent, ToolRequest};
pub use guide::{Axis, Guide};
pub use hit::at as hit_at;
pub use lay::free_position;
pub use picks::is_there;
pub use reach::{crest_m, margins_m, range_m};
pub use snap::{Snapped, snap};
pub use snap_candidates::{SnapCandidate, heights, lines, nearest};
pub use tool::Tool;
pub use tool_state::ToolState;
pub use view_state::ViewState;
