//! The life of the dialog: opening, updating from the session, carrying out its requests.

use super::{CurveAction, CurveDialog, CurveDuty, CurveInput, CurvePicture};
use crate::edit;
use crate::editor::curve::{self, DefaultUnits};
use crate::layout::{CurveForm, Id, Pump};
use crate::session::{read_picture, read_text};
use crate::units::UnitSystem;
use crate::window::app::App;
use crate::window::file_dialogs::{Chosen, FileKind};
use std::path::Path;

impl CurveDialog {
    /// The dialog of a pump, filled with its present curve.
    fn new(pump: &Pump, name: &str, system: UnitSystem) -> CurveDialog {
        let (flow_unit, head_unit) = curve::usual_units(&pump.curve, system);
        let bare = DefaultUnits {
            system,
            flow: flow_unit,
            head: head_unit,
        };
        let typed = curve::typed(&pump.curve, bare);
        let is_guess = pump.curve.is_guess();
        let label = typed.first().filter(|_| is_guess).cloned();
        CurveDialog {
            pump: pump.id.clone(),
            name: name.to_owned(),
            was: pump.curve.clone(),
            system,
            way: if is_guess {
                CurveInput::Label
            } else {
                CurveInput::Points
            },
            flow_unit,
            head_unit,
            rows: if is_guess { Vec::new() } else { typed },
            label: label.unwrap_or_default(),
            text: String::new(),
            path: String::new(),
            picture: None,
            wrong: None,
            previewed: None,
        }
    }
}

impl App {
    /// Opens the dialog of a pump.
    pub(in crate::window) fn open_curve(&mut self, pump: &Id) {
        let layout = self.session.layout().clone();
        let mut pumps = layout.runs.iter().filter_map(|run| run.pump.as_ref());
        if let Some(found) = pumps.find(|one| one.id == *pump) {
            let name = layout.name_of(pump);
            self.curve = Some(CurveDialog::new(found, name, layout.units));
        }
    }

    /// Runs one frame of the dialog, while it is open.
    pub(in crate::window) fn curve_frame(&mut self, ctx: &egui::Context) {
        let selected = self.tool_state.last().map(|pick| pick.part().clone());
        let pump = self.curve.as_ref().map(|dialog| dialog.pump.clone());
        self.session.look_at_guess(pump.or(selected).as_ref());
        let Some(mut dialog) = self.curve.take() else {
            return;
        };
        let duty = self.duty(&dialog.pump);
        let asked = super::frame::show(ctx, &mut dialog, duty);
        match asked {
            None => self.preview_curve(&mut dialog),
            Some(CurveAction::Leave) => return self.session.drop_preview(),
            Some(CurveAction::Take(curve)) => match self.take_curve(&dialog, curve) {
                Ok(()) => return,
                Err(why) => dialog.wrong = Some(why),
            },
            Some(CurveAction::Choose) => self.choose_for(ctx, &mut dialog),
            Some(CurveAction::Read(path)) => read(ctx, &mut dialog, &path),
        }
        self.curve = Some(dialog);
    }

    fn duty(&self, pump: &Id) -> CurveDuty<'_> {
        let shown = self.session.shown();
        let pumps = shown.running.into_iter().flat_map(|running| &running.pumps);
        let mut found = pumps.filter(|one| one.id == *pump && one.on);
        CurveDuty {
            at: found.next().map(|one| (one.flow_m3_s, one.head_m)),
            guess: self.session.guess(),
        }
    }

    /// Previews the layout with the new curve.
    fn preview_curve(&mut self, dialog: &mut CurveDialog) {
        let curve = dialog.curve().ok();
        if curve == dialog.previewed {
            return;
        }
        match &curve {
            Some(curve) if *curve != dialog.was => {
                let edit = edit::pump_curve(self.session.layout(), &dialog.pump, curve.clone());
                let done = edit.and_then(|edit| self.session.preview(&edit));
                dialog.wrong = done.err().map(|refused| self.said_of(&refused));
            }
            _ => self.session.drop_preview(),
        }
        dialog.previewed = curve;
    }

    fn take_curve(&mut self, dialog: &CurveDialog, curve: CurveForm) -> Result<(), String> {
        let edit = edit::pump_curve(self.session.layout(), &dialog.pump, curve);
        match edit {
            Ok(edit) => {
                self.make(edit);
                Ok(())
            }
            Err(refused) => Err(self.said_of(&refused)),
        }
    }

    fn said_of(&self, refused: &edit::EditError) -> String {
        let layout = self.session.layout();
        format!(
            "{}.",
            refused.read(&|id| layout.name_of(id).to_owned(), layout.units)
        )
    }

    fn choose_for(&mut self, ctx: &egui::Context, dialog: &mut CurveDialog) {
        let kind = match dialog.way {
            CurveInput::Picture => FileKind::Picture,
            _ => FileKind::Table,
        };
        match self.choose.of_kind(kind, self.session.path()) {
            Chosen::Path(path) => read(ctx, dialog, &path),
            Chosen::Nothing => {}
            Chosen::NoDialog => {
                let why = "This system has no file dialog; type the file path instead.";
                dialog.wrong = Some(why.to_owned());
            }
        }
    }
}

/// Reads a file: as a picture where one is asked for, else as a table.
fn read(ctx: &egui::Context, dialog: &mut CurveDialog, path: &Path) {
    let done = if dialog.way == CurveInput::Picture {
        read_picture(path).map(|raster| dialog.picture = Some(CurvePicture::new(ctx, &raster)))
    } else {
        read_text(path).map(|text| dialog.text = text)
    };
    dialog.wrong = done.err().map(|error| format!("{error}."));
}
