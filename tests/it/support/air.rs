//! Layouts with a high point that can hold air.

use fallwright::file::{Format, parse};
use fallwright::layout::Layout;

/// A pump fills tank A; a bridge over a high point joins it to tank B, under water at both ends.
pub const BRIDGE: &str = r#"(
  fallwright: 1,
  title: "Inverted U between two tanks",
  vessels: [
    (id: "sump", name: "Sump", role: sump, shape: prism(area_m2: 3), floor_m: -1.0, rim_m: 0.2, fill_m: -0.1),
    (id: "a", name: "Tank A", shape: prism(area_m2: 2), floor_m: 0.5, rim_m: 1.6, fill_m: 1.3),
    (id: "b", name: "Tank B", shape: prism(area_m2: 2), floor_m: 0.5, rim_m: 1.6, fill_m: 1.3),
  ],
  runs: [
    (id: "lift", name: "Lift", from: (at: "sump", opening: submerged()), to: (at: "a", opening: mouth(lip_m: 1.7)), pipe: own(bore_m: 0.05), length_m: 4,
      pump: (id: "pump", curve: power(h0_m: 5, c: 2.0e6, n: 2))),
    (id: "bridge", name: "Bridge", from: (at: "a", opening: submerged(lip_m: 0.7)), to: (at: "b", opening: submerged(lip_m: 0.7)), pipe: own(bore_m: 0.08),
      route: [(x_m: 0.5, y_m: 0, z_m: 1.5), (x_m: 2.5, y_m: 0, z_m: 1.5)]),
    (id: "over", name: "Overflow A", from: (at: "a", opening: upstand(crest_m: 1.45)), to: (at: "sump", opening: mouth(lip_m: 0.1)), pipe: own(bore_m: 0.1), length_m: 3),
    (id: "drain", name: "Drain", from: (at: "b", opening: upstand(crest_m: 1.2)), to: (at: "sump", opening: mouth(lip_m: 0.1)), pipe: own(bore_m: 0.1), length_m: 3),
  ],
)"#;

/// A pump fills a tank that only a hose over its rim could drain.
pub const HOSE: &str = r#"(
  fallwright: 1,
  title: "Siphon over the rim",
  vessels: [
    (id: "sump", name: "Sump", role: sump, shape: prism(area_m2: 3), floor_m: -1.0, rim_m: 0.2, fill_m: -0.1),
    (id: "tank", name: "Tank", shape: prism(area_m2: 2), floor_m: 0.5, rim_m: 1.6, fill_m: 1.0),
  ],
  runs: [
    (id: "lift", name: "Lift", from: (at: "sump", opening: submerged()), to: (at: "tank", opening: mouth(lip_m: 1.7)), pipe: own(bore_m: 0.05), length_m: 4,
      pump: (id: "pump", curve: power(h0_m: 5, c: 2.0e6, n: 2))),
    (id: "hose", name: "Hose", from: (at: "tank", opening: mouth(lip_m: 0.9, turned: down)), to: (at: "sump", opening: submerged(lip_m: -0.8)), pipe: own(bore_m: 0.06),
      route: [(x_m: 1, y_m: 0, z_m: 1.75), (x_m: 2, y_m: 0, z_m: 1.75)]),
  ],
)"#;

/// A pump lifts over a high point, down again, and into a tank under water.
pub const LIFT: &str = r#"(
  fallwright: 1,
  title: "Pump over a high point",
  vessels: [
    (id: "sump", name: "Sump", role: sump, shape: prism(area_m2: 3), floor_m: -1.0, rim_m: 0.2, fill_m: -0.1),
    (id: "tank", name: "Tank", shape: prism(area_m2: 2), floor_m: 0.5, rim_m: 1.6, fill_m: 1.2),
  ],
  runs: [
    (id: "lift", name: "Lift", from: (at: "sump", opening: submerged(lip_m: -0.8)), to: (at: "tank", opening: submerged(lip_m: 0.8)), pipe: own(bore_m: 0.05),
      route: [(x_m: 1, y_m: 0, z_m: -0.5), (x_m: 2, y_m: 0, z_m: 2.6), (x_m: 6, y_m: 0, z_m: 0.8)],
      pump: (id: "pump", curve: power(h0_m: 4.5, c: 2.0e6, n: 2))),
    (id: "drain", name: "Drain", from: (at: "tank", opening: upstand(crest_m: 1.2)), to: (at: "sump", opening: mouth(lip_m: 0.1)), pipe: own(bore_m: 0.1), length_m: 3),
  ],
)"#;

/// A layout from its text.
pub fn read(text: &str) -> Layout {
    parse(text, Format::Ron).expect("a sound layout")
}

/// The bridge, filled by hand.
pub fn filled_bridge() -> Layout {
    let mut layout = read(BRIDGE);
    let bridge = layout
        .runs
        .iter_mut()
        .find(|run| run.id.as_str() == "bridge");
    bridge.expect("a bridge").starts_primed = true;
    layout
}
