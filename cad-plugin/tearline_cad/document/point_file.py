"""Points of a text file, XYZ, PTS or CSV, by the same rules as the engine's (core/hull/read_points.cpp): a comma that
is taken for the wrong thing puts a scan somewhere else."""
import io
import re

import numpy

from tearline_cad.document.words import tr

MARK = "\N{BYTE ORDER MARK}"  # that some programs write before the first line
BLANKS = " \t"
MOST_HEADINGS = 3
_NUMBER = re.compile(r"[-+]?([0-9]+\.?[0-9]*|\.[0-9]+)([eE][-+]?[0-9]+)?|[-+]?(inf|infinity|nan)", re.IGNORECASE)
_QUOTED = re.compile(r'"([^"]*)"?')
_DECIMAL_COMMA = re.compile(r"[-+0-9eE]*,[-+0-9eE]*")


def _unquoted(line):
    """A line without its quotes, a decimal comma within two of them as a point: "1,5","2,5","3,5"."""
    return _QUOTED.sub(lambda found: found[1].replace(",", ".") if _DECIMAL_COMMA.fullmatch(found[1]) else found[1], line)


def _words(line, parts):
    for sign in parts:
        line = line.replace(sign, " ")
    return [word for word in line.split(" ") if word]


def _has_decimal_commas(line):
    """Parted by semicolons, or by blanks alone with a comma at most within each of three words, and no point."""
    if ";" in line:
        return True
    words = _words(line, BLANKS)[:3]
    return len(words) == 3 and not any(
        word[0] == "," or word[-1] == "," or word.count(",") > 1 or "," in word and "." in word for word in words)


def _fields(line, decimal_commas):
    """The words of a line, with decimal points."""
    if decimal_commas:
        return [word.replace(",", ".", 1) for word in _words(line, BLANKS + ";")]
    return _words(line, BLANKS + ",")


def _number(word):
    """What stands at once for a number: Python would read 1_000 and figures of any script, too."""
    return float(word) if _NUMBER.fullmatch(word) else None


def _before_x(line, known):
    """(columns before x, the sign that parts them) by a line of names; as known where none is named so."""
    parts = ";" if ";" in line else "," if "," in line else None
    columns = line.split(parts) if parts else _words(line, BLANKS)
    names = [next(iter(_fields(column, _has_decimal_commas(column))), "").lower() for column in columns]
    if "x" not in names:
        return known
    at = names.index("x")
    if names[at + 1:at + 3] != ["y", "z"]:
        raise ValueError(tr("names a column x, but y and z do not follow it: save x, y, z side by side"))
    return at, parts


def _leading_numbers(line, before):
    """The numbers that a line has after those columns, three at most."""
    columns, parts = before
    decimal_commas = _has_decimal_commas(line)
    if parts and parts in line:  # empty columns are columns, too
        fields = _fields(parts.join(line.split(parts)[columns:]), decimal_commas)
    else:
        fields = _fields(line, decimal_commas)[columns:]
    found = []
    for word in fields[:3]:
        if (value := _number(word)) is None:
            break
        found.append(value)
    return found


def rows_of(lines):
    """Rows of x, y, z; ValueError with the number of the line that has none."""
    found, before, headings = [], (0, None), 0
    for number, line in enumerate(lines, 1):
        line = (line.removeprefix(MARK) if number == 1 else line).rstrip("\r\n")
        if not line.strip(BLANKS) or line.lstrip(BLANKS).startswith(("#", "//")):
            continue
        line = _unquoted(line)
        values = _leading_numbers(line, before)
        try:
            # What made them, names, units, or in PTS files how many there are.
            if not found and len(values) < 2 and headings < MOST_HEADINGS:
                headings += 1
                before = _before_x(line, before)
            elif len(values) < 3:
                raise ValueError(tr("must have three numbers under x, y and z") if before[0]
                                 else tr("must begin with three numbers, x y z"))
            elif not numpy.isfinite(values).all():
                raise ValueError(tr("a coordinate that is no finite number"))
            else:
                found.append(values)
        except ValueError as error:
            raise ValueError(tr("line {}: {}", number, error)) from error
    if not found:
        raise ValueError(tr("it holds no point"))
    return numpy.array(found)


def _plain_rows(text):
    """Rows of a text of nothing but numbers and blanks, at once; None where it is none."""
    if not text.isascii() or not text.strip() or any(sign in text for sign in ',;"#/_'):
        return None
    try:
        rows = numpy.loadtxt(io.StringIO(text), usecols=(0, 1, 2), ndmin=2)
    except ValueError:
        return None
    return rows if len(rows) and numpy.isfinite(rows).all() else None


def read(path):
    with open(path, encoding="utf-8", errors="replace", newline="\n") as file:
        text = file.read()
    rows = _plain_rows(text)
    return rows_of(text.split("\n")) if rows is None else rows
