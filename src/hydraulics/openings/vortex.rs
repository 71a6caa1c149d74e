//! Air entrainment: submergence against vortices and the Froude number of a drop.

use crate::hydraulics::channel::circle::full_bore_froude;

/// Froude number V/√(gD) on the full area of a bore, dimensionless; independent of the sign of the flow.
pub fn froude(flow_m3_s: f64, bore_m: f64, gravity_m_s2: f64) -> f64 {
    full_bore_froude(flow_m3_s, bore_m, gravity_m_s2)
}

/// Required submergence in excess of one bore, in bores per unit of the Froude number. [@hi-9.8]
pub(super) const SUBMERGENCE_PER_FROUDE: f64 = 2.3;

/// Submergence above the lip of a mouth at which no air-entraining vortex is expected, m.
/// [@hi-9.8]
///
/// S = D·(1 + 2.3·Fr) with D and V at the mouth. Written for pump intakes in undisturbed
/// approach; a mouth near a wall or an inflow may need more.
pub fn submergence_m(flow_m3_s: f64, bore_m: f64, gravity_m_s2: f64) -> f64 {
    bore_m * (1.0 + SUBMERGENCE_PER_FROUDE * froude(flow_m3_s, bore_m, gravity_m_s2))
}
