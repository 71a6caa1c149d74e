//! Fittings: K from the catalogue, or as given.

use super::losses::Flow;
use super::pipe::Bore;
use super::problem::{Problem, UnknownEntry};
use super::{Item, ItemAt, ItemKind, LoweringContext};
use crate::catalogue::{Fitting, FittingPosition};
use crate::hydraulics::losses::fittings::{contraction_k, expansion_k, turbulent_factor};
use crate::hydraulics::losses::loss::Minor;
use crate::layout::{FittingUse, Id, Run};
use crate::network::Sense;

/// The loss of each entry of fittings, multiplied by its count.
pub(super) fn items(
    context: &LoweringContext<'_>,
    run: &Run,
    bore: &Bore,
    flow: Flow,
    out: &mut Vec<Problem>,
) -> Vec<Item> {
    let mut items = Vec::new();
    for used in run.fittings.iter().filter(|used| used.count > 0) {
        let kind = context.catalogue.fitting(&used.kind);
        let one = minor(context, (run, bore, flow.way), (used, kind), out);
        items.push(Item {
            what: words(kind.map_or(&used.kind, |kind| &kind.words), used.count),
            kind: ItemKind::Minor(Minor {
                k: one.k.max(0.0) * f64::from(used.count),
                bore_m: one.bore_m,
            }),
            at: match kind.map(|kind| kind.place) {
                Some(FittingPosition::Entrance) => ItemAt::Entrance,
                Some(FittingPosition::Exit) => ItemAt::Exit,
                _ => flow.place((used.at_m, used.near), ItemAt::Spread),
            },
        });
    }
    items
}

/// Whether an entered fitting replaces the plain entrance, or exit.
pub(super) fn any_at(context: &LoweringContext<'_>, run: &Run, place: FittingPosition) -> bool {
    run.fittings.iter().any(|used| {
        let kind = context.catalogue.fitting(&used.kind);
        used.count > 0 && kind.is_some_and(|kind| kind.place == place)
    })
}

fn words(kind: &str, count: u32) -> String {
    if count == 1 {
        kind.to_owned()
    } else {
        format!("{count} × {kind}")
    }
}

/// K of one fitting, with the bore that it refers to.
fn minor(
    context: &LoweringContext<'_>,
    (run, bore, way): (&Run, &Bore, Sense),
    (used, kind): (&FittingUse, Option<&Fitting>),
    out: &mut Vec<Problem>,
) -> Minor {
    let new_m = used.bore_m.unwrap_or(bore.new_m);
    let bore_m = context.worn_m(new_m);
    if let Some(k) = used.k {
        return Minor { k, bore_m };
    }
    let Some(kind) = kind else {
        out.push(unknown_kind(context, &run.id, used));
        return Minor { k: 0.0, bore_m };
    };
    if kind.is_step() {
        if used.bore_m.is_none() {
            out.push(no_second_bore(&run.id, kind));
        }
        return match way {
            Sense::Forward => step(bore.bore_m, bore_m),
            Sense::Backward => step(bore_m, bore.bore_m),
        };
    }
    // K depends on the size as bought, whatever has grown in it.
    let crane_ft = turbulent_factor(new_m);
    let darcy_f = bore.ordinary_factor(context, bore_m);
    let chosen = kind.k(new_m, crane_ft, darcy_f, used.choice.as_deref());
    if chosen.is_none() {
        out.push(unknown_choice(&run.id, used, kind));
    }
    let k = chosen.or_else(|| kind.k(new_m, crane_ft, darcy_f, None));
    Minor {
        k: k.unwrap_or(0.0),
        bore_m,
    }
}

/// A step from the run's bore to another, on the velocity in the smaller: Borda–Carnot where it widens.
fn step(from_m: f64, to_m: f64) -> Minor {
    Minor {
        k: if to_m > from_m {
            expansion_k(from_m, to_m)
        } else {
            contraction_k(from_m, to_m)
        },
        bore_m: from_m.min(to_m),
    }
}

fn unknown_kind(context: &LoweringContext<'_>, run: &Id, used: &FittingUse) -> Problem {
    let nearest = context.catalogue.nearest_fitting(&used.kind);
    Problem::NotInCatalogue {
        run: run.clone(),
        entry: UnknownEntry::Fitting(used.kind.clone()),
        nearest: nearest.map(str::to_owned),
    }
}

fn unknown_choice(run: &Id, used: &FittingUse, kind: &Fitting) -> Problem {
    Problem::NotInCatalogue {
        run: run.clone(),
        entry: UnknownEntry::Choice {
            fitting: kind.words.clone(),
            choice: used.choice.clone().unwrap_or_default(),
        },
        nearest: kind.choices.first().map(|choice| choice.source.clone()),
    }
}

fn no_second_bore(run: &Id, kind: &Fitting) -> Problem {
    Problem::NotInCatalogue {
        run: run.clone(),
        entry: UnknownEntry::SecondBore {
            fitting: kind.words.clone(),
        },
        nearest: None,
    }
}
