//! A layout of as many parts as a bench wants.

use fallwright::file::{self, Format};
use fallwright::layout::Layout;
use std::fmt::Write;

/// `side` terraces of `side` vessels, each vessel draining to two of the next terrace: three times as many parts
/// as vessels. In the plan they stand in squares, and their runs go along one side of a square and then the other.
pub fn terraces(side: usize) -> Layout {
    let (mut vessels, mut runs) = (String::new(), String::new());
    let all = side * side;
    let floor_m = |index: usize| (side - index / side) as f64;
    let place = |index: usize| {
        let (row, column) = ((index / side) as f64, (index % side) as f64);
        (
            0.7 + column * 1.4,
            0.7 - row * 1.4,
            0.7 + column * 1.4 + row * 0.1,
        )
    };
    for index in 0..all {
        let floor = floor_m(index);
        let (x, y, along) = place(index);
        write!(
            vessels,
            "(id: \"v{index}\", name: \"Bed {index}\", shape: round(diameter_m: 1.0), floor_m: {floor:?}, \
             rim_m: {:?}, fill_m: {:?}, place: (x_m: {x:?}, y_m: {y:?}, along_m: {along:?})),",
            floor + 0.6,
            floor + 0.3
        )
        .expect("text");
        for way in 0..2 {
            let to = (index + side + way * 3) % all;
            let lip_m = floor_m(to) + 0.5;
            write!(
                runs,
                "(id: \"r{index}-{way}\", from: (at: \"v{index}\", opening: upstand(crest_m: {:?})), \
                 to: (at: \"v{to}\", opening: mouth(lip_m: {lip_m:?})), pipe: own(bore_m: 0.05), length_m: 2.0, \
                 route: [(x_m: {:?}, y_m: {y:?}, z_m: {lip_m:?})]),",
                floor + 0.4,
                place(to).0
            )
            .expect("text");
        }
    }
    let text =
        format!("(fallwright: 1, title: \"Terraces\", vessels: [{vessels}], runs: [{runs}])");
    file::parse(&text, Format::Ron).expect("the terraces read")
}
