"""What is done to a repair while its panel is open: step by step to undo, and all of it taken back."""
import FreeCAD

from tearline_cad.document import drawn, keys, properties
from tearline_cad.document import repair as repairs
from tearline_cad.document.belonging import document_of
from tearline_cad.document.words import tr
from tearline_cad.view import redraw

# Steps that are not one with the same one before.
EACH_ITS_OWN = ("Mark a point", "Move a point", "Take a point away")


class Steps:
    """`begun`: whether the repair is being made; all taken back, it is no more."""

    def __init__(self, repair, begun):
        self.repair, self._begun = repair, begun
        self._document = repair.Document
        self.under_way = None  # its words
        self._had = {name: _copied(getattr(repair, name)) for name in _own_properties()}

    def begin(self, words):
        """A new step; one field changed again and again is one step."""
        if words != self.under_way or words in EACH_ITS_OWN:
            self._document.openTransaction(tr(words))
        self.under_way = words

    def abort(self):
        """The step under way never was."""
        self._document.abortTransaction()
        self.under_way = None

    def is_own(self, prop):
        """Whether a person sets this property."""
        return prop in self._had

    def take_all_back(self):
        """The repair as it was when the panel was opened: a step itself."""
        had = {name: _still_there(value) for name, value in self._had.items()}
        changed = [name for name, value in had.items() if _copied(getattr(self.repair, name)) != value]
        if not changed and not self._begun:
            return
        self._document.openTransaction(tr("Cancel"))
        if self._begun:
            repairs.delete(self.repair)
        else:
            self._set_back(had, changed)
        self._document.commitTransaction()

    def _set_back(self, had, changed):
        spare = [each for each in self.repair.Scans if each not in had["Scans"]]
        for name in changed:
            setattr(self.repair, name, had[name])
        for each in spare:
            self._document.removeObject(each.Name)
        _recompute(self.repair)


def finish(document, name):
    """A repair that is no longer edited has its plan, and its last step to undo is whole."""
    if document not in FreeCAD.listDocuments():
        return
    document = FreeCAD.getDocument(document)
    repair = document.getObject(name)
    if repair is not None:
        _recompute(repair)
    document.commitTransaction()


def _recompute(repair):
    repair.touch()
    with drawn.put_off():
        repair.Document.recompute()
    redraw.redraw_soon(repair)


def _own_properties():
    """Properties that a person sets."""
    return [name for name, *_ in properties.OWN] + [key.prop for key in keys.KEYS]


def _still_there(value):
    """Without objects that were deleted meanwhile, which no property may name again."""
    if isinstance(value, list):
        return [each for each in value if _still_there(each) is not None]
    gone = isinstance(value, FreeCAD.DocumentObject) and document_of(value) is None
    return None if gone else value


def _copied(value):
    """A value that does not follow its property."""
    if isinstance(value, FreeCAD.Vector):
        return FreeCAD.Vector(value)
    return list(value) if isinstance(value, (list, tuple)) else getattr(value, "Value", value)
