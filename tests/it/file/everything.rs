//! A sound layout in which every field is given and every kind of thing occurs.
//!
//! No `..` anywhere: a field that is added to the layout does not compile until it is here.

use fallwright::geometry::{Corner, PlanPoint};
use fallwright::layout::{
    Ageing, Coefficients, CrestKind, CurveForm, CurvePoint, Direction, Edge, EfficiencyPoint, End,
    Equipment, EquipmentLoss, EquipmentOut, FittingUse, Fixed, FixedRole, FloatSwitch, FloatValve,
    Friction, HazenWilliams, Joint, Layout, Limits, LossPoint, Medium, NotchShape, NpshPoint,
    Opening, Pipe, Place, Pump, Rise, Role, Run, RunEnd, Screen, Shape, SiphonBreak, Suction,
    TableRow, Turned, Underlay, ValveSet, ValveUse, Vent, Vessel, WaterSettings, Way, Weather,
};
use fallwright::units::UnitSystem;

pub fn everything() -> Layout {
    Layout {
        title: "Everything at once".into(),
        units: UnitSystem::Us,
        water: WaterSettings {
            temperature_c: 12.0,
            salinity_g_kg: 3.0,
            kinematic_viscosity_m2_s: Some(1.25e-6),
            density_kg_m3: Some(1001.5),
            atmosphere_pa: 99_000.0,
            cold_c: Some(4.0),
            warm_c: Some(27.0),
        },
        friction: Friction::HazenWilliams,
        coefficients: Coefficients {
            weir: 0.61,
            orifice: 0.62,
            entrance_k: 0.4,
            exit_k: 0.9,
            rim: 1.6,
            gravity_m_s2: 9.81,
            hazen_williams: HazenWilliams { k: 10.67 },
        },
        limits: Limits {
            freeboard_m: 0.04,
            drain_reserve: 1.5,
            pumped_velocity_m_s: 1.4,
            gravity_velocity_m_s: 1.3,
            solids_velocity_m_s: 0.4,
            least_share_of_curve: 0.2,
            most_share_of_curve: 0.9,
            blocked_spill_s: 1200.0,
        },
        ageing: Ageing {
            film_m: 0.003,
            roughness_m: 0.002,
            screens_blinded: 0.6,
        },
        weather: Weather {
            rain_m_s: 3e-6,
            evaporation_m_s: 6e-8,
        },
        first_fill_m3_s: Some(3e-4),
        vessels: vessels(),
        joints: vec![Joint {
            id: "tee".into(),
            name: "Tee over the door".into(),
            elevation_m: 2.5,
            make_up_m3_s: -1e-5,
            make_up_drinking_water: true,
            vented: true,
            vent_top_m: Some(2.9),
            place: place(4.0),
        }],
        fixed: vec![Fixed {
            id: "ditch".into(),
            name: "Ditch".into(),
            role: FixedRole::Waste,
            level_m: -0.5,
            drinking_water: true,
            place: place(9.0),
        }],
        runs: runs(),
        ways: vec![way()],
        underlay: Some(Underlay {
            file: "pictures/roof plan.png".into(),
            at: PlanPoint {
                x_m: -1.5,
                y_m: 2.25,
            },
            metres_per_pixel: 0.0125,
            turned_deg: -2.5,
            strength: 0.4,
        }),
    }
}

fn way() -> Way {
    Way {
        id: "wash".into(),
        name: "Washing the lamp".into(),
        valves: vec![ValveSet {
            run: "run-1".into(),
            valve: 1,
            opening: 0.0,
        }],
        out: vec![EquipmentOut {
            run: "run-2".into(),
            equipment: "Lamp".into(),
        }],
        pumps_off: vec!["run-3".into()],
        washing_s: Some(300.0),
    }
}

fn place(along_m: f64) -> Place {
    Place {
        x_m: along_m / 3.0,
        y_m: -1.5,
        along_m,
        turned_deg: 30.0,
    }
}

