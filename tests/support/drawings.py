"""Templates as lines with a role and words, as readers that are not ours find them in every format; and
the same made anew from plan.json by the rules of core/drawing and SOURCES.md section 9."""
import math
import re
import xml.etree.ElementTree as ElementTree

SVG = "{http://www.w3.org/2000/svg}"
OWN_FRAME = (0.0, 0.0)
# Layers and groups by role.
SVG_GROUPS = {
    "smaller-ply": "smaller", "rings": "ring", "net-line": "net", "sketch": "sketch", "fibre": "fibre",
    "fold-lines": "fold", "kerfs": "kerf", "arrows": "arrow", "datum": "datum", "match-ticks": "tick", "relief-cuts": "relief",
    "holes": "hole", "tear-line": "tear", "cut-line": "cut"}
CAD_LAYERS = {
    "SMALLER_PLY": "smaller", "FOLD_LINES": "fold", "KERFS": "kerf", "RINGS": "ring", "NET_LINE": "net", "SKETCH": "sketch",
    "FIBRE": "fibre", "ARROWS": "arrow", "DATUM": "datum", "MATCH_TICKS": "tick",
    "RELIEF_CUTS": "relief", "HOLES": "hole", "TEAR_LINE": "tear", "CUT_LINE": "cut",
    "NOTCHES": "notch", "DRILL": "drill"}
# SOURCES.md section 9, ASTM D6673: roles that share a layer cannot be told apart there.
ASTM_LAYERS = {"tear": "1", "cut": "1", "notch": "4", "fibre": "7", "hole": "11", "relief": "11",
               "drill": "13"}
PARTED = ("tear", "cut", "hole", "relief")


def astm_layer(role):
    return ASTM_LAYERS.get(role, "8")


class Line:
    def __init__(self, role, points, closed):
        self.role, self.points, self.closed = role, [tuple(p) for p in points], closed

    def __repr__(self):
        return f"{self.role}{' closed' if self.closed else ''} {len(self.points)}: {self.points[:2]}"


class Text:
    """Words by the middle of their base line and the way to the top of a capital letter."""

    def __init__(self, base, up, words):
        self.base, self.up, self.words = base, up, words

    def __repr__(self):
        return f"'{self.words}' at ({self.base[0]:.2f}, {self.base[1]:.2f})"


class Drawn:
    def __init__(self):
        self.lines, self.texts = [], []

    def of(self, *roles):
        return [line for line in self.lines if line.role in roles]

    def words(self):
        return sorted(text.words for text in self.texts)


def of_svg(path):
    """A template's SVG; y up, about its datum."""
    root = ElementTree.parse(path).getroot()
    datum = [float(v) for v in re.search(r"\(([-\d.]+), ([-\d.]+)\)", root.find(f"{SVG}desc").text).groups()]
    drawn = Drawn()
    for group in root.iter(f"{SVG}g"):
        name = group.get("id")
        if name in SVG_GROUPS:
            for part in re.findall(r"M[^M]*", group.find(f"{SVG}path").get("d")):
                points = [(float(x) - datum[0], datum[1] - float(y))
                          for x, y in re.findall(r"[ML](-?[\d.]+) (-?[\d.]+)", part)]
                drawn.lines.append(Line(SVG_GROUPS[name], points, part.rstrip().endswith("Z")))
        elif name in ("words", "warnings"):
            for element in group.findall(f"{SVG}text"):
                drawn.texts.append(svg_text(element, datum))
        elif name not in ("check-bar", "check-words"):
            raise AssertionError(f"a group that no reader knows: {name}")
    return drawn


def svg_text(element, datum):
    x, y = float(element.get("x")), float(element.get("y"))
    # Capitals of common sans serif faces are 0.72 of the em (core/formats/svg_template.cpp).
    height = 0.72 * float(element.get("font-size"))
    turn = re.match(r"rotate\((-?[\d.]+) (-?[\d.]+) (-?[\d.]+)\)$", element.get("transform") or "rotate(0 0 0)")
    if element.get("transform"):
        assert (float(turn.group(2)), float(turn.group(3))) == (x, y), element.get("transform")
    # SVG turns clockwise by positive angles, since its y points down.
    angle = math.radians(float(turn.group(1)))
    return Text((x - datum[0], datum[1] - y), (height * math.sin(angle), height * math.cos(angle)),
                element.text or "")


def dxf_words(text):
    """\\U+XXXX is a character beyond ASCII, two of them one beyond the basic plane."""
    units = re.sub(r"\\U\+([0-9A-F]{4})", lambda code: chr(int(code[1], 16)), text)
    return units.encode("utf-16", "surrogatepass").decode("utf-16")


def dxf_text(entity):
    angle = math.radians(entity.dxf.get("rotation", 0.0))
    high = entity.dxf.height
    at = entity.dxf.align_point if entity.dxf.get("halign", 0) == 1 else entity.dxf.insert
    return Text(tuple(at)[:2], (-high * math.sin(angle), high * math.cos(angle)), dxf_words(entity.dxf.text))


