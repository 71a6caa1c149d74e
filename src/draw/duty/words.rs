//! Labels of a duty plot.

use super::lines::{DUTY, around, others};
use super::{DutyCurves, DutyPage, DutyPoint, DutyScene};
use crate::draw::canvas::labels::{LabelLine, LabelPosition, LabelRequest, LabelSide};
use crate::draw::page::shape::{Anchor, Ink, Point, Shape};
use crate::units::{self, Quantity};

const SIZE: f64 = 11.0;

/// A label of something in the plot.
struct Callout {
    /// Texts from the longest to the shortest.
    forms: Vec<String>,
    ink: Ink,
    strength: f64,
    rank: i32,
}

pub(super) fn draw_words(plot: &mut DutyPage, scene: &DutyScene<'_>, curves: &DutyCurves) {
    let mut requests = duties(plot, scene, curves);
    requests.extend(of_lines(plot, scene, curves));
    requests.extend(of_limits(plot, scene, curves));
    requests.sort_by_key(|(told, _)| std::cmp::Reverse(told.rank));
    for (told, spots) in requests {
        place(plot, told, spots);
    }
    if scene.system.is_none() || curves.clean.is_empty() && curves.dirty.is_empty() {
        missing(plot, scene);
    }
}

fn place(plot: &mut DutyPage, told: Callout, spots: Vec<LabelPosition>) {
    let form = |words: String| vec![LabelLine::new(words, SIZE, told.ink)];
    // Beside a small plot the numbers are listed, so only the shortest text is used.
    let skip = if plot.roomy {
        0
    } else {
        told.forms.len().saturating_sub(1)
    };
    let request = LabelRequest {
        forms: told.forms.into_iter().skip(skip).map(form).collect(),
        spots,
        rank: told.rank,
        clear: 1.0,
    };
    let label = plot.placer.place(&request);
    for line in label.into_iter().flat_map(|label| label.lines) {
        plot.add(told.strength, Shape::Text(line));
    }
}

/// Returns a label with flow and head for each duty point.
fn duties(
    plot: &DutyPage,
    scene: &DutyScene<'_>,
    curves: &DutyCurves,
) -> Vec<(Callout, Vec<LabelPosition>)> {
    let written = |(flow, head): DutyPoint| {
        let flow = units::write(Quantity::Flow, flow, scene.units);
        let head = units::write(Quantity::Head, head, scene.units);
        format!("{flow} at {head}")
    };
    let mut all = Vec::new();
    let report = scene.report.filter(|report| report.on);
    if let Some(report) = report {
        let value = (report.flow_m3_s, report.head_m);
        let told = Callout {
            forms: vec![
                format!("duty {}", written(value)),
                written(value),
                "duty".to_owned(),
            ],
            ink: Ink::Accent,
            strength: scene.trust.strength(),
            rank: 100,
        };
        all.push((told, LabelPosition::around(around(plot.point(value)), 3.0)));
    }
    if !plot.roomy {
        return all;
    }
    let other = others(scene, curves);
    for (duty, word) in other.into_iter().zip(["clean", "dirty"]) {
        let Some(duty) = duty else { continue };
        let value = (duty.flow_m3_s, duty.head_m);
        let forms = vec![format!("{word} {}", written(value)), word.to_owned()];
        let told = Callout {
            forms,
            ink: Ink::Accent,
            strength: scene.system_trust.strength(),
            rank: 60,
        };
        all.push((told, LabelPosition::around(around(plot.point(value)), 2.0)));
    }
    all
}

/// Returns a label for each line.
fn of_lines(
    plot: &DutyPage,
    scene: &DutyScene<'_>,
    curves: &DutyCurves,
) -> Vec<(Callout, Vec<LabelPosition>)> {
    let guessed = scene.pump.curve.is_guess();
    let pump = if guessed {
        ["pump, a guess", "pump"]
    } else {
        ["pump", "pump"]
    };
    let npsh = scene.pump.npsh_required.iter();
    let npsh: Vec<DutyPoint> = npsh.map(|one| (one.flow_m3_s, one.npsh_m)).collect();
    let system = scene.system_trust.strength();
    let lines = [
        (&curves.pump, pump, (Ink::Text, 1.0), 90),
        (
            &curves.clean,
            ["system, clean", "clean"],
            (Ink::WaterLine, system),
            80,
        ),
        (
            &curves.dirty,
            ["system, dirty", "dirty"],
            (Ink::WaterLine, system),
            70,
        ),
        (&npsh, ["Required NPSH", "NPSH"], (Ink::Warning, 1.0), 40),
    ];
    let told = lines.into_iter().filter(|(line, ..)| line.len() > 1);
    told.map(|(line, forms, (ink, strength), rank)| {
        let told = Callout {
            forms: forms.map(str::to_owned).to_vec(),
            ink,
            strength,
            rank,
        };
        (told, next_to(plot, line))
    })
    .collect()
}

