//! Any layout that is sound as data.

use fallwright::geometry::{Corner, PlanPoint};
use fallwright::layout::{
    CurveForm, CurvePoint, Direction, Edge, EfficiencyPoint, End, Equipment, EquipmentLoss,
    FittingUse, Fixed, FixedRole, FloatValve, Friction, Joint, Layout, LossPoint, Medium,
    NotchShape, Opening, Pipe, Place, Pump, Role, Run, RunEnd, Screen, Shape, SiphonBreak,
    TableRow, Turned, Underlay, ValveUse, Vent, Vessel,
};
use proptest::option::of;
use proptest::prelude::*;
use proptest::sample::select;

/// Any finite number of at most 16384, by its bits: negative zero and the smallest ones too.
pub fn any_number() -> impl Strategy<Value = f64> + Clone {
    (any::<bool>(), 0..=1036_u64, any::<u64>()).prop_map(|(minus, exponent, bits)| {
        let sign = u64::from(minus) << 63;
        f64::from_bits(sign | exponent << 52 | bits >> 12)
    })
}

fn positive(least: f64, most: f64) -> impl Strategy<Value = f64> + Clone {
    any_number().prop_map(move |number| number.abs().clamp(least, most))
}

fn words() -> impl Strategy<Value = String> + Clone {
    prop_oneof![
        "[a-z ]{0,12}",
        ".{0,12}",
        any::<Vec<char>>().prop_map(String::from_iter)
    ]
    .prop_map(|text| text.chars().take(200).collect())
}

fn place() -> impl Strategy<Value = Place> {
    let numbers = (any_number(), any_number(), any_number(), -360.0..=360.0f64);
    numbers.prop_map(|(x_m, y_m, along_m, turned_deg)| Place {
        x_m,
        y_m,
        along_m,
        turned_deg,
    })
}

fn shape() -> impl Strategy<Value = Shape> {
    let size = || positive(0.001, 1e5);
    let row = (positive(0.1, 9.0), positive(0.1, 1e4));
    prop_oneof![
        size().prop_map(|diameter_m| Shape::Round { diameter_m }),
        (size(), size()).prop_map(|(length_m, width_m)| Shape::Rectangular { length_m, width_m }),
        size().prop_map(|area_m2| Shape::Prism { area_m2 }),
        (size(), size()).prop_map(|(diameter_m, cone_height_m)| Shape::ConeBottom {
            diameter_m,
            cone_height_m
        }),
        prop::collection::vec(row, 1..5).prop_map(|steps| {
            let mut depth_m = 0.0;
            let rows = steps.into_iter().map(|(step_m, area_m2)| {
                let row = TableRow { depth_m, area_m2 };
                depth_m += step_m;
                row
            });
            Shape::Table {
                rows: rows.collect(),
            }
        }),
    ]
}

fn vessel() -> impl Strategy<Value = Vessel> {
    let role = select(vec![
        Role::Tank,
        Role::Settler,
        Role::Bed,
        Role::Sump,
        Role::Waste,
    ]);
    let heights = (any_number(), positive(0.1, 100.0), positive(0.0, 100.0));
    let medium = of((any_number(), positive(0.001, 1.0)));
    let more = (
        of(positive(0.0, 1e3)),
        any_number(),
        of(positive(0.0, 1e3)),
        any::<bool>(),
    );
    let parts = (words(), role, shape(), heights, medium, more, place());
    parts.prop_map(
        |(name, role, shape, (floor_m, rise_m, fill_m), medium, more, place)| {
            let (rim_perimeter_m, make_up_m3_s, wanted_turnover_per_h, already_built) = more;
            Vessel {
                id: "".into(),
                name,
                role,
                shape,
                floor_m,
                rim_m: floor_m + rise_m,
                fill_m: floor_m + fill_m,
                medium: medium.map(|(top_m, porosity)| Medium { top_m, porosity }),
                rim_perimeter_m,
                spills_to: None,
                make_up_m3_s,
                make_up_outlet_m: rim_perimeter_m,
                make_up_drinking_water: already_built,
                float_valve: wanted_turnover_per_h.map(|flow_m3_s| FloatValve {
                    shut_m: floor_m + rise_m,
                    open_m: floor_m,
                    flow_m3_s,
                    outlet_m: rim_perimeter_m,
                    drinking_water: already_built,
                }),
                under_cover: already_built,
                catch_area_m2: rim_perimeter_m,
                wanted_turnover_per_h,
                place,
                already_built,
            }
        },
    )
}

