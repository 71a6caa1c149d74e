//! Faults of vessels, joints and fixed levels.

use super::{FaultList, FaultText, PartKind, PartKinds, placed};
use crate::layout::range::{
    CURVE_FLOW, DEPTH, ELEVATION, INFLOW, LEAST_DEPTH_STEP_M, LEAST_SWITCH_STEP_M, LENGTH, PLAN,
    PLAN_AREA, POROSITY, ROUNDING_M, ROW_AREA, SIZE, TURN, TURNOVER,
};
use crate::layout::{Fixed, FloatValve, Joint, Layout, Place, Shape, TableRow, Vessel};

pub(super) fn check(book: &mut FaultList, layout: &Layout, kinds: &PartKinds) {
    for (index, part) in layout.vessels.iter().enumerate() {
        book.begin(&part.id, format!("vessels.{index}."));
        vessel(book, part, kinds);
    }
    for (index, part) in layout.joints.iter().enumerate() {
        book.begin(&part.id, format!("joints.{index}."));
        joint(book, part);
    }
    for (index, part) in layout.fixed.iter().enumerate() {
        book.begin(&part.id, format!("fixed.{index}."));
        fixed(book, part);
    }
}

pub(super) fn place(book: &mut FaultList, field: &str, place: &Place) {
    book.number(format_args!("{field}.x_m"), place.x_m, &PLAN);
    book.number(format_args!("{field}.y_m"), place.y_m, &PLAN);
    book.number(format_args!("{field}.along_m"), place.along_m, &PLAN);
    book.number(format_args!("{field}.turned_deg"), place.turned_deg, &TURN);
}

fn vessel(book: &mut FaultList, vessel: &Vessel, kinds: &PartKinds) {
    book.words("name", &vessel.name);
    shape(book, &vessel.shape);
    heights(book, vessel);
    if let Some(medium) = vessel.medium {
        book.number("medium.top_m", medium.top_m, &ELEVATION);
        book.number("medium.porosity", medium.porosity, &POROSITY);
    }
    book.number_if_given("rim_perimeter_m", vessel.rim_perimeter_m, &LENGTH);
    spills_to(book, vessel, kinds);
    book.number("make_up_m3_s", vessel.make_up_m3_s, &INFLOW);
    book.number_if_given("make_up_outlet_m", vessel.make_up_outlet_m, &ELEVATION);
    if let Some(valve) = &vessel.float_valve {
        float_valve(book, valve);
    }
    book.number_if_given("catch_area_m2", vessel.catch_area_m2, &ROW_AREA);
    let turnover = vessel.wanted_turnover_per_h;
    book.number_if_given("wanted_turnover_per_h", turnover, &TURNOVER);
    place(book, "place", &vessel.place);
}

fn heights(book: &mut FaultList, vessel: &Vessel) {
    let floor = (vessel.floor_m, "m");
    book.number("floor_m", vessel.floor_m, &ELEVATION);
    book.number("rim_m", vessel.rim_m, &ELEVATION);
    book.number("fill_m", vessel.fill_m, &ELEVATION);
    if vessel.rim_m <= vessel.floor_m {
        book.say(
            "rim_m",
            FaultText::with(
                "`rim_m` is {}, not above the floor at {}",
                &[(vessel.rim_m, "m"), floor],
            ),
            "raise the rim or lower the floor; both are elevations above the datum".into(),
        );
    }
    if let Shape::LyingDrum { diameter_m, .. } = vessel.shape
        && SIZE.holds(diameter_m)
    {
        let crown_m = vessel.floor_m + diameter_m;
        if vessel.rim_m > crown_m + ROUNDING_M {
            book.say(
                "rim_m",
                FaultText::with(
                    "`rim_m` is {}, over the crown of the lying drum at {}",
                    &[(vessel.rim_m, "m"), (crown_m, "m")],
                ),
                "give the edge of the opening that is cut into the drum, at or under its crown"
                    .into(),
            );
        }
    }
    if vessel.fill_m < vessel.floor_m {
        book.say(
            "fill_m",
            FaultText::with(
                "`fill_m` is {}, below the floor at {}",
                &[(vessel.fill_m, "m"), floor],
            ),
            "give the level it is filled to as an elevation above the datum; an empty vessel is filled to its floor".into(),
        );
    }
}

