//! The command line: text, JSON, exit codes, and the program itself.

mod exit;
mod json;
mod program;
mod text;
