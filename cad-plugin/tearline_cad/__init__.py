"""The Tearline workbench: a thin front of `tearline serve --stdio`.

From the bottom up, each uses only those before it (tests/architecture/check_plugin_imports.py):

engine/       the program found, started and spoken to; no FreeCAD in it but the preferences
document/     objects of a FreeCAD document; never imports the window (FreeCADGui)
window/       FreeCAD's window kept alive while the engine works
view/         how the objects look
marking/      clicks on the hull
panel/        task panels
commands/     menu and toolbar
workbench.py  what FreeCAD starts with; tells the lower ones whom to call in the upper ones
"""
