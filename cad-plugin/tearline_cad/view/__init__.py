"""How the objects look in the 3D view."""
