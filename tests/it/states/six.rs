//! The six states of whole layouts.

use super::layout;
use fallwright::catalogue::Catalogue;
use fallwright::evaluate::evaluate;
use fallwright::finding::State;

#[test]
fn look() {
    for name in ["glasshouse", "drain-too-high", "two-beds", "rain-cistern"] {
        let layout = crate::networks::read(&format!("../../examples/{name}.ron"));
        let start = std::time::Instant::now();
        for state in State::ALL {
            let begin = std::time::Instant::now();
            let found = evaluate(&layout, Catalogue::builtin(), &[state]);
            println!("{name} {state:?} {:?} unsolved {:?}", begin.elapsed(), found.unsolved);
            for report in &found.states {
                println!("  converged {} newton {} steps {} cycle {:?}", report.converged, report.newton_steps, report.time_steps, report.cycle);
                if let Some(course) = &report.course {
                    println!("  {} s still {} error {:e} back {:?}", course.time_s, course.still, course.volume_error_m3, course.back);
                    for told in &course.told { println!("    {:.2} {} {:?}", told.time_s, told.what.word(), told.about); }
                    for v in &course.vessels { println!("    {} {:.4} {:.4} {:.5} {:?}", v.id, v.lowest_m, v.highest_m, v.spilled_m3, v.first_spill_s); }
                    for s in &course.suctions { println!("    {s:?}"); }
                }
                for case in &report.blocked { println!("    {} first {:?} {:?} {:.3} starved {:?} to {}", case.run, case.first_spill_s, case.spills, case.spilled_m3, case.starved_s, case.time_s); }
            }
        }
        let begin = std::time::Instant::now();
        let found = evaluate(&layout, Catalogue::builtin(), &State::ALL);
        println!("{:?} {:?} {:#?}", start.elapsed(), begin.elapsed(), found.marks);
    }
    let _ = layout;
}
