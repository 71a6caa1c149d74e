//! The hand on the plan and the section: setting down, moving, drawing pipe, selecting.

use crate::support::drawn::{Drawn, place};
use fallwright::draw::page::shape::{Point, Rect, pt};
use fallwright::draw::page::view::at;
use fallwright::draw::plan::{self, Floorplan, PlanScene};
use fallwright::draw::section::{self, Pick, SectionLayout, SectionScene, TouchTarget, Trust};
use fallwright::edit::{self, Lock, Preset};
use fallwright::editor::{
    DrawingKind, NudgeSize, Tool, ToolContext, ToolEvent, ToolRequest, ToolState,
};
use fallwright::layout::{Id, Layout, RunEnd};
use fallwright::units::UnitSystem;

const PAGE: Rect = Rect {
    left: 0.0,
    top: 0.0,
    right: 900.0,
    bottom: 600.0,
};

/// A hand on one drawing of a layout, which takes what is committed.
struct Desk {
    layout: Layout,
    sheet: DrawingKind,
    hand: ToolState,
    targets: Vec<TouchTarget>,
    shown: Option<Layout>,
}

impl Desk {
    fn on(layout: Layout, sheet: DrawingKind) -> Desk {
        let mut desk = Desk {
            layout,
            sheet,
            hand: ToolState::default(),
            targets: Vec::new(),
            shown: None,
        };
        desk.draw();
        desk
    }

    /// Draws what is shown, so that it can be touched.
    fn draw(&mut self) {
        let layout = self.shown.as_ref().unwrap_or(&self.layout);
        let selected = &self.hand.selected;
        self.targets = match self.sheet {
            DrawingKind::Section => {
                let ground = SectionLayout::of(layout);
                // As in the window, the page lies as it did before the drag.
                let bounds = SectionLayout::of(&self.layout).bounds();
                let view = self.hand.look.on(section::room(PAGE), bounds);
                let scene = SectionScene {
                    layout,
                    positions: &ground,
                    view,
                    water: None,
                    other: None,
                    trust: Trust::Sure,
                    findings: &[],
                    units: UnitSystem::Metric,
                    band: None,
                    selected,
                    hovered: None,
                };
                section::section(&scene).targets
            }
            DrawingKind::Plan => {
                let ground = Floorplan::of(layout);
                let bounds = Floorplan::of(&self.layout).bounds();
                let view = self.hand.plan.true_on(plan::room(PAGE), bounds);
                let scene = PlanScene {
                    layout,
                    positions: &ground,
                    view,
                    water: None,
                    other: None,
                    trust: Trust::Sure,
                    findings: &[],
                    units: UnitSystem::Metric,
                    band: None,
                    selected,
                    hovered: None,
                };
                plan::plan(&scene).targets
            }
        };
    }

    fn take(&mut self, event: ToolEvent) -> Option<ToolRequest> {
        let ground = ToolContext {
            layout: &self.layout,
            targets: &self.targets,
            units: UnitSystem::Metric,
            sheet: self.sheet,
        };
        let request = self.hand.take(event, &ground);
        match &request {
            Some(ToolRequest::Preview(edit)) => self.shown = edit.apply(&self.layout).ok(),
            Some(ToolRequest::Commit(edit)) => {
                self.layout = edit.apply(&self.layout).unwrap();
                self.shown = None;
            }
            Some(ToolRequest::Make(edit, made)) => {
                self.layout = edit.apply(&self.layout).unwrap();
                self.hand.selected = made.iter().cloned().map(Pick::Part).collect();
                self.shown = None;
            }
            Some(ToolRequest::Drop) => self.shown = None,
            _ => {}
        }
        self.draw();
        request
    }

    fn drag(&mut self, from: Point, to: Point) -> Option<ToolRequest> {
        self.take(ToolEvent::Moved(from));
        self.take(ToolEvent::Pressed(from));
        let middle = pt((from.x + to.x) / 2.0, (from.y + to.y) / 2.0);
        self.take(ToolEvent::Moved(middle));
        self.take(ToolEvent::Moved(to));
        self.take(ToolEvent::Released(to))
    }

    fn click(&mut self, point: Point) -> Option<ToolRequest> {
        self.take(ToolEvent::Moved(point));
        self.take(ToolEvent::Pressed(point))
            .or(self.take(ToolEvent::Released(point)))
    }

