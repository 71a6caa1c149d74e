//! What an evaluation is asked beside levels and findings: paths of runs, and system curves.

mod differ;
mod paths;
mod system;

use fallwright::catalogue::Catalogue;
use fallwright::evaluate::preview;
use fallwright::layout::Layout;
use fallwright::states::report::StateReport;

fn demo() -> Layout {
    fallwright::session::demo().unwrap()
}

fn running(layout: &Layout) -> StateReport {
    preview(layout, Catalogue::builtin()).unwrap()
}
