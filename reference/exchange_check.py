"""Reads what the exchange crate writes with other libraries, and has it read what they write.

DXF: ezdxf loads, audits and measures it. STEP: the geometry kernel OpenCASCADE (through OCP)
transfers and measures it. XLSX and CSV: openpyxl and Python's csv, both ways.
Raises AssertionError where something differs. Writes nothing but a temporary folder.

Run: python exchange_check.py    (needs cargo)
"""

import csv
import math
import os
import subprocess
import tempfile
from pathlib import Path

import ezdxf
import openpyxl
from ezdxf import units
from OCP.BRep import BRep_Tool
from OCP.BRepAdaptor import BRepAdaptor_Curve
from OCP.GCPnts import GCPnts_AbscissaPoint
from OCP.GeomAbs import GeomAbs_Circle, GeomAbs_Line
from OCP.IFSelect import IFSelect_RetDone
from OCP.STEPControl import STEPControl_Reader
from OCP.TopAbs import TopAbs_EDGE, TopAbs_VERTEX
from OCP.TopExp import TopExp_Explorer
from OCP.TopoDS import TopoDS

ROOT = Path(__file__).parent.parent
NINE_DECIMALS = 2e-9  # mm: coordinates are written to nine
TEXT = "Ø 12,2 ± 0,1 — 100 % ^ %%d"


def samples(folder, *files):
    command = ["cargo", "run", "-q", "-p", "soapstone-exchange"]
    command += ["--example", "exchange_samples", "--", str(folder), *files]
    subprocess.run(command, check=True, cwd=ROOT, env=dict(os.environ))


def near(a, b, within=NINE_DECIMALS):
    return len(a) == len(b) and all(abs(x - y) <= within for x, y in zip(a, b))


def load(path):
    document = ezdxf.readfile(path)
    audit = document.audit()
    assert not audit.errors, [e.message for e in audit.errors]
    assert not audit.fixes, [e.message for e in audit.fixes]
    assert document.units == units.MM
    assert document.header["$MEASUREMENT"] == 1
    return document, document.modelspace()


def one(space, query):
    found = space.query(query)
    assert len(found) == 1, (query, len(found))
    return found[0]


def check_flat(path):
    document, space = load(path)
    layers = {layer.dxf.name for layer in document.layers}
    assert {"cut", "drill", "mark", "bend", "note"} <= layers, layers
    outline = one(space, 'LWPOLYLINE[layer=="cut"]')
    corners = [(0, 0), (120, 0), (120, 80.5), (0, 80.5)]
    assert outline.closed and [p[:2] for p in outline.get_points()] == corners
    holes = space.query('CIRCLE[layer=="drill"]')
    assert [h.dxf.radius for h in holes] == [6.1, 6.1]
    assert near(holes[1].dxf.center, (55.123456789, 40, 0))
    line = one(space, 'LINE[layer=="mark"]')
    assert near(line.dxf.start, (-5, 40, 0)) and near(line.dxf.end, (125, 40, 0))
    assert near(one(space, "POINT").dxf.location, (60, 40.25, 0))
    arc = one(space, 'ARC[layer=="bend"]')
    assert near(arc.start_point, turned((60, 40, 0), 12, 350))
    assert near(arc.end_point, turned((60, 40, 0), 12, 80))
    text = one(space, 'TEXT[layer=="note"]')
    assert (text.dxf.height, text.dxf.rotation) == (3.5, 90)
    assert text.plain_text() == TEXT, text.plain_text()


def turned(centre, radius, degrees):
    angle = math.radians(degrees)
    x, y, z = centre
    return x + radius * math.cos(angle), y + radius * math.sin(angle), z


def check_space(path):
    _, space = load(path)
    line = one(space, 'LINE[layer=="reference"]')
    assert near(line.dxf.start, (-2600, 421, 290)) and near(line.dxf.end, (-2612.5, 701, 277))
    frame = one(space, "POLYLINE")
    assert frame.is_3d_polyline and frame.is_closed
    assert [tuple(v.dxf.location) for v in frame.vertices] == [(0, 0, 0), (10, 0, 5), (10, 20, -5)]
    bolt = one(space, "CIRCLE")
    centre = bolt.ocs().to_wcs(bolt.dxf.center)
    assert near(centre, (1200, -430, 215), 1e-8), centre
    length = math.sqrt(0.38)
    assert near(bolt.dxf.extrusion, (0.3 / length, -0.5 / length, 0.2 / length))


def explore(shape, kind):
    explorer = TopExp_Explorer(shape, kind)
    while explorer.More():
        yield explorer.Current()
        explorer.Next()


def place(vertex):
    point = BRep_Tool.Pnt_s(TopoDS.Vertex(vertex))
    return point.X(), point.Y(), point.Z()


