"""A small plan.json of our own for the tests of the prints: figures that can be checked by hand."""
import json
import math


def circle(radius, cx=0.0, cy=0.0, count=180, clockwise=False):
    """A regular polygon through the circle: 180 points stay within 0.05 mm of a 300 mm radius."""
    points = [[cx + radius * math.cos(2 * math.pi * k / count),
               cy + radius * math.sin(2 * math.pi * k / count)] for k in range(count)]
    return points[::-1] if clockwise else points


def grown(points, factor):
    return [[factor * x, factor * y] for x, y in points]


def marks(ident, fabric, size):
    return [
        {"kind": "datum", "points": [[-10, 0], [10, 0], [0, -10], [0, 10]], "text": ""},
        {"kind": "bow", "points": [[0.2 * size, -0.3 * size], [0.2 * size + 40, -0.3 * size]],
         "text": "BOW"},
        {"kind": "up", "points": [[-0.3 * size, 0.1 * size], [-0.3 * size, 0.1 * size + 40]],
         "text": "UP"},
        {"kind": "fibre", "points": [[-20, -0.2 * size], [20, -0.2 * size]], "text": "FIBRE"},
        {"kind": "tick", "points": [[size - 4, 0], [size + 4, 0]], "text": ""},
        {"kind": "label", "points": [[0, 0.3 * size]], "text": f"PLY {ident}  {fabric}"},
        {"kind": "label", "points": [[0, 0.3 * size - 6]], "text": "THIS FACE TOWARDS YOU"},
    ]


def piece(ident, net, parting, torn, fabric, size):
    return {
        "id": ident, "net_line": net, "net_holes": [],
        "tear_line": parting if torn else None, "tear_holes": [] if torn else None,
        "cut_line": None if torn else parting, "cut_holes": None if torn else [],
        "marks": marks(ident, fabric, size), "relief_cuts": [],
        "area_mm2": 1000.0, "strain": {"rms": 0.001, "max": 0.002}, "shear_deg": None,
        "axis_deg": 0, "mesh": f"pieces/{ident}.bin",
    }


def plan(radii=(60.0, 150.0), title="Curlew 6 m workboat, bilge"):
    """Mat discs of the given net radii with a 20 mm tear margin, and one square of roving."""
    plies, rings = [], []
    for number, radius in enumerate(radii, 1):
        ident = f"{number}A"
        plies.append({"number": number, "fabric": "mat 450", "kind": "mat", "cover": False,
                      "pieces": [piece(ident, circle(radius), circle(radius + 20.0), True,
                                       "mat 450", radius)]})
        rings.append({"loops": [circle(radius)], "text": f"PLY {number}  DEPTH {6 - number} mm",
                      "depth_mm": 6.0 - number, "ply": number})
    number = len(radii) + 1
    square = [[-80, -50], [80, -50], [80, 50], [-80, 50]]
    plies.append({"number": number, "fabric": "roving 600", "kind": "woven", "cover": False,
                  "pieces": [piece(f"{number}A", grown(square, 0.9), square, False, "roving 600",
                                   70.0)]})
    outer = max(radii) + 25.0
    rings.append({"loops": [circle(max(radii) + 12.0)], "text": "SCARF EDGE", "depth_mm": 0.0,
                  "ply": -1})
    edge = [[x, -x * x / 4000.0] for x in range(-int(outer) - 60, int(outer) + 61, 5)]
    return {
        "schema": "tearline-plan/1", "program": {"name": "tearline", "version": "0.2.0"},
        "job": {"title": title, "model": "curlew.step", "model_sha256": "ab12cd34" * 8,
                "effective": {}},
        "plies": plies,
        "grind_guide": {"footprint": {"outer": circle(outer), "holes": []}, "rings": rings,
                        "marks": marks("GUIDE", "", outer)[:3]},
        "sections": [{"name": name, "edge": edge} for name in ("along", "across")],
        "warnings": [],
    }


def write(folder, value):
    folder.mkdir(parents=True, exist_ok=True)
    (folder / "plan.json").write_text(json.dumps(value), encoding="utf-8")
    return folder
