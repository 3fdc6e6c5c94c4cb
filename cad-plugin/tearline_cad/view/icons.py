"""Pictures of commands and of objects in the tree."""
import os

FOLDER = os.path.join(os.path.dirname(os.path.dirname(os.path.dirname(__file__))), "resources",
                      "icons")


def icon(name):
    """The file of an icon."""
    return os.path.join(FOLDER, name + ".svg")
