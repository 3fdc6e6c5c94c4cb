"""The Tearline workbench: a thin front of `tearline serve --stdio`.

engine/    the program found, started and spoken to; no FreeCAD in it but the preferences
document/  objects of a FreeCAD document; never imports the window (FreeCADGui)
view/      how they look
marking/   clicks on the hull
panel/     task panels
commands/  menu and toolbar
"""
