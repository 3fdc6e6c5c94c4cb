"""A ruler of pixels on the pages of a print: poppler draws them at 600 dpi, one at a time.

The bars and the circle stand outside the window that shows templates, in a band along the head of
the page and one along its left side: only these are drawn, since a page of a wide roll would be
300 million pixels."""
import re
import subprocess

from pdf_text import text_of

DPI = 600
MM = DPI / 25.4  # pixels
WITHIN = 0.1     # mm, DEFINITIONS.md, Bars
HEAD = 44.0      # mm from the top to the window
SIDE = 12.3      # mm from the left to just before the window
CIRCLE = 20.0    # mm
CIRCLE_LINE = 0.2

DARK = bytes(0 if value < 128 else 1 for value in range(256))


def info(pdf, *words):
    return subprocess.run(["pdfinfo", *words, str(pdf)], capture_output=True, check=True,
                          text=True).stdout


def page_count(pdf):
    return int(re.search(r"Pages:\s+(\d+)", info(pdf)).group(1))


def words_on(pdf, page):
    return text_of(pdf, "-f", str(page), "-l", str(page))


def drawn(pdf, page, dpi=DPI, crop=()):
    """A page as (width, height, bytes of grey values); `crop` is left, top, width, height [px]."""
    part = [word for name, value in zip("xyWH", crop) for word in (f"-{name}", str(int(value)))]
    raw = subprocess.run(["pdftoppm", "-r", str(dpi), "-gray", "-f", str(page), "-l", str(page),
                          *part, str(pdf)], capture_output=True, check=True).stdout
    header = re.match(rb"P5\s+(\d+)\s+(\d+)\s+255\s", raw)
    return int(header.group(1)), int(header.group(2)), raw[header.end():]


def rows_and_columns(width, height, grey):
    ink = grey.translate(DARK)
    rows = [ink[y * width:(y + 1) * width] for y in range(height)]
    return rows, [ink[x::width] for x in range(width)]


def extents(lines):
    """First and last index of the lines that hold ink."""
    inked = [index for index, line in enumerate(lines) if 0 in line]
    return inked[0], inked[-1]


def bars(lines, least):
    """Lengths [mm] of the solid bars among lines of pixels: runs of ink at least `least` mm long
    and 1 mm thick, measured over their ends."""
    found, pattern = {}, re.compile(rb"\x00{%d,}" % int(least * MM))
    for line in lines:
        for match in pattern.finditer(line):
            found.setdefault((match.start(), match.end()), 0)
            found[(match.start(), match.end())] += 1
    return sorted((end - start) / MM for (start, end), count in found.items() if count > MM)


def check_sheet(test, pdf, page, bar_mm, bar_inches, factor=1.0):
    """Every check bar of a page and its circle are as long as their words say, times the factor
    of a corrected print; there are two bars across, one upright, and no other."""
    where = f"{pdf.name} page {page}"
    size = re.search(r"size:\s+([\d.]+) x ([\d.]+)",
                     info(pdf, "-f", str(page), "-l", str(page)))
    across, up = (float(size.group(i)) / 72.0 * DPI for i in (1, 2))
    head = HEAD * MM * factor
    rows, _ = rows_and_columns(*drawn(pdf, page, crop=(0, 0, across + 1, head)))
    _, columns = rows_and_columns(
        *drawn(pdf, page, crop=(0, head, SIDE * MM * factor, up + 1 - head)))
    for lines, wanted in ((rows, sorted((bar_mm * factor, bar_inches * 25.4 * factor))),
                          (columns, [bar_mm * factor])):
        found = bars(lines, 0.9 * bar_mm)
        test.assertEqual(len(found), len(wanted), f"{where}: {found}")
        for bar, length in zip(found, wanted):
            test.assertLessEqual(abs(bar - length), WITHIN, f"{where}: {bar} for {length}")
    check_circle(test, where, rows, max(bar_mm, bar_inches * 25.4), factor)


def check_circle(test, where, rows, longest_bar, factor):
    """The circle stands right of the bars; its line may cross the window's frame by 0.6 mm."""
    dot = MM * factor
    left, right = int((8 + longest_bar + 2) * dot), int((8 + longest_bar + 2 + 25) * dot)
    cut = [row[left:right] for row in rows[int(22 * dot):int(43.2 * dot)]]
    for lines in (cut, [bytes(row[x] for row in cut) for x in range(right - left)]):
        low, high = extents(lines)
        measured = (high - low + 1) / MM - CIRCLE_LINE * factor
        test.assertLessEqual(abs(measured - CIRCLE * factor), WITHIN, f"{where}: {measured}")