fn float_valve(book: &mut FaultList, valve: &FloatValve) {
    book.number("float_valve.shut_m", valve.shut_m, &ELEVATION);
    book.number("float_valve.open_m", valve.open_m, &ELEVATION);
    book.number("float_valve.flow_m3_s", valve.flow_m3_s, &CURVE_FLOW);
    book.number_if_given("float_valve.outlet_m", valve.outlet_m, &ELEVATION);
    if valve.shut_m - valve.open_m < LEAST_SWITCH_STEP_M {
        book.say(
            "float_valve.shut_m",
            FaultText::with(
                "the float valve is shut at {}, not above the level at which it is fully open, {}",
                &[(valve.shut_m, "m"), (valve.open_m, "m")],
            ),
            "give the level at which it shuts above the one at which it is fully open".into(),
        );
    }
}

fn spills_to(book: &mut FaultList, vessel: &Vessel, kinds: &PartKinds) {
    let Some(receiver) = &vessel.spills_to else {
        return;
    };
    let cure = "name a vessel or a fixed level, or leave it out where the water is lost";
    if *receiver == vessel.id {
        let what = format!("`spills_to` names `{receiver}`, the vessel itself");
        book.add("spills_to", what, cure.into());
    } else if !matches!(
        kinds.get(receiver),
        Some(PartKind::Vessel | PartKind::Fixed)
    ) {
        let what =
            format!("`spills_to` names `{receiver}`, which is neither a vessel nor a fixed level");
        book.add("spills_to", what, cure.into());
    }
}

fn shape(book: &mut FaultList, shape: &Shape) {
    match shape {
        Shape::Round { diameter_m } => {
            book.number("shape.round.diameter_m", *diameter_m, &SIZE);
        }
        Shape::Rectangular { length_m, width_m } => {
            book.number("shape.rectangular.length_m", *length_m, &SIZE);
            book.number("shape.rectangular.width_m", *width_m, &SIZE);
        }
        Shape::Prism { area_m2 } => book.number("shape.prism.area_m2", *area_m2, &PLAN_AREA),
        Shape::ConeBottom {
            diameter_m,
            cone_height_m,
        } => {
            book.number("shape.cone_bottom.diameter_m", *diameter_m, &SIZE);
            book.number("shape.cone_bottom.cone_height_m", *cone_height_m, &SIZE);
        }
        Shape::LyingDrum {
            diameter_m,
            length_m,
        } => {
            book.number("shape.lying_drum.diameter_m", *diameter_m, &SIZE);
            book.number("shape.lying_drum.length_m", *length_m, &SIZE);
        }
        Shape::Table { rows } => table(book, rows),
    }
}

fn table(book: &mut FaultList, rows: &[TableRow]) {
    let field = "shape.table.rows";
    let Some(last) = rows.len().checked_sub(1) else {
        book.add(
            field,
            "the level–area table has no rows".into(),
            "give it at least one row, at depth 0".into(),
        );
        return;
    };
    let mut above = None;
    for (index, row) in rows.iter().enumerate() {
        let depth_field = format!("{field}.{index}.depth_m");
        book.number(&depth_field, row.depth_m, &DEPTH);
        depth_step(book, &depth_field, above, row.depth_m);
        let area = if index == last { &PLAN_AREA } else { &ROW_AREA };
        book.number(format_args!("{field}.{index}.area_m2"), row.area_m2, area);
        above = Some(row.depth_m);
    }
}

fn depth_step(book: &mut FaultList, field: &str, before_m: Option<f64>, depth_m: f64) {
    let depth = (depth_m, "m");
    match before_m {
        None if depth_m != 0.0 => book.say(
            field,
            FaultText::with(
                "the first row of the level–area table is at depth {}",
                &[depth],
            ),
            "start the table at depth 0, the floor".into(),
        ),
        Some(before_m) if depth_m - before_m < LEAST_DEPTH_STEP_M => book.say(
            field,
            FaultText::with(
                &format!("`{field}` is {{}}, not below the row before it at {{}}"),
                &[depth, (before_m, "m")],
            ),
            "give the rows in order of rising depth, each depth once".into(),
        ),
        _ => {}
    }
}

fn joint(book: &mut FaultList, joint: &Joint) {
    book.words("name", &joint.name);
    book.number("elevation_m", joint.elevation_m, &ELEVATION);
    book.number("make_up_m3_s", joint.make_up_m3_s, &INFLOW);
    let vent = placed::GivenVent {
        prefix: "",
        vented: joint.vented,
        top_m: joint.vent_top_m,
        on: ("the centre of the joint", joint.elevation_m),
    };
    placed::vent(book, &vent);
    place(book, "place", &joint.place);
}

fn fixed(book: &mut FaultList, fixed: &Fixed) {
    book.words("name", &fixed.name);
    book.number("level_m", fixed.level_m, &ELEVATION);
    place(book, "place", &fixed.place);
}
