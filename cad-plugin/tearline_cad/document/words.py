"""Every word that a person reads goes through here, in the language that FreeCAD speaks."""
import FreeCAD

from tearline_cad.engine import words

CONTEXT = "Tearline"

words.translate = lambda text: FreeCAD.Qt.translate(CONTEXT, text)
tr = words.tr
