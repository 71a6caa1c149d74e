//! The program: passes its arguments to the command line, and opens the window where the build has one.

use std::path::Path;
use std::process::ExitCode;

fn main() -> ExitCode {
    let outcome = fallwright::cli::run(std::env::args_os(), &open_window);
    let code = fallwright::cli::print(&outcome);
    u8::try_from(code).map_or(ExitCode::FAILURE, ExitCode::from)
}

/// Opens the window on a file; the error says why it cannot.
#[cfg(feature = "window")]
fn open_window(file: Option<&Path>) -> Result<(), String> {
    if has_display() {
        fallwright::window::open(file)
    } else {
        Err("There is no display here for a window.".to_owned())
    }
}

#[cfg(not(feature = "window"))]
fn open_window(_file: Option<&Path>) -> Result<(), String> {
    Err("This build has no window.".to_owned())
}

/// Returns whether a display is available. Only Unix systems other than macOS name it in the environment; elsewhere one
/// is assumed.
#[cfg(feature = "window")]
fn has_display() -> bool {
    let set = |name: &str| std::env::var_os(name).is_some_and(|value| !value.is_empty());
    let asks = cfg!(all(unix, not(target_os = "macos")));
    !asks || set("DISPLAY") || set("WAYLAND_DISPLAY") || set("WAYLAND_SOCKET")
}
