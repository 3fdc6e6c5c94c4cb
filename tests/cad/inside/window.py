"""What a person does at FreeCAD's window, done by a script."""
import faulthandler
import os
import pathlib
import sys
import time
import traceback

import FreeCAD
import FreeCADGui
from PySide import QtCore, QtGui

from patience import Patience

PICTURES = pathlib.Path(os.environ["TEARLINE_PICTURES"])


def run(main):
    """Runs main() once the window is up, then ends FreeCAD: 0 when nothing went wrong."""
    def all_of_it():
        status = 1
        try:
            main()
            status = 0
        except BaseException:  # whatever it is, FreeCAD must end
            traceback.print_exc(file=sys.stderr)
            try:
                picture("failed")
            except Exception:
                traceback.print_exc(file=sys.stderr)
        sys.stdout.flush()
        sys.stderr.flush()
        os._exit(status)

    # Where it falls is told, and where it hangs before it is ended from outside.
    faulthandler.enable(sys.__stderr__)
    faulthandler.dump_traceback_later(120, repeat=True, file=sys.__stderr__)
    QtCore.QTimer.singleShot(0, all_of_it)


PASSES = 3  # in which what has come from the screen is fetched, handed on and answered, however busy the machine


def settle(seconds=0.05):
    """Lets the window work."""
    until, passes = time.monotonic() + seconds, 0
    while True:
        QtGui.QApplication.processEvents()
        passes += 1
        if passes >= PASSES and time.monotonic() >= until:
            return
        time.sleep(0.005)


def wait_until(true, what, seconds=60):
    patience = Patience(seconds)
    while not true():
        if patience.over():
            raise AssertionError(f"{what() if callable(what) else what} did not happen within {seconds} s")
        settle(0.01)
        time.sleep(0.02)  # the processor is for what is waited for


def tidy():
    """A window without FreeCAD's own consoles, its panel wide enough to read."""
    main = FreeCADGui.getMainWindow()
    main.showMaximized()
    for dock in main.findChildren(QtGui.QDockWidget):
        if dock.objectName() in ("Python console", "Report view"):
            dock.hide()
        elif dock.objectName() == "Combo View":
            dock.show()
    settle(0.2)
    panels = [dock for dock in main.findChildren(QtGui.QDockWidget) if dock.isVisible()]
    main.resizeDocks(panels, [330] * len(panels), QtCore.Qt.Horizontal)
    settle(0.2)


def narrow(pixels):
    """The docks at the side as narrow as that."""
    main = FreeCADGui.getMainWindow()
    docks = [dock for dock in main.findChildren(QtGui.QDockWidget) if dock.isVisible()]
    main.resizeDocks(docks, [pixels] * len(docks), QtCore.Qt.Horizontal)
    settle(0.5)


def check(true, words):
    if not true:
        raise AssertionError(words)


def new_document():
    FreeCADGui.activateWorkbench("TearlineWorkbench")
    document = FreeCAD.newDocument("Boat")
    document.UndoMode = 1
    return document


def fit(document):
    """Shows all of a new document and forgets how it was made; its 3D view."""
    document.recompute()
    document.clearUndos()
    view = FreeCADGui.activeDocument().activeView()
    view.viewAxonometric()
    view.fitAll()
    settle(0.2)
    return view


def panel():
    """The repair's panel that is open."""
    from tearline_cad.panel import open_repair

    return open_repair.current()


def look_at_port_chine(view):
    """At the damage of the sample workboat: from port, a little from below."""
    turn = FreeCAD.Rotation(FreeCAD.Vector(0, 0, 1), 180)
    view.setCameraOrientation(turn * FreeCAD.Rotation(FreeCAD.Vector(1, 0, 0), 108))
    view.setCameraType("Orthographic")
    camera = view.getCameraNode()
    # Beside the legend, which covers the left of the view.
    camera.position = tuple(FreeCAD.Vector(2790, 950, 320) - view.getViewDirection() * 5000)
    camera.focalDistance = 5000
    camera.height = 800
    settle(0.2)


