//! The view of a file as a few lines of text: which drawings are shown, and their pan and zoom.

use crate::draw::page::shape::Rect;
use crate::draw::page::view::{View, at};
use crate::editor::ToolState;
use crate::window::canvas::Views;

/// Valid points per metre, a wider range than the controls allow.
const SCALES: std::ops::RangeInclusive<f64> = 1e-3..=1e6;
/// Points and metres beyond this are invalid.
const MOST: f64 = 1e7;

/// Writes the view as text.
pub(super) fn text(hand: &ToolState, (views, shelf): (Views, bool)) -> String {
    let mut text = format!("views {}\n", word(views));
    text.push_str(if shelf {
        "shelf shown\n"
    } else {
        "shelf hidden\n"
    });
    for (key, look) in [("section", &hand.look), ("plan", &hand.plan)] {
        if let Some(view) = look.moved_view() {
            let numbers = numbers(view).map(|number| number.to_string());
            text.push_str(&format!("{key} {}\n", numbers.join(" ")));
        }
    }
    text
}

/// Restores a view; lines that cannot be read are ignored.
pub(super) fn restore(text: &str, hand: &mut ToolState, (views, shelf): (&mut Views, &mut bool)) {
    for line in text.lines() {
        let Some((key, value)) = line.split_once(' ') else {
            continue;
        };
        match (key, value) {
            ("shelf", "shown") => *shelf = true,
            ("shelf", "hidden") => *shelf = false,
            ("views", _) => *views = of_word(value).unwrap_or(*views),
            ("section", _) => hand.look.lie_as(view(value)),
            ("plan", _) => hand.plan.lie_as(view(value)),
            _ => {}
        }
    }
}

const WORDS: [(Views, &str); 4] = [
    (Views::Section, "section"),
    (Views::Plan, "plan"),
    (Views::Both, "both"),
    (Views::Grade, "grade"),
];

fn word(views: Views) -> &'static str {
    let found = WORDS.into_iter().find(|(one, _)| *one == views);
    found.map_or("section", |(_, word)| word)
}

fn of_word(word: &str) -> Option<Views> {
    let found = WORDS.into_iter().find(|(_, one)| *one == word);
    found.map(|(views, _)| views)
}

fn numbers(view: View) -> [f64; 8] {
    let (page, corner) = (view.page, view.corner);
    [
        page.left,
        page.top,
        page.right,
        page.bottom,
        corner.along_m,
        corner.z_m,
        view.points_per_metre_along,
        view.points_per_metre_up,
    ]
}

/// Parses a view; none where the numbers give no valid one.
fn view(text: &str) -> Option<View> {
    let numbers: Vec<f64> = text.split(' ').map_while(|one| one.parse().ok()).collect();
    let [left, top, right, bottom, along_m, z_m, along, up] = numbers.as_slice() else {
        return None;
    };
    let sane = numbers.iter().all(|number| number.abs() < MOST);
    let scales = SCALES.contains(along) && SCALES.contains(up);
    (sane && scales && left < right && top < bottom).then(|| View {
        page: Rect {
            left: *left,
            top: *top,
            right: *right,
            bottom: *bottom,
        },
        corner: at(*along_m, *z_m),
        points_per_metre_along: *along,
        points_per_metre_up: *up,
    })
}
