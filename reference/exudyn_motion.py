"""Whole cars in motion as EXUDYN integrates them: a step of the steering and a straight stop.

Two cars of data/whole-car.json on their twenty rods, wheels set straight, with dampers, a
rack under one rod of each front corner, and tyres by a handful of figures. Sprung body and
uprights are EXUDYN's rigid bodies, rods its distance constraints, springs and dampers its
connectors; the tyre's vertical rate is a spring between the road and the wheel centre. What
else the road does (side and longitudinal force, the camber's part of the load, the moment of
all that about the wheel centre) are loads that are worked out before each step, extrapolated
to its middle; slips and wheels turn with them in steps of a quarter of its length.

What both ways of solving share: the tyre's formulas (brush cubic, similarity, relaxation by
constant lengths), a disc that touches the road at its lowest point and rolls on its free radius
less a third of the squash, uprights without turning inertia, brakes that hold on the upright.

Run: python exudyn_motion.py [--data FOLDER] [--out FOLDER]
"""

import argparse
import copy
import math
from pathlib import Path

import exudyn as exu
import numpy as np
from exudyn.itemInterface import (
    LoadForceVector,
    LoadTorqueVector,
    MarkerBodyRigid,
    NodeRigidBodyRxyz,
    ObjectConnectorCartesianSpringDamper,
    ObjectConnectorDistance,
    ObjectConnectorSpringDamper,
    ObjectGround,
    ObjectRigidBody,
)

import exudyn_car
from common import read, unit, write
from exudyn_car import contact, space, space_matrix
from whole_car import G, LINKS, mirror

DATA = Path(__file__).parent / "data"
UP = np.array([0.0, 0.0, 1.0])
# Cars of the file, and what they have beside it.
CARS = (1, 3)
DAMPING = 3000.0  # along the spring [N s/m]
INERTIA = [420.0, 1300.0, 1500.0]  # roll, pitch, yaw of the sprung body [kg m^2]
SPIN_INERTIA = 1.1
ALONG, ACROSS = 0.3, 0.45  # relaxation lengths [m]
STEERED = "c"
TYRE = {
    "nominal_load": 3500.0,
    "friction_x": 1.3,
    "friction_y": 1.3,
    "load_sensitivity": 0.08,
    "cornering_stiffness": 80000.0,
    "stiffest_load": 6000.0,
    "slip_stiffness": 90000.0,
}
# Turning inertia of an upright about its own centre: next to none [kg m^2].
UPRIGHT_INERTIA = 1e-4
STEP = 5e-4
EVERY = 0.02
TIME = 1.5
SUB = 4
RUNS = (
    {"kind": "step", "speed": 30.0, "rise": 0.15},
    {"kind": "stop", "speed": 40.0, "brake": [1900.0, 900.0], "rise": 0.1},
)
# Travel of the rack of each car [m]: some 3 m/s^2 across.
RACKS = (0.0004, 0.004)


def brush(s):
    """f(s)/s of the brush cubic."""
    return 1 / s if s >= 3 else 1 - s / 3 + s * s / 27


def tyre_force(kappa, tangent, load):
    """Force along and across of a tyre by a handful of figures."""
    if load <= 0:
        return 0.0, 0.0
    t = TYRE
    fade = max(0.25, 1 - t["load_sensitivity"] * (load / t["nominal_load"] - 1)) * load
    rise = lambda q: 2 * q / (1 + q * q)
    stiffness = t["cornering_stiffness"] * rise(load / t["stiffest_load"]) / rise(t["nominal_load"] / t["stiffest_load"])
    most_x, most_y = fade * t["friction_x"], fade * t["friction_y"]
    sx = kappa * load * t["slip_stiffness"] / t["nominal_load"] / most_x
    sy = tangent * stiffness / most_y
    over = brush(math.hypot(sx, sy))
    return most_x * sx * over, -most_y * sy * over


