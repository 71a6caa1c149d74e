//! The levelling staff at the left edge of drawings that show heights.

use super::ladder::steps;
use crate::draw::canvas::drawing_context::DrawingContext;
use crate::draw::page::shape::{Anchor, Ink, Rect, Shape, Stroke, Text, Weight, pt};
use crate::draw::page::text;
use crate::draw::page::view::View;
use crate::units::convert::FOOT_M;
use crate::units::{self, Quantity, UnitSystem};

/// Room for the staff at the left of the page, points.
pub const STAFF_WIDTH: f64 = 62.0;
/// Distance of the staff from the left edge, and its width, points.
pub(in crate::draw) const LEFT: f64 = 10.0;
pub(in crate::draw) const WIDTH: f64 = 11.0;
/// Smallest height of a block of the staff, and smallest spacing of its numbers, points.
const LEAST_BLOCK: f64 = 9.0;
const LEAST_NUMBER: f64 = 40.0;
const SIZE: f64 = 10.5;

/// Extent of the staff on the page, its units, and a position whose number is left out.
pub(in crate::draw) struct Staff {
    pub top: f64,
    pub bottom: f64,
    pub units: UnitSystem,
    pub taken: Option<f64>,
}

/// Draws the staff on top of what is scrolled under it.
pub(in crate::draw) fn draw(context: &mut DrawingContext, view: View, staff: &Staff) {
    strip(context);
    let shown = view.shown();
    let least = (LEAST_BLOCK, LEAST_NUMBER);
    let (block, number) = steps(staff.units, view.points_per_metre_up, least.0, least.1);
    blocks(context, view, staff, block);
    let low = (shown.low_m / number).floor();
    let mut step = low;
    while step * number <= shown.high_m + number {
        let y = view.y(step * number);
        let covered = staff
            .taken
            .is_some_and(|taken| (taken - y).abs() < SIZE * 1.3);
        if y > staff.top + SIZE && y < staff.bottom - 4.0 && !covered {
            let words = Text {
                at: pt(LEFT + WIDTH + 5.0, y + text::cap_height(SIZE) / 2.0),
                anchor: Anchor::Start,
                words: reading(staff.units, step * number, number),
                size: SIZE,
                weight: Weight::Regular,
                ink: Ink::SoftText,
            };
            context.add(None, Shape::Text(words));
        }
        step += 1.0;
    }
}

/// Clears the edge of the page of what is scrolled under it.
fn strip(context: &mut DrawingContext) {
    let rect = Rect {
        right: STAFF_WIDTH,
        ..context.page
    };
    context.add(
        None,
        Shape::Box {
            rect,
            radius: 0.0,
            fill: Some(Ink::Page),
            edge: None,
        },
    );
}

fn blocks(context: &mut DrawingContext, view: View, staff: &Staff, step_m: f64) {
    let (top, bottom) = (staff.top, staff.bottom);
    let shown = view.shown();
    let mut index = (shown.low_m / step_m).floor();
    while index * step_m < shown.high_m + step_m {
        let rect = Rect {
            left: LEFT,
            right: LEFT + WIDTH,
            top: view.y((index + 1.0) * step_m).clamp(top, bottom),
            bottom: view.y(index * step_m).clamp(top, bottom),
        };
        // Alternating halves of the width look like a staff and not like a scale bar.
        let dark = Rect {
            right: LEFT + WIDTH / 2.0,
            ..rect
        };
        let light = Rect {
            left: LEFT + WIDTH / 2.0,
            ..rect
        };
        let filled = if index.rem_euclid(2.0) < 0.5 {
            dark
        } else {
            light
        };
        if rect.height() > 0.0 {
            context.block(filled, Some(Ink::Line), None);
        }
        index += 1.0;
    }
    let around = Rect {
        left: LEFT,
        right: LEFT + WIDTH,
        top,
        bottom,
    };
    let edge = Some(Stroke::new(Ink::Line, 1.0));
    context.block(around, None, edge);
}

fn reading(system: UnitSystem, z_m: f64, step_m: f64) -> String {
    match system {
        UnitSystem::Us if step_m >= FOOT_M * 0.999 => format!("{:.0} ft", z_m / FOOT_M + 0.0),
        UnitSystem::Us => units::write(Quantity::Height, z_m, system),
        UnitSystem::Metric if step_m >= 0.999 => format!("{:.0} m", z_m + 0.0),
        UnitSystem::Metric if step_m >= 0.0999 => format!("{:.1} m", z_m + 0.0),
        UnitSystem::Metric if step_m >= 0.00999 => format!("{:.2} m", z_m + 0.0),
        UnitSystem::Metric => format!("{:.3} m", z_m + 0.0),
    }
}
