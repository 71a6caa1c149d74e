//! Grade line on its own page, for files and paper.

use super::{GradeScene, PathProfile, fitting, grade, path_parts, room};
use crate::draw::canvas::touch::{Trust, called};
use crate::draw::page::frame;
use crate::draw::page::frame::{FOOT, HEAD, SheetOptions};
use crate::draw::page::shape::{Drawing, Rect};
use crate::layout::{Id, Layout};
use crate::states::GradePoint;

/// Draws the grade line along a path on its own page, with a title and a note on the numbers. `line` is what
/// [`crate::evaluate::grade`] returns for the running state of the sheet.
pub fn sheet(sheet: &SheetOptions<'_>, line: &[GradePoint]) -> Drawing {
    let (width, height) = sheet.page;
    let profile = sheet
        .running
        .map(|report| PathProfile::of(sheet.layout, report, line))
        .unwrap_or_default();
    let below = Rect {
        left: 0.0,
        top: 0.0,
        right: width,
        bottom: (height - HEAD - FOOT).max(40.0),
    };
    let view = fitting(profile.bounds(), room(below));
    let drawn = grade(&GradeScene {
        layout: sheet.layout,
        profile: &profile,
        view,
        water: sheet.running,
        trust: Trust::Sure,
        units: sheet.units,
        selected: &[],
        hovered: None,
    });
    let mut marks = frame::moved_down(drawn.drawing.marks, HEAD);
    let stretch = view.points_per_metre_up / view.points_per_metre_along;
    let levels = frame::levels(sheet);
    let note = format!(
        "{levels} Distances run along the pipes; heights are drawn {stretch:.1} times as large as distances. {}",
        frame::CAUTION
    );
    marks.extend(frame::head_and_foot(sheet, 14.0, width - 28.0, &note));
    Drawing {
        width,
        height,
        title: format!("Grade line of {}", sheet.layout.title),
        marks,
        under: None,
    }
}

/// Describes a path by the parts that it passes, including pumps.
pub fn path_words(layout: &Layout, profile: &PathProfile) -> String {
    let mut words: Vec<String> = Vec::new();
    let mut say = |id: &Id, name: &str| {
        let name = called(name, id).to_owned();
        if words.last() != Some(&name) {
            words.push(name);
        }
    };
    let mut legs = profile.legs.iter();
    for stand in &profile.stands {
        if !is_joint(layout, &stand.part) {
            say(&stand.part, path_parts::name(layout, &stand.part));
        }
        let run = legs.next().and_then(|leg| layout.run(&leg.run));
        if let Some(pump) = run.and_then(|run| run.pump.as_ref()) {
            say(&pump.id, &pump.name);
        }
    }
    words.join(" → ")
}

/// Returns whether the part is a joint; joints are not named in a path.
fn is_joint(layout: &Layout, id: &Id) -> bool {
    layout.joints.iter().any(|joint| joint.id == *id)
}
