//! The name of each vessel with its level, inside it where there is room; what is wrong with it.

use super::outline::Outline;
use super::paper::Paper;
use crate::draw::around::size;
use crate::draw::board::clipped;
use crate::draw::labels::{Line, Side, Spot, Wish};
use crate::draw::shape::{Anchor, Ink, Point, Rect, pt};
use crate::draw::signs;
use crate::draw::spilling::{self, spills};
use crate::draw::touch::called;
use crate::finding::{Code, Severity};
use crate::layout::{Id, Vessel};
use crate::units::{self, Quantity};

const NAME_SIZE: f64 = 12.0;
const NUMBER_SIZE: f64 = 11.5;
const NAME_RANK: i32 = 62;
const SPILL_RANK: i32 = 95;
/// Further off than this a thin line leads to the vessel, points.
const FAR: f64 = 14.0;
/// Half the width of the sign of a severity, points.
const MARK: f64 = 9.0;
/// A vessel smaller than this has its name inside or not at all on a crowded page, points.
const LEAST: f64 = 14.0;
/// Places inside a vessel, as shares of its width and height off its middle.
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

pub(super) fn draw(paper: &mut Paper<'_>) {
    let scene = paper.scene;
    let vessels = scene.layout.vessels.iter().zip(&scene.ground.vessels);
    for (part, one) in vessels {
        let rect = paper.rect(one);
        if paper.sees(rect) {
            severity(paper, part, one);
            vessel(paper, part, one, rect);
        }
    }
    for (part, place) in scene.layout.fixed.iter().zip(&scene.ground.fixed) {
        let centre = paper.point(*place);
        let rect = Rect::between(centre, centre).grown(15.0);
        if paper.sees(rect) {
            let name = called(&part.name, &part.id);
            let level = units::write(Quantity::Height, part.level_m, scene.units);
            let forms = vec![vec![strong(name), number(level)], vec![strong(name)]];
            let wish = Wish {
                forms,
                spots: Spot::around(
                    Rect {
                        top: centre.y - 9.0,
                        bottom: centre.y + 9.0,
                        ..rect
                    },
                    4.0,
                ),
                rank: NAME_RANK,
                clear: 1.0,
            };
            paper.wish_surely(&part.id, 1.0, vec![wish], (rect, FAR));
        }
    }
}

fn strong(words: &str) -> Line {
    Line::new(words, NAME_SIZE, Ink::Text).strong()
}

fn number(words: String) -> Line {
    Line::new(words, NUMBER_SIZE, Ink::Text)
}

fn vessel(paper: &mut Paper<'_>, part: &Vessel, one: &Outline, rect: Rect) {
    let report = paper.reports.vessel(&part.id);
    let name = called(&part.name, &part.id);
    let over = report.filter(|report| spills(part, report));
    let told: Vec<Vec<Line>> = match (over, report.and_then(|report| report.level_m)) {
        (Some(report), _) => spilling::forms(report, paper.scene.units),
        (None, Some(level_m)) => {
            vec![vec![number(units::write(
                Quantity::Height,
                level_m,
                paper.scene.units,
            ))]]
        }
        (None, None) => Vec::new(),
    };
    let crowded = paper.is_crowded();
    if crowded && over.is_none() && rect.width().min(rect.height()) < LEAST {
        return;
    }
    let forms = forms(name, &told);
    let inside = inside(clipped(rect, paper.page));
    let mut wishes: Vec<Wish> = Vec::new();
    let rank = if over.is_some() {
        SPILL_RANK
    } else {
        NAME_RANK
    };
    for form in &forms {
        let (width, height) = size(form);
        let fits = |spot: &&Spot| is_inside(paper, one, spot.rect(width, height));
        let spots: Vec<Spot> = inside.iter().filter(fits).copied().collect();
        wishes.extend((!spots.is_empty()).then(|| wish(form, spots, rank)));
    }
    // The whole label inside is best, then beside, then the name alone inside.
    if !crowded || over.is_some() {
        let whole = forms.first().cloned().unwrap_or_default();
        let beside = wish(&whole, beside(paper, &whole, rect), rank);
        wishes.insert(wishes.len().min(2), beside);
    }
    let strength = if over.is_some() {
        paper.scene.strength()
    } else {
        1.0
    };
    if over.is_some() || !crowded {
        paper.wish_surely(&part.id, strength, wishes, (rect, FAR));
    } else if !wishes.is_empty() {
        paper.wish_one_of(&part.id, strength, wishes);
    }
}

