"""Every word that a person reads goes through here, in the language that FreeCAD speaks."""
import FreeCAD

CONTEXT = "Tearline"


def tr(text):
    """The text in FreeCAD's language, or as it stands where there is no translation."""
    return FreeCAD.Qt.translate(CONTEXT, text)
