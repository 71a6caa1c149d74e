//! The duty of a pump: total dynamic head, item by item.

use super::table::{Column, table};
use super::{TextReader, one_line};
pub(super) use crate::draw::results::event_sentence::pump_called as title;
use crate::states::report::{LossItem, PumpReport, Standing, StateReport};
use crate::units::{Quantity, UnitSystem, unit_for, write};

/// The section of one pump.
pub(super) fn pump(reader: &TextReader, report: &StateReport, pump: &PumpReport) -> Vec<String> {
    let (name, run) = (title(&reader.name(&pump.id)), reader.name(&pump.run));
    if by_turns(report, pump) {
        let words = "on and off by turns; its flow above is the mean";
        return vec![String::new(), format!("  {name} in {run}: {words}.")];
    }
    let state = match pump.standing {
        Standing::Runs => "on",
        Standing::Off => "off",
        Standing::FloatOff => "turned off by its float switch",
        Standing::RanDry => "has run dry and stands",
    };
    let mut lines = vec![String::new(), format!("  {name} in {run}: {state}")];
    if pump.on {
        lines.extend(duty(reader, pump));
    } else if pump.flow_m3_s != 0.0 {
        let flow = write(Quantity::Flow, pump.flow_m3_s, reader.system);
        lines.push(format!("  {flow} runs through it."));
    }
    lines
}

/// Whether the pump is switched within the limit cycle of the state.
fn by_turns(report: &StateReport, pump: &PumpReport) -> bool {
    let told = report.cycle.iter().flat_map(|cycle| &cycle.told);
    told.into_iter()
        .any(|told| told.about.first() == Some(&pump.id))
}

/// Losses, largest first; those of the same name are added up.
fn together(losses: &[LossItem]) -> Vec<(String, f64)> {
    let mut sums: Vec<(&str, usize, f64)> = Vec::new();
    for item in losses {
        match sums.iter_mut().find(|(what, ..)| *what == item.what) {
            Some((_, count, head_m)) => {
                *count += 1;
                *head_m += item.head_m;
            }
            None => sums.push((&item.what, 1, item.head_m)),
        }
    }
    sums.sort_by(|a, b| b.2.total_cmp(&a.2));
    let told = |(what, count, head_m): (&str, usize, f64)| match count {
        1 => (one_line(what), head_m),
        _ => (format!("{count} × {}", one_line(what)), head_m),
    };
    sums.into_iter().map(told).collect()
}

fn duty(reader: &TextReader, pump: &PumpReport) -> Vec<String> {
    // One unit and number of decimals, so that the printed items add up.
    let decimals = match reader.system {
        UnitSystem::Metric => 3,
        UnitSystem::Us => 2,
    };
    let long = unit_for(Quantity::Head, f64::MAX, reader.system).with_decimals(decimals);
    let mut rows = vec![
        (
            "flow".to_owned(),
            write(Quantity::Flow, pump.flow_m3_s, reader.system),
        ),
        ("static lift".to_owned(), long.write(pump.static_m)),
    ];
    let losses = together(&pump.losses).into_iter();
    rows.extend(losses.map(|(what, head_m)| (format!("+ {what}"), long.write(head_m))));
    rows.push(("= total dynamic head".to_owned(), long.write(pump.head_m)));
    rows.push(("shut-off head".to_owned(), long.write(pump.shutoff_head_m)));
    let rest = [
        ("power", Quantity::Power, pump.power_w),
        ("suction level", Quantity::Height, pump.suction_level_m),
        (
            "suction head available (NPSHA)",
            Quantity::Head,
            pump.npsh_available_m,
        ),
        (
            "suction head required (NPSHR)",
            Quantity::Head,
            pump.npsh_required_m,
        ),
    ];
    for (what, quantity, value) in rest {
        if let Some(value) = value {
            rows.push((what.to_owned(), write(quantity, value, reader.system)));
        }
    }
    let (what, much): (Vec<String>, Vec<String>) = rows.into_iter().unzip();
    let rows = table(&[Column::words("", what), Column::numbers("", "", much)]);
    rows.into_iter().map(|line| format!("  {line}")).collect()
}
