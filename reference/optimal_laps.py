"""The fastest run over a given path, by direct optimal control: transcription of the
whole course into one nonlinear programme, solved by IPOPT through CasADi.

Two cars: a point mass with a friction ellipse, drag and a limit of power; and a single
track whose two axles have an ellipse each, load transfer along, a fixed share of braking
at the front and drive at the rear; once without and once with the inertia of yaw: the
heading follows the path, so that the yaw moment of the axles has to bring about every
change of curvature and speed.
The Rust crate has a quasi-steady run instead, forward and backward in one pass each.

The path is curvature over way; the programme has the speed and the longitudinal force
(and the axles' side forces) at every place, and the trapezoidal rule between.

Run: python optimal_laps.py [--out FOLDER]
"""

import argparse
import json
from pathlib import Path

import casadi as ca
import numpy as np

HERE = Path(__file__).parent
G = 9.80665
STEP = 2.0

POINT = {"across": 1.1, "braking": 1.05, "driving": 0.9, "drag": 0.0006, "power": 170.0, "fastest": 75.0}
TRACK = {"mass": 1100.0, "yaw_inertia": 1500.0, "front": 1.25, "rear": 1.30, "height": 0.45, "front_share": 0.62,
         "along": 1.10, "across": 1.12, "drag": 0.45, "power": 150e3, "fastest": 75.0}

# Length [m], curvature at its start and its end [1/m]: clothoids between, so that no course has an edge.
COURSES = {
    "long": [(400, 0, 0), (40, 0, 1 / 90), (60, 1 / 90, 1 / 90), (40, 1 / 90, 0), (300, 0, 0), (30, 0, -1 / 45),
             (50, -1 / 45, -1 / 45), (30, -1 / 45, 0), (500, 0, 0), (50, 0, 1 / 200), (80, 1 / 200, 1 / 200),
             (50, 1 / 200, 0), (200, 0, 0)],
    "twisty": [(60, 0, 0)] + [p for k in range(5) for p in
                              [(20, 0, (-1) ** k / 25), (24, (-1) ** k / 25, (-1) ** k / 25), (20, (-1) ** k / 25, 0),
                               (30, 0, 0)]] + [(60, 0, 0)],
    "hairpin": [(250, 0, 0), (24, 0, 1 / 18), (40, 1 / 18, 1 / 18), (24, 1 / 18, 0), (350, 0, 0)],
}
START = 15.0


def curvature(pieces):
    total = sum(p[0] for p in pieces)
    count = round(total / STEP) + 1
    out = []
    for i in range(count):
        way, at = i * STEP, 0.0
        for length, a, b in pieces:
            if way <= at + length + 1e-9:
                out.append(a + (b - a) * (way - at) / length)
                break
            at += length
    return np.array(out)


def solve(k, car, build):
    """Least time; `build` adds the car's own unknowns and limits."""
    n = len(k)
    opti = ca.Opti()
    v = opti.variable(n)
    a = opti.variable(n)
    # d(v^2)/ds = 2 a, by the trapezoidal rule.
    opti.subject_to(v[1:] ** 2 - v[:-1] ** 2 == STEP * (a[1:] + a[:-1]))
    opti.subject_to(v[0] == START)
    opti.subject_to(opti.bounded(2.0, v, car["fastest"]))
    # A pedal does not jump from place to place.
    opti.subject_to(opti.bounded(-30.0, a, 30.0))
    build(opti, v, a)
    opti.minimize(ca.sum1(2 * STEP / (v[1:] + v[:-1])))
    corner = np.sqrt(0.8 * G / np.maximum(np.abs(k), 1e-4))
    opti.set_initial(v, np.minimum(corner, START))
    opti.solver("ipopt", {"print_time": False}, {"print_level": 0, "tol": 1e-8, "max_iter": 3000, "sb": "yes"})
    result = opti.solve()
    speed = result.value(v)
    return float(result.value(opti.f)), [float(x) for x in speed]


def point(k):
    c = POINT

    def build(opti, v, a):
        across = v**2 * k
        force = a + c["drag"] * v**2
        # Braking and driving have an ellipse each: what is along is split in two parts of one sign.
        drive, brake = opti.variable(len(k)), opti.variable(len(k))
        opti.subject_to(drive >= 0)
        opti.subject_to(brake >= 0)
        opti.subject_to(force == drive - brake)
        y = (across / (c["across"] * G)) ** 2
        opti.subject_to((drive / (c["driving"] * G)) ** 2 + y <= 1)
        opti.subject_to((brake / (c["braking"] * G)) ** 2 + y <= 1)
        opti.subject_to(drive * v <= c["power"])

    return solve(k, c, build)


def track(k, yaw_inertia):
    c = TRACK
    m, length = c["mass"], c["front"] + c["rear"]

    def build(opti, v, a):
        n = len(k)
        drive, brake, front, rear = (opti.variable(n) for _ in range(4))
        opti.subject_to(drive >= 0)
        opti.subject_to(brake >= 0)
        # One pedal at a time.
        opti.subject_to(drive * brake <= 1e-4 * (m * G) ** 2)
        opti.subject_to(m * a == drive - brake - c["drag"] * v**2)
        opti.subject_to(front + rear == m * v**2 * k)
        # Yaw rate r = v k, so dr/dt = v d(v k)/ds: central differences.
        r = v * k
        slope = ca.vertcat((r[1] - r[0]) / STEP, (r[2:] - r[:-2]) / (2 * STEP), (r[-1] - r[-2]) / STEP)
        opti.subject_to(c["front"] * front - c["rear"] * rear == yaw_inertia * v * slope)
        shift = m * a * c["height"] / length
        loads = (m * G * c["rear"] / length - shift, m * G * c["front"] / length + shift)
        share = c["front_share"]
        along = (-share * brake, drive - (1 - share) * brake)
        for load, x, y in zip(loads, along, (front, rear)):
            opti.subject_to((x / c["along"]) ** 2 + (y / c["across"]) ** 2 <= load**2)
            opti.subject_to(load >= 0)
        opti.subject_to(drive * v <= c["power"])
        opti.set_initial(front, 0)

    return solve(k, c, build)


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("--out", type=Path, default=HERE / "data")
    out = parser.parse_args().out
    cases = []
    for name, pieces in COURSES.items():
        k = curvature(pieces)
        kinds = {"point": lambda: point(k), "track": lambda: track(k, 0.0),
                 "track with yaw inertia": lambda: track(k, TRACK["yaw_inertia"])}
        for kind, solver in kinds.items():
            time, speed = solver()
            cases.append({"course": name, "car": kind, "time": time, "speed": speed[::10]})
    data = {"versions": {"casadi": ca.__version__, "numpy": np.__version__}, "step": STEP, "start": START,
            "point": POINT, "track": TRACK,
            "courses": {name: curvature(pieces).tolist() for name, pieces in COURSES.items()}, "cases": cases}
    (out / "optimal-laps.json").write_text(json.dumps(data, indent=1) + "\n")


if __name__ == "__main__":
    main()
