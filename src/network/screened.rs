//! The law of a run with screens before its ends.
//!
//! An upstream screen is passed before the opening: the level inside it is that outside less its loss. A
//! downstream one is passed after it: the level inside is higher than that outside. Between the two the law is that
//! of `law`.

use super::law::{FlowControl, RequiredHead, SHALLOWEST, STEEPEST, STEEPEST_RUN, Sense, Threshold};
use super::link::RunLaw;

impl RunLaw {
    /// Whether a screen stands before one of its ends.
    pub(super) fn has_screen(&self) -> bool {
        self.ends.iter().any(|end| end.screen.is_some())
    }

    /// Required upstream head for `flow` (≥ 0, m³/s) to pass against `downstream_m`.
    pub fn required_head(&self, sense: Sense, flow: f64, downstream_m: f64) -> RequiredHead {
        if !self.has_screen() {
            return self.required_head_inside(sense, flow, downstream_m);
        }
        let inside = self.required_head_from_inside(sense, flow, downstream_m);
        self.outside(sense, flow, inside)
    }

    /// The same at the opening, inside the upstream screen.
    fn required_head_from_inside(
        &self,
        sense: Sense,
        flow: f64,
        downstream_m: f64,
    ) -> RequiredHead {
        let [_, outlet] = self.sides(sense);
        if outlet.screen.is_none() {
            return self.required_head_inside(sense, flow, downstream_m);
        }
        let behind = outlet.higher(flow, downstream_m);
        let need = self.required_head_inside(sense, flow, behind.level_m);
        // A head that does not depend on a level does not depend on its rise either, which may be infinite.
        let by_flow = if need.by_level > 0.0 {
            need.by_level * behind.by_flow
        } else {
            0.0
        };
        RequiredHead {
            head_m: need.head_m,
            by_flow: (need.by_flow + by_flow).min(STEEPEST_RUN),
            by_level: need.by_level * behind.by_lower,
        }
    }

    /// Required head outside the upstream screen for that inside it.
    fn outside(&self, sense: Sense, flow: f64, inside: RequiredHead) -> RequiredHead {
        let [inlet, _] = self.sides(sense);
        if inlet.screen.is_none() {
            return inside;
        }
        let outside = inlet.higher(flow, inside.head_m);
        let by_flow = outside.by_flow + outside.by_lower * inside.by_flow;
        RequiredHead {
            head_m: outside.level_m,
            by_flow: by_flow.clamp(SHALLOWEST, STEEPEST_RUN),
            by_level: outside.by_lower * inside.by_level,
        }
    }

    /// The head of [`RunLaw::required_head`] at no flow, at a fraction of its cost.
    pub fn threshold(&self, sense: Sense, downstream_m: f64) -> Threshold {
        let [inlet, outlet] = self
            .sides(sense)
            .map(|port| port.screen.map(|one| one.sill_m()));
        let behind_m = outlet.map_or(downstream_m, |sill_m| sill_m.max(downstream_m));
        let mut asked = self.threshold_inside(sense, behind_m);
        asked.is_level &= behind_m == downstream_m;
        if let Some(sill_m) = inlet.filter(|sill_m| *sill_m > asked.head_m) {
            asked = Threshold {
                head_m: sill_m,
                is_level: false,
            };
        }
        asked
    }

    /// Head required by the inlet at its opening, and by everything behind it.
    fn asked(&self, sense: Sense, flow: f64, downstream_m: f64) -> [RequiredHead; 2] {
        let [port, _] = self.sides(sense);
        let over = port.inlet.head_for(flow);
        let by_inlet = RequiredHead {
            head_m: port.intake_m() + over.value,
            by_flow: over.derivative.clamp(SHALLOWEST, STEEPEST),
            by_level: 0.0,
        };
        [
            by_inlet,
            self.required_head_from_inside(sense, flow, downstream_m),
        ]
    }

    /// Required upstream head for `flow` to pass the inlet as well, and which of the two requires more.
    pub(crate) fn required_head_with_screen(
        &self,
        sense: Sense,
        flow: f64,
        downstream_m: f64,
    ) -> (RequiredHead, FlowControl) {
        let [by_inlet, behind] = self.asked(sense, flow, downstream_m);
        // A free weir requires the same as an inlet and as a sill.
        let limits = match self.sill(sense) {
            Some(_) => by_inlet.head_m >= behind.head_m,
            None => by_inlet.head_m > behind.head_m,
        };
        let (inside, held) = if limits {
            (by_inlet, FlowControl::Inlet)
        } else {
            (behind, FlowControl::Outlet)
        };
        (self.outside(sense, flow, inside), held)
    }

