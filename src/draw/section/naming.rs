//! The name of a vessel and the height of its water: both are told wherever they can be read as its own.

use super::paper::SectionPage;
use crate::draw::by_how_much;
use crate::draw::drawing_context::clipped;
use crate::draw::labels::size;
use crate::draw::labels::{LabelLine, LabelPosition, LabelRequest, LabelSide};
use crate::draw::shape::{Anchor, Ink, Rect, pt};
use crate::layout::Id;
use crate::units::{self, Quantity};

/// Letters of names and of numbers, points.
const NAME_SIZE: f64 = 12.0;
const NUMBER_SIZE: f64 = 11.5;
/// The later is placed, the less it matters: levels come before names.
const LEVEL_RANK: i32 = 64;
const NAME_RANK: i32 = 62;
/// Further off than this a thin line leads to the vessel, points.
const FAR: f64 = 15.0;

/// A vessel or fixed level that is told of.
pub(super) struct NamedPart<'a> {
    pub id: &'a Id,
    pub name: &'a str,
    /// Its water needs a level over its rim.
    pub over_rim: bool,
    /// What it covers on the page, and beyond.
    pub rect: Rect,
}

/// The name: under the floor or inside if it fits there in one or two lines, else further off.
pub(super) fn name(paper: &mut SectionPage<'_>, one: &NamedPart<'_>) {
    let seen = clipped(one.rect, paper.page);
    let line = |words: &str| LabelLine::new(words, NAME_SIZE, Ink::Text).strong();
    let whole = vec![line(one.name)];
    let mut requests = vec![request(paper, one, (&whole, &near(seen)), NAME_RANK)];
    if let Some((first, second)) = halves(one.name) {
        let two = vec![line(first), line(second)];
        requests.push(request(paper, one, (&two, &near(seen)), NAME_RANK));
    }
    requests.push(request(paper, one, (&whole, &far(seen)), NAME_RANK));
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
        // Ending at the right wall, where something stands at the left.
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
        // Beside its foot, where what stands next to it is higher.
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

/// The level: at the water line where there is room, else over the rim or under the floor.
///
/// `level_m` above the datum, and what the flow would need where that is another; `water` is its surface as it is drawn, a rectangle without height.
pub(super) fn level(
    paper: &mut SectionPage<'_>,
    one: &NamedPart<'_>,
    (level_m, needed_m): (f64, Option<f64>),
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
    // What stands there comes first, then what the flow would need with tall walls.
    if let Some(needed_m) = needed_m {
        let needed = units::write(Quantity::Height, needed_m, paper.scene.units);
        forms.insert(0, line(&format!("{number}, would need {needed}")));
    }
    // Millimetres are understood where there is no room to say so.
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
    // Where there is little room a level stands at its water or nowhere.
    let places = match paper.is_cramped() && !one.over_rim {
        true => vec![&at_surface],
        false => vec![&at_surface, &off],
    };
    let requests = places.into_iter().flat_map(|spots| {
        let forms = forms.iter();
        forms.map(|form| request(paper, one, (form, spots), LEVEL_RANK))
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
    // Higher over the water, where a line is just over it.
    for (x, across) in places {
        let at = pt(x, surface - 24.0);
        let side = LabelSide::Above;
        spots.push(LabelPosition { at, across, side });
    }
    spots
}

/// A wish that stands neither in another vessel, whose it would seem to be, nor across a wall of its own.
fn request(
    paper: &SectionPage<'_>,
    one: &NamedPart<'_>,
    (lines, spots): (&[LabelLine], &[LabelPosition]),
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

/// Words across a wall or the floor cannot be read; the rim is open.
fn straddles(label: Rect, own: Rect) -> bool {
    let beside = label.top < own.bottom && label.bottom > own.top;
    let over = label.left < own.right && label.right > own.left;
    let wall = |x: f64| label.left < x && x < label.right;
    (beside && (wall(own.left) || wall(own.right)))
        || (over && label.top < own.bottom && own.bottom < label.bottom)
}

/// A spot at whose left end a label begins.
fn flush(x: f64, y: f64, side: LabelSide) -> LabelPosition {
    LabelPosition {
        at: pt(x, y),
        across: Anchor::Start,
        side,
    }
}

/// A spot from whose middle a label hangs.
fn hung(x: f64, y: f64, side: LabelSide) -> LabelPosition {
    LabelPosition {
        at: pt(x, y),
        across: Anchor::Middle,
        side,
    }
}

/// A name in two halves, at the space nearest its middle.
fn halves(name: &str) -> Option<(&str, &str)> {
    let middle = name.len() / 2;
    let space = name
        .match_indices(' ')
        .map(|(index, _)| index)
        .min_by_key(|index| index.abs_diff(middle))?;
    Some((name.get(..space)?, name.get(space + 1..)?))
}
