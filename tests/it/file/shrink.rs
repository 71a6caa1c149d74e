//! Pictures made smaller.

use fallwright::file::Raster;

fn raster(width: usize, dots: &[[u8; 4]]) -> Raster {
    Raster {
        width,
        height: dots.len() / width,
        rgba: dots.concat(),
    }
}

#[test]
fn a_small_picture_stays_as_it_is() {
    let dots = [[1, 2, 3, 4], [5, 6, 7, 8]];
    let before = raster(2, &dots);
    assert_eq!(before.clone().at_most(2), before);
    assert_eq!(before.clone().at_most(3000), before);
}

/// By hand: squares of two dots a side, the last row and column of what is left.
#[test]
fn each_dot_is_the_mean_of_a_square() {
    let opaque = |grey: u8| [grey, 0, 255, 255];
    let dots = [10, 20, 90, 30, 40, 70, 50, 60, 110].map(opaque);
    let small = raster(3, &dots).at_most(2);
    assert_eq!((small.width, small.height), (2, 2));
    let wanted = [25, 80, 55, 110].map(opaque);
    assert_eq!(small.rgba, wanted.concat());
}

/// What cannot be seen colours nothing.
#[test]
fn clear_dots_do_not_colour_their_neighbours() {
    let dots = [[200, 100, 0, 255], [0, 0, 0, 0]];
    let small = raster(2, &dots).at_most(1);
    assert_eq!(small.rgba, [200, 100, 0, 127]);
    let clear = raster(2, &[[9, 9, 9, 0]; 2]).at_most(0);
    assert_eq!(clear.rgba, [0, 0, 0, 0]);
}
