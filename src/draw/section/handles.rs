//! Crests: a lip where each is drilled or cut, with a handle to drag it.

use super::paper::SectionPage;
use super::run_end_points::{Connection, RunEndPoint};
use super::section_layout::settable;
use crate::draw::canvas::labels;
use crate::draw::canvas::labels::{LabelLine, LabelRequest};
use crate::draw::canvas::touch::called;
use crate::draw::canvas::touch::{Attention, Pick, TouchArea};
use crate::draw::page::shape::{Ink, Point, Rect, Shape, Stroke};
use crate::draw::page::text::begun;
use crate::finding::Severity;
use crate::layout::{Id, Opening, Run, RunEnd};
use crate::units::{self, Quantity};

/// Radius of the handle of a crest, points.
const HANDLE: f64 = 4.5;
/// Half the width of the lip drawn below it, points.
const LIP: f64 = 9.0;

/// Reserves the room of handles before items with alternative positions are placed.
pub(super) fn reserve(paper: &mut SectionPage<'_>) {
    for (run, end, spot) in settable(paper.scene.positions) {
        let end = run_end(end);
        let centre = paper.point(spot.at);
        if let Some(part) = paper.scene.layout.runs.get(run)
            && paper.sees(room(centre))
            && !is_quiet(paper, run, end, spot, attention(paper, part, end))
        {
            paper.keep(room(centre));
        }
    }
}

pub(super) fn draw(paper: &mut SectionPage<'_>) {
    for (run, end, spot) in settable(paper.scene.positions) {
        handle(paper, run, run_end(end), spot);
    }
}

fn run_end(end: usize) -> RunEnd {
    if end == 0 { RunEnd::From } else { RunEnd::To }
}

/// Returns the area of a handle.
fn room(centre: Point) -> Rect {
    Rect::between(centre, centre).grown(HANDLE + 2.0)
}

fn pick(part: &Run, end: RunEnd) -> Pick {
    Pick::Crest {
        run: part.id.clone(),
        end,
    }
}

fn attention(paper: &SectionPage<'_>, part: &Run, end: RunEnd) -> Attention {
    paper.scene.attention(&pick(part, end))
}

/// Returns whether a handle is not drawn until it is hovered, selected or the cause of a finding.
fn is_quiet(
    paper: &SectionPage<'_>,
    run: usize,
    end: RunEnd,
    spot: &RunEndPoint,
    attention: Attention,
) -> bool {
    let is_blamed = end == RunEnd::From && blamed(paper, run).is_some();
    let plain = attention == Attention::None && !is_blamed;
    plain && (lets_in(spot, end) || paper.is_crowded())
}

fn handle(paper: &mut SectionPage<'_>, run: usize, end: RunEnd, spot: &RunEndPoint) {
    let scene = paper.scene;
    let Some(part) = scene.layout.runs.get(run) else {
        return;
    };
    let centre = paper.point(spot.at);
    let rect = room(centre);
    if !paper.sees(rect) {
        return;
    }
    let attention = attention(paper, part, end);
    let blamed = blamed(paper, run).filter(|_| end == RunEnd::From);
    let quiet = is_quiet(paper, run, end, spot, attention);
    let ink = match (attention, blamed) {
        (Attention::None, Some(ink)) => ink,
        (Attention::None, None) => Ink::Line,
        _ => Ink::Accent,
    };
    let lip = vec![centre.moved(-LIP, 0.0), centre.moved(LIP, 0.0)];
    if !quiet {
        paper.line(Some(&part.id), lip, Stroke::new(ink, 1.4));
    }
    knob(paper, &part.id, centre, quiet, attention, ink);
    let opening = part.end(end).opening.as_ref();
    let what = opening.map_or("lip", Opening::height_word);
    let name = format!("{} of {}", begun(what), called(&part.name, &part.id));
    let reach = TouchArea::Spot {
        centre,
        radius: HANDLE + 2.0,
    };
    paper.touch(pick(part, end), reach, name);
    if attention != Attention::None || blamed.is_some() {
        let number = units::write(Quantity::Height, spot.at.z_m, scene.units);
        let words = format!("{} {number}", what);
        label(paper, &part.id, centre, rect, words, ink, attention);
    }
}

fn knob(
    paper: &mut SectionPage<'_>,
    id: &Id,
    centre: Point,
    quiet: bool,
    attention: Attention,
    ink: Ink,
) {
    let (radius, fill) = match attention {
        Attention::Selected => (HANDLE + 1.5, Ink::Accent),
        Attention::Hovered => (HANDLE + 1.5, Ink::Card),
        Attention::None if quiet => return,
        Attention::None => (HANDLE, Ink::Card),
    };
    let knob = Shape::Circle {
        centre,
        radius,
        fill: Some(fill),
        edge: Some(Stroke::new(ink, 1.6)),
    };
    paper.add(Some(id), knob);
}

fn label(
    paper: &mut SectionPage<'_>,
    id: &Id,
    centre: Point,
    rect: Rect,
    words: String,
    ink: Ink,
    attention: Attention,
) {
    if !paper.shows(rect) {
        return;
    }
    let mut spots = labels::LabelPosition::around(rect, 8.0);
    // Further positions for a crowded page.
    spots.extend(labels::LabelPosition::around(
        Rect::between(centre, centre).grown(26.0),
        8.0,
    ));
    spots.extend(labels::LabelPosition::around(
        Rect::between(centre, centre).grown(60.0),
        8.0,
    ));
    let request = LabelRequest {
        forms: vec![vec![LabelLine::new(words, 12.0, ink).strong()]],
        spots,
        rank: 100,
        clear: 5.0,
    };
    if attention == Attention::None {
        let request = LabelRequest {
            rank: 80,
            clear: 2.0,
            ..request
        };
        // Further away it would seem to belong to something else and gets a leader.
        paper.request_with_leader(id, 1.0, vec![request], (rect, 16.0));
    } else {
        paper.request_on_card(id, request);
    }
}

/// Returns whether water comes in at this end, so that its height matters less.
fn lets_in(spot: &RunEndPoint, end: RunEnd) -> bool {
    let mouth = matches!(
        spot.meets,
        Connection::DownMouth | Connection::LevelMouth | Connection::UpMouth
    );
    mouth || (end == RunEnd::To && spot.meets == Connection::Wall)
}

/// Returns the ink of the worst finding of which this run is the cause.
fn blamed(paper: &SectionPage<'_>, run: usize) -> Option<Ink> {
    let id = &paper.scene.layout.runs.get(run)?.id;
    let worst = paper.reports.blamed(id)?;
    match worst {
        Severity::Problem => Some(Ink::Problem),
        Severity::Warning => Some(Ink::Warning),
        Severity::Note => None,
    }
}
