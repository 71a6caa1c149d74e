//! Mapping of heights and lengths to the page and back.
//!
//! The section has two scales: heights are drawn larger than lengths, so that millimetres of water are visible beside
//! metres of pipe. All values are `f64`; nothing here gives NaN for a finite view.

use super::shape::{Point, Rect, pt};

/// A point in the section: metres along from the staff, metres above the datum.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct SectionPoint {
    /// Distance from the staff along the section, metres.
    pub along_m: f64,
    /// Elevation above the datum, metres.
    pub z_m: f64,
}

/// Makes a [`SectionPoint`].
pub fn at(along_m: f64, z_m: f64) -> SectionPoint {
    SectionPoint { along_m, z_m }
}

/// Extent of a drawing in the section, metres.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bounds {
    /// Smallest distance along.
    pub left_m: f64,
    /// Largest distance along.
    pub right_m: f64,
    /// Lowest height.
    pub low_m: f64,
    /// Highest height.
    pub high_m: f64,
}

impl Bounds {
    /// Returns the smallest bounds that contain all finite points; a square metre at the origin if there are none.
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

/// Smallest and largest scale of heights, points per metre: from a hill on a page to a millimetre the size of a thumb.
const LEAST_SCALE: f64 = 0.05;
const MOST_SCALE: f64 = 20_000.0;
/// Largest ratio of the scale of heights to that of lengths.
const MOST_STRETCH: f64 = 6.0;

/// Mapping of the section to the page.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct View {
    /// Area of the page for the section.
    pub page: Rect,
    /// Point of the section at the left and bottom edge of `page`.
    pub corner: SectionPoint,
    /// Horizontal scale, points per metre.
    pub points_per_metre_along: f64,
    /// Vertical scale, points per metre.
    pub points_per_metre_up: f64,
}

impl View {
    /// Returns the view that fits `bounds` on `page`, centred.
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

    /// Returns the view that fits `bounds` on `page`, centred, with one scale in both directions; for a plan, where a
    /// point is metres to the right and metres up the page.
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

    /// Converts a point of the section to the page.
    pub fn page_from_section(&self, place: SectionPoint) -> Point {
        pt(self.x(place.along_m), self.y(place.z_m))
    }

    /// Returns the x of a distance along the section.
    pub fn x(&self, along_m: f64) -> f64 {
        self.page.left + (along_m - self.corner.along_m) * self.points_per_metre_along
    }

    /// Returns the y of a height.
    pub fn y(&self, z_m: f64) -> f64 {
        self.page.bottom - (z_m - self.corner.z_m) * self.points_per_metre_up
    }

    /// Converts a point of the page to the section.
    pub fn section_from_page(&self, point: Point) -> SectionPoint {
        at(
            self.corner.along_m + (point.x - self.page.left) / self.points_per_metre_along,
            self.corner.z_m + (self.page.bottom - point.y) / self.points_per_metre_up,
        )
    }

    /// Returns the view panned by a distance on the page.
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

    /// Returns the view zoomed by a factor about a point of the page, which stays in place.
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

    /// Returns the view on a page of another size, with the same point in the middle.
    pub fn on_page(self, page: Rect) -> View {
        let middle = self.section_from_page(self.page.centre());
        let moved = View { page, ..self };
        let now = moved.page_from_section(middle);
        let wanted = page.centre();
        moved.moved(wanted.x - now.x, wanted.y - now.y)
    }

    /// Returns the view on a page of another size, zoomed out if it would not fit otherwise.
    pub fn whole_on(self, page: Rect) -> View {
        let (wide, tall) = (self.page.width().max(1.0), self.page.height().max(1.0));
        let share = (page.width().max(1.0) / wide).min(page.height().max(1.0) / tall);
        self.zoomed(share.min(1.0), self.page.centre())
            .on_page(page)
    }

    /// Returns the extent of the section that the page shows.
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
