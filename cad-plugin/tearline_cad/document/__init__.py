"""Objects of a FreeCAD document; they load, save and undo without a window."""
