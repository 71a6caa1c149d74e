//! Tests of counting the comments in a file, which a layout does not hold.

use super::{commit, session};
use fallwright::file::{self, noted_lines};
use tempfile::tempdir;

#[test]
fn lines_with_notes_are_counted_once_each() {
    for (text, wanted) in [
        ("", 0),
        ("(a: 1)", 0),
        ("// one\n(a: 1)", 1),
        ("// one\r\n// two\r\n\r\n(a: 1) // three", 3),
        ("/* one */ (a: /* still one */ 1) // still", 1),
        ("/* one\n two\n three */ // three\n(a: 1)", 3),
        ("(a: \"no // note\", b: \"no /* note\") // but here", 1),
        ("(a: r#\"no \" // note\"#)", 0),
        ("(a: \"two\nlines\" // one\n)", 1),
        ("/* a /* nested */ one */(b: 1)", 1),
        ("(a: 1 /* never shut\n\n", 3),
        ("(a: 1) //", 1),
        ("\u{feff}// one\n", 1),
        ("/* é\n*/\u{a0}// ü", 2),
    ] {
        assert_eq!(noted_lines(text), wanted, "{text:?}");
    }
}

#[test]
fn the_demo_has_as_many_as_its_lines_say() {
    let text = fallwright::session::DEMO;
    let wanted = text.lines().filter(|line| line.contains("//")).count();
    assert!(wanted > 20);
    assert_eq!(noted_lines(text), wanted);
}

#[test]
fn saving_over_a_file_drops_its_notes() {
    let folder = tempdir().unwrap();
    let path = folder.path().join("a.ron");
    std::fs::write(&path, fallwright::session::DEMO).unwrap();
    let count = noted_lines(fallwright::session::DEMO);
    assert_eq!(file::open(&path).unwrap().noted_lines, count);
    let mut session = session();
    assert_eq!(session.notes_lost(), 0, "the demo has no file");
    session.open(&path).unwrap();
    assert_eq!(session.notes_lost(), count);
    commit(&mut session, 1.2);
    assert_eq!(session.notes_lost(), count);
    session.save().unwrap();
    assert_eq!(session.notes_lost(), 0);
    session.open(&path).unwrap();
    assert_eq!(session.notes_lost(), 0);
}
