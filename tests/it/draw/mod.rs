//! Drawings: letters, labels, and the files they become.

mod case;
mod contrast;
mod course;
mod duty;
mod examples;
mod files;
mod grade;
mod labels;
mod off_page;
mod plan;
mod real;
mod section;
mod sight;
mod stations;
mod svg;
mod text;
