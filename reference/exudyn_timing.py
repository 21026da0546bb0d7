"""Time of one position by EXUDYN's static solver, for comparison with ours.

Run: python exudyn_timing.py
"""

import time

import exudyn as exu
import numpy as np
from exudyn.advancedUtilities import CreateSymbolicUserFunction

from common import read
from exudyn_rods import DATA, RODS, Carrier, tight_settings

POSITIONS = 120
REPEATS = 40
LOW, HIGH = -0.06, 0.06


def sweep_time(carrier, settings):
    """Seconds for one sweep, and Newton steps taken in it."""
    carrier.mbs.systemData.SetSystemState(
        carrier.low, configuration=exu.ConfigurationType.Initial
    )
    begin = time.perf_counter()
    carrier.mbs.SolveStatic(settings)
    seconds = time.perf_counter() - begin
    solver = carrier.mbs.sys["staticSolver"]
    return seconds, solver.it.newtonStepsCount


def main():
    case = read(DATA / "five-link.json")["cases"][0]
    carrier = Carrier(case["points"], case["wheel"], RODS["five-link"])
    settings = tight_settings()
    for travel in np.arange(0, LOW - 0.001, -0.01):
        carrier.move(travel, settings)
    carrier.low = carrier.mbs.systemData.GetSystemState()

    # The height as a compiled expression of load time 0..1: no Python in the loop.
    def height(mbs, t, itemNumber, lOffset):
        return lOffset + (HIGH - LOW) * t

    carrier.mbs.SetObjectParameter(carrier.height, "offset", LOW)
    expression = CreateSymbolicUserFunction(
        carrier.mbs, height, "offsetUserFunction", carrier.height
    )
    carrier.mbs.SetObjectParameter(carrier.height, "offsetUserFunction", expression)
    settings.staticSolver.numberOfLoadSteps = POSITIONS
    settings.staticSolver.adaptiveStep = False

    runs = [sweep_time(carrier, settings) for _ in range(REPEATS)]
    at_top = carrier.result(HIGH)["centre"]
    off = np.abs(np.subtract(at_top, case["stations"][-1]["centre"])).max()
    assert off < 1e-8, f"the sweep ends {off:.1e} m off the SciPy position"
    seconds, newton_steps = min(runs)
    print(f"EXUDYN static solver: {seconds / POSITIONS * 1e6:.1f} us per position")
    print(
        f"measured on five-link case 0: one static solve of {POSITIONS} load steps "
        f"({(HIGH - LOW) / POSITIONS * 1e3:.0f} mm of travel each), best of {REPEATS}; "
        f"{newton_steps / POSITIONS:.2f} Newton steps per position to 1e-13; "
        "includes the solver object's start and end once per sweep and the reaction "
        "forces EXUDYN always computes; excludes model building, assembly and reading "
        "of results; height driven by a compiled expression, no Python in the loop"
    )


if __name__ == "__main__":
    main()
