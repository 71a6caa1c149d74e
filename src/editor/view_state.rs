//! The view of a page, and how it is panned and zoomed.

use crate::draw::page::shape::{Point, Rect};
use crate::draw::page::view::{Bounds, View};

/// The view of a drawing: fitted until the user moves it.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct ViewState {
    /// The view as last drawn.
    view: Option<View>,
    /// The view set by the user, and the page size at that time. On a smaller page all of it stays visible; on the
    /// old size it returns.
    laid: Option<View>,
}

impl ViewState {
    /// The view on a page of this size. Until the user moves it, it shows all of `bounds`.
    pub fn on(&mut self, page: Rect, bounds: Bounds) -> View {
        self.lie(page, || View::fitting(bounds, page))
    }

    /// The same with one scale in both directions, as a plan needs it.
    pub fn true_on(&mut self, page: Rect, bounds: Bounds) -> View {
        self.lie(page, || View::true_to_scale(bounds, page))
    }

    /// The same with a given fit: `fitted` shows everything.
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

    /// The view as last drawn.
    pub fn view(&self) -> Option<View> {
        self.view
    }

    /// The view set by the user; none while everything is fitted.
    pub fn moved_view(&self) -> Option<View> {
        self.laid
    }

    /// Sets the view as if the user had moved it there; none keeps the present one.
    pub fn lie_as(&mut self, view: Option<View>) {
        if view.is_some() {
            self.view = view;
            self.laid = view;
        }
    }

    /// Keeps the present view, so that the next part drawn does not move the others.
    pub fn hold(&mut self) {
        self.laid = self.view;
    }

    /// Fits everything again.
    pub fn fit(&mut self) {
        self.laid = None;
    }

    /// Pans by points.
    pub fn pan(&mut self, dx: f64, dy: f64) {
        if dx != 0.0 || dy != 0.0 {
            self.change(|view| view.moved(dx, dy));
        }
    }

    /// Zooms about a point of the page.
    pub fn zoom(&mut self, by: f64, about: Point) {
        if by != 1.0 {
            self.change(|view| view.zoomed(by, about));
        }
    }

    /// Brings a rectangle of the page into the middle third, if it is not well visible.
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
