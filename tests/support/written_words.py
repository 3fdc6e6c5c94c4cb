"""Where words and lines stand on a drawing, as programs that are not ours see them: text elements
of an SVG file with the room that their letters need, and letters and strokes of a PDF page as
poppler draws them."""
import math
import re
import subprocess
import xml.etree.ElementTree as ElementTree

SVG = "{http://www.w3.org/2000/svg}"
XLINK = "{http://www.w3.org/1999/xlink}"
MM_PER_POINT = 25.4 / 72.0

# Of the em, by kind of letter: a little over the mean of each kind in DejaVu Sans, the widest of
# the faces that stand in for sans serif, and by a tenth more where bold.
ADVANCE = ((str.isupper, 0.70), (str.isdigit, 0.64), (str.islower, 0.60), (str.isspace, 0.32))
OTHER, BOLD = 0.50, 1.12
CAPITAL, DESCENDER = 0.73, 0.22


def advance(letter):
    return next((wide for kind, wide in ADVANCE if kind(letter)), OTHER)


class Text:
    """A line of text with the corners of its box, mm, y down."""

    def __init__(self, words, corners):
        self.words, self.corners = words, corners

    def __repr__(self):
        x, y = self.corners[0]
        return f"'{self.words}' at ({x:.1f}, {y:.1f})"


def turned(x, y, degrees):
    c, s = math.cos(math.radians(degrees)), math.sin(math.radians(degrees))
    return c * x - s * y, s * x + c * y


def texts_of_svg(path):
    """Every text element of a template; its own units are mm."""
    texts = []
    anchored = {}
    root = ElementTree.parse(path).getroot()
    for group in root.iter(f"{SVG}g"):
        for element in group.findall(f"{SVG}text"):
            anchored[element] = group.get("text-anchor") == "middle"
    for element, middle in anchored.items():
        size = float(element.get("font-size"))
        at = float(element.get("x")), float(element.get("y"))
        wide = size * sum(map(advance, element.text or ""))
        wide *= BOLD if element.get("font-weight") == "bold" else 1.0
        left = -wide / 2 if middle else 0.0
        below = size * (DESCENDER if re.search("[gjpqy,()]", element.text or "") else 0.0)
        turn = re.search(r"rotate\(([-\d.]+)", element.get("transform") or "")
        angle = float(turn.group(1)) if turn else 0.0
        box = [(left, below), (left + wide, below), (left + wide, -size * CAPITAL),
               (left, -size * CAPITAL)]
        corners = [turned(x, y, angle) for x, y in box]
        texts.append(Text(element.text, [(at[0] + x, at[1] + y) for x, y in corners]))
    return texts


def lines_of_svg(path, *groups):
    """The closed and open lines of named groups, mm; closed ones with their first point again."""
    lines = []
    for group in ElementTree.parse(path).getroot().iter(f"{SVG}g"):
        if group.get("id") not in groups:
            continue
        for part in re.findall(r"M[^M]*", group.find(f"{SVG}path").get("d")):
            numbers = [float(n) for n in re.findall(r"-?\d+\.?\d*(?:e-?\d+)?", part)]
            points = list(zip(numbers[0::2], numbers[1::2]))
            lines.append(points + points[:1] if "Z" in part.upper() else points)
    return lines


def dashes_of_svg(path):
    """Width [mm] and pattern of the lines of each group of a template."""
    return {group.get("id"): (float(group.get("stroke-width")),
                              (group.get("stroke-dasharray") or "none").replace(" ", ","))
            for group in ElementTree.parse(path).getroot().iter(f"{SVG}g")
            if group.get("stroke-width")}


def apart(a, b, slack=0.0):
    """Whether an axis parts two convex shapes, or they overlap by less than `slack` along it."""
    for shape in (a, b):
        for i, (x, y) in enumerate(shape):
            nx, ny = shape[i - 1][1] - y, x - shape[i - 1][0]
            length = math.hypot(nx, ny)
            if length == 0.0:
                continue
            nx, ny = nx / length, ny / length
            first = [nx * px + ny * py for px, py in a]
            second = [nx * px + ny * py for px, py in b]
            if min(max(first), max(second)) - max(min(first), min(second)) < slack:
                return True
    return False


def overlapping(texts, slack=0.0):
    return [(a, b) for i, a in enumerate(texts) for b in texts[i + 1:]
            if not apart(a.corners, b.corners, slack)]


def crossing(texts, lines):
    """Texts that a line runs through."""
    found = []
    for text in texts:
        xs, ys = zip(*text.corners)
        low, high = (min(xs), min(ys)), (max(xs), max(ys))
        for line in lines:
            if any(near(a, b, low, high) and not apart(text.corners, [a, b])
                   for a, b in zip(line, line[1:])):
                found.append(text)
                break
    return found


