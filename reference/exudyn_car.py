"""Equilibrium of whole cars as EXUDYN's static solver finds it.

The cars and demands of data/whole-car.json, each assembled from a sprung body,
four uprights, twenty rods (distance constraints), four springs with pre-load and
the tyres' rates. The road lies still and the car moves: heave, pitch and roll are
free, place and heading are held. Accelerations act as loads on every mass.

EXUDYN's own items carry all but what the road does beyond a vertical rate at the
wheel centre: side and longitudinal force, the camber's part of the load, the
moment of all that about the wheel centre, and a drive torque on the body. Those
are loads that stand still while EXUDYN solves; then they follow from where it put
the wheels, and it solves again, until they stand (`settle`).

Pre-loads are EXUDYN's as well: the springs are first held at their length, and
what that takes is their force at ride height.

Side force goes from one axle to the other until holding the heading takes nothing: the
car does not begin to turn. In the end nothing is held.

The body's turns are heading, pitch, roll, in this order. EXUDYN's first turn is about
its own first axis; `space` therefore puts the vertical there.

Run: python exudyn_car.py [--data FOLDER] [--out FOLDER] [--cases N]
"""

import argparse
import math
from pathlib import Path

import exudyn as exu
import numpy as np
from exudyn.itemInterface import (
    LoadForceVector,
    LoadTorqueVector,
    MarkerBodyRigid,
    MarkerNodeCoordinate,
    NodePointGround,
    NodeRigidBodyRxyz,
    ObjectConnectorCartesianSpringDamper,
    ObjectConnectorCoordinate,
    ObjectConnectorDistance,
    ObjectConnectorSpringDamper,
    ObjectGround,
    ObjectRigidBody,
)

from common import degrees, metres, read, toe_camber_deg, unit, write
from whole_car import G, LINKS, mirror

DATA = Path(__file__).parent / "data"
UP = np.array([0.0, 0.0, 1.0])
# Largest change of a road load in the last pass [N, N m].
SETTLED = 1e-7
PASSES = 100
# Largest force or moment left that holds place and heading [N, N m].
HELD = 1e-5
# How far the pre-loaded car may move from ride height [m, rad].
RIDE_HEIGHT = 1e-9
# Agreement with SciPy's statics [m, rad] and [N]; its file has nine decimals.
AGREE = 2e-9
AGREE_N = 1e-5
FORCE = exu.OutputVariableType.Force


def space(v):
    """Car axes (forward, left, up) to EXUDYN's (up, right, forward), and back."""
    return np.array([v[2], -v[1], v[0]], float)


def space_matrix(m):
    turn = np.array([space(e) for e in np.eye(3)])
    return turn @ np.reshape(m, (3, 3)) @ turn


def settings():
    chosen = exu.SimulationSettings()
    chosen.solution.file.write = False
    chosen.staticSolver.verboseMode = 0
    chosen.staticSolver.newton.relativeTolerance = 1e-11
    chosen.staticSolver.newton.absoluteTolerance = 1e-11
    chosen.staticSolver.newton.maxIterations = 100
    return chosen


