"""A hand at the screen's own mouse and keyboard: what it does comes to FreeCAD from the X server, as a
person's clicks do, and not from a script inside it."""
import ctypes
import os
import threading
import time

from PySide import QtGui

from window import panel, screen_place, settle

_x11 = ctypes.CDLL("libX11.so.6")
_test = ctypes.CDLL("libXtst.so.6")
_x11.XOpenDisplay.restype = ctypes.c_void_p
_x11.XOpenDisplay.argtypes = [ctypes.c_char_p]
_x11.XStringToKeysym.restype = ctypes.c_ulong
_x11.XStringToKeysym.argtypes = [ctypes.c_char_p]
_x11.XKeysymToKeycode.restype = ctypes.c_ubyte
_x11.XKeysymToKeycode.argtypes = [ctypes.c_void_p, ctypes.c_ulong]
_x11.XFlush.argtypes = [ctypes.c_void_p]
_x11.XSync.argtypes = [ctypes.c_void_p, ctypes.c_int]
_test.XTestFakeMotionEvent.argtypes = [ctypes.c_void_p, ctypes.c_int, ctypes.c_int, ctypes.c_int,
                                       ctypes.c_ulong]
_test.XTestFakeButtonEvent.argtypes = [ctypes.c_void_p, ctypes.c_uint, ctypes.c_int, ctypes.c_ulong]
_test.XTestFakeKeyEvent.argtypes = [ctypes.c_void_p, ctypes.c_uint, ctypes.c_int, ctypes.c_ulong]

_display = _x11.XOpenDisplay(os.environ["DISPLAY"].encode())

LEFT, MIDDLE, RIGHT, WHEEL_UP, WHEEL_DOWN = 1, 2, 3, 4, 5
# Names of the X server for signs that are no names of theirs (keysymdef.h).
SIGNS = {" ": "space", ".": "period", ",": "comma", "-": "minus", "/": "slash"}
SHIFTED = {"%": "5", "_": "minus"}  # on the keyboard that a screen without one has


def _sent(seconds=0.03):
    _x11.XSync(_display, 0)  # the screen has taken it: it is FreeCAD's to fetch
    settle(seconds)


def move(at, seconds=0.03):
    """The pointer to a place of the screen."""
    _test.XTestFakeMotionEvent(_display, -1, at.x(), at.y(), 0)
    _sent(seconds)


def press(button=LEFT):
    _test.XTestFakeButtonEvent(_display, button, 1, 0)
    _sent()


def release(button=LEFT):
    _test.XTestFakeButtonEvent(_display, button, 0, 0)
    _sent()


def click(at, button=LEFT, times=1):
    """Two of them follow each other at once, or a busy machine would hear them late and as none doubled."""
    move(at)
    for _ in range(times):
        for down in (1, 0):
            _test.XTestFakeButtonEvent(_display, button, down, 0)
            if times == 1:
                _sent()
    _sent(0.05)


def wheel(at, notches):
    """Turned over a place: towards the person where `notches` is above 0."""
    move(at)
    for _ in range(abs(notches)):
        press(WHEEL_DOWN if notches > 0 else WHEEL_UP)
        release(WHEEL_DOWN if notches > 0 else WHEEL_UP)


def key(name, *held):
    """A key by its name in X, such as "Escape", "z" held with "Control_L"."""
    codes = [_x11.XKeysymToKeycode(_display, _x11.XStringToKeysym(each.encode()))
             for each in (*held, name)]
    for code in codes:
        _test.XTestFakeKeyEvent(_display, code, 1, 0)
    for code in reversed(codes):
        _test.XTestFakeKeyEvent(_display, code, 0, 0)
    _sent(0.1)


def write(text):
    for sign in text:
        held = ["Shift_L"] if sign.isupper() or sign in SHIFTED else []
        key({**SIGNS, **SHIFTED}.get(sign, sign.lower()), *held)


def drag_and_drop(start, end, steps=12):
    """A row or a file dragged: Qt then waits for its release in a loop of its own, so that the hand moves
    by itself meanwhile."""
    def go():
        for step in range(steps + 1):
            at = start + (end - start) * step / steps
            _test.XTestFakeMotionEvent(_display, -1, at.x(), at.y(), 0)
            if step == 0:
                _test.XTestFakeButtonEvent(_display, LEFT, 1, 0)
            _x11.XFlush(_display)
            time.sleep(0.06)
        time.sleep(0.2)
        _test.XTestFakeButtonEvent(_display, LEFT, 0, 0)
        _x11.XFlush(_display)
        time.sleep(0.2)

    mover = threading.Thread(target=go, daemon=True)
    mover.start()
    while mover.is_alive():
        settle(0.05)


def middle_of(widget):
    """The place on the screen of a widget's middle."""
    return widget.mapToGlobal(widget.rect().center())


def fill(widget, text, leave="Tab"):
    """Clicks into a field of the panel, where it has scrolled to it, and writes over what is there."""
    for _ in range(5):
        panel().form.reveal(widget)
        settle(0.1)
    click(middle_of(widget))
    key("a", "Control_L")
    if text:
        write(text)
    else:
        key("Delete")
    if leave:
        key(leave)


class View:
    """A 3D view, by points of space."""

    def __init__(self, view):
        self.view = view
        self.port = view.graphicsView().viewport()

    def at(self, point):
        return screen_place(self.view, point)

    def click(self, point, button=LEFT):
        click(self.at(point), button)

    def drag(self, first, last, steps=8):
        start, end = self.at(first), self.at(last)
        move(start)
        press()
        for step in range(1, steps + 1):
            move(start + (end - start) * step / steps)
        release()


def wait_for_screen(seconds=0.2):
    """What was done has been drawn."""
    settle(seconds)
    QtGui.QApplication.processEvents()
    time.sleep(0.02)