/// Name and what is told, ever shorter; a long name in two lines.
fn forms(name: &str, told: &[Vec<Line>]) -> Vec<Vec<Line>> {
    let halves = halves(name).map(|(first, second)| vec![strong(first), strong(second)]);
    let names: Vec<Vec<Line>> = std::iter::once(vec![strong(name)]).chain(halves).collect();
    let with = |told: &Vec<Line>| {
        let names = names.clone().into_iter();
        let told = told.clone();
        names.map(move |mut name| {
            name.extend(told.iter().cloned());
            name
        })
    };
    let mut forms: Vec<Vec<Line>> = told.iter().flat_map(with).collect();
    forms.extend(names.iter().cloned());
    forms
}

fn wish(form: &[Line], spots: Vec<Spot>, rank: i32) -> Wish {
    Wish {
        forms: vec![form.to_vec()],
        spots,
        rank,
        clear: 1.0,
    }
}

fn inside(rect: Rect) -> Vec<Spot> {
    let centre = rect.centre();
    let spot = |(across, down): (f64, f64)| Spot {
        at: centre.moved(across * rect.width(), down * rect.height()),
        across: Anchor::Middle,
        side: Side::Beside,
    };
    INSIDE.map(spot).to_vec()
}

/// All corners of a label lie in the vessel, a little off its wall.
fn is_inside(paper: &Paper<'_>, one: &Outline, label: Rect) -> bool {
    let corners = label.grown(2.5).corners();
    corners
        .into_iter()
        .all(|corner| one.holds(one.form, paper.place(corner)))
}

/// Beside, over and under a vessel, never in another whose it would seem to be.
fn beside(paper: &Paper<'_>, form: &[Line], rect: Rect) -> Vec<Spot> {
    let seen = clipped(rect, paper.page);
    let (width, height) = size(form);
    let spots = [4.0, 14.0, 30.0]
        .into_iter()
        .flat_map(|gap| Spot::around(seen, gap));
    let good = |spot: &Spot| !paper.covers.strange(spot.rect(width, height), rect);
    spots.filter(good).collect()
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

/// The sign of the worst that is said of a vessel, on its wall.
fn severity(paper: &mut Paper<'_>, part: &Vessel, one: &Outline) {
    let report = paper.reports.vessel(&part.id);
    let over = report.is_some_and(|report| spills(part, report));
    let worst = if over {
        Some(Severity::Problem)
    } else {
        said(paper, &part.id)
    };
    let Some(severity) = worst.filter(|severity| *severity != Severity::Note) else {
        return;
    };
    let rect = paper.rect(one);
    let page = paper.page.grown(-MARK - 2.0);
    let places = [
        (1.0, -1.0),
        (-1.0, -1.0),
        (1.0, 1.0),
        (-1.0, 1.0),
        (0.0, -1.0),
    ];
    let places = places.map(|(across, down)| {
        let centre = rect.centre();
        let corner = centre.moved(across * rect.width() / 2.0, down * rect.height() / 2.0);
        let wall = paper.point(one.nearest_wall(paper.place(corner)));
        pt(
            wall.x.min(page.right).max(super::RULER_LEFT + MARK + 2.0),
            wall.y.min(page.bottom - super::RULER_BELOW).max(page.top),
        )
    });
    let around = |centre: Point| Rect::between(centre, centre).grown(MARK);
    let free = places
        .iter()
        .find(|place| paper.is_kept_free(around(**place)));
    let rect = around(*free.unwrap_or(&places[0]));
    paper.keep(rect);
    for shape in signs::severity(rect, severity) {
        paper.add(Some(&part.id), shape);
    }
}

/// The worst finding about a vessel but that it spills, which is seen from its level.
fn said(paper: &Paper<'_>, id: &Id) -> Option<Severity> {
    let findings = paper.scene.findings.iter();
    let about = findings.filter(|finding| finding.about.first() == Some(id));
    about
        .filter(|finding| finding.code != Code::Spills)
        .map(|finding| finding.severity)
        .min()
}
