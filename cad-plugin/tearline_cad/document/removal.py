"""Children that a new plan has no use for, removed once the document is recomputed.

An object that is removed in the middle of a recompute may be one that FreeCAD is about to recompute:
it then removes it once more, out of the hands of undo, and redo fails. When FreeCAD tells that a
recompute is over it still calls itself recomputing, but holds on to none of its objects any more.
"""
import FreeCAD

_waiting = {}  # document name -> names of objects


def remove(document, names):
    """Removes objects, now or as soon as the recompute that is under way is over."""
    if document.Recomputing:
        _waiting.setdefault(document.Name, []).extend(names)
    else:
        _remove_now(document, names)


def _remove_now(document, names):
    for name in names:
        if document.getObject(name) is not None:
            document.removeObject(name)


class _Watcher:
    def slotRecomputedDocument(self, document):
        _remove_now(document, _waiting.pop(document.Name, ()))

    def slotDeletedDocument(self, document):
        _waiting.pop(document.Name, None)


_watcher = _Watcher()
FreeCAD.addDocumentObserver(_watcher)
