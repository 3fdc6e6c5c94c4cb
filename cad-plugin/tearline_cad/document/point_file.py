"""Points of a text file, XYZ, PTS or CSV, by the same rules as the engine's (core/hull/read_points.cpp): a comma that
is taken for the wrong thing puts a scan somewhere else."""
import io

import numpy

from tearline_cad.document.words import tr

MARK = "\N{BYTE ORDER MARK}"  # that some programs write before the first line


def _has_decimal_commas(line):
    """Parted by semicolons, or by blanks alone with a comma at most within each of three words, and no point."""
    if ";" in line:
        return True
    words = line.split()[:3]
    return len(words) == 3 and not any(
        word[0] == "," or word[-1] == "," or word.count(",") > 1 or "," in word and "." in word for word in words)


def _fields(line):
    """The words of a line, with decimal points."""
    line = line.replace('"', " ")
    if _has_decimal_commas(line):
        return [word.replace(",", ".", 1) for word in line.replace(";", " ").split()]
    return line.replace(",", " ").split()


def _number(word):
    """What stands at once for a number: Python would read 1_000 and nan, too."""
    try:
        value = float(word) if "_" not in word else None
    except ValueError:
        return None
    return value if value is not None and numpy.isfinite(value) else None


def _column_of_x(line):
    """Which column is x, by a line of names: the first where none is named so."""
    parts = ";" if ";" in line else "," if "," in line else None
    names = [next(iter(_fields(column)), "").lower() for column in line.split(parts)]
    if "x" not in names:
        return 0
    at = names.index("x")
    if names[at + 1:at + 3] != ["y", "z"]:
        raise ValueError(tr("names a column x, but y and z do not follow it: save x, y, z side by side"))
    return at


def _leading_numbers(fields):
    found = []
    for word in fields[:3]:
        if (value := _number(word)) is None:
            break
        found.append(value)
    return found


def rows_of(lines):
    """Rows of x, y, z; ValueError with the number of the line that has none."""
    found, skipped, first = [], 0, True
    for number, line in enumerate(lines, 1):
        line = line.strip(f" \t\r\n{MARK}" if number == 1 else " \t\r\n")
        if not line or line.startswith(("#", "//")):
            continue
        values = _leading_numbers(_fields(line)[skipped:])
        heading, first = first and len(values) < 2, False
        try:
            if heading:  # names, or in PTS files how many there are
                skipped = _column_of_x(line)
            elif len(values) < 3:
                raise ValueError(tr("must begin with three numbers, x y z"))
            else:
                found.append(values)
        except ValueError as error:
            raise ValueError(tr("line {}: {}", number, error)) from error
    if not found:
        raise ValueError(tr("it holds no point"))
    return numpy.array(found)


def _plain_rows(text):
    """Rows of a text of nothing but numbers and blanks, at once; None where it is none."""
    if any(sign in text for sign in ',;"#/_'):
        return None
    try:
        rows = numpy.loadtxt(io.StringIO(text), usecols=(0, 1, 2), ndmin=2)
    except ValueError:
        return None
    return rows if len(rows) and numpy.isfinite(rows).all() else None


def read(path):
    with open(path, encoding="utf-8", errors="replace") as file:
        text = file.read()
    rows = _plain_rows(text)
    return rows_of(text.splitlines()) if rows is None else rows
