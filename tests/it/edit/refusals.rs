//! What no edit does: spoil a layout, or overwrite what it was not built on.

use super::glasshouse;
use crate::support::fields::{number, setting};
use fallwright::edit::{Edit, EditStep, Part, crest, pipe, rename, title, units, valve};
use fallwright::finding::Sentence;
use fallwright::layout::RunEnd;
use fallwright::layout::{Layout, Run};
use fallwright::units::UnitSystem;

fn between(before: &Layout, change: impl FnOnce(&mut Layout)) -> Edit {
    let mut after = before.clone();
    change(&mut after);
    Edit::between(Sentence::default(), before, &after)
}

#[test]
fn an_edit_is_made_only_on_what_it_was_built_on() {
    let layout = glasshouse();
    let edit = crest(&layout, &"step-3".into(), RunEnd::From, 1.2).unwrap();
    let moved = edit.apply(&layout).unwrap();
    let refused = edit.apply(&moved).unwrap_err();
    assert_eq!(refused.part, Some("step-3".into()));
    assert!(refused.what.contains("has changed since"), "{refused}");
    assert!(edit.inverse().apply(&layout).is_err());
    let us = units(&layout, UnitSystem::Us).unwrap();
    let refused = us.apply(&us.apply(&layout).unwrap()).unwrap_err();
    assert_eq!(refused.part, None);
    assert!(refused.what.contains("the settings"), "{refused}");
    assert!(
        us.apply(&moved).is_ok(),
        "what it does not touch may differ"
    );
}

#[test]
fn a_part_is_added_and_taken_away_only_at_its_place() {
    let layout = glasshouse();
    let run: Run = layout.runs[3].clone();
    let step = |place, before: Option<Run>, after: Option<Run>| Edit {
        name: Sentence::default(),
        steps: vec![EditStep::Part {
            place,
            before: before.map(Part::from),
            after: after.map(Part::from),
        }],
    };
    let gone = step(3, Some(run.clone()), None).apply(&layout).unwrap();
    assert!(step(2, Some(run.clone()), None).apply(&layout).is_err());
    assert!(step(99, Some(run.clone()), None).apply(&layout).is_err());
    assert_eq!(
        step(3, None, Some(run.clone())).apply(&gone),
        Ok(layout.clone())
    );
    let end = gone.runs.len();
    assert!(step(end, None, Some(run.clone())).apply(&gone).is_ok());
    assert!(step(end + 1, None, Some(run.clone())).apply(&gone).is_err());
    let mut other = run.clone();
    other.id = "new-id".into();
    let refused = step(3, Some(run), Some(other)).apply(&layout).unwrap_err();
    assert_eq!(refused.what, "a change must keep the kind and id of a part");
    assert_eq!(step(7, None, None).apply(&layout), Ok(layout.clone()));
}

/// What spoils a layout, and the words of its refusal.
type Spoil = (fn(&mut Layout), &'static str);

#[test]
fn nothing_is_made_that_could_not_be_opened_again() {
    let layout = glasshouse();
    let spoils: [Spoil; 5] = [
        (
            |layout| drop(layout.vessels.remove(3)),
            "which is no vessel, joint or fixed level",
        ),
        (
            |layout| layout.runs.push(layout.runs[0].clone()),
            "is used twice",
        ),
        (
            |layout| layout.vessels[2].fill_m = f64::NAN,
            "the fill level is not a finite number",
        ),
        (
            |layout| layout.title = "x".repeat(2000),
            "the title is 2000 characters long",
        ),
        (
            |layout| layout.runs[2].to.opening = layout.runs[0].to.opening.clone(),
            "has an opening at the joint",
        ),
    ];
    for (spoil, words) in spoils {
        let refused = between(&layout, spoil).apply(&layout).unwrap_err();
        assert!(refused.what.contains(words), "{refused}");
        assert!(!refused.cure.is_empty());
    }
}

#[test]
fn intents_refuse_what_they_cannot_do() {
    let layout = glasshouse();
    let gone = || "gone".into();
    let lift = || "lift".into();
    let nan = f64::NAN;
    let long = "x".repeat(2000);
    let all = [
        (crest(&layout, &gone(), RunEnd::From, 1.0), "no such run"),
        (
            crest(&layout, &"cress-3".into(), RunEnd::From, 1.0),
            "no such run",
        ),
        (
            crest(&layout, &"feed-perch".into(), RunEnd::To, 1.0),
            "no opening at this end",
        ),
        (
            crest(&layout, &lift(), RunEnd::To, nan),
            "not a finite number",
        ),
        (crest(&layout, &lift(), RunEnd::To, 1e6), "the lip of Lift"),
        (number(&layout, &gone(), "rim_m", 1.0), "no such part"),
        (rename(&layout, &gone(), "A"), "no such part"),
        (
            rename(&layout, &lift(), &long),
            "the name is 2000 characters long",
        ),
        (title(&layout, &long), "the title is 2000 characters long"),
        (
            setting(&layout, "water.depth_m", 1.0),
            "no number `water.depth_m`",
        ),
        (setting(&layout, "vessels.0.rim_m", 1.0), "no number"),
        (
            setting(&layout, "water.temperature_c", 60.0),
            "the temperature of the water is 60.0 °C",
        ),
        (valve(&layout, &gone(), 0, 1.0), "no such valve"),
        (valve(&layout, &lift(), 3, 1.0), "no such valve"),
        (
            valve(&layout, &lift(), 0, 1.5),
            "the opening of valve 1 is 1.5",
        ),
        (pipe(&layout, &gone(), "a", "b"), "no such run"),
        (pipe(&layout, &lift(), &long, "b"), "2000 characters long"),
    ];
    for (outcome, words) in all {
        let refused = outcome.unwrap_err();
        let said = refused.read(&|id| layout.name_of(id).to_owned(), layout.units);
        // A sentence begins with a capital, a name keeps its own letters.
        let begun = said.to_lowercase().contains(&words.to_lowercase());
        let named = begun || words == "the lip of Lift" && said.contains("(Lift)");
        assert!(named, "{said}: {words}");
        assert!(!refused.cure.ends_with('.') && !refused.what.ends_with('.'));
    }
}
