//! The system curve of a pump: the head that its network requires, flow by flow.

use super::lower;
use crate::catalogue::Catalogue;
use crate::evaluate::NO_FLOW_M3_S;
use crate::layout::{Id, Layout};
use crate::lower::{Age, Pumps, Situation, Walls};
use crate::states;
use crate::states::report::{PumpReport, StateReport};

/// Approximate number of flows between no flow and the end of the pump curve.
const STEPS: u32 = 12;
/// Upper end of the curve, as a multiple of the shut-off head of the pump.
const MOST_HEADS: f64 = 1.25;
/// Largest square of the relative speed that is tried.
const MOST_SQUARE: f64 = 25.0;
/// A step that gains less than this fraction of the intended flow has met a limit.
const LEAST_GAIN: f64 = 0.2;
/// Unused head above which it is more than rounding, metres.
const LEAST_UNUSED_M: f64 = 1e-6;
/// Relative difference below which two flows are one.
const SAME: f64 = 1e-6;
/// Factor on the square of the speed at which flow should begin, to be sure that there is none.
const SHY: f64 = 0.97;

/// One duty of a pump at some speed: a point of the system curve.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SystemPoint {
    /// Speed relative to that of the curve as entered.
    pub speed: f64,
    /// Flow in its pumping direction, m³/s.
    pub flow_m3_s: f64,
    /// Head required by the system, metres.
    pub head_m: f64,
    /// The part of it that is lift from level to level or outlet, metres.
    pub static_m: f64,
    /// Inlet control: the inlet of its run passes no more, however fast the pump turns.
    pub is_limit: bool,
}

/// The system curve of a pump: the heads that its network requires, by flow.
///
/// It is the locus of its duties while its speed varies and everything else stays: other pumps run at their own
/// speeds, and levels move with the flow, so the lift is not the same at every flow. Each list ascends in flow
/// (m³/s), from no flow, at the head where flow begins (the static lift), to the end of the pump curve at its own
/// speed or to 1.25 times its shut-off head, whichever comes first. Where its run comes under inlet control it ends
/// there, and its last point says so; spare head of the pump there is not part of it.
///
/// By direct steady-state solves from the fill levels with tall walls, as a preview: float switches are taken as on,
/// and water that would be retained on the way is not. Empty where nothing flows at any speed.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct SystemCurve {
    /// As built.
    pub clean: Vec<SystemPoint>,
    /// Fouled, as defined in the layout.
    pub dirty: Vec<SystemPoint>,
}

/// The system curve of a pump, clean and dirty: about 16 steady-state solves each, each started near the last. None
/// where there is no such pump, it does not run or has no curve, or `go_on`, which is called before each solve,
/// returns false.
pub fn system_curve(
    layout: &Layout,
    catalogue: &Catalogue,
    pump: &Id,
    go_on: &dyn Fn() -> bool,
) -> Option<SystemCurve> {
    let run = layout.run_of_pump(pump)?;
    let speed = run.pump.as_ref().map(|pump| pump.speed)?;
    let mut walk = SpeedSearch {
        layout: layout.clone(),
        catalogue,
        pump,
        own_speed: (speed > 0.0).then_some(speed)?,
        age: Age::New,
        near: None,
        go_on,
    };
    let clean = walk.all()?;
    walk.age = Age::Fouled;
    let dirty = walk.all()?;
    Some(SystemCurve { clean, dirty })
}

/// The continuation from speed to speed.
struct SpeedSearch<'a> {
    /// The layout with its pump at the last speed tried.
    layout: Layout,
    catalogue: &'a Catalogue,
    pump: &'a Id,
    own_speed: f64,
    age: Age,
    /// The result of the last solve.
    near: Option<StateReport>,
    go_on: &'a dyn Fn() -> bool,
}

/// A duty, and the square of its relative speed.
///
/// Where losses are proportional to the square of the flow, so is the excess of the square of the speed over that at
/// which flow begins; so the search is in the square of the speed.
#[derive(Clone, Copy)]
struct DutyTried {
    square: f64,
    point: SystemPoint,
}

impl DutyTried {
    fn flow_square(&self) -> f64 {
        self.point.flow_m3_s * self.point.flow_m3_s
    }
}

