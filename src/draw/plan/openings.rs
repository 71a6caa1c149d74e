//! Where runs meet vessels: a sign of the bore of each opening, told apart by its shape.

use super::names;
use super::paper::Paper;
use super::pipes::Pipe;
use crate::draw::shape::{Dash, Ink, Point, Rect, Shape, Stroke};
use crate::draw::signs;
use crate::draw::touch::{Attention, Pick, Reach};
use crate::geometry::Corner;
use crate::layout::{Id, NotchShape, Opening, Pipe as Built, RunEnd, Turned};

/// Least and greatest radius of a sign, points.
const LEAST: f64 = 3.2;
const MOST: f64 = 60.0;
/// Openings in a vessel smaller than this are left out, points.
const LEAST_VESSEL: f64 = 26.0;
/// Half a bar in a wall at least, and its width, points.
const BAR: f64 = 4.0;
const BAR_WIDTH: f64 = 3.4;
/// Around a handle, points.
const HANDLE: f64 = 6.0;

/// One end of a run that has an opening.
struct Mouth<'a> {
    id: &'a Id,
    opening: &'a Opening,
    centre: Point,
    /// One point out of the pipe, along it.
    out: (f64, f64),
    /// One point along the wall that it is in.
    wall: (f64, f64),
    /// Half its bore, points.
    half: f64,
    ink: Ink,
    which: RunEnd,
}

pub(super) fn draw(paper: &mut Paper<'_>, pipes: &[Pipe<'_>]) {
    for pipe in pipes {
        for which in RunEnd::BOTH {
            end(paper, pipe, which);
        }
    }
}

fn end(paper: &mut Paper<'_>, pipe: &Pipe<'_>, which: RunEnd) {
    let scene = paper.scene;
    let run = pipe.run;
    let given = run.end(which);
    let Some(opening) = &given.opening else {
        return;
    };
    let place = pipe.course.opening(which);
    let centre = paper.point(place);
    if !paper.sees(Rect::between(centre, centre).grown(MOST)) {
        return;
    }
    let vessel = pipe.course.vessels[usize::from(which == RunEnd::To)];
    let vessel = vessel.and_then(|index| scene.ground.vessels.get(index));
    let pick = Pick::Crest {
        run: run.id.clone(),
        end: which,
    };
    let attention = scene.attention(&pick);
    let looked_at = attention != Attention::None || pipe.attention != Attention::None;
    let small = vessel.is_some_and(|one| {
        let rect = paper.rect(one);
        rect.width().min(rect.height()) < LEAST_VESSEL
    });
    if small && !looked_at {
        return;
    }
    let bore_m = opening.bore_m().unwrap_or(pipe.course.bore_m);
    let out = direction(paper, pipe, which);
    let wall = vessel.map_or((-out.1, out.0), |one| {
        let (dx, dy) = one.along_wall(place);
        (dx, -dy)
    });
    let mouth = Mouth {
        id: &run.id,
        opening,
        centre,
        out,
        wall,
        half: (bore_m * paper.scale / 2.0).clamp(LEAST, MOST),
        ink: if looked_at { Ink::Accent } else { Ink::Line },
        which,
    };
    mouth.draw(paper);
    if given.screen.is_some() {
        mouth.ring(
            paper,
            mouth.half + 3.4,
            Stroke::new(mouth.ink, 1.2).with(Dash::Dashed),
        );
    }
    if attention == Attention::Selected {
        let stroke = Stroke::new(Ink::Accent, 2.2);
        mouth.ring(paper, mouth.half.max(HANDLE) + 1.5, stroke);
    }
    paper.keep(Rect::between(centre, centre).grown(mouth.half.max(HANDLE)));
    let reach = Reach::Spot {
        centre,
        radius: mouth.half.clamp(HANDLE, 16.0),
    };
    paper.touch(pick, reach, names::crest(run, which, scene.units));
}

/// One point out of the pipe at an end, on the page; to the right where the run has no length in the plan.
fn direction(paper: &Paper<'_>, pipe: &Pipe<'_>, which: RunEnd) -> (f64, f64) {
    let legs = &pipe.course.legs;
    let leg: Option<(Corner, Corner)> = match which {
        RunEnd::From => legs.first().map(|leg| (leg.to, leg.from)),
        RunEnd::To => legs.last().map(|leg| (leg.from, leg.to)),
    };
    match leg {
        Some((from, to)) => signs::along(paper.point(from), paper.point(to)),
        None => (1.0, 0.0),
    }
}

