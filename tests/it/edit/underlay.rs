//! A picture is laid under the plan, scaled, and taken away.

use super::{glasshouse, made, read};
use fallwright::edit::{lay_picture, scale_picture, take_picture_away};
use fallwright::geometry::PlanPoint;
use fallwright::layout::Underlay;
use fallwright::units::UnitSystem;

fn picture(metres_per_pixel: f64) -> Underlay {
    Underlay {
        file: "site.png".to_owned(),
        at: PlanPoint::default(),
        metres_per_pixel,
        turned_deg: 0.0,
        strength: 0.5,
    }
}

#[test]
fn a_picture_is_laid_scaled_and_taken_away_in_three_steps() {
    let layout = glasshouse();
    let lay = lay_picture(&layout, picture(0.01)).unwrap();
    assert_eq!(read(&lay, &layout, UnitSystem::Metric), "Add site picture");
    let laid = made(&layout, &lay);
    assert_eq!(laid.underlay, Some(picture(0.01)));
    let scale = scale_picture(&laid, picture(0.02), 4.2).unwrap();
    let words = "Scale site picture: 4.20 m between two points";
    assert_eq!(read(&scale, &laid, UnitSystem::Metric), words);
    let scaled = made(&laid, &scale);
    assert_eq!(scaled.underlay, Some(picture(0.02)));
    let away = take_picture_away(&scaled).unwrap();
    let words = "Remove site picture";
    assert_eq!(read(&away, &scaled, UnitSystem::Us), words);
    assert_eq!(made(&scaled, &away), layout);
}

#[test]
fn a_picture_that_no_layout_can_hold_is_refused() {
    let layout = glasshouse();
    assert!(scale_picture(&layout, picture(0.02), 4.2).is_err());
    assert!(take_picture_away(&layout).is_err());
    let refused = lay_picture(&layout, picture(0.0)).unwrap_err();
    assert!(refused.what.contains("the metres per pixel"), "{refused}");
    assert!(refused.cure.contains("0.000001 to 1000"), "{refused}");
    let mut nameless = picture(0.01);
    nameless.file = "  ".to_owned();
    let refused = lay_picture(&layout, nameless).unwrap_err();
    assert!(refused.what.contains("names no file"), "{refused}");
}