def check_step(path):
    reader = STEPControl_Reader()
    assert reader.ReadFile(str(path)) == IFSelect_RetDone
    assert reader.TransferRoots() == 1
    shape = reader.OneShape()
    lines, circles, lengths = [], [], []
    for edge in explore(shape, TopAbs_EDGE):
        curve = BRepAdaptor_Curve(TopoDS.Edge(edge))
        lengths.append(GCPnts_AbscissaPoint.Length_s(curve))
        if curve.GetType() == GeomAbs_Line:
            lines.append(curve)
        elif curve.GetType() == GeomAbs_Circle:
            circles.append(curve)

    def ends(curve):
        points = (curve.Value(curve.FirstParameter()), curve.Value(curve.LastParameter()))
        return [(p.X(), p.Y(), p.Z()) for p in points]

    rod = ((-2600, 421, 290), (-2612.5, 701, 277))
    assert any(near(ends(c)[0], rod[0], 1e-7) and near(ends(c)[1], rod[1], 1e-7) for c in lines)
    bolt = [c for c in circles if abs(c.Circle().Radius() - 6.1) < 1e-9]
    assert len(bolt) == 1
    centre = bolt[0].Circle().Location()
    assert near((centre.X(), centre.Y(), centre.Z()), (1200, -430, 215))
    axis = bolt[0].Circle().Axis().Direction()
    assert abs(axis.X() * 0.3 - axis.Y() * 0.5 + axis.Z() * 0.2 - math.sqrt(0.38)) < 1e-9
    notch = [c for c in circles if abs(c.Circle().Radius() - 12) < 1e-9]
    assert len(notch) == 1
    assert near(ends(notch[0])[0], turned((60, 40, 7), 12, 350), 1e-7), ends(notch[0])
    assert near(ends(notch[0])[1], turned((60, 40, 7), 12, 80), 1e-7), ends(notch[0])
    # The closed frame of three straight pieces, as one curve or as several.
    frame = math.dist((0, 0, 0), (10, 0, 5)) + math.dist((10, 0, 5), (10, 20, -5)) + math.dist((10, 20, -5), (0, 0, 0))
    others = sum(lengths) - math.dist(*rod) - 2 * math.pi * 6.1 - 12 * math.radians(90)
    assert abs(others - frame) < 1e-6, (others, frame)
    points = [place(v) for v in explore(shape, TopAbs_VERTEX)]
    assert any(near(p, (1, 2, 3)) for p in points)
    # Names, as the kernel reads them from the file.
    model = reader.WS().Model()
    names = set()
    for i in range(1, model.NbEntities() + 1):
        entity = model.Value(i)
        name = entity.Name() if hasattr(entity, "Name") else None
        if hasattr(name, "ToCString"):
            names.add(name.ToCString())
    assert {"frame", "bolt", "datum", "notch", "sample's frame"} <= names, names


def check_xlsx(path):
    book = openpyxl.load_workbook(path)
    assert book.sheetnames == ["points", "diagonals"]
    sheet = book["points"]
    assert sheet.freeze_panes == "A2"
    assert [c.value for c in sheet[1]] == ["point", "x [mm]", "note"] and sheet["A1"].font.b
    assert (sheet["B2"].value, sheet["B2"].number_format) == (2760.04, "0.0")
    for cell, value in (("C2", "=1+1"), ("C3", "@x"), ("C4", "-2")):
        # A string, not a formula, and one that stays a string when edited.
        assert sheet[cell].value == value and sheet[cell].quotePrefix, cell
    assert "<f>" not in sheet_text(path)
    assert sheet["A3"].value == "± Ø" and sheet["A4"].value is None
    assert sheet.column_dimensions["A"].width >= len("link.toe.body")


def sheet_text(path):
    import zipfile

    with zipfile.ZipFile(path) as archive:
        return archive.read("xl/worksheets/sheet1.xml").decode()


def check_csv(path):
    with open(path, newline="", encoding="utf-8") as file:
        rows = list(csv.reader(file, delimiter=";"))
    assert rows[1] == ["link.toe.body", "2760,0", "'=1+1"], rows
    assert rows[2] == ["± Ø", "-0,5", "'@x"], rows


def check_reading(folder):
    book = openpyxl.Workbook()
    sheet = book.active
    sheet.title = "survey"
    sheet["B3"], sheet["C3"], sheet["D3"] = "point", "x [mm]", "ok"
    sheet["B5"], sheet["C5"], sheet["D5"] = "link.toe.body", 0.1 + 0.2, True
    sheet["C7"] = "5' 2 1/2\""
    book.create_sheet("empty")
    book.save(folder / "theirs.xlsx")
    with open(folder / "theirs.csv", "w", newline="", encoding="utf-8-sig") as file:
        writer = csv.writer(file, delimiter="\t")
        writer.writerow(["name", "x"])
        file.write("\r\n")
        writer.writerow(["a\nb", '27 1/2"'])
    samples(folder, "theirs.xlsx", "theirs.csv")

    def rows(name):
        with open(folder / name, newline="", encoding="utf-8") as file:
            return list(csv.reader(file))[1:]

    read = rows("theirs.xlsx.survey.read.csv")
    assert read[2] == ["", "point", "x [mm]", "ok"], read
    assert read[4] == ["", "link.toe.body", "0.3", "TRUE"], read
    assert read[6][2] == "5' 2 1/2\"", read
    assert len(read) == 7
    read = rows("theirs.csv..read.csv")
    assert read == [["name", "x"], ["", ""], ["a\nb", '27 1/2"']], read


def main():
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        samples(folder)
        check_flat(folder / "flat.dxf")
        check_space(folder / "space.dxf")
        check_step(folder / "space.step")
        check_xlsx(folder / "sheets.xlsx")
        check_csv(folder / "sheet.csv")
        check_reading(folder)
    print("DXF, STEP, XLSX and CSV are read alike by ezdxf, OpenCASCADE, openpyxl and csv")


if __name__ == "__main__":
    main()
