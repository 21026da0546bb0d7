"""Random buildable corners and their kinematics by SciPy least squares.

Writes data/<kind>.json. Every kind has its own coordinates, chosen to be unlike
a Newton iteration on world-frame twists:

- five-link, trailing-blade: wheel-centre displacement and a quaternion;
- double-wishbone, strut, links: hinge angles of real arms (and of the rocker),
  slide of the strut, rotation vector of the knuckle;
- semi-trailing-arm: the hinge angle alone, by Brent's method (closed form).

Lengths inside a corner are relative to the design wheel centre, which keeps
rounding small however far the axle is from the origin.

Run: python corners.py [--kind KIND ...] [--out FOLDER] [--cases N] [--jobs N]
"""

import argparse
import math
from concurrent.futures import ProcessPoolExecutor
from functools import partial
from pathlib import Path

import numpy as np
import scipy
from scipy.optimize import brentq

from common import (
    Hinge,
    Unbuildable,
    corner_stations,
    measure,
    metres,
    norm,
    rotation_from_quaternion,
    rotation_from_vector,
    spin_axis,
    unit,
    write,
)

SEED = 20251125
CASES = 200
TRAVELS = [-0.06, -0.03, 0.0, 0.03, 0.06]
PLAIN = [(t, 0.0) for t in TRAVELS]
WITH_RACK = PLAIN + [(0.03, 0.02), (-0.03, -0.03), (0.0, 0.03)]
DATA = Path(__file__).parent / "data"

# What still counts as a car: change from design over the travel, rack straight.
MOST_TOE, MOST_CAMBER = 5.0, 8.0  # deg
MOST_X, MOST_Y = 0.05, 0.06  # m
MOST_STEER = 35.0  # deg, with the rack moved
SPRING_RATIO = (-1.8, -0.1)  # the spring shortens in jounce


# --- the corners: coordinates q, closure residuals, knuckle pose -----------------


def on_knuckle(pose, design):
    """Where knuckle points are; `design` is relative to the design wheel centre."""
    centre, rotation = pose
    return centre[..., None, :] + design @ np.swapaxes(rotation, -1, -2)


class Rods:
    """A knuckle on rods: q = centre displacement (3), quaternion (4)."""

    links = "abcde"
    start = np.array([0, 0, 0, 1, 0, 0, 0], float)
    # Metres of movement that one unit of each coordinate makes, about.
    scale = np.array([1, 1, 1, 0.6, 0.6, 0.6, 0.6])

    def __init__(self, points):
        self.body = np.array([points[f"link.{i}.body"] for i in self.links])
        self.upright = np.array([points[f"link.{i}.upright"] for i in self.links])
        self.length = norm(self.upright - self.body)

    def pose(self, q):
        return q[..., :3], rotation_from_quaternion(q[..., 3:])

    def residual(self, q, pose, rack):
        rods = norm(on_knuckle(pose, self.upright) - self.body) - self.length
        return np.concatenate([rods, norm(q[..., 3:])[..., None] - 1], axis=-1)


class FiveLink(Rods):
    pass


class TrailingBlade(Rods):
    """Three rods and one knuckle point held in x and z."""

    links = "abc"

    def __init__(self, points):
        super().__init__(points)
        self.bush = points["blade.bush"]

    def residual(self, q, pose, rack):
        off = on_knuckle(pose, self.bush[None])[..., 0, :] - self.bush
        return np.concatenate([super().residual(q, pose, rack), off[..., ::2]], axis=-1)


class LowerArm:
    """Common part: a hinged lower arm carries the knuckle on its ball.

    q = lower arm angle, then the subclass's, last the knuckle's rotation vector.
    """

    def __init__(self, points):
        self.lower = Hinge(points["lower-arm.body-fore"], points["lower-arm.body-aft"])
        self.ball_design = points["lower-arm.ball"]
        self.ball = self.lower.carry(self.ball_design)
        self.tie_body = points["tie-rod.body"]
        self.tie_upright = points["tie-rod.upright"]
        self.tie_length = norm(self.tie_upright - self.tie_body)

    def pose(self, q):
        rotation = rotation_from_vector(q[..., -3:])
        return self.ball(q[..., 0]) - rotation @ self.ball_design, rotation

    def tie_rod(self, pose, rack):
        end = self.tie_body + np.array([0, rack, 0])
        rod = on_knuckle(pose, self.tie_upright[None])[..., 0, :] - end
        return (norm(rod) - self.tie_length)[..., None]


