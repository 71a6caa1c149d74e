//! The law of a run with screens before its ends.
//!
//! A screen upstream is passed before the opening: the level behind it is that outside less what it loses. One
//! downstream is passed after it: the level inside stands higher than that outside. Between the two the law is that
//! of `law`.

use super::law::{FlowControl, RequiredHead, SHALLOWEST, STEEPEST, STEEPEST_RUN, Sense, Threshold};
use super::link::RunLaw;

impl RunLaw {
    /// Whether a screen stands before one of its ends.
    pub(super) fn has_screen(&self) -> bool {
        self.ends.iter().any(|end| end.screen.is_some())
    }

    /// Head that must stand upstream for `flow` (≥ 0, m³/s) to pass against `downstream_m`.
    pub fn required_head(&self, sense: Sense, flow: f64, downstream_m: f64) -> RequiredHead {
        if !self.has_screen() {
            return self.required_head_inside(sense, flow, downstream_m);
        }
        let inside = self.required_head_from_inside(sense, flow, downstream_m);
        self.outside(sense, flow, inside)
    }

    /// The same at the opening, behind the screen upstream.
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
        // What does not ask for a level does not ask how fast it rises, and it may rise without end.
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

    /// What must stand outside the screen upstream where so much must stand behind it.
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

    /// The head of [`RunLaw::need`] for no flow, in a fraction of its time.
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

    /// What the inlet asks for at its opening, and the same of all behind it.
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

    /// Head that must stand upstream for `flow` to pass the inlet as well, and which of the two asks for more.
    pub(crate) fn required_head_with_screen(
        &self,
        sense: Sense,
        flow: f64,
        downstream_m: f64,
    ) -> (RequiredHead, FlowControl) {
        let [by_inlet, behind] = self.asked(sense, flow, downstream_m);
        // A free weir asks for the same as an inlet and as a sill.
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

    /// Head that the inlet asks for over what all behind it asks for, metres: over 0 where the inlet holds a flow (≥ 0).
    pub(crate) fn starved_m(&self, sense: Sense, flow: f64, downstream_m: f64) -> f64 {
        let [by_inlet, behind] = self.asked(sense, flow, downstream_m);
        by_inlet.head_m - behind.head_m
    }

    /// The levels at source and target behind its screens, for a signed flow between those outside.
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

    /// What the screen upstream takes from a flow (≥ 0) at a level outside, metres.
    pub fn lost_before_m(&self, sense: Sense, flow: f64, upstream_m: f64) -> f64 {
        let [inlet, _] = self.sides(sense);
        let screen = inlet.screen;
        screen.map_or(0.0, |screen| screen.loss_m(flow, upstream_m))
    }

    /// What the screen downstream takes from a flow (≥ 0) that leaves to a level outside, metres: by how much the grade
    /// at the outlet stands higher for it; nothing where that is in air all the same.
    pub fn lost_behind_m(&self, sense: Sense, flow: f64, downstream_m: f64) -> f64 {
        let [_, outlet] = self.sides(sense);
        if outlet.screen.is_none() {
            return 0.0;
        }
        let inside_m = outlet.higher(flow, downstream_m).level_m;
        self.tail_m(sense, flow, inside_m) - self.tail_m(sense, flow, downstream_m)
    }

    /// Head lost by a flow (≥ 0) this way between two levels, metres, without a pump's gain and the rising leg of a
    /// raised intake; of a marched run all that its grade rises over its tail.
    pub fn lost_m(&self, sense: Sense, flow_m3_s: f64, [upstream, downstream]: [f64; 2]) -> f64 {
        let [_, outlet] = self.sides(sense);
        let inside_m = outlet.higher(flow_m3_s, downstream).level_m;
        self.lost_before_m(sense, flow_m3_s, upstream)
            + self.lost_inside_m(sense, flow_m3_s, inside_m)
            + self.lost_behind_m(sense, flow_m3_s, downstream)
    }

    /// Head over what `flow` (≥ 0) needs by losses and the level behind it, metres; 0 where they hold it.
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

    /// Whether a signed flow between these levels falls free over a weir that nothing but screens stand before: the
    /// water under it does not reach its sill.
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

    /// The ends that a flow this way comes in by and leaves by.
    fn sides(&self, sense: Sense) -> [&super::Port; 2] {
        let [source, target] = &self.ends;
        sense.along([source, target])
    }
}
