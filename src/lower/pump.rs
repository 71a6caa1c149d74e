//! The pump of a run.

use super::pipe::Bore;
use super::{FloatFacts, LoweringContext, Pumps, SuctionFacts, findings};
use crate::finding::{Code, Finding, Severity};
use crate::hydraulics::losses::loss::Minor;
use crate::hydraulics::pump::{self, Curve, ReadCurve};
use crate::layout::{CurveForm, Direction, Id, Pump, Run};

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

/// The pump of a run; a curve that cannot be read, or that rises, becomes a finding.
pub(super) fn drive(context: &LoweringContext<'_>, run: &Run, out: &mut Vec<Finding>) -> Drive {
    let Some(pump) = &run.pump else {
        return Drive::default();
    };
    let Some(ReadCurve { curve, rises }) = read_curve(&pump.curve) else {
        out.push(unreadable(pump, &run.id));
        return Drive::default();
    };
    if rises {
        out.push(rising(pump, &run.id));
    }
    if pump.curve.is_guess() {
        out.push(guessed(pump, &run.id));
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

fn unreadable(pump: &Pump, run: &Id) -> Finding {
    let text = vec![
        "The curve of the pump of ".into(),
        run.into(),
        " cannot be read; the pump is taken as stopped.".into(),
    ];
    let mut found = findings::finding(
        (Code::PumpOffCurve, Severity::Problem),
        &[&pump.id, run],
        text,
    );
    let cure = "Give at least two points of its sheet, each with more flow than the one before.";
    found.cures.push(findings::advice(vec![cure.into()]));
    found
}

fn rising(pump: &Pump, run: &Id) -> Finding {
    let text = vec![
        "The curve of the pump of ".into(),
        run.into(),
        " rises with flow somewhere, so one head can belong to two flows; it is computed as level there."
            .into(),
    ];
    let mut found = findings::finding(
        (Code::CurveRises, Severity::Warning),
        &[&pump.id, run],
        text,
    );
    let cure = "Check the points against its sheet, and keep the duty beyond the highest head.";
    found.cures.push(findings::advice(vec![cure.into()]));
    found
}

fn guessed(pump: &Pump, run: &Id) -> Finding {
    let text = vec![
        "The curve of the pump of ".into(),
        run.into(),
        " is a guess from the two numbers of its label; its duty and all flows are guesses with it.".into(),
    ];
    let mut found = findings::finding(
        (Code::CurveGuessed, Severity::Warning),
        &[&pump.id, run],
        text,
    );
    let cure =
        "Give points of its sheet, or measure its flow at two heads with a bucket and a watch.";
    found.cures.push(findings::advice(vec![cure.into()]));
    found
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
