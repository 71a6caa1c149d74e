//! The pump of a run.

use super::pipe::Bore;
use super::problem::{CurveFault, Problem};
use super::{FloatFacts, LoweringContext, Pumps, SuctionFacts};
use crate::hydraulics::loss::Minor;
use crate::hydraulics::pump::{Curve, LABEL_EXPONENT, LABEL_EXPONENTS};
use crate::layout::{CurveForm, Direction, Run};

/// The pump of a run in the form that its law needs.
#[derive(Clone, Debug, Default)]
pub(super) struct Drive {
    /// Its curve at its speed; none where it cannot be read.
    pub curve: Option<Curve>,
    /// It runs.
    pub on: bool,
    /// Its curve rises as entered.
    pub rises: bool,
}

/// The pump of a run; a curve that cannot be read, or that rises, becomes a problem.
pub(super) fn drive(context: &LoweringContext<'_>, run: &Run, out: &mut Vec<Problem>) -> Drive {
    let Some(pump) = &run.pump else {
        return Drive::default();
    };
    let mut report = |fault| {
        out.push(Problem::PumpCurve {
            pump: pump.id.clone(),
            run: run.id.clone(),
            fault,
        });
    };
    let Some((curve, rises)) = read(&pump.curve) else {
        report(CurveFault::Unreadable);
        return Drive::default();
    };
    if rises {
        report(CurveFault::Rises);
    }
    if pump.curve.is_guess() {
        report(CurveFault::Guessed);
    }
    Drive {
        curve: Some(curve.with_speed(pump.speed)),
        on: context.situation.pumps == Pumps::On && pump.speed > 0.0,
        rises,
    }
}

fn read(form: &CurveForm) -> Option<(Curve, bool)> {
    match form {
        CurveForm::Points(points) => {
            let points: Vec<(f64, f64)> = points.iter().map(|p| (p.flow_m3_s, p.head_m)).collect();
            let curve = Curve::points(&points).ok()?;
            let rises = curve.rises();
            Some((curve, rises))
        }
        CurveForm::Power { h0_m, c, n } => {
            let curve = Curve::Power {
                h0_m: *h0_m,
                c: c.max(0.0),
                n: n.max(1.0),
            };
            let sound = h0_m.is_finite() && c.is_finite() && n.is_finite();
            sound.then_some((curve, *c < 0.0))
        }
        CurveForm::Label {
            largest_head_m,
            largest_flow_m3_s,
        } => {
            let middle = Curve::of_label(*largest_head_m, *largest_flow_m3_s, LABEL_EXPONENT)?;
            Some((middle, false))
        }
    }
}

/// Number of line segments in which a curve is drawn.
const PIECES: u32 = 80;

/// The curve of a form, at full speed, as a polyline: flow (m³/s) and head (m), from no flow to its
/// end; none where it cannot be read or has no end.
pub fn line_of_curve(form: &CurveForm) -> Option<Vec<(f64, f64)>> {
    let (curve, _) = read(form)?;
    let end_m3_s = curve.end_of_curve_m3_s()?;
    let places = (0..=PIECES).map(|piece| end_m3_s * f64::from(piece) / f64::from(PIECES));
    Some(
        places
            .map(|flow_m3_s| (flow_m3_s, curve.head(flow_m3_s).value))
            .collect(),
    )
}

/// The bounds of a guess as given curves: least head and greatest head; none where the form is no guess, or
/// cannot be read.
pub fn edges_of_guess(form: &CurveForm) -> Option<[CurveForm; 2]> {
    let CurveForm::Label {
        largest_head_m,
        largest_flow_m3_s,
    } = form
    else {
        return None;
    };
    let edge = |n: f64| match Curve::of_label(*largest_head_m, *largest_flow_m3_s, n)? {
        Curve::Power { h0_m, c, n } => Some(CurveForm::Power { h0_m, c, n }),
        Curve::Points(_) => None,
    };
    Some([
        edge(*LABEL_EXPONENTS.start())?,
        edge(*LABEL_EXPONENTS.end())?,
    ])
}

/// The float switch of the pump; none where it hangs in no vessel.
pub(super) fn float(context: &LoweringContext<'_>, run: &Run) -> Option<FloatFacts> {
    let pump = run.pump.as_ref()?;
    let switch = pump.float.as_ref()?;
    let draws_from = match pump.pushes {
        Direction::Forward => &run.from.at,
        Direction::Backward => &run.to.at,
    };
    let at = switch.at.as_ref().unwrap_or(draws_from);
    let mut vessels = context.layout.vessels.iter();
    Some(FloatFacts {
        on_m: switch.on_m,
        off_m: switch.off_m,
        vessel: vessels.position(|vessel| vessel.id == *at)?,
    })
}

/// The suction side of the pump, where that is given.
pub(super) fn suction(
    context: &LoweringContext<'_>,
    run: &Run,
    bore: &Bore,
) -> Option<SuctionFacts> {
    let pump = run.pump.as_ref()?;
    let given = pump.suction?;
    let mut loss = bore.loss(context, given.length_m);
    loss.minors.push(Minor {
        k: given.total_k,
        bore_m: bore.bore_m,
    });
    Some(SuctionFacts {
        elevation_m: given.elevation_m,
        end: usize::from(pump.pushes == Direction::Backward),
        loss,
    })
}
