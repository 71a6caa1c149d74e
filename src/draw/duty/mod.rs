//! The duty plot: the pump curve, the system curves clean and dirty, and the duty points where they meet.
//!
//! Lines differ by their dashes and their labels, never by colour alone: the pump is a thick line, the clean system a
//! thin one, the dirty system a dashed one, lifts and limits are dotted.

mod lines;
mod words;

use crate::draw::axes::chart::{Axis, Chart};
use crate::draw::canvas::labels::Placer;
use crate::draw::canvas::touch::Trust;
use crate::draw::page::shape::{Drawing, Mark, Point, Rect, Shape, pt};
use crate::evaluate::{self, SystemCurve, SystemPoint};
use crate::layout::{CurveForm, Pump};
use crate::states::report::PumpReport;
use crate::units::{self, Quantity, UnitSystem};

/// Margins for numbers on the left and below, for a title above, and on the right, points.
const LEFT: f64 = 42.0;
const FOOT: f64 = 38.0;
const TOP: f64 = 24.0;
const RIGHT: f64 = 10.0;
/// Width from which all labels are shown, points.
const ROOMY: f64 = 520.0;

/// Flow (m³/s) and head (m).
type DutyPoint = (f64, f64);

/// Input of a duty plot.
#[derive(Clone, Copy)]
pub struct DutyScene<'a> {
    /// The pump, with its curve and speed.
    pub pump: &'a Pump,
    /// Name of the pump.
    pub name: &'a str,
    /// Results of the pump in the state shown; `None`: not known.
    pub report: Option<&'a PumpReport>,
    /// Trust in `report`.
    pub trust: Trust,
    /// System curve of the network; `None`: not known yet.
    pub system: Option<&'a SystemCurve>,
    /// Trust in `system`.
    pub system_trust: Trust,
    /// Units of the numbers.
    pub units: UnitSystem,
    /// Width and height of the page, points.
    pub page: (f64, f64),
}

/// Draws a duty plot. Never fails: unknown and non-finite values are left out.
pub fn duty(scene: &DutyScene<'_>) -> Drawing {
    let (width, height) = scene.page;
    let curves = DutyCurves::of(scene);
    let page = Rect::between(pt(0.0, 0.0), pt(width, height));
    let mut plot = DutyPage {
        chart: chart(scene, &curves),
        marks: Vec::new(),
        placer: Placer::new(page),
        roomy: width >= ROOMY,
    };
    plot.marks.extend(plot.chart.frame("Flow", "Head"));
    plot.keep_numbers();
    lines::draw(&mut plot, scene, &curves);
    words::draw_words(&mut plot, scene, &curves);
    Drawing {
        width,
        height,
        title: format!("Duty of {}", scene.name),
        marks: plot.marks,
        under: None,
    }
}

/// A page while it is being drawn.
struct DutyPage {
    chart: Chart,
    marks: Vec<Mark>,
    placer: Placer,
    /// Whether the page is large enough for all labels.
    roomy: bool,
}

impl DutyPage {
    fn add(&mut self, strength: f64, shape: Shape) {
        self.marks.push(Mark {
            shape,
            part: None,
            strength,
        });
    }

    /// Keeps labels off the axis numbers and the axes.
    fn keep_numbers(&mut self) {
        for mark in &self.marks {
            if let Shape::Text(text) = &mark.shape {
                self.placer.block(crate::draw::page::text::bounds(text));
            }
        }
        let inside = self.chart.inside;
        let corner = pt(inside.left, inside.bottom);
        self.placer.avoid(&[
            pt(inside.left, inside.top),
            corner,
            pt(inside.right, inside.bottom),
        ]);
    }

    fn point(&self, value: DutyPoint) -> Point {
        self.chart.point(value)
    }
}

/// All curves of the plot, at the speed of the pump.
struct DutyCurves {
    pump: Vec<DutyPoint>,
    /// Edges of the band of a guessed curve, lower head first.
    band: Option<[Vec<DutyPoint>; 2]>,
    clean: Vec<DutyPoint>,
    dirty: Vec<DutyPoint>,
    /// Duty points, clean and dirty.
    duties: [Option<SystemPoint>; 2],
    /// Point where the intake of the clean system lets no more through.
    held: Option<SystemPoint>,
    /// Static lift by flow, clean, from the start of the curve.
    lift: Vec<DutyPoint>,
    /// Static lifts that are labelled.
    lifts: Option<Lifts>,
}

