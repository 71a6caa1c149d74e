//! From heights and lengths to the page and back.
//!
//! The section has two scales: heights are drawn larger than lengths, so that millimetres of water can be
//! seen beside metres of pipe. Everything stays in `f64`; nothing here can give NaN for a finite view.

use super::shape::{Point, Rect, pt};

/// A place in the section: metres along from the staff, metres above the datum.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct SectionPoint {
    /// Metres from the staff along the section.
    pub along_m: f64,
    /// Metres above the datum.
    pub z_m: f64,
}

/// Short for an [`At`].
pub fn at(along_m: f64, z_m: f64) -> SectionPoint {
    SectionPoint { along_m, z_m }
}

/// The part of the section that a drawing covers, metres.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bounds {
    /// Least along.
    pub left_m: f64,
    /// Greatest along.
    pub right_m: f64,
    /// Least height.
    pub low_m: f64,
    /// Greatest height.
    pub high_m: f64,
}

impl Bounds {
    /// The smallest that holds all places; a metre square at the origin for none.
    pub fn of(places: impl IntoIterator<Item = SectionPoint>) -> Bounds {
        let mut found: Option<Bounds> = None;
        for place in places {
            if !(place.along_m.is_finite() && place.z_m.is_finite()) {
                continue;
            }
            let old = found.unwrap_or(Bounds {
                left_m: place.along_m,
                right_m: place.along_m,
                low_m: place.z_m,
                high_m: place.z_m,
            });
            found = Some(Bounds {
                left_m: old.left_m.min(place.along_m),
                right_m: old.right_m.max(place.along_m),
                low_m: old.low_m.min(place.z_m),
                high_m: old.high_m.max(place.z_m),
            });
        }
        found.unwrap_or(Bounds {
            left_m: 0.0,
            right_m: 1.0,
            low_m: 0.0,
            high_m: 1.0,
        })
    }
}

/// Least and most points to a metre of height: a hill to a page, a millimetre to a thumb.
const LEAST_SCALE: f64 = 0.05;
const MOST_SCALE: f64 = 20_000.0;
/// Most times that heights are drawn larger than lengths.
const MOST_STRETCH: f64 = 6.0;

/// How the section lies on the page.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct View {
    /// Where on the page the section may be drawn.
    pub page: Rect,
    /// Along and height that stand at the left and bottom edge of `page`.
    pub corner: SectionPoint,
    /// Points to a metre along.
    pub points_per_metre_along: f64,
    /// Points to a metre of height.
    pub points_per_metre_up: f64,
}

impl View {
    /// All of `bounds` on `page`, in the middle of it.
    pub fn fitting(bounds: Bounds, page: Rect) -> View {
        let width_m = (bounds.right_m - bounds.left_m).max(0.1);
        let height_m = (bounds.high_m - bounds.low_m).max(0.1);
        let mut along = (page.width().max(1.0) / width_m).clamp(LEAST_SCALE, MOST_SCALE);
        let mut up = (page.height().max(1.0) / height_m).clamp(LEAST_SCALE, MOST_SCALE);
        along = along.min(up);
        up = up.min(along * MOST_STRETCH);
        let spare_x = page.width() - width_m * along;
        let spare_y = page.height() - height_m * up;
        View {
            page,
            corner: at(
                bounds.left_m - spare_x / along / 2.0,
                bounds.low_m - spare_y / up / 2.0,
            ),
            points_per_metre_along: along,
            points_per_metre_up: up,
        }
    }

    /// All of `bounds` on `page`, in the middle of it, with one scale in both directions: for a plan, where a
    /// place is metres to the right and metres up the page.
    pub fn true_to_scale(bounds: Bounds, page: Rect) -> View {
        let width_m = (bounds.right_m - bounds.left_m).max(0.1);
        let height_m = (bounds.high_m - bounds.low_m).max(0.1);
        let scale = (page.width().max(1.0) / width_m).min(page.height().max(1.0) / height_m);
        let scale = scale.clamp(LEAST_SCALE, MOST_SCALE);
        View {
            page,
            corner: at(
                (bounds.left_m + bounds.right_m - page.width() / scale) / 2.0,
                (bounds.low_m + bounds.high_m - page.height() / scale) / 2.0,
            ),
            points_per_metre_along: scale,
            points_per_metre_up: scale,
        }
    }

    /// Where a place is on the page.
    pub fn page_from_section(&self, place: SectionPoint) -> Point {
        pt(self.x(place.along_m), self.y(place.z_m))
    }

    /// Where on the page a distance along is.
    pub fn x(&self, along_m: f64) -> f64 {
        self.page.left + (along_m - self.corner.along_m) * self.points_per_metre_along
    }

    /// Where on the page a height is.
    pub fn y(&self, z_m: f64) -> f64 {
        self.page.bottom - (z_m - self.corner.z_m) * self.points_per_metre_up
    }

    /// Which place in the section a point of the page is.
    pub fn section_from_page(&self, point: Point) -> SectionPoint {
        at(
            self.corner.along_m + (point.x - self.page.left) / self.points_per_metre_along,
            self.corner.z_m + (self.page.bottom - point.y) / self.points_per_metre_up,
        )
    }

    /// The view moved with the pointer by points of the page.
    pub fn moved(self, dx: f64, dy: f64) -> View {
        let corner = at(
            self.corner.along_m - dx / self.points_per_metre_along,
            self.corner.z_m + dy / self.points_per_metre_up,
        );
        if corner.along_m.is_finite() && corner.z_m.is_finite() {
            View { corner, ..self }
        } else {
            self
        }
    }

    /// The view enlarged `by` times about a point of the page, which stays where it is.
    pub fn zoomed(self, by: f64, about: Point) -> View {
        let up = (self.points_per_metre_up * by).clamp(LEAST_SCALE, MOST_SCALE);
        let by = up / self.points_per_metre_up;
        if !by.is_finite() || by <= 0.0 {
            return self;
        }
        let held = self.section_from_page(about);
        let larger = View {
            points_per_metre_along: self.points_per_metre_along * by,
            points_per_metre_up: up,
            ..self
        };
        let now = larger.page_from_section(held);
        larger.moved(about.x - now.x, about.y - now.y)
    }

    /// The same view on a page of another size: what stood in the middle still does.
    pub fn on_page(self, page: Rect) -> View {
        let middle = self.section_from_page(self.page.centre());
        let moved = View { page, ..self };
        let now = moved.page_from_section(middle);
        let wanted = page.centre();
        moved.moved(wanted.x - now.x, wanted.y - now.y)
    }

    /// The same on a page of another size, smaller where else something of it would not be seen.
    pub fn whole_on(self, page: Rect) -> View {
        let (wide, tall) = (self.page.width().max(1.0), self.page.height().max(1.0));
        let share = (page.width().max(1.0) / wide).min(page.height().max(1.0) / tall);
        self.zoomed(share.min(1.0), self.page.centre())
            .on_page(page)
    }

    /// What the page shows of the section.
    pub fn shown(&self) -> Bounds {
        let low = self.section_from_page(pt(self.page.left, self.page.bottom));
        let high = self.section_from_page(pt(self.page.right, self.page.top));
        Bounds {
            left_m: low.along_m,
            right_m: high.along_m,
            low_m: low.z_m,
            high_m: high.z_m,
        }
    }
}
