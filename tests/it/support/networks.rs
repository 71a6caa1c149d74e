//! Small networks in code, and a seeded generator of absurd ones.

use fallwright::hydraulics::losses::friction::Wall;
use fallwright::hydraulics::losses::loss::{Loss, Minor};
use fallwright::hydraulics::openings::coefficients::Coefficients;
use fallwright::hydraulics::openings::inlet::Inlet;
use fallwright::hydraulics::openings::notch::{Notch, Rectangle};
use fallwright::hydraulics::openings::screen::{Bars, Cage, ScreenLaw, gross_k, rack_k};
use fallwright::hydraulics::pump::Curve;
use fallwright::network::{
    Check, FloatInflow, Link, Network, Node, Outlet, Port, PumpLaw, Raised, RimLaw, RunLaw, Source,
    Storage,
};

/// Water near 20 °C.
pub const VISCOSITY: f64 = 1.0035e-6;

pub fn loss(bore_m: f64, length_m: f64, k: f64) -> Loss {
    Loss {
        bore_m,
        length_m,
        wall: Wall::Darcy {
            roughness_m: 1.5e-6,
        },
        minors: vec![Minor { k, bore_m }],
        equipment_a: 0.0,
        equipment_b: 0.0,
        kinematic_viscosity_m2_s: VISCOSITY,
        gravity_m_s2: 9.80665,
        hazen_williams_k: 10.67,
    }
}

pub fn run(from: Port, to: Port, loss: Loss) -> Link {
    Link::Run(Box::new(RunLaw {
        ends: [from, to],
        loss,
        loss_back: None,
        pump: None,
        check: Check::None,
        raised: None,
        grades: [None, None],
        primed_grades: [None, None],
        primed: false,
    }))
}

pub fn vessel(floor_m: f64, area_m2: f64, level_m: f64, source_m3_s: f64) -> Node {
    Node::Vessel {
        storage: Storage::prism(floor_m, area_m2),
        level_m,
        source: Source::constant(source_m3_s),
    }
}

pub fn lip(lip_m: f64, bore_m: f64) -> Port {
    Port {
        lip_m,
        inlet: Inlet::lip(bore_m, &Coefficients::default()),
        outlet: Outlet::Lip,
        draws_from_m: None,
        screen: None,
    }
}

pub fn side_hole(invert_m: f64, bore_m: f64) -> Port {
    Port {
        lip_m: invert_m,
        inlet: Inlet::side_hole(bore_m, &Coefficients::default()),
        outlet: Outlet::Critical { bore_m },
        draws_from_m: None,
        screen: None,
    }
}

/// An opening that takes in whatever the run carries as long as it is covered.
pub fn under_water(lip_m: f64, bore_m: f64) -> Port {
    let wide = Coefficients {
        weir: 30.0,
        orifice: 30.0,
        ..Coefficients::default()
    };
    Port {
        lip_m,
        inlet: Inlet::lip(bore_m, &wide),
        outlet: Outlet::Lip,
        draws_from_m: None,
        screen: None,
    }
}

pub fn in_air(lip_m: f64) -> Port {
    Port {
        lip_m,
        inlet: Inlet::Never,
        outlet: Outlet::Lip,
        draws_from_m: None,
        screen: None,
    }
}

/// A small, fast, seeded generator (SplitMix64), so that every case can be made again.
pub struct Dice(pub u64);

impl Dice {
    pub fn roll(&mut self) -> f64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        ((z ^ (z >> 31)) >> 11) as f64 / (1u64 << 53) as f64
    }
    pub fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.roll()
    }
    pub fn below(&mut self, count: usize) -> usize {
        (self.roll() * count as f64) as usize
    }
    pub fn chance(&mut self, share: f64) -> bool {
        self.roll() < share
    }
    /// Between two sizes, evenly by ratio.
    pub fn scale(&mut self, low: f64, high: f64) -> f64 {
        low * (high / low).powf(self.roll())
    }
}

