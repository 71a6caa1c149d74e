//! The hand: from events to requests.

use fallwright::draw::page::shape::{Point, Rect};
use fallwright::draw::section::{Pick, Section, SectionLayout, SectionScene, Trust, room, section};
use fallwright::editor::{DrawingKind, NudgeSize, ToolContext, ToolEvent, ToolRequest, ToolState};
use fallwright::layout::{Layout, RunEnd};
use fallwright::session::demo;
use fallwright::units::UnitSystem;

const PAGE: Rect = Rect {
    left: 0.0,
    top: 0.0,
    right: 1100.0,
    bottom: 600.0,
};

struct Desk {
    layout: Layout,
    drawn: Section,
    hand: ToolState,
}

impl Desk {
    fn new() -> Desk {
        let layout = demo().unwrap();
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
        Desk {
            layout,
            drawn,
            hand,
        }
    }

    fn take(&mut self, event: ToolEvent) -> Option<ToolRequest> {
        let ground = ToolContext {
            layout: &self.layout,
            targets: &self.drawn.targets,
            units: UnitSystem::Metric,
            sheet: DrawingKind::Section,
        };
        self.hand.take(event, &ground)
    }

    fn crest(&self, run: &str) -> Point {
        let pick = crest(run);
        let target = self.drawn.targets.iter().find(|target| target.pick == pick);
        target.unwrap().reach.bounds().centre()
    }

    fn metres_per_point(&self) -> f64 {
        1.0 / self.hand.look.view().unwrap().points_per_metre_up
    }
}

fn crest(run: &str) -> Pick {
    Pick::Crest {
        run: run.into(),
        end: RunEnd::From,
    }
}

/// The crest that an edit sets.
fn set(layout: &Layout, request: Option<ToolRequest>) -> f64 {
    let edit = match request {
        Some(ToolRequest::Preview(edit) | ToolRequest::Commit(edit)) => edit,
        other => panic!("no edit: {other:?}"),
    };
    let after = edit.apply(layout).unwrap();
    let run = after.run(&"step-3".into()).unwrap();
    run.from.opening.as_ref().unwrap().crest_m().unwrap()
}

#[test]
fn a_click_selects_and_changes_nothing() {
    let mut desk = Desk::new();
    let at = desk.crest("step-3");
    assert_eq!(desk.take(ToolEvent::Pressed(at)), None);
    assert_eq!(desk.take(ToolEvent::Moved(at.moved(1.0, 1.0))), None);
    assert_eq!(desk.take(ToolEvent::Released(at)), None);
    assert_eq!(desk.hand.selected, [crest("step-3")]);
    // A click beside everything selects nothing.
    let empty = Point { x: 400.0, y: 30.0 };
    desk.take(ToolEvent::Pressed(empty));
    desk.take(ToolEvent::Released(empty));
    assert!(desk.hand.selected.is_empty());
}

#[test]
fn a_crest_follows_the_pointer_from_where_it_was_taken() {
    let mut desk = Desk::new();
    let at = desk.crest("step-3");
    // Taken three points beside its middle: it does not jump there.
    let taken = at.moved(2.0, 3.0);
    desk.take(ToolEvent::Pressed(taken));
    let wanted = 1.155 + 40.0 * desk.metres_per_point();
    let mut last = None;
    for step in 1..=40 {
        last = desk.take(ToolEvent::Moved(taken.moved(0.0, -f64::from(step))));
    }
    let preview = set(&desk.layout, last);
    assert!((preview - wanted).abs() <= 0.0051, "{preview} for {wanted}");
    assert!(desk.hand.drags());
    let layout = desk.layout.clone();
    let made = desk.take(ToolEvent::Released(taken.moved(0.0, -40.0)));
    assert!(matches!(made, Some(ToolRequest::Commit(_))));
    assert_eq!(set(&layout, made), preview);
    assert!(!desk.hand.drags());
}

#[test]
fn a_crest_that_comes_back_to_where_it_was_is_no_step() {
    let mut desk = Desk::new();
    let at = desk.crest("step-3");
    desk.take(ToolEvent::Pressed(at));
    desk.take(ToolEvent::Moved(at.moved(0.0, -30.0)));
    desk.take(ToolEvent::Moved(at));
    assert_eq!(desk.take(ToolEvent::Released(at)), Some(ToolRequest::Drop));
}

