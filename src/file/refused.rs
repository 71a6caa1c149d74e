//! Errors of the file system, in words, and what to do about them.

use super::FileError;
use std::io::{self, ErrorKind};

/// The error of a file that cannot be read or written. `verb`: "read" or "write".
pub(super) fn cannot(verb: &str, error: &io::Error) -> FileError {
    let (what, cure) = match error.kind() {
        ErrorKind::NotFound if verb == "read" => {
            ("there is no such file", "check the name and the folder")
        }
        ErrorKind::NotFound => (
            "there is no such folder",
            "make the folder, or save in another",
        ),
        ErrorKind::PermissionDenied if verb == "read" => (
            "the file is locked: reading it is not permitted",
            "permit it, or use a file of your own",
        ),
        ErrorKind::PermissionDenied => (
            "the folder is locked: nothing may be written in it",
            "permit it, or save in another folder",
        ),
        ErrorKind::ReadOnlyFilesystem => (
            "the disk is read-only: nothing may be written on it",
            "save on another disk",
        ),
        ErrorKind::StorageFull => (
            "the disk is full",
            "make room on it, or save on another disk",
        ),
        ErrorKind::QuotaExceeded => (
            "your share of the disk is used up",
            "make room on it, or save on another disk",
        ),
        ErrorKind::InvalidFilename => ("the name is no name for a file", "choose a shorter name"),
        _ => {
            let done = if verb == "read" { "read" } else { "written" };
            let what = format!("it cannot be {done}: {error}");
            return FileError::new(what, "check the disk and the name");
        }
    };
    FileError::new(what, cure)
}

/// The error of a file whose metadata cannot be read: if access is denied, it is the folder that is locked.
pub(super) fn cannot_enter(error: &io::Error) -> FileError {
    match error.kind() {
        ErrorKind::PermissionDenied => FileError::new(
            "the folder is locked: what lies in it cannot be reached",
            "permit opening the folder, or use a file in another",
        ),
        _ => cannot("read", error),
    }
}

/// The error of an existing file that may not be overwritten.
pub(super) fn read_only() -> FileError {
    FileError::new(
        "the file is locked: it may only be read",
        "permit writing to it, or save under another name",
    )
}

pub(super) fn is_folder(cure: &str) -> FileError {
    FileError::new("this is a folder", cure)
}
