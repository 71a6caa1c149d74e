//! Labels with the name and the water level of a vessel, where they are clearly its own.

use super::paper::SectionPage;
use crate::draw::canvas::drawing_context::clipped;
use crate::draw::canvas::labels::size;
use crate::draw::canvas::labels::{LabelLine, LabelPosition, LabelRequest, LabelSide};
use crate::draw::page::shape::{Anchor, Ink, Rect, pt};
use crate::draw::results::reports::by_how_much;
use crate::layout::Id;
use crate::units::{self, Quantity};

/// Font sizes of names and of numbers, points.
const NAME_SIZE: f64 = 12.0;
const NUMBER_SIZE: f64 = 11.5;
/// Ranks: levels are placed before names, which matter less.
const LEVEL_RANK: i32 = 64;
const NAME_RANK: i32 = 62;
/// Distance from which a leader is drawn to the vessel, points.
const FAR: f64 = 15.0;

/// A vessel or fixed level to be labelled.
pub(super) struct NamedPart<'a> {
    pub id: &'a Id,
    pub name: &'a str,
    /// Whether its flow requires a level above its rim.
    pub over_rim: bool,
    /// Area that it covers, on the page and beyond.
    pub rect: Rect,
}

/// Requests the name: below the floor or inside if it fits there in one or two lines, else further away.
pub(super) fn name(paper: &mut SectionPage<'_>, one: &NamedPart<'_>) {
    let seen = clipped(one.rect, paper.page);
    let line = |words: &str| LabelLine::new(words, NAME_SIZE, Ink::Text).strong();
    let whole = vec![line(one.name)];
    let mut requests = vec![request(paper, one, &whole, &near(seen), NAME_RANK)];
    if let Some((first, second)) = halves(one.name) {
        let two = vec![line(first), line(second)];
        requests.push(request(paper, one, &two, &near(seen), NAME_RANK));
    }
    requests.push(request(paper, one, &whole, &far(seen), NAME_RANK));
    paper.request_surely(one.id, 1.0, requests, (one.rect, FAR));
}

fn near(rect: Rect) -> Vec<LabelPosition> {
    let middle = rect.centre();
    let beside = |x: f64, across: Anchor| LabelPosition {
        at: pt(x, middle.y),
        across,
        side: LabelSide::Beside,
    };
    vec![
        hung(middle.x, rect.bottom + 4.0, LabelSide::Below),
        hung(middle.x, rect.bottom - 4.0, LabelSide::Above),
        hung(middle.x, rect.top - 14.0, LabelSide::Above),
        flush(rect.left + 4.0, rect.bottom - 4.0, LabelSide::Above),
        flush(rect.left, rect.top - 4.0, LabelSide::Above),
        flush(rect.left, rect.bottom + 4.0, LabelSide::Below),
        beside(rect.right + 6.0, Anchor::Start),
        beside(rect.left - 6.0, Anchor::End),
        // Right-aligned at the right wall, for when something is at the left.
        LabelPosition {
            at: pt(rect.right, rect.bottom + 4.0),
            across: Anchor::End,
            side: LabelSide::Below,
        },
        LabelPosition {
            at: pt(rect.right, rect.top - 4.0),
            across: Anchor::End,
            side: LabelSide::Above,
        },
        // Beside the foot, for when the neighbour is higher.
        LabelPosition {
            at: pt(rect.left - 6.0, rect.bottom),
            across: Anchor::End,
            side: LabelSide::Above,
        },
        flush(rect.right + 6.0, rect.bottom, LabelSide::Above),
    ]
}

fn far(rect: Rect) -> Vec<LabelPosition> {
    let middle = rect.centre().x;
    let mut far = Vec::new();
    for off in [20.0, 36.0, 52.0] {
        far.push(hung(middle, rect.bottom + off, LabelSide::Below));
        far.push(hung(middle, rect.top - 10.0 - off, LabelSide::Above));
    }
    far
}

