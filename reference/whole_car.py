"""Equilibrium of whole cars on five-link corners, by explicit statics.

Unknown are the pose of every upright, the force in every link, the side force of
each axle and where the road is; the equations are the links' lengths, six balances
for each upright and five for the body (the sixth, along the road, is the sum of what
the axles were asked for). The Rust crate knows no link forces: it uses virtual work on
each wheel's travel and the balance of the whole car.

Car axes as elsewhere (ISO 8855, body fixed, metres). The road's axes in the
body's: a road vector v is seen as Rx(-roll) Ry(-pitch) v; the road's plane
passes `rise` under the origin. Tyres are springs square to the road in the disc's
plane; left and right share an axle's longitudinal force equally and its side force
by load. Brake torque is reacted by the upright, drive torque by the body.

Run: python whole_car.py [--cases N] [--out FOLDER]
"""

import argparse
import json
from pathlib import Path

import numpy as np
import scipy
from scipy.optimize import root
from scipy.spatial.transform import Rotation

HERE = Path(__file__).parent
G = 9.80665
LINKS = "abcde"
DEMANDS = [(-6.0, 0.0), (0.0, 5.0), (-4.0, -4.0), (3.0, 2.0)]


def mirror(p):
    return np.array([p[0], -p[1], p[2]])


class Wheel:
    def __init__(self, corner, side, tyre_rate, unsprung, spring_rate, spring):
        at = (lambda p: np.array(p)) if side > 0 else mirror
        points = corner["points"]
        self.centre = at(corner["wheel"]["centre"])
        spin = np.array(corner["wheel"]["spin"])
        self.spin = at(spin / np.linalg.norm(spin)) * (1 if side > 0 else 1)
        self.body = np.array([at(points[f"link.{k}.body"]) for k in LINKS])
        self.upright = np.array([at(points[f"link.{k}.upright"]) for k in LINKS])
        self.length = np.linalg.norm(self.body - self.upright, axis=1)
        self.spring_body, self.spring_upright = at(spring[0]), at(spring[1])
        self.spring_length = np.linalg.norm(self.spring_body - self.spring_upright)
        self.spring_rate, self.tyre_rate, self.unsprung = spring_rate, tyre_rate, unsprung
        self.preload = 0.0
        self.free_radius = 0.0

    def pose(self, q):
        turn = Rotation.from_rotvec(q[3:6])
        centre = q[:3]
        move = lambda p: centre + turn.apply(p - self.centre)
        return centre, turn.apply(self.spin), move(self.upright), move(self.spring_upright)

    def radius(self, centre, spin, road):
        up = road["up"] - spin * (road["up"] @ spin)
        up /= np.linalg.norm(up)
        return road["up"] @ (centre - road["point"]) / (road["up"] @ up), up


def road_at(rise, pitch, roll):
    turn = Rotation.from_euler("x", -roll) * Rotation.from_euler("y", -pitch)
    up = turn.apply([0, 0, 1.0])
    return {"along": turn.apply([1.0, 0, 0]), "across": turn.apply([0, 1.0, 0]), "up": up, "point": -rise * up}


