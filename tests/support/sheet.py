"""The job sheet as its reader sees it: headings, tables, and every figure with its unit."""
import html.parser
import math
import re


class Table:
    def __init__(self, heading):
        self.heading, self.head, self.rows = heading, [], []


class _Parser(html.parser.HTMLParser):
    """Text of headings and cells; pictures have figures of their own and are left out."""

    def __init__(self):
        super().__init__()
        self.tables, self.headings, self.heading, self.text = [], [], "", None
        self.row, self.picture, self.said = None, 0, []

    def handle_starttag(self, tag, attrs):
        if tag == "svg":
            self.picture += 1
        elif tag == "table":
            self.tables.append(Table(self.heading))
        elif tag == "tr":
            self.row = ([], [])
        elif tag in ("td", "th", "h2", "p"):
            self.text = ""
        elif tag == "br" and self.text is not None:
            self.text += " "

    def handle_endtag(self, tag):
        if tag == "svg":
            self.picture -= 1
        elif tag == "h2":
            self.heading = " ".join(self.text.split())
            self.headings.append(self.heading)
            self.text = None
        elif tag == "p" and self.text is not None:
            self.said.append((self.heading, " ".join(self.text.split())))
            self.text = None
        elif tag in ("td", "th"):
            self.row[tag == "th"].append(" ".join(self.text.split()))
            self.text = None
        elif tag == "tr":
            cells, heads = self.row
            table = self.tables[-1]
            if heads and not cells:
                table.head = heads
            else:
                table.rows.append(heads + cells)

    def handle_data(self, data):
        if self.text is not None and not self.picture:
            self.text += data


def tables(text):
    parser = _Parser()
    parser.feed(text)
    return parser.tables


def paragraphs(text):
    """Every paragraph with the heading that it stands under."""
    parser = _Parser()
    parser.feed(text)
    return parser.said


# Unit: dimension, its size in g, mm, m2, mL and so on; exact by definition but for the words' own.
INCH, POUND, FLUID_OUNCE = 25.4, 453.59237, 29.5735295625
UNITS = {
    "g": ("mass", 1.0), "kg": ("mass", 1000.0), "oz wt": ("mass", POUND / 16),
    "oz": ("mass", POUND / 16), "lb": ("mass", POUND),
    "mm": ("length", 1.0), "cm": ("length", 10.0), "m": ("length", 1000.0), "in": ("length", INCH),
    "ft": ("length", 12 * INCH), "yd": ("length", 36 * INCH), "mil": ("length", INCH / 1000),
    "cm²": ("area", 1e-4), "in²": ("area", (INCH / 1000) ** 2),
    "m²": ("area", 1.0), "ft²": ("area", (12 * INCH / 1000) ** 2),
    "mL": ("volume", 1.0), "L": ("volume", 1000.0), "fl oz": ("volume", FLUID_OUNCE),
    "qt": ("volume", 32 * FLUID_OUNCE), "quart": ("volume", 32 * FLUID_OUNCE),
    "gal": ("volume", 128 * FLUID_OUNCE),
    "g/m²": ("areal weight", 1.0), "oz/ft²": ("areal weight", POUND / 16 / (0.3048 ** 2)),
    "g/mL": ("density", 1.0), "°C": ("warmth", 1.0), "°F": ("warmth", 1.0), "°": ("angle", 1.0),
    "%": ("share", 0.01), "min": ("time", 1.0), "h": ("time", 60.0), "drops": ("drops", 1.0),
    "MPa": ("stress", 1.0), "psi": ("stress", 0.45359237 * 9.80665 / 25.4 ** 2),
}
_NUMBER = r"(?<![\w.,-])(-?\d+(?:\.\d+)?)"
_UNIT = "|".join(re.escape(u) for u in sorted(UNITS, key=len, reverse=True))
_POUNDS = re.compile(_NUMBER + r" lb (\d+(?:\.\d+)?) (?:oz wt|oz)(?![\w²/])")
_PLAIN = re.compile(_NUMBER + r" ?(" + _UNIT + r")(?:s(?=\W|$))?(?![\w²/°])")
US = {"oz wt", "oz", "lb", "in", "ft", "yd", "mil", "ft²", "in²", "fl oz", "qt", "quart", "gal", "oz/ft²",
      "°F", "psi"}


# Inches as a rule or a tape shows them: whole and parts, no decimals.
_INCHES = r"(?<![\w.,/-])(?:(\d+) )?(?:(\d+)/(\d+)|(\d+))(?![\d./])"
_RULED = re.compile(_INCHES + r" in(?![\w²])")


