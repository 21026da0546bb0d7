"""Forces in the rods, links and springs of a corner by EXUDYN's static solver.

Corners of data/five-link.json and data/double-wishbone.json: a rigid body for the
knuckle, distance constraints for the rods and one more for the spring that carries
the wheel. A third set has the spring on `link.a` of the five-link, beside that link's
own line: there the link is a body with a spherical joint at both ends, and one
rotation is held, as a bush with a level axis at the body would hold it.

The wheel is first moved to its travel with the spring off. Then the spring is held at
the length that it has there, and loads at the contact point and the wheel centre are
put on. The tensions are the multipliers of the constraints. Every body's balance
under the forces that come out is asserted, which also settles their signs.

Run: python exudyn_forces.py [--data FOLDER] [--out FOLDER]
"""

import argparse
from pathlib import Path

import exudyn as exu
import numpy as np
from exudyn.itemInterface import (
    LoadForceVector,
    LoadTorqueVector,
    MarkerBodyRigid,
    MarkerNodeCoordinate,
    NodePointGround,
    ObjectConnectorCoordinate,
    ObjectConnectorDistance,
    ObjectGround,
    ObjectJointGeneric,
    ObjectJointSpherical,
)
from exudyn.utilities import InertiaCuboid

from common import TRACK_STEP, contact_offset, metres, read, rounded, unit, write
from exudyn_rods import RODS, tight_settings

DATA = Path(__file__).parent / "data"
CASES = 10
FORCE = exu.OutputVariableType.Force
UP = np.array([0.0, 0.0, 1.0])
# Travels of the stations [m].
TRAVELS = (0.0, 0.035)
# Forces on the wheel [N] at the contact point and at the wheel centre, and whether a
# half-shaft takes their moment about the axle: braking in a bend, inboard drive, a kerb.
DEMANDS = [
    ((-4200.0, 2600.0, 5100.0), (0.0, 0.0, -310.0), False),
    ((3100.0, -900.0, 2800.0), (0.0, 0.0, -310.0), True),
    ((-700.0, -1500.0, 9000.0), (-1200.0, 0.0, 400.0), False),
]
# Largest force [N] or moment [N m] that may be left on a body; what is found is 1e-8.
LEFT = 1e-6


