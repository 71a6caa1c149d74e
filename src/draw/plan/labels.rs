//! Labels of vessels with name and level, inside the vessel if there is room, and their problems.

use super::outline::Outline;
use super::paper::PlanPage;
use super::severity;
use crate::draw::canvas::drawing_context::clipped;
use crate::draw::canvas::labels::size;
use crate::draw::canvas::labels::{LabelLine, LabelPosition, LabelRequest, LabelSide};
use crate::draw::canvas::touch::called;
use crate::draw::page::shape::{Anchor, Ink, Rect};
use crate::draw::page::text;
use crate::draw::parts::spilling;
use crate::draw::parts::spilling::spills;
use crate::draw::results::reports::by_how_much;
use crate::layout::Vessel;
use crate::states::report::VesselReport;
use crate::units::{self, Quantity};

const NAME_SIZE: f64 = 12.0;
const NUMBER_SIZE: f64 = 11.5;
const NAME_RANK: i32 = 62;
const SPILL_RANK: i32 = 95;
/// Clearance between text and the wall around it, points.
const CLEAR: f64 = 3.5;
/// Smallest width for wrapping lines, points.
const LEAST_WRAP: f64 = 64.0;
/// Distance from which a leader is drawn to the vessel, points.
const FAR: f64 = 14.0;
/// Size below which a vessel gets no label on a crowded page, points.
const LEAST: (f64, f64) = (40.0, 20.0);
/// Positions inside a vessel, as shares of its width and height from its middle.
const INSIDE: [(f64, f64); 13] = [
    (0.0, 0.0),
    (0.0, -0.14),
    (0.0, 0.14),
    (0.0, -0.27),
    (0.0, 0.27),
    (-0.2, 0.0),
    (0.2, 0.0),
    (-0.2, -0.2),
    (0.2, -0.2),
    (-0.2, 0.2),
    (0.2, 0.2),
    (0.0, -0.38),
    (0.0, 0.38),
];

pub(super) fn draw(paper: &mut PlanPage<'_>) {
    let scene = paper.scene;
    let vessels = scene.layout.vessels.iter().zip(&scene.positions.vessels);
    for (part, one) in vessels {
        let rect = paper.rect(one);
        if paper.sees(rect) {
            severity::mark(paper, part, one);
            vessel(paper, part, one, rect);
        }
    }
    for (part, place) in scene.layout.fixed.iter().zip(&scene.positions.fixed) {
        let centre = paper.point(*place);
        let rect = Rect::between(centre.moved(-15.0, -9.0), centre.moved(15.0, 9.0));
        if paper.sees(rect) {
            let name = called(&part.name, &part.id);
            let level = units::write(Quantity::Height, part.level_m, scene.units);
            let request = LabelRequest {
                forms: vec![vec![strong(name), number(level)], vec![strong(name)]],
                spots: LabelPosition::around(rect, 4.0),
                rank: NAME_RANK,
                clear: 1.0,
            };
            paper.request_surely(&part.id, 1.0, vec![request], (rect, FAR));
        }
    }
}

fn strong(words: &str) -> LabelLine {
    LabelLine::new(words, NAME_SIZE, Ink::Text).strong()
}

fn number(words: String) -> LabelLine {
    LabelLine::new(words, NUMBER_SIZE, Ink::Text)
}

fn vessel(paper: &mut PlanPage<'_>, part: &Vessel, one: &Outline, rect: Rect) {
    let report = paper.reports.vessel(&part.id);
    let over = report.filter(|_| spills(part, &paper.reports));
    let told = match over {
        Some(report) => spilled(paper, report, rect),
        None => level(paper, report).into_iter().collect(),
    };
    let (rank, strength) = match over {
        Some(_) => (SPILL_RANK, paper.scene.strength()),
        None => (NAME_RANK, 1.0),
    };
    let crowded = paper.is_crowded() && over.is_none();
    if crowded && (rect.width() < LEAST.0 || rect.height() < LEAST.1) {
        return;
    }
    let name = called(&part.name, &part.id);
    let mut requests: Vec<LabelRequest> = Vec::new();
    for told in told.iter().chain(std::iter::once(&Vec::new())) {
        let forms = forms(name, told);
        requests.extend(within(paper, one, &forms, rank));
        // The full text beside the vessel is better than a shorter one inside.
        if let Some(whole) = forms.first().filter(|_| !crowded) {
            requests.push(request(whole, next_to(paper, whole, rect), rank));
        }
    }
    if crowded {
        requests.retain(|request| !request.spots.is_empty());
        if !requests.is_empty() {
            paper.request_one_of(&part.id, strength, requests);
        }
    } else {
        paper.request_surely(&part.id, strength, requests, (rect, FAR));
    }
}

