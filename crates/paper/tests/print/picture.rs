//! Measuring on a grey picture as one would with a lens.

use resvg::tiny_skia::Pixmap;

/// Darkness of each pixel, 0 to 255.
pub struct Picture {
    pub width: usize,
    pub height: usize,
    dark: Vec<u8>,
    /// Pixels a millimetre.
    pub per_mm: f64,
}

/// Darker than this belongs to a line.
const INK: u8 = 40;

impl Picture {
    pub fn from_png(bytes: &[u8], dpi: f64) -> Self {
        let map = Pixmap::decode_png(bytes).unwrap();
        let dark = map.pixels().iter().map(|p| 255 - p.green()).collect();
        Self { width: map.width() as usize, height: map.height() as usize, dark, per_mm: dpi / 25.4 }
    }

    /// A binary PGM of 255 greys, as `pdftoppm -gray` writes.
    pub fn from_pgm(bytes: &[u8], dpi: f64) -> Self {
        let mut words = Vec::new();
        let mut at = 0;
        while words.len() < 4 {
            let end = at + bytes[at..].iter().position(u8::is_ascii_whitespace).unwrap();
            words.push(std::str::from_utf8(&bytes[at..end]).unwrap());
            at = end + 1;
        }
        assert_eq!((words[0], words[3]), ("P5", "255"));
        let (width, height) = (words[1].parse().unwrap(), words[2].parse().unwrap());
        let dark: Vec<u8> = bytes[at..].iter().map(|v| 255 - v).collect();
        assert_eq!(dark.len(), width * height);
        Self { width, height, dark, per_mm: dpi / 25.4 }
    }

    fn at(&self, along: usize, across: usize, upright: bool) -> u8 {
        let (x, y) = if upright { (across, along) } else { (along, across) };
        if x < self.width && y < self.height { self.dark[y * self.width + x] } else { 0 }
    }

    fn length(&self, upright: bool) -> usize {
        if upright { self.height } else { self.width }
    }

    /// Middles [mm] of the lines that cross a row (or column, `upright`) at `across` [mm], between two places [mm].
    pub fn crossings(&self, across: f64, from: f64, to: f64, upright: bool) -> Vec<f64> {
        let row = (across * self.per_mm) as usize;
        let pixel = |mm: f64| ((mm * self.per_mm).max(0.0) as usize).min(self.length(upright));
        let mut out = Vec::new();
        let (mut weight, mut moment) = (0.0, 0.0);
        for along in pixel(from)..=pixel(to) {
            let dark = self.at(along, row, upright);
            if dark > INK {
                weight += f64::from(dark);
                moment += f64::from(dark) * (along as f64 + 0.5);
            } else if weight > 0.0 {
                out.push(moment / weight / self.per_mm);
                (weight, moment) = (0.0, 0.0);
            }
        }
        out
    }

    /// Straight lines along the rows (or columns) whose length is within a range [mm]: the middle across, and the
    /// start.
    pub fn lines(&self, least: f64, most: f64, upright: bool) -> Vec<(f64, f64)> {
        let mut found: Vec<(f64, f64, f64)> = Vec::new();
        for across in 0..self.length(!upright) {
            let mut start = None;
            for along in 0..=self.length(upright) {
                let ink = self.at(along, across, upright) > INK;
                match (ink, start) {
                    (true, None) => start = Some(along),
                    (false, Some(from)) => {
                        let length = (along - from) as f64 / self.per_mm;
                        if (least..=most).contains(&length) {
                            let dark = f64::from(self.at((from + along) / 2, across, upright));
                            found.push((across as f64 + 0.5, from as f64 / self.per_mm, dark));
                        }
                        start = None;
                    }
                    _ => {}
                }
            }
        }
        // Neighbouring rows are one line.
        let mut lines: Vec<(f64, f64)> = Vec::new();
        for group in found.chunk_by(|a, b| b.0 - a.0 < 1.5) {
            let weight: f64 = group.iter().map(|g| g.2).sum();
            let middle = group.iter().map(|g| g.0 * g.2).sum::<f64>() / weight;
            lines.push((middle / self.per_mm, group[0].1));
        }
        lines
    }
}
