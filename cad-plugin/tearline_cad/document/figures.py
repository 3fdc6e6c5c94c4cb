"""Figures as a person writes and reads them: each with its unit, lengths as FreeCAD is set to show them.

A decimal comma is read as one. What could be read in two ways is refused: 1,500 may be one and a half
or one and a half thousand, and a wrong figure goes into a pot of resin.
"""
import math
import re

import FreeCAD

from tearline_cad.document.words import tr

LENGTH = "mm"
# Unit of a key: what it is written with, and what others of its kind count in it.
UNITS = {
    "g": {"g": 1.0, "kg": 1000.0, "oz": 28.349523125, "lb": 453.59237},
    "g/m2": {"g/m2": 1.0, "g/m^2": 1.0, "g/m²": 1.0, "oz/yd2": 33.9057474749, "oz/ft2": 305.151727274},
    "MPa": {"MPa": 1.0, "N/mm2": 1.0, "kPa": 1e-3, "psi": 6.894757293168e-3},
    "g/mL": {"g/mL": 1.0, "g/ml": 1.0, "g/cm3": 1.0, "kg/L": 1.0, "kg/l": 1.0, "kg/m3": 1e-3},
    "g/cm3": {"g/cm3": 1.0, "g/mL": 1.0, "kg/L": 1.0, "kg/m3": 1e-3},
    "%": {"%": 1.0},
    "minutes": {"min": 1.0, "minutes": 1.0, "h": 60.0},
    "hours": {"h": 1.0, "hours": 1.0, "min": 1 / 60},
    "degrees": {"°": 1.0, "deg": 1.0, "degrees": 1.0},
    "degrees Celsius": {"°C": 1.0, "C": 1.0},
    "m2 a minute": {"m²/min": 1.0, "m2/min": 1.0},
    "drops": {"drops/mL": 1.0, "drops": 1.0},
    "fraction": {"%": 0.01, "": 1.0},
    "ratio": {": 1": 1.0, ":1": 1.0, "": 1.0},
    "parts": {"": 1.0},
    "": {"": 1.0},
}
_WRITTEN = re.compile(r"([-+]?[0-9.,]+(?:e[-+]?\d+)?)\s*(.*)", re.IGNORECASE | re.DOTALL)


class Unclear(ValueError):
    """What was written cannot be read, or in more than one way; the words say which."""


def _with_point(text):
    """Decimal commas as points."""
    for number in re.findall(r"[0-9.,]*,[0-9.,]*", text):
        if number.count(",") > 1 or "." in number or re.fullmatch(r"\d{1,3},\d{3}", number):
            raise Unclear(tr("{}: write the decimal point as 1.5, and thousands without a sign", number))
    return text.replace(",", ".")


def _preferred(value):
    """(unit, mm in it) that FreeCAD shows a length in."""
    _, factor, unit = FreeCAD.Units.Quantity(value or 10.0, FreeCAD.Units.Length).getUserPreferred()
    return unit, factor


def _length(text, shown):
    try:
        float(text)
    except ValueError:
        try:
            quantity = FreeCAD.Units.Quantity(text)
        except Exception as error:
            raise Unclear(tr("{}: a length, such as 6 mm or 0.25 in", text)) from error
        if quantity.Unit != FreeCAD.Units.Length:
            raise Unclear(tr("{}: a length, such as 6 mm or 0.25 in", text)) from None
        return quantity.Value
    return float(text) * _preferred(shown)[1]


def read(text, unit, shown=0.0):
    """The value of what is written, in the key's own unit.

    shown   the value that stood there, whose unit a bare length is in
    Unclear when it is none.
    """
    value = _value(_with_point(text.strip()), unit, shown)
    if not math.isfinite(value):
        raise Unclear(f"{text}: " + tr("a number"))
    return value


def _value(text, unit, shown):
    if unit == LENGTH:
        return _length(text, shown)
    matched = _WRITTEN.fullmatch(text)
    known = UNITS[unit]
    first = next(iter(known))
    words = tr("a number of {}", first) if first else tr("a number")
    if not matched:
        raise Unclear(f"{text}: {words}")
    try:
        number = float(matched.group(1))
    except ValueError as error:
        raise Unclear(f"{text}: {words}") from error
    named = matched.group(2).strip()
    if not named and unit == "fraction" and abs(number) > 1:
        raise Unclear(tr("{}: write 10 % or 0.1", text))
    if named and named not in known:
        raise Unclear(tr("{} is not known here: {}", named, words))
    return number * (known[named] if named else known.get("", 1.0))


def _plain(number):
    return f"{number:.10g}"


def shown(value, unit):
    """A value as it is read, with its unit."""
    if unit == LENGTH:
        return FreeCAD.Units.Quantity(value, FreeCAD.Units.Length).UserString
    first = next(iter(UNITS[unit]))
    if unit == "ratio":
        return f"{_plain(value)} : 1"
    return f"{_plain(value / UNITS[unit][first])} {first}".strip()
