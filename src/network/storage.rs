//! Level–volume curves.

/// A band of depth in which the water surface area is a quadratic of the depth above its bottom.
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

    /// Its largest area up to a height.
    fn largest_m2(&self, height_m: f64) -> f64 {
        let turns = -0.5 * self.linear_m / self.square;
        let inside = turns > 0.0 && turns < height_m;
        let places = [0.0, height_m, if inside { turns } else { 0.0 }];
        places
            .map(|rise| self.area_at(rise))
            .into_iter()
            .fold(0.0, f64::max)
    }

    /// Heights between 0 and `height_m` at which the area crosses `area_m2`, in ascending order.
    fn crossings(&self, area_m2: f64, height_m: f64) -> Vec<f64> {
        let (a, b, c) = (self.square, self.linear_m, self.area_m2 - area_m2);
        let root = (b * b - 4.0 * a * c).sqrt();
        // The form without cancellation, also where there is no quadratic term.
        let q = -0.5 * (b + root.copysign(b));
        let mut found: Vec<f64> = [q / a, c / q]
            .into_iter()
            .filter(|rise| *rise > 0.0 && *rise < height_m)
            .collect();
        found.sort_by(f64::total_cmp);
        found.dedup();
        found
    }

    /// The part of the segment above a height over its bottom.
    fn above(&self, rise_m: f64) -> Segment {
        Segment {
            bottom_m: self.bottom_m + rise_m,
            area_m2: self.area_at(rise_m),
            linear_m: self.linear_m + 2.0 * rise_m * self.square,
            square: self.square,
        }
    }

    fn volume_to(&self, rise_m: f64) -> f64 {
        rise_m * (self.area_m2 + rise_m * (self.linear_m / 2.0 + rise_m * self.square / 3.0))
    }
}

/// Volume of water against level. Straight-walled above its last segment; below the floor it continues with a
/// minute area, so that the curve is strictly increasing everywhere and a vessel that is drawn empty has a level.
#[derive(Clone, Debug, PartialEq)]
pub struct Storage {
    floor_m: f64,
    segments: Vec<Segment>,
    volumes_m3: Vec<f64>,
    sliver_m2: f64,
}

/// Fraction of the largest area that the curve keeps below the floor. Where there is less above it, as in the tip of a
/// cone, the water of that band stands between straight walls: a level without area has no volume balance, and the area
/// that the curve returns must be its derivative.
const SLIVER: f64 = 1e-4;
/// Fraction of that minimum area kept by a band that holds almost no water, being solid from wall to wall.
const NARROWEST: f64 = 1e-2;

impl Storage {
    /// A curve of `segments` with ascending bottoms, the first at depth 0. An empty list counts as a vessel of 1
    /// cm².
    pub fn new(floor_m: f64, mut segments: Vec<Segment>) -> Storage {
        if segments.is_empty() {
            segments.push(Segment {
                bottom_m: 0.0,
                area_m2: 1e-4,
                linear_m: 0.0,
                square: 0.0,
            });
        }
        let heights = segments.windows(2).map(|pair| match pair {
            [one, next] => next.bottom_m - one.bottom_m,
            _ => 0.0,
        });
        let largest = segments
            .iter()
            .zip(heights.chain([0.0]))
            .fold(0.0_f64, |most, (segment, height)| {
                most.max(segment.largest_m2(height))
            });
        let sliver_m2 = (SLIVER * largest).max(1e-12);
        let segments = widened(&segments, sliver_m2);
        let mut volumes_m3 = Vec::with_capacity(segments.len());
        let mut volume = 0.0;
        for (index, segment) in segments.iter().enumerate() {
            volumes_m3.push(volume);
            if let Some(next) = segments.get(index + 1) {
                volume += segment.volume_to(next.bottom_m - segment.bottom_m);
            }
        }
        Storage {
            floor_m,
            segments,
            volumes_m3,
            sliver_m2,
        }
    }

    /// A straight-walled vessel of constant area.
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

    /// The area with which the curve continues below the floor, m².
    pub fn least_area_m2(&self) -> f64 {
        self.sliver_m2
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

    /// Area of the water surface at a level, m²: the derivative of the volume, and never close to zero (see
    /// [`SLIVER`]).
    pub fn area_m2(&self, level_m: f64) -> f64 {
        let depth = level_m - self.floor_m;
        if depth <= 0.0 {
            return self.sliver_m2;
        }
        let index = self.segment_at(depth);
        let segment = &self.segments[index];
        if index + 1 == self.segments.len() {
            segment.area_m2
        } else {
            segment.area_at(depth - segment.bottom_m)
        }
    }
}

/// The same volumes with no band of less area than `sliver_m2`: the water of such a band stands between straight walls,
/// with the same volume at the top of the band.
fn widened(segments: &[Segment], sliver_m2: f64) -> Vec<Segment> {
    let mut wide = Vec::with_capacity(segments.len());
    for (index, segment) in segments.iter().enumerate() {
        let Some(next) = segments.get(index + 1) else {
            let area_m2 = segment.area_m2.max(sliver_m2);
            wide.push(Segment {
                area_m2,
                ..*segment
            });
            continue;
        };
        let height = next.bottom_m - segment.bottom_m;
        let mut edges = vec![0.0];
        edges.extend(segment.crossings(sliver_m2, height));
        edges.push(height);
        for ends in edges.windows(2) {
            let &[low, high] = ends else { continue };
            let narrow = segment.area_at(0.5 * (low + high)) < sliver_m2;
            wide.push(if narrow {
                let water = segment.volume_to(high) - segment.volume_to(low);
                Segment {
                    bottom_m: segment.bottom_m + low,
                    area_m2: (water / (high - low)).max(NARROWEST * sliver_m2),
                    linear_m: 0.0,
                    square: 0.0,
                }
            } else {
                segment.above(low)
            });
        }
    }
    wide
}