class Car:
    def __init__(self, front, rear, rng):
        r = lambda a, b: round(float(rng.uniform(a, b)), 4)
        self.sprung = r(700, 1500)
        self.place = [r(-1.5, -1.0), 0.0, r(0.4, 0.6)]
        self.brake_front = r(0.5, 0.8)
        self.axles = []
        self.wheels = []
        for corner in (front, rear):
            c = corner["wheel"]["centre"]
            spring = ([round(c[0] + r(-0.05, 0.05), 4), round(c[1] - r(0.2, 0.3), 4), round(c[2] + r(0.3, 0.4), 4)],
                      [round(c[0] + r(-0.03, 0.03), 4), round(c[1] - r(0.06, 0.12), 4), round(c[2] + r(-0.05, 0.05), 4)])
            axle = {"points": corner["points"], "wheel": corner["wheel"], "spring": {"body": spring[0], "upright": spring[1]},
                    "spring_rate": r(30e3, 90e3), "tyre_rate": r(180e3, 300e3), "unsprung": r(25, 50)}
            self.axles.append(axle)
            for side in (1, -1):
                self.wheels.append(Wheel(corner, side, axle["tyre_rate"], axle["unsprung"], axle["spring_rate"], spring))
        self.stand()

    def stand(self):
        """Loads and spring forces that hold the car at ride height."""
        road = road_at(0, 0, 0)
        contact = []
        for w in self.wheels:
            radius, up = w.radius(w.centre, w.spin, road)
            contact.append(w.centre - up * radius)
        weight = (self.sprung + sum(w.unsprung for w in self.wheels)) * G
        moment = (self.sprung * self.place[0] + sum(w.unsprung * w.centre[0] for w in self.wheels)) * G
        self.stands = (contact[0][0], contact[2][0])
        rear = (moment - weight * self.stands[0]) / (self.stands[1] - self.stands[0])
        self.weight = weight
        self.share = rear / weight
        loads = [(weight - rear) / 2] * 2 + [rear / 2] * 2
        self.links = []
        for w, p, load in zip(self.wheels, contact, loads):
            radius, _ = w.radius(w.centre, w.spin, road)
            w.free_radius = radius + load / w.tyre_rate
            columns = []
            for a, b in zip(w.body, w.upright):
                u = (a - b) / np.linalg.norm(a - b)
                columns.append(np.concatenate([u, np.cross(b - w.centre, u)]))
            u = (w.spring_upright - w.spring_body) / w.spring_length
            columns.append(np.concatenate([u, np.cross(w.spring_upright - w.centre, u)]))
            f = np.array([0, 0, load])
            g = np.array([0, 0, -w.unsprung * G])
            right = -np.concatenate([f + g, np.cross(p - w.centre, f)])
            solved = np.linalg.solve(np.array(columns).T, right)
            w.preload = solved[5]
            self.links.append(solved[:5])
        return min(loads)

    def balances(self, x, along, across):
        road = road_at(*x[:3])
        pull = road["up"] * G + road["along"] * along + road["across"] * across
        mass = self.weight / G
        asked_along = mass * along
        drive = asked_along >= 0
        fronts = 0.0 if drive else self.brake_front
        axle_along = [asked_along * fronts, asked_along * (1 - fronts)]
        axle_across = [mass * across * s + x[47 + i] * 1e4 for i, s in enumerate((1 - self.share, self.share))]
        poses, radii, loads = [], [], []
        for i, w in enumerate(self.wheels):
            q = x[3 + 11 * i: 9 + 11 * i] + np.concatenate([w.centre, np.zeros(3)])
            pose = w.pose(q)
            poses.append(pose)
            radius, up = w.radius(pose[0], pose[1], road)
            radii.append((radius, up))
            loads.append(w.tyre_rate * (w.free_radius - radius))
        out = []
        force = -self.sprung * pull
        moment = np.cross(np.array(self.place) - road["point"], force)
        for i, w in enumerate(self.wheels):
            centre, spin, upright, spring_end = poses[i]
            tension = self.links[i] + x[9 + 11 * i: 14 + 11 * i] * 1e4
            out.extend(np.linalg.norm(w.body - upright, axis=1) - w.length)
            radius, up = radii[i]
            place = centre - up * radius
            share = loads[i] / (loads[i] + loads[i ^ 1])
            f = road["along"] * axle_along[i // 2] / 2 + road["across"] * axle_across[i // 2] * share + road["up"] * loads[i]
            m = np.cross(place - centre, f)
            about = spin * (spin @ m) if drive else np.zeros(3)
            total = f - w.unsprung * pull
            turn = m - about
            moment = moment + about
            for a, b, t in zip(w.body, upright, tension):
                u = (a - b) / np.linalg.norm(a - b)
                total = total + u * t
                turn = turn + np.cross(b - centre, u * t)
                force = force - u * t
                moment = moment - np.cross(a - road["point"], u * t)
            d = spring_end - w.spring_body
            length = np.linalg.norm(d)
            push = (w.preload + w.spring_rate * (w.spring_length - length)) * d / length
            total = total + push
            turn = turn + np.cross(spring_end - centre, push)
            force = force - push
            moment = moment - np.cross(w.spring_body - road["point"], push)
            out.extend(total / 1e4)
            out.extend(turn / 1e4)
        out.extend([force @ road["up"] / 1e4, moment @ road["across"] / 1e4, moment @ road["along"] / 1e4])
        out.extend([force @ road["across"] / 1e4, moment @ road["up"] / 1e4])
        return np.array(out), loads, poses

    def solve(self, along, across):
        x = np.zeros(49)
        for part in (0.5, 1.0):
            found = root(lambda v: self.balances(v, along * part, across * part)[0], x, method="hybr", options={"xtol": 1e-14, "maxfev": 20000})
            x = found.x
        left, loads, poses = self.balances(x, along, across)
        if np.abs(left).max() > 1e-10 or min(loads) < 50:
            return None
        travels = [pose[0][2] - w.centre[2] for pose, w in zip(poses, self.wheels)]
        if max(map(abs, travels)) > 0.08:
            return None
        return {"along": along, "across": across, "rise": x[0], "pitch": x[1], "roll": x[2], "travels": travels, "loads": loads}


def rounded(value):
    if isinstance(value, dict):
        return {k: rounded(v) for k, v in value.items()}
    if isinstance(value, (list, tuple, np.ndarray)):
        return [rounded(v) for v in value]
    return round(float(value), 9)


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--cases", type=int, default=8)
    parser.add_argument("--out", type=Path, default=HERE / "data")
    options = parser.parse_args()
    corners = json.loads((HERE / "data" / "five-link.json").read_text())["cases"]
    fronts = [c for c in corners if abs(c["wheel"]["centre"][0]) < 0.5]
    rears = [c for c in corners if c["wheel"]["centre"][0] < -2.0]
    cases = []
    for i, (front, rear) in enumerate(zip(fronts, rears)):
        if len(cases) == options.cases:
            break
        car = Car(front, rear, np.random.default_rng([20251125, i]))
        if car.stand() < 500:
            continue
        states = [s for s in (car.solve(*d) for d in DEMANDS) if s]
        if states:
            cases.append({"sprung": car.sprung, "place": car.place, "brake_front": car.brake_front, "axles": car.axles, "states": rounded(states)})
    head = {"kind": "whole-car", "source": "SciPy root finding on explicit statics, script whole_car.py",
            "versions": {"scipy": scipy.__version__, "numpy": np.__version__}}
    lines = ",\n".join(json.dumps(c) for c in cases)
    text = "{\n" + "".join(f'"{k}": {json.dumps(v)},\n' for k, v in head.items()) + '"cases": [\n' + lines + "\n]\n}\n"
    (options.out / "whole-car.json").write_text(text)
    print(len(cases), "cars", sum(len(c["states"]) for c in cases), "states")


if __name__ == "__main__":
    main()
