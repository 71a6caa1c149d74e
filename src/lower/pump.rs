//! The pump of a run.

use super::pipe::Bore;
use super::problem::{CurveFault, Problem};
use super::{FloatFacts, LoweringContext, Pumps, SuctionFacts};
use crate::hydraulics::losses::loss::Minor;
use crate::hydraulics::pump::{self, Curve, ReadCurve};
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
    let Some(ReadCurve { curve, rises }) = read_curve(&pump.curve) else {
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

/// The curve of a form at full speed; none where it cannot be read.
pub fn read_curve(form: &CurveForm) -> Option<ReadCurve> {
    match form {
        CurveForm::Points(points) => {
            let points: Vec<(f64, f64)> = points.iter().map(|p| (p.flow_m3_s, p.head_m)).collect();
            pump::through_points(&points)
        }
        CurveForm::Power { h0_m, c, n } => pump::by_power_law(*h0_m, *c, *n),
        CurveForm::Label {
            largest_head_m,
            largest_flow_m3_s,
        } => pump::guessed_from_label(*largest_head_m, *largest_flow_m3_s),
    }
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
