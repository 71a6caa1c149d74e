//! The grade line: what stands where, what is told, and that no layout breaks it.

mod odd;
mod told;

use fallwright::catalogue::Catalogue;
use fallwright::draw::canvas::touch::{Drawn, Trust};
use fallwright::draw::grade::{GradeScene, PathProfile, fitting, grade, room};
use fallwright::draw::page::shape::{Drawing, Mark, Rect, Shape, Text};
use fallwright::draw::page::text;
use fallwright::draw::page::view::View;
use fallwright::evaluate::{Paths, grade as line_of, preview};
use fallwright::layout::{Id, Layout};
use fallwright::states::report::StateReport;

/// The page of a window, points.
pub const PAGE: Rect = Rect {
    left: 0.0,
    top: 0.0,
    right: 1080.0,
    bottom: 600.0,
};

/// A layout that runs, and its profile along a path.
pub struct Case {
    pub layout: Layout,
    pub report: StateReport,
    pub profile: PathProfile,
}

impl Case {
    /// Along the way of the most water.
    pub fn of(layout: Layout) -> Case {
        Case::along(layout, &[])
    }

    pub fn along(layout: Layout, parts: &[&str]) -> Case {
        let report = preview(&layout, Catalogue::builtin()).unwrap();
        let parts: Vec<Id> = parts.iter().map(|id| Id::from(*id)).collect();
        let runs = Paths::of(&layout, Some(&report)).along(&parts).unwrap();
        let line = line_of(&layout, Catalogue::builtin(), &report, &runs).unwrap();
        let profile = PathProfile::of(&layout, &report, &line);
        Case {
            layout,
            report,
            profile,
        }
    }

    pub fn view(&self, page: Rect) -> View {
        fitting(self.profile.bounds(), room(page))
    }

    pub fn scene(&self, page: Rect) -> GradeScene<'_> {
        GradeScene {
            layout: &self.layout,
            profile: &self.profile,
            view: self.view(page),
            water: Some(&self.report),
            trust: Trust::Sure,
            units: self.layout.units,
            selected: &[],
            hovered: None,
        }
    }

    pub fn drawn(&self) -> Drawn {
        grade(&self.scene(PAGE))
    }
}

pub fn demo() -> Case {
    Case::of(fallwright::session::demo().unwrap())
}

/// All examples, along the way of the most water.
pub fn examples() -> Vec<Case> {
    let mut files: Vec<_> = std::fs::read_dir("examples")
        .unwrap()
        .map(|file| file.unwrap().path())
        .collect();
    files.sort();
    let layouts = files
        .iter()
        .filter(|file| file.extension().is_some_and(|end| end == "ron"));
    layouts
        .map(|file| Case::of(fallwright::file::read(file).unwrap()))
        .collect()
}

pub fn texts(drawing: &Drawing) -> Vec<(&Mark, &Text)> {
    let marks = drawing.marks.iter();
    marks
        .filter_map(|mark| match &mark.shape {
            Shape::Text(text) => Some((mark, text)),
            _ => None,
        })
        .collect()
}

pub fn words(drawing: &Drawing) -> Vec<String> {
    texts(drawing)
        .into_iter()
        .map(|(_, text)| text.words.clone())
        .collect()
}

/// No text over another, and none over the edge of the page.
pub fn assert_tidy(drawing: &Drawing, what: &str) {
    let page = Rect {
        left: 0.0,
        top: 0.0,
        right: drawing.width,
        bottom: drawing.height,
    };
    let all = texts(drawing);
    for (at, (_, one)) in all.iter().enumerate() {
        let rect = text::bounds(one);
        assert!(
            page.grown(0.5).holds_all(rect),
            "{what}: {} at {rect:?}",
            one.words
        );
        for (_, other) in &all[at + 1..] {
            let over = text::bounds(other).grown(-1.0).overlaps(rect.grown(-1.0));
            assert!(!over, "{what}: {} over {}", one.words, other.words);
        }
    }
}

/// Every number that is drawn is one.
pub fn assert_finite(drawing: &Drawing) {
    for mark in &drawing.marks {
        let points = match &mark.shape {
            Shape::Line { points, .. } => points.clone(),
            Shape::Area { corners, .. } => corners.clone(),
            Shape::Box { rect, .. } => rect.corners(),
            Shape::Circle { centre, .. } => vec![*centre],
            Shape::Text(text) => vec![text.at],
        };
        let sane = points
            .iter()
            .all(|point| point.x.is_finite() && point.y.is_finite());
        assert!(sane, "{:?}", mark.shape);
    }
}
