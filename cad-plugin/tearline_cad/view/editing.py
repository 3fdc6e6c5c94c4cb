"""A repair that is double-clicked is edited; what by is not the view's to know."""

# Called with the repair; set by the workbench, which knows the panel.
edit = None
# Called when FreeCAD ends the editing.
leave = None
