//! Every number of a layout has a range: both ends are in it, and the next number outside is a fault.

use super::everything::everything;
use fallwright::layout::Layout;
use serde_json::Value;

/// Range of each field by the end of its path, the first that fits; `*` is a row of a list.
const RANGES: &[(&str, f64, f64)] = &[
    ("water.cold_c", 0.0, 27.0), // no more than the warmest
    ("water.warm_c", 4.0, 40.0), // no less than the coldest
    ("ageing.film_m", 0.0, 1.0),
    ("ageing.screens_blinded", 0.0, 1.0),
    ("weather.rain_m_s", 0.0, 1.0),
    ("weather.evaporation_m_s", 0.0, 1.0),
    ("first_fill_m3_s", 0.0, 1e5),
    ("underlay.metres_per_pixel", 1e-6, 1000.0),
    ("underlay.strength", 0.0, 1.0),
    ("lying_drum.length_m", 1e-3, 1e5),
    ("float_valve.shut_m", 0.500_001, 20_000.0), // over the one below
    ("float_valve.open_m", -20_000.0, 0.749_999), // under the one above
    ("float_valve.flow_m3_s", 0.0, 1e5),
    ("float_valve.outlet_m", -20_000.0, 20_000.0),
    ("make_up_outlet_m", -20_000.0, 20_000.0),
    ("catch_area_m2", 0.0, 1e10),
    ("notch.shape.rectangular.width_m", 1e-3, 0.6), // no more than its channel
    ("notch.shape.rectangular.channel_m", 0.2, 1e5), // no less than the notch
    ("vee.angle_deg", 1.0, 170.0),
    ("notch.weir", 1e-6, 100.0),
    ("screen.area_m2", 1e-6, 1e10),
    ("screen.open_share", 0.001, 1.0),
    ("screen.blinded", 0.0, 1.0),
    ("screen.foot_m", -20_000.0, 20_000.0),
    ("screen.height_m", 1e-3, 1e5),
    ("wash_head_m", 0.0, 1e5),
    ("siphon_break.height_m", -20_000.0, 20_000.0),
    ("float.on_m", -20_000.0, 20_000.0),
    ("float.off_m", -20_000.0, 20_000.0),
    ("npsh_required.*.npsh_m", 0.0, 1e5),
    ("washing_s", 0.0, 1e9),
    ("valves.*.valve", 0.0, 1.0),             // the run has two
    ("water.temperature_c", -273.15, 1000.0), // viscosity and density are given
    ("salinity_g_kg", 0.0, 42.0),
    ("kinematic_viscosity_m2_s", 1e-9, 1.0),
    ("density_kg_m3", 0.001, 1e5),
    ("atmosphere_pa", 1.0, 1e9),
    ("from.orifice", 1e-6, 100.0),
    ("from.entrance_k", 0.0, 1e9),
    ("coefficients.weir", 1e-6, 100.0),
    ("coefficients.orifice", 1e-6, 100.0),
    ("coefficients.entrance_k", 0.0, 1e9),
    ("coefficients.exit_k", 0.0, 1e9),
    ("coefficients.rim", 1e-6, 100.0),
    ("coefficients.gravity_m_s2", 0.001, 1000.0),
    ("coefficients.hazen_williams.k", 1e-6, 100.0),
    ("limits.freeboard_m", 0.0, 1e6),
    ("limits.drain_reserve", 0.0, 1e6),
    ("limits.pumped_velocity_m_s", 0.0, 1e6),
    ("limits.gravity_velocity_m_s", 0.0, 1e6),
    ("limits.solids_velocity_m_s", 0.0, 1e6),
    ("limits.least_share_of_curve", 0.0, 0.9), // no more than the most
    ("limits.most_share_of_curve", 0.2, 1e6),  // no less than the least
    ("limits.blocked_spill_s", 0.0, 1e6),
    ("round.diameter_m", 1e-3, 1e5),
    ("rectangular.length_m", 1e-3, 1e5),
    ("rectangular.width_m", 1e-3, 1e5),
    ("prism.area_m2", 1e-6, 1e10),
    ("cone_bottom.diameter_m", 1e-3, 1e5),
    ("cone_bottom.cone_height_m", 1e-3, 1e5),
    ("rows.0.depth_m", 0.0, 0.0),
    ("rows.1.depth_m", 1e-6, 40_000.0),
    ("rows.0.area_m2", 0.0, 1e10),
    ("rows.1.area_m2", 1e-6, 1e10),
    ("floor_m", -20_000.0, 0.8),                   // not over the fill
    ("rim_m", 0.100_000_000_000_000_02, 20_000.0), // over the floor, by however little
    ("fill_m", 0.1, 20_000.0),                     // not under the floor
    ("medium.top_m", -20_000.0, 20_000.0),
    ("medium.porosity", 0.001, 1.0),
    ("rim_perimeter_m", 0.0, 1e6),
    ("make_up_m3_s", -1e5, 1e5),
    ("wanted_turnover_per_h", 0.0, 1e6),
    ("x_m", -20_000.0, 20_000.0),
    ("y_m", -20_000.0, 20_000.0),
    ("z_m", -20_000.0, 1.5),               // not over the top of its vent
    ("route.*.vent_top_m", 0.6, 20_000.0), // not under its corner
    ("vent_top_m", 2.5, 20_000.0),         // not under its joint
    ("at_m", 0.0, 4.2 + 1e-6),             // within the run
    ("along_m", -20_000.0, 20_000.0),
    ("turned_deg", -360.0, 360.0),
    ("suction.elevation_m", -20_000.0, 20_000.0),
    ("elevation_m", -20_000.0, 2.9), // not over the top of its vent
    ("level_m", -20_000.0, 20_000.0),
    ("crest_m", -20_000.0, 20_000.0),
    ("invert_m", -20_000.0, 20_000.0),
    ("lip_m", -20_000.0, 20_000.0),
    ("intake_m", -20_000.0, 20_000.0),
    ("open_to.top_m", -20_000.0, 20_000.0),
    ("bore_m", 1e-4, 50.0),
    ("roughness_m", 0.0, 1.0),
    ("hazen_williams_c", 0.1, 1000.0),
    ("length_m", 0.0, 1e6),
    ("total_k", 0.0, 1e9),
    ("stopped_k", 0.0, 1e9),
    ("k", 0.0, 1e9),
    ("friction_factor", 0.0, 1000.0),
    ("count", 1.0, 10_000.0),
    ("opening", 0.0, 1.0),
    ("terms.a", 0.0, 1e15),
    ("terms.b", 0.0, 1e15),
    ("label.largest_head_m", 1e-6, 1e5),
    ("label.largest_flow_m3_s", 1e-9, 1e5),
    ("power.h0_m", 1e-6, 1e5),
    ("power.c", 0.0, 1e60),
    ("power.n", 1.0, 10.0),
    ("speed", 0.0, 3.0),
    ("efficiency.*.efficiency", 0.001, 1.0),
];

