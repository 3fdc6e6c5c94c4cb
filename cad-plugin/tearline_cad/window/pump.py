"""Fetches the engine's answers while FreeCAD's window goes on."""
from PySide import QtCore

from tearline_cad.engine.client import engine

INTERVAL = 10  # [ms] between two looks

_timer = None


def _tick():
    engine().pump()
    if not engine().waiting:
        _timer.stop()


def _asked():
    if not _timer.isActive():
        _timer.start()


def start():
    """From now on answers come by themselves; called once, by the workbench."""
    global _timer
    if _timer is None:
        _timer = QtCore.QTimer()
        _timer.setInterval(INTERVAL)
        _timer.timeout.connect(_tick)
        engine().on_asked = _asked
