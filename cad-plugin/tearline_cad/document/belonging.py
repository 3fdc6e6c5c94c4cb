"""What undo has taken out of a document still is there for Python, and has no document any more."""


def document_of(thing):
    """The document that a thing is in, or None."""
    try:
        return thing.Document if thing.Name else None
    except (RuntimeError, ReferenceError):  # FreeCAD: "This object is currently not part of a document"
        return None
