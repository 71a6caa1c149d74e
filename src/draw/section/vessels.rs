//! Vessels cut open: stands, walls, medium, water and its level.

use super::naming::{self as labels, NamedPart};
use super::paper::SectionPage;
use super::pipes;
use super::standing::PartOnPage;
use crate::draw::canvas::touch::{Attention, Pick, TouchArea};
use crate::draw::canvas::touch::{called, outline};
use crate::draw::page::shape::{Dash, Ink, Point, Rect, Shape, Stroke, pt};
use crate::draw::page::view::at;
use crate::layout::Id;

/// Thickness of walls and floor, points.
const WALL: f64 = 2.2;
/// Distance from the wall to the second line of an already built vessel, and the thickness of that line, points.
const SECOND: f64 = 4.0;
const BUILT: f64 = 0.9;
/// Width of a leg of a stand, points.
const LEG: f64 = 9.0;
/// Most vessels in a layout for which stands are drawn down to the vessel below.
const MOST_IN_FULL: usize = 400;

/// Draws the two legs that carry each vessel from its floor to the ground or to the vessel below.
pub(super) fn stands(paper: &mut SectionPage<'_>) {
    let scene = paper.scene;
    let vessels = scene
        .layout
        .vessels
        .iter()
        .zip(&scene.positions.stand.vessels);
    for (index, (part, one)) in vessels.enumerate() {
        let inset = (one.width_m * 0.16).min(0.3);
        let foot = one.half_width_m(one.floor_m).min(one.width_m / 2.0);
        let reach = (foot - inset).max(foot * 0.5);
        for along_m in [one.along_m - reach, one.along_m + reach] {
            let below = under(scene.positions.stand.vessels.as_slice(), index, along_m);
            let (x, top, bottom) = (
                scene.view.x(along_m),
                scene.view.y(one.floor_m),
                scene.view.y(below),
            );
            let rect = Rect {
                left: x - LEG / 2.0,
                right: x + LEG / 2.0,
                top,
                bottom,
            };
            if bottom - top > 2.0 && paper.sees(rect) {
                let stand = Shape::Box {
                    rect,
                    radius: 0.0,
                    fill: Some(Ink::Stand),
                    edge: Some(Stroke::new(Ink::StandLine, 1.0)),
                };
                paper.add(Some(&part.id), stand);
            }
        }
    }
}

/// Returns the height that a leg at `along_m` stands on: the highest rim below the vessel, or the ground.
fn under(all: &[PartOnPage], index: usize, along_m: f64) -> f64 {
    let floor = all.get(index).map_or(0.0, |one| one.floor_m);
    if all.len() > MOST_IN_FULL {
        return 0.0;
    }
    let others = all.iter().enumerate().filter(|(other, one)| {
        *other != index && (one.left_m()..=one.right_m()).contains(&along_m) && one.rim_m <= floor
    });
    others.map(|(_, one)| one.rim_m).fold(0.0, f64::max)
}

/// Draws every vessel and fixed level.
pub(super) fn draw(paper: &mut SectionPage<'_>) {
    let scene = paper.scene;
    let vessels = scene
        .layout
        .vessels
        .iter()
        .zip(&scene.positions.stand.vessels);
    for (part, one) in vessels {
        let name = called(&part.name, &part.id).to_owned();
        let report = paper.vessel(&part.id);
        let level_m = report.map(|report| report.stands_m().unwrap_or(report.rim_m));
        let needed_m = report.and_then(|report| report.required_level_m());
        let body = VesselBody {
            id: &part.id,
            name,
            one,
            level_m,
            needed_m,
            medium_top_m: part.medium.map(|medium| medium.top_m),
            open: false,
            built: part.already_built,
        };
        body.draw(paper);
    }
    let fixed = scene.layout.fixed.iter().zip(&scene.positions.stand.fixed);
    for (part, one) in fixed {
        let body = VesselBody {
            id: &part.id,
            name: called(&part.name, &part.id).to_owned(),
            one,
            level_m: Some(part.level_m),
            needed_m: None,
            medium_top_m: None,
            open: true,
            built: false,
        };
        body.draw(paper);
    }
}

/// A vessel or fixed level to be drawn.
struct VesselBody<'a> {
    id: &'a Id,
    name: String,
    one: &'a PartOnPage,
    level_m: Option<f64>,
    /// Level that the flow would need with tall walls, if that differs.
    needed_m: Option<f64>,
    medium_top_m: Option<f64>,
    /// Whether it is open at the sides, as a lake or a main is.
    open: bool,
    /// Whether it is already built.
    built: bool,
}