/// Returns positions along the visible part of a line, from near its end back to its beginning.
fn next_to(plot: &DutyPage, line: &[DutyPoint]) -> Vec<LabelPosition> {
    let points: Vec<Point> = plot.chart.line(line).into_iter().flatten().collect();
    let count = points.len();
    let shares = [0.88, 0.78, 0.95, 0.66, 0.54, 0.42, 0.3, 0.2];
    let mut spots = Vec::new();
    for share in shares {
        // The share is below 1, so the index is within the count.
        #[allow(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            clippy::cast_precision_loss
        )]
        let place = (share * count as f64) as usize;
        let Some(at) = points.get(place) else {
            continue;
        };
        let spot = |dx: f64, dy: f64, across: Anchor, side: LabelSide| LabelPosition {
            at: at.moved(dx, dy),
            across,
            side,
        };
        spots.push(spot(5.0, 2.0, Anchor::Start, LabelSide::Below));
        spots.push(spot(-5.0, -2.0, Anchor::End, LabelSide::Above));
        spots.push(spot(5.0, -2.0, Anchor::Start, LabelSide::Above));
        spots.push(spot(-5.0, 2.0, Anchor::End, LabelSide::Below));
    }
    spots
}

/// Returns labels of the static lift, the limits and ends of the curve and the NPSH available.
fn of_limits(
    plot: &DutyPage,
    scene: &DutyScene<'_>,
    curves: &DutyCurves,
) -> Vec<(Callout, Vec<LabelPosition>)> {
    let head = |value: f64| units::write(Quantity::Head, value, scene.units);
    let flow = |value: f64| units::write(Quantity::Flow, value, scene.units);
    let soft = |forms: Vec<String>, rank: i32| Callout {
        forms,
        ink: Ink::SoftText,
        strength: 1.0,
        rank,
    };
    let mut all = Vec::new();
    let apart = curves.lifts.and_then(|lifts| lifts.apart(scene.units));
    if let Some(lifts) = curves.lifts {
        let read = head(lifts.begins_m);
        let told = Callout {
            forms: match apart {
                Some(_) => vec![
                    format!("static lift {read} with no flow"),
                    format!("static lift {read}"),
                    "static lift".to_owned(),
                ],
                None => vec![format!("static lift {read}"), "static lift".to_owned()],
            },
            ink: Ink::WaterLine,
            strength: scene.system_trust.strength(),
            rank: 75,
        };
        let at = plot.point((0.0, lifts.begins_m));
        let spots = [8.0, 40.0, 80.0].into_iter().flat_map(|dx| {
            [(3.0, LabelSide::Below), (-3.0, LabelSide::Above)].map(|(dy, side)| LabelPosition {
                at: at.moved(dx, dy),
                across: Anchor::Start,
                side,
            })
        });
        all.push((told, spots.collect()));
    }
    if let Some(duty) = apart.filter(|_| plot.roomy) {
        let read = head(duty.1);
        let told = Callout {
            forms: vec![format!("static lift {read} at the duty"), read],
            ink: Ink::WaterLine,
            strength: scene.trust.strength(),
            rank: 58,
        };
        let at = around(plot.point(duty)).grown(1.0);
        let spots = LabelPosition::around(at, 2.0);
        all.push((told, spots));
    }
    if let Some(held) = curves.held {
        let at = plot.point((held.flow_m3_s, held.head_m)).moved(0.0, -7.0);
        let told = Callout {
            forms: vec![
                "the limit of its intake".to_owned(),
                "intake limit".to_owned(),
            ],
            ink: Ink::Warning,
            strength: scene.system_trust.strength(),
            rank: 78,
        };
        all.push((told, LabelPosition::around(around(at).grown(2.0), 2.0)));
    }
    if let Some(first) = curves.pump.first() {
        let at = plot.point(*first);
        let told = soft(
            vec![format!("shut-off {}", head(first.1)), "shut-off".to_owned()],
            50,
        );
        all.push((told, LabelPosition::around(around(at).grown(1.0), 2.0)));
    }
    if let Some(last) = curves.pump.last() {
        let at = plot.point(*last);
        let told = soft(
            vec![
                format!("end of curve {}", flow(last.0)),
                "end of curve".to_owned(),
            ],
            45,
        );
        let mut spots = LabelPosition::around(around(at).grown(1.0), 2.0);
        spots.insert(
            0,
            LabelPosition {
                at: at.moved(2.0 + DUTY, -8.0),
                across: Anchor::End,
                side: LabelSide::Above,
            },
        );
        all.push((told, spots));
    }
    if let (false, Some(npsh)) = (
        scene.pump.npsh_required.is_empty(),
        scene.report.and_then(|one| one.npsh_available_m),
    ) {
        let value = (scene.report.map_or(0.0, |one| one.flow_m3_s), npsh);
        if value.1 <= plot.chart.up.high {
            let told = soft(
                vec![
                    format!("NPSH available {}", head(npsh)),
                    "available".to_owned(),
                ],
                42,
            );
            all.push((told, LabelPosition::around(around(plot.point(value)), 2.0)));
        }
    }
    all
}

/// Adds a text that says why there is no system curve.
fn missing(plot: &mut DutyPage, scene: &DutyScene<'_>) {
    let words = match scene.system {
        Some(_) => "Nothing flows at any speed: no system curve.",
        None if scene.pump.speed > 0.0 => "The system curve is being solved.",
        None => "The pump is off: no system curve.",
    };
    let inside = plot.chart.inside;
    let told = Callout {
        forms: vec![words.to_owned()],
        ink: Ink::SoftText,
        strength: 1.0,
        rank: 0,
    };
    let places = [0.85, 0.7, 0.5, 0.3, 0.15];
    let spots = places.map(|share| LabelPosition {
        at: inside.centre().moved(0.0, inside.height() * (share - 0.5)),
        across: Anchor::Middle,
        side: LabelSide::Beside,
    });
    place(plot, told, spots.to_vec());
}
