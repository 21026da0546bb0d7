"""A stop as it unfolds, in the plane of pitch: three of the cars of whole-car.json
under a ramp of brake torque, by SciPy's integrators.

The linkage is solved here, link length by link length, on a grid of wheel travels and
splined; positions of all masses are written in the road's axes and differentiated
numerically (first differences for the Jacobian, a second difference along the motion
for what depends on velocity). The Rust crate has its own solver, its own table, and
closed forms for all of that.

Run: python pedal_step.py [--out FOLDER]
"""

import argparse
import json
from pathlib import Path

import numpy as np
import scipy
from scipy.integrate import solve_ivp
from scipy.interpolate import CubicSpline
from scipy.optimize import root
from scipy.spatial.transform import Rotation

HERE = Path(__file__).parent
G = 9.80665
LINKS = "abcde"
# Tyre, wheels and dampers of every car here.
FIGURES = {"friction": 1.3, "load_sensitivity": 0.05, "nominal_load": 4000.0, "slip_stiffness": 90e3,
           "relaxation": 0.15, "spin_inertia": 1.1, "bump": 1500.0, "rebound": 3000.0, "pitch_inertia": 1300.0,
           "speed": 40.0, "torque": [700.0, 400.0], "rise_time": 0.1}
GRID = np.linspace(-0.08, 0.08, 65)
HOLDING = 2.0


class Axle:
    def __init__(self, data):
        points = data["points"]
        body = np.array([points[f"link.{k}.body"] for k in LINKS])
        upright = np.array([points[f"link.{k}.upright"] for k in LINKS])
        length = np.linalg.norm(body - upright, axis=1)
        centre = np.array(data["wheel"]["centre"])
        spin = np.array(data["wheel"]["spin"])
        self.spin = spin / np.linalg.norm(spin)
        top, bottom = np.array(data["spring"]["body"]), np.array(data["spring"]["upright"])

        def solve(travel, guess):
            def wrong(x):
                c = np.array([x[0], x[1], centre[2] + travel])
                moved = c + Rotation.from_rotvec(x[2:]).apply(upright - centre)
                return np.linalg.norm(body - moved, axis=1) - length
            found = root(wrong, guess, tol=1e-14)
            assert np.abs(found.fun).max() < 1e-12
            return found.x

        poses = {}
        for side in (GRID[GRID >= 0], GRID[GRID < 0][::-1]):
            x = np.array([centre[0], centre[1], 0, 0, 0])
            for t in side:
                x = poses[t] = solve(t, x)
        x = np.array([poses[t] for t in GRID])
        places = np.column_stack([x[:, :2], centre[2] + GRID])
        self.centre = CubicSpline(GRID, places)
        self.turn = CubicSpline(GRID, x[:, 2:])
        lengths = [np.linalg.norm(p + Rotation.from_rotvec(r).apply(bottom - centre) - top) for p, r in zip(places, x[:, 2:])]
        rest = np.linalg.norm(bottom - top)
        self.short = CubicSpline(GRID, rest - np.array(lengths))
        self.rate, self.tyre, self.mass = data["spring_rate"], data["tyre_rate"], data["unsprung"]
        self.preload = self.free = 0.0


def pitch(angle):
    c, s = np.cos(angle), np.sin(angle)
    return np.array([[c, 0, s], [0, 1, 0], [-s, 0, c]])


