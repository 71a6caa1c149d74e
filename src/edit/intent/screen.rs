//! The screen at an end of a run.

use super::one_part;
use crate::edit::field::no_part;
use crate::edit::{Edit, EditError, Part};
use crate::finding::Piece;
use crate::layout::{Id, Layout, Opening, Run, RunEnd, Screen};

/// The position of a screen.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Screening {
    /// There is none.
    None,
    /// Before the opening and always submerged, so that its whole area counts.
    Before,
    /// On the lip.
    OnTheLip,
    /// A cage that may stand out of the water.
    Cage,
}

impl Screening {
    /// The position of the screen at an end.
    pub fn of(screen: Option<&Screen>) -> Screening {
        match screen {
            None => Screening::None,
            Some(one) if one.on_the_lip => Screening::OnTheLip,
            Some(one) if one.foot_m.is_some() => Screening::Cage,
            Some(_) => Screening::Before,
        }
    }
}

/// Area and open share of a new screen: 0.1 m², 40 %, like many perforated plates and nets. A choice.
const AREA_M2: f64 = 0.1;
const OPEN_SHARE: f64 = 0.4;
/// Height of a new cage, metres. A choice.
const HEIGHT_M: f64 = 0.3;

/// Adds, changes or removes the screen at an end.
///
/// A cage begins at the floor of its vessel, or at the lip elsewhere.
///
/// # Errors
/// A missing run, or an end at a joint.
pub fn screen(layout: &Layout, run: &Id, end: RunEnd, to: Screening) -> Result<Edit, EditError> {
    let (place, before) = Part::find(layout, run).ok_or_else(|| no_part(run))?;
    let mut after = before.clone();
    let Part::Run(drawn) = &mut after else {
        return Err(no_part(run));
    };
    let foot_m = foot_m(layout, drawn, end);
    let drawn = drawn.end_mut(end);
    drawn.screen = match to {
        Screening::None => None,
        _ => Some(stood(drawn.screen.take(), to, foot_m)),
    };
    let verb = match to {
        Screening::None => "Remove the screen of ",
        Screening::Before => "Add a screen before ",
        Screening::OnTheLip => "Add a guard on the lip of ",
        Screening::Cage => "Add a cage around ",
    };
    let at = drawn.at.clone();
    let name = vec![verb.into(), run.into(), " in ".into(), Piece::Part(at)];
    one_part(layout, place, (before, after), name)
}

fn stood(screen: Option<Screen>, to: Screening, foot_m: f64) -> Screen {
    let new = || Screen {
        name: String::new(),
        area_m2: AREA_M2,
        open_share: OPEN_SHARE,
        blinded: 0.0,
        k: None,
        on_the_lip: false,
        foot_m: None,
        height_m: None,
    };
    let stood = screen.unwrap_or_else(new);
    let cage = to == Screening::Cage;
    Screen {
        on_the_lip: to == Screening::OnTheLip,
        foot_m: cage.then_some(stood.foot_m.unwrap_or(foot_m)),
        height_m: cage.then_some(stood.height_m.unwrap_or(HEIGHT_M)),
        ..stood
    }
}

fn foot_m(layout: &Layout, run: &Run, end: RunEnd) -> f64 {
    let drawn = run.end(end);
    let floor_m = layout.vessel(&drawn.at).map(|vessel| vessel.floor_m);
    let lip_m = drawn.opening.as_ref().and_then(Opening::crest_m);
    floor_m.or(lip_m).unwrap_or(0.0)
}
