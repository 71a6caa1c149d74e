//! The time bar: play, step, drag, and the curves of the most important levels.

use super::time_view::{PLAY_S, trust};
use super::{TimeView, words};
use crate::draw::page::shape::{Drawing, Ink};
use crate::draw::page::text::begun;
use crate::draw::results::event_sentence::event_sentence;
use crate::draw::results::outcome::second_of;
use crate::draw::time_plot::{
    Lane, TimePlot, TimeScale, lanes, levels, moment, time_plot, written,
};
use crate::layout::Id;
use crate::session::{Freshness, Session};
use crate::state::State;
use crate::states::InterpolatedSeries;
use crate::units::{UnitSystem, span};
use crate::window::action::Action;
use crate::window::commands::Command;
use crate::window::{paint, shot, theme};
use egui::{Button, Pos2, Rect, Response, RichText, Sense, Ui, WidgetInfo, accesskit::Role, vec2};
use std::sync::Arc;

/// Greatest default height of the curves with their axis, and the least height, points.
const HEIGHT: f32 = 200.0;
pub const LEAST_HEIGHT: f32 = 76.0;
/// Height from which there is room for two curves with their names, points.
const TWO: f32 = 98.0;
/// Width below which the row above the curves takes two lines, points.
const NARROW: f32 = 720.0;
const SHARE: f32 = 0.125;
/// Most event markers that can be clicked.
const MOST_SIGNS: usize = 80;

/// State of the time bar between frames, with the cached curves.
#[derive(Default)]
pub struct TimeBarState {
    /// Whether the curves are hidden.
    pub away: bool,
    /// Height of the rows above the curves when last laid out, points.
    pub head: f32,
    /// Whether the time bar has been shown before: from then on, a state without time explains why it is empty.
    was_there: bool,
    drawn: Option<(CurveInputs, Vec<Lane>, Drawing)>,
}

impl TimeBarState {
    /// Whether the curves are shown.
    pub fn has_curves(&self, session: &Session) -> bool {
        !self.away && session.series().is_some()
    }
}

/// Inputs of the curves.
struct CurveInputs {
    film: Arc<InterpolatedSeries>,
    looked_at: Option<Id>,
    units: UnitSystem,
    width: f32,
    height: f32,
    strength: f64,
}

impl CurveInputs {
    fn is_as(&self, other: &CurveInputs) -> bool {
        Arc::ptr_eq(&self.film, &other.film)
            && self.looked_at == other.looked_at
            && self.units == other.units
            && self.width.to_bits() == other.width.to_bits()
            && self.height.to_bits() == other.height.to_bits()
            && self.strength.to_bits() == other.strength.to_bits()
    }
}

/// Shows the time bar, where the state can be played.
pub(super) fn show(
    ui: &mut Ui,
    session: &Session,
    (watch, kept): (&TimeView, &mut TimeBarState),
    looked_at: Option<&Id>,
    actions: &mut Vec<Action>,
) {
    let Some((film, fresh)) = session.series() else {
        return empty(ui, &without_series(session, watch), kept);
    };
    kept.was_there = true;
    let shown = session.shown();
    let shut = watch
        .blocked(&shown)
        .filter(|_| watch.state == State::Blocked);
    let after = words::after(watch.state, shut.map(|run| shown.layout.name_of(run)));
    ui.add_space(2.0);
    let narrow = ui.available_width() < NARROW;
    let mut row = |ui: &mut Ui| {
        controls(ui, film, (watch, fresh), &after, actions);
        match narrow {
            true => spill(ui, film, actions),
            false => {
                let right = egui::Layout::right_to_left(egui::Align::Center);
                ui.with_layout(right, |ui| spill(ui, film, actions));
            }
        }
    };
    match narrow {
        true => ui.horizontal_wrapped(&mut row),
        false => ui.horizontal(&mut row),
    };
    let from = CurveInputs {
        film: film.clone(),
        looked_at: looked_at.cloned(),
        units: shown.layout.units,
        width: ui.available_width(),
        height: ui.available_height().max(LEAST_HEIGHT),
        strength: trust(fresh).strength(),
    };
    if !kept.away {
        kept.head = ui.cursor().top() - ui.max_rect().top();
        curves(ui, from, (watch, kept), &after, actions);
    }
}

