//! The law of a run: flow from the levels at its two ends.
//!
//! In one direction a run passes the largest flow that its inlet takes in and whose required upstream head does not
//! exceed the upstream level:
//!
//! ```text
//! Q = max(0, min(W(H_a − z_a), Q*)),   need(Q*, H_b) = H_a
//! need(Q, H_b) = max(H_b, z_b + h_out(Q)) + loss(Q) − gain(Q)
//! ```
//!
//! Where screens stand before its ends, H_a and H_b are the levels inside them: see `screened`. For a gravity run
//! with a horizontal or downturned end the required upstream head `need` is the grade marched up its profile
//! instead; it is the same where the run is full. `need` increases with Q and with H_b, so Q is unique.  [@hds-5]

use super::link::RunLaw;
use super::port::{Outlet, Sill};
use crate::hydraulics::Dual;
use crate::hydraulics::losses::loss::Loss;
use crate::hydraulics::openings::inlet::Inlet;
use crate::hydraulics::profile::grade_table::Grade;

/// One direction along a run.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Sense {
    /// From source to target.
    Forward,
    /// From target to source.
    Backward,
}

impl Sense {
    /// The opposite direction.
    pub fn back(self) -> Sense {
        match self {
            Sense::Forward => Sense::Backward,
            Sense::Backward => Sense::Forward,
        }
    }

    /// The values at source and target as (upstream, downstream).
    pub fn along<T>(self, [source, target]: [T; 2]) -> [T; 2] {
        match self {
            Sense::Forward => [source, target],
            Sense::Backward => [target, source],
        }
    }

    /// +1 forward, −1 backward.
    pub fn sign(self) -> f64 {
        match self {
            Sense::Forward => 1.0,
            Sense::Backward => -1.0,
        }
    }
}

/// Flow control: what limits a flow.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum FlowControl {
    /// No flow.
    #[default]
    Nothing,
    /// Inlet control.
    Inlet,
    /// Outlet control: losses and the downstream level.
    Outlet,
}

/// Required upstream head, with its derivatives.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RequiredHead {
    /// The head, metres.
    pub head_m: f64,
    /// With respect to flow, m/(m³/s); above 0.
    pub by_flow: f64,
    /// With respect to the downstream level: 1 submerged, 0 free.
    pub by_level: f64,
}

/// Upstream head above which water passes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Threshold {
    /// The head, metres.
    pub head_m: f64,
    /// It is the downstream level itself, and follows it.
    pub is_level: bool,
}

/// Smallest derivative returned, m/(m³/s).
pub(super) const SHALLOWEST: f64 = 1e-9;
/// Largest derivative returned, m/(m³/s): a crest law is vertical at no flow.
pub(super) const STEEPEST: f64 = 1e12;
/// The same for a whole run: an almost closed tap loses a metre at a minute flow, and a linearisation with less than
/// its true derivative would make the flow oscillate.
pub(super) const STEEPEST_RUN: f64 = 1e30;
/// Available head in excess of that at no flow, relative to the head that the current flow requires: within this range
/// linear (Newton) steps converge fastest.
const NEAR: std::ops::Range<f64> = 0.5..2.0;

impl RunLaw {
    /// Whether water may pass in this direction at all.
    pub(crate) fn allows(&self, sense: Sense) -> bool {
        !self.check.stops(sense)
            && !matches!(
                self.ends[usize::from(sense == Sense::Backward)].inlet,
                Inlet::Never
            )
    }

    /// Inflow capacity of the upstream end at its level.
    pub(crate) fn capacity(&self, sense: Sense, upstream_m: f64) -> Dual {
        match sense {
            Sense::Forward => self.ends[0].capacity(upstream_m),
            Sense::Backward => self.ends[1].capacity(upstream_m),
        }
    }

