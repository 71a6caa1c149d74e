//! Edge forms of a pipe mouth: its two coefficients from published inlet forms.
//!
//! The orifice coefficient is the one with which C_o·A·√(2g(h − D/2)) meets the form's curve of a submerged inlet,
//! h/D = c·(Q/(A·√D))² + Y in feet, at the worked lines of its charts; the entrance loss is the form's own.  [@hds-5]

/// The two coefficients of a mouth.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Form {
    /// C_o of the mouth as an orifice.
    pub orifice: f64,
    /// Entrance loss coefficient on the velocity head behind it.
    pub entrance_k: f64,
}

/// Flush with a wall, square-edged: c 0.0398, Y 0.67. [@hds-5]
pub const FLUSH: Form = form(0.60, 0.5);
/// Flush, with an edge rounded or bevelled by a twelfth of the bore: c 0.0243, Y 0.83. [@hds-5]
pub const ROUNDED: Form = form(0.70, 0.2);
/// A thin-walled pipe that projects from its wall into the water: c 0.0553, Y 0.54. [@hds-5]
pub const PROJECTING: Form = form(0.52, 0.9);
/// A socket, groove end facing the water: c 0.0292, Y 0.74 in a headwall, c 0.0317, Y 0.69 projecting. [@hds-5]
pub const GROOVE: Form = form(0.65, 0.2);
/// Mitred to a slope: c 0.0463, Y 0.75. [@hds-5]
pub const MITRED: Form = form(0.53, 0.7);

const fn form(orifice: f64, entrance_k: f64) -> Form {
    Form {
        orifice,
        entrance_k,
    }
}
