"""Loaded by FreeCAD with or without its window: nothing to prepare; the objects are in
tearline_cad.document and load when a file holds them."""