fn opening() -> impl Strategy<Value = Opening> {
    let bore = || of(positive(1e-4, 50.0));
    let turned = select(vec![Turned::Horizontal, Turned::Up, Turned::Down]);
    let vent = prop_oneof![
        Just(Vent::Open),
        Just(Vent::Shut),
        any_number().prop_map(|top_m| Vent::OpenTo { top_m })
    ];
    prop_oneof![
        (any_number(), bore()).prop_map(|(crest_m, bore_m)| Opening::Upstand { crest_m, bore_m }),
        (any_number(), bore())
            .prop_map(|(invert_m, bore_m)| Opening::SideHole { invert_m, bore_m }),
        (of(any_number()), bore()).prop_map(|(lip_m, bore_m)| Opening::Floor { lip_m, bore_m }),
        (of(any_number()), bore()).prop_map(|(lip_m, bore_m)| Opening::Submerged { lip_m, bore_m }),
        (any_number(), turned, bore(), any::<bool>()).prop_map(
            |(lip_m, turned, bore_m, air_gap)| Opening::Mouth {
                lip_m,
                turned,
                bore_m,
                air_gap
            }
        ),
        (any_number(), any_number(), vent).prop_map(|(intake_m, crest_m, vent)| {
            Opening::RaisedIntake {
                intake_m,
                crest_m,
                crest: Default::default(),
                rise: Default::default(),
                vent,
            }
        }),
        (any_number(), positive(1e-3, 9.0), of(positive(1e-3, 2.0))).prop_map(
            |(crest_m, width_m, weir)| Opening::Notch {
                crest_m,
                shape: NotchShape::Rectangular {
                    width_m,
                    channel_m: weir.map(|more_m| width_m + more_m),
                },
                weir,
            }
        ),
        (any_number(), positive(1.0, 170.0)).prop_map(|(crest_m, angle_deg)| Opening::Notch {
            crest_m,
            shape: NotchShape::Vee { angle_deg },
            weir: None,
        }),
    ]
}

fn pipe() -> impl Strategy<Value = Pipe> {
    let more = (of(positive(0.0, 1.0)), of(positive(0.1, 1000.0)));
    prop_oneof![
        (positive(1e-4, 50.0), more.clone()).prop_map(
            |(bore_m, (roughness_m, hazen_williams_c))| Pipe::Own {
                bore_m,
                roughness_m,
                hazen_williams_c
            }
        ),
        (words(), words(), more).prop_map(|(family, size, (roughness_m, hazen_williams_c))| {
            Pipe::Bought {
                family,
                size,
                roughness_m,
                hazen_williams_c,
            }
        }),
    ]
}

fn curve() -> impl Strategy<Value = CurveForm> {
    let steps = prop::collection::vec((positive(1e-6, 10.0), any_number()), 2..6);
    prop_oneof![
        (positive(1e-6, 1e5), positive(0.0, 1e9), positive(1.0, 10.0))
            .prop_map(|(h0_m, c, n)| CurveForm::Power { h0_m, c, n }),
        (positive(1e-6, 1e5), positive(1e-9, 1e5)).prop_map(
            |(largest_head_m, largest_flow_m3_s)| {
                CurveForm::Label {
                    largest_head_m,
                    largest_flow_m3_s,
                }
            }
        ),
        steps.prop_map(|steps| {
            let mut flow_m3_s = 0.0;
            let points = steps.into_iter().map(|(step_m3_s, head_m)| {
                let point = CurvePoint { flow_m3_s, head_m };
                flow_m3_s += step_m3_s;
                point
            });
            CurveForm::Points(points.collect())
        }),
    ]
}

