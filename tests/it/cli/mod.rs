//! The command line: text, JSON, exit codes, and the program itself.

mod careful;
mod draw;
mod exit;
mod faults;
mod guide;
mod json;
mod keys;
mod odd;
mod outcome;
mod program;
mod text;
mod trace;
mod words;