fn vessels() -> Vec<Vessel> {
    let rows = vec![
        TableRow {
            depth_m: 0.0,
            area_m2: 0.0,
        },
        TableRow {
            depth_m: 0.6,
            area_m2: 12.0,
        },
    ];
    let shapes = [
        ("round", Shape::Round { diameter_m: 1.1 }),
        (
            "rectangular",
            Shape::Rectangular {
                length_m: 2.0,
                width_m: 0.7,
            },
        ),
        ("prism", Shape::Prism { area_m2: 3.3 }),
        (
            "cone",
            Shape::ConeBottom {
                diameter_m: 0.9,
                cone_height_m: 0.35,
            },
        ),
        (
            "drum",
            Shape::LyingDrum {
                diameter_m: 1.3,
                length_m: 0.9,
            },
        ),
        ("pond", Shape::Table { rows }),
    ];
    shapes.map(|(id, shape)| vessel(id, shape)).into()
}

fn vessel(id: &str, shape: Shape) -> Vessel {
    Vessel {
        id: id.into(),
        name: format!("The {id} one"),
        role: Role::Pond,
        shape,
        floor_m: 0.1,
        rim_m: 1.3,
        fill_m: 0.8,
        medium: Some(Medium {
            top_m: 0.5,
            porosity: 0.45,
        }),
        rim_perimeter_m: Some(2.2),
        spills_to: Some("ditch".into()),
        make_up_m3_s: 2e-6,
        make_up_outlet_m: Some(1.4),
        make_up_drinking_water: true,
        float_valve: Some(FloatValve {
            shut_m: 0.75,
            open_m: 0.5,
            flow_m3_s: 1e-4,
            outlet_m: Some(1.45),
            drinking_water: true,
        }),
        under_cover: true,
        catch_area_m2: Some(14.0),
        wanted_turnover_per_h: Some(1.5),
        place: place(2.0),
        already_built: true,
    }
}

fn runs() -> Vec<Run> {
    let lip_m = Some(0.2);
    let bore_m = Some(0.07);
    let openings = [
        Opening::Upstand {
            crest_m: 0.9,
            bore_m,
        },
        Opening::SideHole {
            invert_m: 0.85,
            bore_m,
        },
        Opening::Floor { lip_m, bore_m },
        Opening::Mouth {
            lip_m: 1.2,
            turned: Turned::Up,
            bore_m,
            air_gap: true,
        },
        Opening::Submerged { lip_m, bore_m },
        Opening::RaisedIntake {
            intake_m: 0.2,
            crest_m: 0.8,
            crest: CrestKind::Cup,
            rise: Rise {
                length_m: Some(0.7),
                bore_m,
                roughness_m: Some(2e-5),
                total_k: Some(0.8),
            },
            vent: Vent::OpenTo { top_m: 1.4 },
        },
        Opening::Notch {
            crest_m: 0.9,
            shape: NotchShape::Rectangular {
                width_m: 0.2,
                channel_m: Some(0.6),
            },
            weir: Some(0.58),
        },
        Opening::Notch {
            crest_m: 0.95,
            shape: NotchShape::Vee { angle_deg: 60.0 },
            weir: Some(0.57),
        },
    ];
    let number = openings.into_iter().enumerate();
    number.map(|(index, opening)| run(index, opening)).collect()
}