/// The last flow that is a whole step (1e-9 m³/s) before 2 L/s, as a computer subtracts.
const LAST_BEFORE_2_L_S: f64 = (0.002_f64 - 1e-9).next_down();

/// The first flow that is a whole step behind 1 L/s, as a computer subtracts.
const FIRST_AFTER_1_L_S: f64 = (0.001_f64 + 1e-9).next_up();

/// Ranges of the points of curves, which stand beside each other.
const POINT_RANGES: [(&str, f64, f64); 8] = [
    ("npsh_required.*.flow_m3_s", 0.0, 1e5),
    ("dirty.points.0.flow_m3_s", 1e-9, LAST_BEFORE_2_L_S),
    ("dirty.points.1.flow_m3_s", FIRST_AFTER_1_L_S, 1e5),
    ("dirty.points.*.head_m", 0.0, 1e5),
    ("curve.points.0.flow_m3_s", 0.0, LAST_BEFORE_2_L_S),
    ("curve.points.1.flow_m3_s", 1e-9, 1e5),
    ("curve.points.*.head_m", -1e5, 1e5),
    ("efficiency.*.flow_m3_s", 0.0, 1e5),
];

/// A number of a layout: the keys to it, and how a fault would call it.
struct Leaf {
    pointer: String,
    part: Option<String>,
    field: String,
}

fn leaves(value: &Value) -> Vec<Leaf> {
    let mut found = Vec::new();
    collect(
        value,
        Leaf {
            pointer: String::new(),
            part: None,
            field: String::new(),
        },
        &mut found,
    );
    found
}