#[test]
fn what_is_dropped_stays_dropped_until_the_button_is_let_go() {
    let mut desk = Desk::new();
    let at = desk.crest("step-3");
    desk.take(ToolEvent::Pressed(at));
    desk.take(ToolEvent::Moved(at.moved(0.0, -30.0)));
    assert_eq!(desk.take(ToolEvent::Dropped), Some(ToolRequest::Drop));
    assert_eq!(desk.take(ToolEvent::Moved(at.moved(0.0, -50.0))), None);
    assert_eq!(desk.take(ToolEvent::Released(at.moved(0.0, -50.0))), None);
    desk.take(ToolEvent::Pressed(at));
    let again = desk.take(ToolEvent::Moved(at.moved(0.0, -30.0)));
    assert!(matches!(again, Some(ToolRequest::Preview(_))));
}

#[test]
fn a_drag_beside_the_parts_moves_the_page() {
    let mut desk = Desk::new();
    let before = desk.hand.look.view().unwrap();
    let empty = Point { x: 400.0, y: 30.0 };
    desk.take(ToolEvent::Pressed(empty));
    assert_eq!(desk.take(ToolEvent::Moved(empty.moved(25.0, -10.0))), None);
    desk.take(ToolEvent::Released(empty.moved(25.0, -10.0)));
    let after = desk.hand.look.view().unwrap();
    assert!((after.x(0.0) - before.x(0.0) - 25.0).abs() < 1e-9);
    assert!((after.y(0.0) - before.y(0.0) + 10.0).abs() < 1e-9);
}

#[test]
fn a_crest_stops_at_its_floor_and_a_little_over_its_rim() {
    let mut desk = Desk::new();
    let at = desk.crest("step-3");
    desk.take(ToolEvent::Pressed(at));
    let layout = desk.layout.clone();
    let down = desk.take(ToolEvent::Moved(at.moved(0.0, 5000.0)));
    assert!((set(&layout, down) - 0.95).abs() < 1e-9);
    let up = desk.take(ToolEvent::Moved(at.moved(0.0, -5000.0)));
    assert!((set(&layout, up) - 1.64).abs() < 1e-9);
}

#[test]
fn a_crest_is_drawn_to_the_rim_and_to_its_neighbours() {
    let mut desk = Desk::new();
    let at = desk.crest("step-3");
    desk.take(ToolEvent::Pressed(at));
    let layout = desk.layout.clone();
    // One point off the rim of bed 3, at 1.34 m.
    let off = (1.34 - 1.155) / desk.metres_per_point() + 1.0;
    let near = desk.take(ToolEvent::Moved(at.moved(0.0, -off)));
    assert_eq!(set(&layout, near), 1.34);
}

#[test]
fn nudges_are_a_millimetre_or_ten() {
    let mut desk = Desk::new();
    desk.hand.select(crest("step-3"));
    let layout = desk.layout.clone();
    let up = desk.take(ToolEvent::Nudged {
        right: 0,
        up: 1,
        step: NudgeSize::Fine,
    });
    assert!((set(&layout, up) - 1.156).abs() < 1e-12);
    let down = desk.take(ToolEvent::Nudged {
        right: 0,
        up: -2,
        step: NudgeSize::Coarse,
    });
    assert!((set(&layout, down) - 1.135).abs() < 1e-12);
    // A whole run has no height of its own.
    desk.hand.select(Pick::Part("step-3".into()));
    let nudge = ToolEvent::Nudged {
        right: 0,
        up: 1,
        step: NudgeSize::Fine,
    };
    assert_eq!(desk.take(nudge), None);
}

#[test]
fn what_is_gone_is_forgotten() {
    let mut desk = Desk::new();
    desk.hand.select(crest("step-3"));
    desk.hand.hovered = Some(Pick::Part("pump".into()));
    desk.hand.forget_missing(&desk.layout);
    assert!(!desk.hand.selected.is_empty() && desk.hand.hovered.is_some());
    desk.layout.runs.clear();
    desk.hand.forget_missing(&desk.layout);
    assert!(desk.hand.selected.is_empty() && desk.hand.hovered.is_none());
}