    /// A place of the drawing on the page.
    fn page(&mut self, x_m: f64, y_m: f64) -> Point {
        let sheet = self.sheet;
        let view = self.hand.look_of(sheet).view().unwrap();
        view.page_from_section(at(x_m, y_m))
    }

    fn spot(&self, pick: &Pick) -> Point {
        let target = self.targets.iter().find(|target| target.pick == *pick);
        target
            .unwrap_or_else(|| panic!("{pick:?} is not drawn"))
            .reach
            .bounds()
            .centre()
    }
}

/// A tank and a sump 4 m apart, and a run between them.
fn pair() -> (Layout, [Id; 3]) {
    let mut drawn = Drawn::empty();
    let tank = drawn.add(Preset::RoundTank, place(0.0, 0.0, 0.0));
    let sump = drawn.add(Preset::Sump, place(4.0, 0.0, 0.0));
    let run = drawn.run(&tank, &sump);
    (drawn.layout, [tank, sump, run])
}

#[test]
fn a_vessel_from_the_shelf_stands_where_it_was_set_down() {
    let mut desk = Desk::on(pair().0, DrawingKind::Plan);
    desk.hand.take_tool(Tool::Vessel(Preset::Bed));
    let spot = desk.page(2.03, 1.51);
    let made = desk.click(spot);
    let Some(ToolRequest::Make(_, ids)) = made else {
        panic!("{made:?}")
    };
    let bed = desk.layout.vessel(&ids[0]).unwrap();
    assert_eq!(bed.name, "Bed 1");
    assert!((bed.place.x_m - 2.05).abs() < 1e-9 && (bed.place.y_m - 1.5).abs() < 1e-9);
    assert_eq!(bed.floor_m, Preset::Bed.floor_m());
    assert_eq!(desk.hand.tool, Tool::Hand);
    assert_eq!(desk.hand.selected, [Pick::Part(ids[0].clone())]);
}

#[test]
fn a_vessel_let_go_over_the_drawing_is_set_down_there() {
    let mut desk = Desk::on(pair().0, DrawingKind::Plan);
    // Pressed on the shelf: the drawing sees it moved and let go.
    desk.hand.take_tool(Tool::Vessel(Preset::Barrel));
    let spot = desk.page(2.0, 1.5);
    desk.take(ToolEvent::Moved(spot));
    let made = desk.take(ToolEvent::Released(spot));
    assert!(matches!(made, Some(ToolRequest::Make(..))), "{made:?}");
    assert_eq!(desk.layout.vessels.last().unwrap().name, "Barrel 1");
    // Let go a second time nothing more is set down.
    assert_eq!(desk.take(ToolEvent::Released(spot)), None);
}

#[test]
fn a_vessel_drawn_by_a_drag_has_the_size_of_the_drag() {
    let mut desk = Desk::on(pair().0, DrawingKind::Plan);
    desk.hand.take_tool(Tool::Vessel(Preset::Bed));
    let (from, to) = (desk.page(1.0, 0.5), desk.page(2.5, 1.2));
    let made = desk.drag(from, to);
    let Some(ToolRequest::Make(_, ids)) = made else {
        panic!("{made:?}")
    };
    let bed = desk.layout.vessel(&ids[0]).unwrap();
    assert_eq!(bed.shape.footprint_m(), (1.5, 0.7));
}

#[test]
fn in_the_section_a_click_says_the_height_of_the_floor() {
    let mut desk = Desk::on(pair().0, DrawingKind::Section);
    desk.hand.take_tool(Tool::Vessel(Preset::Bed));
    // Half a finger off the floor of the tank: it stands level with it.
    let on_it = desk.page(6.0, 0.9);
    let made = desk.click(on_it.moved(0.0, 2.0));
    let Some(ToolRequest::Make(edit, ids)) = made else {
        panic!("{made:?}")
    };
    let bed = desk.layout.vessel(&ids[0]).unwrap();
    assert_eq!(bed.floor_m, 0.9);
    assert!((bed.rim_m - 1.2).abs() < 1e-9);
    assert!(
        (bed.place.along_m - 6.0).abs() < 0.051,
        "{}",
        bed.place.along_m
    );
    // The others stand where they were seen, in the same step.
    assert!(edit.inverse().apply(&desk.layout).is_ok());
    assert!(
        desk.layout
            .vessels
            .iter()
            .filter(|one| one.place.along_m != 0.0)
            .count()
            >= 2
    );
}

