//! The ground line and the parts on the path: vessels cut open, and joints.

use super::{GradePage, PathPart};
use crate::draw::axes::staff::STAFF_WIDTH;
use crate::draw::canvas::touch::{Pick, TouchArea, called, outline};
use crate::draw::page::shape::{Ink, Rect, Shape, Stroke, pt};
use crate::draw::parts::symbols;
use crate::layout::Layout;

/// Thickness of walls and floor, points.
const WALL: f64 = 2.0;
/// Radius of the dot of a joint, points.
const JOINT: f64 = 3.4;

pub(super) fn draw(paper: &mut GradePage<'_>) {
    ground_line(paper);
    for stand in &paper.scene.profile.stands {
        match stand.walls_m {
            Some(walls_m) => vessel(paper, stand, walls_m.0, walls_m.1),
            None => joint(paper, stand),
        }
    }
}

/// Returns the display name of a part.
pub(super) fn name<'a>(layout: &'a Layout, id: &'a crate::layout::Id) -> &'a str {
    called(layout.name_of(id), id)
}

/// Draws the datum line.
fn ground_line(paper: &mut GradePage<'_>) {
    let y = paper.scene.view.y(0.0);
    let room = paper.room;
    if !(room.top..=room.bottom).contains(&y) {
        return;
    }
    let line = vec![pt(STAFF_WIDTH, y), pt(paper.context.page.right, y)];
    paper.context.placer.avoid(&line);
    paper
        .context
        .line(None, line, Stroke::new(Ink::Ground, 1.4));
}

fn vessel(paper: &mut GradePage<'_>, stand: &PathPart, floor_m: f64, rim_m: f64) {
    let view = paper.scene.view;
    let rect = Rect {
        left: view.x(stand.along_m),
        right: view.x(stand.along_m + stand.width_m),
        top: view.y(rim_m),
        bottom: view.y(floor_m),
    };
    if !paper.context.sees(rect.grown(40.0)) {
        return;
    }
    let id = Some(&stand.part);
    foot(paper, stand, rect);
    let filled = |top: f64, ink: Ink| Shape::Box {
        rect: Rect { top, ..rect },
        radius: 0.0,
        fill: Some(ink),
        edge: None,
    };
    paper.context.add(id, filled(rect.top, Ink::Inside));
    let strength = paper.strength;
    if let Some(level_m) = stand.level_m.filter(|level_m| *level_m > floor_m) {
        let surface = view.y(level_m.min(rim_m));
        paper
            .context
            .add_faint(id, strength, filled(surface, Ink::Water));
    }
    let walls = if stand.fixed {
        vec![pt(rect.left, rect.bottom), pt(rect.right, rect.bottom)]
    } else {
        vec![
            pt(rect.left, rect.top),
            pt(rect.left, rect.bottom),
            pt(rect.right, rect.bottom),
            pt(rect.right, rect.top),
        ]
    };
    let stroke = outline(paper.attention(&stand.part), Stroke::new(Ink::Line, WALL));
    paper.context.line(id, walls, stroke);
    paper.context.placer.block(rect);
    let name = name(paper.scene.layout, &stand.part).to_owned();
    paper
        .context
        .touch(Pick::Part(stand.part.clone()), TouchArea::Area(rect), name);
}

/// Draws the stand of a vessel, down to the ground.
fn foot(paper: &mut GradePage<'_>, stand: &PathPart, rect: Rect) {
    let ground = paper.scene.view.y(0.0);
    if stand.fixed || ground - rect.bottom < 3.0 {
        return;
    }
    let inset = rect.width() * 0.28;
    let leg = Shape::Box {
        rect: Rect {
            left: rect.left + inset,
            right: rect.right - inset,
            top: rect.bottom,
            bottom: ground.min(paper.room.bottom),
        },
        radius: 0.0,
        fill: Some(Ink::Stand),
        edge: Some(Stroke::new(Ink::StandLine, 1.0)),
    };
    paper.context.add(Some(&stand.part), leg);
}

/// Adds the touch target of a joint; its dot is drawn later, over the pipe.
fn joint(paper: &mut GradePage<'_>, stand: &PathPart) {
    let joints = paper.scene.layout.joints.iter();
    let Some(joint) = joints.into_iter().find(|joint| joint.id == stand.part) else {
        return;
    };
    let view = paper.scene.view;
    let centre = pt(view.x(stand.along_m), view.y(joint.elevation_m));
    let dot = TouchArea::Spot {
        centre,
        radius: JOINT + 2.0,
    };
    let name = name(paper.scene.layout, &stand.part).to_owned();
    paper
        .context
        .touch(Pick::Part(stand.part.clone()), dot, name);
}

/// Draws the dots of joints, over the pipe.
pub(super) fn joints(paper: &mut GradePage<'_>) {
    let view = paper.scene.view;
    for stand in paper
        .scene
        .profile
        .stands
        .iter()
        .filter(|stand| stand.walls_m.is_none())
    {
        let joints = paper.scene.layout.joints.iter();
        let Some(joint) = joints.into_iter().find(|joint| joint.id == stand.part) else {
            continue;
        };
        let dot = Shape::Circle {
            centre: pt(view.x(stand.along_m), view.y(joint.elevation_m)),
            radius: JOINT,
            fill: Some(Ink::Card),
            edge: Some(outline(
                paper.attention(&stand.part),
                Stroke::new(Ink::Line, 1.4),
            )),
        };
        paper.context.add(Some(&stand.part), dot);
    }
}

/// Draws the water surface symbol on each vessel.
pub(super) fn surfaces(paper: &mut GradePage<'_>) {
    let view = paper.scene.view;
    for stand in &paper.scene.profile.stands {
        let (Some(level_m), Some(_)) = (stand.level_m, stand.walls_m) else {
            continue;
        };
        let tip = pt(
            view.x(stand.along_m + stand.width_m / 2.0),
            view.y(level_m) - 1.0,
        );
        let leg = (tip.moved(0.0, -10.0), tip);
        paper
            .context
            .placer
            .block(Rect::between(leg.0, tip).grown(4.0));
        paper.context.add_faint(
            Some(&stand.part),
            paper.strength,
            symbols::arrow(tip, leg, 5.0),
        );
    }
}