fn collect(value: &Value, at: Leaf, found: &mut Vec<Leaf>) {
    let mut into = |key: &str, inner: &Value, part: Option<String>, field: &str| {
        let dot = if field.is_empty() { "" } else { "." };
        let leaf = Leaf {
            pointer: format!("{}/{key}", at.pointer),
            part,
            field: format!("{field}{dot}{key}"),
        };
        collect(inner, leaf, found);
    };
    match value {
        Value::Object(fields) => {
            let own = fields.get("id").and_then(Value::as_str).map(str::to_owned);
            let field = if own.is_some() { "" } else { at.field.as_str() };
            let part = own.or_else(|| at.part.clone());
            for (key, inner) in fields {
                into(key, inner, part.clone(), field);
            }
        }
        Value::Array(rows) => {
            for (index, inner) in rows.iter().enumerate() {
                into(&index.to_string(), inner, at.part.clone(), &at.field);
            }
        }
        Value::Number(_) => found.push(at),
        _ => {}
    }
}

fn fits(field: &str, pattern: &str) -> bool {
    let field: Vec<&str> = field.rsplit('.').collect();
    let pattern: Vec<&str> = pattern.rsplit('.').collect();
    field.len() >= pattern.len()
        && pattern
            .iter()
            .zip(&field)
            .all(|(want, step)| want == step || *want == "*")
}

fn range_of(field: &str) -> (f64, f64) {
    let all = POINT_RANGES.iter().chain(RANGES);
    let (_, least, most) = all
        .into_iter()
        .find(|(pattern, _, _)| fits(field, pattern))
        .unwrap_or_else(|| panic!("no range is told for `{field}`"));
    (*least, *most)
}

fn number(value: f64, is_count: bool) -> Value {
    if is_count {
        Value::from(value as u32)
    } else {
        Value::from(value)
    }
}

/// The part of the first fault of the layout with this number; none where it is sound.
///
/// Not the field: a rim may be told at the floor under it, a point at the next one.
fn faulty_part(whole: &Value, leaf: &Leaf, number: Value) -> Option<Option<String>> {
    let mut changed = whole.clone();
    *changed.pointer_mut(&leaf.pointer).unwrap() = number;
    let layout: Layout = serde_json::from_value(changed).unwrap();
    let first = layout.faults().into_iter().next()?;
    Some(first.part.map(|id| id.0))
}

/// Floor, rim and crown of a lying drum are held to each other: see `faults`.
fn is_of_the_drum(leaf: &Leaf) -> bool {
    let beside = ["floor_m", "rim_m", "shape.lying_drum.diameter_m"];
    leaf.part.as_deref() == Some("drum") && beside.contains(&leaf.field.as_str())
}

#[test]
fn the_layout_with_everything_is_sound() {
    assert_eq!(everything().faults(), vec![]);
}

#[test]
fn every_number_may_be_at_either_end_of_its_range_and_no_further() {
    let whole = serde_json::to_value(everything()).unwrap();
    let leaves = leaves(&whole);
    assert!(leaves.len() > 200, "{}", leaves.len());
    for leaf in leaves.into_iter().filter(|leaf| !is_of_the_drum(leaf)) {
        let name = format!("{:?} {}", leaf.part, leaf.field);
        let (least, most) = range_of(&leaf.field);
        let is_count = leaf.field.ends_with("count") || leaf.field.ends_with(".valve");
        let (below, above) = if is_count {
            (least - 1.0, most + 1.0)
        } else {
            (least.next_down(), most.next_up())
        };
        for inside in [least, most] {
            let faulty = faulty_part(&whole, &leaf, number(inside, is_count));
            assert_eq!(faulty, None, "{name} at {inside}");
        }
        // There is no count below 0.
        let outside = [below, above]
            .into_iter()
            .filter(|value| !is_count || *value >= 0.0);
        for outside in outside {
            let faulty = faulty_part(&whole, &leaf, number(outside, is_count));
            assert_eq!(faulty, Some(leaf.part.clone()), "{name} at {outside}");
        }
    }
}

#[test]
fn every_range_belongs_to_a_number() {
    let whole = serde_json::to_value(everything()).unwrap();
    let leaves = leaves(&whole);
    for (pattern, _, _) in POINT_RANGES.iter().chain(RANGES) {
        let used = leaves.iter().any(|leaf| fits(&leaf.field, pattern));
        assert!(used, "{pattern}");
    }
}
