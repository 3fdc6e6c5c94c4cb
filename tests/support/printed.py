"""The pages of a print as poppler sees them: lines and words in mm from the lower left corner, y up, and what
each page says it is. Lines come whole, also where the page's window cuts them off."""
import re
import subprocess

import written_words as written
from pdf_text import text_of

MARGIN, HEADER, SIDE = 8.0, 36.0, 5.0  # mm: kept free, band of words along the top, band of the upright bar
OVERLAP = 12.0  # mm glued over, common practice is 10 to 15 (core/paper/paper.h)
POINT = 25.4 / 72


class Sheet:
    """One page."""

    def __init__(self, pdf, number, paper=None):
        """@param paper  mm, by its standard: a PDF says its size in whole points; a roll's height is None"""
        self.number = number
        info = subprocess.run(["pdfinfo", "-f", str(number), "-l", str(number), str(pdf)],
                              capture_output=True, check=True, text=True).stdout
        size = re.search(r"size:\s+([\d.]+) x ([\d.]+)", info)
        self.width, self.height = (float(size.group(i)) * POINT for i in (1, 2))
        if paper:
            self.width, self.height = paper[0], paper[1] or self.height
        page = written.Page(pdf, number)
        self.lines = {width: [[(x, self.height - y) for x, y in line] for line in lines]
                      for width, lines in page.lines.items()}
        self.text = text_of(pdf, "-f", str(number), "-l", str(number))
        self.words = self.boxes(pdf)
        tile = re.search(r"sheet (\d+) of (\d+)(?:, tile ([A-Z]+)(\d+) of (\d+))?", self.text)
        self.says = int(tile.group(1)), int(tile.group(2))
        self.tile = (column_of(tile.group(3)), int(tile.group(4)) - 1) if tile.group(3) else (0, 0)
        self.tiles = int(tile.group(5)) if tile.group(5) else 1

    def boxes(self, pdf):
        """Words with the box that they fill: (x, y, x, y), mm."""
        found = text_of(pdf, "-bbox", "-f", str(self.number), "-l", str(self.number))
        boxes = re.findall(r'<word xMin="([\d.-]+)" yMin="([\d.-]+)" xMax="([\d.-]+)" yMax="([\d.-]+)">(.*?)</word>',
                           found)
        return [(word, (float(a) * POINT, self.height - float(d) * POINT, float(c) * POINT,
                        self.height - float(b) * POINT)) for a, b, c, d, word in boxes]


def column_of(letters):
    """A is 0, Z 25, AA 26."""
    number = 0
    for letter in letters:
        number = number * 26 + ord(letter) - ord("A") + 1
    return number - 1


def sheets(pdf, paper=None):
    count = int(re.search(r"Pages:\s+(\d+)", subprocess.run(
        ["pdfinfo", str(pdf)], capture_output=True, check=True, text=True).stdout).group(1))
    return [Sheet(pdf, number, paper) for number in range(1, count + 1)]


def place_of(loop, lines, slack=0.1):
    """How far a loop of the plan is moved to lie on a line of the page; None where it is not there. Points
    are compared one for one, from any start, so that neither a turned nor a mirrored one will do."""
    for line in lines:
        points = line[:-1] if len(line) > 1 and line[0] == line[-1] else line
        if len(points) != len(loop):
            continue
        by = [sum(p[k] for p in points) / len(points) - sum(p[k] for p in loop) / len(loop) for k in (0, 1)]
        moved = [(x + by[0], y + by[1]) for x, y in loop]
        start = min(range(len(points)), key=lambda i: dist(points[i], moved[0]))
        for step in (1, -1):
            if all(dist(points[(start + step * i) % len(points)], moved[i]) < slack
                   for i in range(len(points))):
                return tuple(by)
    return None


def dist(a, b):
    return ((a[0] - b[0]) ** 2 + (a[1] - b[1]) ** 2) ** 0.5


def along(line, step, closed=True):
    """Points no farther than `step` apart on a line."""
    out = []
    for (ax, ay), (bx, by) in zip(line, line[1:] + (line[:1] if closed else [])):
        count = max(1, int(dist((ax, ay), (bx, by)) / step) + 1)
        out += [(ax + (bx - ax) * k / count, ay + (by - ay) * k / count) for k in range(count)]
    return out
