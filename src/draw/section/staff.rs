//! The staff beside a section, against which heights are read, with a mark for the selected or hovered crest.

use super::paper::SectionPage;
use crate::draw::axes::staff;
use crate::draw::axes::staff::{LEFT, Staff, WIDTH};
use crate::draw::canvas::touch::Pick;
use crate::draw::page::shape::{Dash, Ink, Stroke, pt};
use crate::layout::{Opening, RunEnd};

pub(super) fn draw(paper: &mut SectionPage<'_>) {
    let view = paper.scene.view;
    let marked = marked_height_m(paper);
    let staff = Staff {
        top: paper.page.top,
        bottom: paper.page.bottom,
        units: paper.scene.units,
        taken: marked.map(|z_m| view.y(z_m)),
    };
    staff::draw(paper, view, &staff);
    if let Some(z_m) = marked {
        mark(paper, z_m);
    }
}

/// Draws a thin line across the page at the marked height, below all labels.
pub(super) fn guide(paper: &mut SectionPage<'_>) {
    let Some(z_m) = marked_height_m(paper) else {
        return;
    };
    let y = paper.scene.view.y(z_m);
    let line = vec![pt(LEFT + WIDTH, y), pt(paper.page.right, y)];
    paper.placer.avoid(&line);
    let stroke = Stroke::new(Ink::Accent, 0.8).with(Dash::Dashed);
    paper.line(None, line, stroke);
}

/// Returns the height of the selected or hovered crest.
fn marked_height_m(paper: &SectionPage<'_>) -> Option<f64> {
    let scene = paper.scene;
    let looked_at = scene.selected.last().or(scene.hovered)?;
    let Pick::Crest { run, end } = looked_at else {
        return None;
    };
    let run = scene.layout.run(run)?;
    let end: &RunEnd = end;
    run.end(*end).opening.as_ref().and_then(Opening::crest_m)
}

fn mark(paper: &mut SectionPage<'_>, z_m: f64) {
    let y = paper.scene.view.y(z_m);
    if !(paper.page.top..=paper.page.bottom).contains(&y) {
        return;
    }
    let right = LEFT + WIDTH;
    paper.area(
        None,
        vec![
            pt(right + 1.0, y),
            pt(right + 9.0, y - 5.0),
            pt(right + 9.0, y + 5.0),
        ],
        Ink::Accent,
    );
}
