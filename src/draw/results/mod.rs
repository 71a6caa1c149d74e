//! Results as the drawings show them: by part, by event and in words.

pub mod event_sentence;
pub mod outcome;
pub mod reports;
