"""Every mark of every piece stands in every format alike: SVG, DXF R12, DXF 2000, HPGL and PDF.

What is expected is plan.json's marks and cuts; what is found is what readers that are not ours see:
an XML parser, ezdxf, the pen's way through the HPGL, poppler."""
import json
import math
import os
import pathlib
import re
import subprocess
import sys
import tempfile
import unittest
import xml.etree.ElementTree as ElementTree

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1] / "support"))
import system_python  # noqa: E402
import written_words as written  # noqa: E402
from pdf_text import text_of  # noqa: E402

ezdxf = system_python.module("ezdxf")
SAMPLES = pathlib.Path(os.environ["TEARLINE_SOURCE"]) / "sample-models"
CLOTH = '\n[[fabric]]\nname = "cloth"\nkind = "woven"\nweight = "300 g/m2"\n'
TRANSOM = """[hull]
model = "curlew.step"
bow = [1, 0, 0]
up = [0, 0, 1]
skin = "9 mm"
[damage]
centre = [0, -50, 520]
radius = 60
depth = 2
[layup]
stack = ["mat 300", {fabric = "cloth", axis = 30}]
cover = []
""" + CLOTH
DARTS = (SAMPLES / "sphere.toml").read_text(encoding="utf-8").replace(
    "6.3046875 mm", "2.2 mm") + """
[[fabric]]
name = "mat 450"
strain_limit = 0.009
"""
# Jobs that between them have every kind of mark there is, and slits or darts.
JOBS = {"curlew-taped": (SAMPLES / "curlew-taped.toml").read_text(encoding="utf-8"),
        "wigley": (SAMPLES / "wigley.toml").read_text(encoding="utf-8"),
        "transom": TRANSOM, "darts": DARTS,
        "curlew-deck-edge": (SAMPLES / "curlew-deck-edge.toml").read_text(encoding="utf-8")}
CORED = """[hull]
model = "cylinder.step"
bow = [1, 0, 0]
up = [0, 0, 1]
[damage]
centre = [1000, 0, -500]
radius = 30
reaches = "core"
[core]
thickness = 10
outer = 1
inner = 1
material = "foam"
chamfer = 1
kerf_pitch = 25
kerf_width = 2
[layup.outer]
fill = "mat 300"
cover = []
"""
JOBS["cored"] = CORED
CLOSED = ("press_first", "next_edge")
SAID = ("label", "warning")
NOT_DRAWN = ("hull_end", "joint")  # lie on the net line, which is there; their words are labels


class Found:
    """Lines (points, closed) in the piece's own frame, y up, and the words beside them."""

    def __init__(self, lines, words):
        self.lines, self.words = lines, [" ".join(w.split()) for w in words if w]


def line_of(points, closed):
    """A line that comes back to its first point is closed."""
    if len(points) > 3 and math.dist(points[0], points[-1]) < 0.06:
        return (points[:-1], True)
    return (points, closed)


def in_svg(folder, name):
    root = ElementTree.parse(folder / "templates" / f"{name}.svg").getroot()
    datum = [float(v) for v in re.search(r"\(([-\d.]+), ([-\d.]+)\)",
                                         root.find(f"{written.SVG}desc").text).groups()]
    lines = []
    for path in root.iter(f"{written.SVG}path"):
        for part in re.findall(r"M[^M]*", path.get("d")):
            points = [(float(x) - datum[0], datum[1] - float(y))
                      for x, y in re.findall(r"[ML]([-\d.]+) ([-\d.]+)", part)]
            lines.append(line_of(points, "Z" in part))
    return Found(lines, [t.text for t in root.iter(f"{written.SVG}text")])


