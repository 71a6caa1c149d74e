//! What hands do on the section: look, pick, drag a crest, move the page. Without a window.
//!
//! Invariant: knows no toolkit, no session and no thread. Events go in as plain points of the page; what
//! comes out are requests, and the layout is changed by whoever grants them.

mod hand;
mod hit;
mod look;
mod reach;
mod snap;
pub mod underlay;

pub use hand::{Event, Ground, Hand, Request, Step};
pub use hit::at as hit_at;
pub use look::Look;
pub use reach::{crest_m, margins_m, range_m};
pub use snap::{Snapped, snap};
