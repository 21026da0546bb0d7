"""Random space frames by PyNite, a solver of frames by finite elements.

Nodes at random, tubes round and rectangular, turned at random about their axes,
some on balls; feet fixed, pinned and on springs; loads at nodes. Slender beams:
no shear. Every frame hangs together by a chain of welded tubes, so that none
is loose. Tubes on balls are given to PyNite by releases: bending at the ball, and
the torque once, since two torque releases leave a tube free to spin.

Run: python frames.py [--out FOLDER] [--cases N]
"""

import argparse
import math
from importlib.metadata import version
from pathlib import Path

import numpy as np
from Pynite import FEModel3D

from common import write

DATA = Path(__file__).parent / "data"
SEED = 20261126
CASES = 50
YOUNG, SHEAR = 210e9, 81e9
# Nodes nearer than this are drawn again [m].
APART = 0.25
DIGITS = 12
MOVES = ("DX", "DY", "DZ", "RX", "RY", "RZ")
FORCES = ("FX", "FY", "FZ", "MX", "MY", "MZ")
REACTIONS = ("RxnFX", "RxnFY", "RxnFZ", "RxnMX", "RxnMY", "RxnMZ")


def section(rng):
    """Area, second moments about y and z, torsion constant."""
    wall = rng.uniform(0.0015, 0.004)
    if rng.random() < 0.5:
        outer = rng.uniform(0.02, 0.06)
        inner = outer - 2 * wall
        second = math.pi / 64 * (outer**4 - inner**4)
        return [math.pi / 4 * (outer**2 - inner**2), second, second, 2 * second]
    h, b = rng.uniform(0.02, 0.1, 2)
    hi, bi = h - 2 * wall, b - 2 * wall
    hm, bm = h - wall, b - wall
    return [
        h * b - hi * bi,
        (b * h**3 - bi * hi**3) / 12,
        (h * b**3 - hi * bi**3) / 12,
        2 * wall * (hm * bm) ** 2 / (hm + bm),
    ]


def draw(rng):
    """A frame: what it is made of, held by and loaded with."""
    count = int(rng.integers(4, 9))
    nodes = []
    while len(nodes) < count:
        at = np.round(rng.uniform(-1, 1, 3), 4)
        if all(np.linalg.norm(at - other) > APART for other in nodes):
            nodes.append(at)
    pairs = [(int(rng.integers(0, k)), k, False) for k in range(1, count)]
    for _ in range(int(rng.integers(2, 6))):
        a, b = (int(n) for n in rng.choice(count, 2, replace=False))
        pairs.append((a, b, True))
    tubes = []
    for a, b, brace in pairs:
        ball = [bool(brace and rng.random() < 0.4) for _ in range(2)]
        turned = float(np.round(rng.uniform(-180, 180), 3))
        tubes.append({"nodes": [a, b], "ball": ball, "turned_deg": turned, "section": section(rng)})
    feet = [{"node": 0, "hold": ["fixed"] * 6}]
    for node in range(1, int(rng.integers(2, 4))):
        kind = rng.integers(0, 3)
        if kind == 0:
            hold = ["fixed"] * 3 + ["free"] * 3
        elif kind == 1:
            hold = [float(np.round(10 ** rng.uniform(5, 7))) for _ in range(3)] + ["free"] * 3
        else:
            hold = [float(np.round(10 ** rng.uniform(5, 7))) for _ in range(3)]
            hold += [float(np.round(10 ** rng.uniform(3, 5))) for _ in range(3)]
        feet.append({"node": node, "hold": hold})
    loads = []
    for _ in range(int(rng.integers(1, 4))):
        force = [float(f) for f in np.round(rng.uniform(-5000, 5000, 3))]
        moment = [float(m) for m in np.round(rng.uniform(-500, 500, 3))]
        loads.append({"node": int(rng.integers(1, count)), "force": force, "moment": moment})
    return {"nodes": [list(map(float, n)) for n in nodes], "tubes": tubes, "feet": feet, "loads": loads}


def solve(frame):
    """Adds to the frame what PyNite says of it."""
    model = FEModel3D()
    model.add_material("steel", YOUNG, SHEAR, YOUNG / (2 * SHEAR) - 1, 7850)
    for k, at in enumerate(frame["nodes"]):
        model.add_node(f"N{k}", *at)
    for k, tube in enumerate(frame["tubes"]):
        area, second_y, second_z, torsion = tube["section"]
        model.add_section(f"S{k}", area, second_y, second_z, torsion)
        a, b = tube["nodes"]
        model.add_member(f"T{k}", f"N{a}", f"N{b}", "steel", f"S{k}", rotation=tube.pop("turned_deg"))
        first, second = tube["ball"]
        model.def_releases(
            f"T{k}",
            Rxi=first, Ryi=first, Rzi=first,
            Rxj=second and not first, Ryj=second, Rzj=second,
        )
    for foot in frame["feet"]:
        name, hold = f"N{foot['node']}", foot["hold"]
        model.def_support(name, *(h == "fixed" for h in hold))
        for move, rate in zip(MOVES, hold):
            if not isinstance(rate, str):
                model.def_support_spring(name, move, rate)
    for load in frame["loads"]:
        for direction, value in zip(FORCES, load["force"] + load["moment"]):
            model.add_node_load(f"N{load['node']}", direction, value)
    model.analyze_linear()
    combo = "Combo 1"

    def of(node, names):
        return [float(getattr(node, name)[combo]) for name in names]

    frame["moves"] = [of(model.nodes[f"N{k}"], MOVES) for k in range(len(frame["nodes"]))]
    frame["reactions"] = [of(model.nodes[f"N{foot['node']}"], REACTIONS) for foot in frame["feet"]]
    for k, tube in enumerate(frame["tubes"]):
        member = next(iter(model.members[f"T{k}"].sub_members.values()))
        # The local z by which the tube lies, then the end forces that act on it, local axes.
        tube["up"] = [float(c) for c in member.T()[2, :3]]
        tube["ends"] = [float(f) for f in np.asarray(member.f(combo)).ravel()]


def rounded(value):
    if isinstance(value, float):
        return float(f"{value:.{DIGITS}g}")
    if isinstance(value, list):
        return [rounded(v) for v in value]
    if isinstance(value, dict):
        return {key: rounded(v) for key, v in value.items()}
    return value


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--out", type=Path, default=DATA)
    parser.add_argument("--cases", type=int, default=CASES)
    arguments = parser.parse_args()
    cases = []
    for index in range(min(arguments.cases, CASES)):
        frame = draw(np.random.default_rng([SEED, index]))
        solve(frame)
        cases.append(rounded(frame))
    versions = {name: version(name) for name in ("PyNiteFEA", "numpy", "scipy")}
    head = {"kind": "frames", "source": "PyNite, script frames.py", "versions": versions}
    head |= {"seed": SEED, "young": YOUNG, "shear": SHEAR}
    write(arguments.out / "frames.json", head, cases)


if __name__ == "__main__":
    main()