def in_dxf(folder, name, file):
    block = ezdxf.readfile(folder / file).blocks.get(name)
    lines, words = [], []
    for entity in block:
        kind = entity.dxftype()
        if kind == "LINE":
            lines.append(line_of([tuple(entity.dxf.start)[:2], tuple(entity.dxf.end)[:2]], False))
        elif kind == "POLYLINE":
            lines.append(line_of([tuple(v.dxf.location)[:2] for v in entity.vertices],
                                 entity.is_closed))
        elif kind == "LWPOLYLINE":
            lines.append(line_of([p[:2] for p in entity.get_points()], entity.closed))
        elif kind == "TEXT":
            words.append(re.sub(r"\\U\+([0-9A-F]{4})",
                                lambda code: chr(int(code[1], 16)), entity.dxf.text))
    return Found(lines, words)


def in_hpgl(folder, name):
    """The pen's way, 40 steps to the mm; the piece's own file has its datum at the origin."""
    lines, words = [], []
    text = (folder / "templates" / f"{name}.plt").read_text(encoding="ascii")
    for start, rest in re.findall(r"PU(-?\d+,-?\d+);PD([-\d,]*);", text):
        numbers = [int(n) / 40 for n in f"{start},{rest}".rstrip(",").split(",")]
        lines.append(line_of(list(zip(numbers[0::2], numbers[1::2])), False))
    words = re.findall("LB([^\x03]*)\x03", text)
    return Found(lines, words)


def in_pdf(folder, piece, room):
    """One piece on a page; where it lies there is known by the line it is parted along."""
    pdf = room / f"{piece['id']}.pdf"
    subprocess.run([os.environ["TEARLINE"], "print", str(folder), "--pdf", str(pdf), "--only",
                    piece["id"], "--paper", "roll 1400"], check=True, capture_output=True)
    lines = [line_of([(x, -y) for x, y in line], False)
             for group in written.Page(pdf, 1).lines.values() for line in group]
    parting = piece["tear_line"] or piece["cut_line"]
    wide = max(x for x, _ in parting) - min(x for x, _ in parting)
    high = max(y for _, y in parting) - min(y for _, y in parting)
    edge, = [points for points, closed in lines if closed and len(points) == len(parting)
             and abs(max(x for x, _ in points) - min(x for x, _ in points) - wide) < 0.2
             and abs(max(y for _, y in points) - min(y for _, y in points) - high) < 0.2][:1]
    dx = min(x for x, _ in parting) - min(x for x, _ in edge)
    dy = min(y for _, y in parting) - min(y for _, y in edge)
    text = text_of(pdf, "-raw")
    return Found([([(x + dx, y + dy) for x, y in points], closed) for points, closed in lines],
                 text.splitlines())


def without_doubles(points, closed):
    """As a cutter gets them: of points closer than one step of a plotter one."""
    out = []
    for point in points:
        if not out or math.dist(point, out[-1]) > 0.05:
            out.append(point)
    if closed and len(out) > 1 and math.dist(out[0], out[-1]) <= 0.05:
        out.pop()
    return out


def to_line(p, line, closed):
    """Distance of a point from a line."""
    best = math.inf
    for (ax, ay), (bx, by) in zip(line, line[1:] + (line[:1] if closed else [])):
        dx, dy = bx - ax, by - ay
        whole = dx * dx + dy * dy
        t = max(0.0, min(1.0, ((p[0] - ax) * dx + (p[1] - ay) * dy) / whole)) if whole else 0.0
        best = min(best, math.hypot(p[0] - ax - t * dx, p[1] - ay - t * dy))
    return best


def same(points, closed, line, slack):
    """Whether a line found has the points of one expected, either way round."""
    found, found_closed = line
    if found_closed != closed:
        return False
    found = without_doubles(found, closed)
    # A point in the middle of a straight run may be left out: of lines that are nearly straight many are. That
    # it is this line, point by point within the slack either way, is asked of all.
    if abs(len(found) - len(points)) > (0.1 if closed else 0.25) * len(points):
        return False
    return (all(to_line(p, found, closed) < slack for p in points) and
            all(to_line(q, points, closed) < slack for q in found))


def squeezed(text):
    """Without spaces: poppler gives turned words letter by letter."""
    return "".join(text.split())