/// Requests the level: at the water line if there is room, else above the rim or below the floor.
///
/// `level_m` is above the datum, `needed_m` the level that the flow would need if that differs; `water` is the drawn
/// surface, a rectangle without height.
pub(super) fn level(
    paper: &mut SectionPage<'_>,
    one: &NamedPart<'_>,
    level_m: f64,
    needed_m: Option<f64>,
    water: Rect,
) {
    let rect = clipped(one.rect, paper.page);
    let surface = water.top;
    let number = units::write(Quantity::Height, level_m, paper.scene.units);
    let line = |words: &str| vec![LabelLine::new(words, NUMBER_SIZE, Ink::Text)];
    let mut forms = vec![line(&number)];
    if let Some(was_m) = paper.reports.other_level_m(one.id) {
        let by = by_how_much(Quantity::Height, level_m - was_m, paper.scene.units);
        forms.insert(0, line(&format!("{number} ({by})")));
    }
    // The actual level comes first, then what the flow would need with tall walls.
    if let Some(needed_m) = needed_m {
        let needed = units::write(Quantity::Height, needed_m, paper.scene.units);
        forms.insert(0, line(&format!("{number}, would need {needed}")));
    }
    // Without room for the unit, millimetres are understood.
    forms.extend(number.strip_suffix(" mm").map(line));
    let middle = rect.centre().x;
    let off = vec![
        hung(middle, rect.top - 3.0, LabelSide::Above),
        hung(middle, rect.bottom + 3.0, LabelSide::Below),
        hung(middle, rect.top - 18.0, LabelSide::Above),
        hung(middle, rect.bottom + 18.0, LabelSide::Below),
        hung(middle, rect.top - 33.0, LabelSide::Above),
    ];
    let at_surface = at_surface(rect, surface);
    // On a cramped page a level is shown at its water or nowhere.
    let places = match paper.is_cramped() && !one.over_rim {
        true => vec![&at_surface],
        false => vec![&at_surface, &off],
    };
    let requests = places.into_iter().flat_map(|spots| {
        let forms = forms.iter();
        forms.map(|form| request(paper, one, form, spots, LEVEL_RANK))
    });
    let requests = requests.collect();
    let strength = paper.scene.strength();
    paper.request_with_leader(one.id, strength, requests, (water, FAR));
}

fn at_surface(rect: Rect, surface: f64) -> Vec<LabelPosition> {
    let places = [
        (rect.centre().x, Anchor::Middle),
        (rect.left + 4.0, Anchor::Start),
        (rect.right - 4.0, Anchor::End),
    ];
    let mut spots = Vec::new();
    for (x, across) in places {
        for (y, side) in [
            (surface + 3.0, LabelSide::Below),
            (surface - 10.0, LabelSide::Above),
        ] {
            let at = pt(x, y);
            spots.push(LabelPosition { at, across, side });
        }
    }
    let beside = |x: f64, across: Anchor| LabelPosition {
        at: pt(x, surface),
        across,
        side: LabelSide::Beside,
    };
    spots.push(beside(rect.right + 5.0, Anchor::Start));
    spots.push(beside(rect.left - 5.0, Anchor::End));
    // Higher above the water, for when a line is just above it.
    for (x, across) in places {
        let at = pt(x, surface - 24.0);
        let side = LabelSide::Above;
        spots.push(LabelPosition { at, across, side });
    }
    spots
}

/// Makes a request without the positions in another vessel, to which the label would seem to belong, or across a wall
/// of its vessel.
fn request(
    paper: &SectionPage<'_>,
    one: &NamedPart<'_>,
    lines: &[LabelLine],
    spots: &[LabelPosition],
    rank: i32,
) -> LabelRequest {
    let (width, height) = size(lines);
    let good = |spot: &&LabelPosition| {
        let label = spot.rect(width, height);
        !paper.covers.strange(label, one.rect) && !straddles(label, one.rect)
    };
    LabelRequest {
        forms: vec![lines.to_vec()],
        spots: spots.iter().filter(good).copied().collect(),
        rank,
        clear: 1.0,
    }
}

/// Returns whether a label crosses a wall or the floor, where it cannot be read; the rim is open.
fn straddles(label: Rect, own: Rect) -> bool {
    let beside = label.top < own.bottom && label.bottom > own.top;
    let over = label.left < own.right && label.right > own.left;
    let wall = |x: f64| label.left < x && x < label.right;
    (beside && (wall(own.left) || wall(own.right)))
        || (over && label.top < own.bottom && own.bottom < label.bottom)
}

/// Returns a left-aligned position.
fn flush(x: f64, y: f64, side: LabelSide) -> LabelPosition {
    LabelPosition {
        at: pt(x, y),
        across: Anchor::Start,
        side,
    }
}

/// Returns a centred position.
fn hung(x: f64, y: f64, side: LabelSide) -> LabelPosition {
    LabelPosition {
        at: pt(x, y),
        across: Anchor::Middle,
        side,
    }
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
