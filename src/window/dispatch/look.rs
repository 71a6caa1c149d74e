//! Views of the drawings, and the selection on them.

use crate::draw::page::view::at;
use crate::draw::section::Pick;
use crate::editor::{DrawingKind, standing};
use crate::layout::Id;
use crate::window::app::App;
use crate::window::canvas::Views;
use crate::window::commands::Command;
use crate::window::prompts::Prompt;

/// Zoom factor of one key press.
const ZOOM_STEP: f64 = 1.25;

impl App {
    pub(super) fn look(&mut self, command: Command) {
        match command {
            Command::Fit => {
                self.tool_state.look.fit();
                self.tool_state.plan.fit();
                self.canvas.fit_grade();
            }
            Command::Larger => self.zoom(ZOOM_STEP),
            Command::Smaller => self.zoom(1.0 / ZOOM_STEP),
            Command::OnlySection => self.views = Views::Section,
            Command::OnlyPlan => self.views = Views::Plan,
            Command::BothDrawings => self.views = Views::Both,
            Command::OnlyGrade => self.views = Views::Grade,
            Command::Shelf => self.shelf = !self.shelf,
            Command::NextCrest => self.next_crest(1),
            Command::CrestBefore => self.next_crest(-1),
            Command::NextPart => self.next_part(1, false),
            Command::PartBefore => self.next_part(-1, false),
            Command::NextPartToo => self.next_part(1, true),
            Command::SelectAll => {
                let all = self.parts_in_order();
                self.tool_state.selected = all.into_iter().map(Pick::Part).collect();
            }
            Command::Find => self.form = Some(Prompt::find()),
            _ => {}
        }
    }

    /// The drawing that has the focus.
    pub(super) fn sheet(&self) -> DrawingKind {
        match self.views {
            Views::Section | Views::Grade => DrawingKind::Section,
            Views::Plan => DrawingKind::Plan,
            Views::Both => self.tool_state.sheet(),
        }
    }

    fn zoom(&mut self, by: f64) {
        if self.views == Views::Grade {
            return self.canvas.zoom_grade(by);
        }
        let sheet = self.sheet();
        let look = self.tool_state.look_of(sheet);
        if let Some(view) = look.view() {
            look.zoom(by, view.page.centre());
        }
    }

    /// Selects a target and brings it into view on both drawings.
    pub(super) fn find(&mut self, pick: Pick) {
        self.bring(&pick);
        self.tool_state.select(pick);
    }

    fn bring(&mut self, pick: &Pick) {
        for sheet in [DrawingKind::Section, DrawingKind::Plan] {
            let targets = self.canvas.targets(sheet).iter();
            let target = targets.into_iter().find(|target| target.pick == *pick);
            let bounds = target.map(|target| target.reach.bounds());
            if let Some(bounds) = bounds {
                self.tool_state.look_of(sheet).bring(bounds);
            }
        }
    }

    /// Fits the view of a drawing where a new part would not be visible in it.
    pub(super) fn show_made(&mut self, made: &[Id]) {
        let layout = self.session.layout().clone();
        let standing = standing(&layout);
        for id in made {
            let (Some(place), Some(foot_m)) = (layout.place_of(id), layout.foot_m(id)) else {
                continue;
            };
            let along_m = standing
                .iter()
                .find(|(one, _)| one == id)
                .map_or(0.0, |one| one.1);
            let places = [
                (DrawingKind::Section, at(along_m, foot_m)),
                (DrawingKind::Plan, at(place.x_m, place.y_m)),
            ];
            for (sheet, place) in places {
                let look = self.tool_state.look_of(sheet);
                let seen = look
                    .view()
                    .is_none_or(|view| view.page.holds(view.page_from_section(place)));
                if !seen {
                    look.fit();
                }
            }
        }
    }

    /// All parts in the order of the layout, vessels first.
    fn parts_in_order(&self) -> Vec<Id> {
        let layout = self.session.layout();
        let vessels = layout.vessels.iter().map(|part| &part.id);
        let joints = layout.joints.iter().map(|part| &part.id);
        let fixed = layout.fixed.iter().map(|part| &part.id);
        let runs = layout.runs.iter().map(|part| &part.id);
        let all = vessels.chain(joints).chain(fixed).chain(runs);
        all.cloned().collect()
    }

    /// Selects the part `step` after the selected one, cyclically; `too` adds it to the selection.
    fn next_part(&mut self, step: isize, too: bool) {
        let all: Vec<Pick> = self.parts_in_order().into_iter().map(Pick::Part).collect();
        let Some(pick) = after(&all, self.tool_state.last(), step) else {
            return;
        };
        self.bring(&pick);
        if too {
            self.tool_state.selected.retain(|one| *one != pick);
            self.tool_state.selected.push(pick);
        } else {
            self.tool_state.select(pick);
        }
    }

    /// Selects the crest `step` after the selected one, cyclically.
    fn next_crest(&mut self, step: isize) {
        let targets = self.canvas.targets(self.sheet()).iter();
        let mut crests: Vec<(f64, Pick)> = targets
            .filter(|target| matches!(target.pick, Pick::Crest { .. }))
            .map(|target| (target.reach.bounds().left, target.pick.clone()))
            .collect();
        // From left to right, as water falls.
        crests.sort_by(|a, b| a.0.total_cmp(&b.0));
        let crests: Vec<Pick> = crests.into_iter().map(|(_, pick)| pick).collect();
        if let Some(pick) = after(&crests, self.tool_state.last(), step) {
            self.find(pick);
        }
    }
}

/// The item `step` after `now` in a list, cyclically.
fn after(all: &[Pick], now: Option<&Pick>, step: isize) -> Option<Pick> {
    let count = isize::try_from(all.len()).ok().filter(|count| *count > 0)?;
    let now = all.iter().position(|pick| Some(pick) == now);
    let next = match now.and_then(|now| isize::try_from(now).ok()) {
        Some(now) => (now + step).rem_euclid(count),
        None if step < 0 => count - 1,
        None => 0,
    };
    all.get(usize::try_from(next).ok()?).cloned()
}
