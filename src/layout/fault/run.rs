//! Faults of runs: ends, pipe, fittings, valves.

use super::{FaultList, PartKind, PartKinds, machines, opening, placed, vessel};
use crate::layout::range::{
    BORE, COEFFICIENT, ELEVATION, FRICTION_FACTOR, HAZEN_WILLIAMS_C, LENGTH, LOSS_K, MOST_FITTINGS,
    OPEN_SHARE, PLAN, PLAN_AREA, ROUGHNESS, SHARE, SIZE,
};
use crate::layout::{FittingUse, Opening, Pipe, Run, RunEnd, Screen, ValveUse};

pub(super) fn check(book: &mut FaultList, run: &Run, kinds: &PartKinds) {
    book.words("name", &run.name);
    for which in RunEnd::BOTH {
        end(book, run, which, kinds);
    }
    pipe(book, &run.pipe);
    if run.pipe == Pipe::Open {
        no_pipe(book, run);
    }
    siphon_break(book, run, kinds);
    for (index, corner) in run.route.iter().enumerate() {
        book.number(format_args!("route.{index}.x_m"), corner.x_m, &PLAN);
        book.number(format_args!("route.{index}.y_m"), corner.y_m, &PLAN);
        book.number(format_args!("route.{index}.z_m"), corner.z_m, &ELEVATION);
        let vent = placed::GivenVent {
            prefix: &format!("route.{index}."),
            vented: corner.vented,
            top_m: corner.vent_top_m,
            on: ("the corner", corner.z_m),
        };
        placed::vent(book, &vent);
    }
    book.number_if_given("length_m", run.length_m, &LENGTH);
    for (index, part) in run.fittings.iter().enumerate() {
        fitting(book, index, part);
    }
    for (index, part) in run.valves.iter().enumerate() {
        valve(book, index, part);
    }
    machines::equipment(book, &run.equipment);
    placed::check(book, run, kinds);
    book.number_if_given("total_k", run.total_k, &LOSS_K);
    book.number_if_given("friction_factor", run.friction_factor, &FRICTION_FACTOR);
    // The pump comes last: it is a part itself, and faults added after `begin` are reported on it.
    if let Some(pump) = &run.pump {
        let path = book.path.clone();
        book.begin(&pump.id, format!("{path}pump."));
        machines::pump(book, run, pump, kinds);
    }
}

fn end(book: &mut FaultList, run: &Run, which: RunEnd, kinds: &PartKinds) {
    let (end, field) = (run.end(which), which.word());
    let at = &end.at;
    // Without a pipe, both ends share one opening, so the opening at the other end also counts here.
    let shared = run.pipe == Pipe::Open && run.end(which.other()).opening.is_some();
    match (kinds.get(at), &end.opening) {
        (None, _) => book.add(
            format_args!("{field}.at"),
            format!("`{field}.at` names {:?}, which is no vessel, joint or fixed level", at.as_str()),
            "name a part that is in the layout, by its id".into(),
        ),
        (Some(PartKind::Vessel), None) if !shared => book.add(
            format_args!("{field}.opening"),
            format!("`{field}` meets the vessel `{at}` without an opening"),
            "say how: `opening: upstand(…)`, `side_hole(…)`, `floor()`, `mouth(…)`, `submerged()`, `raised_intake(…)` or `notch(…)`".into(),
        ),
        (Some(PartKind::Joint), Some(_)) => book.add(
            format_args!("{field}.opening"),
            format!("`{field}` has an opening at the joint `{at}`"),
            "take the opening out: only vessels and fixed levels have openings".into(),
        ),
        _ => {}
    }
    if let Some(given) = &end.opening {
        opening::check(book, &format!("{field}.opening"), given);
    }
    if let Some(place) = &end.place {
        vessel::place(book, &format!("{field}.place"), place);
    }
    mouth(book, run, which);
    if let Some(given) = &end.screen {
        screen(book, &format!("{field}.screen"), given);
        if kinds.get(at) == Some(PartKind::Joint) {
            book.add(
                format_args!("{field}.screen"),
                format!("`{field}` has a screen at the joint `{at}`"),
                "take the screen out: it stands before an opening, and a joint has none".into(),
            );
        }
    }
}

/// Checks the coefficients of the mouth at an end; they are allowed only where the opening uses them.
fn mouth(book: &mut FaultList, run: &Run, which: RunEnd) {
    let (end, field) = (run.end(which), which.word());
    let rows = [
        ("orifice", end.orifice, &COEFFICIENT),
        ("entrance_k", end.entrance_k, &LOSS_K),
    ];
    for (name, value, range) in rows {
        book.number_if_given(format_args!("{field}.{name}"), value, range);
    }
    let given = [
        ("edge", !end.edge.is_plain()),
        ("orifice", end.orifice.is_some()),
        ("entrance_k", end.entrance_k.is_some()),
    ];
    let Some((name, _)) = given.into_iter().find(|(_, is_given)| *is_given) else {
        return;
    };
    if matches!(
        end.opening,
        None | Some(Opening::Notch { .. } | Opening::Submerged { .. })
    ) {
        book.add(
            format_args!("{field}.{name}"),
            format!("`{field}.{name}` is given where no mouth limits what flows"),
            "take it out: it counts at `upstand`, `side_hole`, `floor`, `mouth` and `raised_intake`".into(),
        );
    }
    let entered = run
        .fittings
        .iter()
        .any(|used| used.kind.starts_with(ENTRANCE));
    if entered && !end.edge.is_plain() {
        book.add(
            format_args!("{field}.edge"),
            format!(
                "`{field}.edge` and an entrance among the fittings both say what the entrance loses"
            ),
            "keep one of the two".into(),
        );
    }
}

