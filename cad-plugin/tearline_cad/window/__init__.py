"""What keeps FreeCAD's window alive while the engine works."""
