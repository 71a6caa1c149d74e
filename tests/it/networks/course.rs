//! A layout followed in time.

use super::Layout;
use fallwright::catalogue::Catalogue;
use fallwright::lower::{Age, Lowered, Pumps, Situation, Walls, lower};
use fallwright::network::Link;
use fallwright::solve::{Gauge, NetworkState, Stop, System, Trace, TraceOptions, Watch, trace};

/// Longer than anything that is timed here, s.
const LONG_S: f64 = 2e4;

/// A layout on its way from the filled levels, pumps on.
pub struct Course {
    layout: Layout,
    lowered: Lowered,
}

impl Course {
    pub fn of(layout: Layout, walls: Walls) -> Course {
        let situation = Situation {
            pumps: Pumps::On,
            walls,
            age: Age::New,
        };
        let lowered = lower(&layout, Catalogue::builtin(), situation);
        Course { layout, lowered }
    }

    /// With tall walls.
    pub fn tall(layout: Layout) -> Course {
        Course::of(layout, Walls::Tall)
    }

    /// Every overflow without a vent primed.
    pub fn primed(mut self) -> Course {
        for link in self.lowered.network.edge_weights_mut() {
            if let Link::Run(run) = link
                && let Some(raised) = &mut run.raised
            {
                assert!(!raised.vented);
                raised.primed = true;
            }
        }
        self
    }

    fn node(&self, vessel: &str) -> usize {
        let mut vessels = self.layout.vessels.iter();
        let place = vessels.position(|part| part.id.as_str() == vessel);
        self.lowered.origin.vessels[place.expect("a vessel of this id")]
    }

    fn link(&self, run: &str) -> usize {
        let mut runs = self.layout.runs.iter();
        let place = runs.position(|part| part.id.as_str() == run);
        self.lowered.origin.runs[place.expect("a run of this id")]
    }

    /// The trace of `seconds`, every step kept.
    pub fn after(&self, seconds: f64) -> Trace {
        let system = System::new(&self.lowered.network);
        follow(&system, &system.start(), seconds)
    }

    /// Level of a vessel after `seconds`, metres.
    pub fn level_after(&self, vessel: &str, seconds: f64) -> f64 {
        self.after(seconds).end.head_m[self.node(vessel)]
    }

    /// Flow of a run after `seconds`, m³/s.
    pub fn flow_after(&self, run: &str, seconds: f64) -> f64 {
        self.after(seconds).end.flow_m3_s[self.link(run)]
    }

    /// When a vessel's level first comes to `level_m`, s.
    ///
    /// The step in which it does is taken again, shorter and shorter, until it ends there.
    pub fn time_to(&self, vessel: &str, level_m: f64) -> f64 {
        let node = self.node(vessel);
        self.time_until(|point| point.head_m[node] - level_m)
    }

    /// When a vessel's level first goes over `level_m`, s, as the trace itself tells it: it stops there.
    pub fn event_over(&self, vessel: &str, level_m: f64) -> f64 {
        let system = System::new(&self.lowered.network);
        let node = self.node(vessel);
        let watch = Watch {
            gauge: Gauge::Level {
                node,
                height_m: level_m,
            },
            stop: Stop::Up,
        };
        let options = TraceOptions {
            until_s: Some(LONG_S),
            keep_steps: false,
            watches: vec![watch],
        };
        let done = trace(&system, &system.start(), &options).expect("the trace is solved");
        assert_eq!(done.stopped_by, Some(0));
        assert!((done.end.head_m[node] - level_m).abs() < 1e-5);
        done.time_s
    }

    /// When `sign` of the levels first becomes 0, s.
    pub fn time_until(&self, sign: impl Fn(&NetworkState) -> f64) -> f64 {
        let system = System::new(&self.lowered.network);
        let course = follow(&system, &system.start(), LONG_S).course;
        let first = sign(&course.points[0]);
        let passed = |point: &NetworkState| sign(point) * first <= 0.0;
        let step = course
            .points
            .iter()
            .position(passed)
            .expect("it comes to that")
            - 1;
        let from = &course.points[step];
        let (mut low, mut high) = (0.0, course.times_s[step + 1] - course.times_s[step]);
        for _ in 0..40 {
            let middle = 0.5 * (low + high);
            if passed(&follow(&system, from, middle).end) {
                high = middle;
            } else {
                low = middle;
            }
        }
        course.times_s[step] + high
    }
}

fn follow(system: &System, from: &NetworkState, seconds: f64) -> Trace {
    let options = TraceOptions {
        until_s: Some(seconds),
        keep_steps: true,
        watches: Vec::new(),
    };
    trace(system, from, &options).expect("the trace is solved")
}
