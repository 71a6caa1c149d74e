//! The same layout gives the same numbers, to the last digit: again, after others, and on any thread.

use super::sound;
use crate::networks::read;
use fallwright::catalogue::Catalogue;
use fallwright::evaluate::{AsBuilt, Evaluation, evaluate, evaluate_by};
use fallwright::layout::Layout;
use fallwright::state::State;
use fallwright::states::Executor;
use fallwright::sweep;

fn whole(layout: &Layout) -> Evaluation {
    evaluate(layout, Catalogue::builtin(), &State::ALL)
}

/// As text, which tells apart what `==` does not: −0 from 0.
fn told(evaluation: &Evaluation) -> String {
    format!("{evaluation:?}")
}

#[test]
fn prop_again_and_on_another_thread_the_numbers_are_the_same() {
    let layouts = sound();
    // One after another on this thread, so that what is kept for later is there from the others.
    let here: Vec<String> = layouts.iter().map(|layout| told(&whole(layout))).collect();
    let again: Vec<String> = layouts
        .iter()
        .rev()
        .map(|layout| told(&whole(layout)))
        .collect();
    // Each on a thread of its own, all at once.
    let there: Vec<String> = std::thread::scope(|scope| {
        let threads: Vec<_> = layouts
            .iter()
            .map(|layout| scope.spawn(|| told(&whole(layout))))
            .collect();
        threads
            .into_iter()
            .map(|thread| thread.join().unwrap())
            .collect()
    });
    for (place, layout) in layouts.iter().enumerate() {
        assert!(
            here[place] == again[layouts.len() - 1 - place],
            "again: {}",
            layout.title
        );
        assert!(here[place] == there[place], "on a thread: {}", layout.title);
        assert!(
            here[place].len() > 100,
            "nothing was solved: {}",
            layout.title
        );
    }
}

/// Hands that take the last first, each on a thread of its own.
struct Backwards;

impl Executor for Backwards {
    fn share_out(&self, count: usize, work: &(dyn Fn(usize) + Sync)) {
        for place in (0..count).rev() {
            std::thread::scope(|scope| {
                scope.spawn(|| work(place));
            });
        }
    }
}

#[test]
fn prop_by_many_hands_and_in_another_order_the_numbers_are_the_same() {
    let mut layouts = sound();
    layouts.push(read("../../examples/glasshouse.ron"));
    for layout in layouts {
        let catalogue = Catalogue::builtin();
        let alone = told(&whole(&layout));
        let many: [&dyn Executor; 2] = [&sweep::Parallel::default(), &Backwards];
        for hands in many {
            let shared = evaluate_by(hands, &layout, catalogue, &State::ALL);
            assert!(told(&shared) == alone, "{}", layout.title);
        }
    }
}

#[test]
fn prop_faults_on_all_cores_are_those_on_one() {
    let layout = read("../../examples/two-beds.ron");
    let ground = AsBuilt::new(&layout, Catalogue::builtin()).unwrap();
    let many = sweep::faults(&ground).unwrap();
    let mut one: Vec<_> = ground
        .suspects()
        .iter()
        .map(|suspect| ground.fail(suspect).unwrap())
        .collect();
    fallwright::evaluate::worst_first(&mut one);
    assert!(!one.is_empty());
    assert!(format!("{many:?}") == format!("{one:?}"));
}