#[test]
fn a_vessel_moved_in_the_plan_takes_its_run_along() {
    let (layout, [tank, _, run]) = pair();
    let length = layout.length_of(layout.run(&run).unwrap());
    let mut desk = Desk::on(layout, DrawingKind::Plan);
    let from = desk.page(-0.3, 0.3);
    let to = desk.page(-1.3, 0.3);
    let made = desk.drag(from, to);
    assert!(matches!(made, Some(ToolRequest::Commit(_))), "{made:?}");
    let moved = desk.layout.vessel(&tank).unwrap().place;
    assert!(
        (moved.x_m + 1.0).abs() < 0.06 && moved.y_m.abs() < 1e-9,
        "{moved:?}"
    );
    let longer = desk.layout.length_of(desk.layout.run(&run).unwrap());
    assert!((longer - length - 1.0).abs() < 0.07, "{length} {longer}");
}

#[test]
fn moving_comes_in_line_with_others_and_says_why() {
    let (layout, _) = pair();
    let mut drawn = Drawn { layout };
    drawn.add(Preset::Barrel, place(2.0, 2.0, 0.0));
    let mut desk = Desk::on(drawn.layout, DrawingKind::Plan);
    let from = desk.page(2.0, 2.0);
    // Two points off the middle of the sump, at x = 4.
    let to = desk.page(4.0, 2.4).moved(2.0, 0.0);
    desk.take(ToolEvent::Pressed(from));
    desk.take(ToolEvent::Moved(pt((from.x + to.x) / 2.0, from.y)));
    desk.take(ToolEvent::Moved(to));
    let ground = ToolContext {
        layout: &desk.layout,
        targets: &desk.targets,
        units: UnitSystem::Metric,
        sheet: DrawingKind::Plan,
    };
    let guide = desk.hand.guide(&ground);
    let said = format!("{:?}", guide.marks());
    assert!(said.contains("in line with the centre of Sump 1"), "{said}");
    desk.take(ToolEvent::Released(to));
    let barrel = desk.layout.vessels.last().unwrap();
    assert_eq!(barrel.place.x_m, 4.0);
}

#[test]
fn a_vessel_lifted_in_the_section_takes_its_crest_along_and_stops_at_a_rim() {
    let (layout, [tank, sump, run]) = pair();
    let rim_m = layout.vessel(&sump).unwrap().rim_m;
    let crest = |layout: &Layout| {
        let run = layout.run(&run).unwrap();
        run.end(RunEnd::From)
            .opening
            .as_ref()
            .unwrap()
            .crest_m()
            .unwrap()
    };
    let before = crest(&layout);
    let mut desk = Desk::on(layout, DrawingKind::Section);
    let from = desk.spot(&Pick::Part(tank.clone()));
    let floor = desk.page(0.0, 0.9).y;
    let rim = desk.page(0.0, rim_m).y;
    // One point beside the height at which its floor is level with the rim of the sump.
    desk.drag(from, from.moved(0.0, rim - floor + 1.0));
    let lifted = desk.layout.vessel(&tank).unwrap();
    assert_eq!(lifted.floor_m, rim_m);
    assert!((crest(&desk.layout) - before - (rim_m - 0.9)).abs() < 1e-9);
    assert!((lifted.rim_m - lifted.floor_m - 0.75).abs() < 1e-9);
}

#[test]
fn the_rim_of_a_selected_vessel_has_a_grip() {
    let (layout, [tank, ..]) = pair();
    let mut desk = Desk::on(layout, DrawingKind::Section);
    desk.hand.select(Pick::Part(tank.clone()));
    desk.draw();
    let grip = desk.spot(&Pick::Rim(tank.clone()));
    let before = desk.layout.vessel(&tank).unwrap().clone();
    desk.drag(grip, grip.moved(0.0, -37.0));
    let after = desk.layout.vessel(&tank).unwrap();
    assert!(after.rim_m > before.rim_m + 0.05);
    assert_eq!(after.floor_m, before.floor_m);
    // A nudge is a millimetre of the tape.
    desk.hand.select(Pick::Rim(tank.clone()));
    let now = desk.layout.vessel(&tank).unwrap().rim_m;
    desk.take(ToolEvent::Nudged {
        right: 0,
        up: 1,
        step: NudgeSize::Fine,
    });
    assert!((desk.layout.vessel(&tank).unwrap().rim_m - now - 0.001).abs() < 6e-4);
}