def near(a, b, low, high):
    return all(max(a[k], b[k]) >= low[k] and min(a[k], b[k]) <= high[k] for k in (0, 1))


def inside(loop, point):
    """Whether a point lies inside a closed line (even-odd rule)."""
    x, y = point
    odd = False
    for (ax, ay), (bx, by) in zip(loop, loop[1:]):
        if (ay > y) != (by > y) and x < ax + (y - ay) / (by - ay) * (bx - ax):
            odd = not odd
    return odd


class Page:
    """Letters and black lines of a PDF page as poppler draws them, mm, y down.

    `letters` are convex outlines in the order of drawing; `lines` are lists of points by the width
    of the pen, `dashes` the pattern by the same."""

    def __init__(self, pdf, number):
        drawn = subprocess.run(["pdftocairo", "-svg", "-f", str(number), "-l", str(number),
                                str(pdf), "-"], capture_output=True, check=True).stdout
        root = ElementTree.fromstring(drawn)
        # Cairo wrote a letter as a symbol and a line's look as one style; from 1.18 on as a group of a
        # name, and as an attribute each.
        kept = [*root.iter(f"{SVG}symbol"), *(group for group in root.iter(f"{SVG}g")
                                              if (group.get("id") or "").startswith("glyph"))]
        shapes = {letter.get("id"): hull(path_points(letter.find(f"{SVG}path").get("d")))
                  for letter in kept if letter.find(f"{SVG}path") is not None}  # a space has none
        self.letters = []
        for use in root.iter(f"{SVG}use"):
            shape = shapes.get((use.get(f"{XLINK}href") or "#")[1:])
            if shape:
                x, y = float(use.get("x")), float(use.get("y"))
                self.letters.append([((x + px) * MM_PER_POINT, (y + py) * MM_PER_POINT)
                                     for px, py in shape])
        self.lines, self.dashes = {}, {}
        for path in root.iter(f"{SVG}path"):
            style = {**path.attrib,
                     **dict(item.split(":") for item in (path.get("style") or "").split(";") if item)}
            matrix = re.search(r"matrix\(([^)]*)\)", path.get("transform") or "")
            if not matrix or not style.get("stroke", "none").startswith("rgb(0%"):
                continue
            a, b, c, d, e, f = map(float, matrix.group(1).split(","))
            width = round(float(style["stroke-width"]) * math.hypot(a, b) * MM_PER_POINT, 2)
            self.dashes.setdefault(width, set()).add(style.get("stroke-dasharray", "none").replace(" ", ","))
            for part in re.findall(r"M[^M]*", path.get("d")):
                points = [((a * x + c * y + e) * MM_PER_POINT, (b * x + d * y + f) * MM_PER_POINT)
                          for x, y in path_points(part)]
                self.lines.setdefault(width, []).append(
                    points + points[:1] if "Z" in part else points)


def path_points(text):
    numbers = [float(number) for number in re.findall(r"-?\d+\.?\d*(?:e-?\d+)?", text)]
    return list(zip(numbers[0::2], numbers[1::2]))


def hull(points):
    """The convex outline of points (Andrew's monotone chain)."""
    points = sorted(set(points))
    if len(points) < 3:
        return []
    outline = []
    for way in (points, points[::-1]):
        chain = []
        for p in way:
            while len(chain) > 1 and ((chain[-1][0] - chain[-2][0]) * (p[1] - chain[-2][1])
                                      <= (chain[-1][1] - chain[-2][1]) * (p[0] - chain[-2][0])):
                chain.pop()
            chain.append(p)
        outline += chain[:-1]
    return outline


def cells_of(points, size):
    xs, ys = zip(*points)
    return [(i, j) for i in range(int(min(xs) // size), int(max(xs) // size) + 1)
            for j in range(int(min(ys) // size), int(max(ys) // size) + 1)]


def letters_on_letters(letters, slack=0.05):
    """Pairs of letters that stand on each other; of one word neighbours may touch."""
    near, found, size = {}, [], 4.0
    for index, letter in enumerate(letters):
        met = {other for cell in cells_of(letter, size) for other in near.get(cell, ())}
        found += [(letters[other][0], letter[0]) for other in sorted(met)
                  if other + 1 < index and not apart(letters[other], letter, slack)]
        for cell in cells_of(letter, size):
            near.setdefault(cell, []).append(index)
    return found


def letters_on_lines(letters, lines):
    """Where letters stand that a line runs through."""
    near, found, size = {}, [], 4.0
    for line in lines:
        for segment in zip(line, line[1:]):
            for cell in cells_of(segment, size):
                near.setdefault(cell, []).append(segment)
    for letter in letters:
        segments = {segment for cell in cells_of(letter, size) for segment in near.get(cell, ())}
        if any(not apart(letter, segment) for segment in segments):
            found.append(letter[0])
    return found
