//! Snapping candidates: heights and lines of other parts, each with the reason shown.

use crate::layout::{Id, Layout, Opening, RunEnd};

/// A value to snap to, with its reason.
#[derive(Clone, Debug, PartialEq)]
pub struct SnapCandidate {
    /// The value, metres.
    pub at_m: f64,
    /// The reason: “level with the rim of Bed 2”.
    pub why: String,
}

/// The candidate nearest to `raw_m` within `tolerance_m`; of two at equal distance, the first.
pub fn nearest(raw_m: f64, mates: &[SnapCandidate], tolerance_m: f64) -> Option<&SnapCandidate> {
    let off = |mate: &&SnapCandidate| (mate.at_m - raw_m).abs();
    let near = mates.iter().filter(|mate| off(mate) <= tolerance_m);
    near.min_by(|a, b| off(a).total_cmp(&off(b)))
}

fn mate(at_m: f64, why: String) -> SnapCandidate {
    SnapCandidate { at_m, why }
}

/// Rims, floors and crests of all parts but these, and the datum.
pub fn heights(layout: &Layout, but: &[Id]) -> Vec<SnapCandidate> {
    let name = |id: &Id| layout.name_of(id).to_owned();
    let mut mates = vec![mate(0.0, "on the datum".to_owned())];
    for part in layout.vessels.iter().filter(|part| !but.contains(&part.id)) {
        let name = name(&part.id);
        mates.push(mate(part.rim_m, format!("level with the rim of {name}")));
        mates.push(mate(
            part.floor_m,
            format!("level with the floor of {name}"),
        ));
    }
    for part in layout.fixed.iter().filter(|part| !but.contains(&part.id)) {
        let why = format!("level with the water of {}", name(&part.id));
        mates.push(mate(part.level_m, why));
    }
    for part in layout.joints.iter().filter(|part| !but.contains(&part.id)) {
        mates.push(mate(
            part.elevation_m,
            format!("level with {}", name(&part.id)),
        ));
    }
    for run in &layout.runs {
        for which in RunEnd::BOTH {
            let end = run.end(which);
            let opening = end.opening.as_ref().filter(|_| !but.contains(&end.at));
            if let Some((height_m, opening)) = opening.and_then(|one| Some((one.crest_m()?, one))) {
                let what = Opening::height_word(opening);
                mates.push(mate(
                    height_m,
                    format!("level with the {what} of {}", name(&run.id)),
                ));
            }
        }
    }
    mates
}

/// Centres and edges of all parts but these in the plan: along X, then along Y.
pub fn lines(layout: &Layout, but: &[Id]) -> (Vec<SnapCandidate>, Vec<SnapCandidate>) {
    let (mut across, mut up) = (Vec::new(), Vec::new());
    for part in layout.vessels.iter().filter(|part| !but.contains(&part.id)) {
        let name = layout.name_of(&part.id);
        let (long, wide) = part.shape.footprint_m();
        // Turned by quarter turns it stays square to the page; otherwise it has no edge to align with.
        let turned = part.place.turned_deg.rem_euclid(180.0);
        let sides = if turned == 0.0 {
            Some((long, wide))
        } else {
            (turned == 90.0).then_some((wide, long))
        };
        for (mates, middle_m, side) in [
            (&mut across, part.place.x_m, sides.map(|sides| sides.0)),
            (&mut up, part.place.y_m, sides.map(|sides| sides.1)),
        ] {
            mates.push(mate(middle_m, format!("in line with the centre of {name}")));
            for sign in [-0.5, 0.5] {
                let edge = side.map(|side| middle_m + sign * side);
                mates.extend(edge.map(|at| mate(at, format!("in line with the edge of {name}"))));
            }
        }
    }
    for part in layout.joints.iter().filter(|part| !but.contains(&part.id)) {
        let why = format!("in line with {}", layout.name_of(&part.id));
        across.push(mate(part.place.x_m, why.clone()));
        up.push(mate(part.place.y_m, why));
    }
    for part in layout.fixed.iter().filter(|part| !but.contains(&part.id)) {
        let why = format!("in line with {}", layout.name_of(&part.id));
        across.push(mate(part.place.x_m, why.clone()));
        up.push(mate(part.place.y_m, why));
    }
    (across, up)
}