class Car:
    """The multibody model of one car, bodies at their centres of gravity."""

    def __init__(self, case):
        self.settings = settings()
        self.mbs = exu.SystemContainer().AddSystem()
        self.place = np.array(case["place"])
        self.brake_front = case["brake_front"]
        self.ground = self.mbs.AddObject(ObjectGround())
        self.masses, self.nodes, self.bodies, self.pulls, self.turns = [], [], [], [], []
        self.hull = self.body(case["sprung"], self.place)
        self.wheels, self.blocks, self.springs = [], [], []
        for axle in case["axles"]:
            for side in (1, -1):
                self.corner(axle, (lambda p: np.array(p)) if side > 0 else mirror)
        self.hold()
        self.loads_at_rest()
        for wheel in self.wheels:
            self.tyre(wheel)
        self.mbs.Assemble()
        self.rest = self.mbs.systemData.GetSystemState()
        self.preload()

    def body(self, mass, centre):
        node = self.mbs.AddNode(NodeRigidBodyRxyz(referenceCoordinates=[*space(centre), 0, 0, 0]))
        # Nothing turns or hastens: any inertia will do.
        body = self.mbs.AddObject(
            ObjectRigidBody(mass=mass, inertia=[1, 1, 1, 0, 0, 0], nodeNumber=node)
        )
        at = self.mbs.AddMarker(MarkerBodyRigid(bodyNumber=body))
        self.masses.append(mass)
        self.nodes.append(node)
        self.bodies.append((body, np.array(centre)))
        self.pulls.append(self.mbs.AddLoad(LoadForceVector(markerNumber=at)))
        self.turns.append(self.mbs.AddLoad(LoadTorqueVector(markerNumber=at)))
        return len(self.nodes) - 1

    def marker(self, index, point):
        body, centre = self.bodies[index]
        return self.mbs.AddMarker(
            MarkerBodyRigid(bodyNumber=body, localPosition=list(space(point - centre)))
        )

    def corner(self, axle, at):
        centre = at(axle["wheel"]["centre"])
        upright = self.body(axle["unsprung"], centre)
        for k in LINKS:
            a, b = (at(axle["points"][f"link.{k}.{end}"]) for end in ("body", "upright"))
            self.rod(upright, a, b)
        a, b = at(axle["spring"]["body"]), at(axle["spring"]["upright"])
        self.blocks.append(self.rod(upright, a, b))
        ends = [self.marker(self.hull, a), self.marker(upright, b)]
        length = float(np.linalg.norm(b - a))
        spring = ObjectConnectorSpringDamper(
            markerNumbers=ends, referenceLength=length, stiffness=axle["spring_rate"], activeConnector=False
        )
        self.springs.append(self.mbs.AddObject(spring))
        self.wheels.append(
            {"body": upright, "centre": centre, "spin": unit(at(axle["wheel"]["spin"])), "rate": axle["tyre_rate"]}
        )

    def rod(self, upright, a, b):
        ends = [self.marker(self.hull, a), self.marker(upright, b)]
        length = float(np.linalg.norm(b - a))
        return self.mbs.AddObject(ObjectConnectorDistance(markerNumbers=ends, distance=length))

    def hold(self):
        """Place and heading of the body: left, forward, turn about the vertical."""
        zero = self.mbs.AddNode(NodePointGround())
        self.held, self.moved = [], 0.0
        for coordinate in (1, 2, 3):
            ends = [
                self.mbs.AddMarker(MarkerNodeCoordinate(nodeNumber=n, coordinate=c))
                for n, c in ((zero, 0), (self.nodes[self.hull], coordinate))
            ]
            self.held.append(self.mbs.AddObject(ObjectConnectorCoordinate(markerNumbers=ends)))

    def loads_at_rest(self):
        """Tyre lengths without load, from the loads at ride height: a beam on two supports."""
        centres = [c for _, c in self.bodies]
        weight = sum(self.masses) * G
        middle = sum(m * c[0] for m, c in zip(self.masses, centres)) * G / weight
        stands = [contact(w["centre"], w["spin"])[1][0] for w in self.wheels]
        self.wheelbase = stands[0] - stands[2]
        self.rear = (stands[0] - middle) / self.wheelbase
        for i, wheel in enumerate(self.wheels):
            load = weight * (self.rear if i >= 2 else 1 - self.rear) / 2
            wheel["free"] = contact(wheel["centre"], wheel["spin"])[0] + load / wheel["rate"]

    def tyre(self, wheel):
        """The rate of the tyre as a vertical spring between the road and the wheel centre."""
        road = self.mbs.AddMarker(MarkerBodyRigid(bodyNumber=self.ground))
        ends = [road, self.marker(wheel["body"], wheel["centre"])]
        self.mbs.AddObject(
            ObjectConnectorCartesianSpringDamper(
                markerNumbers=ends, stiffness=[wheel["rate"], 0, 0], offset=[wheel["free"], 0, 0]
            )
        )

    def preload(self):
        """What holds the springs' length at ride height becomes their pre-load."""
        self.settle(0.0, 0.0)
        forces = [self.mbs.GetObjectOutput(block, FORCE) for block in self.blocks]
        for block, spring, force in zip(self.blocks, self.springs, forces):
            self.mbs.SetObjectParameter(block, "activeConnector", False)
            self.mbs.SetObjectParameter(spring, "activeConnector", True)
            # A constraint's force is positive where it pushes, a spring's where it pulls.
            self.mbs.SetObjectParameter(spring, "force", -float(force))
        self.settle(0.0, 0.0)
        ride = self.result(0.0, 0.0)
        off = max(map(abs, [ride["rise"], ride["pitch"], ride["roll"], *ride["travels"]]))
        assert off <= RIDE_HEIGHT, f"the pre-loaded car stands {off:.1e} off ride height"

    def holding(self):
        """What holds place and heading [N, N m]."""
        return [float(self.mbs.GetObjectOutput(h, FORCE)) for h in self.held]

    def poses(self):
        kinds = exu.OutputVariableType
        return [
            (
                space(self.mbs.GetNodeOutput(node, kinds.Position)),
                space_matrix(self.mbs.GetNodeOutput(node, kinds.RotationMatrix)),
            )
            for node in self.nodes
        ]

    def tyres(self):
        """Of each wheel: centre, spin axis, contact and load, where the car stands now."""
        found = []
        poses = self.poses()
        for wheel in self.wheels:
            centre, turn = poses[wheel["body"]]
            spin = turn @ wheel["spin"]
            radius, place = contact(centre, spin)
            found.append((centre, spin, place, wheel["rate"] * (wheel["free"] - radius)))
        return found

    def road_loads(self, along, across):
        """Forces and moments [N, N m] on every body but the vertical rates'."""
        mass = sum(self.masses)
        front = self.brake_front if along < 0 else 0.0
        rear = mass * across * self.rear + self.moved
        asked = [(mass * along * front, mass * across - rear), (mass * along * (1 - front), rear)]
        tyres = self.tyres()
        forces = [-m * np.array([along, across, G]) for m in self.masses]
        moments = [np.zeros(3) for _ in self.masses]
        for i, (wheel, (centre, spin, place, load)) in enumerate(zip(self.wheels, tyres)):
            share = load / (load + tyres[i ^ 1][3])
            of_along, of_across = asked[i // 2]
            force = np.array([of_along / 2, of_across * share, load])
            moment = np.cross(place - centre, force)
            if along >= 0:
                drive = spin * (spin @ moment)
                moment = moment - drive
                moments[self.hull] += drive
            vertical = wheel["rate"] * (wheel["free"] - centre[2])
            forces[wheel["body"]] += force - UP * vertical
            moments[wheel["body"]] += moment
        return np.array([forces, moments])

    def settle(self, along, across):
        """Equilibrium and road loads in turn until both stand; how many turns it took."""
        last = None
        for count in range(PASSES):
            loads = self.road_loads(along, across)
            if last is not None and np.abs(loads - last).max() < SETTLED:
                return count
            last = loads
            for items, values in ((self.pulls, loads[0]), (self.turns, loads[1])):
                for item, value in zip(items, values):
                    self.mbs.SetLoadParameter(item, "loadVector", list(space(value)))
            if not self.mbs.SolveStatic(self.settings, updateInitialValues=True):
                raise RuntimeError(f"no equilibrium at {along}, {across}")
            self.moved -= self.holding()[2] / self.wheelbase
        raise RuntimeError(f"road loads do not settle at {along}, {across}")

    def result(self, along, across):
        poses = self.poses()
        tyres = self.tyres()
        place, turn = poses[self.hull]
        origin = place - turn @ self.place
        travels, toes, cambers = [], [], []
        for wheel, (centre, spin, _, _) in zip(self.wheels, tyres):
            travels.append((turn.T @ (centre - origin))[2] - wheel["centre"][2])
            left = mirror if wheel["centre"][1] < 0 else np.array
            toes.append(toe_camber_deg(left(turn.T @ spin))[0])
            cambers.append(toe_camber_deg(left(spin))[1])
        held = self.holding()
        assert max(map(abs, held)) <= HELD, f"the car is held by {held} N, N m"
        return {
            "along": along,
            "across": across,
            "rise": origin[2],
            "pitch": -math.asin(turn[2, 0]),
            "roll": math.atan2(turn[2, 1], turn[2, 2]),
            "travels": travels,
            "loads": [t[3] for t in tyres],
            "toe_deg": toes,
            "camber_deg": cambers,
        }

    def reset(self):
        """Back to ride height."""
        self.moved = 0.0
        for configuration in (exu.ConfigurationType.Initial, exu.ConfigurationType.Current):
            self.mbs.systemData.SetSystemState(self.rest, configuration=configuration)


def contact(centre, spin):
    """Radius in the disc's plane down to the road z = 0, and the lowest point there."""
    up = unit(UP - spin * spin[2])
    radius = centre[2] / up[2]
    return radius, centre - up * radius


def compare(index, found, expected):
    """Largest differences from SciPy's statics [m, rad], [N]."""
    names = ("rise", "pitch", "roll", "travels")
    off = max(np.abs(np.subtract(found[n], expected[n])).max() for n in names)
    off_n = np.abs(np.subtract(found["loads"], expected["loads"])).max()
    place = f"car {index}, {found['along']}, {found['across']}"
    assert off <= AGREE, f"{place}: differs by {off:.1e} m or rad"
    assert off_n <= AGREE_N, f"{place}: loads differ by {off_n:.1e} N"
    return off, off_n


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--data", type=Path, default=DATA)
    parser.add_argument("--out", type=Path, default=DATA)
    parser.add_argument("--cases", type=int)
    options = parser.parse_args()
    options.out.mkdir(parents=True, exist_ok=True)
    cases, worst, most = [], np.zeros(2), 0
    for index, case in enumerate(read(options.data / "whole-car.json")["cases"][: options.cases]):
        car = Car(case)
        states = []
        for expected in case["states"]:
            car.reset()
            most = max(most, car.settle(expected["along"], expected["across"]))
            found = car.result(expected["along"], expected["across"])
            worst = np.maximum(worst, compare(index, found, expected))
            states.append({k: degrees(v) if "deg" in k or k == "loads" else metres(v) for k, v in found.items()})
        cases.append({"states": states})
    head = {
        "kind": "exudyn-car",
        "source": "EXUDYN static solver, script exudyn_car.py",
        "versions": {"exudyn": exu.__version__, "numpy": np.__version__},
    }
    write(options.out / "exudyn-car.json", head, cases)
    count = sum(len(c["states"]) for c in cases)
    print(
        f"exudyn cars: {len(cases)} cars, {count} states, at most {most} passes, differs from SciPy by "
        f"at most {worst[0]:.1e} m or rad, {worst[1]:.1e} N"
    )


if __name__ == "__main__":
    main()
