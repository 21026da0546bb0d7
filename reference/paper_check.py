"""Reads the files that the program writes for other programs with other libraries.

DXF of a template and of the skeleton: ezdxf. STEP: OpenCASCADE (through OCP). XLSX and CSV of
points: openpyxl and Python's csv, and `import` takes back what openpyxl wrote.
Distances are worked out anew from the car file's own figures.
Raises AssertionError where something differs. Writes nothing but a temporary folder.

Run: python paper_check.py    (needs cargo)
"""

import csv
import math
import os
import shutil
import subprocess
import tempfile
import tomllib
from pathlib import Path

import ezdxf
import openpyxl
from ezdxf import units
from OCP.BRep import BRep_Tool
from OCP.IFSelect import IFSelect_RetDone
from OCP.STEPControl import STEPControl_Reader
from OCP.TopAbs import TopAbs_VERTEX
from OCP.TopExp import TopExp_Explorer
from OCP.TopoDS import TopoDS

ROOT = Path(__file__).parent.parent
CAR = ROOT / "examples" / "plover" / "whole.toml"
NINE_DECIMALS = 2e-9  # mm: drawings have nine
FOUR_DECIMALS = 5.1e-5  # mm: tables of points in CSV have four
CLEARANCE = 0.25  # mm: what the drill is larger than the bolt


def run(*arguments):
    command = ["cargo", "run", "-q", "-p", "soapstone", "--", *map(str, arguments)]
    done = subprocess.run(command, check=True, cwd=ROOT, env=dict(os.environ), capture_output=True)
    return done.stdout.decode()


def load(path):
    document = ezdxf.readfile(path)
    audit = document.audit()
    assert not audit.errors and not audit.fixes
    assert document.units == units.MM
    return document.modelspace()


def check_template(folder, file):
    path = folder / "plate.dxf"
    run("template", CAR, "--plate", "lower-fore", "--side", "left", "-o", path)
    space = load(path)
    outline = space.query('LWPOLYLINE POLYLINE[layer=="cut"]')
    assert len(outline) == 1
    corners = file["rear"]["plate"]["lower-fore"]["corners"]
    drawn = [tuple(p)[:2] for p in outline[0].get_points("xy")]
    # The plate stands upright along the car: every corner is as far from every other as in the car.
    for i, a in enumerate(corners):
        for j, b in enumerate(corners):
            assert abs(math.dist(a, b) - math.dist(drawn[i], drawn[j])) < 1e-6, (i, j)
    holes = [h for h in file["rear"]["holes"] if h["end"] == "link.lower-fore.body"]
    rings = space.query('CIRCLE[layer=="drill"]')
    assert len(rings) == len(holes) > 1
    bolt = float(file["rear"]["plate"]["lower-fore"]["bolt"].removeprefix("M"))
    assert all(abs(2 * r.dxf.radius - bolt - CLEARANCE) < NINE_DECIMALS for r in rings)
    apart = sorted(math.dist(a["at"], b["at"]) for a in holes for b in holes)
    made = sorted((a.dxf.center - b.dxf.center).magnitude for a in rings for b in rings)
    assert all(abs(a - b) < 1e-6 for a, b in zip(apart, made)), (apart, made)


def in_car(point):
    """The file counts x rearward from the front axle, y left, z up."""
    return (-point[0], point[1], point[2])


def check_skeleton(folder, file):
    toe = file["rear"]["link"]["toe"]
    ends = [in_car(toe["body"]), in_car(toe["upright"])]
    path = folder / "skeleton.dxf"
    run("export", "skeleton", CAR, "-o", path)
    space = load(path)
    lines = [(tuple(line.dxf.start), tuple(line.dxf.end)) for line in space.query('LINE[layer=="links"]')]
    for mirror in (1, -1):
        wanted = [(x, mirror * y, z) for x, y, z in ends]
        found = any(
            all(math.dist(a, b) < 1e-6 for a, b in zip(order, wanted))
            for line in lines
            for order in (line, line[::-1])
        )
        assert found, wanted
    radius = file["rear"]["wheel"]["loaded-radius"]
    centre = in_car(file["rear"]["wheel"]["centre"])
    wheels = [c for c in space.query('CIRCLE[layer=="wheels"]') if abs(c.dxf.radius - radius) < 1e-6]
    assert any(math.dist(tuple(c.ocs().to_wcs(c.dxf.center)), centre) < 1e-6 for c in wheels)

    path = folder / "skeleton.step"
    run("export", "skeleton", CAR, "-o", path)
    reader = STEPControl_Reader()
    assert reader.ReadFile(str(path)) == IFSelect_RetDone
    assert reader.TransferRoots() == 1
    explorer = TopExp_Explorer(reader.OneShape(), TopAbs_VERTEX)
    places = []
    while explorer.More():
        point = BRep_Tool.Pnt_s(TopoDS.Vertex(explorer.Current()))
        places.append((point.X(), point.Y(), point.Z()))
        explorer.Next()
    for end in ends:
        assert any(math.dist(end, place) < 1e-6 for place in places), end


def check_points(folder, file):
    toe = file["rear"]["link"]["toe"]["body"]
    run("export", "points", CAR, "-o", folder / "points.csv")
    with open(folder / "points.csv", encoding="utf-8", newline="") as stream:
        rows = {row[0]: row[1:] for row in csv.reader(stream) if row}
    assert rows["point"][:1] == ["x [mm]"]
    assert math.dist(map(float, rows["rear.link.toe.body"][:3]), toe) < FOUR_DECIMALS
    path = folder / "points.xlsx"
    run("export", "points", CAR, "-o", path)
    book = openpyxl.load_workbook(path)
    sheet = book.worksheets[0]
    assert [cell.value for cell in sheet[1]] == ["point", "x [mm]", "y [mm]", "z [mm]", "± [mm]"]
    row = next(r for r in sheet.iter_rows(min_row=2) if r[0].value == "rear.link.toe.body")
    assert math.dist([cell.value for cell in row[1:4]], toe) < 1e-9
    # Moved and saved by another program, then taken in.
    row[3].value = toe[2] + 7.5
    book.save(path)
    car = folder / "car.toml"
    shutil.copy(CAR, car)
    run("import", car, path)
    taken = tomllib.loads(car.read_text(encoding="utf-8"))
    assert taken["rear"]["link"]["toe"]["body"] == [toe[0], toe[1], toe[2] + 7.5]
    taken["rear"]["link"]["toe"]["body"] = toe
    assert taken == file


def check_workbooks(folder):
    for what, arguments in (("results", ("export", "results")), ("jig", ("jig",))):
        path = folder / f"{what}.xlsx"
        run(*arguments, CAR, "-o", path)
        book = openpyxl.load_workbook(path)
        assert len(book.worksheets) > 2
        for sheet in book.worksheets:
            assert sheet.max_row > 1, sheet.title
            for cells in sheet.iter_rows():
                assert all(cell.data_type != "f" for cell in cells), sheet.title


def main():
    file = tomllib.loads(CAR.read_text(encoding="utf-8"))
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        check_template(folder, file)
        check_skeleton(folder, file)
        check_points(folder, file)
        check_workbooks(folder)
    print("the program's own files are read alike")


if __name__ == "__main__":
    main()
