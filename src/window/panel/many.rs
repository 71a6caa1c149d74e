//! The panel for several selected parts: commands for all of them.

use super::{Facts, built, rows};
use crate::catalogue::Catalogue;
use crate::edit;
use crate::layout::{Id, Pipe};
use crate::window::action::Action;
use crate::window::commands::Command;
use egui::Ui;

pub(super) fn show(ui: &mut Ui, facts: &Facts<'_>, parts: &[Id], actions: &mut Vec<Action>) {
    let layout = facts.seen;
    let vessels = parts
        .iter()
        .filter(|id| layout.vessel(id).is_some())
        .count();
    let runs: Vec<Id> = parts
        .iter()
        .filter(|id| layout.run(id).is_some())
        .cloned()
        .collect();
    let others = parts.len() - vessels - runs.len();
    let mut kinds = Vec::new();
    for (count, one, many) in [
        (vessels, "vessel", "vessels"),
        (runs.len(), "run", "runs"),
        (others, "other part", "other parts"),
    ] {
        match count {
            0 => {}
            1 => kinds.push(format!("1 {one}")),
            more => kinds.push(format!("{more} {many}")),
        }
    }
    rows::heading(ui, &format!("{} parts", parts.len()), &kinds.join(", "));
    if !runs.is_empty() {
        size(ui, facts, &runs, actions);
    }
    let ends = vessels + others;
    if ends == 2 {
        rows::group(ui, "Connect");
        built::acts(ui, &[Command::Join], actions);
    } else if ends > 2 {
        rows::group(ui, "Connect");
        built::acts(ui, &[Command::Feed], actions);
    }
    if ends > 1 {
        rows::group(ui, "Align to the first");
        let lines = [
            Command::LineUp,
            Command::LineAcross,
            Command::FloorsAlike,
            Command::RimsAlike,
        ];
        built::acts(ui, &lines, actions);
    }
    rows::group(ui, "All selected");
    let mut acts = vec![
        Command::Duplicate,
        Command::Row,
        Command::TurnLeft,
        Command::TurnRight,
    ];
    if vessels > 0 {
        acts.push(Command::Blocks);
    }
    if ends == 0 {
        acts.clear();
    }
    acts.extend([
        Command::Lock,
        Command::Unlock,
        Command::Copy,
        Command::Remove,
    ]);
    built::acts(ui, &acts, actions);
}

/// Shows one choice of pipe for all runs.
fn size(ui: &mut Ui, facts: &Facts<'_>, runs: &[Id], actions: &mut Vec<Action>) {
    rows::group(ui, "Pipe for all runs");
    let catalogue = Catalogue::builtin();
    let bought = runs
        .iter()
        .filter_map(|id| match &facts.seen.run(id)?.pipe {
            Pipe::Bought { family, size, .. } => Some((family.clone(), size.clone())),
            _ => None,
        });
    let all: Vec<(String, String)> = bought.collect();
    let same = all
        .first()
        .filter(|first| all.len() == runs.len() && all.iter().all(|one| one == *first));
    let (family, size) = same.cloned().unwrap_or_default();
    let families: Vec<(String, String)> = catalogue
        .families()
        .map(|family| (family.key.clone(), family.words.clone()))
        .collect();
    let label = ("Pipe", "Pipe family: material, standard and wall");
    let known = all.first().map(|one| one.0.clone()).unwrap_or_default();
    let shown = if family.is_empty() {
        known.clone()
    } else {
        family.clone()
    };
    if let Some(key) = super::choice::choice(ui, label, &shown, &families)
        && let Some(chosen) = catalogue.family(&key)
    {
        let old = catalogue
            .pipe(&shown, &size)
            .map_or(0.05, |pipe| pipe.bore_m());
        if let Some(size) = super::pipe::nearest(chosen, old) {
            actions.push(super::run::made(
                facts,
                edit::pipe_of_many(facts.layout, runs, &key, &size),
            ));
        }
    }
    let sizes: Vec<(String, String)> = catalogue
        .family(&shown)
        .into_iter()
        .flat_map(|family| &family.sizes)
        .map(|size| (size.size.clone(), size.size.clone()))
        .collect();
    let label = (
        "Size",
        "Nominal size of all runs; the family gives the bore",
    );
    if let Some(size) = super::choice::choice(ui, label, &size, &sizes) {
        actions.push(super::run::made(
            facts,
            edit::pipe_of_many(facts.layout, runs, &shown, &size),
        ));
    }
}
