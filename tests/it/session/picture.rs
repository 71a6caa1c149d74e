//! Tests of the site picture: read by a thread, reported where it is missing, and its path relative to the layout file.

use super::session;
use fallwright::edit::{lay_picture, take_picture_away};
use fallwright::file;
use fallwright::geometry::PlanPoint;
use fallwright::layout::Underlay;
use fallwright::session::{MOST_SIDE, Session, Site, SitePicture};
use image::{Rgba, RgbaImage};
use std::path::Path;
use tempfile::tempdir;

/// A picture of one colour.
fn save(path: &Path, (width, height): (u32, u32), colour: [u8; 4]) {
    RgbaImage::from_pixel(width, height, Rgba(colour))
        .save(path)
        .unwrap();
}

fn lay(session: &mut Session, path: &Path) {
    let picture = Underlay {
        file: path.display().to_string(),
        at: PlanPoint::default(),
        metres_per_pixel: 0.01,
        turned_deg: 0.0,
        strength: 0.5,
    };
    let edit = lay_picture(session.layout(), picture).unwrap();
    session.commit(edit).unwrap();
    session.settle();
}

fn here(session: &Session) -> SitePicture {
    match session.site_picture() {
        Site::Here(picture) => picture.clone(),
        other => panic!("{other:?}"),
    }
}

fn why(session: &Session) -> String {
    match session.site_picture() {
        Site::Missing(why) => why.clone(),
        other => panic!("{other:?}"),
    }
}

#[test]
fn a_picture_is_read_behind_and_forgotten_when_it_is_taken_away() {
    let folder = tempdir().unwrap();
    let path = folder.path().join("site.png");
    save(&path, (6, 4), [10, 20, 30, 255]);
    let mut session = session();
    assert_eq!(*session.site_picture(), Site::Nothing);
    lay(&mut session, &path);
    let picture = here(&session);
    assert_eq!((picture.width, picture.height), (6, 4));
    assert_eq!(picture.raster.rgba[..4], [10, 20, 30, 255]);
    let edit = take_picture_away(session.layout()).unwrap();
    session.commit(edit).unwrap();
    session.settle();
    assert_eq!(*session.site_picture(), Site::Nothing);
    session.undo();
    session.settle();
    assert_eq!(here(&session).raster, picture.raster);
}

#[test]
fn a_picture_that_is_missing_or_broken_is_told_and_nothing_else_fails() {
    let folder = tempdir().unwrap();
    let mut session = session();
    lay(&mut session, &folder.path().join("not there.png"));
    let words = why(&session);
    assert!(
        words.contains("Cannot show") && words.contains("not there.png"),
        "{words}"
    );
    assert!(session.shown().running.is_some(), "the levels are there");
    let broken = folder.path().join("broken.png");
    std::fs::write(&broken, "no picture at all").unwrap();
    lay(&mut session, &broken);
    assert!(why(&session).contains(".png or .jpg"), "{}", why(&session));
    let words = why(&session);
    assert!(words.ends_with('.') && !words.ends_with(".."), "{words}");
}

#[test]
fn a_large_picture_is_kept_smaller_and_its_size_remembered() {
    let folder = tempdir().unwrap();
    let path = folder.path().join("wide.png");
    let width = u32::try_from(MOST_SIDE).unwrap() + 3;
    save(&path, (width, 7), [200, 100, 50, 255]);
    let mut session = session();
    lay(&mut session, &path);
    let picture = here(&session);
    assert_eq!((picture.width, picture.height), (MOST_SIDE + 3, 7));
    assert_eq!(picture.raster.width, (MOST_SIDE + 3).div_ceil(2));
    assert_eq!(picture.raster.height, 4);
    let dots = picture.raster.rgba.chunks_exact(4);
    assert!(dots.clone().all(|dot| dot == [200, 100, 50, 255]));
    assert_eq!(dots.len(), picture.raster.width * picture.raster.height);
}

/// The path of the picture as the file has it.
fn written(path: &Path) -> String {
    file::read(path).unwrap().underlay.unwrap().file
}

#[test]
fn a_file_calls_its_picture_from_where_it_lies() {
    let root = tempdir().unwrap();
    let house = root.path().join("house");
    let other = root.path().join("elsewhere").join("deep");
    for folder in [house.join("pictures"), other.clone()] {
        std::fs::create_dir_all(folder).unwrap();
    }
    let picture = house.join("pictures").join("site.png");
    save(&picture, (2, 2), [1, 2, 3, 255]);
    let mut first = session();
    lay(&mut first, &picture);
    let (here_path, there_path) = (house.join("a.ron"), other.join("b.ron"));
    first.save_as(&here_path).unwrap();
    assert_eq!(written(&here_path), "pictures/site.png");
    first.save_as(&there_path).unwrap();
    assert_eq!(written(&there_path), "../../house/pictures/site.png");
    assert!(!first.unsaved());
    // Saving is no edit: what was done before can still be taken back.
    first.undo();
    assert!(first.layout().underlay.is_none());
    for path in [here_path, there_path] {
        let mut second = session();
        second.open(&path).unwrap();
        second.settle();
        assert!(!second.unsaved());
        assert_eq!(here(&second).raster.rgba[..3], [1, 2, 3]);
        let before = written(&path);
        second.save().unwrap();
        assert_eq!(written(&path), before);
    }
}

#[test]
fn a_picture_in_another_tree_is_called_from_the_root() {
    let (one, two) = (tempdir().unwrap(), tempdir().unwrap());
    let mut deep = two.path().to_path_buf();
    for _ in 0..5 {
        deep.push("deeper");
    }
    std::fs::create_dir_all(&deep).unwrap();
    let picture = one.path().join("site.png");
    save(&picture, (2, 2), [1, 2, 3, 255]);
    let mut session = session();
    lay(&mut session, &picture);
    let path = deep.join("a.ron");
    session.save_as(&path).unwrap();
    assert!(Path::new(&written(&path)).is_absolute());
    session.open(&path).unwrap();
    session.settle();
    assert_eq!(here(&session).width, 2);
}

#[test]
fn a_picture_that_is_drawn_anew_is_read_again() {
    let folder = tempdir().unwrap();
    let path = folder.path().join("site.png");
    save(&path, (2, 2), [1, 2, 3, 255]);
    let mut session = session();
    lay(&mut session, &path);
    save(&path, (9, 9), [4, 5, 6, 255]);
    // It is asked for now and then: at the latest after some frames.
    let mut frames = 0;
    while here(&session).width != 9 && frames < 400 {
        std::thread::sleep(std::time::Duration::from_millis(20));
        session.settle();
        frames += 1;
    }
    assert_eq!(here(&session).raster.rgba[..3], [4, 5, 6]);
}
