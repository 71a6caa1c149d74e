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
mod weirs;
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
    /// One of the first two in turn, with notches between vessels that stand near each other and rims towards near
    /// levels: weirs with water on both sides.
    Weirs,
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
            let mut risen = layout(seed, under(seed));
            risen.title = title;
            let mut dice = Dice(seed.wrapping_mul(0x9FB2_1C65_1E98_DF25));
            rises::draw(&mut risen, &mut dice);
            return risen;
        }
        Flavour::Weirs => {
            let mut drawn = layout(seed, under(seed));
            drawn.title = title;
            let mut dice = Dice(seed.wrapping_mul(0xC2B2_AE3D_27D4_EB4F));
            weirs::draw(&mut drawn, &mut dice);
            return drawn;
        }
    }
    sketch.layout
}

/// The two plain kinds in turn, under what is drawn over them.
fn under(seed: u64) -> Flavour {
    [Flavour::Plain, Flavour::Wild][(seed % 2) as usize]
}