def of_dxf_2000(block):
    drawn = Drawn()
    for entity in block:
        kind = entity.dxftype()
        if kind == "TEXT":
            assert entity.dxf.layer == "WORDS", entity.dxf.layer
            drawn.texts.append(dxf_text(entity))
        elif kind == "LWPOLYLINE":
            drawn.lines.append(Line(CAD_LAYERS[entity.dxf.layer], [p[:2] for p in entity.get_points()],
                                    entity.closed))
        elif kind == "POINT":
            drawn.lines.append(Line(CAD_LAYERS[entity.dxf.layer], [tuple(entity.dxf.location)[:2]], False))
        else:
            raise AssertionError(f"an entity that no reader knows: {kind}")
    return drawn


def of_dxf_r12(block):
    """Lines by the number of their layer; words of layer 15 alone, those of layer 1 are a piece's list."""
    drawn = Drawn()
    drawn.listed = {}
    drawn.boundary_points = {"2": [], "3": []}
    for entity in block:
        kind, layer = entity.dxftype(), entity.dxf.layer
        if kind == "TEXT" and layer == "15":
            drawn.texts.append(dxf_text(entity))
        elif kind == "TEXT":
            assert layer == "1", layer
            key, _, value = entity.dxf.text.partition(": ")
            drawn.listed[key] = value
        elif kind == "POLYLINE":
            drawn.lines.append(Line(layer, [tuple(v.dxf.location)[:2] for v in entity.vertices],
                                    entity.is_closed))
        elif kind == "LINE":
            drawn.lines.append(Line(layer, [tuple(entity.dxf.start)[:2], tuple(entity.dxf.end)[:2]], False))
        elif kind == "POINT" and layer == "4":
            # A notch: its depth stands as height, the way in as angle.
            x, y, depth = entity.dxf.location
            way = math.radians(entity.dxf.angle)
            drawn.lines.append(Line(layer, [(x, y), (x + depth * math.cos(way), y + depth * math.sin(way))],
                                    False))
        elif kind == "POINT" and layer in drawn.boundary_points:
            drawn.boundary_points[layer].append(tuple(entity.dxf.location)[:2])
        elif kind == "POINT":
            drawn.lines.append(Line(layer, [tuple(entity.dxf.location)[:2]], False))
        else:
            raise AssertionError(f"an entity that no reader knows: {kind} on {layer}")
    return drawn


class Plotted:
    """The way of each pen through an HPGL file, 40 steps to the mm."""

    def __init__(self, path):
        text = path.read_text(encoding="ascii")
        assert text.startswith("IN;PA;\n") and text.endswith("PU0,0;SP0;\n"), text[:20]
        self.pens, self.texts, self.order = {}, [], []
        for pen, commands in re.findall(r"SP([1-8]);\n(.*?)(?=SP\d;|PU0,0;SP0;)", text, re.S):
            self.order.append(int(pen))
            lines = self.pens.setdefault(int(pen), [])
            for start, rest in re.findall(r"PU(-?\d+,-?\d+);PD([-\d,]*);\n", commands):
                points = self.points(start + ("," + rest if rest else ""))
                closed = len(points) > 3 and points[0] == points[-1]
                lines.append(Line(pen, points[:-1] if closed else points, closed))
            for start, cos, sin, wide, high, words in re.findall(
                    r"PU(-?\d+,-?\d+);DI(-?[\d.]+),(-?[\d.]+);SI([\d.]+),([\d.]+);LB([^\x03]*)\x03;\n",
                    commands):
                self.texts.append((self.points(start)[0], (float(cos), float(sin)),
                                   (10 * float(wide), 10 * float(high)), words, int(pen)))

    @staticmethod
    def points(numbers):
        steps = [int(n) / 40 for n in numbers.split(",")]
        return list(zip(steps[0::2], steps[1::2]))


# A template made anew from plan.json.


def minus(a, b):
    return a[0] - b[0], a[1] - b[1]


def along(a, b):
    d = minus(b, a)
    length = math.hypot(*d)
    return (d[0] / length, d[1] / length), length


def arrow(role, tail, tip, heads):
    """A shaft and heads of 5 mm, or 0.35 of a short shaft, 0.4 as wide to either side."""
    way, length = along(tail, tip)
    head = min(5.0, 0.35 * length)
    lines = [Line(role, [tail, tip], False)]
    for at, (bx, by) in ((tip, (-way[0], -way[1])), (tail, way))[:heads]:
        barbs = [(at[0] + head * (bx - sign * 0.4 * by), at[1] + head * (by + sign * 0.4 * bx))
                 for sign in (1, -1)]
        lines.append(Line(role, [barbs[0], tuple(at), barbs[1]], False))
    return lines


