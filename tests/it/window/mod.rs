//! Tests of the window, driven by accessible names, without a display.

mod along;
mod care;
mod commands;
mod compare;
mod curve;
mod drinking;
mod duty;
mod files;
mod grade;
mod guard;
mod keys;
mod keys_page;
mod letters;
mod office;
mod outcome;
mod panel;
mod room;
#[cfg(feature = "pictures")]
mod screens;
mod story;
mod survey;
mod tables;
mod time;
mod underlay;