impl SpeedSearch<'_> {
    /// None where `go_on` returned false.
    fn all(&mut self) -> Option<Vec<SystemPoint>> {
        let Some((own, report)) = self.at(1.0)? else {
            return Some(Vec::new());
        };
        let shutoff_m = report.shutoff_head_m;
        let Some(end_m3_s) = report
            .end_of_curve_m3_s
            .filter(|_| report.on && shutoff_m > 0.0)
        else {
            return Some(Vec::new());
        };
        let step_m3_s = end_m3_s / f64::from(STEPS);
        let mut points = Vec::new();
        let begins = own.point.static_m / shutoff_m;
        let first = if own.point.flow_m3_s > NO_FLOW_M3_S {
            self.down(&own, (begins, step_m3_s), &mut points)?;
            points.reverse();
            points.push(own.point);
            own
        } else {
            points.push(begin(&own));
            match self.first_flow(begins)? {
                Some(first) => first,
                None => return Some(Vec::new()),
            }
        };
        let limits = (step_m3_s, end_m3_s, MOST_HEADS * shutoff_m);
        self.up(first, (begins, limits), &mut points)?;
        points.sort_by(|a, b| {
            a.flow_m3_s
                .total_cmp(&b.flow_m3_s)
                .then(a.speed.total_cmp(&b.speed))
        });
        // Under inlet control a faster pump gives no more flow.
        points.dedup_by(|later, kept| later.flow_m3_s <= kept.flow_m3_s * (1.0 + SAME));
        Some(points)
    }

    /// The duty at a square of the speed; none where it does not converge.
    fn at(&mut self, square: f64) -> Option<Option<(DutyTried, PumpReport)>> {
        if !(self.go_on)() {
            return None;
        }
        let speed = self.own_speed * square.max(0.0).sqrt();
        let pumps = self.layout.runs.iter_mut();
        let mut pumps = pumps.filter_map(|run| run.pump.as_mut());
        pumps.find(|one| one.id == *self.pump)?.speed = speed;
        let solved = self.solved();
        let found = solved.as_ref().and_then(|report| {
            let mut pumps = report.pumps.iter();
            let pump = pumps.find(|one| one.id == *self.pump).cloned()?;
            let run = report.runs.iter().find(|run| run.id == pump.run)?;
            Some((pump, run.free_drop_m))
        });
        self.near = solved.or(self.near.take());
        Some(found.map(|(report, unused_m)| {
            let point = SystemPoint {
                speed,
                flow_m3_s: report.flow_m3_s.max(0.0),
                head_m: report.head_m - unused_m,
                static_m: report.static_m,
                is_limit: unused_m > LEAST_UNUSED_M,
            };
            (DutyTried { square, point }, report)
        }))
    }

    fn solved(&self) -> Option<StateReport> {
        let situation = Situation {
            pumps: Pumps::On,
            walls: Walls::Tall,
            age: self.age,
        };
        let tall = lower(&self.layout, self.catalogue, situation);
        let vessels = self.layout.vessels.iter();
        let filled: Vec<f64> = vessels.map(|vessel| vessel.fill_m).collect();
        states::running_preview(&self.layout, &tall, &filled, self.near.as_ref()).ok()
    }

    /// Decreasing speed, down to no flow.
    fn down(
        &mut self,
        own: &DutyTried,
        (begins, step_m3_s): (f64, f64),
        points: &mut Vec<SystemPoint>,
    ) -> Option<()> {
        let mut last = *own;
        let mut flow = step_m3_s * ((own.point.flow_m3_s / step_m3_s).ceil() - 1.0);
        while flow > 0.5 * step_m3_s {
            let share = flow * flow / last.flow_square();
            let square = begins + (last.square - begins) * share;
            match self.at(square)? {
                Some((tried, _)) if tried.point.flow_m3_s > NO_FLOW_M3_S => {
                    points.push(tried.point);
                    last = tried;
                }
                _ => break,
            }
            flow -= step_m3_s;
        }
        // The lift where flow begins is that without flow; the reported levels have moved on the way.
        let mut square = begins.min(last.square) * SHY;
        for _ in 0..8 {
            match self.at(square)? {
                Some((still, _)) if still.point.flow_m3_s <= NO_FLOW_M3_S => {
                    points.push(begin(&still));
                    return Some(());
                }
                Some((tried, _)) if tried.point.flow_m3_s < last.point.flow_m3_s => {
                    points.push(tried.point);
                    last = tried;
                }
                _ => {}
            }
            square *= 0.8;
        }
        Some(())
    }

    /// Increasing speed until something flows.
    fn first_flow(&mut self, begins: f64) -> Option<Option<DutyTried>> {
        let mut square = begins.max(1.0) * 1.1;
        while square < MOST_SQUARE {
            match self.at(square)? {
                Some((tried, _)) if tried.point.flow_m3_s > NO_FLOW_M3_S => {
                    return Some(Some(tried));
                }
                _ => square *= 1.2,
            }
        }
        Some(None)
    }

    /// Increasing speed, up to the limits: step, end of the curve, head.
    fn up(
        &mut self,
        first: DutyTried,
        (begins, (step_m3_s, end_m3_s, most_m)): (f64, (f64, f64, f64)),
        points: &mut Vec<SystemPoint>,
    ) -> Option<()> {
        let mut last = first;
        if points
            .iter()
            .all(|point| point.flow_m3_s < first.point.flow_m3_s)
        {
            points.push(first.point);
        }
        let mut by_flow = (first.square - begins).max(1e-6) / first.flow_square();
        for _ in 0..2 * STEPS {
            let (flow_m3_s, head_m) = (last.point.flow_m3_s, last.point.head_m);
            if last.point.is_limit {
                break;
            }
            if flow_m3_s >= end_m3_s * 0.999 || head_m > most_m || last.square > MOST_SQUARE {
                break;
            }
            let wanted = (step_m3_s * ((flow_m3_s / step_m3_s + 0.25).floor() + 1.0)).min(end_m3_s);
            let square = last.square + by_flow * (wanted * wanted - last.flow_square());
            let Some((tried, _)) = self.at(square)? else {
                break;
            };
            let gained = tried.point.flow_m3_s - flow_m3_s;
            if gained < LEAST_GAIN * (wanted - flow_m3_s) && !tried.point.is_limit {
                break;
            }
            by_flow = (square - last.square) / (tried.flow_square() - last.flow_square());
            points.push(tried.point);
            last = tried;
        }
        Some(())
    }
}

/// Where flow begins: without flow the required head is the lift.
fn begin(still: &DutyTried) -> SystemPoint {
    SystemPoint {
        flow_m3_s: 0.0,
        head_m: still.point.static_m,
        ..still.point
    }
}