const BORES: [f64; 7] = [0.019, 0.0254, 0.041, 0.0603, 0.084, 0.104, 0.152];

/// A random system of 3 to 40 vessels with joints, loops, pumps, equalisers, parallel
/// drains, pieces, and heights that make no sense.
pub fn random(seed: u64, rims: bool) -> Network {
    let mut dice = Dice(seed);
    let mut net = Network::new();
    let vessels = 3 + dice.below(38);
    let mut floors = Vec::new();
    for _ in 0..vessels {
        let floor = dice.between(-2.0, 3.0);
        let fill = floor + dice.between(0.0, 1.2);
        let area = dice.scale(0.02, 60.0);
        let source = if dice.chance(0.1) {
            dice.between(0.0, 2e-3)
        } else {
            0.0
        };
        net.add_node(vessel(floor, area, fill, source));
        floors.push(floor);
    }
    let joints = dice.below(1 + vessels / 3);
    for _ in 0..joints {
        net.add_node(Node::Joint { source_m3_s: 0.0 });
        floors.push(f64::NAN);
    }
    if dice.chance(0.4) {
        net.add_node(Node::Fixed {
            level_m: dice.between(-4.0, 4.0),
        });
        floors.push(0.0);
    }
    let nodes = net.node_count();
    let links = vessels + joints * 2 + dice.below(vessels);
    for index in 0..links {
        let from = if index < nodes {
            index
        } else {
            dice.below(nodes)
        };
        let to = dice.below(nodes);
        let bore = BORES[dice.below(BORES.len())];
        let pump = dice.chance(0.12);
        let link = random_run(&mut dice, [floors[from], floors[to]], bore, pump);
        net.add_edge((from as u32).into(), (to as u32).into(), link);
    }
    if rims {
        let lost = net.add_node(Node::Fixed { level_m: -1000.0 });
        for (index, floor_m) in floors.iter().enumerate().take(vessels) {
            let rim = RimLaw {
                rim_m: floor_m + dice.between(0.3, 1.3),
                perimeter_m: dice.between(0.5, 20.0),
                coefficient: 1.7,
            };
            net.add_edge((index as u32).into(), lost, Link::Rim(rim));
        }
    }
    net
}

/// The same with float valves, notches, screens, and ends that draw from a height over their lip.
pub fn random_with_parts(seed: u64, rims: bool) -> Network {
    let mut net = random(seed, rims);
    // Dice of its own: the plain systems stay as they are.
    let mut dice = Dice(seed ^ 0x5EED_0F9A_2715_0000);
    for node in net.node_weights_mut() {
        let Node::Vessel {
            storage, source, ..
        } = node
        else {
            continue;
        };
        if dice.chance(0.25) {
            let open_m = storage.floor_m() + dice.between(-0.2, 1.2);
            source.float = Some(FloatInflow {
                open_m,
                shut_m: open_m + dice.scale(1e-3, 0.3),
                flow_m3_s: dice.scale(1e-5, 2e-3),
            });
        }
    }
    for link in net.edge_weights_mut() {
        let Link::Run(law) = link else { continue };
        for port in &mut law.ends {
            with_part(&mut dice, port);
        }
    }
    net
}

fn with_part(dice: &mut Dice, port: &mut Port) {
    let gravity_m_s2 = Coefficients::default().gravity_m_s2;
    let width_m = dice.scale(0.05, 0.6);
    let shape = Rectangle {
        width_m,
        channel_m: dice.chance(0.5).then_some(width_m * dice.between(1.0, 4.0)),
        height_m: dice.chance(0.5).then_some(dice.between(0.05, 1.0)),
    };
    let (angle_deg, share) = (dice.between(20.0, 100.0), dice.scale(1e-3, 1.0));
    let limited = !matches!(port.inlet, Inlet::Never | Inlet::Unlimited);
    match dice.below(8) {
        0 if limited => port.inlet = Inlet::Notch(Notch::rectangular(shape, gravity_m_s2)),
        1 if limited => port.inlet = Inlet::Notch(Notch::vee(angle_deg, gravity_m_s2)),
        2 => port.inlet = port.inlet.screened(share),
        4 => port.screen = Some(screen(dice, port.lip_m)),
        3 if limited => port.draws_from_m = Some(port.lip_m + dice.between(-0.1, 0.6)),
        _ => {}
    }
}

