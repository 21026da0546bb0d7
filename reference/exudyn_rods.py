"""Rod-guided corners by EXUDYN's static solver, compared with the SciPy data.

A rigid body stands for the knuckle, five distance constraints for the rods and
one coordinate constraint holds the wheel centre's height; a wishbone counts as
two rods. Reads the geometries of data/five-link.json and
data/double-wishbone.json, asserts agreement with their results and writes
data/exudyn-<kind>.json in the same order of cases.

Run: python exudyn_rods.py [--data FOLDER] [--out FOLDER] [--cases N]
"""

import argparse
from pathlib import Path

import exudyn as exu
import numpy as np
from exudyn.itemInterface import (
    MarkerBodyPosition,
    MarkerNodeCoordinate,
    NodePointGround,
    ObjectConnectorCoordinate,
    ObjectConnectorDistance,
    ObjectGround,
)
from exudyn.utilities import InertiaCuboid

from common import TRACK_STEP, degrees, metres, read, toe_camber_deg, unit, write

DATA = Path(__file__).parent / "data"
AGREE_M = 1e-8
AGREE_DEG = 1e-5

# Rods of each kind as (fixed point, knuckle point).
RODS = {
    "five-link": [(f"link.{i}.body", f"link.{i}.upright") for i in "abcde"],
    "double-wishbone": [
        ("upper-arm.body-fore", "upper-arm.ball"),
        ("upper-arm.body-aft", "upper-arm.ball"),
        ("lower-arm.body-fore", "lower-arm.ball"),
        ("lower-arm.body-aft", "lower-arm.ball"),
        ("tie-rod.body", "tie-rod.upright"),
    ],
}


def tight_settings():
    """Static solver, silent, with a Newton tolerance near rounding."""
    settings = exu.SimulationSettings()
    settings.solution.file.write = False
    settings.staticSolver.verboseMode = 0
    settings.staticSolver.newton.relativeTolerance = 1e-12
    settings.staticSolver.newton.absoluteTolerance = 1e-13
    return settings


class Carrier:
    """The multibody model of one corner."""

    def __init__(self, points, wheel, rods):
        self.spin = unit(np.array(wheel["spin"]))
        self.mbs = exu.SystemContainer().AddSystem()
        mbs, centre = self.mbs, np.array(wheel["centre"])
        ground = mbs.AddObject(ObjectGround())
        # Mass does not matter to a statically determined position.
        body = mbs.CreateRigidBody(
            inertia=InertiaCuboid(1000, [0.1, 0.1, 0.1]), referencePosition=list(centre)
        )
        self.node = mbs.GetObject(body)["nodeNumber"]
        for fixed, moving in rods:
            a, b = np.array(points[fixed]), np.array(points[moving])
            ends = [
                mbs.AddMarker(MarkerBodyPosition(bodyNumber=n, localPosition=list(p)))
                for n, p in ((ground, a), (body, b - centre))
            ]
            length = float(np.linalg.norm(b - a))
            mbs.AddObject(ObjectConnectorDistance(markerNumbers=ends, distance=length))
        zero = mbs.AddNode(NodePointGround())
        ends = [
            mbs.AddMarker(MarkerNodeCoordinate(nodeNumber=n, coordinate=c))
            for n, c in ((zero, 0), (self.node, 2))
        ]
        self.height = mbs.AddObject(ObjectConnectorCoordinate(markerNumbers=ends))
        mbs.Assemble()
        self.rest = mbs.systemData.GetSystemState()

    def reset(self):
        initial = exu.ConfigurationType.Initial
        self.mbs.systemData.SetSystemState(self.rest, configuration=initial)

    def move(self, travel, settings):
        """Solve at `travel` [m], starting from the last solution."""
        self.mbs.SetObjectParameter(self.height, "offset", float(travel))
        if not self.mbs.SolveStatic(settings, updateInitialValues=True):
            raise RuntimeError(f"no solution at travel {travel}")

    def result(self, travel):
        kinds = exu.OutputVariableType
        centre = self.mbs.GetNodeOutput(self.node, kinds.Position)
        rotation = self.mbs.GetNodeOutput(self.node, kinds.RotationMatrix)
        toe, camber = toe_camber_deg(np.reshape(rotation, (3, 3)) @ self.spin)
        return {
            "travel": travel,
            "centre": metres(centre),
            "toe_deg": degrees(toe),
            "camber_deg": degrees(camber),
        }

    def sweep(self, travels, settings):
        """Results at the travels, each side followed from design by small steps."""
        results = {}
        for side in (-1, 1):
            self.reset()
            last = 0.0
            for travel in sorted((t for t in travels if t * side >= 0), key=abs):
                steps = max(1, round(abs(travel - last) / TRACK_STEP))
                for t in np.linspace(last, travel, steps + 1)[1:]:
                    self.move(t, settings)
                results[travel] = self.result(travel)
                last = travel
        return [results[t] for t in travels]


def compare(kind, index, found, expected):
    """Largest differences [m], [deg]; AssertionError beyond the tolerances."""
    off_m = max(abs(a - b) for a, b in zip(found["centre"], expected["centre"]))
    off_deg = max(abs(found[n] - expected[n]) for n in ("toe_deg", "camber_deg"))
    place = f"{kind} case {index} travel {found['travel']}"
    assert off_m <= AGREE_M, f"{place}: centre differs by {off_m:.1e} m"
    assert off_deg <= AGREE_DEG, f"{place}: angles differ by {off_deg:.1e} deg"
    return off_m, off_deg


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--data", type=Path, default=DATA)
    parser.add_argument("--out", type=Path, default=DATA)
    parser.add_argument("--cases", type=int)
    options = parser.parse_args()
    options.out.mkdir(parents=True, exist_ok=True)
    settings = tight_settings()
    for kind, rods in RODS.items():
        cases, worst = [], np.zeros(2)
        given = read(options.data / f"{kind}.json")["cases"][: options.cases]
        for index, case in enumerate(given):
            plain = [s for s in case["stations"] if s["rack"] == 0]
            carrier = Carrier(case["points"], case["wheel"], rods)
            stations = carrier.sweep([s["travel"] for s in plain], settings)
            for found, expected in zip(stations, plain):
                off = compare(kind, index, found, expected)
                worst = np.maximum(worst, off)
            cases.append({"stations": stations})
        head = {
            "kind": kind,
            "source": "EXUDYN static solver, script exudyn_rods.py",
            "versions": {"exudyn": exu.__version__, "numpy": np.__version__},
        }
        write(options.out / f"exudyn-{kind}.json", head, cases)
        print(
            f"exudyn {kind}: {len(cases)} cases, differs from SciPy by at most "
            f"{worst[0]:.1e} m, {worst[1]:.1e} deg"
        )


if __name__ == "__main__":
    main()
