"""Modules that Debian packages bring, where another Python comes first in PATH."""
import importlib
import os
import sys


def module(name):
    """The module, or this program started anew by the system's Python, which has it."""
    try:
        return importlib.import_module(name)
    except ModuleNotFoundError:
        if sys.executable == "/usr/bin/python3":
            raise
        return os.execv("/usr/bin/python3", ["/usr/bin/python3", *sys.argv])
