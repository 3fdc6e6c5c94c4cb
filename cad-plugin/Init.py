"""Loaded by FreeCAD with or without its window: job files can be opened, imported and dropped into it. The
objects are in tearline_cad.document and load when a file holds them."""
import FreeCAD

FreeCAD.addImportType("Tearline job file (*.toml)", "tearline_cad.importer")
FreeCAD.addExportType("Tearline job file (*.toml)", "tearline_cad.importer")
