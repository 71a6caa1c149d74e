//! Gauges for the air in runs: when a chain of runs primes, and when its siphon breaks.

use super::system::{NetworkState, System};
use crate::hydraulics::channel::circle::{critical_depth, full_bore_froude};
use crate::hydraulics::profile::high_point::{
    PRIMES_AT_SHARE, SELF_VENTING_FROUDE, steep_clearing_froude,
};
use crate::network::{Check, Link, Node, Outlet, Raised, RunLaw, Sense};

/// Depth of water over a lip that counts as none, metres: a mere film. Common practice, no source.
const WETTED_M: f64 = 0.001;
/// Flow below which a run counts as having no flow, m³/s.
const NO_FLOW_M3_S: f64 = 1e-10;

/// A run of a chain, with the levels at its ends.
struct Member<'s> {
    law: &'s RunLaw,
    flow: f64,
    /// Levels at source and target, downstream of their screens, metres.
    levels: [f64; 2],
    /// Whether the source and the target are joints.
    joints: [bool; 2],
}

impl<'s> Member<'s> {
    fn of(system: &'s System<'_>, point: &NetworkState, link: usize) -> Option<Member<'s>> {
        let flat = system.links.get(link)?;
        let Link::Run(law) = flat.law else {
            return None;
        };
        let is_joint = |node: usize| matches!(system.nodes[node], Node::Joint { .. });
        let flow = point.flow_m3_s.get(link).copied().unwrap_or(0.0);
        Some(Member {
            law,
            flow,
            levels: law.inside_m(flow, flat.levels(&point.head_m)),
            joints: flat.ends().map(is_joint),
        })
    }

    fn sense(&self) -> Sense {
        if self.flow < 0.0 {
            Sense::Backward
        } else {
            Sense::Forward
        }
    }

    fn flows(&self) -> bool {
        self.flow.abs() >= NO_FLOW_M3_S
    }

    /// Margin by which an end keeps air out, m.
    fn keeps_air_out_m(&self, end: usize) -> f64 {
        let port = &self.law.ends[end];
        let level_m = self.levels[end];
        if self.joints[end] || !port.lip_m.is_finite() || self.law.check == Check::Shut {
            return f64::INFINITY;
        }
        if let Some(raised) = self
            .law
            .raised
            .as_ref()
            .filter(|one| end == 0 && one.vented)
        {
            // Air enters at the vent until the leg behind the crest of this intake stands full.
            let bore_m = self.law.loss.bore_m;
            return self.behind_crest_m(raised, self.levels[1]) - bore_m;
        }
        let leaves = self.flows() && (self.flow > 0.0) == (end == 1);
        let outward = if end == 1 {
            Sense::Forward
        } else {
            Sense::Backward
        };
        let course = self
            .law
            .grade_with_air(outward)
            .map(|grade| grade.profile());
        // Where the pipe rises to its end, water stands in it and lets no air past.
        if (leaves || !self.flows()) && course.is_some_and(|course| !course.falls_to_outlet) {
            return f64::INFINITY;
        }
        if leaves {
            let bore_m = self.law.loss.bore_m;
            let froude = full_bore_froude(self.flow, bore_m, self.law.loss.gravity_m_s2);
            return (level_m - port.lip_m).max(bore_m * (froude - SELF_VENTING_FROUDE));
        }
        if !self.flows() && self.law.check.stops(outward.back()) {
            return f64::INFINITY;
        }
        let crown_m = match port.outlet {
            Outlet::Critical { bore_m } | Outlet::Full { bore_m } => bore_m,
            Outlet::Lip | Outlet::Sill(_) => 0.0,
        };
        level_m - (port.intake_m().max(port.lip_m + crown_m) + WETTED_M)
    }

    /// Margin by which the flow clears the air from the high points of the run, m; none where it has no high point.
    fn primes_m(&self) -> Option<f64> {
        if !self.flows() {
            // Nothing clears the air from a run without flow.
            let both = [Sense::Forward, Sense::Backward];
            let marched = both
                .into_iter()
                .filter_map(|way| self.law.grade_with_air(way));
            let mut holds = marched.map(|grade| grade.profile().can_prime());
            let still = self.law.check != Check::Shut && holds.any(|holds| holds);
            return still.then_some(-self.law.loss.bore_m);
        }
        let flow = self.flow.abs();
        let downstream_m = self.levels[usize::from(self.flow > 0.0)];
        let air = self.law.grade_with_air(self.sense());
        let air = air.and_then(|grade| grade.profile().air(flow, downstream_m));
        let marched = air.map(|air| air.primes_by_m);
        let raised = self.law.raised.as_ref().filter(|one| !one.vented);
        let raised = raised.filter(|_| self.flow > 0.0);
        let crest = raised.map(|raised| self.crest_m(raised, downstream_m));
        marched.into_iter().chain(crest).reduce(f64::min)
    }

    /// Hydraulic grade behind the crest of a raised intake, relative to the crest, m.
    fn behind_crest_m(&self, raised: &Raised, downstream_m: f64) -> f64 {
        let flow = self.flow.max(0.0);
        let tail_m = self.law.tail_m(Sense::Forward, flow, downstream_m);
        tail_m + self.law.loss.at(flow).value - raised.crest_m
    }

    /// The same for a raised intake whose pipe falls vertically behind the crest.
    fn crest_m(&self, raised: &Raised, downstream_m: f64) -> f64 {
        let loss = &self.law.loss;
        let (bore_m, gravity_m_s2) = (loss.bore_m, loss.gravity_m_s2);
        let below_m = self.behind_crest_m(raised, downstream_m);
        let critical_m = critical_depth(bore_m, self.flow, gravity_m_s2).value;
        let depth_m = critical_m.max(below_m).min(bore_m);
        let froude = full_bore_froude(self.flow, bore_m, gravity_m_s2);
        let clears_m = bore_m * (froude - steep_clearing_froude());
        if downstream_m > self.law.ends[1].lip_m {
            return clears_m;
        }
        clears_m.min(depth_m - PRIMES_AT_SHARE * bore_m)
    }
}

/// Priming margin of a chain, m: above 0 where its flows clear all of its air and no air enters.
///
/// `ceilings_m`: vessel levels above which the chain does not prime, because the water would spill over a rim first.
pub(super) fn primes(
    system: &System,
    point: &NetworkState,
    links: &[usize],
    ceilings_m: &[(usize, f64)],
) -> f64 {
    let members = || {
        links
            .iter()
            .filter_map(|&link| Member::of(system, point, link))
    };
    let carried = members().filter_map(|member| member.primes_m());
    let Some(carried_m) = carried.reduce(f64::min) else {
        return f64::MIN_POSITIVE.copysign(-1.0);
    };
    let room = ceilings_m.iter().map(|&(node, rim_m)| {
        let level_m = point.head_m.get(node).copied();
        rim_m - level_m.unwrap_or(rim_m)
    });
    let room_m = room.fold(f64::INFINITY, f64::min) + WETTED_M;
    carried_m
        .min(room_m)
        .min(stays_primed(system, point, links))
}

/// Margin of a primed chain, m: above 0 while no air enters it.
pub(super) fn stays_primed(system: &System, point: &NetworkState, links: &[usize]) -> f64 {
    let members = links
        .iter()
        .filter_map(|&link| Member::of(system, point, link));
    let ends = members.flat_map(|member| [0, 1].map(|end| member.keeps_air_out_m(end)));
    ends.fold(f64::MAX, f64::min)
}