    /// Loss of a flow in this direction.
    pub fn loss_along(&self, sense: Sense) -> &Loss {
        match (sense, &self.loss_back) {
            (Sense::Backward, Some(back)) => back,
            _ => &self.loss,
        }
    }

    /// Head loss of a signed flow of the link, metres, without the rising leg of a raised intake.
    pub fn loss_at(&self, flow_m3_s: f64) -> f64 {
        let sense = if flow_m3_s < 0.0 {
            Sense::Backward
        } else {
            Sense::Forward
        };
        self.loss_along(sense).at(flow_m3_s).value
    }

    /// Level above which the upstream end draws, metres.
    pub(crate) fn intake_m(&self, sense: Sense) -> f64 {
        self.ends[usize::from(sense == Sense::Backward)].opens_m()
    }

    /// The grade for a flow in this direction, where it is marched.
    pub fn grade(&self, sense: Sense) -> Option<&Grade> {
        let grades = if self.primed {
            &self.primed_grades
        } else {
            &self.grades
        };
        grades[usize::from(sense == Sense::Backward)].as_deref()
    }

    /// The same with air at the high points, whether it is primed or not.
    pub fn grade_with_air(&self, sense: Sense) -> Option<&Grade> {
        self.grades[usize::from(sense == Sense::Backward)].as_deref()
    }

    fn gain(&self, sense: Sense, flow: f64) -> Dual {
        match &self.pump {
            None => Dual {
                value: 0.0,
                derivative: 0.0,
            },
            Some(pump) if pump.backward == (sense == Sense::Backward) => pump.curve.head(flow),
            // Against reverse flow a pump keeps its shut-off head.
            Some(pump) => Dual {
                value: -pump.curve.head(0.0).value,
                derivative: 0.0,
            },
        }
    }

    /// Head that a running pump adds in the direction `sense` at no flow, metres; negative against its pumping
    /// direction.
    pub fn gain_at_rest_m(&self, sense: Sense) -> f64 {
        self.gain(sense, 0.0).value
    }

    fn outlet_grade(&self, end: usize, flow: f64, level_m: f64) -> RequiredHead {
        let port = &self.ends[end];
        if let Outlet::Sill(sill) = &port.outlet {
            return over_sill(sill, flow, level_m);
        }
        if level_m >= port.lip_m + self.loss.bore_m.max(port_bore(port.outlet)) {
            return RequiredHead {
                head_m: level_m,
                by_flow: 0.0,
                by_level: 1.0,
            };
        }
        let rise = port.outlet.rise(flow, self.loss.gravity_m_s2);
        let free = port.lip_m + rise.value;
        if level_m >= free {
            RequiredHead {
                head_m: level_m,
                by_flow: 0.0,
                by_level: 1.0,
            }
        } else {
            RequiredHead {
                head_m: free,
                by_flow: rise.derivative,
                by_level: 0.0,
            }
        }
    }

    /// Required upstream head for `flow` (≥ 0, m³/s) to pass against `downstream_m`, between the screens.
    pub(super) fn required_head_inside(
        &self,
        sense: Sense,
        flow: f64,
        downstream_m: f64,
    ) -> RequiredHead {
        match (&self.raised, sense) {
            (None, _) => self.required_head_in_pipe(sense, flow, downstream_m),
            (Some(raised), Sense::Forward) => {
                let mut need = self.required_head_in_pipe(sense, flow, downstream_m);
                over_crest(&mut need, raised.over_crest(flow));
                add(&mut need, raised.rise.at(flow));
                need
            }
            (Some(raised), Sense::Backward) => {
                let mut need = self.outlet_grade(0, flow, downstream_m);
                add(&mut need, raised.rise.at(flow));
                over_crest(&mut need, raised.over_crest(flow));
                self.add_loss(&mut need, sense, flow);
                need
            }
        }
    }

