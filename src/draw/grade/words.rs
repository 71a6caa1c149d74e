//! Text of a grade line: names and levels, pump lifts, pressures, the path and the legend.

use super::marks::{ENERGY, GRADE, pump};
use super::{GradePage, HEAD, path_parts, sheet};
use crate::draw::canvas::labels::{LabelLine, LabelPosition, LabelRequest, LabelSide};
use crate::draw::canvas::touch::Attention;
use crate::draw::page::shape::{Anchor, Dash, Ink, Point, Rect, Shape, Stroke, Text, Weight, pt};
use crate::draw::page::text;
use crate::draw::parts::symbols;
use crate::units::{self, Quantity};

const NAME: f64 = 12.0;
const SIZE: f64 = 11.0;
/// Pressure up to which none is labelled, metres.
const PRESSED_M: f64 = 0.05;
/// Distance from which a label gets a leader, points.
const FAR: f64 = 9.0;

pub(super) fn draw_words(paper: &mut GradePage<'_>) {
    names(paper);
    lifts(paper);
    pressures(paper);
}

/// Requests a label with name and level for each vessel, above its rim.
fn names(paper: &mut GradePage<'_>) {
    let view = paper.scene.view;
    for stand in &paper.scene.profile.stands {
        let Some((floor_m, rim_m)) = stand.walls_m else {
            continue;
        };
        let left = view.x(stand.along_m);
        let right = view.x(stand.along_m + stand.width_m);
        if right < paper.room.left || left > paper.room.right {
            continue;
        }
        let top = view.y(rim_m.max(stand.level_m.unwrap_or(rim_m)));
        let about = Rect {
            left,
            right,
            top: top.max(paper.room.top),
            bottom: view.y(floor_m).min(paper.room.bottom),
        };
        let name = path_parts::name(paper.scene.layout, &stand.part);
        let ink = match paper.attention(&stand.part) {
            Attention::None => Ink::Text,
            _ => Ink::Accent,
        };
        let level = stand
            .level_m
            .map(|level_m| units::write(Quantity::Height, level_m, paper.scene.units));
        let form = |lines: Vec<String>| {
            let mut all: Vec<LabelLine> = lines
                .into_iter()
                .map(|words| LabelLine::new(words, NAME, ink).strong())
                .collect();
            all.extend(
                level
                    .iter()
                    .map(|level| LabelLine::new(level.clone(), SIZE, Ink::WaterLine)),
            );
            all
        };
        let broken = text::wrap(name, NAME, Weight::Strong, 74.0);
        let request = LabelRequest {
            forms: vec![form(vec![name.to_owned()]), form(broken)],
            spots: over(about, paper.room.top, paper.room.bottom),
            rank: 100,
            clear: 2.0,
        };
        paper
            .context
            .request_surely(&stand.part, 1.0, vec![request], (about, FAR));
    }
}

/// Returns positions above a vessel, from near to far, and then below it.
fn over(about: Rect, top: f64, bottom: f64) -> Vec<LabelPosition> {
    let middle = about.centre().x;
    let mut spots = Vec::new();
    for lift in [4.0, 16.0, 30.0, 46.0, 64.0, 84.0] {
        for (x, across) in [
            (middle, Anchor::Middle),
            (about.left, Anchor::Start),
            (about.right, Anchor::End),
        ] {
            let at = pt(x, about.top - lift);
            if at.y > top {
                spots.push(LabelPosition {
                    at,
                    across,
                    side: LabelSide::Above,
                });
            }
        }
    }
    for drop in [5.0, 20.0, 40.0] {
        let at = pt(middle, about.bottom + drop);
        if at.y < bottom {
            spots.push(LabelPosition {
                at,
                across: Anchor::Middle,
                side: LabelSide::Below,
            });
        }
    }
    spots
}

/// Requests a label with the lift of each pump on the path.
fn lifts(paper: &mut GradePage<'_>) {
    let view = paper.scene.view;
    for leg in &paper.scene.profile.legs {
        let Some((pump, lift)) = pump(paper, leg) else {
            continue;
        };
        let head = units::write(Quantity::Head, lift.high_m - lift.low_m, paper.scene.units);
        let name = path_parts::name(paper.scene.layout, &pump.id);
        let x = view.x(lift.along_m);
        let about = Rect {
            left: x - 1.0,
            right: x + 1.0,
            top: view.y(lift.high_m),
            bottom: view.y(lift.low_m),
        };
        let form = |words: String| vec![LabelLine::new(words, SIZE, Ink::Text).strong()];
        let both = vec![
            LabelLine::new(name, SIZE, Ink::Text).strong(),
            LabelLine::new(format!("lifts {head}"), SIZE, Ink::Text),
        ];
        let mut spots = Vec::new();
        for share in [0.5, 0.3, 0.7, 0.12, 0.88] {
            let y = about.top + share * about.height();
            spots.push(LabelPosition {
                at: pt(x - 6.0, y),
                across: Anchor::End,
                side: LabelSide::Beside,
            });
            spots.push(LabelPosition {
                at: pt(x + 6.0, y),
                across: Anchor::Start,
                side: LabelSide::Beside,
            });
        }
        let request = LabelRequest {
            forms: vec![both, form(format!("lifts {head}"))],
            spots,
            rank: 90,
            clear: 2.0,
        };
        paper.context.request(&pump.id, paper.strength, request);
    }
}

/// A point of a run on the page, with the height of the grade above the crown there.
struct CrownPressure<'a> {
    run: &'a crate::layout::Id,
    at: Point,
    over_m: f64,
    sucks: bool,
}