/// Why the time bar is empty.
fn without_series(session: &Session, watch: &TimeView) -> EmptyBar {
    let shown = session.shown();
    let two = watch.two(&shown).filter(|_| watch.second(&shown).is_some());
    let end_only = two.and_then(|main| words::end_only(watch.state, main.outcome, second_of(main)));
    match end_only {
        Some(words) => EmptyBar::Said(words),
        None if session.is_simulating() => EmptyBar::Filming,
        None => EmptyBar::Nothing,
    }
}

/// Content in place of the curves.
enum EmptyBar {
    /// The simulation is running.
    Filming,
    /// The state has no time.
    Nothing,
    /// A message.
    Said(String),
}

/// Shows the message in place of the time bar.
fn empty(ui: &mut Ui, why: &EmptyBar, kept: &mut TimeBarState) {
    kept.was_there |= !matches!(why, EmptyBar::Nothing);
    if !kept.was_there {
        return;
    }
    let words = match why {
        EmptyBar::Filming => "Simulating…",
        EmptyBar::Nothing => {
            "Nothing changes in this state. Starting, Blocked and Stopped can be played."
        }
        EmptyBar::Said(words) => words.as_str(),
    };
    let soft = theme::ink(ui, Ink::SoftText);
    ui.add_space(2.0);
    ui.horizontal(|ui| {
        ui.set_min_height(ui.spacing().interact_size.y);
        ui.add(egui::Label::new(RichText::new(words).color(soft)).truncate());
    });
}

/// Shows the play and step buttons, and the time in words.
fn controls(
    ui: &mut Ui,
    film: &InterpolatedSeries,
    (watch, fresh): (&TimeView, Freshness),
    after: &str,
    actions: &mut Vec<Action>,
) {
    let play = match watch.playing {
        true => "Pause",
        false => "Play",
    };
    for (command, words) in [
        (Command::Play, play),
        (Command::EventBefore, "Previous event"),
        (Command::NextEvent, "Next event"),
    ] {
        let key = command.shortcut().map(|key| ui.ctx().format_shortcut(&key));
        let tip = format!("{} ({})", command.tip(), key.unwrap_or_default());
        let wide = vec2(if command == Command::Play { 62.0 } else { 0.0 }, 0.0);
        let button = ui.add(Button::new(words).min_size(wide));
        if button.on_hover_text(tip).clicked() {
            actions.push(Action::Do(command));
        }
    }
    let soft = theme::ink(ui, Ink::SoftText);
    let time = words::moment(film, watch.time_s, after);
    ui.label(RichText::new(time).font(theme::strong(theme::BODY)));
    let aside = match (fresh, watch.playing) {
        (Freshness::Stale, _) => Some("Updating…".to_owned()),
        (_, true) => Some(speed(TimeScale::of(film), watch.time_s.unwrap_or(0.0))),
        _ => None,
    };
    if let Some(words) = aside {
        ui.label(RichText::new(words).color(soft));
    }
}

/// Shows the first spill; a click goes there.
fn spill(ui: &mut Ui, film: &InterpolatedSeries, actions: &mut Vec<Action>) {
    let first = film.first_spill();
    let words = words::first_spill(film.layout(), first);
    let Some((_, time_s)) = first else {
        let soft = theme::ink(ui, Ink::SoftText);
        ui.label(RichText::new(words).color(soft));
        return;
    };
    let text = RichText::new(words)
        .font(theme::strong(theme::BODY))
        .color(theme::ink(ui, Ink::Problem));
    let button = ui.add(Button::new(text).frame(false));
    if button.on_hover_text("Goes to the first spill").clicked() {
        actions.push(Action::Time(Some(time_s)));
    }
}

/// The present speed of playing, in words.
fn speed(scale: TimeScale, time_s: f64) -> String {
    let share = scale.share(time_s);
    let ahead = (share + 0.5 / PLAY_S).min(1.0);
    let behind = (share - 0.5 / PLAY_S).max(0.0);
    let took_s = (ahead - behind) * PLAY_S;
    let rate = (scale.time_at(ahead) - scale.time_at(behind)) / took_s.max(1e-9);
    // Rounded, because it changes in every frame.
    format!("1 s = about {}", written(TimeScale::rounded(rate)))
}

