"""Figures as a person writes and reads them: each with its unit, lengths as FreeCAD is set to show them, and all else in the
units that go with those.

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
    "degrees Celsius": {"°C": 1.0, "C": 1.0, "°F": 1 / 1.8, "F": 1 / 1.8},
    "m2 a minute": {"m²/min": 1.0, "m2/min": 1.0},
    "drops": {"drops/mL": 1.0, "drops": 1.0},
    "fraction": {"%": 0.01, "": 1.0},
    "ratio": {": 1": 1.0, ":1": 1.0, "": 1.0},
    "parts": {"": 1.0},
    "": {"": 1.0},
}
# Units that go with feet and inches, by the key's own.
_WITH_INCHES = {"g": "oz", "g/m2": "oz/yd2", "MPa": "psi", "degrees Celsius": "°F"}
_ZERO = {"°F": 32.0, "F": 32.0}  # what a unit that does not begin at 0 counts there
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


def in_feet_or_inches():
    """Whether FreeCAD shows lengths so."""
    return _preferred(1.0)[0] in ("in", "ft", "thou", "mil", "yd", '"', "'")


def sign_of(unit):
    """The sign of the unit that a figure is shown in."""
    known = UNITS[unit]
    return _WITH_INCHES.get(unit, next(iter(known))) if in_feet_or_inches() else next(iter(known))


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
    known, shown_in = UNITS[unit], sign_of(unit)
    words = tr("a number of {}", shown_in) if shown_in else tr("a number")
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
    if not named:
        named = "" if "" in known else shown_in
    return (number - _ZERO.get(named, 0.0)) * known[named]


def _plain(number, digits=10):
    return f"{number:.{digits}g}"


def shown(value, unit):
    """A value as it is read, with its unit."""
    if unit == LENGTH:
        return FreeCAD.Units.Quantity(value, FreeCAD.Units.Length).UserString
    if unit == "ratio":
        return f"{_plain(value)} : 1"
    sign = sign_of(unit)
    own = sign == next(iter(UNITS[unit]))
    # Turned into another unit it has more digits than anyone has measured.
    return f"{_plain(value / UNITS[unit][sign] + _ZERO.get(sign, 0.0), 10 if own else 4)} {sign}".strip()


def mass_text(grams):
    """A mass to be weighed out."""
    unit, more = ("oz", "lb") if in_feet_or_inches() else ("g", "kg")
    known = UNITS["g"]
    if grams >= known[more]:
        return f"{grams / known[more]:.2f} {more}"
    return f"{grams / known[unit]:.{1 if unit == 'oz' else 0}f} {unit}"
