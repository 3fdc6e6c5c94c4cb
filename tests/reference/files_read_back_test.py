"""Every file of plans of real hulls, opened by readers that are not ours: expat (XML), librsvg,
ezdxf, a dozen lines that draw HPGL; each holds the pieces of plan.json."""
import json
import math
import os
import pathlib
import re
import struct
import subprocess
import sys
import tempfile
import unittest
import xml.etree.ElementTree as ElementTree

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1] / "support"))
import system_python  # noqa: E402
from closed_lines import area  # noqa: E402

ezdxf = system_python.module("ezdxf")
system_python.module("ezdxf.path")
TEARLINE = os.environ["TEARLINE"]
SAMPLES = pathlib.Path(os.environ["TEARLINE_SOURCE"]) / "sample-models"


def hpgl_loops(text):
    """Loops that the knife cuts, in mm: pen 1, from pen down to pen up."""
    loops, here, pen = [], None, 0
    for word in map(str.strip, text.split(";")):
        if word.startswith("SP"):
            pen = int(word[2:] or 0)
        elif word[:2] in ("PU", "PD") and pen == 1:
            flat = [int(n) / 40 for n in word[2:].split(",") if n]
            points = list(zip(flat[::2], flat[1::2]))
            if word[:2] == "PU":
                here = points[-1] if points else here
            elif points:
                loops.append([here, *points])
                here = points[-1]
    return loops


class FilesReadBack(unittest.TestCase):
    def check(self, job):
        with tempfile.TemporaryDirectory(prefix="tearline läser ") as room:
            self.folder = pathlib.Path(room) / "out"
            path = pathlib.Path(room) / "job.toml"
            path.write_text(job, encoding="utf-8")
            run = subprocess.run([TEARLINE, "plan", str(path), "-o", str(self.folder), "--format",
                                  "svg,dxf,dxf2000,hpgl"], capture_output=True, text=True,
                                 check=False)
            self.assertEqual(run.returncode, 0, run.stderr)
            plan = json.loads((self.folder / "plan.json").read_text(encoding="utf-8"))
            self.pieces = {p["id"]: p for ply in plan["plies"] for p in ply["pieces"]}
            self.check_drawings()
            self.check_dxf("templates.dxf", "AC1009")
            self.check_dxf("templates-2000.dxf", "AC1015")
            self.check_hpgl()
            self.check_meshes()

    def check_drawings(self):
        drawings = list(self.folder.rglob("*.svg"))
        self.assertGreaterEqual(len(drawings), len(self.pieces) + 2)  # overview, guide
        for file in drawings:
            root = ElementTree.parse(file).getroot()
            self.assertEqual(root.tag, "{http://www.w3.org/2000/svg}svg")
            for element in root.iter():
                for value in element.attrib.values():
                    self.assertNotRegex(value, r"\b(nan|inf)\b", file.name)
            png = subprocess.run(["rsvg-convert", "-d", "25.4", "-p", "25.4", str(file)],
                                 capture_output=True, check=True)
            self.assertEqual(png.stderr, b"", file.name)
            wide, high = struct.unpack(">II", png.stdout[16:24])  # a pixel is a millimetre
            if file.parent.name == "templates":
                for key, drawn in (("width", wide), ("height", high)):
                    self.assertAlmostEqual(drawn, float(root.get(key)[:-2]), delta=1.01)
        done = subprocess.run(["xmllint", "--noout", str(self.folder / "job-sheet.html")],
                              capture_output=True, text=True, check=False)
        self.assertEqual(done.returncode, 0, done.stderr)

    def check_dxf(self, name, version):
        document = ezdxf.readfile(self.folder / name)
        self.assertEqual(document.dxfversion, version)
        audit = document.audit()
        self.assertEqual([e.message for e in audit.errors], [])
        if version != "AC1009":  # the reader "fixes" the SEQEND of every R12 file, its own included
            self.assertEqual([e.message for e in audit.fixes], [])
        found = {}
        for insert in document.modelspace().query("INSERT"):
            for entity in insert.virtual_entities():
                if entity.dxftype() in ("POLYLINE", "LWPOLYLINE"):
                    loop = [(v.x, v.y) for v in ezdxf.path.make_path(entity).flattening(0.005)]
                    best = found.setdefault(insert.dxf.name, [0.0])
                    best[0] = max(best[0], abs(area(loop)))
        for name, piece in self.pieces.items():
            # The largest loop of a block is what is cut out; holes lie inside it.
            outer = area(piece["tear_line"] or piece["cut_line"])
            self.assertAlmostEqual(found[name][0] / outer, 1, delta=2e-5, msg=name)

    def check_hpgl(self):
        text = (self.folder / "templates.plt").read_text(encoding="ascii")
        cut = sorted(abs(area(loop)) for loop in hpgl_loops(text) if len(loop) > 3)
        for piece in self.pieces.values():
            outer = area(piece["tear_line"] or piece["cut_line"])
            nearest = min(cut, key=lambda a: abs(a - outer))
            self.assertAlmostEqual(nearest / outer, 1, delta=3e-4, msg=piece["id"])

    def check_meshes(self):
        for piece in self.pieces.values():
            line, body = (self.folder / piece["mesh"]).read_bytes().split(b"\n", 1)
            header = json.loads(line)
            self.assertEqual(header["bytes"], len(body))
            arrays = {a["name"]: a for a in header["arrays"]}
            flat, corners = arrays["flat"], arrays["triangles"]
            xy = struct.unpack_from(f"<{2 * flat['shape'][0]}d", body, flat["offset"])
            t = struct.unpack_from(f"<{3 * corners['shape'][0]}i", body, corners["offset"])
            net = area(piece["net_line"]) + sum(map(area, piece["net_holes"]))
            total = 0.0
            for a, b, c in zip(t[::3], t[1::3], t[2::3]):
                p, q, r = ((xy[2 * i], xy[2 * i + 1]) for i in (a, b, c))
                one = area([p, q, r])
                self.assertGreater(one, 0, "a flat triangle is turned over")
                total += one
            self.assertAlmostEqual(total / net, 1, delta=2e-3)
            self.assertTrue(math.isfinite(total))

    def test_chine_of_a_workboat_in_mat(self):
        text = (SAMPLES / "curlew.toml").read_text(encoding="utf-8")
        self.check(re.sub('model = "', f'model = "{SAMPLES}/', text))

    def test_bilge_of_a_dinghy_in_mat_and_roving(self):
        text = (SAMPLES / "sandpiper.toml").read_text(encoding="utf-8")
        text = re.sub('fill = "mat 450"', 'fill = ["mat 450", "roving 600"]', text)
        self.check(re.sub('model = "', f'model = "{SAMPLES}/', text))


if __name__ == "__main__":
    unittest.main()
