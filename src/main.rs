//! The program: hands its words to the command line.

use std::process::ExitCode;

fn main() -> ExitCode {
    let outcome = fallwright::cli::run(std::env::args_os(), &|_| Err(no_window()));
    let code = fallwright::cli::print(&outcome);
    u8::try_from(code).map_or(ExitCode::FAILURE, ExitCode::from)
}

/// Why the window does not open.
fn no_window() -> String {
    if cfg!(feature = "window") {
        "The window is not built yet.".to_owned()
    } else {
        "This build has no window.".to_owned()
    }
}