def notch(tick, edge):
    """Where the ray of a tick leaves the outer edge, half of the band deep, 2 to 5 mm."""
    way, length = along(*tick)
    far = []
    for a, b in zip(edge, edge[1:] + edge[:1]):
        a, b = minus(a, tick[0]), minus(b, tick[0])
        side = [way[0] * p[1] - way[1] * p[0] for p in (a, b)]
        if (side[0] > 0) != (side[1] > 0):
            share = side[0] / (side[0] - side[1])
            x, y = a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])
            far.append(x * way[0] + y * way[1])
    far = [t for t in far if t > 0]
    if not far:
        return []
    t = min(far)
    depth = min(5.0, max(2.0, 0.5 * (t - 0.5 * length)))
    points = [(tick[0][0] + s * way[0], tick[0][1] + s * way[1]) for s in (t, t - depth)]
    return [Line("notch", points, False)]


def of_mark(mark):
    kind, points = mark["kind"], mark["points"]
    if kind == "datum":
        return [Line("datum", points[:2], False), Line("datum", points[2:], False)]
    if kind in ("bow", "up", "starboard"):
        return arrow("arrow", *points, heads=1)
    if kind == "fibre":
        return arrow("fibre", *points, heads=2)
    if kind in ("tick", "tape"):
        return [Line("tick", points, False)]
    if kind == "band_section":
        return [Line("sketch", points, False)]
    if kind == "press_first":
        return [Line("datum", points, True)]
    if kind == "fold":
        return [Line("fold", points, False)]
    if kind in ("next_edge", "next_edge_part"):
        return [Line("smaller", points, kind == "next_edge")]
    assert kind in ("label", "warning", "hull_end"), kind
    return []


def expected_lines(piece, mirror=False, drill=False):
    torn = piece["tear_line"] is not None
    edge = piece["tear_line"] or piece["cut_line"] or piece["net_line"]
    holes = (piece["tear_holes"] if torn else piece["cut_holes"]) or []
    if not (piece["tear_line"] or piece["cut_line"]):
        holes = piece["net_holes"]
    lines = [Line("tear" if torn else "cut", edge, True)] + [Line("hole", hole, True) for hole in holes]
    if piece["tear_line"] or piece["cut_line"]:
        lines += [Line("net", loop, True) for loop in [piece["net_line"], *piece["net_holes"]]]
    for mark in piece["marks"]:
        lines += of_mark(mark)
        if mark["kind"] == "tick":
            lines += notch(mark["points"], edge)
    lines += [Line("relief", cut["points"], False) for cut in piece["relief_cuts"]]
    if drill:
        lines.append(Line("drill", [OWN_FRAME], False))
    return [turned_over(line) for line in lines] if mirror else lines


def expected_labels(piece, mirror=False):
    """Words whose place stands in the plan; what stands beside a line has a place of its own."""
    texts = []
    for mark in piece["marks"]:
        if mark["kind"] in ("label", "warning"):
            base, top = mark["points"]
            sign = -1 if mirror else 1
            texts.append(Text((sign * base[0], base[1]), (sign * (top[0] - base[0]), top[1] - base[1]),
                              mark["text"]))
    return texts


def turned_over(line):
    """As the table sees it: x changes its sign, and closed lines keep their sense of turning."""
    points = [(-x, y) for x, y in line.points]
    return Line(line.role, points[::-1] if line.closed else points, line.closed)


# Comparing.


def without_doubles(line, step=1e-3):
    """As a cutter gets it: of points nearer than a thousandth of a mm one (core/formats/tolerances.h)."""
    points = []
    for point in line.points:
        if not points or math.dist(point, points[-1]) >= step:
            points.append(point)
    if line.closed and len(points) > 1 and math.dist(points[0], points[-1]) < step:
        points.pop()
    return Line(line.role, points, line.closed)


def gap(a, b):
    """How far two lines are apart, point for point; a closed one may begin anywhere, none may run the
    other way round. inf where they have not as many points."""
    if a.closed != b.closed or len(a.points) != len(b.points):
        return math.inf
    starts = range(1)
    if a.closed:
        nearest = min(range(len(b.points)), key=lambda i: math.dist(a.points[0], b.points[i]))
        starts = [nearest]
    count = len(a.points)
    return min(max(math.dist(a.points[i], b.points[(i + start) % count]) for i in range(count))
               for start in starts)


def unmatched(wanted, found, slack):
    """Lines of either side that have no partner of their own on the other."""
    left, lost = list(found), []
    for line in wanted:
        near = [other for other in left if other.role == line.role and gap(line, other) <= slack]
        if near:
            left.remove(near[0])
        else:
            lost.append(line)
    return lost, left


def with_layers(lines):
    return [Line(astm_layer(line.role), line.points, line.closed) for line in lines]


def moved(line, by):
    return Line(line.role, [(x + by[0], y + by[1]) for x, y in line.points], line.closed)