#[test]
fn pipe_is_drawn_in_one_drag_or_by_clicks_with_corners() {
    let (layout, [tank, sump, _]) = pair();
    let mut desk = Desk::on(layout, DrawingKind::Plan);
    desk.hand.take_tool(Tool::Pipe);
    let from = desk.page(4.0, 0.2);
    let to = desk.page(-0.2, 0.3);
    let made = desk.drag(from, to);
    let Some(ToolRequest::Make(_, ids)) = made else {
        panic!("{made:?}")
    };
    let lift = desk.layout.run(&ids[0]).unwrap();
    assert!(lift.pump.is_some() && lift.from.at == sump && lift.to.at == tank);
    // Pipe stays in the hand: clicks now, with a corner between, three points off square.
    let start = desk.page(0.0, -0.3);
    desk.click(start);
    let beside = desk.page(0.0, -2.0).moved(3.0, 0.0);
    desk.click(beside);
    assert!(desk.hand.draws_pipe());
    let end = desk.page(4.0, -0.2);
    let made = desk.click(end);
    let Some(ToolRequest::Make(_, ids)) = made else {
        panic!("{made:?}")
    };
    let drain = desk.layout.run(&ids[0]).unwrap();
    let corners = drain
        .route
        .iter()
        .filter(|corner| (corner.y_m + 2.0).abs() < 0.02);
    let corners: Vec<f64> = corners.map(|corner| corner.x_m).collect();
    assert!(
        !corners.is_empty() && corners.iter().all(|x| x.abs() < 0.02),
        "{:?}",
        drain.route
    );
}

#[test]
fn a_corner_can_be_taken_back_and_a_run_dropped() {
    let (layout, _) = pair();
    let mut desk = Desk::on(layout.clone(), DrawingKind::Plan);
    desk.hand.take_tool(Tool::Pipe);
    let start = desk.page(0.0, -0.3);
    desk.click(start);
    let blank = desk.page(1.0, -2.0);
    desk.click(blank);
    desk.take(ToolEvent::TakenBack);
    assert!(desk.hand.draws_pipe());
    desk.take(ToolEvent::Dropped);
    assert!(!desk.hand.draws_pipe());
    assert_eq!(desk.hand.tool, Tool::Pipe);
    desk.take(ToolEvent::Dropped);
    assert_eq!(desk.hand.tool, Tool::Hand);
    assert_eq!(desk.layout, layout);
    // On blank paper nothing begins, and that is said.
    desk.hand.take_tool(Tool::Pipe);
    let said = desk.take(ToolEvent::Pressed(blank));
    assert!(matches!(said, Some(ToolRequest::Say(_))), "{said:?}");
}

#[test]
fn pipe_that_ends_on_pipe_gets_a_tee() {
    let (layout, [.., run]) = pair();
    let mut drawn = Drawn { layout };
    let bed = drawn.add(Preset::Bed, place(2.0, 2.5, 0.0));
    let mut desk = Desk::on(drawn.layout, DrawingKind::Plan);
    desk.hand.take_tool(Tool::Pipe);
    let from = desk.page(2.0, 2.5);
    let to = desk.page(2.0, 0.0);
    let made = desk.drag(from, to);
    assert!(matches!(made, Some(ToolRequest::Make(..))), "{made:?}");
    assert_eq!(desk.layout.joints.len(), 1);
    let tee = &desk.layout.joints[0];
    assert!((tee.place.x_m - 2.0).abs() < 0.03 && tee.place.y_m.abs() < 0.03);
    let drain = desk.layout.runs.last().unwrap();
    assert!(drain.from.at == bed && drain.to.at == tee.id);
    assert!(desk.layout.run(&run).unwrap().to.at == tee.id);
}

