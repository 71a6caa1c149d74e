//! What a run loses: each K where it belongs, and the items summing to the whole.

use crate::support::layouts::{
    BORE_M, at, bare, drain, first_facts, first_law, fitting, law_of, run, running, said,
    submerged, two_tanks, upstand,
};
use approx::assert_relative_eq;
use fallwright::hydraulics::STANDARD_GRAVITY_M_S2 as G;
use fallwright::hydraulics::losses::loss::Minor;
use fallwright::layout::{Equipment, EquipmentLoss, FittingUse, LossPoint, Opening, Pipe, Run};
use fallwright::lower::item_heads;

fn given(k: f64, count: u32) -> FittingUse {
    FittingUse {
        k: Some(k),
        count,
        ..fitting("whatever")
    }
}

/// K on the run's own bore, all there is on it.
fn k_of(run: Run) -> f64 {
    let minors = law_of(run).loss.minors;
    let own: Vec<&Minor> = minors.iter().filter(|m| m.bore_m == BORE_M).collect();
    assert!(own.len() <= 1, "one entry per bore, not {minors:?}");
    own.first().map_or(0.0, |minor| minor.k)
}

/// K of one fitting: what it adds to entrance 0.5 and exit 1.
fn k_added(used: FittingUse) -> f64 {
    let mut with = drain();
    with.fittings.push(used);
    k_of(with) - 1.5
}

fn canister(a: f64, b: f64) -> Equipment {
    Equipment {
        name: "canister".to_owned(),
        clean: EquipmentLoss::Terms { a, b },
        dirty: Some(EquipmentLoss::Terms { a: 1e6, b: 1e9 }),
        at_wash: None,
        wash_head_m: None,
        out: false,
        at_m: None,
        near: None,
    }
}

#[test]
fn entrance_and_exit_count_once_each_and_counts_multiply() {
    assert_eq!(k_of(drain()), 1.5);
    let mut bent = drain();
    bent.fittings = vec![given(0.9, 3), given(0.2, 1)];
    assert_relative_eq!(k_of(bent), 1.5 + 2.7 + 0.2);
}

#[test]
fn a_joint_end_has_neither_entrance_nor_exit() {
    let into = run("a", at("upper", upstand(1.2)), bare("tee"));
    let out_of = run("b", bare("tee"), at("lower", submerged()));
    assert_eq!((k_of(into), k_of(out_of)), (0.5, 1.0));
    assert_eq!(k_of(run("c", bare("tee"), bare("tee"))), 0.0);
}

#[test]
fn entrance_and_exit_stand_on_the_bores_of_their_openings() {
    let bell = Opening::Upstand {
        crest_m: 1.2,
        bore_m: Some(0.15),
    };
    let nozzle = Opening::Submerged {
        lip_m: None,
        bore_m: Some(0.05),
    };
    let law = law_of(run("drain", at("upper", bell), at("lower", nozzle)));
    let expected = [(0.5, 0.15), (1.0, 0.05)].map(|(k, bore_m)| Minor { k, bore_m });
    assert_eq!(law.loss.minors, expected);
}

/// The jet through a sharp hole spreads out in the pipe behind it. [@weisbach]
#[test]
fn val_a_hole_before_a_wider_pipe() {
    for (share, measured) in [(0.3_f64, 19.78), (0.5, 5.256), (0.8, 1.169)] {
        let hole = Opening::SideHole {
            invert_m: 0.6,
            bore_m: Some(BORE_M * share.sqrt()),
        };
        let law = law_of(run("drain", at("upper", hole), at("lower", submerged())));
        let entrance = law.loss.minors[0];
        assert_eq!(entrance.bore_m, BORE_M);
        let k = entrance.k - 1.0;
        assert!((k / measured - 1.0).abs() < 0.06, "{k} {measured}");
    }
    // Hardly narrower than its pipe it is the plain entrance, and so is a wider one.
    for bore_m in [0.99 * BORE_M, BORE_M, 1.2 * BORE_M] {
        let hole = Opening::SideHole {
            invert_m: 0.6,
            bore_m: Some(bore_m),
        };
        let law = law_of(run("drain", at("upper", hole), bare("tee")));
        assert_eq!(law.loss.minors[0].k, 0.5);
    }
}

