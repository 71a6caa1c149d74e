//! A layout being drawn at random.

use crate::support::layouts::{at, bare, fixed, joint, run, tank};
use crate::support::networks::Dice;
use fallwright::geometry::Corner;
use fallwright::layout::{
    End, FittingUse, Layout, Opening, Pipe, Place, Run, Shape, Turned, ValveUse,
};

/// Bores of pipe in the trade, metres.
pub const BORES_M: [f64; 9] = [
    0.019, 0.0254, 0.034, 0.041, 0.0525, 0.0625, 0.084, 0.104, 0.152,
];

/// A vessel as far as what is drawn next must know it.
#[derive(Clone, Debug)]
pub struct Spot {
    /// Its place in `layout.vessels`.
    pub index: usize,
    /// Step over the sump, which is step 0.
    pub step: usize,
    pub floor_m: f64,
    /// Where its drains are.
    pub crest_m: f64,
    pub rim_m: f64,
    /// What is expected to flow through it, m³/s.
    pub flow_m3_s: f64,
}

/// A layout being drawn.
pub struct Sketch {
    pub dice: Dice,
    pub layout: Layout,
}

impl Sketch {
    pub fn new(dice: Dice, title: String) -> Sketch {
        let layout = Layout {
            title,
            ..Layout::default()
        };
        Sketch { dice, layout }
    }

    pub fn vessel(&mut self, spot: Spot, shape: Shape, fill_m: f64) -> Spot {
        let index = self.layout.vessels.len();
        let mut drawn = tank(&format!("v{index}"), spot.floor_m, spot.rim_m);
        drawn.shape = shape;
        drawn.fill_m = fill_m;
        drawn.place = Place {
            x_m: 2.5 * index as f64,
            y_m: 3.0 * spot.step as f64,
            along_m: 2.5 * index as f64,
            turned_deg: 0.0,
        };
        self.layout.vessels.push(drawn);
        Spot { index, ..spot }
    }

    pub fn joint(&mut self, elevation_m: f64) -> String {
        let id = format!("j{}", self.layout.joints.len());
        self.layout.joints.push(joint(&id, elevation_m));
        id
    }

    pub fn fixed(&mut self, level_m: f64) -> String {
        let id = format!("f{}", self.layout.fixed.len());
        self.layout.fixed.push(fixed(&id, level_m));
        id
    }

    pub fn id_of(&self, spot: &Spot) -> String {
        self.layout.vessels[spot.index].id.as_str().to_owned()
    }

    pub fn end(&self, spot: &Spot, opening: Opening) -> End {
        at(&self.id_of(spot), opening)
    }

    /// A run of some length, fittings and roughness; gives its place in `layout.runs`.
    pub fn run(&mut self, from: End, to: End, bore_m: f64) -> usize {
        let index = self.layout.runs.len();
        let dice = &mut self.dice;
        let mut drawn = run(&format!("r{index}"), from, to);
        drawn.length_m = Some(dice.scale(0.3, 8.0));
        let roughness_m = [1.5e-6, 7e-6, 1e-4][dice.below(3)];
        drawn.pipe = Pipe::Own {
            bore_m,
            roughness_m: Some(roughness_m),
            hazen_williams_c: None,
        };
        if dice.chance(0.6) {
            drawn.fittings.push(bends(dice));
        }
        self.layout.runs.push(drawn);
        index
    }

    pub fn run_to_joint(&mut self, from: End, joint: &str, bore_m: f64) -> usize {
        self.run(from, bare(joint), bore_m)
    }

    /// The last run drawn.
    pub fn drawn(&mut self, index: usize) -> &mut Run {
        &mut self.layout.runs[index]
    }

    /// Gives a run a way of its own: down from `top_m` at one vessel, along at a slope, down to `end_m` at the next.
    pub fn route(&mut self, index: usize, [from, to]: [&Spot; 2], [top_m, end_m]: [f64; 2]) {
        if top_m <= end_m {
            return;
        }
        let places = [from, to].map(|spot| self.layout.vessels[spot.index].place);
        let [a, b] = places;
        let along_m = (a.x_m - b.x_m).hypot(a.y_m - b.y_m);
        let begins_m = end_m + (top_m - end_m) * self.dice.roll();
        let slope = [0.0, 0.005, 0.01, 0.02, 0.05][self.dice.below(5)];
        let ends_m = (begins_m - slope * along_m).max(end_m);
        let corner = |place: Place, z_m| Corner::at(place.x_m, place.y_m, z_m);
        let run = self.drawn(index);
        run.route = vec![corner(a, begins_m), corner(b, ends_m)];
        run.length_m = None;
    }
}

fn bends(dice: &mut Dice) -> FittingUse {
    FittingUse {
        kind: "bend".to_owned(),
        count: 1 + dice.below(4) as u32,
        k: Some(dice.between(0.2, 1.2)),
        choice: None,
        bore_m: None,
        at_m: None,
        near: None,
    }
}

/// A valve partly shut, with a K of its own.
pub fn part_shut(dice: &mut Dice) -> ValveUse {
    let opening = dice.between(0.2, 1.0);
    ValveUse {
        kind: "gate".to_owned(),
        opening,
        k: Some(0.15 / opening.powi(3)),
        at_m: None,
        near: None,
    }
}

/// The smallest bore that carries a flow with about `head_m` over its lip; the largest where none does.
pub fn bore_for(flow_m3_s: f64, head_m: f64) -> f64 {
    let area_m2 = flow_m3_s / (0.6 * (2.0 * 9.80665 * head_m).sqrt());
    let least_m = (4.0 * area_m2 / std::f64::consts::PI).sqrt();
    let large = BORES_M[BORES_M.len() - 1];
    BORES_M
        .into_iter()
        .find(|bore_m| *bore_m >= least_m)
        .unwrap_or(large)
}

pub fn mouth(lip_m: f64, turned: Turned, air_gap: bool) -> Opening {
    Opening::Mouth {
        lip_m,
        turned,
        bore_m: None,
        air_gap,
    }
}