def ruled(match):
    """Inches of a match of _INCHES, and half of the mark they are read to (common practice): 1/32
    below 6 in, 1/16 beyond."""
    whole, count, parts, alone = match.groups()[:4]
    inches = float(whole or 0) + (int(count) / int(parts) if parts else float(alone))
    if parts and int(parts) not in (2, 4, 8, 16, 32):
        raise ValueError(f"no rule is marked so: {match.group(0)}")
    return inches, (1 / 64 if inches < 6 else 1 / 32)


class Amount:
    """A figure: its value in the base unit and half of its last place."""

    def __init__(self, number, unit, pounds=0.0):
        self.dimension, size = UNITS[unit]
        places = len(number.partition(".")[2])
        self.value = float(number) * size + pounds * POUND
        self.half = 0.5 * 10.0 ** -places * size
        if unit == "°F":
            self.value, self.half = (self.value - 32) / 1.8, self.half / 1.8
        self.us = unit in US

    @staticmethod
    def of_rule(match):
        amount = Amount("0", "in")
        inches, half = ruled(match)
        amount.value, amount.half = inches * INCH, half * INCH
        return amount


def amounts(text):
    """Every figure with a unit in a cell, in order."""
    found = []
    for match in _POUNDS.finditer(text):
        found.append((match.start(), Amount(match.group(2), "oz", float(match.group(1)))))
    blanked = _POUNDS.sub(lambda m: " " * len(m.group(0)), text)
    for match in _RULED.finditer(blanked):
        found.append((match.start(), Amount.of_rule(match)))
    blanked = _RULED.sub(lambda m: " " * len(m.group(0)), blanked)
    for match in _PLAIN.finditer(blanked):
        found.append((match.start(), Amount(match.group(1), match.group(2))))
    return [amount for _, amount in sorted(found, key=lambda pair: pair[0])]


def numbers(text):
    """Every figure in a cell, units or not: what is printed and half of its last place."""
    return [(float(n), 0.5 * 10.0 ** -len(n.partition(".")[2]))
            for n in re.findall(_NUMBER, text)]


def lengths(text, us):
    """Lengths of a column whose head names the unit: [mm] and half of the last place or mark."""
    if not us:
        return numbers(text)
    found = [(m.start(), *ruled(m)) for m in re.finditer(_INCHES, text)]
    decimal = [(m.start(), float(m.group(1)), 0.0005)
               for m in re.finditer(r"(?<![\w.,/-])(0\.\d{3})(?![\d./])", text)]
    return [(INCH * inches, INCH * half) for _, inches, half in sorted(found + decimal)]


def close(shown, half, expected):
    """Printed to so many places, and no nearer: rounded, not cut off."""
    return math.isclose(shown, expected, rel_tol=1e-6, abs_tol=half * 1.0001)


def polygon_area(points):
    """Shoelace, signed [mm2]."""
    return 0.5 * sum(a[0] * b[1] - b[0] * a[1] for a, b in zip(points, points[1:] + points[:1]))


def turned(points, degrees):
    c, s = math.cos(math.radians(degrees)), math.sin(math.radians(degrees))
    return [(c * x - s * y, s * x + c * y) for x, y in points]


def apart(a, b):
    """The least distance between the corners of either loop and the edges of the other [mm]."""
    least = math.inf
    for points, loop in ((a, b), (b, a)):
        for p in points:
            for q, r in zip(loop, loop[1:] + loop[:1]):
                dx, dy = r[0] - q[0], r[1] - q[1]
                along = dx * dx + dy * dy
                s = ((p[0] - q[0]) * dx + (p[1] - q[1]) * dy) / along if along else 0.0
                s = min(1.0, max(0.0, s))
                least = min(least, math.hypot(p[0] - q[0] - s * dx, p[1] - q[1] - s * dy))
    return least


def ray_radii(loops, pole, degrees):
    """Distances from the pole to each crossing of a ray with closed polygons, nearest first."""
    way = (math.cos(math.radians(degrees)), math.sin(math.radians(degrees)))
    found = []
    for loop in loops:
        for a, b in zip(loop, loop[1:] + loop[:1]):
            p, q = ((c[0] - pole[0], c[1] - pole[1]) for c in (a, b))
            u, v = (way[0] * c[1] - way[1] * c[0] for c in (p, q))
            if (u < 0) == (v < 0):
                continue
            s = u / (u - v)
            along = (p[0] + s * (q[0] - p[0])) * way[0] + (p[1] + s * (q[1] - p[1])) * way[1]
            if along > 0:
                found.append(along)
    return sorted(found)
