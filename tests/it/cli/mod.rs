//! The command line: text, JSON, exit codes, and the program itself.

mod draw;
mod exit;
mod json;
mod program;
mod text;
