"""Where the program `tearline` is, and the environment it runs in."""
import os
import pathlib
import shutil

import FreeCAD

from tearline_cad.engine.words import tr

PREFERENCES = "User parameter:BaseApp/Preferences/Mod/Tearline"

# What the CAD program's own packaging sets for itself and would break ours.
FOREIGN = ("LD_LIBRARY_PATH", "LD_PRELOAD", "PYTHONHOME", "PYTHONPATH", "QT_PLUGIN_PATH",
           "QT_QPA_PLATFORM_PLUGIN_PATH", "QML2_IMPORT_PATH", "GIO_MODULE_DIR", "GTK_PATH")


class ProgramMissing(Exception):
    """The program was not found; the words say what to do."""


def preferences():
    return FreeCAD.ParamGet(PREFERENCES)


def set_program(path):
    preferences().SetString("Program", str(path))


def _runs(path):
    return path.is_file() and os.access(path, os.X_OK)


def candidates():
    """Places to look, best first."""
    named = os.environ.get("TEARLINE")
    if named:
        yield pathlib.Path(named)
    # Built in the source tree that this workbench is part of.
    yield pathlib.Path(__file__).resolve().parents[3] / "build" / "tearline"
    found = shutil.which("tearline")
    if found:
        yield pathlib.Path(found)
    for folder in ("~/.local/bin", "/usr/local/bin", "/opt/tearline/bin"):
        yield pathlib.Path(folder).expanduser() / "tearline"


def find_program():
    """The program's path.

    A path in the preferences is meant: when it is wrong that is said, and nothing else is tried.
    """
    chosen = preferences().GetString("Program", "")
    if chosen:
        path = pathlib.Path(chosen).expanduser()
        if in_flatpak() or _runs(path):
            return path
        raise ProgramMissing(tr("There is no program at {}. Set its place anew under Tearline, Engine..., or clear it "
                                "there to have it searched for.", path))
    for path in candidates():
        if _runs(path):
            return path
    raise ProgramMissing(tr("The program 'tearline' was not found. Install the package tearline, or build it with "
                            "cli/try-it and set its place under Tearline, Engine..."))


def in_flatpak():
    return os.path.exists("/.flatpak-info")


def command_line(path, *words):
    """Words that start the program, out of a Flatpak's box where FreeCAD runs in one."""
    box = ["flatpak-spawn", "--host", "--watch-bus"] if in_flatpak() else []
    return [*box, str(path), *words]


def clean_environment():
    """Our environment without what the CAD program's packaging put there for itself."""
    return {name: value for name, value in os.environ.items() if name not in FOREIGN}
