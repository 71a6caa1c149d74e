//! Many layouts on all cores, and what came of them.

use super::{features, judge};
use crate::support::random::{Flavour, layout};
use fallwright::catalogue::Catalogue;
use fallwright::evaluate::evaluate;
use fallwright::layout::Layout;
use fallwright::state::State;
use std::collections::BTreeMap;
use std::ops::Range;
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::sync::Mutex;
use std::sync::atomic::{AtomicU64, Ordering};
use std::time::Instant;

/// A layout that took longer than this is named as soon as it is done, s.
const SLOW_S: f64 = 10.0;

/// What came of one layout.
pub struct Outcome {
    pub seed: u64,
    /// Newton steps and time steps of each state.
    pub work: Vec<(State, usize, usize)>,
    pub faults: Vec<String>,
    pub features: Vec<&'static str>,
    /// States that came to no end of their own.
    pub endless: usize,
    /// What all states took, s.
    pub took_s: f64,
}

impl Outcome {
    fn newton_steps(&self) -> usize {
        self.work.iter().map(|(_, newton, _)| newton).sum()
    }
}

/// Every layout of `seeds` in the states that are wanted.
pub fn run(seeds: Range<u64>, wanted: &[State]) -> Vec<Outcome> {
    run_of(seeds, wanted, |seed| Some(layout(seed, Flavour::Wild)))
}

/// The same of layouts that `make` gives.
pub fn run_of(
    seeds: Range<u64>,
    wanted: &[State],
    make: impl Fn(u64) -> Option<Layout> + Sync,
) -> Vec<Outcome> {
    let next = AtomicU64::new(seeds.start);
    let outcomes = Mutex::new(Vec::new());
    let threads = std::thread::available_parallelism().map_or(1, |count| count.get());
    std::thread::scope(|scope| {
        for _ in 0..threads {
            scope.spawn(|| {
                loop {
                    let seed = next.fetch_add(1, Ordering::Relaxed);
                    if seed >= seeds.end {
                        break;
                    }
                    let started = Instant::now();
                    let Some(mut outcome) = one(seed, wanted, &make) else {
                        continue;
                    };
                    outcome.took_s = started.elapsed().as_secs_f64();
                    if outcome.took_s > SLOW_S {
                        println!("slow: seed {seed}, {:.1} s", outcome.took_s);
                    }
                    if let Some(fault) = outcome.faults.first() {
                        println!("seed {seed}: {fault}");
                    }
                    outcomes.lock().unwrap().push(outcome);
                }
            });
        }
    });
    let mut outcomes = outcomes.into_inner().unwrap();
    outcomes.sort_by_key(|outcome| outcome.seed);
    outcomes
}

fn one(seed: u64, wanted: &[State], make: impl Fn(u64) -> Option<Layout>) -> Option<Outcome> {
    let drawn = make(seed)?;
    let solved = catch_unwind(AssertUnwindSafe(|| {
        let wrong = drawn.faults();
        assert!(wrong.is_empty(), "no layout: {:?}", wrong.first());
        let found = evaluate(&drawn, Catalogue::builtin(), wanted);
        let states = found.states.iter();
        Outcome {
            seed,
            work: states
                .map(|one| (one.state, one.newton_steps, one.time_steps))
                .collect(),
            took_s: 0.0,
            endless: found.states.iter().filter(|one| !one.converged).count(),
            faults: judge::faults(&drawn, &found),
            features: features::of(&drawn, &found),
        }
    }));
    Some(solved.unwrap_or_else(|_| Outcome {
        seed,
        work: Vec::new(),
        faults: vec!["panic".to_owned()],
        features: Vec::new(),
        endless: 0,
        took_s: 0.0,
    }))
}

/// Prints work by state, the most work, and the share of every feature.
pub fn tell(outcomes: &[Outcome]) {
    for state in State::ALL {
        let of_state = |which: fn(&(State, usize, usize)) -> usize| {
            let all = outcomes.iter().flat_map(|one| &one.work);
            let mut steps: Vec<usize> = all.filter(|one| one.0 == state).map(which).collect();
            steps.sort_unstable();
            steps
        };
        let (newton, time) = (of_state(|one| one.1), of_state(|one| one.2));
        if !newton.is_empty() {
            println!(
                "{}: Newton steps {}; time steps {}",
                state.word(),
                spread(&newton),
                spread(&time)
            );
        }
    }
    let mut most: Vec<&Outcome> = outcomes.iter().collect();
    most.sort_by_key(|one| std::cmp::Reverse(one.newton_steps()));
    for one in most.iter().take(10) {
        println!(
            "most work: seed {}, {} Newton steps",
            one.seed,
            one.newton_steps()
        );
    }
    let all_s: f64 = outcomes.iter().map(|one| one.took_s).sum();
    let slowest = outcomes.iter().max_by(|a, b| a.took_s.total_cmp(&b.took_s));
    if let Some(slowest) = slowest {
        println!(
            "{:.3} s a layout; slowest: seed {}, {:.1} s",
            all_s / outcomes.len() as f64,
            slowest.seed,
            slowest.took_s
        );
    }
    let endless: usize = outcomes.iter().map(|one| one.endless).sum();
    println!("{endless} states came to no end of their own, and said so");
    for (name, share) in shares(outcomes) {
        println!("{:5.1} % {name}", 100.0 * share);
    }
}

fn spread(sorted: &[usize]) -> String {
    let mean = sorted.iter().sum::<usize>() as f64 / sorted.len() as f64;
    let at = |share: f64| sorted[((sorted.len() - 1) as f64 * share) as usize];
    format!("mean {mean:.1}, 99 % {}, worst {}", at(0.99), at(1.0))
}

/// Share of the layouts that have each feature.
pub fn shares(outcomes: &[Outcome]) -> BTreeMap<&'static str, f64> {
    let mut counts: BTreeMap<&'static str, f64> = features::LEAST_SHARES
        .iter()
        .map(|(name, _)| (*name, 0.0))
        .collect();
    for feature in outcomes.iter().flat_map(|one| &one.features) {
        *counts.entry(feature).or_default() += 1.0 / outcomes.len() as f64;
    }
    counts
}
