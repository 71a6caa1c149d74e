//! Lowering of openings to ports.

use super::LoweringContext;
use super::nodes::Part;
use super::pipe::Bore;
use crate::hydraulics::LEAST_BORE_M;
use crate::hydraulics::losses::friction::Wall;
use crate::hydraulics::losses::loss::{Loss, Minor};
use crate::hydraulics::openings::coefficients;
use crate::hydraulics::openings::inlet::Inlet;
use crate::hydraulics::openings::notch::{Notch, Rectangle};
use crate::hydraulics::openings::screen;
use crate::layout::{CrestKind, End, NotchShape, Opening, Rise, Turned, Vent};
use crate::network::{Outlet, Port, Raised};

/// How water leaves a horizontal end in air.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum AirOutlet {
    /// By gravity, at critical depth.
    ByGravity,
    /// Full bore, pushed by a running pump.
    Pushed,
}

/// The port of an opening. `floor_m` is that of its vessel; none at a fixed level.
pub(super) fn port(
    context: &LoweringContext<'_>,
    opening: &Opening,
    (bore_m, floor_m): (f64, Option<f64>),
    (leaves, coefficients): (AirOutlet, &coefficients::Coefficients),
) -> Port {
    let lip = |lip_m: f64, bore_m: f64| over(lip_m, Inlet::lip(bore_m, coefficients));
    let hole = |lip_m: f64| {
        hole(
            lip_m,
            (bore_m, context.side_hole(bore_m, coefficients)),
            leaves,
        )
    };
    match opening {
        Opening::Upstand { crest_m, .. } => lip(*crest_m, bore_m),
        Opening::SideHole { invert_m, .. } => hole(*invert_m),
        Opening::Floor { lip_m, .. } => match lip_m.or(floor_m) {
            Some(lip_m) => lip(lip_m, bore_m),
            None => Port::closed(),
        },
        Opening::Mouth {
            lip_m,
            turned,
            air_gap,
            ..
        } => {
            let open = match turned {
                Turned::Horizontal => hole(*lip_m),
                Turned::Up | Turned::Down => lip(*lip_m, bore_m),
            };
            Port {
                inlet: if *air_gap { Inlet::Never } else { open.inlet },
                ..open
            }
        }
        Opening::Submerged { lip_m, .. } => Port {
            lip_m: lip_m.unwrap_or(f64::NEG_INFINITY),
            ..Port::closed()
        },
        Opening::RaisedIntake { intake_m, rise, .. } => {
            let own_m = rise.bore_m.map(|own_m| context.worn_m(own_m));
            lip(*intake_m, own_m.unwrap_or(bore_m))
        }
        Opening::Notch { crest_m, .. } => over(*crest_m, notch(context, opening, floor_m)),
    }
}

/// The law of a notch; film narrows it on both sides.
fn notch(context: &LoweringContext<'_>, opening: &Opening, floor_m: Option<f64>) -> Inlet {
    let Opening::Notch {
        crest_m,
        shape,
        weir,
    } = opening
    else {
        return Inlet::Never;
    };
    let gravity_m_s2 = context.coefficients.gravity_m_s2;
    Inlet::Notch(match (*shape, *weir) {
        (NotchShape::Vee { angle_deg }, None) => Notch::vee(angle_deg, gravity_m_s2),
        (NotchShape::Vee { angle_deg }, Some(weir)) => {
            Notch::plain_vee(angle_deg, weir, gravity_m_s2)
        }
        (NotchShape::Rectangular { width_m, .. }, Some(weir)) => {
            Notch::plain_rectangular(context.worn_m(width_m), weir, gravity_m_s2)
        }
        (NotchShape::Rectangular { width_m, channel_m }, None) => {
            let shape = Rectangle {
                width_m: context.worn_m(width_m),
                channel_m: channel_m.map(|channel_m| context.worn_m(channel_m)),
                height_m: floor_m.map(|floor_m| crest_m - floor_m),
            };
            Notch::rectangular(shape, gravity_m_s2)
        }
    })
}

