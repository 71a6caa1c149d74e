//! Layouts drawn at random, and numbers that are none.

use super::{PAGE, assert_finite};
use crate::support::random;
use fallwright::catalogue::Catalogue;
use fallwright::draw::canvas::touch::Trust;
use fallwright::draw::grade::{GradeScene, PathProfile, fitting, grade, room};
use fallwright::evaluate::{Paths, grade as line_of, preview};

#[test]
fn wild_layouts_have_grade_lines_with_numbers_alone() {
    let mut drawn = 0;
    for seed in 0..60 {
        let layout = random::layout(seed, random::Flavour::Wild);
        let Some(report) = preview(&layout, Catalogue::builtin()) else {
            continue;
        };
        let paths = Paths::of(&layout, Some(&report));
        for run in &layout.runs {
            let path = paths.through(&run.id).unwrap();
            let line = line_of(&layout, Catalogue::builtin(), &report, &path);
            let Some(line) = line else {
                panic!("seed {seed}: {path:?} does not hold together");
            };
            let profile = PathProfile::of(&layout, &report, &line);
            let page = grade(&GradeScene {
                layout: &layout,
                profile: &profile,
                view: fitting(profile.bounds(), room(PAGE)),
                water: Some(&report),
                trust: Trust::Sure,
                units: layout.units,
                selected: &[],
                hovered: None,
            });
            assert_finite(&page.drawing);
            drawn += 1;
        }
    }
    assert!(drawn > 100, "{drawn}");
}
