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
mod elimination;
mod gauges;
mod gauss_seidel;
mod head_shift;
mod jagged_array;
mod joint;
mod line_fill;
mod link_tangents;
mod matrix;
mod newton;
mod pressurised;
mod reach;
mod steady_state;
mod step;
mod step_limit;
mod system;
mod tangent;
mod thin;
mod trace;
mod watch;
mod work;

pub use alone::LinearStep;
pub use line_fill::LineFill;
pub use newton::{ConvergenceError, Stats};
pub use steady_state::{steady_state, steady_state_near};
pub use system::{NetworkState, System};
pub use trace::{GaugeCrossing, Trace, TraceOptions, Trajectory, trace};
pub use watch::{Gauge, Stop, Watch};