/// Q = 0.61·A·√(2g·Δh) either way, in place of entrance and exit; into air the inlet passes no more.
#[test]
fn prop_a_hole_in_a_wall_loses_one_orifice() {
    let hole = Opening::SideHole {
        invert_m: 0.6,
        bore_m: Some(0.05),
    };
    let law = law_of(Run {
        pipe: Pipe::Open,
        ..run("hole", at("upper", hole), bare("lower"))
    });
    let area_m2 = std::f64::consts::PI * 0.05 * 0.05 / 4.0;
    let orifice = 0.61 * area_m2 * (2.0 * G * 0.05_f64).sqrt();
    assert_relative_eq!(law.flow(1.25, 1.2, 0.0), orifice, max_relative = 1e-4);
    assert_relative_eq!(law.flow(1.2, 1.25, 0.0), -orifice, max_relative = 1e-4);
    let into_air = law.flow(1.25, 0.2, 0.0);
    assert_relative_eq!(
        into_air,
        law.ends[0].capacity(1.25).value,
        max_relative = 1e-9
    );
}

#[test]
fn a_total_k_replaces_entrance_fittings_and_exit() {
    let mut total = drain();
    total.fittings = vec![given(0.9, 3), fitting("no-such-thing")];
    total.total_k = Some(2.0);
    let lowered = running(&two_tanks(vec![total.clone()]));
    assert_eq!(k_of(total), 2.0);
    assert!(said(&lowered).is_empty());
}

#[test]
fn an_entered_entrance_or_exit_takes_the_place_of_the_plain_one() {
    let mut rounded = drain();
    rounded.fittings.push(fitting("entrance-r15"));
    assert_relative_eq!(k_of(rounded), 0.04 + 1.0);
    let mut twice = drain();
    twice.fittings.push(fitting("exit"));
    assert_relative_eq!(k_of(twice), 0.5 + 1.0);
}

#[test]
fn val_an_elbow_is_thirty_times_the_turbulent_factor() {
    // Crane TP-410 (from memory): K = 30·f_T, and f_T = 0.25/log10(3.7·100/0.04572)² = 0.0163685.
    assert_relative_eq!(k_added(fitting("elbow-90")), 0.491_056, max_relative = 1e-5);
}

#[test]
fn another_source_can_be_chosen_for_a_fitting() {
    let other = FittingUse {
        choice: Some("munson-8-2".to_owned()),
        ..fitting("elbow-90")
    };
    assert_relative_eq!(k_added(other), 1.5);
}

#[test]
fn an_equivalent_length_counts_by_the_friction_factor() {
    // 3.6576 m of 102.26 mm pipe: K = f·35.7677; f held at 0.02.
    let by_length = || FittingUse {
        choice: Some("pvc-length-table".to_owned()),
        bore_m: Some(0.10226),
        ..fitting("elbow-90")
    };
    let mut fixed = drain();
    fixed.friction_factor = Some(0.02);
    fixed.fittings.push(by_length());
    let on_its_bore = |run: Run| {
        let minors = law_of(run).loss.minors;
        minors.iter().find(|m| m.bore_m == 0.10226).unwrap().k
    };
    assert_relative_eq!(on_its_bore(fixed), 0.715_353, max_relative = 1e-5);
    // Without it f is that of the wall at 1 m/s: Colebrook by bisection, Re 102 260, ε/D 1.4668e-5: 0.0179863.
    let mut plain = drain();
    plain.fittings.push(by_length());
    assert_relative_eq!(on_its_bore(plain), 0.643_329, max_relative = 1e-5);
}

