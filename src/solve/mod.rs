//! Solving a network: levels and flows together, in time or at steady state.
//!
//! Invariant: knows networks only; no layout, no catalogue, no sentence for a user. A convergence error names its
//! nodes by number.
//!
//! The equations of one implicit step of length dt are, at every node whose level is not fixed,
//!
//! ```text
//! (V(H) − V*)/dt + Σ flow out − Σ flow in − source(H) = 0
//! ```
//!
//! with the law of every link (`network::law`). Joints have no storage. The system is an M-function of the levels:
//! with finite dt its solution is unique.

mod air_gauges;
mod alone;
mod approach;
mod continuation;
mod drowned;
mod elimination;
mod gauges;
mod joint;
mod jump;
mod line_fill;
mod linear;
mod lines;
mod lists;
mod matrix;
mod newton;
mod reach;
mod relax;
mod step;
mod stride;
mod system;
mod thin;
mod tied;
mod trace;
mod watch;
mod work;

pub use alone::LinearStep;
pub use jump::{jump, jump_near};
pub use line_fill::LineFill;
pub use newton::{Stats, Stuck};
pub use system::{Point, System};
pub use trace::{Course, Event, Trace, TraceOptions, trace};
pub use watch::{Gauge, Stop, Watch};
