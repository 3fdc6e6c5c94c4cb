#!/usr/bin/env python3
"""The workbench under Qt 6, without FreeCAD: nothing that Qt 6 has no more, and, where PySide 6 is (Debian 13 has it;
tests/cad/on_newer_freecad), every module imported and its widgets drawn with it."""
import ast
import importlib
import os
import pathlib
import sys
import types
import unittest
from unittest import mock

PLUGIN = pathlib.Path(os.environ["TEARLINE_SOURCE"]) / "cad-plugin"
# What Qt 6 or PySide 6 took away (Qt's list of changes to Qt 6, from memory).
GONE = {"exec_", "QDesktopWidget", "QRegExp", "QRegExpValidator", "MidButton", "setMargin", "QSignalMapper",
        "globalPos", "globalX", "globalY", "fromUtf8", "UnicodeUTF8", "setResizeMode", "QStringListModel_",
        "QGLWidget", "AdjustToMinimumContentsLength", "AA_EnableHighDpiScaling", "toTime_t", "SystemLocaleShortDate"}
# Methods that another one replaces, and the one place that asks for either.
OLD_EVENTS = {"pos", "posF", "localPos"}


def modules():
    for path in sorted(PLUGIN.rglob("*.py")):
        yield path, ast.parse(path.read_text(encoding="utf-8"))


def pyside6():
    try:
        return importlib.import_module("PySide6.QtWidgets")
    except ImportError:
        return None


class Anything(types.ModuleType):
    """A module of FreeCAD that answers to every name."""

    def __getattr__(self, name):
        if name.startswith("__"):
            raise AttributeError(name)
        return mock.MagicMock(name=name)


def pretend_freecad(widgets):
    """FreeCAD's own shim as it is with Qt 6: QtGui has the widgets as well."""
    core, gui = (importlib.import_module("PySide6." + name) for name in ("QtCore", "QtGui"))
    merged = types.ModuleType("PySide.QtGui")
    for module in (gui, widgets):
        merged.__dict__.update({name: getattr(module, name) for name in dir(module) if not name.startswith("__")})
    shim = types.ModuleType("PySide")
    shim.QtCore, shim.QtGui = core, merged
    sys.modules.update({"PySide": shim, "PySide.QtCore": core, "PySide.QtGui": merged})
    for name in ("FreeCAD", "FreeCADGui", "Part", "Mesh", "Points", "Draft", "pivy", "pivy.coin"):
        sys.modules[name] = Anything(name)
    freecad = sys.modules["FreeCAD"]
    freecad.Qt = types.SimpleNamespace(translate=lambda context, text: text)
    sys.modules["FreeCADGui"].Workbench = object


class Qt6(unittest.TestCase):
    def test_nothing_is_used_that_qt_6_has_no_more(self):
        found = []
        for path, tree in modules():
            for node in ast.walk(tree):
                name = getattr(node, "attr", getattr(node, "id", ""))
                if getattr(getattr(node, "value", None), "attr", "") == "QCursor":
                    continue  # where the mouse is, no event
                if name in GONE or name in OLD_EVENTS and path.name != "picking.py":
                    found.append(f"{path.relative_to(PLUGIN)}:{node.lineno}: {name}")
        self.assertEqual(found, [])

    @unittest.skipUnless(pyside6(), "no PySide 6 here")
    def test_every_module_loads_and_its_widgets_are_drawn(self):
        os.environ["QT_QPA_PLATFORM"] = "offscreen"
        widgets = pyside6()
        pretend_freecad(widgets)
        sys.path.insert(0, str(PLUGIN))
        application = widgets.QApplication([])
        names = [".".join(path.relative_to(PLUGIN).with_suffix("").parts) for path, _ in modules()
                 if path.name not in ("InitGui.py", "Init.py", "__init__.py")]
        loaded = {name: importlib.import_module(name) for name in names}
        self.assertGreater(len(loaded), 50)
        panel = {name: loaded[f"tearline_cad.panel.{name}"] for name in ("strip", "figure", "frame", "task", "fields")}
        changed = []
        field = panel["figure"].Figure("g", 250, changed.append)
        field.setText("1 kg")
        field.setModified(True)
        field.editingFinished.emit()
        self.assertEqual(changed, [1000.0])
        strip = panel["strip"].Strip(lambda: None)
        strip.tell("planning", "words", "Stop", 0.5)
        choice = panel["fields"].choice(["a", "b"], "a", changed.append)
        choice.setCurrentIndex(1)
        self.assertEqual(changed[-1], "b")
        content = widgets.QLabel("content")
        frame = panel["frame"].Frame("title", strip, [panel["frame"].Section("head", content, folded=True)])
        frame.reveal(content)
        self.assertIsInstance(panel["task"].OkCancelPanel().getStandardButtons(), int)
        card = loaded["tearline_cad.view.legend"].Legend(None)
        card.tell([("title", [("head", [((10, 20, 30), "words")])])])
        for widget in (field, choice, frame, card):
            widget.resize(300, 200)
            self.assertFalse(widget.grab().isNull())
        image = loaded["tearline_cad.view.nodes"]._painted("12  mat 450", 13)
        self.assertGreater(image.width(), 40)
        application.quit()


if __name__ == "__main__":
    unittest.main(verbosity=2)