impl VesselBody<'_> {
    fn draw(&self, paper: &mut SectionPage<'_>) {
        let view = paper.scene.view;
        let one = self.one;
        let rect = Rect {
            left: view.x(one.left_m()),
            right: view.x(one.right_m()),
            top: view.y(one.rim_m),
            bottom: view.y(one.floor_m),
        };
        if !paper.sees(rect.grown(30.0)) {
            return;
        }
        self.fill(paper, one.rim_m, Ink::Inside, 1.0);
        if let Some(level_m) = self.level_m {
            let strength = paper.scene.strength();
            self.fill(paper, level_m.min(one.rim_m), Ink::Water, strength);
        }
        self.medium(paper);
        self.surface(paper);
        self.other_surface(paper);
        self.walls(paper);
        let pick = Pick::Part(self.id.clone());
        paper.touch(pick, TouchArea::Area(rect), self.name.clone());
        let label = NamedPart {
            id: self.id,
            name: &self.name,
            over_rim: paper
                .vessel(self.id)
                .is_some_and(|one| one.is_over_rim() && !one.is_as_built()),
            rect,
        };
        labels::name(paper, &label);
        if let Some(level_m) = self.level_m {
            let surface_m = level_m.clamp(one.floor_m, one.rim_m);
            let half = one.half_width_m(surface_m);
            let ends = [-half, half].map(|half| paper.point(at(one.along_m + half, surface_m)));
            labels::level(
                paper,
                &label,
                level_m,
                self.needed_m,
                Rect::between(ends[0], ends[1]),
            );
        }
    }

    /// Fills it from the floor to a height: in one piece if its outline is convex, else in convex bands.
    fn fill(&self, paper: &mut SectionPage<'_>, top_m: f64, ink: Ink, strength: f64) {
        let one = self.one;
        let depth = top_m - one.floor_m;
        if depth.is_nan() || depth <= 0.0 {
            return;
        }
        let rows = one.profile.iter().map(|row| row.0);
        let mut heights: Vec<f64> = rows.filter(|row| *row < depth).collect();
        heights.push(depth);
        let pieces: Vec<&[f64]> = if one.is_convex() {
            vec![&heights]
        } else {
            heights.windows(2).collect()
        };
        for piece in pieces {
            let corners = self.piece(paper, piece);
            let shape = Shape::Area {
                corners,
                fill: Some(ink),
                edge: None,
            };
            paper.add_faint(Some(self.id), strength, shape);
        }
    }

    /// Returns the outline of a piece, from its lowest depth up the left and down the right.
    fn piece(&self, paper: &SectionPage<'_>, depths_m: &[f64]) -> Vec<Point> {
        let one = self.one;
        let corner = |side: f64, depth_m: &f64| {
            let z_m = one.floor_m + depth_m;
            paper.point(at(one.along_m + side * one.half_width_m(z_m), z_m))
        };
        let left = depths_m.iter().map(|depth_m| corner(-1.0, depth_m));
        let right = depths_m.iter().rev().map(|depth_m| corner(1.0, depth_m));
        left.chain(right).collect()
    }

    /// Draws grains, so that gravel does not look like another kind of water.
    fn medium(&self, paper: &mut SectionPage<'_>) {
        let Some(top_m) = self.medium_top_m else {
            return;
        };
        let one = self.one;
        let top_m = top_m.min(one.rim_m);
        if top_m <= one.floor_m {
            return;
        }
        let view = paper.scene.view;
        let (top, bottom) = (view.y(top_m), view.y(one.floor_m));
        let step = 9.0;
        let clipped = paper.page.grown(step);
        let mut row = 0;
        let mut y = bottom - step * 0.6;
        // Starts at the lower edge of the page and skips rows in pairs, so that the grains keep their positions.
        let skipped = ((y - clipped.bottom) / (2.0 * step)).floor().max(0.0);
        y -= skipped * 2.0 * step;
        while y > top + 2.0 && row < 200 {
            if (clipped.top..=clipped.bottom).contains(&y) {
                self.grains(paper, y, row % 2 == 0);
            }
            y -= step;
            row += 1;
        }
        let edge = [top_m, top_m].map(|z| one.half_width_m(z));
        let line = vec![
            paper.point(at(one.along_m - edge[0], top_m)),
            paper.point(at(one.along_m + edge[1], top_m)),
        ];
        paper.add_faint(
            Some(self.id),
            0.6,
            Shape::Line {
                points: line,
                stroke: Stroke::new(Ink::Medium, 1.0),
            },
        );
    }

    fn grains(&self, paper: &mut SectionPage<'_>, y: f64, shifted: bool) {
        let step = 11.0;
        let view = paper.scene.view;
        let z_m = view.section_from_page(pt(0.0, y)).z_m;
        let half = self.one.half_width_m(z_m);
        let left = view.x(self.one.along_m - half).max(paper.page.left - step);
        let right = view.x(self.one.along_m + half).min(paper.page.right + step);
        // Grains keep their positions in the vessel.
        let start = view.x(self.one.along_m - half);
        let mut x = start + if shifted { 4.0 } else { 4.0 + step / 2.0 };
        x += ((left - x) / step).floor().max(0.0) * step;
        while x < right - 3.0 {
            if x > left {
                let grain = Shape::Circle {
                    centre: pt(x, y),
                    radius: 1.3,
                    fill: Some(Ink::Medium),
                    edge: None,
                };
                paper.add_faint(Some(self.id), 0.8, grain);
            }
            x += step;
        }
    }

    /// Draws the level of the results to compare with.
    fn other_surface(&self, paper: &mut SectionPage<'_>) {
        let one = self.one;
        let Some(level_m) = paper.reports.other_level_m(self.id) else {
            return;
        };
        let level_m = level_m.clamp(one.floor_m, one.rim_m);
        let half = one.half_width_m(level_m);
        let ends = [-half, half].map(|half| paper.point(at(one.along_m + half, level_m)));
        paper.placer.avoid(&ends);
        let line = Shape::Line {
            points: ends.to_vec(),
            stroke: Stroke::new(Ink::Line, 1.2).with(Dash::Dashed),
        };
        let strength = paper.scene.strength();
        paper.add_faint(Some(self.id), strength, line);
    }

    /// Draws the water line with the symbol of a free surface.
    fn surface(&self, paper: &mut SectionPage<'_>) {
        let one = self.one;
        let Some(level_m) = self.level_m.map(|level| level.min(one.rim_m)) else {
            return;
        };
        if level_m <= one.floor_m {
            return;
        }
        let half = one.half_width_m(level_m);
        let ends = [-half, half].map(|half| paper.point(at(one.along_m + half, level_m)));
        let strength = paper.scene.strength();
        let line = |points: Vec<Point>, width: f64| Shape::Line {
            points,
            stroke: Stroke::new(Ink::WaterLine, width),
        };
        paper.add_faint(Some(self.id), strength, line(ends.to_vec(), 1.8));
        let x = ends[0].x + (ends[1].x - ends[0].x) * 0.5;
        let y = ends[0].y;
        let sign = vec![pt(x - 4.5, y - 8.0), pt(x + 4.5, y - 8.0), pt(x, y - 0.8)];
        paper.add_faint(
            Some(self.id),
            strength,
            Shape::Area {
                corners: sign,
                fill: Some(Ink::WaterLine),
                edge: None,
            },
        );
        paper.placer.block(Rect {
            left: x - 4.5,
            right: x + 4.5,
            top: y - 8.0,
            bottom: y,
        });
    }

    /// Draws a second line inside the walls of an already built vessel.
    fn second_line(&self, paper: &mut SectionPage<'_>) {
        let one = self.one;
        let inner = |side: f64| -> Vec<Point> {
            let rows = one.profile.iter().enumerate();
            rows.map(|(row, (depth, half))| {
                let wall = paper.point(at(one.along_m + side * half, one.floor_m + depth));
                let middle = paper.scene.view.x(one.along_m);
                let x = middle + side * ((wall.x - middle).abs() - SECOND).max(0.0);
                pt(x, if row == 0 { wall.y - SECOND } else { wall.y })
            })
            .collect()
        };
        let (mut around, right) = (inner(-1.0), inner(1.0));
        around.reverse();
        around.extend(right);
        paper.line(Some(self.id), around, Stroke::new(Ink::Line, BUILT));
    }

    fn walls(&self, paper: &mut SectionPage<'_>) {
        let one = self.one;
        let attention = paper.scene.attention(&Pick::Part(self.id.clone()));
        let stroke = outline(attention, Stroke::new(Ink::Line, WALL));
        let side = |sign: f64| -> Vec<Point> {
            let rows = one.profile.iter();
            rows.map(|(depth, half)| at(one.along_m + sign * half, one.floor_m + depth))
                .map(|place| paper.point(place))
                .collect()
        };
        if self.open {
            let floor = vec![
                paper.point(at(one.left_m(), one.floor_m)),
                paper.point(at(one.right_m(), one.floor_m)),
            ];
            let stroke = if attention == Attention::None {
                Stroke::new(Ink::FaintLine, WALL)
            } else {
                stroke
            };
            paper.line(Some(self.id), floor, stroke);
            return;
        }
        let mut around = side(-1.0);
        let right = side(1.0);
        self.keep_words_off(paper, [&around, &right]);
        around.reverse();
        around.extend(right);
        paper.placer.avoid(&around);
        paper.line(Some(self.id), around, stroke);
        if self.built {
            self.second_line(paper);
        }
    }

    /// Keeps text off sloping walls, across which it cannot be read; vertical walls are the edges of the vessel.
    fn keep_words_off(&self, paper: &mut SectionPage<'_>, sides: [&Vec<Point>; 2]) {
        for pair in sides.into_iter().flat_map(|side| side.windows(2)) {
            let &[from, to] = pair else { continue };
            if (from.x - to.x).abs() > 2.0 && paper.sees(Rect::between(from, to)) {
                pipes::block(paper, pair, WALL);
            }
        }
    }
}
