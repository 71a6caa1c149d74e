//! Faults of pumps and equipment.

use super::{FaultList, FaultText, PartKind, PartKinds};
use crate::layout::range::{
    CURVE_FLOW, CURVE_TERM, EFFICIENCY, ELEVATION, EXPONENT, LABEL_FLOW, LEAST_FLOW_STEP_M3_S,
    LEAST_SWITCH_STEP_M, LENGTH, LOSS_HEAD, LOSS_K, LOSS_TERM, PUMP_HEAD, SHEET_FLOW, SHUTOFF_HEAD,
    SPEED,
};
use crate::layout::{
    CurveForm, CurvePoint, Direction, Equipment, EquipmentLoss, FloatSwitch, LossPoint, Pump, Run,
};

pub(super) fn pump(book: &mut FaultList, run: &Run, pump: &Pump, kinds: &PartKinds) {
    book.words("name", &pump.name);
    match &pump.curve {
        CurveForm::Points(points) => curve(book, points),
        CurveForm::Power { h0_m, c, n } => {
            book.number("curve.power.h0_m", *h0_m, &SHUTOFF_HEAD);
            book.number("curve.power.c", *c, &CURVE_TERM);
            book.number("curve.power.n", *n, &EXPONENT);
        }
        CurveForm::Label {
            largest_head_m,
            largest_flow_m3_s,
        } => {
            let (head, flow) = (
                "curve.label.largest_head_m",
                "curve.label.largest_flow_m3_s",
            );
            book.number(head, *largest_head_m, &SHUTOFF_HEAD);
            book.number(flow, *largest_flow_m3_s, &LABEL_FLOW);
        }
    }
    book.number("speed", pump.speed, &SPEED);
    book.number("stopped_k", pump.stopped_k, &LOSS_K);
    efficiency(book, pump);
    if let Some(suction) = pump.suction {
        book.number("suction.elevation_m", suction.elevation_m, &ELEVATION);
        book.number("suction.length_m", suction.length_m, &LENGTH);
        book.number("suction.total_k", suction.total_k, &LOSS_K);
    }
    npsh(book, pump);
    if let Some(switch) = &pump.float {
        let draws_from = match pump.pushes {
            Direction::Forward => &run.from.at,
            Direction::Backward => &run.to.at,
        };
        let at_vessel = kinds.get(switch.at.as_ref().unwrap_or(draws_from));
        float(book, switch, at_vessel == Some(PartKind::Vessel));
    }
}

fn npsh(book: &mut FaultList, pump: &Pump) {
    let mut before = None;
    for (index, point) in pump.npsh_required.iter().enumerate() {
        let flow = format!("npsh_required.{index}.flow_m3_s");
        book.number(&flow, point.flow_m3_s, &CURVE_FLOW);
        rising(book, &flow, before, point.flow_m3_s);
        let head = format!("npsh_required.{index}.npsh_m");
        book.number(head, point.npsh_m, &LOSS_HEAD);
        before = Some(point.flow_m3_s);
    }
}

fn float(book: &mut FaultList, switch: &FloatSwitch, is_at_vessel: bool) {
    book.number("float.on_m", switch.on_m, &ELEVATION);
    book.number("float.off_m", switch.off_m, &ELEVATION);
    if (switch.on_m - switch.off_m).abs() < LEAST_SWITCH_STEP_M {
        book.say(
            "float.off_m",
            FaultText::with(
                "the float switch starts and stops the pump at one level, {}",
                &[(switch.on_m, "m")],
            ),
            "set it to stop under the level at which it starts (the pump empties the vessel) or over it (it fills the vessel)".into(),
        );
    }
    if !is_at_vessel {
        let what = match &switch.at {
            Some(at) => format!("`float.at` names {:?}, which is no vessel", at.as_str()),
            None => {
                "the float switch hangs in no vessel: the pump draws from a joint or a fixed level"
                    .into()
            }
        };
        let cure = "name the vessel that it hangs in: `at: \"…\"`";
        book.add("float.at", what, cure.into());
    }
}