class DoubleWishbone(LowerArm):
    """q = lower arm, upper arm angles [rad], rotation vector."""

    start = np.zeros(5)
    scale = np.full(5, 0.3)

    def __init__(self, points):
        super().__init__(points)
        self.upper = Hinge(points["upper-arm.body-fore"], points["upper-arm.body-aft"])
        self.upper_design = points["upper-arm.ball"]
        self.upper_ball = self.upper.carry(self.upper_design)

    def residual(self, q, pose, rack):
        gap = on_knuckle(pose, self.upper_design[None])[..., 0, :]
        gap = gap - self.upper_ball(q[..., 1])
        return np.concatenate([gap, self.tie_rod(pose, rack)], axis=-1)


class Strut(LowerArm):
    """q = lower arm angle [rad], slide of the strut [m], rotation vector."""

    start = np.zeros(5)
    scale = np.array([0.3, 1, 0.3, 0.3, 0.3])

    def __init__(self, points):
        super().__init__(points)
        self.top = points["strut.top"]
        # Direction of the strut axis; it is fixed in the upright.
        self.axis = unit(self.top - points["strut.lower"])

    def residual(self, q, pose, rack):
        # The knuckle-fixed point of the axis that is at the top now.
        slide = self.top + q[..., 1:2] * self.axis
        gap = on_knuckle(pose, slide[..., None, :])[..., 0, :] - self.top
        return np.concatenate([gap, self.tie_rod(pose, rack)], axis=-1)


class Links(DoubleWishbone):
    """q = lower arm, upper arm, rocker angles [rad], rotation vector."""

    start = np.zeros(6)
    scale = np.array([0.3, 0.3, 0.08, 0.3, 0.3, 0.3])

    def __init__(self, points):
        super().__init__(points)
        rocker = Hinge(points["rocker.pivot-a"], points["rocker.pivot-b"])
        self.push_foot = self.lower.carry(points["push-rod.arm"])
        self.push_head = rocker.carry(points["push-rod.rocker"])
        self.push_length = norm(points["push-rod.arm"] - points["push-rod.rocker"])
        self.spring_end = rocker.carry(points["spring.rocker"])
        self.spring_body = points["spring.body"]

    def residual(self, q, pose, rack):
        rod = self.push_head(q[..., 2]) - self.push_foot(q[..., 0])
        push = (norm(rod) - self.push_length)[..., None]
        return np.concatenate([super().residual(q, pose, rack), push], axis=-1)

    def spring_length(self, q):
        return norm(self.spring_end(q[..., 2]) - self.spring_body)


def hinge_stations(points, wheel, stations):
    """The single-hinge corner in closed form; `points` in the car's frame."""
    hinge = Hinge(points["arm.pivot-inner"], points["arm.pivot-outer"])
    centre = np.asarray(wheel["centre"])
    along, radial, tangent = hinge.split(centre)

    def pose(travel):
        def miss(angle):
            # z of the centre after the turn, minus the height wanted
            height = radial[2] * (math.cos(angle) - 1) + tangent[2] * math.sin(angle)
            return height - travel

        # The stretch about design on which the height is monotonic in the angle.
        top = math.atan2(tangent[2], radial[2])
        low, high = (top - math.pi, top) if top > 0 else (top, top + math.pi)
        if miss(low) * miss(high) > 0 or abs(math.sin(top)) < 0.3:
            raise Unbuildable("out of reach")
        angle = brentq(miss, low, high, xtol=1e-15, rtol=1e-15)
        c, s = math.cos(angle), math.sin(angle)
        for _ in range(2):
            angle -= miss(angle) / (tangent[2] * c - radial[2] * s)
            c, s = math.cos(angle), math.sin(angle)
        rotation, d_rotation = hinge.rotation(angle)
        d_centre = c * tangent - s * radial
        position = hinge.start + along + c * radial + s * tangent
        rate = d_centre / d_centre[2], d_rotation / d_centre[2]
        return (position, rotation), rate

    return [
        measure(wheel, t, u, *pose(t), lambda h, t=t: pose(t + h)[0])
        for t, u in stations
    ]


def solve_corner(kind, points, wheel, stations):
    """Results of one corner; the entry for any geometry, random or from a source."""
    points = {name: np.array(p, float) for name, p in points.items()}
    wheel = {
        "centre": np.array(wheel["centre"], float),
        "spin": unit(np.array(wheel["spin"], float)),
        "radius": wheel["radius"],
    }
    if kind == "semi-trailing-arm":
        return hinge_stations(points, wheel, stations)
    local = {name: p - wheel["centre"] for name, p in points.items()}
    return corner_stations(CORNERS[kind](local), wheel, stations)