fn pump() -> impl Strategy<Value = Pump> {
    let efficiency = of((positive(0.0, 1e3), positive(0.001, 1.0)));
    let parts = (
        words(),
        curve(),
        positive(0.0, 3.0),
        positive(0.0, 1e4),
        efficiency,
    );
    parts.prop_map(|(name, curve, speed, stopped_k, efficiency)| Pump {
        id: "".into(),
        name,
        curve,
        pushes: Direction::Backward,
        speed,
        stopped_k,
        efficiency: efficiency
            .into_iter()
            .map(|(flow_m3_s, efficiency)| EfficiencyPoint {
                flow_m3_s,
                efficiency,
            })
            .collect(),
        suction: None,
        wet: (speed > 1.0).then_some(speed > 1.5),
        float: None,
        stops_when_dry: speed > 1.0,
        npsh_required: Vec::new(),
    })
}

fn equipment() -> impl Strategy<Value = Equipment> {
    let point = (positive(1e-9, 1e3), positive(0.0, 1e4));
    let loss = prop_oneof![
        (positive(0.0, 1e9), positive(0.0, 1e9)).prop_map(|(a, b)| EquipmentLoss::Terms { a, b }),
        point.prop_map(|(flow_m3_s, head_m)| EquipmentLoss::Points(vec![LossPoint {
            flow_m3_s,
            head_m
        }])),
    ];
    (words(), loss.clone(), of(loss), of(0.0..1.0)).prop_map(|(name, clean, dirty, at_m)| {
        Equipment {
            name,
            clean,
            at_wash: dirty.clone(),
            wash_head_m: dirty.as_ref().map(|_| 0.5),
            out: dirty.is_none(),
            dirty,
            at_m,
            near: None,
        }
    })
}

fn run() -> impl Strategy<Value = Run> {
    let corner = (any_number(), any_number(), any_number(), vent());
    let corner = corner.prop_map(|(x_m, y_m, z_m, vent)| Corner {
        vented: vent.is_some(),
        vent_top_m: vent.flatten().map(|up_m| z_m + up_m),
        ..Corner::at(x_m, y_m, z_m)
    });
    let fitting = (words(), 1..=10_000_u32, of(positive(0.0, 1e4)), of(words()));
    let fitting = fitting.prop_map(|(kind, count, k, choice)| FittingUse {
        kind,
        count,
        k,
        choice,
        bore_m: None,
        at_m: None,
        near: None,
    });
    let valve = (words(), positive(0.0, 1.0), of(run_end()));
    let valve = valve.prop_map(|(kind, opening, near)| ValveUse {
        kind,
        opening,
        k: None,
        at_m: None,
        near,
    });
    let lists = (
        prop::collection::vec(corner, 0..4),
        prop::collection::vec(fitting, 0..3),
        prop::collection::vec(valve, 0..3),
        prop::collection::vec(equipment(), 0..2),
    );
    let direction = select(vec![Direction::Forward, Direction::Backward]);
    let friction = select(vec![Friction::DarcyWeisbach, Friction::HazenWilliams]);
    let choices = (
        of(direction),
        of(friction),
        of(positive(0.0, 1e3)),
        any::<bool>(),
    );
    let ends = (opening(), opening(), of(place()));
    let parts = (words(), pipe(), lists, of(pump()), choices, ends);
    parts.prop_map(|(name, pipe, lists, pump, choices, (from, to, place))| {
        let (route, fittings, valves, mut equipment) = lists;
        let (check_valve, friction, total_k, carries_solids) = choices;
        // Shares of the length so far; a run drawn at random has a length of 0 or more.
        for piece in &mut equipment {
            piece.at_m = piece.at_m.map(|share| share * total_k.unwrap_or(0.0));
        }
        let end = |opening: Opening, place: Option<Place>| {
            let limits = !matches!(opening, Opening::Notch { .. } | Opening::Submerged { .. });
            let of_place = place.as_ref().filter(|_| limits);
            let positive = of_place.map(|place| place.x_m.abs().clamp(1e-6, 100.0));
            End {
                at: "".into(),
                opening: Some(opening),
                screen: screen_of(&place),
                edge: if of_place.is_some() {
                    Edge::Mitred
                } else {
                    Edge::Plain
                },
                orifice: positive,
                entrance_k: positive.filter(|k| *k < 1.0),
                place,
            }
        };
        Run {
            id: "".into(),
            name,
            from: end(from, place),
            to: end(to, None),
            pipe,
            route,
            length_m: total_k,
            fittings,
            valves,
            equipment,
            pump,
            check_valve,
            check_valve_failed: carries_solids,
            siphon_break: total_k.map(|height_m| SiphonBreak {
                height_m,
                bore_m: 0.003,
                near: RunEnd::From,
            }),
            total_k,
            friction_factor: None,
            friction,
            carries_solids,
            already_built: !carries_solids,
            starts_primed: carries_solids,
        }
    })
}

