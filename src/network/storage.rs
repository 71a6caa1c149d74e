//! Level–volume curves.

/// A band of depth in which the plan area open to water is a quadratic of the depth above its bottom.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Segment {
    /// Depth of its bottom above the floor, metres.
    pub bottom_m: f64,
    /// Area at its bottom, m².
    pub area_m2: f64,
    /// First coefficient, m²/m.
    pub linear_m: f64,
    /// Second coefficient, m²/m².
    pub square: f64,
}

impl Segment {
    fn area_at(&self, rise_m: f64) -> f64 {
        self.area_m2 + rise_m * (self.linear_m + rise_m * self.square)
    }

    fn volume_to(&self, rise_m: f64) -> f64 {
        rise_m * (self.area_m2 + rise_m * (self.linear_m / 2.0 + rise_m * self.square / 3.0))
    }
}

/// Volume of water against level. Straight-walled above its last segment; below
/// the floor it goes on with a sliver of area, so that the curve is strictly
/// rising everywhere and a vessel that is drawn empty has a level.
#[derive(Clone, Debug, PartialEq)]
pub struct Storage {
    floor_m: f64,
    segments: Vec<Segment>,
    volumes_m3: Vec<f64>,
    sliver_m2: f64,
}

/// Share of the largest area that the curve keeps below the floor; also the least slope given
/// out for a cone's tip, where the true one is 0 and would stall a Newton step.
const SLIVER: f64 = 1e-4;

impl Storage {
    /// A curve of `segments` with rising bottoms, the first at depth 0. An empty
    /// list counts as a vessel of 1 cm².
    pub fn new(floor_m: f64, mut segments: Vec<Segment>) -> Storage {
        if segments.is_empty() {
            segments.push(Segment {
                bottom_m: 0.0,
                area_m2: 1e-4,
                linear_m: 0.0,
                square: 0.0,
            });
        }
        let mut volumes_m3 = Vec::with_capacity(segments.len());
        let mut volume = 0.0;
        for (index, segment) in segments.iter().enumerate() {
            volumes_m3.push(volume);
            if let Some(next) = segments.get(index + 1) {
                volume += segment.volume_to(next.bottom_m - segment.bottom_m);
            }
        }
        let largest = segments
            .iter()
            .fold(0.0_f64, |most, segment| most.max(segment.area_m2));
        Storage {
            floor_m,
            segments,
            volumes_m3,
            sliver_m2: (SLIVER * largest).max(1e-12),
        }
    }

    /// A straight-walled vessel of one area.
    pub fn prism(floor_m: f64, area_m2: f64) -> Storage {
        Storage::new(
            floor_m,
            vec![Segment {
                bottom_m: 0.0,
                area_m2,
                linear_m: 0.0,
                square: 0.0,
            }],
        )
    }

    /// The level of an empty vessel, metres.
    pub fn floor_m(&self) -> f64 {
        self.floor_m
    }

    fn segment_at(&self, depth_m: f64) -> usize {
        self.segments
            .partition_point(|segment| segment.bottom_m <= depth_m)
            .saturating_sub(1)
    }

    /// Volume at a level, m³; negative below the floor.
    pub fn volume_m3(&self, level_m: f64) -> f64 {
        let depth = level_m - self.floor_m;
        if depth <= 0.0 {
            return self.sliver_m2 * depth;
        }
        let index = self.segment_at(depth);
        let segment = &self.segments[index];
        let rise = depth - segment.bottom_m;
        let last = index + 1 == self.segments.len();
        let area = if last {
            segment.area_m2 * rise
        } else {
            segment.volume_to(rise)
        };
        self.volumes_m3[index] + area
    }

    /// Area of the water surface at a level, m²; never below the sliver (see [`SLIVER`]).
    pub fn area_m2(&self, level_m: f64) -> f64 {
        let depth = level_m - self.floor_m;
        if depth <= 0.0 {
            return self.sliver_m2;
        }
        let index = self.segment_at(depth);
        let segment = &self.segments[index];
        let last = index + 1 == self.segments.len();
        let rise = depth - segment.bottom_m;
        let area = if last {
            segment.area_m2
        } else {
            segment.area_at(rise)
        };
        area.max(self.sliver_m2)
    }
}
