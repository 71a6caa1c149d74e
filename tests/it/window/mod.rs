//! The window, driven by accessible names, without a display.

mod commands;
mod curve;
mod files;
mod guard;
mod keys;
mod keys_page;
mod letters;
mod office;
mod panel;
mod story;
mod survey;
mod time;
mod underlay;
