//! `draw`: one file or one clear line.

use super::program::{call, refused, text};
use std::path::{Path, PathBuf};

fn demo() -> String {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    root.join("examples/glasshouse.ron").display().to_string()
}

/// The words of a call that draws the demo into `out`, and `more`.
fn words(out: &Path, more: &[&str]) -> Vec<String> {
    let out = out.display().to_string();
    let demo = demo();
    let words = ["draw", &demo, "--view", "section", "--out", &out];
    words
        .iter()
        .chain(more)
        .map(|word| (*word).to_owned())
        .collect()
}

fn drawn(out: &Path, more: &[&str]) -> Vec<u8> {
    let words = words(out, more);
    let words: Vec<&str> = words.iter().map(String::as_str).collect();
    let output = call(&words);
    assert_eq!(output.status.code(), Some(0), "{}", text(&output.stderr));
    assert!(output.stdout.is_empty() && output.stderr.is_empty());
    std::fs::read(out).expect("the drawing")
}

fn not_drawn(out: &Path, more: &[&str]) -> String {
    let words = words(out, more);
    let words: Vec<&str> = words.iter().map(String::as_str).collect();
    refused(&words)
}

fn folder() -> (tempfile::TempDir, impl Fn(&str) -> PathBuf) {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().to_path_buf();
    (folder, move |name: &str| path.join(name))
}

#[test]
fn the_name_says_what_is_written() {
    let (folder, at) = folder();
    for (name, start) in [
        ("a.svg", &b"<?xml"[..]),
        ("B.SVG", b"<?xml"),
        ("a.png", b"\x89PNG\r\n"),
        ("a.Pdf", b"%PDF-"),
    ] {
        assert!(drawn(&at(name), &[]).starts_with(start), "{name}");
    }
    let left = std::fs::read_dir(folder.path()).expect("a folder").count();
    assert_eq!(left, 4, "nothing else is left behind");
}

#[test]
fn the_plan_is_drawn_too() {
    let (_folder, at) = folder();
    let out = at("plan.svg").display().to_string();
    let output = call(&["draw", &demo(), "--view", "plan", "--out", &out]);
    assert_eq!(output.status.code(), Some(0), "{}", text(&output.stderr));
    let plan = std::fs::read_to_string(&out).expect("the drawing");
    assert!(plan.contains("<title>Plan of Perch and watercress glasshouse</title>"));
    assert!(plan.contains("Seen from above"));
    let section = String::from_utf8(drawn(&at("a.svg"), &[])).expect("UTF-8");
    assert!(section.contains("<title>Section of"));
}

#[test]
fn units_colours_and_size_are_as_asked() {
    let (_folder, at) = folder();
    let svg = |more: &[&str]| String::from_utf8(drawn(&at("a.svg"), more)).expect("UTF-8");
    let usual = svg(&[]);
    assert!(usual.contains("width=\"1600\" height=\"900\""));
    assert!(usual.contains(" m³/h") && !usual.contains("US gpm"));
    assert_eq!(
        usual,
        svg(&["--theme", "paper", "--units", "metric", "--width", "1600"])
    );
    let other = svg(&["--theme", "dark", "--units", "us", "--width", "800"]);
    assert!(other.contains("width=\"800\" height=\"450\""));
    assert!(other.contains("US gpm") && !other.contains(" m³/h"));
    assert!(other.contains("fill=\"#1b1f23\""), "the dark page");
}

#[test]
fn a_picture_can_have_more_pixels() {
    let (_folder, at) = folder();
    let size = |more: &[&str]| {
        let png = drawn(&at("a.png"), more);
        let side = |from: usize| u32::from_be_bytes(png[from..from + 4].try_into().expect("4"));
        (side(16), side(20))
    };
    assert_eq!(size(&[]), (1600, 900));
    assert_eq!(size(&["--width", "800", "--scale", "2.5"]), (2000, 1125));
}

#[test]
fn names_that_say_nothing_are_refused() {
    let (_folder, at) = folder();
    for (name, told) in [
        ("a.jpeg", "as .jpeg"),
        ("a", "does not say"),
        (".svg", "does not say"),
        ("a.svg.bak", "as .bak"),
    ] {
        let line = not_drawn(&at(name), &[]);
        assert!(line.contains(told), "{line}");
        assert!(
            line.contains("End the name in .svg, .png or .pdf."),
            "{line}"
        );
        assert!(!at(name).exists());
    }
}