class Corner:
    """One corner; `carried` is the rod that is a body with the spring on it, if any."""

    def __init__(self, points, wheel, rods, spring, carried=None):
        self.mbs = exu.SystemContainer().AddSystem()
        self.settings = tight_settings()
        self.spin, self.radius = unit(np.array(wheel["spin"])), wheel["radius"]
        self.ground = self.mbs.AddObject(ObjectGround())
        self.centre = np.array(wheel["centre"])
        self.upright = self.body(self.centre)
        self.link, self.rods = None, []
        for name, (fixed, moving) in enumerate(rods):
            a, b = np.array(points[fixed]), np.array(points[moving])
            if name != carried:
                ends = [(None, a), (self.upright, b)]
                self.rods.append((self.distance(*ends), *ends))
                continue
            self.link = self.body((a + b) / 2)
            self.balls = [
                self.ball((None, a), (self.link, a)),
                self.ball((self.upright, b), (self.link, b)),
            ]
            self.inner, self.outer = a, b
            # The bush: its axis, level and square to the link, stays square to `across`.
            level = np.cross(b - a, UP)
            self.bush = unit(level), unit(np.cross(b - a, level))
            self.keep_square(*self.bush)
        foot, top = np.array(spring["mount"]), np.array(spring["body"])
        self.foot = (self.upright if carried is None else self.link, foot)
        self.top = (None, top)
        self.holder = self.distance(self.top, self.foot)
        zero = self.mbs.AddNode(NodePointGround())
        ends = [
            self.mbs.AddMarker(MarkerNodeCoordinate(nodeNumber=n, coordinate=c))
            for n, c in ((zero, 0), (self.upright["node"], 2))
        ]
        self.height = self.mbs.AddObject(ObjectConnectorCoordinate(markerNumbers=ends))
        hub = self.marker((self.upright, self.centre))
        self.pull = self.mbs.AddLoad(LoadForceVector(markerNumber=hub))
        self.turn = self.mbs.AddLoad(LoadTorqueVector(markerNumber=hub))
        self.mbs.Assemble()
        self.switch(False)

    def body(self, origin):
        # Mass does not matter: there is no weight.
        body = self.mbs.CreateRigidBody(
            inertia=InertiaCuboid(1000, [0.1, 0.1, 0.1]), referencePosition=list(origin)
        )
        return {"body": body, "node": self.mbs.GetObject(body)["nodeNumber"], "origin": origin}

    def marker(self, end, turn=None):
        body, point = end
        number, origin = (self.ground, 0) if body is None else (body["body"], body["origin"])
        frame = np.eye(4)
        frame[:3, 3] = point - origin
        if turn is not None:
            frame[:3, :3] = turn
        return self.mbs.AddMarker(MarkerBodyRigid(bodyNumber=number, localHT=frame))

    def distance(self, a, b):
        ends = [self.marker(a), self.marker(b)]
        length = float(np.linalg.norm(b[1] - a[1]))
        return self.mbs.AddObject(ObjectConnectorDistance(markerNumbers=ends, distance=length))

    def ball(self, a, b):
        ends = [self.marker(a), self.marker(b)]
        return self.mbs.AddObject(ObjectJointSpherical(markerNumbers=ends))

    def keep_square(self, level, across):
        """Keeps `level` of the link square to `across` of the ground."""
        third = np.cross(across, level)
        # The first rotation is held by: second axis of the first frame square to the third of the second.
        frame = np.column_stack([third, across, level])
        held = [0, 0, 0, 1, 0, 0]
        ends = [self.marker((None, self.inner), frame), self.marker((self.link, self.inner), frame)]
        self.mbs.AddObject(ObjectJointGeneric(markerNumbers=ends, constrainedAxes=held))

    def switch(self, held):
        self.mbs.SetObjectParameter(self.holder, "activeConnector", held)
        self.mbs.SetObjectParameter(self.height, "activeConnector", not held)

    def solve(self):
        if not self.mbs.SolveStatic(self.settings, updateInitialValues=True):
            raise RuntimeError("no solution")

    def pose(self, body):
        kinds = exu.OutputVariableType
        place = self.mbs.GetNodeOutput(body["node"], kinds.Position)
        turn = np.reshape(self.mbs.GetNodeOutput(body["node"], kinds.RotationMatrix), (3, 3))
        return place, turn

    def place(self, end):
        body, point = end
        if body is None:
            return point
        centre, turn = self.pose(body)
        return centre + turn @ (point - body["origin"])

    def go(self, start, travel):
        self.switch(False)
        self.load(np.zeros(3), np.zeros(3))
        steps = max(1, round(abs(travel - start) / TRACK_STEP))
        for t in np.linspace(start, travel, steps + 1):
            self.mbs.SetObjectParameter(self.height, "offset", float(t))
            self.solve()
        length = float(np.linalg.norm(self.place(self.foot) - self.place(self.top)))
        self.mbs.SetObjectParameter(self.holder, "distance", length)
        self.switch(True)

    def load(self, force, moment):
        for item, value in ((self.pull, force), (self.turn, moment)):
            self.mbs.SetLoadParameter(item, "loadVector", [float(x) for x in value])

    def tension(self, constraint):
        # A constraint's force is positive where it pushes.
        return -float(np.squeeze(self.mbs.GetObjectOutput(constraint, FORCE)))

    def demand(self, at_contact, at_hub, shaft):
        hub, turn = self.pose(self.upright)
        spin = turn @ self.spin
        contact = hub + contact_offset(spin, self.radius)
        force, moment = np.array(at_contact), np.cross(contact - hub, at_contact)
        axle = spin * (spin @ moment) if shaft else np.zeros(3)
        force, moment = force + at_hub, moment - axle
        self.load(force, moment)
        self.solve()
        rods = [(self.tension(rod), a, b) for rod, a, b in self.rods]
        spring = -self.tension(self.holder)
        on = {id(self.upright): [force, moment]}
        if self.link:
            on[id(self.link)] = [np.zeros(3), np.zeros(3)]

        def push(end, f):
            if end[0] is not None:
                wrench, origin = on[id(end[0])], self.pose(end[0])[0]
                wrench[0] = wrench[0] + f
                wrench[1] = wrench[1] + np.cross(self.place(end) - origin, f)

        for pull, a, b in [*rods, (-spring, self.top, self.foot)]:
            along = unit(self.place(b) - self.place(a))
            push(a, pull * along)
            push(b, -pull * along)
        found = {"contact": contact, "loads": [rod[0] for rod in rods] + [spring]}
        if self.link:
            # What the joints do to the link, which is their second marker's body.
            at_body, at_wheel = (np.array(self.mbs.GetObjectOutput(b, FORCE)) for b in self.balls)
            push((self.link, self.inner), at_body)
            push((self.link, self.outer), at_wheel)
            push((self.upright, self.outer), -at_wheel)
            # Nothing but the bush can hold what moment is left, and only about its own two axes' normal.
            level, across = self.pose(self.link)[1] @ self.bush[0], self.bush[1]
            bush = -on[id(self.link)][1]
            assert abs(level @ across) < 1e-9, f"the bush gives way by {level @ across}"
            held = np.cross(across, level)
            assert np.abs(bush - held * (held @ bush)).max() < LEFT, f"{bush} is not along {held}"
            on[id(self.link)][1] = np.zeros(3)
            found["link"] = {"loads": [*at_body, *at_wheel, *bush]}
        left = max(np.abs(w).max() for w in on.values())
        assert left < LEFT, f"{left} N or N m are left over"
        return found, left