/// Prefix of the fitting kinds that are entrances.
const ENTRANCE: &str = "entrance";

fn screen(book: &mut FaultList, field: &str, screen: &Screen) {
    book.words(format_args!("{field}.name"), &screen.name);
    book.number(format_args!("{field}.area_m2"), screen.area_m2, &PLAN_AREA);
    let open = format!("{field}.open_share");
    book.number(open, screen.open_share, &OPEN_SHARE);
    book.number(format_args!("{field}.blinded"), screen.blinded, &SHARE);
    book.number_if_given(format_args!("{field}.k"), screen.k, &LOSS_K);
    book.number_if_given(format_args!("{field}.foot_m"), screen.foot_m, &ELEVATION);
    book.number_if_given(format_args!("{field}.height_m"), screen.height_m, &SIZE);
    cage(book, field, screen);
}

/// Checks that a cage has both foot and height and is not also on the lip.
fn cage(book: &mut FaultList, field: &str, screen: &Screen) {
    let (given, missing) = match (screen.foot_m, screen.height_m) {
        (None, None) => return,
        (Some(_), None) => ("foot_m", "height_m"),
        (None, Some(_)) => ("height_m", "foot_m"),
        (Some(_), Some(_)) if screen.on_the_lip => {
            let what = format!("`{field}` lies on the lip and has a foot of its own");
            let cure = "take out `on_the_lip`, or `foot_m` and `height_m`";
            book.add(format_args!("{field}.on_the_lip"), what, cure.into());
            return;
        }
        (Some(_), Some(_)) => return,
    };
    book.add(
        format_args!("{field}.{given}"),
        format!("`{field}.{given}` is given without `{missing}`"),
        format!("give both for a cage that stands out of the water, or take `{given}` out"),
    );
}

/// Checks the openings of a run without a pipe: each must have a size.
fn no_pipe(book: &mut FaultList, run: &Run) {
    for which in RunEnd::BOTH {
        let Some(opening) = &run.end(which).opening else {
            continue;
        };
        let field = format!("{}.opening", which.word());
        match opening {
            Opening::Notch { .. } => {}
            Opening::RaisedIntake { .. } => book.add(
                field,
                "a raised-intake overflow has no pipe to fall in".into(),
                "give the run a pipe: `pipe: own(bore_m: …)`".into(),
            ),
            other if other.bore_m().is_none() => book.add(
                field,
                "the run has no pipe, and its opening no bore".into(),
                "give the opening its `bore_m`, or the run a pipe".into(),
            ),
            _ => {}
        }
    }
}

fn siphon_break(book: &mut FaultList, run: &Run, kinds: &PartKinds) {
    let Some(given) = &run.siphon_break else {
        return;
    };
    book.number("siphon_break.height_m", given.height_m, &ELEVATION);
    book.number("siphon_break.bore_m", given.bore_m, &BORE);
    let at = &run.end(given.near).at;
    if kinds.get(at) == Some(PartKind::Joint) {
        book.add(
            "siphon_break.near",
            format!("the siphon break is near `{at}`, which is a joint without a level"),
            "name the end at a vessel: `near: from` or `near: to`".into(),
        );
    }
}

fn pipe(book: &mut FaultList, pipe: &Pipe) {
    let (form, roughness_m, hazen_williams_c) = match pipe {
        Pipe::Bought {
            family,
            size,
            roughness_m,
            hazen_williams_c,
        } => {
            book.words("pipe.bought.family", family);
            book.words("pipe.bought.size", size);
            ("bought", roughness_m, hazen_williams_c)
        }
        Pipe::Own {
            bore_m,
            roughness_m,
            hazen_williams_c,
        } => {
            book.number("pipe.own.bore_m", *bore_m, &BORE);
            ("own", roughness_m, hazen_williams_c)
        }
        Pipe::Open => return,
    };
    let roughness_field = format!("pipe.{form}.roughness_m");
    book.number_if_given(roughness_field, *roughness_m, &ROUGHNESS);
    let c_field = format!("pipe.{form}.hazen_williams_c");
    book.number_if_given(c_field, *hazen_williams_c, &HAZEN_WILLIAMS_C);
}

fn fitting(book: &mut FaultList, index: usize, fitting: &FittingUse) {
    book.words(format_args!("fittings.{index}.kind"), &fitting.kind);
    let choice = fitting.choice.as_deref().unwrap_or_default();
    book.words(format_args!("fittings.{index}.choice"), choice);
    if !(1..=MOST_FITTINGS).contains(&fitting.count) {
        let field = format!("fittings.{index}.count");
        book.add(
            &field,
            format!("`{field}` is {}", fitting.count),
            format!("give it a count from 1 to {MOST_FITTINGS}, or take the entry out"),
        );
    }
    book.number_if_given(format_args!("fittings.{index}.k"), fitting.k, &LOSS_K);
    let bore_field = format!("fittings.{index}.bore_m");
    book.number_if_given(bore_field, fitting.bore_m, &BORE);
}

fn valve(book: &mut FaultList, index: usize, valve: &ValveUse) {
    book.words(format_args!("valves.{index}.kind"), &valve.kind);
    let opening_field = format!("valves.{index}.opening");
    book.number(opening_field, valve.opening, &SHARE);
    book.number_if_given(format_args!("valves.{index}.k"), valve.k, &LOSS_K);
}