    /// The same without a crest and the leg that rises to it.
    fn required_head_in_pipe(&self, sense: Sense, flow: f64, downstream_m: f64) -> RequiredHead {
        if let Some(grade) = self.grade(sense) {
            let head = grade.required_head(flow, downstream_m);
            let gain = self.gain(sense, flow);
            return RequiredHead {
                head_m: head.head_m - gain.value,
                by_flow: (head.by_flow - gain.derivative).clamp(SHALLOWEST, STEEPEST_RUN),
                by_level: head.by_level,
            };
        }
        let end = usize::from(sense == Sense::Forward);
        let mut need = self.outlet_grade(end, flow, downstream_m);
        self.add_loss(&mut need, sense, flow);
        need
    }

    /// The head of [`RunLaw::required_head_inside`] at no flow, at a fraction of its cost.
    pub(super) fn threshold_inside(&self, sense: Sense, downstream_m: f64) -> Threshold {
        let crest_m = self.raised.as_ref().filter(|raised| !raised.primed);
        let crest_m = crest_m.map(|raised| raised.crest_m + raised.crest.head_for(0.0).value);
        let mut asked = match (&self.raised, sense) {
            (Some(_), Sense::Backward) => self.threshold_of_outlet(0, downstream_m),
            _ => self.threshold_in_pipe(sense, downstream_m),
        };
        if let Some(crest_m) = crest_m.filter(|crest_m| *crest_m > asked.head_m) {
            asked = Threshold {
                head_m: crest_m,
                is_level: false,
            };
        }
        if self.raised.is_some() && sense == Sense::Backward {
            asked.head_m -= self.gain(sense, 0.0).value;
        }
        asked
    }

    /// The same without a crest and the leg that rises to it.
    pub fn threshold_in_pipe(&self, sense: Sense, downstream_m: f64) -> Threshold {
        if let Some(grade) = self.grade(sense) {
            let (head_m, is_level) = grade.at_rest(downstream_m);
            return Threshold {
                head_m: head_m - self.gain(sense, 0.0).value,
                is_level,
            };
        }
        let end = usize::from(sense == Sense::Forward);
        let mut asked = self.threshold_of_outlet(end, downstream_m);
        asked.head_m -= self.gain(sense, 0.0).value;
        asked
    }

    fn threshold_of_outlet(&self, end: usize, level_m: f64) -> Threshold {
        let port = &self.ends[end];
        let free_m = match &port.outlet {
            Outlet::Sill(sill) => sill.crest_m,
            outlet => port.lip_m + outlet.rise_at_rest(),
        };
        Threshold {
            head_m: level_m.max(free_m),
            is_level: level_m >= free_m,
        }
    }

    /// What limits a signed `flow` between these levels at source and target.
    pub fn flow_control(&self, flow_m3_s: f64, levels: [f64; 2]) -> FlowControl {
        if flow_m3_s == 0.0 {
            return FlowControl::Nothing;
        }
        let (sense, downstream) = if flow_m3_s > 0.0 {
            (Sense::Forward, levels[1])
        } else {
            (Sense::Backward, levels[0])
        };
        self.required_head_with_screen(sense, flow_m3_s.abs(), downstream)
            .1
    }

    /// The sill that water in this direction crosses, where the run is one.
    pub(super) fn sill(&self, sense: Sense) -> Option<&Sill> {
        match &self.ends[usize::from(sense == Sense::Forward)].outlet {
            Outlet::Sill(sill) => Some(sill),
            _ => None,
        }
    }

    /// The same where the sill is the only resistance: then not even the minimum resistance of a run counts, so that
    /// the weir is exactly that of its opening.
    fn bare_sill(&self, sense: Sense) -> Option<&Sill> {
        let sill = self.sill(sense)?;
        let is_bare = self.pump.is_none() && !self.has_screen();
        let is_bare = is_bare && self.loss_along(sense).is_nothing();
        is_bare.then_some(sill)
    }