CORNERS = {
    "five-link": FiveLink,
    "semi-trailing-arm": None,
    "double-wishbone": DoubleWishbone,
    "strut": Strut,
    "trailing-blade": TrailingBlade,
    "links": Links,
}

# --- random geometries ----------------------------------------------------------
# Sensible designs as (x, y, z) [m] with the wheel centre at (0, 0.74, 0.30).
# Each draw moves every point by up to `spread` and then the whole corner.

FIVE_LINK = [
    {  # one trailing rod, two pairs of lateral rods
        "link.a": [(0.50, 0.52, 0.33), (0.06, 0.68, 0.22)],
        "link.b": [(0.08, 0.32, 0.21), (0.09, 0.68, 0.19)],
        "link.c": [(-0.12, 0.30, 0.22), (-0.10, 0.69, 0.20)],
        "link.d": [(0.10, 0.44, 0.46), (0.05, 0.64, 0.45)],
        "link.e": [(-0.08, 0.42, 0.47), (-0.06, 0.64, 0.455)],
    },
    {  # two trailing rods, three lateral rods
        "link.a": [(0.60, 0.56, 0.25), (0.05, 0.68, 0.20)],
        "link.b": [(0.55, 0.56, 0.40), (0.04, 0.66, 0.45)],
        "link.c": [(0.04, 0.30, 0.20), (0.03, 0.69, 0.18)],
        "link.d": [(-0.14, 0.30, 0.22), (-0.13, 0.69, 0.21)],
        "link.e": [(-0.03, 0.38, 0.43), (-0.02, 0.64, 0.44)],
    },
    {  # split lower and upper arms and a toe rod
        "link.a": [(0.32, 0.38, 0.20), (0.03, 0.68, 0.18)],
        "link.b": [(-0.06, 0.34, 0.18), (-0.02, 0.69, 0.17)],
        "link.c": [(0.16, 0.42, 0.52), (0.02, 0.64, 0.50)],
        "link.d": [(-0.15, 0.42, 0.50), (-0.03, 0.64, 0.50)],
        "link.e": [(-0.14, 0.35, 0.23), (-0.13, 0.68, 0.22)],
    },
]

WISHBONES = {
    "upper-arm.body-fore": (0.12, 0.42, 0.50),
    "upper-arm.body-aft": (-0.13, 0.42, 0.49),
    "upper-arm.ball": (-0.02, 0.66, 0.47),
    "lower-arm.body-fore": (0.15, 0.31, 0.20),
    "lower-arm.body-aft": (-0.24, 0.31, 0.21),
    "lower-arm.ball": (0.01, 0.71, 0.16),
}

STRUT = {
    "strut.top": (-0.03, 0.57, 0.86),
    "strut.lower": (0.0, 0.64, 0.42),
    "lower-arm.body-fore": (0.08, 0.36, 0.20),
    "lower-arm.body-aft": (-0.28, 0.37, 0.21),
    "lower-arm.ball": (0.0, 0.71, 0.17),
}

TIE_ROD = [  # behind and ahead of the axle
    {"tie-rod.body": (-0.15, 0.37, 0.26), "tie-rod.upright": (-0.14, 0.67, 0.23)},
    {"tie-rod.body": (0.14, 0.35, 0.23), "tie-rod.upright": (0.13, 0.69, 0.20)},
]

BLADE = {
    "blade.bush": (0.42, 0.68, 0.34),
    "link.a.body": (-0.16, 0.28, 0.22),
    "link.a.upright": (-0.14, 0.69, 0.20),
    "link.b.body": (0.10, 0.33, 0.21),
    "link.b.upright": (0.11, 0.67, 0.20),
    "link.c.body": (0.0, 0.39, 0.47),
    "link.c.upright": (0.0, 0.65, 0.46),
}

PUSH_ROD = {
    "push-rod.arm": (0.0, 0.64, 0.19),
    "push-rod.rocker": (0.0, 0.40, 0.58),
    "rocker.pivot-a": (0.04, 0.33, 0.54),
    "rocker.pivot-b": (-0.04, 0.33, 0.54),
    "spring.rocker": (0.0, 0.29, 0.61),
    "spring.body": (0.0, 0.06, 0.59),
}


def template(kind, index):
    """Design points of a kind; alternatives take turns."""
    if kind == "five-link":
        rods = FIVE_LINK[index % 3]
        ends = {f"{n}.body": r[0] for n, r in rods.items()}
        return ends | {f"{n}.upright": r[1] for n, r in rods.items()}
    if kind == "trailing-blade":
        return BLADE
    if kind == "strut":
        return STRUT | TIE_ROD[index % 2]
    if kind == "double-wishbone":
        return WISHBONES | TIE_ROD[index % 2]
    if kind == "links":
        return WISHBONES | TIE_ROD[index % 2] | PUSH_ROD
    raise ValueError(kind)


