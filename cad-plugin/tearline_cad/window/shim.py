"""Where PySide 2 (FreeCAD 0.20) and PySide 6 (1.x) differ."""


def plain(flag):
    """A Qt flag as a number: PySide 6 hands out enumerations that are none."""
    return int(getattr(flag, "value", flag))