#[test]
fn a_place_that_cannot_be_written_is_told() {
    let (_folder, at) = folder();
    let line = not_drawn(&at("none/a.svg"), &[]);
    assert!(
        line.contains("no such folder") && line.contains("none/a.svg"),
        "{line}"
    );
    std::fs::create_dir(at("b.svg")).expect("a folder");
    let line = not_drawn(&at("b.svg"), &[]);
    assert!(line.contains("This is a folder"), "{line}");
    let line = refused(&[
        "draw",
        "gone/away.ron",
        "--view",
        "section",
        "--out",
        "a.svg",
    ]);
    assert!(line.contains("(gone/away.ron"), "{line}");
}

#[test]
fn what_cannot_be_drawn_leaves_the_old_file() {
    let (_folder, at) = folder();
    let out = at("a.png");
    std::fs::write(&out, "old").expect("a file");
    let line = not_drawn(&out, &["--width", "14400", "--scale", "8"]);
    assert!(
        line.contains("115200 by 64800 pixels") && line.contains("--scale"),
        "{line}"
    );
    assert_eq!(std::fs::read(&out).expect("the file"), b"old");
}

#[test]
fn views_and_options_that_do_not_fit_are_refused() {
    let (_folder, at) = folder();
    let out = at("a.svg");
    for (more, told) in [
        (
            &["--path", "header,pit"][..],
            "--path goes with --view grade",
        ),
        (&["--scale", "2"], "--scale is for .png"),
        (&["--width", "399"], "from 400 to 14400"),
        (&["--width", "NaN"], "from 400 to 14400"),
        (&["--scale", "0"], "from 0.25 to 8"),
        (&["--theme", "mauve"], "mauve"),
    ] {
        let line = not_drawn(&out, more);
        assert!(line.contains(told), "{line}");
    }
    assert!(!out.exists());
}

/// A grade line of the demo, with more words; its text.
fn grade(out: &Path, more: &[&str]) -> String {
    let out = out.display().to_string();
    let demo = demo();
    let words = ["draw", &demo, "--view", "grade", "--out", &out];
    let words: Vec<&str> = words.iter().chain(more).copied().collect();
    let output = call(&words);
    assert_eq!(output.status.code(), Some(0), "{}", text(&output.stderr));
    assert!(output.stdout.is_empty() && output.stderr.is_empty());
    std::fs::read_to_string(&out).unwrap_or_default()
}

#[test]
fn the_grade_line_is_drawn_along_the_way_of_the_most_water() {
    let (_folder, at) = folder();
    let line = grade(&at("a.svg"), &[]);
    assert!(line.contains("<title>Grade line of Perch and watercress glasshouse</title>"));
    assert!(line.contains("Header → Cress bed 1"), "{line}");
    assert!(line.contains("Pit → Circulation pump → Header"), "{line}");
    for name in ["a.png", "a.pdf"] {
        grade(&at(name), &["--units", "us"]);
        assert!(std::fs::metadata(at(name)).expect("a file").len() > 1000);
    }
}

#[test]
fn a_grade_line_follows_the_path_that_is_named() {
    let (_folder, at) = folder();
    let line = grade(&at("a.svg"), &["--path", "perch-2, pit"]);
    assert!(
        line.contains("Perch tank 2 → Trench → Trickle tower → Pit"),
        "{line}"
    );
    assert!(!line.contains("Cress bed"), "{line}");
    let one = grade(&at("b.svg"), &["--path", "step-3"]);
    assert!(
        one.contains("Cress bed 3") && one.contains("Circulation pump"),
        "{one}"
    );
}

#[test]
fn a_path_that_is_not_there_is_told_with_what_was_meant() {
    let (_folder, at) = folder();
    let out = at("a.svg").display().to_string();
    let demo = demo();
    let asked = |path: &str| {
        refused(&[
            "draw", &demo, "--view", "grade", "--path", path, "--out", &out,
        ])
    };
    let line = asked("perch-2,pti");
    assert!(
        line.contains("part pti") && line.contains("Did you mean pit?"),
        "{line}"
    );
    assert!(line.contains("glasshouse.ron"), "{line}");
    let line = asked("nowhere-at-all");
    assert!(
        line.contains("part nowhere-at-all") && line.contains("ids as they stand in the file"),
        "{line}"
    );
    assert!(!at("a.svg").exists());
}