def draw_points(rng, kind, index):
    """Points of one draw, still about the template's wheel centre."""
    if kind == "semi-trailing-arm":
        inner = rng.uniform([0.30, 0.15, 0.22], [0.50, 0.35, 0.40])
        outer = rng.uniform([0.35, 0.50, 0.22], [0.60, 0.70, 0.40])
        if index % 10 == 0:  # a pure trailing arm
            outer[[0, 2]] = inner[[0, 2]]
        return {"arm.pivot-inner": inner, "arm.pivot-outer": outer}
    points = {}
    for name, place in template(kind, index).items():
        free = name.endswith(("body", "fore", "aft", "top"))
        spread = 0.035 if free else 0.018
        if "rocker" in name or name == "spring.body":
            spread = 0.015
        points[name] = np.array(place) + rng.uniform(-spread, spread, 3)
    return points


def draw(rng, kind, index):
    """One random geometry, rounded to 0.1 mm, which is what gets solved."""
    radius = round(rng.uniform(0.26, 0.34), 4)
    # Half of the corners at the front axle, half at a rear one.
    x = rng.uniform(-0.02, 0.02) - (rng.uniform(2.1, 2.8) if index % 4 > 1 else 0)
    centre = np.round([x, rng.uniform(0.66, 0.80), radius + 0.01], 4)
    shift = centre - np.array([0, 0.74, 0.30])
    points = draw_points(rng, kind, index)
    points = {n: np.round(p + shift, 4) for n, p in points.items()}
    if kind == "semi-trailing-arm" and index % 10 == 0:
        inner, outer = points["arm.pivot-inner"], points["arm.pivot-outer"]
        outer[[0, 2]] = inner[[0, 2]]
    spin = spin_axis(rng.uniform(-0.5, 0.5), rng.uniform(-3.0, 0.5))
    wheel = {"centre": metres(centre), "spin": metres(spin), "radius": radius}
    return {n: metres(p) for n, p in points.items()}, wheel


def sensible(results):
    """Whether the motion is that of a car."""
    design = next(r for r in results if r["travel"] == 0 and r["rack"] == 0)
    for r in results:
        low, high = SPRING_RATIO
        if not low <= r.get("spring_motion_ratio", low) <= high:
            return False
        toe = abs(r["toe_deg"] - design["toe_deg"])
        if r["rack"]:
            if toe > MOST_STEER:
                return False
            continue
        camber = abs(r["camber_deg"] - design["camber_deg"])
        x, y, _ = np.abs(np.subtract(r["centre"], design["centre"]))
        if toe > MOST_TOE or camber > MOST_CAMBER or x > MOST_X or y > MOST_Y:
            return False
    return True


def case(kind, index):
    """Case `index` of a kind: the first buildable draw of its own generator."""
    rng = np.random.default_rng([SEED, list(CORNERS).index(kind), index])
    steered = kind in ("double-wishbone", "strut", "links")
    stations = WITH_RACK if steered else PLAIN
    for _ in range(1000):
        points, wheel = draw(rng, kind, index)
        try:
            results = solve_corner(kind, points, wheel, stations)
        except Unbuildable:
            continue
        if sensible(results):
            return {"points": points, "wheel": wheel, "stations": results}
    raise RuntimeError(f"{kind} {index}: no buildable draw")


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--kind", nargs="+", choices=CORNERS, default=list(CORNERS))
    parser.add_argument("--out", type=Path, default=DATA)
    parser.add_argument("--cases", type=int, default=CASES)
    parser.add_argument("--jobs", type=int, default=2)
    options = parser.parse_args()
    options.out.mkdir(parents=True, exist_ok=True)
    with ProcessPoolExecutor(options.jobs) as pool:
        for kind in options.kind:
            work = partial(case, kind)
            cases = list(pool.map(work, range(options.cases), chunksize=5))
            head = {
                "kind": kind,
                "source": "SciPy least squares, script corners.py",
                "versions": {"scipy": scipy.__version__, "numpy": np.__version__},
                "seed": SEED,
            }
            if kind == "semi-trailing-arm":
                head["source"] = (
                    "closed form (Rodrigues, SciPy brentq), script corners.py"
                )
            write(options.out / f"{kind}.json", head, cases)
            print(f"{kind}: {len(cases)} cases")


if __name__ == "__main__":
    main()