/// Marks and labels the highest and the lowest pressure along the path; below the pipe it is suction.
fn pressures(paper: &mut GradePage<'_>) {
    let view = paper.scene.view;
    let mut all: Vec<CrownPressure<'_>> = Vec::new();
    for leg in &paper.scene.profile.legs {
        for point in &leg.points {
            let (Some(grade_m), Some(crown_m)) = (point.grade_m, point.crown_m) else {
                continue;
            };
            let over_m = grade_m - crown_m;
            let at = pt(view.x(point.distance_m + leg.shift_m), view.y(crown_m));
            let seen = paper.room.grown(1.0).holds(at);
            let sucks = leg.sucks(point);
            if seen && over_m.is_finite() && (sucks || over_m > 0.0) {
                all.push(CrownPressure {
                    run: &leg.run,
                    at,
                    over_m,
                    sucks,
                });
            }
        }
    }
    let most = all.iter().max_by(|a, b| a.over_m.total_cmp(&b.over_m));
    let least = all
        .iter()
        .filter(|one| paper.reports.run(one.run).is_some());
    let least = least.min_by(|a, b| a.over_m.total_cmp(&b.over_m));
    let head = |value_m: f64| units::write(Quantity::Head, value_m, paper.scene.units);
    let mut told = Vec::new();
    if let Some(one) = least.filter(|one| one.sucks) {
        let words = format!(
            "lowest: {} below the crown, under suction",
            head(-one.over_m)
        );
        let short = format!("{} under the crown", head(-one.over_m));
        told.push((one, vec![words, short], (Ink::Warning, 85)));
    } else if let Some(one) = least.filter(|_| most.is_some_and(|most| most.over_m > PRESSED_M)) {
        told.push((
            one,
            vec![format!("lowest pressure {}", head(one.over_m.max(0.0)))],
            (Ink::SoftText, 40),
        ));
    }
    if let Some(one) = most.filter(|one| one.over_m > PRESSED_M) {
        told.push((
            one,
            vec![format!("highest pressure {}", head(one.over_m))],
            (Ink::SoftText, 45),
        ));
    }
    let strength = paper.strength;
    for (one, forms, (ink, rank)) in told {
        let dot = Rect::between(one.at, one.at).grown(3.0);
        // At a pump its symbol marks the position.
        let at_pump = !paper.context.is_kept_free(dot);
        let about = if at_pump {
            dot.grown(symbols::PUMP)
        } else {
            dot
        };
        let spots = [6.0, 14.0, 24.0, 36.0, 52.0, 72.0]
            .into_iter()
            .flat_map(|gap| LabelPosition::around(about, gap));
        let request = LabelRequest {
            forms: forms
                .into_iter()
                .map(|words| {
                    if at_pump {
                        format!("{words}, at the pump")
                    } else {
                        words
                    }
                })
                .map(|words| vec![LabelLine::new(words, SIZE, ink)])
                .collect(),
            spots: spots.collect(),
            rank,
            clear: 2.0,
        };
        let dot = Shape::Circle {
            centre: one.at,
            radius: 2.6,
            fill: Some(Ink::Page),
            edge: Some(Stroke::new(ink, 1.4)),
        };
        if !at_pump {
            paper.context.keep(about);
            paper.context.add_faint(Some(one.run), strength, dot);
        }
        // Requested without a leader, which from far away would seem to point at something else.
        paper.context.request(one.run, strength, request);
    }
}

/// Draws the path on the left of the heading and the legend on the right.
pub(super) fn head(paper: &mut GradePage<'_>) {
    let page = paper.context.page;
    let baseline = HEAD - 10.0;
    let mut right = page.right - 12.0;
    let hatched = Stroke::new(Ink::WaterLine, 0.7);
    let legend = [
        ("pressure", hatched, 900.0),
        ("energy", ENERGY, 0.0),
        ("grade", GRADE, 0.0),
    ];
    for (words, stroke, least) in legend {
        if page.width() < least {
            continue;
        }
        let wide = text::width(words, SIZE, Weight::Regular);
        write(
            paper,
            pt(right - wide, baseline),
            words.to_owned(),
            SIZE,
            Weight::Regular,
        );
        sample(paper, pt(right - wide - 6.0, baseline - 4.0), stroke);
        right -= wide + 46.0;
    }
    let words = sheet::path_words(paper.scene.layout, paper.scene.profile);
    let left = 10.0;
    let fitted = text::fit(&words, SIZE, Weight::Strong, right - left - 8.0).into_owned();
    write(paper, pt(left, baseline), fitted, SIZE, Weight::Strong);
}

/// Draws a sample of a line for the legend, ending at `end`.
fn sample(paper: &mut GradePage<'_>, end: Point, stroke: Stroke) {
    if stroke.width < 1.0 && stroke.dash == Dash::Solid {
        for step in 0..4 {
            let x = end.x - f64::from(step) * 7.0;
            paper
                .context
                .line(None, vec![pt(x, end.y - 6.0), pt(x, end.y + 5.0)], stroke);
        }
        return;
    }
    paper
        .context
        .line(None, vec![end.moved(-26.0, 0.0), end], stroke);
}

fn write(paper: &mut GradePage<'_>, at: Point, words: String, size: f64, weight: Weight) {
    let text = Text {
        at,
        anchor: Anchor::Start,
        words,
        size,
        weight,
        ink: Ink::Text,
    };
    paper.context.add(None, Shape::Text(text));
}
