"""Reruns every script and compares each number with the committed data.

Exits with 1 and the place when something differs.

Run: python check.py [--quick]    (--quick: the first 20 cases of each kind)
"""

import argparse
import json
import subprocess
import sys
import tempfile
from pathlib import Path

HERE = Path(__file__).parent
DATA = HERE / "data"
TOLERANCE = 1e-9  # m, and pure ratios
TOLERANCE_DEG = 1e-7  # deg, and deg per m
TOLERANCE_N = 1e-3  # wheel loads: 1e-9 m on a tyre of 300 N/mm, and some; forces in links
QUICK_CASES = 20
# Files that are few enough to be made in full even then.
WHOLE = ("closed-forms.json", "whole-car.json", "exudyn-car.json", "exudyn-forces.json", "pedal-step.json",
         "optimal-laps.json", "exudyn-motion.json")
# Made by integration in time: another machine takes other steps.
IN_TIME = ("pedal-step.json", "exudyn-motion.json")
TOLERANCE_IN_TIME = 1e-5  # of the value, and of one
# Made by an optimiser that ends within its tolerance.
OPTIMAL = "optimal-laps.json"
TOLERANCE_OPTIMAL = 1e-4  # of the value, and of one
# Frames: of the value, and of one; movements may be tighter.
FRAMES = "frames.json"
TOLERANCE_FRAMES = 1e-7
TOLERANCE_MOVES = 1e-9
# Says which libraries made a file; not part of the comparison.
IGNORED = {"versions"}


def differences(old, new, place, name=""):
    """Yields the places where two JSON values differ."""
    if isinstance(old, bool) or isinstance(new, bool) or isinstance(old, str):
        if old != new:
            yield f"{place}: {new!r}, committed {old!r}"
    elif isinstance(old, dict) and isinstance(new, dict):
        for key in sorted(old.keys() ^ new.keys()):
            yield f"{place}: `{key}` is on one side only"
        for key in old:
            if key in new and key not in IGNORED:
                yield from differences(old[key], new[key], f"{place}.{key}", key)
    elif isinstance(old, list) and isinstance(new, list):
        if len(old) != len(new):
            yield f"{place}: {len(new)} entries, committed {len(old)}"
        for i, (a, b) in enumerate(zip(old, new)):
            yield from differences(a, b, f"{place}[{i}]", name)
    elif isinstance(old, (int, float)) and isinstance(new, (int, float)):
        allowed = TOLERANCE_DEG if "deg" in name else TOLERANCE_N if name == "loads" else TOLERANCE
        if place.startswith(IN_TIME):
            allowed = TOLERANCE_IN_TIME * max(1.0, abs(old))
        if place.startswith(OPTIMAL):
            allowed = TOLERANCE_OPTIMAL * max(1.0, abs(old))
        if place.startswith(FRAMES):
            allowed = TOLERANCE_MOVES if ".moves" in place else TOLERANCE_FRAMES
            allowed *= max(1.0, abs(old))
        if not abs(old - new) <= allowed:
            yield f"{place}: {new}, committed {old}"
    elif old != new:
        yield f"{place}: another kind of value"


def run(script, *arguments):
    command = [sys.executable, "-B", HERE / script, *map(str, arguments)]
    if subprocess.run(command, check=False).returncode:
        sys.exit(f"{script} failed")


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--quick", action="store_true")
    quick = parser.parse_args().quick
    cases = ["--cases", QUICK_CASES] if quick else []
    with tempfile.TemporaryDirectory() as folder:
        out = Path(folder)
        run("corners.py", "--out", out, *cases)
        run("exudyn_rods.py", "--out", out, *cases)
        run("closed_forms.py", "--out", out)
        run("whole_car.py", "--out", out)
        run("exudyn_car.py", "--out", out)
        run("exudyn_forces.py", "--out", out)
        run("pedal_step.py", "--out", out)
        run("exudyn_motion.py", "--out", out)
        run("optimal_laps.py", "--out", out)
        run("frames.py", "--out", out, *cases)
        run("printed.py")
        run("exchange_check.py")
        run("columns_check.py")
        run("paper_check.py")
        names = {p.name for p in DATA.glob("*.json")} | {p.name for p in out.glob("*")}
        found = []
        for name in sorted(names):
            if not (DATA / name).exists() or not (out / name).exists():
                found.append(f"{name}: on one side only")
                continue
            old = json.loads((DATA / name).read_text(encoding="utf-8"))
            new = json.loads((out / name).read_text(encoding="utf-8"))
            if quick and name not in WHOLE:
                old["cases"] = old["cases"][:QUICK_CASES]
            found += differences(old, new, name)
    for place in found[:20]:
        print(place, file=sys.stderr)
    if found:
        sys.exit(f"{len(found)} differences from the committed data")
    print(f"{len(names)} files agree within {TOLERANCE} m, {TOLERANCE_DEG} deg")


if __name__ == "__main__":
    main()