def pixels():
    """What is in the middle of the screen now, other programs' windows as well."""
    screen = QtGui.QApplication.primaryScreen()
    size = screen.size()
    image = screen.grabWindow(0, size.width() // 2, size.height() // 2, 200, 200).toImage()
    return bytes(image.constBits())


def screen_place(view, point):
    """Where a 3D view shows a point of space, on the screen."""
    from tearline_cad.marking.picking import seen_at

    port = view.graphicsView().viewport()
    x, y = seen_at(view, point)
    ratio = port.devicePixelRatioF()
    return port.mapToGlobal(QtCore.QPoint(round(x / ratio), round(port.height() - 1 - y / ratio)))


def _screen():
    return QtGui.QApplication.primaryScreen().grabWindow(0).toImage()


def _colour(image, x, y):
    return QtGui.QColor(image.pixel(x, y)).getRgb()[:3]


def colour_at(view, point):
    """(red, green, blue) that a 3D view shows at a point of space."""
    at = screen_place(view, point)
    return _colour(_screen(), at.x(), at.y())


def share_seen(view, points, colour):
    """Which share of some points of space is seen in a colour, within 3 pixels of it."""
    image = _screen()

    def near(at):
        return any(sum(abs(a - b) for a, b in zip(_colour(image, at.x() + x, at.y() + y), colour)) < 60
                   for x in range(-3, 4) for y in range(-3, 4))

    return sum(near(screen_place(view, point)) for point in points) / len(points)


def picture(name):
    """What is on the screen once everything is drawn."""
    from tearline_cad.view import redraw

    wait_until(lambda: not redraw.waiting(), "drawing", 180)  # a 3D view that a busy machine draws in software
    FreeCADGui.getMainWindow().statusBar().clearMessage()  # what FreeCAD says of itself
    settle(0.3)
    PICTURES.mkdir(parents=True, exist_ok=True)
    QtGui.QApplication.primaryScreen().grabWindow(0).save(str(PICTURES / f"{name}.png"))


def widget(name, kind=QtGui.QWidget):
    """A widget by its object name: of the repair's panel if one is open, else in whatever window.

    Looking through the main window gives Python hold of every box of the panel, and some outlive
    what they stand for.
    """
    repair_panel = panel()
    if repair_panel and (found := repair_panel.form.findChild(kind, name)):
        return found
    for top in QtGui.QApplication.topLevelWidgets():
        for found in top.findChildren(kind, name):
            if found.isVisible() or not top.isVisible():
                return found
    raise AssertionError(f"no widget {name}")


def press(text):
    """Presses a button of the task panel by what it says."""
    for button in FreeCADGui.getMainWindow().findChildren(QtGui.QPushButton):
        if button.isVisible() and button.text().replace("&", "") == text:
            button.click()
            settle()
            return
    raise AssertionError(f"no button {text}")


class Stopwatch:
    """Time on the clock, and what FreeCAD and the engine worked in it: the machine may be busy."""

    def __init__(self):
        self.begun = self._now()

    @staticmethod
    def _now():
        from tearline_cad.engine.client import engine

        stat = pathlib.Path(f"/proc/{engine().pid}/stat").read_text().rsplit(")", 1)[1].split()
        ticks = int(stat[11]) + int(stat[12])  # user and system, proc(5)
        return time.monotonic(), time.process_time(), ticks / os.sysconf("SC_CLK_TCK")

    def words(self, times=1):
        clock, window, engine = ((now - then) / times
                                 for now, then in zip(self._now(), self.begun))
        return f"{clock:.3f} s (worked: FreeCAD {window:.3f} s, engine {engine:.3f} s)"


class Mouse:
    """Clicks in a 3D view, at points of space."""

    def __init__(self, view):
        self.view = view
        self.port = view.graphicsView().viewport()

    def pixel(self, point):
        x, y = self.view.getPointOnScreen(FreeCAD.Vector(*point))
        ratio = self.port.devicePixelRatioF()
        return QtCore.QPoint(round(x / ratio), round(self.port.height() - 1 - y / ratio))

    def send(self, kind, at, button=QtCore.Qt.LeftButton, held=None):
        held = button if held is None else held
        event = QtGui.QMouseEvent(kind, QtCore.QPointF(at), self.port.mapToGlobal(at), button,
                                  held, QtCore.Qt.NoModifier)
        QtGui.QApplication.sendEvent(self.port, event)

    def click(self, point, button=QtCore.Qt.LeftButton):
        at = self.pixel(point)
        self.send(QtCore.QEvent.MouseButtonPress, at, button)
        self.send(QtCore.QEvent.MouseButtonRelease, at, button, QtCore.Qt.NoButton)
        settle()

    def press(self, point):
        self.send(QtCore.QEvent.MouseButtonPress, self.pixel(point))

    def move(self, point):
        self.send(QtCore.QEvent.MouseMove, self.pixel(point), QtCore.Qt.NoButton,
                  QtCore.Qt.LeftButton)

    def release(self, point):
        self.send(QtCore.QEvent.MouseButtonRelease, self.pixel(point), QtCore.Qt.LeftButton,
                  QtCore.Qt.NoButton)
        settle()

    def key(self, key):
        QtGui.QApplication.sendEvent(self.view.graphicsView(), QtGui.QKeyEvent(
            QtCore.QEvent.KeyPress, key, QtCore.Qt.NoModifier))
        settle()
