"""Words of this room, which knows no FreeCAD: document/words.py says how they are translated."""

translate = None


def tr(text, *values):
    """The text in the language that is spoken, its braces filled with the values."""
    said = translate(text) if translate else text
    return said.format(*values) if values else said