impl DutyCurves {
    fn of(scene: &DutyScene<'_>) -> DutyCurves {
        let speed = scene.pump.speed.max(0.0);
        let at_speed = |line: Vec<DutyPoint>| -> Vec<DutyPoint> {
            let turned = |(flow, head): DutyPoint| (flow * speed, head * speed * speed);
            line.into_iter().map(turned).collect()
        };
        let line = |form: &CurveForm| at_speed(evaluate::line_of_curve(form).unwrap_or_default());
        let band = evaluate::edges_of_guess(&scene.pump.curve);
        let own = |points: &[SystemPoint]| {
            let mut points = points.iter().copied();
            points.find(|one| {
                (one.speed - speed).abs() < 1e-9 && one.flow_m3_s > 0.0 && !one.is_limit
            })
        };
        let none = SystemCurve::default();
        let system = scene.system.unwrap_or(&none);
        DutyCurves {
            pump: line(&scene.pump.curve),
            band: band.map(|both| both.map(|form| line(&form))),
            clean: smooth(&system.clean),
            dirty: smooth(&system.dirty),
            duties: [own(&system.clean), own(&system.dirty)],
            held: system.clean.last().filter(|last| last.is_limit).copied(),
            lift: system
                .clean
                .iter()
                .map(|one| (one.flow_m3_s, one.static_m))
                .collect(),
            lifts: Lifts::of(scene.report, scene.system),
        }
    }
}

/// Static lifts that a plot labels: levels move with the flow, and the lift with them.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Lifts {
    /// Static lift at no flow, where the clean system curve begins, metres.
    pub begins_m: f64,
    /// Flow (m³/s) and static lift (m) of the state shown; `None`: the pump does not run in it.
    pub duty: Option<(f64, f64)>,
}

impl Lifts {
    /// Returns the lifts; `None` without a system curve: nothing flows at any speed, or it is not known yet.
    pub fn of(report: Option<&PumpReport>, system: Option<&SystemCurve>) -> Option<Lifts> {
        let begins = system.and_then(|system| system.clean.first())?;
        let shown = report.filter(|report| report.on);
        Some(Lifts {
            begins_m: begins.head_m,
            duty: shown.map(|report| (report.flow_m3_s, report.static_m)),
        })
    }

    /// Returns the duty and its lift if the lift is written as another number than the lift at no flow.
    pub fn apart(&self, system: UnitSystem) -> Option<(f64, f64)> {
        let read = |head_m: f64| units::write(Quantity::Head, head_m, system);
        self.duty.filter(|duty| read(duty.1) != read(self.begins_m))
    }

    /// Describes the lift at the duty, and also at no flow if that is another number.
    pub fn lifts(&self, system: UnitSystem) -> String {
        let read = |head_m: f64| units::write(Quantity::Head, head_m, system);
        match self.apart(system) {
            Some((_, at_duty_m)) => format!(
                "static lift {} at the duty, {} with no flow",
                read(at_duty_m),
                read(self.begins_m)
            ),
            None => format!("static lift {}", read(self.begins_m)),
        }
    }
}

/// Interpolates between points: losses go with the square of the flow.
fn smooth(points: &[SystemPoint]) -> Vec<DutyPoint> {
    const PIECES: u32 = 6;
    let mut line: Vec<DutyPoint> = Vec::new();
    for pair in points.windows(2) {
        let [a, b] = *pair else { continue };
        let (low, high) = (a.flow_m3_s, b.flow_m3_s);
        let squares = high * high - low * low;
        for piece in 0..PIECES {
            let flow = low + (high - low) * f64::from(piece) / f64::from(PIECES);
            let share = (flow * flow - low * low) / squares.max(f64::MIN_POSITIVE);
            line.push((flow, a.head_m + (b.head_m - a.head_m) * share));
        }
    }
    line.extend(points.last().map(|last| (last.flow_m3_s, last.head_m)));
    line
}

fn chart(scene: &DutyScene<'_>, curves: &DutyCurves) -> Chart {
    let (width, height) = scene.page;
    let edges = curves.band.iter().flatten().flatten();
    let known = curves.pump.iter().chain(edges).copied();
    let report = scene.report.filter(|report| report.on);
    let duty = report.map(|report| (report.flow_m3_s, report.head_m));
    let lift = curves.lifts.map(|lifts| (0.0, lifts.begins_m));
    let all: Vec<DutyPoint> = known.chain(duty).chain(lift).collect();
    let most = |of: fn(&DutyPoint) -> f64| all.iter().map(of).fold(0.0, f64::max);
    let least = all.iter().map(|value| value.1).fold(0.0, f64::min);
    Chart {
        inside: Rect {
            left: LEFT,
            top: TOP,
            right: (width - RIGHT).max(LEFT + 1.0),
            bottom: (height - FOOT).max(TOP + 1.0),
        },
        across: Axis::over(Quantity::Flow, (0.0, most(|value| value.0)), 1e-5),
        up: Axis::over(Quantity::Head, (least, most(|value| value.1)), 0.01),
        units: scene.units,
    }
}
