//! The losses of several runs, computed at once in the SIMD lanes of the processor.

use super::friction::drag_numbers;
use super::loss::Loss;
use super::loss_prepared::Prepared;
use pulp::{Arch, Simd, WithSimd};

/// Number of runs in a block.
pub const AT_A_TIME: usize = 16;

/// One number for each run of a block.
pub type Lanes = [f64; AT_A_TIME];

/// The prepared losses of [`AT_A_TIME`] runs, side by side; a lane without a run has no loss.
#[derive(Clone, Debug, Default)]
pub struct Block {
    re_per_flow: Lanes,
    wall_term: Lanes,
    scale: Lanes,
    linear: Lanes,
    square: Lanes,
    fittings: Lanes,
    plain_from: Lanes,
}

impl Block {
    /// Puts the loss of a run into a lane, below [`AT_A_TIME`].
    pub fn put(&mut self, lane: usize, loss: &Loss) {
        let ready = Prepared::new(loss);
        self.re_per_flow[lane] = ready.re_per_flow;
        self.wall_term[lane] = ready.wall_term;
        self.scale[lane] = ready.scale;
        self.linear[lane] = ready.linear;
        self.square[lane] = ready.square;
        self.fittings[lane] = ready.fittings;
        self.plain_from[lane] = ready.plain_from;
    }

    /// The loss of a single lane.
    pub fn of(&self, lane: usize) -> Prepared {
        Prepared {
            re_per_flow: self.re_per_flow[lane],
            wall_term: self.wall_term[lane],
            scale: self.scale[lane],
            linear: self.linear[lane],
            square: self.square[lane],
            fittings: self.fittings[lane],
            plain_from: self.plain_from[lane],
        }
    }

    /// Head loss, m, and its derivative, s/m², of every lane at its flow, m³/s; `loss_of`: the loss that was put into a
    /// lane.
    ///
    /// Identical to [`Prepared::at`] of each alone, to the last bit: it depends neither on the other lanes nor on the
    /// processor, because each operation is rounded by itself.
    pub fn at<'l>(
        &self,
        flows: &Lanes,
        loss_of: impl Fn(usize) -> Option<&'l Loss>,
    ) -> (Lanes, Lanes) {
        let (mut values, mut slopes) = ([0.0; AT_A_TIME], [0.0; AT_A_TIME]);
        Arch::new().dispatch(Plain {
            block: self,
            flows,
            values: &mut values,
            slopes: &mut slopes,
        });
        for lane in 0..AT_A_TIME {
            if flows[lane].abs() < self.plain_from[lane]
                && let Some(loss) = loss_of(lane)
            {
                let lost = self.of(lane).at(loss, flows[lane]);
                (values[lane], slopes[lane]) = (lost.value, lost.derivative);
            }
        }
        (values, slopes)
    }
}

/// The computation of [`Block::at`] where every fitting is proportional to Q².
struct Plain<'a> {
    block: &'a Block,
    flows: &'a Lanes,
    values: &'a mut Lanes,
    slopes: &'a mut Lanes,
}

impl WithSimd for Plain<'_> {
    type Output = ();

    #[inline(always)]
    fn with_simd<S: Simd>(self, _: S) {
        let block = self.block;
        let re: Lanes =
            std::array::from_fn(|lane| self.flows[lane].abs() * block.re_per_flow[lane]);
        let [drags, drag_slopes] = drag_numbers(&re, &block.wall_term);
        for lane in 0..AT_A_TIME {
            let q = self.flows[lane].abs();
            let square = block.square[lane] + block.fittings[lane];
            let by_flow = block.linear[lane] + square * q;
            let head = block.scale[lane] * drags[lane] + by_flow * q;
            self.values[lane] = head.copysign(self.flows[lane]);
            let wall = block.scale[lane] * drag_slopes[lane] * block.re_per_flow[lane];
            self.slopes[lane] = wall + by_flow + square * q;
        }
    }
}