fn curve(book: &mut FaultList, points: &[CurvePoint]) {
    if points.len() < 2 {
        book.add(
            "curve.points",
            format!("the pump's curve has too few points: {}", points.len()),
            "give at least two points of its sheet, with rising flow".into(),
        );
    }
    let mut before = None;
    for (index, point) in points.iter().enumerate() {
        let flow = format!("curve.points.{index}.flow_m3_s");
        book.number(&flow, point.flow_m3_s, &CURVE_FLOW);
        rising(book, &flow, before, point.flow_m3_s);
        let head = format!("curve.points.{index}.head_m");
        book.number(head, point.head_m, &PUMP_HEAD);
        before = Some(point.flow_m3_s);
    }
}

fn efficiency(book: &mut FaultList, pump: &Pump) {
    let mut before = None;
    for (index, point) in pump.efficiency.iter().enumerate() {
        let flow = format!("efficiency.{index}.flow_m3_s");
        book.number(&flow, point.flow_m3_s, &CURVE_FLOW);
        rising(book, &flow, before, point.flow_m3_s);
        let share = format!("efficiency.{index}.efficiency");
        book.number(share, point.efficiency, &EFFICIENCY);
        before = Some(point.flow_m3_s);
    }
}

fn rising(book: &mut FaultList, field: &str, before_m3_s: Option<f64>, flow_m3_s: f64) {
    let Some(before_m3_s) = before_m3_s else {
        return;
    };
    if flow_m3_s - before_m3_s < LEAST_FLOW_STEP_M3_S {
        book.say(
            field,
            FaultText::with(
                &format!("`{field}` is {{}}, not above the point before it at {{}}"),
                &[(flow_m3_s, "m³/s"), (before_m3_s, "m³/s")],
            ),
            "give the points in order of rising flow, each flow once".into(),
        );
    }
}

pub(super) fn equipment(book: &mut FaultList, all: &[Equipment]) {
    for (index, part) in all.iter().enumerate() {
        book.words(format_args!("equipment.{index}.name"), &part.name);
        loss(book, &format!("equipment.{index}.clean"), &part.clean);
        if let Some(dirty) = &part.dirty {
            loss(book, &format!("equipment.{index}.dirty"), dirty);
        }
        if let Some(at_wash) = &part.at_wash {
            loss(book, &format!("equipment.{index}.at_wash"), at_wash);
        }
        let head = format!("equipment.{index}.wash_head_m");
        book.number_if_given(head, part.wash_head_m, &LOSS_HEAD);
    }
}

fn loss(book: &mut FaultList, field: &str, loss: &EquipmentLoss) {
    match loss {
        EquipmentLoss::Terms { a, b } => {
            book.number(format_args!("{field}.terms.a"), *a, &LOSS_TERM);
            book.number(format_args!("{field}.terms.b"), *b, &LOSS_TERM);
        }
        EquipmentLoss::Points(points) => sheet(book, &format!("{field}.points"), points),
    }
}

fn sheet(book: &mut FaultList, field: &str, points: &[LossPoint]) {
    if !(1..=2).contains(&points.len()) {
        book.add(
            field,
            format!(
                "`{field}` has {} points, but may have one or two",
                points.len()
            ),
            "give one or two points of its sheet".into(),
        );
    }
    for (index, point) in points.iter().enumerate() {
        let flow = format!("{field}.{index}.flow_m3_s");
        book.number(flow, point.flow_m3_s, &SHEET_FLOW);
        let head = format!("{field}.{index}.head_m");
        book.number(head, point.head_m, &LOSS_HEAD);
    }
    if let [first, second] = points
        && (first.flow_m3_s - second.flow_m3_s).abs() < LEAST_FLOW_STEP_M3_S
    {
        book.add(
            format_args!("{field}.1.flow_m3_s"),
            format!("both points of `{field}` are at one flow"),
            "give two points with different flows, or one".into(),
        );
    }
}
