//! Rules: each with one case that passes, one that fails, and one on the limit, which is allowed.

mod air;
mod blame;
mod case;
mod courses;
mod fill;
mod pages;
mod pumps;
mod rules;
mod runs;
mod silent;
mod supply;
mod vessels;
