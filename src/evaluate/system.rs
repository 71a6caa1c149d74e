//! The system curve of a pump: what its network asks of it, flow by flow.

use super::lower;
use crate::catalogue::Catalogue;
use crate::layout::{Id, Layout};
use crate::lower::{Age, Pumps, Situation, Walls};
use crate::states;
use crate::states::report::{PumpReport, StateReport};

/// About so many flows between no flow and the end of the pump's curve.
const STEPS: u32 = 12;
/// It is followed up to this many times the pump's head at no flow.
const MOST_HEADS: f64 = 1.25;
/// The largest square of a speed that is tried, in squares of the pump's own.
const MOST_SQUARE: f64 = 25.0;
/// Less than this is no flow, m³/s.
const STILL_M3_S: f64 = 1e-7;
/// A step that brings less than this share of the flow that it was to bring meets something that holds it.
const LEAST_GAIN: f64 = 0.2;
/// Head that is left over this is more than a rounding, metres.
const LEAST_UNUSED_M: f64 = 1e-6;
/// Two flows nearer than this share are one.
const SAME: f64 = 1e-6;
/// Below the square of the speed at which flow should begin, to be sure that there is none.
const SHY: f64 = 0.97;

/// One duty of a pump at some speed: a point of the system curve.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SystemPoint {
    /// Speed as a share of that of the curve as entered.
    pub speed: f64,
    /// Flow the way it pushes, m³/s.
    pub flow_m3_s: f64,
    /// Head that the system takes, metres.
    pub head_m: f64,
    /// How much of it is lift from level to level or outlet, metres.
    pub static_m: f64,
    /// The inlet of its run lets no more through, however fast the pump turns.
    pub is_limit: bool,
}

/// The system curve of a pump: the heads that its network takes, by flow.
///
/// It is the locus of its duties while its speed varies and all else is as it is: other pumps run at theirs, and
/// levels move with the flow, so the lift is not the same at every flow. Each list rises in flow (m³/s), from no
/// flow, at the head where flow begins (the static lift), to the end of the pump's curve at its own speed or to
/// 1.25 times its shut-off head, whichever is first. Where the inlet of its run holds the flow it ends there, and
/// its last point says so; what head a pump has left there is no part of it.
///
/// By the direct jump from the filled levels with tall walls, as a preview: float switches are taken as on, and
/// water that would be left behind on the way is not. Empty where nothing flows at any speed.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct SystemCurve {
    /// As built.
    pub clean: Vec<SystemPoint>,
    /// Fouled, as the layout says what that is.
    pub dirty: Vec<SystemPoint>,
}

/// The system curve of a pump, clean and dirty: about 16 jumps each, each near the last. None where there is no
/// such pump, it does not run or has no curve, or `go_on`, which is asked before each jump, says no.
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

/// From speed to speed.
struct SpeedSearch<'a> {
    /// Its pump turns at the speed that was tried last.
    layout: Layout,
    catalogue: &'a Catalogue,
    pump: &'a Id,
    own_speed: f64,
    age: Age,
    /// Where the last jump came out.
    near: Option<StateReport>,
    go_on: &'a dyn Fn() -> bool,
}

/// A duty, and the square of its speed in squares of the pump's own.
///
/// Where losses go with the square of the flow, so does what the square of the speed has over that at which flow
/// begins; so the one is looked for along the other.
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
    /// None where it may not go on.
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
        let first = if own.point.flow_m3_s > STILL_M3_S {
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
        // Where an inlet holds the flow, faster is no further.
        points.dedup_by(|later, kept| later.flow_m3_s <= kept.flow_m3_s * (1.0 + SAME));
        Some(points)
    }

    /// The duty at a square of the speed; none where it cannot be solved.
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

    /// Slower and slower, down to no flow.
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
                Some((tried, _)) if tried.point.flow_m3_s > STILL_M3_S => {
                    points.push(tried.point);
                    last = tried;
                }
                _ => break,
            }
            flow -= step_m3_s;
        }
        // The lift where flow begins is that without flow; the levels that it is told by have moved on the way.
        let mut square = begins.min(last.square) * SHY;
        for _ in 0..8 {
            match self.at(square)? {
                Some((still, _)) if still.point.flow_m3_s <= STILL_M3_S => {
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

    /// Faster and faster until something flows.
    fn first_flow(&mut self, begins: f64) -> Option<Option<DutyTried>> {
        let mut square = begins.max(1.0) * 1.1;
        while square < MOST_SQUARE {
            match self.at(square)? {
                Some((tried, _)) if tried.point.flow_m3_s > STILL_M3_S => return Some(Some(tried)),
                _ => square *= 1.2,
            }
        }
        Some(None)
    }

    /// Faster and faster, up to the limits: step, end of the curve, head.
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

/// Where flow begins: without flow the head that is needed is the lift.
fn begin(still: &DutyTried) -> SystemPoint {
    SystemPoint {
        flow_m3_s: 0.0,
        head_m: still.point.static_m,
        ..still.point
    }
}
