//! Chatter: chains that prime and break repeatedly at constant levels.
//!
//! The model has no inertia, so a chain that primes as soon as it is covered, and draws its own intake bare
//! as soon as it is primed, would switch hundreds of times a second. In reality it draws air and water together.

use super::hybrid_system::SwitchMode;

/// Switches of a chain at constant levels after which it is left with air: those of three cycles. A choice.
pub(super) const MOST_TURNS: usize = 6;
/// Levels that have moved by no more than this count as constant, metres. A choice: the film that counts as no water
/// over a lip.
const STAYS_M: f64 = 0.001;

/// How often each switch has changed since the levels moved.
pub(super) struct ChatterDetector {
    /// The nodes whose levels are compared: joints have no level of their own.
    nodes: Vec<usize>,
    turns: Vec<Turns>,
}

#[derive(Clone, Default)]
struct Turns {
    /// Levels at the first change, metres.
    levels_m: Vec<f64>,
    count: usize,
    /// It is left with air from here on: the outcome with the higher level.
    left: bool,
}

impl ChatterDetector {
    /// No switch has changed yet; `nodes` are those of the vessels.
    pub fn new(nodes: &[usize], switches: usize) -> ChatterDetector {
        ChatterDetector {
            nodes: nodes.to_vec(),
            turns: vec![Turns::default(); switches],
        }
    }

    /// Whether a chain is left with air.
    pub fn is_left(&self, switch: usize) -> bool {
        self.turns.get(switch).is_some_and(|turns| turns.left)
    }

    /// Whether it has changed before at these levels.
    pub fn is_chattering(&self, switch: usize) -> bool {
        self.turns.get(switch).is_some_and(|turns| turns.count > 1)
    }

    /// Records a chain that changed to `mode` at these heads.
    pub fn note(&mut self, switch: usize, mode: SwitchMode, head_m: &[f64]) {
        let levels_m: Vec<f64> = self
            .nodes
            .iter()
            .filter_map(|&node| head_m.get(node).copied())
            .collect();
        let Some(turns) = self.turns.get_mut(switch) else {
            return;
        };
        let before = turns.levels_m.iter().zip(&levels_m);
        let stay = !turns.levels_m.is_empty()
            && before.fold(0.0_f64, |most, (a, b)| most.max((a - b).abs())) <= STAYS_M;
        if !stay {
            *turns = Turns {
                levels_m,
                ..Turns::default()
            };
        }
        turns.count += 1;
        turns.left = turns.count >= MOST_TURNS && mode == SwitchMode::WithAir;
    }
}