def expected_lines(piece):
    for mark in piece["marks"]:
        if mark["kind"] in SAID + NOT_DRAWN:
            continue
        points = mark["points"]
        if mark["kind"] == "datum":
            yield mark["kind"], points[:2], False
            yield mark["kind"], points[2:], False
        else:
            yield mark["kind"], points, mark["kind"] in CLOSED
    for cut in piece["relief_cuts"]:
        yield cut["kind"], cut["points"], False


def expected_words(piece, on_paper):
    """On paper the names of edges carry the piece's name, as on every page."""
    for mark in piece["marks"]:
        text = mark["text"].upper() if mark["kind"] == "tick" else mark["text"]
        if mark["kind"] in (*NOT_DRAWN, "datum", "band_section") or not text:
            continue
        if on_paper and text in ("TEAR LINE", "NET LINE", "CUT LINE"):
            text = {"T": "TEAR", "N": "NET", "C": "CUT"}[text[0]]
        yield mark["kind"], text


class EveryMarkInEveryFormat(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        cls.room = tempfile.TemporaryDirectory()
        cls.folders = {}
        for name, text in JOBS.items():
            file = pathlib.Path(cls.room.name) / f"{name}.toml"
            file.write_text(re.sub(r'model = "(?!/)', f'model = "{SAMPLES}/', text),
                            encoding="utf-8")
            folder = pathlib.Path(cls.room.name) / name
            done = subprocess.run(
                [os.environ["TEARLINE"], "plan", str(file), "-o", str(folder), "--format",
                 "svg,dxf,dxf2000,hpgl", "--cutter-files", "pieces"],
                capture_output=True, text=True, check=False)
            assert done.returncode == 0, f"{name}: {done.stderr}"
            cls.folders[name] = folder

    @classmethod
    def tearDownClass(cls):
        cls.room.cleanup()

    def pieces(self):
        for job, folder in self.folders.items():
            plan = json.loads((folder / "plan.json").read_text(encoding="utf-8"))
            for ply in [*plan["plies"], plan.get("core") or {"pieces": []}]:
                for piece in ply["pieces"]:
                    yield job, folder, piece

    def readings(self, folder, piece):
        name = piece["id"]
        yield "svg", in_svg(folder, name), 0.01
        yield "dxf", in_dxf(folder, name, f"templates/{name}.dxf"), 0.01
        yield "dxf-2000", in_dxf(folder, name, f"templates/{name}-2000.dxf"), 0.01
        yield "hpgl", in_hpgl(folder, name), 0.06
        yield "pdf", in_pdf(folder, piece, pathlib.Path(self.room.name)), 0.15

    def test_the_jobs_hold_every_kind_of_mark(self):
        kinds = {mark["kind"] for _, _, piece in self.pieces() for mark in piece["marks"]}
        self.assertEqual(kinds, {"datum", "bow", "up", "starboard", "fibre", "tick", "tape", "fold",
                                 "press_first", "next_edge", "next_edge_part", "hull_end",
                                 "band_section", "kerf", "label", "warning"})
        cuts = {cut["kind"] for _, _, piece in self.pieces() for cut in piece["relief_cuts"]}
        self.assertIn("dart", cuts)

    def test_each_is_drawn_and_said_in_each_format(self):
        for job, folder, piece in self.pieces():
            for name, found, slack in self.readings(folder, piece):
                with self.subTest(job=job, piece=piece["id"], format=name):
                    for kind, points, closed in expected_lines(piece):
                        points = without_doubles(points, closed)
                        self.assertTrue(any(same(points, closed, line, slack)
                                            for line in found.lines), (kind, points[:3], closed))
                    said = squeezed("".join(found.words))
                    for kind, text in expected_words(piece, name == "pdf"):
                        if name == "hpgl":
                            text = text.replace("·", "-").replace("²", "2").replace("°", "o")
                        self.assertIn(squeezed(text), said, kind)
                    # Told once.
                    for word in ("UP", "BOW", "STARBOARD"):
                        self.assertLessEqual(found.words.count(word), 1, word)


if __name__ == "__main__":
    unittest.main(verbosity=2)
