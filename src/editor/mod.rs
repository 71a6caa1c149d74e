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
mod hand;
mod hit;
mod lay;
mod laying;
mod look;
mod mates;
mod nudge;
mod picks;
mod piping;
mod reach;
mod snap;
mod tool;
pub mod underlay;

pub use drag::{height_m, standing};
pub use events::{Event, Ground, Request, Sheet, Step};
pub use guide::{Axis, Guide};
pub use hand::Hand;
pub use hit::at as hit_at;
pub use lay::beside;
pub use look::Look;
pub use mates::{Mate, heights, lines, nearest};
pub use picks::is_there;
pub use reach::{crest_m, margins_m, range_m};
pub use snap::{Snapped, snap};
pub use tool::Tool;
