//! The pump of a run.

use super::pipe::Bore;
use super::{FloatFacts, Ground, Pumps, SuctionFacts, findings};
use crate::finding::{Code, Finding, Severity};
use crate::hydraulics::loss::Minor;
use crate::hydraulics::pump::Curve;
use crate::layout::{CurveForm, Direction, Id, Pump, Run};

/// The pump of a run as its law wants it.
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
pub(super) fn drive(ground: &Ground<'_>, run: &Run, out: &mut Vec<Finding>) -> Drive {
    let Some(pump) = &run.pump else {
        return Drive::default();
    };
    let Some((curve, rises)) = read(&pump.curve) else {
        out.push(unreadable(pump, &run.id));
        return Drive::default();
    };
    if rises {
        out.push(rising(pump, &run.id));
    }
    Drive {
        curve: Some(curve.with_speed(pump.speed)),
        on: ground.situation.pumps == Pumps::On && pump.speed > 0.0,
        rises,
    }
}

fn read(form: &CurveForm) -> Option<(Curve, bool)> {
    match form {
        CurveForm::Points(points) => {
            let points: Vec<(f64, f64)> = points.iter().map(|p| (p.flow_m3_s, p.head_m)).collect();
            let curve = Curve::from_points(&points).ok()?;
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
    }
}

fn unreadable(pump: &Pump, run: &Id) -> Finding {
    let text = vec![
        "The curve of the pump of ".into(),
        run.into(),
        " cannot be read; the pump is taken as standing still.".into(),
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

/// The float switch of the pump; none where it hangs in no vessel.
pub(super) fn float(ground: &Ground<'_>, run: &Run) -> Option<FloatFacts> {
    let pump = run.pump.as_ref()?;
    let switch = pump.float.as_ref()?;
    let draws_from = match pump.pushes {
        Direction::Forward => &run.from.at,
        Direction::Backward => &run.to.at,
    };
    let at = switch.at.as_ref().unwrap_or(draws_from);
    let mut vessels = ground.layout.vessels.iter();
    Some(FloatFacts {
        on_m: switch.on_m,
        off_m: switch.off_m,
        vessel: vessels.position(|vessel| vessel.id == *at)?,
    })
}

/// What lies before the pump, where that is given.
pub(super) fn suction(ground: &Ground<'_>, run: &Run, bore: &Bore) -> Option<SuctionFacts> {
    let pump = run.pump.as_ref()?;
    let given = pump.suction?;
    let mut loss = bore.loss(ground, given.length_m);
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