/// A screen before an end with a lip: half of them cages, from below the lip to over it.
fn screen(dice: &mut Dice, lip_m: f64) -> ScreenLaw {
    let share = dice.scale(1e-2, 1.0);
    let base_m = if lip_m.is_finite() { lip_m } else { 0.0 };
    let bars = Bars {
        gross_k: gross_k(rack_k(share), share),
        area_m2: dice.scale(1e-3, 0.3),
        cage: dice.chance(0.5).then(|| Cage {
            foot_m: base_m + dice.between(-0.5, 0.1),
            height_m: dice.scale(0.02, 0.6),
        }),
    };
    ScreenLaw::new(&bars, VISCOSITY, Coefficients::default().gravity_m_s2)
}

fn random_port(dice: &mut Dice, floor: f64, bore: f64, inlet_side: bool) -> Port {
    if floor.is_nan() {
        return Port::closed();
    }
    let height = floor + dice.between(-0.1, 1.3);
    match dice.below(if inlet_side { 5 } else { 7 }) {
        0 | 1 => lip(height, bore),
        2 => side_hole(height, bore),
        3 => lip(floor, bore),
        4 => under_water(height, bore),
        5 => in_air(height),
        _ => Port {
            lip_m: height,
            inlet: Inlet::side_hole(bore, &Coefficients::default()),
            outlet: Outlet::Full { bore_m: bore },
            draws_from_m: None,
            screen: None,
        },
    }
}

fn random_run(dice: &mut Dice, floors: [f64; 2], bore: f64, pump: bool) -> Link {
    let ends = [
        random_port(dice, floors[0], bore, true),
        random_port(dice, floors[1], bore, false),
    ];
    let length = if dice.chance(0.1) {
        0.0
    } else {
        dice.scale(0.1, 300.0)
    };
    let k = if dice.chance(0.05) {
        0.0
    } else {
        dice.scale(0.1, 30.0)
    };
    let mut loss = loss(bore, length, k);
    if dice.chance(0.1) {
        loss.equipment_b = dice.scale(1e2, 1e6);
    }
    let check = match dice.below(12) {
        0 => Check::ForwardOnly,
        1 => Check::BackwardOnly,
        2 => Check::Shut,
        _ => Check::None,
    };
    let raised = (dice.chance(0.06) && !floors[0].is_nan()).then(|| Raised {
        crest_m: floors[0] + dice.between(0.2, 1.0),
        crest: Inlet::side_hole(bore, &Coefficients::default()),
        rise: self::loss(bore, 0.8, 0.5),
        vented: true,
        primed: false,
    });
    let pump = pump.then(|| PumpLaw {
        curve: Curve::Power {
            h0_m: dice.between(1.0, 14.0),
            c: dice.scale(1e4, 3e6),
            n: dice.between(1.0, 3.0),
        },
        backward: dice.chance(0.2),
    });
    Link::Run(Box::new(RunLaw {
        ends,
        loss,
        loss_back: None,
        pump,
        check,
        raised,
        grades: [None, None],
        primed_grades: [None, None],
        primed: false,
    }))
}

/// How many random systems a test takes: few, or as many as `FALLWRIGHT_RANDOM` says.
pub fn seeds(few: u64) -> std::ops::Range<u64> {
    let asked = std::env::var("FALLWRIGHT_RANDOM").ok();
    0..asked.and_then(|count| count.parse().ok()).unwrap_or(few)
}