    /// Required head of the inlet in excess of that of everything behind it, metres: above 0 where a flow (≥ 0) is
    /// under inlet control.
    pub(crate) fn starved_m(&self, sense: Sense, flow: f64, downstream_m: f64) -> f64 {
        let [by_inlet, behind] = self.asked(sense, flow, downstream_m);
        by_inlet.head_m - behind.head_m
    }

    /// The levels at source and target inside its screens, for a signed flow between those outside.
    pub fn inside_m(&self, flow_m3_s: f64, levels: [f64; 2]) -> [f64; 2] {
        if !self.has_screen() || flow_m3_s == 0.0 {
            return levels;
        }
        let sense = if flow_m3_s < 0.0 {
            Sense::Backward
        } else {
            Sense::Forward
        };
        let [upstream, downstream] = sense.along(levels);
        let flow = flow_m3_s.abs();
        let upstream = upstream - self.lost_before_m(sense, flow, upstream);
        let [_, outlet] = self.sides(sense);
        sense.along([upstream, outlet.higher(flow, downstream).level_m])
    }

    /// Loss of a flow (≥ 0) at the upstream screen at a level outside, metres.
    pub fn lost_before_m(&self, sense: Sense, flow: f64, upstream_m: f64) -> f64 {
        let [inlet, _] = self.sides(sense);
        let screen = inlet.screen;
        screen.map_or(0.0, |screen| screen.loss_m(flow, upstream_m))
    }

    /// Loss of a flow (≥ 0) at the downstream screen that leaves to a level outside, metres: the rise of the grade at
    /// the outlet that it causes; 0 where the outlet is in air even so.
    pub fn lost_behind_m(&self, sense: Sense, flow: f64, downstream_m: f64) -> f64 {
        let [_, outlet] = self.sides(sense);
        if outlet.screen.is_none() {
            return 0.0;
        }
        let inside_m = outlet.higher(flow, downstream_m).level_m;
        self.tail_m(sense, flow, inside_m) - self.tail_m(sense, flow, downstream_m)
    }

    /// Head loss of a flow (≥ 0) in this direction between two levels, metres, without a pump's gain and the rising
    /// leg of a raised intake; for a marched run the whole rise of its grade above its tail.
    pub fn lost_m(&self, sense: Sense, flow_m3_s: f64, [upstream, downstream]: [f64; 2]) -> f64 {
        let [_, outlet] = self.sides(sense);
        let inside_m = outlet.higher(flow_m3_s, downstream).level_m;
        self.lost_before_m(sense, flow_m3_s, upstream)
            + self.lost_inside_m(sense, flow_m3_s, inside_m)
            + self.lost_behind_m(sense, flow_m3_s, downstream)
    }

    /// Head in excess of what `flow` (≥ 0) requires for losses and the downstream level, metres; 0 under outlet
    /// control.
    pub fn free_drop_m(
        &self,
        sense: Sense,
        flow_m3_s: f64,
        [upstream, downstream]: [f64; 2],
    ) -> f64 {
        let [_, outlet] = self.sides(sense);
        let inside = [
            upstream - self.lost_before_m(sense, flow_m3_s, upstream),
            outlet.higher(flow_m3_s, downstream).level_m,
        ];
        self.free_drop_inside_m(sense, flow_m3_s, inside)
    }

    /// Whether a signed flow between these levels falls freely over a weir with nothing before it but screens: the
    /// water below does not reach its sill.
    pub fn is_free_weir(&self, flow_m3_s: f64, levels: [f64; 2]) -> bool {
        let sense = if flow_m3_s < 0.0 {
            Sense::Backward
        } else {
            Sense::Forward
        };
        let [_, downstream] = sense.along(self.inside_m(flow_m3_s, levels));
        let sill = self.sill(sense).filter(|_| self.pump.is_none());
        let is_free = sill.is_some_and(|sill| !sill.is_under(downstream));
        is_free && self.loss_along(sense).is_nothing()
    }

    /// The ends that a flow in this direction enters by and leaves by.
    fn sides(&self, sense: Sense) -> [&super::Port; 2] {
        let [source, target] = &self.ends;
        sense.along([source, target])
    }
}
