//! Everything that the format has, and much that nobody would build.

use super::sketch::Sketch;
use super::{absurd, parts, tangle, vessels, works};

/// Vessels in all, and in how many pieces.
const MOST_VESSELS: f64 = 40.99;

pub fn draw(sketch: &mut Sketch) {
    let mut left = sketch.dice.scale(3.0, MOST_VESSELS) as usize;
    let pieces = if left >= 6 && sketch.dice.chance(0.3) {
        2 + sketch.dice.below(2)
    } else {
        1
    };
    for piece in 0..pieces {
        let count = if piece + 1 == pieces { left } else { left / 2 };
        left -= count;
        if count < 2 || sketch.dice.chance(0.3) {
            tangle::draw(sketch, count.max(1));
        } else {
            works::draw(sketch, count);
        }
    }
    fixed_levels(sketch);
    let (dice, layout) = (&mut sketch.dice, &mut sketch.layout);
    vessels::vary(dice, layout);
    parts::vary(dice, layout);
    if dice.chance(0.4) {
        absurd::vary(dice, layout);
    }
}

/// A ditch or a main that some vessel is tied to, now and then.
fn fixed_levels(sketch: &mut Sketch) {
    if !sketch.dice.chance(0.35) {
        return;
    }
    let level_m = sketch.dice.between(-2.0, 4.0);
    let id = sketch.fixed(level_m);
    for _ in 0..1 + sketch.dice.below(2) {
        tangle::run_to(sketch, &id);
    }
}
