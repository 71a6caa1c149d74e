//! What the numbers of a layout are called by people.

/// Names that do not follow from the field's own.
const SPECIAL: &[(&str, &str)] = &[
    ("a", "the loss by flow"),
    ("at_m", "the place along the run"),
    ("along_m", "the place along the section"),
    ("area_m2", "the plan area"),
    ("open_share", "the open share"),
    ("c", "the coefficient of the curve"),
    ("entrance_k", "the loss coefficient of an entrance"),
    ("exit_k", "the loss coefficient of an exit"),
    ("b", "the loss by flow squared"),
    ("fill_m", "the level it is filled to"),
    ("foot_m", "the foot"),
    ("gravity_velocity_m_s", "the most velocity by gravity"),
    ("freeboard_m", "the least freeboard"),
    ("drain_reserve", "the least reserve of a drain"),
    ("h0_m", "the shut-off head"),
    ("hazen_williams_c", "Hazen–Williams C"),
    ("k", "the loss coefficient"),
    ("make_up_outlet_m", "the outlet of the water from outside"),
    ("make_up_m3_s", "the water that flows in from outside"),
    ("n", "the exponent of the curve"),
    ("orifice", "the coefficient of a submerged opening"),
    ("pumped_velocity_m_s", "the most velocity behind a pump"),
    ("rim", "the coefficient of a rim"),
    ("rim_perimeter_m", "the length of the rim"),
    ("solids_velocity_m_s", "the least velocity with solids"),
    ("stopped_k", "the loss coefficient standing still"),
    ("temperature_c", "the temperature"),
    ("total_k", "the whole loss coefficient"),
    ("wanted_turnover_per_h", "the wanted changes an hour"),
    ("weir", "the coefficient of a lip"),
    ("blinded", "the blinded share"),
    ("cold_c", "the lowest temperature"),
    ("warm_c", "the highest temperature"),
    ("npsh_m", "the suction head asked for"),
    ("off_m", "the level at which the pump stops"),
    ("on_m", "the level at which the pump starts"),
    ("open_m", "the level at which it is fully open"),
    ("shut_m", "the level at which it is shut"),
    ("screens_blinded", "the blinded share of screens"),
    (
        "blocked_spill_s",
        "the least time until a blocked path spills",
    ),
    ("wash_head_m", "the head at which it is washed"),
    ("washing_s", "the time of a washing"),
    ("turned_deg", "the angle"),
    ("vent_top_m", "the top of the vent"),
    ("x_m", "the place in the plan, rightwards"),
    ("y_m", "the place in the plan, upwards"),
    ("z_m", "the height"),
    ("elevation_m", "the height"),
];

/// Ends of names that say the unit.
const UNITS: &[&str] = &[
    "_m3_s", "_m2_s", "_m_s2", "_kg_m3", "_g_kg", "_per_h", "_m_s", "_m2", "_deg", "_pa", "_m",
];

/// What a field lies in, where that has to be said.
const HOLDERS: &[(&str, &str)] = &[
    ("ageing", "fouled parts"),
    ("curve", "the pump's curve"),
    ("efficiency", "the pump's efficiency"),
    ("equipment", "the equipment"),
    ("fittings", "fitting"),
    ("float", "the float switch"),
    ("float_valve", "the float valve"),
    ("hazen_williams", "Hazen–Williams"),
    ("medium", "the medium"),
    ("points", "point"),
    ("pump", "the pump"),
    ("rise", "the rising leg"),
    ("route", "corner"),
    ("rows", "row"),
    ("screen", "the screen"),
    ("siphon_break", "the siphon break"),
    ("suction", "the suction"),
    ("underlay", "the picture"),
    ("valves", "valve"),
    ("vent", "the vent"),
    ("water", "the water"),
    ("ways", "way of running"),
];

/// A field in words: “the crest”, “the opening of valve 2”, “the temperature of the water”.
///
/// `field` is dotted as in a file; any text gives some words.
pub(super) fn of_field(field: &str) -> String {
    let steps: Vec<&str> = field.split('.').collect();
    let Some((last, way)) = steps.split_last() else {
        return own(field);
    };
    match holder(way) {
        Some(holder) => format!("{} of {holder}", own(last)),
        None => own(last),
    }
}

/// The words of the last step of a path.
fn own(field: &str) -> String {
    if let Some((_, words)) = SPECIAL.iter().find(|(name, _)| *name == field) {
        return (*words).to_owned();
    }
    let bare = UNITS.iter().find_map(|unit| field.strip_suffix(unit));
    format!("the {}", bare.unwrap_or(field).replace('_', " "))
}

/// The innermost thing on the way that has a name, with its number where it stands in a list.
fn holder(way: &[&str]) -> Option<String> {
    let named = |step: &&str| HOLDERS.iter().find(|(name, _)| name == step);
    let (at, (_, words)) = way
        .iter()
        .enumerate()
        .rev()
        .find_map(|(at, step)| Some((at, named(step)?)))?;
    let row = way.get(at + 1).and_then(|step| step.parse::<usize>().ok());
    Some(match row {
        Some(row) => format!("{words} {}", row.saturating_add(1)),
        None => (*words).to_owned(),
    })
}