#[test]
fn parts_that_are_not_joined_have_no_grade_line() {
    let (_folder, at) = folder();
    let cistern = Path::new(env!("CARGO_MANIFEST_DIR")).join("examples/glasshouse.ron");
    let mut text = std::fs::read_to_string(cistern).expect("the demo");
    let alone = "vessels: [\n    (id: \"alone\", shape: prism(area_m2: 1.0), floor_m: 0.0, rim_m: 1.0, fill_m: 0.5),";
    text = text.replacen("vessels: [", alone, 1);
    let file = at("alone.ron");
    std::fs::write(&file, text).expect("a file");
    let (file, out) = (
        file.display().to_string(),
        at("a.svg").display().to_string(),
    );
    let asked = |path: &str| {
        refused(&[
            "draw", &file, "--view", "grade", "--path", path, "--out", &out,
        ])
    };
    let line = asked("pit,alone");
    assert!(
        line.contains("No runs lead from pit to alone") && line.contains("part alone"),
        "{line}"
    );
    let line = asked("alone");
    assert!(line.contains("no run to draw a grade line along"), "{line}");
}

/// A layout that lies on a picture of the site, in a folder of its own.
fn on_site(folder: &Path, file: &str) -> PathBuf {
    let mut layout = fallwright::session::demo().expect("the demo");
    layout.underlay = Some(fallwright::layout::Underlay {
        file: file.to_owned(),
        at: fallwright::geometry::PlanPoint { x_m: 1.0, y_m: 2.0 },
        metres_per_pixel: 0.5,
        turned_deg: 0.0,
        strength: 1.0,
    });
    let text = fallwright::file::to_text(&layout, fallwright::file::Format::Ron).expect("text");
    let path = folder.join("site.ron");
    std::fs::write(&path, text).expect("a layout");
    path
}

fn of_site(path: &Path, out: &Path, view: &str) -> std::process::Output {
    let (path, out) = (path.display().to_string(), out.display().to_string());
    call(&["draw", &path, "--view", view, "--out", &out])
}

#[test]
fn the_plan_lies_on_the_picture_of_the_site_and_the_section_does_not() {
    let (folder, path) = folder();
    let picture = image::RgbImage::from_pixel(6, 4, image::Rgb([10, 200, 30]));
    picture.save(path("yard.png")).expect("a picture");
    let layout = on_site(folder.path(), "yard.png");
    let (plan, section) = (path("plan.svg"), path("section.svg"));
    for (out, view) in [(&plan, "plan"), (&section, "section")] {
        let output = of_site(&layout, out, view);
        assert_eq!(output.status.code(), Some(0), "{}", text(&output.stderr));
        assert!(output.stderr.is_empty(), "{}", text(&output.stderr));
    }
    let read = |path: &Path| std::fs::read_to_string(path).expect("a drawing");
    assert_eq!(read(&plan).matches("<image").count(), 1);
    assert_eq!(read(&section).matches("<image").count(), 0);
    // Of a PNG its dots are seen.
    let png = path("plan.png");
    assert_eq!(of_site(&layout, &png, "plan").status.code(), Some(0));
    let dots = image::open(&png).expect("a picture").to_rgb8();
    let green = dots.pixels().filter(|dot| dot.0 == [10, 200, 30]).count();
    assert!(green > 1000, "{green}");
}

#[test]
fn a_plan_without_the_picture_that_it_calls_is_drawn_and_that_is_told() {
    let (folder, path) = folder();
    let layout = on_site(folder.path(), "gone.png");
    let plan = path("plan.svg");
    let output = of_site(&layout, &plan, "plan");
    assert_eq!(output.status.code(), Some(0));
    let said = text(&output.stderr);
    assert!(
        said.contains("gone.png") && said.lines().count() == 1,
        "{said}"
    );
    let drawn = std::fs::read_to_string(&plan).expect("a drawing");
    assert!(drawn.contains("</svg>") && !drawn.contains("<image"));
}