class Car:
    def __init__(self, case):
        self.axles = [Axle(a) for a in case["axles"]]
        self.sprung, self.place = case["sprung"], np.array(case["place"])
        masses = [self.sprung] + [2 * a.mass for a in self.axles]
        q = np.zeros(5)
        points = [self.mass_place(i, q) for i in range(3)]
        stands = []
        for i, a in enumerate(self.axles):
            c, s, r, p = self.contact(i, q)
            stands.append(p[0])
            a.radius = r
        moment = sum(m * p[0] for m, p in zip(masses, points))
        rear = (moment - sum(masses) * stands[0]) / (stands[1] - stands[0]) * G
        for a, load in zip(self.axles, (sum(masses) * G - rear, rear)):
            a.free = a.radius + load / 2 / a.tyre
        y = np.zeros(13)
        y[4] = 1.0
        for i, a in enumerate(self.axles):
            force = self.forces(y, [0.0, 0.0])[0][3 + i]
            a.preload = force / 2 / a.short(0.0, 1)

    def world(self, q, p):
        return np.array([q[0], 0, q[1]]) + pitch(q[2]) @ p

    def mass_place(self, i, q):
        return self.world(q, self.place if i == 0 else self.axles[i - 1].centre(q[2 + i]))

    def frame(self, i, q):
        return pitch(q[2]) @ Rotation.from_rotvec(self.axles[i].turn(q[3 + i])).as_matrix()

    def contact(self, i, q):
        a = self.axles[i]
        s = self.frame(i, q) @ a.spin
        up = np.array([0, 0, 1.0]) - s * s[2]
        up /= np.linalg.norm(up)
        c = self.world(q, a.centre(q[3 + i]))
        r = c[2] / up[2]
        return c, s, r, c - up * r

    def forces(self, y, torque):
        """Generalised forces, spin accelerations, slip rates, loads."""
        q, v = np.concatenate([[0.0], y[:4]]), y[4:9]
        h = 1e-6
        Q = np.zeros(5)
        for m, i in ((self.sprung, 0), (2 * self.axles[0].mass, 1), (2 * self.axles[1].mass, 2)):
            for j in range(5):
                e = np.eye(5)[j] * h
                Q[j] -= m * G * (self.mass_place(i, q + e) - self.mass_place(i, q - e))[2] / (2 * h)
        spins, slips, loads = [], [], []
        f = FIGURES
        for i, a in enumerate(self.axles):
            spin, slip = y[9 + i], y[11 + i]
            c, s, r, p = self.contact(i, q)
            squash = max(a.free - r, 0.0)
            load = a.tyre * squash
            pull = 0.0
            if load > 0:
                most = f["friction"] * (1 - f["load_sensitivity"] * (load / f["nominal_load"] - 1)) * load
                n = min(abs(slip) * f["slip_stiffness"] * load / f["nominal_load"] / most, 3.0)
                pull = np.sign(slip) * most * (n - n * n / 3 + n**3 / 27)
            force = np.array([pull, 0, load])
            moment = np.cross(p - c, force)
            turn0, w, dc = self.frame(i, q), np.zeros((5, 3)), np.zeros((5, 3))
            for j in range(5):
                e = np.eye(5)[j] * h
                d = (self.frame(i, q + e) - self.frame(i, q - e)) / (2 * h) @ turn0.T
                w[j] = [d[2, 1], d[0, 2], d[1, 0]]
                dc[j] = (self.world(q + e, a.centre((q + e)[3 + i])) - self.world(q - e, a.centre((q - e)[3 + i]))) / (2 * h)
            brake = torque[i] * np.clip((spin - s @ (w.T @ v)) / HOLDING, -1, 1)
            across = w - np.outer(w @ s, s)
            Q += 2 * (dc @ force + across @ moment + w @ s * brake)
            ratio = a.short(q[3 + i], 1)
            speed = ratio * v[3 + i]
            damper = speed * (f["bump"] if speed > 0 else f["rebound"])
            Q[3 + i] -= 2 * ratio * (a.preload + a.rate * a.short(q[3 + i]) + damper)
            spins.append((moment @ s - brake) / f["spin_inertia"])
            along = (dc.T @ v)[0]
            slips.append((spin * (a.free - squash / 3) - along - abs(along) * slip) / f["relaxation"])
            loads.append(2 * load)
        return Q, spins, slips, loads

    def rates(self, t, y):
        q, v = np.concatenate([[0.0], y[:4]]), y[4:9]
        torque = [x * min(t / FIGURES["rise_time"], 1.0) for x in FIGURES["torque"]]
        Q, spins, slips, _ = self.forces(y, torque)
        M = np.zeros((5, 5))
        M[2, 2] = FIGURES["pitch_inertia"]
        h, e2 = 1e-6, 1e-4
        for m, i in ((self.sprung, 0), (2 * self.axles[0].mass, 1), (2 * self.axles[1].mass, 2)):
            J = np.array([(self.mass_place(i, q + e) - self.mass_place(i, q - e)) / (2 * h) for e in np.eye(5) * h])
            # The way along does not bend anything: left out, it costs no digits.
            d = np.concatenate([[0.0], v[1:]]) * e2
            bend = (self.mass_place(i, q + d) - 2 * self.mass_place(i, q) + self.mass_place(i, q - d)) / e2**2
            M += m * J @ J.T
            Q = Q - m * J @ bend
        a = np.linalg.solve(M, Q)
        return np.concatenate([v[1:], a, spins, slips])


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("--out", type=Path, default=HERE / "data")
    options = parser.parse_args()
    cars = json.loads((HERE / "data" / "whole-car.json").read_text())["cases"]
    runs = []
    for n in (0, 2, 5):
        car = Car(cars[n])
        y = np.zeros(13)
        y[4] = FIGURES["speed"]
        for i, a in enumerate(car.axles):
            y[9 + i] = y[4] / (a.free - (a.free - a.radius) / 3)
        assert np.abs(car.rates(0.0, y)).max() < 1e-3
        times = np.arange(0, 21) * 0.04
        found = solve_ivp(car.rates, (0, times[-1]), y, method="RK45", rtol=1e-7, atol=1e-8, t_eval=times, max_step=0.01)
        assert found.success
        samples = []
        for t, y in zip(found.t, found.y.T):
            loads = car.forces(y, [0.0, 0.0])[3]
            samples.append([round(float(x), 7) for x in (t, *loads, y[1], y[2], y[3], y[4])])
        runs.append({"car": n, "samples": samples})
    head = {"kind": "pedal-step", "source": "SciPy solve_ivp, script pedal_step.py",
            "versions": {"scipy": scipy.__version__, "numpy": np.__version__}, "figures": FIGURES,
            "columns": ["time", "front_load", "rear_load", "pitch", "front_travel", "rear_travel", "speed"]}
    text = "{\n" + "".join(f'"{k}": {json.dumps(v)},\n' for k, v in head.items()) + '"runs": [\n' + ",\n".join(json.dumps(r) for r in runs) + "\n]\n}\n"
    (options.out / "pedal-step.json").write_text(text)
    print(len(runs), "runs")


if __name__ == "__main__":
    main()