fn run(index: usize, opening: Opening) -> Run {
    let pipe = pipe(index);
    // Without a pipe there is nothing along which a place could be given.
    let has_pipe = pipe != Pipe::Open;
    let at_m = |at_m: f64| has_pipe.then_some(at_m);
    let has_mouth = !matches!(opening, Opening::Notch { .. } | Opening::Submerged { .. });
    Run {
        id: format!("run-{index}").as_str().into(),
        name: "A run".into(),
        from: End {
            at: "pond".into(),
            opening: Some(opening),
            place: Some(place(5.0)),
            screen: Some(Screen {
                name: "Leaf guard".into(),
                area_m2: 0.05,
                open_share: 0.45,
                blinded: 0.2,
                k: Some(1.2),
                on_the_lip: index % 2 == 1,
                foot_m: index.is_multiple_of(2).then_some(0.15),
                height_m: index.is_multiple_of(2).then_some(0.3),
            }),
            edge: if has_mouth { Edge::Groove } else { Edge::Plain },
            orifice: has_mouth.then_some(0.63),
            entrance_k: has_mouth.then_some(0.25),
        },
        to: End {
            at: "tee".into(),
            opening: None,
            place: Some(place(6.0)),
            screen: None,
            edge: Edge::Plain,
            orifice: None,
            entrance_k: None,
        },
        pipe,
        route: vec![Corner {
            x_m: 1.0,
            y_m: 2.0,
            z_m: 0.6,
            vented: true,
            vent_top_m: Some(1.5),
        }],
        length_m: Some(4.2),
        fittings: vec![FittingUse {
            kind: "elbow".into(),
            count: 3,
            k: Some(0.4),
            choice: Some("long".into()),
            bore_m: Some(0.06),
            at_m: at_m(0.0),
            near: None,
        }],
        valves: vec![
            ValveUse {
                kind: "ball".into(),
                opening: 0.75,
                k: Some(1.1),
                at_m: None,
                near: has_pipe.then_some(RunEnd::From),
            };
            2
        ],
        equipment: vec![Equipment {
            name: "Lamp".into(),
            clean: EquipmentLoss::Terms { a: 12.0, b: 3e5 },
            dirty: Some(EquipmentLoss::Points(vec![
                LossPoint {
                    flow_m3_s: 0.001,
                    head_m: 0.2,
                },
                LossPoint {
                    flow_m3_s: 0.002,
                    head_m: 0.7,
                },
            ])),
            at_wash: Some(EquipmentLoss::Terms { a: 15.0, b: 9e5 }),
            wash_head_m: Some(0.8),
            out: true,
            at_m: at_m(0.0),
            near: None,
        }],
        pump: Some(pump(index)),
        check_valve: Some(Direction::Backward),
        check_valve_failed: true,
        siphon_break: Some(SiphonBreak {
            height_m: 1.1,
            bore_m: 0.004,
            near: RunEnd::From,
        }),
        starts_primed: true,
        total_k: Some(2.5),
        friction_factor: Some(0.02),
        friction: Some(Friction::DarcyWeisbach),
        carries_solids: true,
        already_built: true,
    }
}

fn pipe(index: usize) -> Pipe {
    let roughness_m = Some(1e-5);
    let hazen_williams_c = Some(140.0);
    if index == 7 {
        Pipe::Open
    } else if index == 0 {
        Pipe::Bought {
            family: "grey".into(),
            size: "50".into(),
            roughness_m,
            hazen_williams_c,
        }
    } else {
        Pipe::Own {
            bore_m: 0.05,
            roughness_m,
            hazen_williams_c,
        }
    }
}

fn pump(index: usize) -> Pump {
    let power = CurveForm::Power {
        h0_m: 3.5,
        c: 4e5,
        n: 1.9,
    };
    let points =
        [(0.0, 3.5), (0.002, 2.0)].map(|(flow_m3_s, head_m)| CurvePoint { flow_m3_s, head_m });
    Pump {
        id: format!("pump-{index}").as_str().into(),
        name: "A pump".into(),
        curve: match index {
            0 => power,
            2 => CurveForm::Label {
                largest_head_m: 3.5,
                largest_flow_m3_s: 0.003,
            },
            _ => CurveForm::Points(points.into()),
        },
        pushes: Direction::Backward,
        speed: 0.9,
        stopped_k: 4.0,
        efficiency: vec![EfficiencyPoint {
            flow_m3_s: 0.001,
            efficiency: 0.4,
        }],
        suction: Some(Suction {
            elevation_m: 0.3,
            length_m: 0.4,
            total_k: 0.6,
        }),
        wet: Some(true),
        float: Some(FloatSwitch {
            on_m: 0.6,
            off_m: 0.3,
            at: Some("round".into()),
        }),
        stops_when_dry: false,
        npsh_required: vec![NpshPoint {
            flow_m3_s: 0.001,
            npsh_m: 2.5,
        }],
    }
}
