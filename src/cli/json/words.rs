//! The words of files and results, and the keys of the catalogue, as JSON.

use super::number;
use crate::catalogue::{Actuation, Catalogue, Choice, Family, FittingPosition, Size};
use crate::cli::vocabulary::{List, codes, file, results};
use serde_json::{Map, Value, json};

/// Every word with its meaning, as JSON.
pub fn words_json(catalogue: &Catalogue) -> Value {
    let families: Vec<Value> = catalogue.families.iter().map(family).collect();
    let fittings = catalogue.fittings.iter().map(|one| {
        json!({
            "kind": one.key,
            "meaning": one.words,
            "place": place(one.place),
            "choices": sources(&one.choices),
        })
    });
    let valves = catalogue.valves.iter().map(|one| {
        json!({
            "kind": one.key,
            "meaning": one.words,
            "check_valve": one.acts == Actuation::Check,
            "choices": sources(&one.open),
        })
    });
    json!({
        "format": super::FORMAT,
        "file": lists(&file()),
        "families": families,
        "fittings": fittings.collect::<Vec<_>>(),
        "valves": valves.collect::<Vec<_>>(),
        "results": lists(&results()),
        "codes": list(&codes()),
    })
}

fn lists(all: &[List]) -> Map<String, Value> {
    let all = all.iter();
    all.map(|one| (one.key.to_owned(), list(one))).collect()
}

fn list(one: &List) -> Value {
    let words = one.words.iter();
    let words = words.map(|word| json!({ "word": word.word, "meaning": word.meaning }));
    words.collect()
}

fn family(family: &Family) -> Value {
    let size = |size: &Size| {
        json!({
            "size": size.size,
            "od_m": number(size.od_m),
            "bore_m": number(size.bore_m),
        })
    };
    json!({
        "family": family.key,
        "meaning": family.words,
        "material": family.material,
        "standard": family.standard,
        "roughness_m": number(family.roughness_m),
        "hazen_williams_c": number(family.hazen_williams_c),
        "sizes": family.sizes.iter().map(size).collect::<Vec<_>>(),
    })
}

/// The position on a run that a fitting belongs at.
fn place(place: FittingPosition) -> &'static str {
    match place {
        FittingPosition::Along => "along",
        FittingPosition::Entrance => "entrance",
        FittingPosition::Exit => "exit",
    }
}

/// The values of `choice` that a fitting accepts.
fn sources(choices: &[Choice]) -> Vec<&str> {
    choices.iter().map(|one| one.source.as_str()).collect()
}
