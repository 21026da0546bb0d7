"""Compares the scripts' solver with the tables kept in closed_forms.py.

Those figures come from elsewhere (see there), to the digits shown; a difference
above half a unit of the last digit raises AssertionError. Also compares every
semi-trailing arm of the data with a second closed form.

Run: python printed.py
"""

import math
from pathlib import Path

import numpy as np

import closed_forms as printed
from closed_forms import rows, skew_axis
from common import along, closure, free_motion, polish, read, track, unit
from corners import DoubleWishbone, FiveLink, solve_corner

DATA = Path(__file__).parent / "data"
HALF_DIGIT = 0.51e-6  # six decimals: lengths [m], slopes
HALF_DIGIT_DEG = 0.51e-5  # five decimals [deg]


class Table:
    """A corner in the terms of the printed tables."""

    def __init__(self, corner, points, wheel):
        self.centre = np.array(wheel["centre"])
        self.spin = unit(np.array(wheel["spin"]))
        self.corner = corner(
            {name: np.array(p) - self.centre for name, p in points.items()}
        )
        up = np.array([0, 0, 1.0])
        # The knuckle-fixed point that touches the ground in design position.
        self.contact = -wheel["radius"] * unit(up - self.spin[2] * self.spin)

    def row(self, q, rack=0.0):
        def mark(q):
            centre, rotation = self.corner.pose(q)
            return self.centre + centre + rotation @ self.contact

        offset, rotation = self.corner.pose(q)
        centre, contact, s = self.centre + offset, mark(q), rotation @ self.spin
        motion = free_motion(self.corner, q, rack)
        v_centre = along(lambda q: self.corner.pose(q)[0], q, motion)
        v_contact = along(mark, q, motion)
        found = {f"centre_{n}": centre[i] for i, n in enumerate("xyz")}
        found |= {f"contact_{n}": contact[i] for i, n in enumerate("xyz")}
        return found | {
            "toe_deg": math.degrees(math.atan2(s[0], s[1])),
            "camber_projected_deg": -math.degrees(math.atan2(s[2], s[1])),
            "contact_dx_dz": v_contact[0] / v_contact[2],
            "contact_dy_dz": v_contact[1] / v_contact[2],
            "centre_dx_dz": v_centre[0] / v_centre[2],
        }

    def at_travel(self, travel):
        corner = self.corner
        return self.row(track(corner, corner.start, (0.0, 0.0), (travel, 0.0)))

    def at_rack(self, rack):
        """Row with the first coordinate, the lower arm's angle, held."""
        q = self.corner.start
        for u in np.linspace(0, rack, 21):

            def held(q, u=u):
                return np.concatenate(
                    [closure(self.corner, q, 0.0, u)[..., :-1], q[..., :1]], axis=-1
                )

            q = polish(held, q)[0]
        return self.row(q, rack)


def compare(place, found, expected):
    """Largest difference over its allowance."""
    worst = 0.0
    for name, value in expected.items():
        if name in ("travel", "rack"):
            continue
        allowed = HALF_DIGIT_DEG if "deg" in name else HALF_DIGIT
        off = abs(found[name] - value)
        assert off <= allowed, f"{place}, {name}: {found[name]:.8f}, printed {value}"
        worst = max(worst, off / allowed)
    return worst


def tables():
    worst = 0.0
    points, wheel = printed.WISHBONE_POINTS, printed.WISHBONE_WHEEL
    table = Table(DoubleWishbone, points, wheel)
    for row in rows(printed.WISHBONE_COLUMNS, printed.WISHBONE_ROWS):
        found = table.at_travel(row["travel"])
        worst = max(worst, compare(f"wishbone travel {row['travel']}", found, row))
    for row in rows(printed.WISHBONE_RACK_COLUMNS, printed.WISHBONE_RACK_ROWS):
        found = table.at_rack(row["rack"])
        worst = max(worst, compare(f"wishbone rack {row['rack']}", found, row))
    design = solve_corner("double-wishbone", points, wheel, [(0.0, 0.0)])[0]
    worst = max(worst, compare("wishbone design", design, printed.WISHBONE_DESIGN))

    points, wheel = printed.FIVE_LINK_POINTS, printed.FIVE_LINK_WHEEL
    table = Table(FiveLink, points, wheel)
    for row in rows(printed.FIVE_LINK_COLUMNS, printed.FIVE_LINK_ROWS):
        found = table.at_travel(row["travel"])
        worst = max(worst, compare(f"five-link travel {row['travel']}", found, row))
    print(f"printed tables: all within {worst / 2:.2f} of a unit of the last digit")


def single_axes(data):
    """Brent's method in corners.py against the arcsine in closed_forms.py."""
    worst = 0.0
    for index, case in enumerate(read(data / "semi-trailing-arm.json")["cases"]):
        for station in case["stations"]:
            other = skew_axis(case["points"], case["wheel"], station["travel"])
            for name in set(other) & set(station):
                off = np.abs(np.subtract(other[name], station[name])).max()
                allowed = 1e-8 if "deg" in name else 1e-11
                assert off <= allowed, f"semi-trailing-arm case {index}, {name}: {off}"
                worst = max(worst, off / allowed)
    print(f"single axes: two closed forms within {worst:.2f} of 1e-11 m, 1e-8 deg")


def main(data=DATA):
    tables()
    single_axes(data)


if __name__ == "__main__":
    main()
