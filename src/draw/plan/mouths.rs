//! Symbols of openings, distinguished by shape.

use super::paper::PlanPage;
use crate::draw::page::shape::{Dash, Ink, Point, Shape, Stroke};
use crate::layout::{Id, NotchShape, Opening, RunEnd, Turned};

/// Smallest half length of a bar in a wall, and its thickness, points.
const BAR: f64 = 4.0;
const BAR_WIDTH: f64 = 3.4;
/// Radius of a ring from which it has room for an arrow, points.
const LEAST_ARROW: f64 = 7.0;
/// Largest half length of a notch, points.
const MOST: f64 = 60.0;

/// An end of a run that has an opening.
pub(super) struct PlanMouth<'a> {
    pub id: &'a Id,
    pub opening: &'a Opening,
    pub centre: Point,
    /// Unit vector out of the pipe along its axis.
    pub out: (f64, f64),
    /// Unit vector along the wall at the opening.
    pub wall: (f64, f64),
    /// Half its bore, points.
    pub half: f64,
    pub ink: Ink,
    pub which: RunEnd,
}

impl PlanMouth<'_> {
    pub fn draw(&self, paper: &mut PlanPage<'_>) {
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
                // An arrow would fill a small ring.
                if *turned == Turned::Horizontal || self.half > LEAST_ARROW {
                    self.arrow(paper);
                }
            }
        }
    }

    pub fn ring(&self, paper: &mut PlanPage<'_>, radius: f64, edge: Stroke) {
        let ring = Shape::Circle {
            centre: self.centre,
            radius,
            fill: Some(Ink::Card).filter(|_| edge.dash == Dash::Solid && radius <= self.half + 2.5),
            edge: Some(edge),
        };
        paper.add(Some(self.id), ring);
    }

    fn dot(&self, paper: &mut PlanPage<'_>) {
        let dot = Shape::Circle {
            centre: self.centre,
            radius: (self.half * 0.3).clamp(1.2, 3.0),
            fill: Some(self.ink),
            edge: None,
        };
        paper.add(Some(self.id), dot);
    }

    /// Draws a thick bar along the wall.
    fn bar(&self, paper: &mut PlanPage<'_>, half: f64) {
        let line = self.along_wall(half.max(BAR));
        paper.line(Some(self.id), line, Stroke::new(self.ink, BAR_WIDTH));
    }

    /// Draws a gap in the wall between two cheeks; a vee also has its point marked.
    fn notch(&self, paper: &mut PlanPage<'_>, shape: &NotchShape) {
        let half = match shape {
            NotchShape::Rectangular { width_m, .. } => (width_m * paper.scale() / 2.0).min(MOST),
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

    /// Draws an open arrow at the end in the direction of the run: into the pipe at its start.
    pub fn arrow(&self, paper: &mut PlanPage<'_>) {
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