/// Returns a line with the level, if it is known.
fn level(paper: &PlanPage<'_>, report: Option<&VesselReport>) -> Option<Vec<LabelLine>> {
    // The real level, as in the section.
    let level_m = report?.stands_m()?;
    let mut level = units::write(Quantity::Height, level_m, paper.scene.units);
    let was_m = report.and_then(|report| paper.reports.other_level_m(&report.id));
    if let Some(was_m) = was_m {
        let by = by_how_much(Quantity::Height, level_m - was_m, paper.scene.units);
        level = format!("{level} ({by})");
    }
    Some(vec![number(level)])
}

/// Returns texts on the spill, both wrapped to the width of the vessel and unwrapped.
fn spilled(paper: &PlanPage<'_>, report: &VesselReport, rect: Rect) -> Vec<Vec<LabelLine>> {
    let most = rect.width() - 2.0 * CLEAR;
    let mut told = Vec::new();
    for form in spilling::forms(report, paper.scene.units) {
        if most >= LEAST_WRAP {
            told.push(wrapped(&form, most));
        }
        told.push(form);
    }
    told
}

/// Wraps lines to a width, points.
fn wrapped(lines: &[LabelLine], most: f64) -> Vec<LabelLine> {
    let broken = |line: &LabelLine| {
        let words = text::wrap(&line.words, line.size, line.weight, most);
        let line = line.clone();
        words.into_iter().map(move |words| LabelLine {
            words,
            ..line.clone()
        })
    };
    lines.iter().flat_map(broken).collect()
}

/// Returns requests for each form at the positions where it fits inside the vessel.
fn within(
    paper: &PlanPage<'_>,
    one: &Outline,
    forms: &[Vec<LabelLine>],
    rank: i32,
) -> Vec<LabelRequest> {
    let spots = inside(clipped(paper.rect(one), paper.shown()));
    let within = |form: &Vec<LabelLine>| {
        let (width, height) = size(form);
        let fits = |spot: &&LabelPosition| is_inside(paper, one, spot.rect(width, height));
        request(form, spots.iter().filter(fits).copied().collect(), rank)
    };
    forms.iter().map(within).collect()
}

/// Returns the name with `told` below it; a long name in one line or in two.
fn forms(name: &str, told: &[LabelLine]) -> Vec<Vec<LabelLine>> {
    let halves = halves(name).map(|(first, second)| vec![strong(first), strong(second)]);
    let names = std::iter::once(vec![strong(name)]).chain(halves);
    names
        .map(|name| name.into_iter().chain(told.iter().cloned()).collect())
        .collect()
}

fn request(form: &[LabelLine], spots: Vec<LabelPosition>, rank: i32) -> LabelRequest {
    LabelRequest {
        forms: vec![form.to_vec()],
        spots,
        rank,
        clear: 1.0,
    }
}

fn inside(rect: Rect) -> Vec<LabelPosition> {
    let centre = rect.centre();
    let spot = |(across, down): (f64, f64)| LabelPosition {
        at: centre.moved(across * rect.width(), down * rect.height()),
        across: Anchor::Middle,
        side: LabelSide::Beside,
    };
    INSIDE.map(spot).to_vec()
}

/// Returns whether all corners of a label are in the vessel, a little off its wall.
fn is_inside(paper: &PlanPage<'_>, one: &Outline, label: Rect) -> bool {
    let corners = label.grown(CLEAR).corners();
    corners
        .into_iter()
        .all(|corner| one.holds(one.form, paper.place(corner)))
}

/// Returns positions beside, above and below a vessel, but not in another vessel, whose label it would seem to be.
fn next_to(paper: &PlanPage<'_>, form: &[LabelLine], rect: Rect) -> Vec<LabelPosition> {
    let seen = clipped(rect, paper.shown());
    let (width, height) = size(form);
    let spots = [4.0, 14.0, 30.0]
        .into_iter()
        .flat_map(|gap| LabelPosition::around(seen, gap));
    let good = |spot: &LabelPosition| !paper.covers.strange(spot.rect(width, height), rect);
    spots.filter(good).collect()
}

/// Splits a name at the space nearest its middle.
fn halves(name: &str) -> Option<(&str, &str)> {
    let middle = name.len() / 2;
    let space = name
        .match_indices(' ')
        .map(|(index, _)| index)
        .min_by_key(|index| index.abs_diff(middle))?;
    Some((name.get(..space)?, name.get(space + 1..)?))
}
