//! Layout to network: each word of the layout ends up in the number it should.

mod bores;
mod findings;
mod fouled;
mod grade;
mod high_points;
mod lengths;
mod losses;
mod nodes;
mod nonsense;
mod openings;
mod overlaps;
mod parts;
mod pumps;
mod raised;
mod rims;
mod sills;
mod slopes;
mod spills;
mod valves;
mod vessels;