#[test]
fn val_a_step_in_bore_follows_borda_and_carnot() {
    // Widening (1 − β²)², narrowing ½(1 − β²), both on the smaller bore. Borda–Carnot; Crane TP-410 (from memory).
    let to = |bore_m| FittingUse {
        bore_m: Some(bore_m),
        ..fitting("reducer")
    };
    assert_relative_eq!(k_added(to(0.2)), 0.5625);
    let mut narrowing = drain();
    narrowing.fittings.push(to(0.05));
    let minors = law_of(narrowing).loss.minors;
    assert_eq!(minors.len(), 2);
    assert_eq!(minors[1].bore_m, 0.05);
    assert_relative_eq!(minors[1].k, 0.375);
}

#[test]
fn a_k_that_is_given_counts_on_the_bore_that_is_given() {
    let mut odd = drain();
    odd.fittings.push(FittingUse {
        bore_m: Some(0.08),
        ..given(0.7, 2)
    });
    let minors = law_of(odd).loss.minors;
    assert_eq!(
        minors[1],
        Minor {
            k: 1.4,
            bore_m: 0.08
        }
    );
}

#[test]
fn equipment_adds_up_clean() {
    let mut filtered = drain();
    filtered.equipment = vec![
        canister(10.0, 2000.0),
        Equipment {
            // 0.3 m at 2 L/s: b = 0.3/0.002² = 75 000.
            clean: EquipmentLoss::Points(vec![LossPoint {
                flow_m3_s: 0.002,
                head_m: 0.3,
            }]),
            ..canister(0.0, 0.0)
        },
        Equipment {
            // 0.1 m at 1 L/s and 0.3 m at 2 L/s: h/Q rises from 100 to 150, so b = 50 000 and a = 50.
            clean: EquipmentLoss::Points(vec![
                LossPoint {
                    flow_m3_s: 0.001,
                    head_m: 0.1,
                },
                LossPoint {
                    flow_m3_s: 0.002,
                    head_m: 0.3,
                },
            ]),
            ..canister(0.0, 0.0)
        },
    ];
    let loss = law_of(filtered).loss;
    assert_relative_eq!(loss.equipment_a, 60.0, max_relative = 1e-9);
    assert_relative_eq!(loss.equipment_b, 127_000.0, max_relative = 1e-9);
}

/// A run with something of everything.
fn rich() -> Run {
    let bell = Opening::Upstand {
        crest_m: 1.2,
        bore_m: Some(0.15),
    };
    let mut rich = run("drain", at("upper", bell), at("lower", submerged()));
    let reducer = FittingUse {
        bore_m: Some(0.05),
        ..fitting("reducer")
    };
    let elbows = FittingUse {
        count: 4,
        ..fitting("elbow-90")
    };
    rich.fittings = vec![elbows, reducer, given(0.3, 2)];
    rich.valves
        .push(crate::support::layouts::valve("gate", 0.5));
    rich.equipment.push(canister(10.0, 2000.0));
    rich
}

#[test]
fn prop_the_items_sum_to_the_loss_at_every_flow() {
    let lowered = running(&two_tanks(vec![rich()]));
    let law = first_law(&lowered);
    for flow in [1e-9, 1e-6, 4e-5, 3e-4, 2e-3, 0.05, -1e-6, -2e-3] {
        let items = item_heads(first_facts(&lowered), law, flow, [1.0, 0.5]);
        assert!(items.iter().all(|(_, head)| head * flow >= 0.0));
        let sum: f64 = items.iter().map(|(_, head)| head).sum();
        assert_relative_eq!(sum, law.loss_at(flow), max_relative = 1e-12);
    }
}

#[test]
fn every_item_says_what_it_is() {
    let lowered = running(&two_tanks(vec![rich()]));
    let items = item_heads(first_facts(&lowered), first_law(&lowered), 1e-3, [1.0, 0.5]);
    let words: Vec<&str> = items.iter().map(|(what, _)| what.as_str()).collect();
    let expected = [
        "pipe",
        "entrance",
        "4 × 90° elbow, socket or threaded",
        "reducer, either way round",
        "2 × whatever",
        "exit",
        "gate or slide valve, 50 % open",
        "canister",
    ];
    assert_eq!(words, expected);
}

#[test]
fn a_run_with_everything_on_three_bores_keeps_three_entries() {
    assert_eq!(law_of(rich()).loss.minors.len(), 3);
}
