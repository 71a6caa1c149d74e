//! Pictures made smaller.

use super::Raster;

impl Raster {
    /// The same picture with at most `side` dots a side (at least 1): each dot is the mean of a square of dots,
    /// weighted by how opaque they are. A picture that is small enough comes back as it is.
    #[must_use]
    pub fn at_most(self, side: usize) -> Raster {
        let step = self.width.max(self.height).div_ceil(side.max(1)).max(1);
        if step == 1 {
            return self;
        }
        let (width, height) = (self.width.div_ceil(step), self.height.div_ceil(step));
        let mut rgba = Vec::with_capacity(4 * width * height);
        for row in 0..height {
            for column in 0..width {
                rgba.extend(self.mean(row * step, column * step, step));
            }
        }
        Raster {
            width,
            height,
            rgba,
        }
    }

    /// The mean of a square of dots, as far as there are any.
    fn mean(&self, top: usize, left: usize, step: usize) -> [u8; 4] {
        let right = (left + step).min(self.width);
        let (mut sum, mut count) = ([0_u64; 4], 0_u64);
        for row in top..(top + step).min(self.height) {
            let start = 4 * (row * self.width + left);
            let dots = self.rgba.get(start..start + 4 * (right - left));
            for dot in dots.unwrap_or_default().chunks_exact(4) {
                let [red, green, blue, opacity] = *dot else {
                    continue;
                };
                let weight = u64::from(opacity);
                for (sum, part) in sum.iter_mut().zip([red, green, blue]) {
                    *sum += weight * u64::from(part);
                }
                sum[3] += weight;
                count += 1;
            }
        }
        let [red, green, blue, opacity] = sum;
        // A mean of bytes is a byte.
        let byte = |sum: u64, of: u64| u8::try_from(sum / of.max(1)).unwrap_or(u8::MAX);
        [
            byte(red, opacity),
            byte(green, opacity),
            byte(blue, opacity),
            byte(opacity, count),
        ]
    }
}