    /// Head downstream of a flow (≥ 0) at its outlet, metres: the level there, or the grade over the lip of an end
    /// in air; behind a sill the level there or the sill.
    pub fn tail_m(&self, sense: Sense, flow_m3_s: f64, downstream_m: f64) -> f64 {
        let end = usize::from(sense == Sense::Forward);
        if let Some(sill) = self.sill(sense) {
            return downstream_m.max(sill.crest_m);
        }
        self.outlet_grade(end, flow_m3_s, downstream_m).head_m
    }

    /// Head loss of a flow (≥ 0) in this direction against a downstream level, metres, between its screens, without a
    /// pump's gain and the rising leg of a raised intake; for a marched run the whole rise of its grade above its tail.
    pub(super) fn lost_inside_m(&self, sense: Sense, flow_m3_s: f64, downstream_m: f64) -> f64 {
        if self.grade(sense).is_some() {
            let need = self.required_head_in_pipe(sense, flow_m3_s, downstream_m);
            let gain_m = self.gain(sense, flow_m3_s).value;
            return need.head_m + gain_m - self.tail_m(sense, flow_m3_s, downstream_m);
        }
        let lost_m = self.loss_of(sense, flow_m3_s).value;
        match self.sill(sense) {
            Some(sill) if sill.is_under(downstream_m) => {
                lost_m + sill.upper(flow_m3_s, downstream_m).head_m - downstream_m
            }
            _ => lost_m,
        }
    }

    /// Head in excess of what `flow` (≥ 0) requires for losses and the downstream level, metres, between its screens; 0
    /// under outlet control.
    pub(super) fn free_drop_inside_m(
        &self,
        sense: Sense,
        flow_m3_s: f64,
        [upstream, downstream]: [f64; 2],
    ) -> f64 {
        let spent = match (&self.raised, sense) {
            // At a raised intake the head held back by the crest is free drop, not loss.
            (Some(raised), Sense::Forward) => {
                let pipe = self.required_head_in_pipe(sense, flow_m3_s, downstream);
                pipe.head_m + raised.rise.at(flow_m3_s).value
            }
            // The head held back by a free weir is free drop too.
            _ => match self.sill(sense) {
                Some(sill) if !sill.is_under(downstream) => {
                    let lost_m = self.loss_of(sense, flow_m3_s).value;
                    sill.crest_m + lost_m - self.gain(sense, flow_m3_s).value
                }
                _ => {
                    self.required_head_inside(sense, flow_m3_s, downstream)
                        .head_m
                }
            },
        };
        (upstream - spent).max(0.0)
    }

    /// Level of the upstream end at which it begins to pass water in this direction, metres.
    pub(crate) fn opens_at(&self, sense: Sense, downstream_m: f64) -> f64 {
        let threshold = self.threshold(sense, downstream_m);
        threshold.head_m.max(self.intake_m(sense))
    }

    fn loss_of(&self, sense: Sense, flow: f64) -> Dual {
        match self.bare_sill(sense) {
            Some(_) => Dual::ZERO,
            None => self.loss_along(sense).at(flow),
        }
    }

    fn add_loss(&self, need: &mut RequiredHead, sense: Sense, flow: f64) {
        add(need, self.loss_of(sense, flow));
        let gain = self.gain(sense, flow);
        need.head_m -= gain.value;
        need.by_flow -= gain.derivative;
    }

