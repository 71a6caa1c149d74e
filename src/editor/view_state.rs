//! How the page lies under the window, and how it is moved.

use crate::draw::shape::{Point, Rect};
use crate::draw::view::{Bounds, View};

/// The view of the section: fitted until somebody moves it.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct ViewState {
    /// As it was last drawn.
    view: Option<View>,
    /// As somebody laid it, on the page that there was: on a smaller one all of that is still seen, and on one as
    /// large again it lies as it did.
    laid: Option<View>,
}

impl ViewState {
    /// The view on a page of this size. As long as nobody moved it, all of `bounds` is seen.
    pub fn on(&mut self, page: Rect, bounds: Bounds) -> View {
        self.lie(page, || View::fitting(bounds, page))
    }

    /// The same with one scale in both directions, as a plan needs it.
    pub fn true_on(&mut self, page: Rect, bounds: Bounds) -> View {
        self.lie(page, || View::true_to_scale(bounds, page))
    }

    /// The same for a page that fits in its own way: `fitted` is the view of all of it.
    pub fn lying(&mut self, page: Rect, fitted: View) -> View {
        self.lie(page, || fitted)
    }

    fn lie(&mut self, page: Rect, fitted: impl FnOnce() -> View) -> View {
        let view = match self.laid {
            Some(laid) if laid.page == page => laid,
            Some(laid) => laid.whole_on(page),
            None => fitted(),
        };
        self.view = Some(view);
        view
    }

    /// The view as it was last drawn.
    pub fn view(&self) -> Option<View> {
        self.view
    }

    /// The view as somebody moved it; none as long as all is shown.
    pub fn moved_view(&self) -> Option<View> {
        self.laid
    }

    /// From now on it lies so, as if it had been moved there; none: as it lies.
    pub fn lie_as(&mut self, view: Option<View>) {
        if view.is_some() {
            self.view = view;
            self.laid = view;
        }
    }

    /// From now on it lies as it lies: what is drawn next does not move what is drawn already.
    pub fn hold(&mut self) {
        self.laid = self.view;
    }

    /// Shows everything again.
    pub fn fit(&mut self) {
        self.laid = None;
    }

    /// Moves the page by points.
    pub fn pan(&mut self, dx: f64, dy: f64) {
        if dx != 0.0 || dy != 0.0 {
            self.change(|view| view.moved(dx, dy));
        }
    }

    /// Enlarges the page about a point of it.
    pub fn zoom(&mut self, by: f64, about: Point) {
        if by != 1.0 {
            self.change(|view| view.zoomed(by, about));
        }
    }

    /// Brings a rectangle of the page into the middle third, if it is not seen well.
    pub fn bring(&mut self, part: Rect) {
        let Some(view) = self.view else { return };
        let centre = part.centre();
        if view.page.grown(-24.0).holds(centre) {
            return;
        }
        let middle = view.page.centre();
        self.pan(middle.x - centre.x, middle.y - centre.y);
    }

    fn change(&mut self, change: impl FnOnce(View) -> View) {
        if let Some(view) = self.view {
            self.view = Some(change(view));
            self.laid = self.view;
        }
    }
}