/// The default height of the curves in a window of this height, points.
pub fn height(window: f32) -> f32 {
    (SHARE * window).clamp(LEAST_HEIGHT, HEIGHT).round()
}

fn curves(
    ui: &mut Ui,
    from: CurveInputs,
    (watch, kept): (&TimeView, &mut TimeBarState),
    after: &str,
    actions: &mut Vec<Action>,
) {
    let size = vec2(from.width, from.height);
    let (response, painter) = ui.allocate_painter(size, Sense::CLICK | Sense::DRAG);
    let film = from.film.clone();
    let scale = TimeScale::of(&film);
    let strength = from.strength;
    let units = from.units;
    let page = (f64::from(size.x), f64::from(size.y));
    let last = kept.drawn.take().filter(|(last, ..)| last.is_as(&from));
    let (from, lanes, drawn) = match last {
        Some((from, lanes, drawing)) => (from, lanes, Some(drawing)),
        None => {
            let mut lanes = lanes(&film, from.looked_at.as_ref());
            lanes.truncate(if from.height < TWO { 1 } else { 2 });
            (from, lanes, None)
        }
    };
    let of = TimePlot {
        scale,
        lanes: &lanes,
        told: film.events(),
        units,
        page,
        strength,
    };
    let drawing = drawn.unwrap_or_else(|| time_plot(&of));
    let origin = response.rect.min;
    let theme = theme::of(ui);
    let now_s = watch.time_s.unwrap_or(scale.end_s);
    paint::marks(&painter, origin, &drawing.marks, theme);
    paint::marks(
        &painter,
        origin,
        &moment(&of, now_s, &levels(&film, &lanes, watch.time_s)),
        theme,
    );
    drag(&response, &of, (origin, now_s), after, actions);
    shot::menu(&response, ("levels-in-time", || drawing.clone()), actions);
    signs(ui, &response, &of, &film, actions);
    kept.drawn = Some((from, lanes, drawing));
}

/// Handles the track: a click goes to that time, dragging moves the time along.
fn drag(
    response: &Response,
    of: &TimePlot<'_>,
    (origin, now_s): (Pos2, f64),
    after: &str,
    actions: &mut Vec<Action>,
) {
    let name = format!("Time {after}");
    response.widget_info(|| WidgetInfo::slider(true, now_s, &name));
    let held = response.clicked() || response.dragged_by(egui::PointerButton::Primary);
    let pos = response.interact_pointer_pos().filter(|_| held);
    if let Some(pos) = pos {
        let time_s = of.time_at(f64::from(pos.x - origin.x));
        let inside = time_s < of.scale.end_s;
        actions.push(Action::Time(inside.then_some(time_s)));
    }
    if response.hovered() || held {
        response
            .ctx
            .set_cursor_icon(egui::CursorIcon::ResizeHorizontal);
    }
}

/// Shows the event markers, which can be clicked.
fn signs(
    ui: &mut Ui,
    response: &Response,
    of: &TimePlot<'_>,
    film: &InterpolatedSeries,
    actions: &mut Vec<Action>,
) {
    let layout = film.layout();
    for placed in of.placed().into_iter().take(MOST_SIGNS) {
        let Some(told) = of.told.get(placed.told) else {
            continue;
        };
        let middle = response.rect.min + paint::pos(placed.at).to_vec2();
        let rect = Rect::from_center_size(middle, vec2(13.0, 12.0));
        let id = response.id.with(("sign", placed.told));
        let sign = ui.interact(rect, id, Sense::CLICK);
        let name = |id: &Id| layout.name_of(id).to_owned();
        let words = begun(&event_sentence(told, &name));
        let words = format!("{words} after {}", span(told.time_s));
        sign.widget_info(|| WidgetInfo::labeled(Role::Button, true, &words));
        let sign = sign.on_hover_cursor(egui::CursorIcon::PointingHand);
        if sign.on_hover_text(&words).clicked() {
            actions.push(Action::Time(Some(told.time_s)));
        }
    }
}
