//! Whole layouts at random, each made again from its seed.
//!
//! `Plain` is sound plumbing that another method can be asked about too; `Wild` is everything that the format
//! has, and much that nobody would build.

mod absurd;
mod drains;
mod feeds;
mod parts;
mod rises;
mod sketch;
mod tangle;
mod vessels;
mod wild;
mod works;

use super::networks::Dice;
use fallwright::layout::Layout;
use sketch::Sketch;

/// What kind of layouts.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Flavour {
    /// 3 to 15 vessels in steps over a sump, sane sizes, nothing with a memory: it always runs steadily.
    Plain,
    /// 3 to 40 vessels with every part of the format, in pieces, tangled, absurd.
    Wild,
    /// One of the two in turn, with pipes that rise, joints on drains, vents, and valves along runs.
    Rising,
}

/// The layout of a seed.
pub fn layout(seed: u64, flavour: Flavour) -> Layout {
    let title = format!("Random {flavour:?} {seed}");
    // Neighbouring seeds share no throws.
    let throws = Dice(seed.wrapping_mul(0xD6E8_FEB8_6659_FD93));
    let mut sketch = Sketch::new(throws, title.clone());
    match flavour {
        Flavour::Plain => {
            let count = 3 + sketch.dice.below(13);
            works::draw(&mut sketch, count);
        }
        Flavour::Wild => wild::draw(&mut sketch),
        Flavour::Rising => {
            let under = [Flavour::Plain, Flavour::Wild][(seed % 2) as usize];
            let mut risen = layout(seed, under);
            risen.title = title;
            let mut dice = Dice(seed.wrapping_mul(0x9FB2_1C65_1E98_DF25));
            rises::draw(&mut risen, &mut dice);
            return risen;
        }
    }
    sketch.layout
}
