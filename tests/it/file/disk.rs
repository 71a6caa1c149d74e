//! Files that are missing, locked, too large or no text; writing that loses nothing.

use super::{GOOD, good};
use fallwright::file::{
    Disk, FORMAT_VERSION, Format, MOST_BYTES, PreviousVersion, parse, read, to_text,
    version_before, write,
};
use fallwright::layout::Layout;
use std::fs;
use std::path::Path;
use std::time::{Duration, Instant};
use tempfile::tempdir;

fn error_of(bytes: &[u8]) -> String {
    let folder = tempdir().unwrap();
    let path = folder.path().join("x.ron");
    fs::write(&path, bytes).unwrap();
    read(&path).unwrap_err().to_string()
}

#[test]
fn what_is_written_is_read() {
    let folder = tempdir().unwrap();
    for name in ["a.ron", "a.json", "A.RON", "a.JSON", "a.layout", "a"] {
        let path = folder.path().join(name);
        write(&good(), &path).unwrap();
        assert_eq!(read(&path).unwrap(), good());
        write(&Layout::default(), &path).unwrap();
        assert_eq!(read(&path).unwrap(), Layout::default());
    }
    assert_eq!(
        fs::read_dir(folder.path()).unwrap().count(),
        6,
        "nothing is left behind"
    );
}

#[test]
fn the_version_stands_first() {
    let key = format!("fallwright: {FORMAT_VERSION},");
    let ron = to_text(&good(), Format::Ron).unwrap();
    assert_eq!(ron.lines().nth(1).unwrap().trim(), key);
    let json = to_text(&good(), Format::Json).unwrap();
    assert_eq!(json.lines().nth(1).unwrap().trim().replace('"', ""), key);
}

#[test]
fn a_file_with_another_extension_is_known_by_its_first_character() {
    let folder = tempdir().unwrap();
    for format in [Format::Ron, Format::Json] {
        let path = folder.path().join("layout.txt");
        fs::write(
            &path,
            format!("\u{feff} \n{}", to_text(&good(), format).unwrap()),
        )
        .unwrap();
        assert_eq!(read(&path).unwrap(), good());
    }
}

#[test]
fn a_missing_file_and_a_folder() {
    let folder = tempdir().unwrap();
    let missing = read(&folder.path().join("none.ron")).unwrap_err();
    assert!(missing.what.contains("no such file"), "{missing}");
    assert!(missing.to_string().contains("none.ron"), "{missing}");
    let error = read(folder.path()).unwrap_err();
    assert!(error.what.contains("folder"), "{error}");
    let error = write(&good(), folder.path()).unwrap_err();
    assert!(error.what.contains("folder"), "{error}");
    let error = write(&good(), &folder.path().join("none/a.ron")).unwrap_err();
    assert!(error.what.contains("no such folder"), "{error}");
    for path in ["", "/", "..", "\0"] {
        assert!(read(Path::new(path)).is_err(), "{path:?}");
        assert!(write(&good(), Path::new(path)).is_err(), "{path:?}");
    }
}

#[test]
fn files_that_are_no_text() {
    assert!(error_of(b"").contains("empty"));
    assert!(error_of(b"\xef\xbb\xbf").contains("empty"));
    assert!(error_of(b"\xff\xfe(\0f\0").contains("UTF-16"));
    assert!(error_of(b"\xfe\xff\0(\0f").contains("UTF-16"));
    assert!(error_of(b"(\0f\0a\0").contains("zero byte"));
    assert!(error_of(b"\x7fELF\x02\x01\x01\0\0\0\0\xde\xad\xbe\xef").contains("not UTF-8"));
    let latin = b"(fallwright: 1,\ntitle: \"Becken f\xfcr Forellen\")";
    let error = error_of(latin);
    assert!(
        error.contains("not UTF-8") && error.contains("line 2"),
        "{error}"
    );
}

#[test]
fn a_file_that_is_too_large_is_told_at_once() {
    let folder = tempdir().unwrap();
    let path = folder.path().join("large.ron");
    fs::File::create(&path)
        .unwrap()
        .set_len(50_000_000)
        .unwrap();
    let start = Instant::now();
    let error = read(&path).unwrap_err();
    assert!(error.what.contains("over 32 MiB"), "{error}");
    assert!(start.elapsed() < Duration::from_secs(5), "it was read");
}

#[test]
fn the_largest_file_is_read() {
    let folder = tempdir().unwrap();
    let path = folder.path().join("large.ron");
    let mut text = GOOD.to_owned();
    text.push_str(&" ".repeat(MOST_BYTES as usize - text.len()));
    fs::write(&path, &text).unwrap();
    assert_eq!(read(&path).unwrap(), good());
    text.push(' ');
    fs::write(&path, &text).unwrap();
    assert!(read(&path).unwrap_err().what.contains("over 32 MiB"));
}

#[test]
fn an_impossible_layout_is_not_written_over_a_good_one() {
    let folder = tempdir().unwrap();
    let path = folder.path().join("a.ron");
    write(&good(), &path).unwrap();
    let mut broken = good();
    broken.vessels[0].rim_m = f64::NAN;
    let error = write(&broken, &path).unwrap_err();
    assert_eq!(error.part.as_deref(), Some("sump"));
    assert!(error.what.contains("`rim_m`"), "{error}");
    assert_eq!(read(&path).unwrap(), good());
}