#[test]
fn a_manifold_is_drawn_over_what_it_feeds() {
    let mut drawn = Drawn::empty();
    let header = drawn.add(Preset::Header, place(0.0, 0.0, 0.0));
    let beds = [1.5, 4.0, 6.5].map(|x| drawn.add(Preset::Bed, place(x, 2.0, 0.0)));
    let mut desk = Desk::on(drawn.layout, DrawingKind::Plan);
    desk.hand.take_tool(Tool::Manifold);
    let start = desk.page(0.0, 0.0);
    desk.take(ToolEvent::Pressed(start));
    for x in [1.5, 2.5, 4.0, 5.0, 6.5] {
        let over = desk.page(x, 2.0);
        desk.take(ToolEvent::Moved(over));
    }
    let end = desk.page(6.5, 2.0);
    let made = desk.take(ToolEvent::Released(end));
    assert!(matches!(made, Some(ToolRequest::Make(..))), "{made:?}");
    assert_eq!(desk.layout.joints.len(), 2);
    let feeds = |bed: &Id| {
        desk.layout
            .runs
            .iter()
            .filter(|run| run.to.at == *bed)
            .count()
    };
    assert!(beds.iter().all(|bed| feeds(bed) == 1));
    let from = desk
        .layout
        .runs
        .iter()
        .filter(|run| run.from.at == header)
        .count();
    assert_eq!(from, 1);
}

#[test]
fn shift_adds_and_a_box_takes_what_lies_in_it() {
    let (layout, [tank, sump, _]) = pair();
    let mut desk = Desk::on(layout, DrawingKind::Plan);
    let on_tank = desk.page(-0.3, 0.3);
    let on_sump = desk.page(4.2, 0.2);
    desk.click(on_tank);
    assert_eq!(desk.hand.parts(), std::slice::from_ref(&tank));
    desk.take(ToolEvent::PressedToo(on_sump));
    desk.take(ToolEvent::Released(on_sump));
    assert_eq!(desk.hand.parts(), [tank.clone(), sump.clone()]);
    desk.take(ToolEvent::PressedToo(on_sump));
    desk.take(ToolEvent::Released(on_sump));
    assert_eq!(desk.hand.parts(), [tank]);
    desk.take(ToolEvent::Dropped);
    // A box around the sump alone.
    let (from, to) = (desk.page(3.0, 0.8), desk.page(4.9, -0.8));
    desk.take(ToolEvent::PressedToo(from));
    desk.take(ToolEvent::Moved(to));
    desk.take(ToolEvent::Released(to));
    assert_eq!(desk.hand.parts(), [sump]);
}

#[test]
fn the_tape_measures_and_changes_nothing() {
    let (layout, _) = pair();
    let mut desk = Desk::on(layout.clone(), DrawingKind::Plan);
    desk.hand.take_tool(Tool::Tape);
    let (from, to) = (desk.page(0.0, 0.0), desk.page(3.0, 1.5));
    desk.take(ToolEvent::Pressed(from));
    desk.take(ToolEvent::Moved(to));
    let ground = ToolContext {
        layout: &desk.layout,
        targets: &desk.targets,
        units: UnitSystem::Metric,
        sheet: DrawingKind::Plan,
    };
    let said = format!("{:?}", desk.hand.guide(&ground).marks());
    // 3 and 1.5 by Pythagoras.
    assert!(said.contains("3.35 m (X 3.00 m, Y 1.50 m)"), "{said}");
    assert_eq!(desk.take(ToolEvent::Released(to)), None);
    assert_eq!(desk.layout, layout);
}

#[test]
fn what_is_locked_is_not_moved_by_any_hand() {
    let (layout, [tank, _, run]) = pair();
    let locked = edit::lock(&layout, &[tank.clone(), run.clone()], Lock::Built).unwrap();
    let layout = locked.apply(&layout).unwrap();
    let mut desk = Desk::on(layout.clone(), DrawingKind::Plan);
    let (from, to) = (desk.page(-0.3, 0.3), desk.page(-1.3, 0.3));
    desk.take(ToolEvent::Pressed(from));
    let shown = desk.take(ToolEvent::Moved(to));
    let Some(ToolRequest::Preview(edit)) = shown else {
        panic!("{shown:?}")
    };
    let refused = edit.spares_what_is_built().unwrap_err();
    assert_eq!(refused.part.as_ref(), Some(&tank));
    // A valve is for use, and a name is no pipe.
    let rename = edit::rename(&layout, &tank, "Old tank").unwrap();
    assert!(rename.spares_what_is_built().is_ok());
    let unlock = edit::lock(&layout, &[tank, run.clone()], Lock::Open).unwrap();
    assert!(unlock.spares_what_is_built().is_ok());
    let gone = edit::remove(&layout, &[run]).unwrap();
    assert!(gone.spares_what_is_built().is_err());
}
