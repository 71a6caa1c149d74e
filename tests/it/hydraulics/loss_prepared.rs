//! Losses made ready, alone and many at once: the same law as the loss itself.

use crate::support::networks::loss;
use fallwright::hydraulics::losses::friction::Wall;
use fallwright::hydraulics::losses::loss::{Loss, Minor};
use fallwright::hydraulics::losses::loss_block::{AT_A_TIME, Block};
use fallwright::hydraulics::losses::loss_prepared::Prepared;
use proptest::prelude::*;

const WALLS: [Wall; 4] = [
    Wall::Darcy { roughness_m: 0.0 },
    Wall::Darcy { roughness_m: 1e-3 },
    Wall::FixedFactor(0.03),
    Wall::HazenWilliams { c: 130.0 },
];

/// With two fittings of different bores, of which one goes with Q sooner than the other.
fn made(wall: Wall, bore_m: f64, length_m: f64) -> Loss {
    let mut made = Loss {
        wall,
        equipment_a: 2.0,
        equipment_b: 300.0,
        ..loss(bore_m, length_m, 3.0)
    };
    made.minors.push(Minor {
        k: 0.7,
        bore_m: 0.6 * bore_m,
    });
    made
}

#[test]
fn prop_a_loss_made_ready_is_the_same_loss() {
    for wall in WALLS {
        let made = made(wall, 0.08, 40.0);
        let ready = Prepared::new(&made);
        for power in -90..10 {
            let flow = 10_f64.powf(f64::from(power) / 10.0);
            for flow in [flow, -flow] {
                let (plain, quick) = (made.at(flow), ready.at(&made, flow));
                approx::assert_relative_eq!(plain.value, quick.value, max_relative = 1e-13);
                approx::assert_relative_eq!(
                    plain.derivative,
                    quick.derivative,
                    max_relative = 1e-13
                );
            }
        }
    }
}

proptest! {
    /// In as many lanes as the processor has, and each to the last bit as by itself in one.
    #[test]
    fn prop_many_losses_at_once_are_reckoned_as_each_alone(
        runs in prop::collection::vec((0..5_usize, -2.5_f64..0.5, 0.0_f64..300.0, -12.0_f64..1.0, any::<bool>()), AT_A_TIME),
    ) {
        let losses: Vec<Option<Loss>> = runs
            .iter()
            .map(|&(wall, bore, length_m, ..)| {
                Some(made(*WALLS.get(wall)?, 10_f64.powf(bore), length_m))
            })
            .collect();
        let mut block = Block::default();
        for (lane, loss) in losses.iter().enumerate() {
            if let Some(loss) = loss {
                block.put(lane, loss);
            }
        }
        let flows: [f64; AT_A_TIME] = std::array::from_fn(|lane| {
            let (.., flow, is_back) = runs[lane];
            // Some stand still, and a lane without a run is asked for nothing.
            let size = if lane % 7 == 3 || losses[lane].is_none() { 0.0 } else { 10_f64.powf(flow) };
            if is_back { -size } else { size }
        });
        let (heads, slopes) = block.at(&flows, |lane| losses[lane].as_ref());
        for lane in 0..AT_A_TIME {
            let Some(loss) = &losses[lane] else {
                prop_assert_eq!((heads[lane], slopes[lane]), (0.0, 0.0));
                continue;
            };
            let alone = Prepared::new(loss).at(loss, flows[lane]);
            prop_assert_eq!(heads[lane].to_bits(), alone.value.to_bits());
            prop_assert_eq!(slopes[lane].to_bits(), alone.derivative.to_bits());
        }
    }
}

#[test]
fn a_flow_looked_up_from_a_head_is_about_right() {
    // By Hazen and Williams only to a power of ten: the loss of a brisk flow is taken for that of any.
    let walls = [
        (
            Wall::Darcy {
                roughness_m: 1.5e-6,
            },
            [0.7, 1.0 / 0.7],
        ),
        (Wall::FixedFactor(0.03), [0.7, 1.0 / 0.7]),
        (Wall::HazenWilliams { c: 130.0 }, [0.1, 10.0]),
    ];
    for (wall, [least, most]) in walls {
        let made = Loss {
            wall,
            ..loss(0.08, 40.0, 3.0)
        };
        let ready = Prepared::new(&made);
        for power in -60..10 {
            let flow = 10_f64.powf(f64::from(power) / 10.0);
            let about = ready.about(&made, -made.at(flow).value);
            let share = -about / flow;
            assert!(
                share > least && share < most,
                "{wall:?}, {flow}: {share} of it"
            );
        }
    }
}