def spring_of(points, wheel, carried):
    """A spring that stands near the wheel, or on a link beside its line [m]."""
    centre = np.array(wheel["centre"])
    if carried is None:
        foot = centre + [0.03, -0.11, 0.06]
    else:
        a, b = (np.array(points[f"{carried}.{end}"]) for end in ("body", "upright"))
        foot = a + 0.7 * (b - a) + [0.02, 0.0, 0.035]
    return {"mount": list(foot.round(4)), "body": list((foot + [-0.03, -0.12, 0.36]).round(4))}


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--data", type=Path, default=DATA)
    parser.add_argument("--out", type=Path, default=DATA)
    options = parser.parse_args()
    options.out.mkdir(parents=True, exist_ok=True)
    cases, worst = [], 0.0
    for kind, carried in (("five-link", None), ("double-wishbone", None), ("five-link", "link.a")):
        rods = RODS[kind]
        which = next((i for i, rod in enumerate(rods) if carried and rod[0].startswith(carried)), None)
        for index, case in enumerate(read(options.data / f"{kind}.json")["cases"][:CASES]):
            points, wheel = case["points"], case["wheel"]
            spring = spring_of(points, wheel, carried)
            corner = Corner(points, wheel, rods, spring, which)
            stations, last = [], 0.0
            for travel in TRAVELS:
                corner.go(last, travel)
                last = travel
                states = []
                for demand in DEMANDS:
                    found, left = corner.demand(*demand)
                    worst = max(worst, left)
                    states.append(found)
                contact = metres(states[0]["contact"])
                forces = [
                    {"loads": rounded(s["loads"], 7)}
                    | ({"link": {"loads": rounded(s["link"]["loads"], 7)}} if "link" in s else {})
                    for s in states
                ]
                stations.append({"travel": travel, "contact": contact, "demands": forces})
            cases.append(
                {"of": kind, "case": index, "on": carried or "upright", "spring": spring, "stations": stations}
            )
    head = {
        "kind": "exudyn-forces",
        "source": "EXUDYN static solver, script exudyn_forces.py",
        "versions": {"exudyn": exu.__version__, "numpy": np.__version__},
        "demands": [{"contact": c, "centre": h, "half_shaft": s} for c, h, s in DEMANDS],
    }
    write(options.out / "exudyn-forces.json", head, cases)
    print(f"exudyn forces: {len(cases)} corners, at most {worst:.1e} N or N m left over")


if __name__ == "__main__":
    main()
