//! The arguments of the command line.
//!
//! Invariant: declares the arguments, and does nothing.

use super::words::{
    Form, Look, SizeWhat, TraceState, Units, View, page_width, scale, seconds, state,
};
use crate::state::State;
use clap::{Args, Parser, Subcommand};
use std::path::PathBuf;

/// Levels, spills and duty of gravity-flow recirculating water systems.
///
/// Reads a layout (vessels at their heights, the runs between them, a pump) and computes every level and flow.
#[derive(Clone, Debug, PartialEq, Parser)]
#[command(name = "fallwright", version, color = clap::ColorChoice::Never)]
#[command(args_conflicts_with_subcommands = true, max_term_width = 100)]
#[command(
    after_help = "FILE is a layout, .ron or .json; - is standard input.\n\nExit codes: 0 nothing wrong, 1 something is wrong, 2 no answer (unreadable, unsolved, not built)."
)]
pub struct Arguments {
    /// The layout to open in the window; none: the last one, at first the demo.
    pub file: Option<PathBuf>,
    /// The command to run instead.
    #[command(subcommand)]
    pub command: Option<Command>,
}

/// A command.
#[derive(Clone, Debug, PartialEq, Subcommand)]
pub enum Command {
    /// Print every level in each of the six states, and what is wrong.
    Check(Check),
    /// Print levels and flows over time: starting, stopped, or with one run blocked.
    Trace(Trace),
    /// Fail every run and part in turn, and rank the consequences.
    Faults(Faults),
    /// Propose bores, heights, a pump or a sump that work.
    Size(Size),
    /// Compare readings off the tape with the layout, and rank what explains them.
    Tune(Tune),
    /// Write drawings and schedules for the bench.
    Sheets(Sheets),
    /// Write one drawing.
    Draw(Draw),
    /// Write the layout as JSON or RON; nothing but comments is lost.
    Convert(Convert),
    /// List every word that a layout file and a result may hold, with its meaning.
    Words(Words),
}

/// `check`.
#[derive(Clone, Debug, PartialEq, Args)]
pub struct Check {
    /// The layout, .ron or .json.
    pub file: PathBuf,
    /// Only this state: rest, starting, running, fouled, blocked, stopped.
    #[arg(long, value_name = "STATE", value_parser = state)]
    pub state: Option<State>,
    /// Write JSON, in SI.
    #[arg(long)]
    pub json: bool,
    /// The units of the text; else the layout's own.
    #[arg(long, value_name = "SYSTEM")]
    pub units: Option<Units>,
}

/// `trace`.
#[derive(Clone, Debug, PartialEq, Args)]
pub struct Trace {
    /// The layout, .ron or .json.
    pub file: PathBuf,
    /// What happens at second 0.
    #[arg(long, value_name = "STATE")]
    pub state: TraceState,
    /// The run that is shut in the state `blocked`; else the one that does most harm.
    #[arg(long, value_name = "ID")]
    pub block: Option<String>,
    /// Start with every run primed that can be, instead of with air at the high points.
    #[arg(long)]
    pub primed: bool,
    /// Simulated time; otherwise until levels are still or steady.
    #[arg(long, value_name = "SECONDS", value_parser = seconds)]
    pub until: Option<f64>,
    /// Write CSV, in SI: a row for each moment.
    #[arg(long, conflicts_with = "json")]
    pub csv: bool,
    /// Write JSON, in SI.
    #[arg(long)]
    pub json: bool,
    /// The units of the text; else the layout's own.
    #[arg(long, value_name = "SYSTEM")]
    pub units: Option<Units>,
}

/// `faults`.
#[derive(Clone, Debug, PartialEq, Args)]
pub struct Faults {
    /// The layout, .ron or .json.
    pub file: PathBuf,
    /// Write JSON, in SI.
    #[arg(long)]
    pub json: bool,
    /// The units of the text; else the layout's own.
    #[arg(long, value_name = "SYSTEM")]
    pub units: Option<Units>,
}

/// `size`.
#[derive(Clone, Debug, PartialEq, Args)]
pub struct Size {
    /// The layout, .ron or .json.
    pub file: PathBuf,
    /// What may change; else all of it.
    #[arg(long, value_name = "WHAT")]
    pub what: Option<SizeWhat>,
    /// Write JSON, in SI.
    #[arg(long)]
    pub json: bool,
    /// Save the changed layout here.
    #[arg(long, value_name = "OUT")]
    pub write: Option<PathBuf>,
}

/// `tune`.
#[derive(Clone, Debug, PartialEq, Args)]
pub struct Tune {
    /// The layout, .ron or .json.
    pub file: PathBuf,
    /// Levels and flows as they were read.
    #[arg(long, value_name = "CSV")]
    pub readings: PathBuf,
    /// Write JSON, in SI.
    #[arg(long)]
    pub json: bool,
}

/// `sheets`.
#[derive(Clone, Debug, PartialEq, Args)]
pub struct Sheets {
    /// The layout, .ron or .json.
    pub file: PathBuf,
    /// The folder to write into.
    #[arg(long, value_name = "DIR")]
    pub out: PathBuf,
}

/// `draw`.
#[derive(Clone, Debug, PartialEq, Args)]
pub struct Draw {
    /// The layout, .ron or .json.
    pub file: PathBuf,
    /// Which drawing.
    #[arg(long)]
    pub view: View,
    /// What the grade line passes, in order: vessels, joints, fixed levels, runs or pumps; else the way of the
    /// most water.
    #[arg(long, value_name = "ID,ID", value_delimiter = ',')]
    pub path: Vec<String>,
    /// The drawing to write: .svg, .png or .pdf.
    #[arg(long, value_name = "FILE")]
    pub out: PathBuf,
    /// The units of the numbers; else the layout's own.
    #[arg(long, value_name = "SYSTEM")]
    pub units: Option<Units>,
    /// The colours.
    #[arg(long, value_name = "LOOK", default_value = "paper")]
    pub theme: Look,
    /// Width of the page, 400 to 14400 (a PDF: 1/72 inch each); else 1600, and A3 for .pdf.
    #[arg(long, value_name = "PX", value_parser = page_width)]
    pub width: Option<f64>,
    /// For .png: pixels to one of the page's width, 0.25 to 8; else 1.
    #[arg(long, value_name = "TIMES", value_parser = scale)]
    pub scale: Option<f64>,
}

/// `convert`.
#[derive(Clone, Debug, PartialEq, Args)]
pub struct Convert {
    /// The layout, .ron or .json.
    pub file: PathBuf,
    /// What to write.
    #[arg(long, value_name = "FORM")]
    pub to: Form,
    /// Where to; else to standard output.
    #[arg(long, value_name = "OUT")]
    pub out: Option<PathBuf>,
    /// Write over the layout itself even where that drops the comments in it.
    #[arg(long)]
    pub force: bool,
}

/// `words`.
#[derive(Clone, Debug, PartialEq, Args)]
pub struct Words {
    /// Write JSON, in SI.
    #[arg(long)]
    pub json: bool,
}
