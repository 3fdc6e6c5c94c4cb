"""Children that a new plan has no use for, removed once the document is recomputed.

FreeCAD 0.20 removes them once more, out of the hands of undo, when that is done in the middle of a
recompute: redo then fails.
"""
import FreeCAD

_waiting = {}  # document name -> names of objects


def remove(document, names):
    """Removes objects, now or as soon as the recompute that is under way is over."""
    if document.Recomputing:
        _waiting.setdefault(document.Name, []).extend(names)
        return
    for name in names:
        if document.getObject(name) is not None:
            document.removeObject(name)


class _Watcher:
    def slotRecomputedDocument(self, document):
        names = _waiting.pop(document.Name, None)
        if names:
            remove(document, names)

    def slotDeletedDocument(self, document):
        _waiting.pop(document.Name, None)


_watcher = _Watcher()
FreeCAD.addDocumentObserver(_watcher)