#[test]
fn a_layout_that_could_not_be_read_back_is_not_written() {
    let mut large = good();
    let many = "x".repeat(1000);
    for index in 0..40_000 {
        let mut joint = large.joints[0].clone();
        joint.id = format!("joint-{index}").as_str().into();
        joint.name.clone_from(&many);
        large.joints.push(joint);
    }
    let error = to_text(&large, Format::Ron).unwrap_err();
    assert!(error.what.contains("too large"), "{error}");
}

#[test]
fn what_a_disk_refuses_is_said_with_a_way_on_and_the_old_file_stays() {
    use std::io::{Error, ErrorKind, Write};
    for (kind, what, cure) in [
        (ErrorKind::StorageFull, "The disk is full", "Make room"),
        (
            ErrorKind::QuotaExceeded,
            "Your share of the disk is used up",
            "Make room",
        ),
        (
            ErrorKind::PermissionDenied,
            "The folder is locked",
            "another folder",
        ),
        (
            ErrorKind::ReadOnlyFilesystem,
            "The disk is read-only",
            "another disk",
        ),
        (
            ErrorKind::Other,
            "It cannot be written: no more",
            "Check the disk",
        ),
    ] {
        let folder = tempdir().unwrap();
        let path = folder.path().join("a.ron");
        write(&good(), &path).unwrap();
        let before = fs::read(&path).unwrap();
        let disk = Disk {
            fill: std::sync::Arc::new(move |file, bytes| {
                file.write_all(&bytes[..bytes.len() / 2])?;
                Err(match kind {
                    ErrorKind::Other => Error::other("no more"),
                    kind => kind.into(),
                })
            }),
        };
        let error = disk
            .write(&Layout::default(), &path, PreviousVersion::Kept)
            .unwrap_err();
        let line = error.to_string();
        assert!(
            line.contains(what) && line.contains(cure) && line.contains("a.ron"),
            "{line}"
        );
        assert_eq!(fs::read(&path).unwrap(), before);
        assert_eq!(
            fs::read_dir(folder.path()).unwrap().count(),
            1,
            "nothing half written stays"
        );
    }
}

#[test]
fn the_version_before_is_whole_even_when_the_disk_fills_up_between() {
    use std::sync::atomic::{AtomicUsize, Ordering};
    let folder = tempdir().unwrap();
    let path = folder.path().join("a.ron");
    write(&good(), &path).unwrap();
    let before = fs::read(&path).unwrap();
    let (written, own) = (AtomicUsize::new(0), Disk::default().fill);
    let disk = Disk {
        fill: std::sync::Arc::new(move |file, bytes| {
            match written.fetch_add(1, Ordering::SeqCst) {
                0 => own(file, bytes),
                _ => Err(std::io::ErrorKind::StorageFull.into()),
            }
        }),
    };
    assert!(
        disk.write(&Layout::default(), &path, PreviousVersion::Kept)
            .is_err()
    );
    assert_eq!(fs::read(&path).unwrap(), before);
    assert_eq!(fs::read(version_before(&path)).unwrap(), before);
}

#[cfg(unix)]
mod unix {
    use super::*;
    use std::os::unix::fs::{PermissionsExt, symlink};

    #[test]
    fn a_link_stays_a_link_and_permissions_stay() {
        let folder = tempdir().unwrap();
        let path = folder.path().join("real.ron");
        let link = folder.path().join("link.ron");
        write(&Layout::default(), &path).unwrap();
        fs::set_permissions(&path, fs::Permissions::from_mode(0o640)).unwrap();
        symlink(&path, &link).unwrap();
        write(&good(), &link).unwrap();
        assert!(fs::symlink_metadata(&link).unwrap().is_symlink());
        assert_eq!(read(&path).unwrap(), good());
        assert_eq!(
            fs::metadata(&path).unwrap().permissions().mode() & 0o777,
            0o640
        );
    }

    #[test]
    fn a_file_that_may_only_be_read_is_left_alone() {
        let folder = tempdir().unwrap();
        let path = folder.path().join("a.ron");
        write(&Layout::default(), &path).unwrap();
        fs::set_permissions(&path, fs::Permissions::from_mode(0o444)).unwrap();
        let error = write(&good(), &path).unwrap_err();
        assert!(error.what.contains("only be read"), "{error}");
        assert_eq!(read(&path).unwrap(), Layout::default());
    }

    #[test]
    fn an_endless_device_is_told() {
        let error = read(Path::new("/dev/zero")).unwrap_err();
        assert!(error.what.contains("over 32 MiB"), "{error}");
    }

    #[test]
    fn a_device_is_written_to_and_never_replaced() {
        write(&good(), Path::new("/dev/null")).unwrap();
        assert!(!fs::metadata("/dev/null").unwrap().is_file());
    }
}

#[test]
fn errors_of_text_have_no_file() {
    let error = parse("", Format::Ron).unwrap_err();
    assert_eq!(error.place.file, None);
}
