//! Openings become ports.

use super::Ground;
use super::pipe::Bore;
use crate::hydraulics::friction::Wall;
use crate::hydraulics::inlet::Inlet;
use crate::hydraulics::loss::{Loss, Minor};
use crate::layout::{CrestKind, Opening, Rise, Turned, Vent};
use crate::network::{Outlet, Port, Raised};

/// How water leaves a horizontal end in air.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Leaves {
    /// By gravity, at critical depth.
    ByGravity,
    /// Pushed out full by a running pump.
    Pushed,
}

/// The port of an opening. `floor_m` is that of its vessel; none at a fixed level.
pub(super) fn port(
    ground: &Ground<'_>,
    opening: &Opening,
    (bore_m, floor_m): (f64, Option<f64>),
    leaves: Leaves,
) -> Port {
    let lip = |lip_m: f64, bore_m: f64| lip(ground, lip_m, bore_m);
    let hole = |lip_m: f64| hole(ground, (lip_m, bore_m), leaves);
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
            let inlet = if *air_gap { Inlet::Never } else { open.inlet };
            Port { inlet, ..open }
        }
        Opening::Submerged { lip_m, .. } => Port {
            lip_m: lip_m.unwrap_or(f64::NEG_INFINITY),
            ..Port::closed()
        },
        Opening::RaisedIntake { intake_m, rise, .. } => {
            lip(*intake_m, rise.bore_m.unwrap_or(bore_m))
        }
    }
}

/// A lip that faces up or down.
fn lip(ground: &Ground<'_>, lip_m: f64, bore_m: f64) -> Port {
    Port {
        lip_m,
        inlet: Inlet::lip(bore_m, &ground.coefficients),
        outlet: Outlet::Lip,
    }
}

/// A horizontal end; its lip is its invert.
fn hole(ground: &Ground<'_>, (lip_m, bore_m): (f64, f64), leaves: Leaves) -> Port {
    Port {
        lip_m,
        inlet: ground.side_hole(bore_m),
        outlet: match leaves {
            Leaves::ByGravity => Outlet::Critical { bore_m },
            Leaves::Pushed => Outlet::Full { bore_m },
        },
    }
}

/// What stands above a raised intake; none for any other opening.
pub(super) fn raised(ground: &Ground<'_>, opening: &Opening, bore: &Bore) -> Option<Raised> {
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
        CrestKind::Tee => ground.side_hole(bore.bore_m),
        CrestKind::Cup => Inlet::lip(bore.bore_m, &ground.coefficients),
    };
    Some(Raised {
        crest_m: *crest_m,
        crest: inlet,
        rise: rising_leg(ground, rise, bore, crest_m - intake_m),
        vented: *vent != Vent::Shut,
        primed: false,
    })
}

fn rising_leg(ground: &Ground<'_>, rise: &Rise, bore: &Bore, height_m: f64) -> Loss {
    let own = Bore {
        bore_m: rise.bore_m.unwrap_or(bore.bore_m),
        roughness_m: rise.roughness_m.unwrap_or(bore.roughness_m),
        wall: match (rise.roughness_m, bore.wall) {
            (Some(roughness_m), Wall::Darcy { .. }) => Wall::Darcy { roughness_m },
            (_, wall) => wall,
        },
    };
    let mut loss = own.loss(ground, rise.length_m.unwrap_or(height_m.max(0.0)));
    loss.minors.push(Minor {
        k: rise
            .total_k
            .unwrap_or(ground.layout.coefficients.entrance_k),
        bore_m: own.bore_m,
    });
    loss
}