impl Mouth<'_> {
    fn draw(&self, paper: &mut Paper<'_>) {
        let edge = Stroke::new(self.ink, 1.4);
        match self.opening {
            Opening::Upstand { .. } => {
                self.ring(paper, self.half, edge);
                self.dot(paper);
            }
            Opening::RaisedIntake { .. } => {
                self.ring(paper, self.half + 2.4, Stroke::new(self.ink, 1.0));
                self.ring(paper, self.half, edge);
                self.dot(paper);
            }
            Opening::Floor { .. } => {
                self.ring(paper, self.half, edge);
                let arm = self.half * std::f64::consts::FRAC_1_SQRT_2;
                for (dx, dy) in [(arm, arm), (arm, -arm)] {
                    let line = vec![self.centre.moved(-dx, -dy), self.centre.moved(dx, dy)];
                    paper.line(Some(self.id), line, Stroke::new(self.ink, 1.2));
                }
            }
            Opening::SideHole { .. } => self.bar(paper, self.half),
            Opening::Submerged { .. } => {
                self.bar(paper, self.half);
                self.arrow(paper);
            }
            Opening::Notch { shape, .. } => self.notch(paper, shape),
            Opening::Mouth { turned, .. } => {
                if *turned != Turned::Horizontal {
                    self.ring(paper, self.half, edge);
                }
                self.arrow(paper);
            }
        }
    }

    fn ring(&self, paper: &mut Paper<'_>, radius: f64, edge: Stroke) {
        let ring = Shape::Circle {
            centre: self.centre,
            radius,
            fill: Some(Ink::Card).filter(|_| edge.dash == Dash::Solid && radius <= self.half + 2.5),
            edge: Some(edge),
        };
        paper.add(Some(self.id), ring);
    }

    fn dot(&self, paper: &mut Paper<'_>) {
        let dot = Shape::Circle {
            centre: self.centre,
            radius: (self.half * 0.3).clamp(1.2, 3.0),
            fill: Some(self.ink),
            edge: None,
        };
        paper.add(Some(self.id), dot);
    }

    /// A thick bar along the wall.
    fn bar(&self, paper: &mut Paper<'_>, half: f64) {
        let line = self.along_wall(half.max(BAR));
        paper.line(Some(self.id), line, Stroke::new(self.ink, BAR_WIDTH));
    }

    /// The wall is cut open between two cheeks; a vee has its point marked.
    fn notch(&self, paper: &mut Paper<'_>, shape: &NotchShape) {
        let half = match shape {
            NotchShape::Rectangular { width_m, .. } => (width_m * paper.scale / 2.0).min(MOST),
            NotchShape::Vee { .. } => self.half,
        };
        let half = half.max(BAR);
        let gap = self.along_wall(half);
        paper.line(Some(self.id), gap, Stroke::new(Ink::Inside, BAR_WIDTH));
        let (ux, uy) = self.wall;
        for side in [-half, half] {
            let cheek = self.centre.moved(ux * side, uy * side);
            let line = vec![
                cheek.moved(-uy * BAR, ux * BAR),
                cheek.moved(uy * BAR, -ux * BAR),
            ];
            paper.line(Some(self.id), line, Stroke::new(self.ink, 1.4));
        }
        if matches!(shape, NotchShape::Vee { .. }) {
            self.dot(paper);
        }
    }

    fn along_wall(&self, half: f64) -> Vec<Point> {
        let (ux, uy) = self.wall;
        vec![
            self.centre.moved(-ux * half, -uy * half),
            self.centre.moved(ux * half, uy * half),
        ]
    }

    /// An open arrow at the end, in the order of the run: into the pipe where it starts.
    fn arrow(&self, paper: &mut Paper<'_>) {
        let size = (self.half + 2.0).clamp(5.0, 11.0);
        let sign = if self.which == RunEnd::To { 1.0 } else { -1.0 };
        let (ux, uy) = (self.out.0 * sign, self.out.1 * sign);
        let tip = self.centre.moved(ux * size * 0.5, uy * size * 0.5);
        let back = tip.moved(-ux * size, -uy * size);
        let open = vec![
            back.moved(-uy * size * 0.7, ux * size * 0.7),
            tip,
            back.moved(uy * size * 0.7, -ux * size * 0.7),
        ];
        paper.line(Some(self.id), open, Stroke::new(self.ink, 1.6));
    }
}

/// The opening at an end, as far as it tells where the pipe begins: in a wall, unless it says otherwise.
pub(super) fn is_in_wall(opening: Option<&Opening>, pipe: &Built) -> bool {
    match opening {
        Some(Opening::SideHole { .. } | Opening::Submerged { .. } | Opening::Notch { .. }) => true,
        // Without a pipe it is the opening of the other end, seen from its far side.
        None => *pipe == Built::Open,
        _ => false,
    }
}
