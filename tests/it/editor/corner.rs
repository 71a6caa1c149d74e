//! A corner with a vent taken by the hand in the section.

use crate::support::layouts::{at, run, submerged, two_tanks};
use fallwright::draw::page::shape::Rect;
use fallwright::draw::section::{Pick, SectionLayout, SectionScene, Trust, room, section};
use fallwright::editor::{DrawingKind, ToolContext, ToolEvent, ToolRequest, ToolState};
use fallwright::geometry::Corner;
use fallwright::layout::Layout;
use fallwright::units::UnitSystem;

const PAGE: Rect = Rect {
    left: 0.0,
    top: 0.0,
    right: 1100.0,
    bottom: 600.0,
};

fn hump() -> Layout {
    let mut over = run("over", at("upper", submerged()), at("lower", submerged()));
    over.length_m = None;
    over.route = vec![Corner {
        vented: true,
        vent_top_m: Some(2.0),
        ..Corner::at(1.0, 0.5, 1.25)
    }];
    two_tanks(vec![over])
}

#[test]
fn a_vented_corner_is_raised_in_the_section_and_moved_nowhere_else() {
    let layout = hump();
    let plan = SectionLayout::of(&layout);
    let mut hand = ToolState::default();
    let view = hand.look.on(room(PAGE), plan.bounds());
    let drawn = section(&SectionScene {
        layout: &layout,
        positions: &plan,
        view,
        water: None,
        other: None,
        trust: Trust::Sure,
        findings: &[],
        units: UnitSystem::Metric,
        band: None,
        selected: &[],
        hovered: None,
    });
    let pick = Pick::Corner {
        run: "over".into(),
        index: 0,
    };
    let target = drawn.targets.iter().find(|one| one.pick == pick).unwrap();
    let taken = target.reach.bounds().centre();
    let ground = ToolContext {
        layout: &layout,
        targets: &drawn.targets,
        units: UnitSystem::Metric,
        sheet: DrawingKind::Section,
    };
    hand.take(ToolEvent::Pressed(taken), &ground);
    hand.take(ToolEvent::Moved(taken.moved(60.0, -20.0)), &ground);
    let to = taken.moved(120.0, -40.0);
    hand.take(ToolEvent::Moved(to), &ground);
    let Some(ToolRequest::Commit(edit)) = hand.take(ToolEvent::Released(to), &ground) else {
        panic!("an edit is wanted");
    };
    let after = edit.apply(&layout).unwrap();
    let corner = after.runs[0].route[0];
    let wanted_m = 1.25 + 40.0 / view.points_per_metre_up;
    assert!(
        (corner.z_m - wanted_m).abs() < 0.02,
        "{corner:?} {wanted_m}"
    );
    assert_eq!((corner.x_m, corner.y_m, corner.vented), (1.0, 0.5, true));
    let over_m = corner.vent_top_m.unwrap() - corner.z_m;
    assert!((over_m - 0.75).abs() < 1e-9, "as high over it as it was");
}
