//! Runs from above.

use super::paper::Paper;
use crate::draw::shape::{Ink, Stroke};
use crate::draw::touch::{Pick, Reach, called, outline};

pub(super) fn draw(paper: &mut Paper<'_>) {
    let scene = paper.scene;
    for (run, course) in scene.layout.runs.iter().zip(&scene.ground.courses) {
        let pick = Pick::Part(run.id.clone());
        let points = paper.points(&course.points);
        let stroke = outline(scene.attention(&pick), Stroke::new(Ink::Line, 1.6));
        paper.line(Some(&run.id), points.clone(), stroke);
        let half_width = (course.outside_m * paper.scale / 2.0).max(2.0);
        let reach = Reach::Line { points, half_width };
        paper.touch(pick, reach, called(&run.name, &run.id).to_owned());
    }
}
