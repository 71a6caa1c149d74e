//! Fixed levels, drawn as a symbol since their size is not known.

use super::names;
use super::paper::PlanPage;
use crate::draw::canvas::touch::{Attention, Pick, TouchArea, outline};
use crate::draw::page::shape::{Dash, Ink, Rect, Shape, Stroke};

/// Width and height of the symbol, points.
const FIXED: (f64, f64) = (30.0, 16.0);

/// Draws each fixed level as a box of water with a dashed edge, since its size is not known.
pub(super) fn draw(paper: &mut PlanPage<'_>) {
    let scene = paper.scene;
    for (part, place) in scene.layout.fixed.iter().zip(&scene.positions.fixed) {
        let centre = paper.point(*place);
        let (width, height) = FIXED;
        let rect = Rect {
            left: centre.x - width / 2.0,
            right: centre.x + width / 2.0,
            top: centre.y - height / 2.0,
            bottom: centre.y + height / 2.0,
        };
        if !paper.sees(rect) {
            continue;
        }
        let pick = Pick::Part(part.id.clone());
        let attention = scene.attention(&pick);
        let dashed = outline(attention, Stroke::new(Ink::Line, 1.2));
        let edge = match attention {
            Attention::None => dashed.with(Dash::Dashed),
            _ => dashed,
        };
        let water = Shape::Box {
            rect,
            radius: 3.0,
            fill: Some(Ink::Water),
            edge: Some(edge),
        };
        paper.add(Some(&part.id), water);
        let sign = vec![
            centre.moved(-4.5, -4.5),
            centre.moved(4.5, -4.5),
            centre.moved(0.0, 3.5),
        ];
        paper.area(Some(&part.id), sign, Ink::WaterLine);
        paper.keep(rect.grown(1.0));
        let name = names::fixed(part, scene.units);
        paper.touch(pick, TouchArea::Area(rect), name);
    }
}