/// A vent, and how far its top stands over the pipe where it has one.
fn vent() -> impl Strategy<Value = Option<Option<f64>>> {
    of(of(positive(0.0, 3000.0)))
}

fn run_end() -> impl Strategy<Value = RunEnd> {
    select(RunEnd::BOTH.to_vec())
}

fn screen_of(place: &Option<Place>) -> Option<Screen> {
    place.as_ref().map(|place| Screen {
        name: String::new(),
        area_m2: place.x_m.abs().max(0.01),
        open_share: 0.4,
        blinded: 0.3,
        k: Some(place.y_m.abs()),
        on_the_lip: place.x_m < 0.0,
        foot_m: (place.x_m > 0.0).then_some(place.y_m),
        height_m: (place.x_m > 0.0).then_some(place.x_m.max(0.01)),
    })
}

fn underlay() -> impl Strategy<Value = Underlay> {
    let scale = positive(1e-6, 1000.0);
    let numbers = (any_number(), any_number(), scale, -360.0..360.0_f64);
    (words(), numbers).prop_map(
        |(name, (x_m, y_m, metres_per_pixel, turned_deg))| Underlay {
            file: format!("{name}.png"),
            at: PlanPoint { x_m, y_m },
            metres_per_pixel,
            turned_deg,
            strength: turned_deg.abs() / 360.0,
        },
    )
}

pub fn layout() -> impl Strategy<Value = Layout> {
    let joint = (words(), any_number(), place(), vent());
    let joint = joint.prop_map(|(name, elevation_m, place, vent)| Joint {
        id: "".into(),
        name,
        elevation_m,
        make_up_m3_s: -elevation_m,
        make_up_drinking_water: elevation_m > 0.0,
        place,
        vented: vent.is_some(),
        vent_top_m: vent.flatten().map(|up_m| elevation_m + up_m),
    });
    let level = any_number().prop_map(|level_m| Fixed {
        id: "".into(),
        name: String::new(),
        role: FixedRole::Waste,
        level_m,
        drinking_water: level_m > 0.0,
        place: Place::default(),
    });
    let lists = (
        prop::collection::vec(vessel(), 1..4),
        prop::collection::vec(joint, 0..3),
        prop::collection::vec(level, 0..2),
        prop::collection::vec(run(), 0..4),
    );
    let whole = (words(), lists, of(underlay()));
    whole.prop_map(|(title, (vessels, joints, fixed, runs), underlay)| {
        with_ids(Layout {
            title,
            vessels,
            joints,
            fixed,
            runs,
            underlay,
            ..Layout::default()
        })
    })
}

/// Gives every part an id and ties the ends of runs to vessels.
fn with_ids(mut layout: Layout) -> Layout {
    let mut count = 0;
    let mut next = || {
        count += 1;
        format!("part-{count}").as_str().into()
    };
    layout.vessels.iter_mut().for_each(|part| part.id = next());
    layout.joints.iter_mut().for_each(|part| part.id = next());
    layout.fixed.iter_mut().for_each(|part| part.id = next());
    let first = layout.vessels[0].id.clone();
    let last = layout.vessels[layout.vessels.len() - 1].id.clone();
    for run in &mut layout.runs {
        run.id = next();
        run.from.at = first.clone();
        run.to.at = last.clone();
        if let Some(pump) = &mut run.pump {
            pump.id = next();
        }
    }
    layout
}
