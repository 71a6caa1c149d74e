//! The page: shapes, text, colours, the mapping from metres to points, and the title and note of a sheet.

pub mod frame;
pub mod shape;
pub mod site_photo;
pub mod text;
pub mod theme;
pub mod view;