/// Bore with the area of an end's opening, metres, to compute a velocity where there is no pipe; for a
/// notch the area up to the rim.
pub(super) fn equal_bore_m(context: &LoweringContext<'_>, end: &End) -> Option<f64> {
    let opening = end.opening.as_ref()?;
    let Opening::Notch { crest_m, shape, .. } = opening else {
        return opening.bore_m();
    };
    let rim_m = match context.place(&end.at)?.part {
        Part::Vessel(vessel) => Some(vessel.rim_m),
        _ => None,
    };
    let depth_m = rim_m.map(|rim_m| (rim_m - crest_m).max(LEAST_BORE_M));
    let area_m2 = match *shape {
        NotchShape::Rectangular { width_m, .. } => width_m * depth_m.unwrap_or(width_m),
        NotchShape::Vee { angle_deg } => {
            let depth_m = depth_m.unwrap_or(ORDINARY_DEPTH_M);
            depth_m * depth_m * (0.5 * angle_deg).to_radians().tan()
        }
    };
    Some(screen::equal_bore_m(area_m2))
}

/// Assumed depth of a vee without a rim as its upper limit, metres.
const ORDINARY_DEPTH_M: f64 = 0.1;

/// A port that water passes over, in either direction.
fn over(lip_m: f64, inlet: Inlet) -> Port {
    Port {
        lip_m,
        inlet,
        outlet: Outlet::Lip,
        draws_from_m: None,
        screen: None,
    }
}

/// A horizontal end; its lip is its invert.
fn hole(lip_m: f64, (bore_m, inlet): (f64, Inlet), leaves: AirOutlet) -> Port {
    Port {
        lip_m,
        inlet,
        outlet: match leaves {
            AirOutlet::ByGravity => Outlet::Critical { bore_m },
            AirOutlet::Pushed => Outlet::Full { bore_m },
        },
        draws_from_m: None,
        screen: None,
    }
}

/// The crest and rising leg of a raised intake; none for any other opening.
pub(super) fn raised(
    context: &LoweringContext<'_>,
    opening: &Opening,
    (bore, entrance_k): (&Bore, f64),
) -> Option<Raised> {
    let Opening::RaisedIntake {
        intake_m,
        crest_m,
        crest,
        rise,
        vent,
    } = opening
    else {
        return None;
    };
    let inlet = match crest {
        CrestKind::Tee => {
            let own = coefficients::Coefficients {
                entrance_k,
                ..context.coefficients
            };
            context.side_hole(bore.bore_m, &own)
        }
        CrestKind::Cup => Inlet::lip(bore.bore_m, &context.coefficients),
    };
    let leg = rising_leg(context, (rise, entrance_k), bore, crest_m - intake_m);
    Some(Raised {
        crest_m: *crest_m,
        crest: inlet,
        rise: leg,
        vented: *vent != Vent::Shut,
        primed: false,
    })
}

fn rising_leg(
    context: &LoweringContext<'_>,
    (rise, entrance_k): (&Rise, f64),
    bore: &Bore,
    height_m: f64,
) -> Loss {
    let new_m = rise.bore_m.unwrap_or(bore.new_m);
    let own_roughness_m = rise
        .roughness_m
        .map(|own_m| context.worn_roughness_m(own_m));
    let own = Bore {
        bore_m: context.worn_m(new_m),
        new_m,
        roughness_m: own_roughness_m.unwrap_or(bore.roughness_m),
        wall: match (own_roughness_m, bore.wall) {
            (Some(roughness_m), Wall::Darcy { .. }) => Wall::Darcy { roughness_m },
            (_, wall) => wall,
        },
    };
    let mut loss = own.loss(context, rise.length_m.unwrap_or(height_m.max(0.0)));
    loss.minors.push(Minor {
        k: rise.total_k.unwrap_or(entrance_k),
        bore_m: own.bore_m,
    });
    loss
}