class Moving:
    """One car on its way."""

    def __init__(self, case, run):
        self.run = run
        still = exudyn_car.Car(case)
        still.reset()
        self.case, self.place = case, np.array(case["place"])
        self.mbs = exu.SystemContainer().AddSystem()
        self.ground = self.mbs.AddObject(ObjectGround())
        self.nodes, self.bodies, self.masses, self.pulls, self.turns = [], [], [], [], []
        roll, pitch, yaw = INERTIA
        self.hull = self.body(case["sprung"], self.place, [yaw, pitch, roll])
        self.wheels, self.racks = [], []
        forces = [still.mbs.GetObjectParameter(s, "force") for s in still.springs]
        for a, axle in enumerate(case["axles"]):
            for side in (1, -1):
                self.corner(axle, side, forces[len(self.wheels)], a == 0 and run["kind"] == "step")
        for wheel, at_rest in zip(self.wheels, still.wheels):
            wheel["free"] = at_rest["free"]
            self.tyre(wheel)
        for wheel in self.wheels:
            load = wheel["rate"] * (wheel["free"] - contact(wheel["centre"], wheel["spin"])[0])
            rolling = wheel["free"] - load / wheel["rate"] / 3
            wheel.update(speed=run["speed"] / rolling, kappa=0.0, tangent=0.0)
        self.last = None
        self.samples = []
        self.mbs.Assemble()
        self.mbs.SetPreStepUserFunction(self.before)

    def body(self, mass, centre, inertia):
        node = self.mbs.AddNode(
            NodeRigidBodyRxyz(
                referenceCoordinates=[*space(centre), 0, 0, 0],
                initialVelocities=[*space([self.run["speed"], 0, 0]), 0, 0, 0],
            )
        )
        body = self.mbs.AddObject(ObjectRigidBody(mass=mass, inertia=[*inertia, 0, 0, 0], nodeNumber=node))
        at = self.mbs.AddMarker(MarkerBodyRigid(bodyNumber=body))
        self.nodes.append(node)
        self.bodies.append((body, np.array(centre)))
        self.masses.append(mass)
        self.pulls.append(self.mbs.AddLoad(LoadForceVector(markerNumber=at, loadVector=list(space([0, 0, -mass * G])))))
        self.turns.append(self.mbs.AddLoad(LoadTorqueVector(markerNumber=at)))
        return len(self.nodes) - 1

    def marker(self, index, point):
        body, centre = self.bodies[index]
        return self.mbs.AddMarker(MarkerBodyRigid(bodyNumber=body, localPosition=list(space(point - centre))))

    def corner(self, axle, side, force, steered):
        at = (lambda p: np.array(p)) if side > 0 else mirror
        centre = at(axle["wheel"]["centre"])
        upright = self.body(axle["unsprung"], centre, [UPRIGHT_INERTIA] * 3)
        for k in LINKS:
            a, b = (at(axle["points"][f"link.{k}.{end}"]) for end in ("body", "upright"))
            ends = [self.marker(self.hull, a), self.marker(upright, b)]
            self.mbs.AddObject(ObjectConnectorDistance(markerNumbers=ends, distance=float(np.linalg.norm(b - a))))
            if steered and k == STEERED:
                self.racks.append((ends[0], a))
        a, b = at(axle["spring"]["body"]), at(axle["spring"]["upright"])
        ends = [self.marker(self.hull, a), self.marker(upright, b)]
        self.mbs.AddObject(
            ObjectConnectorSpringDamper(
                markerNumbers=ends,
                referenceLength=float(np.linalg.norm(b - a)),
                stiffness=axle["spring_rate"],
                damping=DAMPING,
                force=force,
            )
        )
        self.wheels.append(
            {
                "body": upright,
                "centre": centre,
                # To the left on either side.
                "spin": np.array(axle["wheel"]["spin"]) if side > 0 else -mirror(axle["wheel"]["spin"]),
                "rate": axle["tyre_rate"],
            }
        )

    def tyre(self, wheel):
        road = self.mbs.AddMarker(MarkerBodyRigid(bodyNumber=self.ground))
        ends = [road, self.marker(wheel["body"], wheel["centre"])]
        self.mbs.AddObject(
            ObjectConnectorCartesianSpringDamper(
                markerNumbers=ends, stiffness=[wheel["rate"], 0, 0], offset=[wheel["free"], 0, 0]
            )
        )

    def state(self, index):
        kinds = exu.OutputVariableType
        get = lambda kind: np.array(self.mbs.GetNodeOutput(self.nodes[index], kind))
        return (
            space(get(kinds.Position)),
            space_matrix(get(kinds.RotationMatrix)),
            space(get(kinds.Velocity)),
            # The change of axes keeps hands: a turn is a vector like another.
            space(get(kinds.AngularVelocity)),
        )

    def brake(self, axle, time):
        if self.run["kind"] != "stop":
            return 0.0
        return self.run["brake"][axle] / 2 * min(1.0, time / self.run["rise"])

    def before(self, mbs, time):
        """Before a step: rack, road and brakes, for its middle; slips and wheels move on by it."""
        hull = self.state(self.hull)
        if self.racks:
            share = min(1.0, (time + STEP) / self.run["rise"])
            rack = self.run["rack"] / 2 * (1 - math.cos(math.pi * share))
            for marker, at in self.racks:
                mbs.SetMarkerParameter(marker, "localPosition", list(space(at + [0, rack, 0] - self.place)))
        forces = [np.array([0, 0, -m * G]) for m in self.masses]
        moments = [np.zeros(3) for _ in self.masses]
        loads, travels = [], []
        for i, wheel in enumerate(self.wheels):
            centre, turn, velocity, omega = self.state(wheel["body"])
            spin = turn @ wheel["spin"]
            radius, place = contact(centre, spin)
            load = max(0.0, wheel["rate"] * (wheel["free"] - radius))
            heading = unit(np.cross(spin, UP))
            across = np.cross(UP, heading)
            v_x = velocity @ heading
            v_y = (velocity + np.cross(omega, place - centre)) @ across
            rolling = wheel["free"] - (wheel["free"] - radius) / 3
            fx, fy = tyre_force(wheel["kappa"], wheel["tangent"], load)
            force = heading * fx + across * fy + UP * load
            moment = np.cross(place - centre, force)
            about = moment @ spin
            brake = self.brake(i // 2, time)
            vertical = wheel["rate"] * (wheel["free"] - centre[2])
            forces[wheel["body"]] += force - UP * vertical
            moments[wheel["body"]] += moment - spin * about + spin * brake
            loads.append(load)
            travels.append((hull[1].T @ (centre - hull[0]) + self.place)[2] - wheel["centre"][2])
            for k in range(SUB):
                h = STEP / SUB
                fx, _ = tyre_force(wheel["kappa"], wheel["tangent"], load)
                brake = self.brake(i // 2, time + (k + 0.5) * h)
                wheel["speed"] += h * (-fx * radius - brake) / SPIN_INERTIA
                decay = 1 - math.exp(-abs(v_x) * h / ALONG)
                wheel["kappa"] += decay * ((wheel["speed"] * rolling - v_x) / abs(v_x) - wheel["kappa"])
                decay = 1 - math.exp(-abs(v_x) * h / ACROSS)
                wheel["tangent"] += decay * (v_y / abs(v_x) - wheel["tangent"])
        now = np.array([forces, moments])
        middle = now if self.last is None else 1.5 * now - 0.5 * self.last
        self.last = now
        for items, values in ((self.pulls, middle[0]), (self.turns, middle[1])):
            for item, value in zip(items, values):
                mbs.SetLoadParameter(item, "loadVector", list(space(value)))
        count = len(self.samples)
        if time >= count * EVERY - STEP / 2:
            self.samples.append(self.sample(hull, loads, travels))
        return True

    def sample(self, hull, loads, travels):
        place, turn, velocity, omega = hull
        origin = place - turn @ self.place
        yaw = math.atan2(turn[1, 0], turn[0, 0])
        along, left = np.array([math.cos(yaw), math.sin(yaw), 0]), np.array([-math.sin(yaw), math.cos(yaw), 0])
        centre = self.centre_velocity(hull)
        return {
            "yaw_rate": float(omega[2]),
            "along": float(centre @ along),
            "across": float(centre @ left),
            "x": float(origin[0]),
            "y": float(origin[1]),
            "roll": math.atan2(turn[2, 1], turn[2, 2]),
            "pitch": -math.asin(turn[2, 0]),
            "loads": [float(v) for v in loads],
            "travels": [float(v) for v in travels],
        }

    def centre_velocity(self, hull):
        """Velocity of the whole car's centre of gravity, as if it were fixed in the body."""
        total = sum(self.masses)
        centre = sum(m * c for m, (_, c) in zip(self.masses, self.bodies)) / total
        return hull[2] + np.cross(hull[3], hull[1] @ (centre - self.place))

    def go(self):
        chosen = exu.SimulationSettings()
        chosen.solution.file.write = False
        chosen.timeIntegration.verboseMode = 0
        chosen.timeIntegration.endTime = TIME
        chosen.timeIntegration.numberOfSteps = round(TIME / STEP)
        chosen.timeIntegration.generalizedAlpha.spectralRadius = 0.8
        chosen.timeIntegration.generalizedAlpha.computeInitialAccelerations = True
        chosen.timeIntegration.newton.useModifiedNewton = True
        self.mbs.SolveDynamic(chosen)
        return self.samples


def rounded(value):
    if isinstance(value, float):
        return float(f"{value:.9g}")
    if isinstance(value, list):
        return [rounded(v) for v in value]
    return {k: rounded(v) for k, v in value.items()} if isinstance(value, dict) else value


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--data", type=Path, default=DATA)
    parser.add_argument("--out", type=Path, default=DATA)
    options = parser.parse_args()
    options.out.mkdir(parents=True, exist_ok=True)
    cars = read(options.data / "whole-car.json")["cases"]
    cases = []
    for index in CARS:
        case = copy.deepcopy(cars[index])
        for axle in case["axles"]:
            axle["wheel"]["spin"] = [0.0, 1.0, 0.0]
        runs = []
        for run in RUNS:
            run = {**run, "rack": RACKS[len(cases)]} if run["kind"] == "step" else run
            runs.append({**run, "samples": rounded(Moving(case, run).go())})
        case.pop("states")
        cases.append({**case, "runs": runs})
    head = {
        "kind": "exudyn-motion",
        "source": "EXUDYN generalised-alpha solver, script exudyn_motion.py",
        "versions": {"exudyn": exu.__version__, "numpy": np.__version__},
        "every": EVERY,
        "damping": DAMPING,
        "inertia": INERTIA,
        "spin_inertia": SPIN_INERTIA,
        "relaxation": [ALONG, ACROSS],
        "tyre": TYRE,
    }
    write(options.out / "exudyn-motion.json", head, cases)
    print(f"exudyn motion: {len(cases)} cars, {sum(len(c['runs']) for c in cases)} runs of {TIME} s in steps of {STEP} s")


if __name__ == "__main__":
    main()
