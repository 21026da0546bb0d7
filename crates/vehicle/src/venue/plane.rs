//! Latitude and longitude on a plane.

use super::VenueError;

/// Half axis of the WGS 84 ellipsoid [m] and its flattening (NIMA TR8350.2; remembered).
const AXIS: f64 = 6_378_137.0;
const FLATTENING: f64 = 1.0 / 298.257_223_563;

/// Farthest extent that is taken for a plane [m]: the scale across is off by half the square of a latitude's difference
/// times its tangent, 1e-5 at 10 km and 50 degrees.
const FARTHEST: f64 = 20_000.0;

/// Places in metres east and north of their middle, from latitude and longitude in degrees, by the ellipsoid's radii of
/// curvature there,
///
/// ```text
/// M = a (1 - e^2)/(1 - e^2 sin^2 p)^(3/2)      N = a/(1 - e^2 sin^2 p)^(1/2)
/// east = N cos(p) dl                           north = M dp
/// ```
///
/// (any text on geodesy; W. Torge, Geodesy (2001), remembered).
///
/// # Errors
/// Places that are none on the globe, or too far apart.
pub fn plane(degrees: &[[f64; 2]]) -> Result<Vec<[f64; 2]>, VenueError> {
    for (i, at) in degrees.iter().enumerate() {
        if !(at[0].abs() <= 85.0 && at[1].abs() <= 360.0) {
            return Err(VenueError::Figure { what: "point", index: i + 1 });
        }
    }
    let count = degrees.len().max(1) as f64;
    let first = degrees.first().copied().unwrap_or_default();
    // About the first point, so that a course over the date line stays in one piece.
    let wrap = |lon: f64| (lon - first[1] + 540.0).rem_euclid(360.0) - 180.0;
    let middle = [
        degrees.iter().map(|at| at[0]).sum::<f64>() / count,
        degrees.iter().map(|at| wrap(at[1])).sum::<f64>() / count,
    ];
    let square = FLATTENING * (2.0 - FLATTENING);
    let (sin, cos) = middle[0].to_radians().sin_cos();
    let under = 1.0 - square * sin * sin;
    let (meridian, across) = (AXIS * (1.0 - square) / under.powf(1.5), AXIS / under.sqrt());
    let at = |d: &[f64; 2]| {
        [across * cos * (wrap(d[1]) - middle[1]).to_radians(), meridian * (d[0] - middle[0]).to_radians()]
    };
    let places: Vec<[f64; 2]> = degrees.iter().map(at).collect();
    let far = places.iter().map(|p| p[0].hypot(p[1])).fold(0.0, f64::max);
    if far > FARTHEST { Err(VenueError::Globe { extent: 2e-3 * far }) } else { Ok(places) }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A degree of latitude is 110 574 m at the equator and 111 132 m at 45 degrees, one of longitude 111 320 m and
    /// 78 847 m (tables of the ellipsoid; remembered).
    #[test]
    fn lengths_of_a_degree() {
        for (lat, north, east) in [(0.0, 110_574.0, 111_320.0), (45.0, 111_132.0, 78_847.0)] {
            let p = plane(&[[lat - 0.05, 10.0], [lat + 0.05, 10.0], [lat, 9.95], [lat, 10.05]]).unwrap();
            assert!((10.0 * (p[1][1] - p[0][1]) - north).abs() < 2.0, "{p:?}");
            assert!((10.0 * (p[3][0] - p[2][0]) - east).abs() < 2.0, "{p:?}");
        }
        let over = plane(&[[10.0, 179.99], [10.0, -179.99]]).unwrap();
        assert!((over[1][0] - over[0][0] - 0.02 * 111_320.0 * 0.985).abs() < 10.0, "{over:?}");
        assert!(plane(&[[0.0, 0.0], [1.0, 1.0]]).is_err());
        assert!(plane(&[[f64::NAN, 0.0]]).is_err());
    }
}