    /// The flow that passes in this direction (≥ 0, m³/s) with these levels, and what limits it.
    ///
    /// `guess` is the initial value of the search; any value gives the same result.
    pub(crate) fn one_way(&self, sense: Sense, levels: [f64; 2], guess: f64) -> (f64, FlowControl) {
        let [upstream, downstream] = levels;
        if !self.allows(sense) {
            return (0.0, FlowControl::Nothing);
        }
        let rest_m = self.threshold(sense, downstream).head_m;
        if rest_m >= upstream {
            return (0.0, FlowControl::Nothing);
        }
        let most = self.capacity(sense, upstream).value;
        if most <= 0.0 {
            return (0.0, FlowControl::Nothing);
        }
        if let Some(sill) = self.bare_sill(sense) {
            let flow = sill.flow(upstream, downstream);
            let held = if sill.is_under(downstream) && flow < most {
                FlowControl::Outlet
            } else {
                FlowControl::Inlet
            };
            return (flow.min(most), held);
        }
        if most.is_finite() && self.required_head(sense, most, downstream).head_m <= upstream {
            return (most, FlowControl::Inlet);
        }
        let start = if guess > 0.0 && guess < most {
            guess
        } else {
            self.first_guess(most)
        };
        let flow = self.outlet_flow(sense, levels, rest_m, (start, most));
        (flow, FlowControl::Outlet)
    }

    /// Solves need(Q) = H upstream on 0..`most`: bracketed Newton, and far from the solution along the power of the
    /// flow with which the head over `rest_m`, the required head at no flow, increases.
    fn outlet_flow(
        &self,
        sense: Sense,
        [upstream, downstream]: [f64; 2],
        rest_m: f64,
        (start, most): (f64, f64),
    ) -> f64 {
        let (mut low, mut high) = (0.0, most);
        let mut flow = start;
        for _ in 0..200 {
            let need = self.required_head(sense, flow, downstream);
            let error = need.head_m - upstream;
            if error > 0.0 {
                high = flow;
            } else {
                low = flow;
            }
            let step = error / need.by_flow;
            if step.abs() <= 1e-16 + 1e-14 * flow {
                return flow;
            }
            let mut next = flow - step;
            let over_rest = need.head_m - rest_m;
            let share = (upstream - rest_m) / over_rest;
            if over_rest > 0.0 && !NEAR.contains(&share) {
                let power = (need.by_flow * flow / over_rest).clamp(0.5, 3.0);
                next = flow * share.powf(1.0 / power);
            }
            if !(next > low && next < high) {
                next = if high.is_finite() {
                    0.5 * (low + high)
                } else {
                    4.0 * flow
                };
            }
            if next == low || next == high {
                return next;
            }
            flow = next;
        }
        flow
    }

    fn first_guess(&self, most: f64) -> f64 {
        let brisk = self.loss.area_m2();
        if most.is_finite() {
            brisk.min(0.5 * most)
        } else {
            brisk
        }
    }

    /// Signed flow from the levels at source and target, m³/s.
    pub fn flow(&self, source_m: f64, target_m: f64, guess: f64) -> f64 {
        let (forward, _) = self.one_way(Sense::Forward, [source_m, target_m], guess);
        if forward > 0.0 {
            return forward;
        }
        let (backward, _) = self.one_way(Sense::Backward, [target_m, source_m], -guess);
        if backward > 0.0 { -backward } else { 0.0 }
    }
}

/// Required upstream head of a flow over a sill.
fn over_sill(sill: &Sill, flow: f64, level_m: f64) -> RequiredHead {
    let upper = sill.upper(flow, level_m);
    RequiredHead {
        head_m: upper.head_m,
        by_flow: upper.by_flow.clamp(SHALLOWEST, STEEPEST),
        by_level: upper.by_tail,
    }
}

fn port_bore(outlet: Outlet) -> f64 {
    match outlet {
        Outlet::Lip | Outlet::Sill(_) => 0.0,
        Outlet::Critical { bore_m } | Outlet::Full { bore_m } => bore_m,
    }
}

fn add(need: &mut RequiredHead, loss: Dual) {
    need.head_m += loss.value;
    need.by_flow += loss.derivative;
}

fn over_crest(need: &mut RequiredHead, over: Option<Dual>) {
    if let Some(over) = over.filter(|over| over.value > need.head_m) {
        *need = RequiredHead {
            head_m: over.value,
            by_flow: over.derivative.min(STEEPEST),
            by_level: 0.0,
        };
    }
}
