"""Reckoning beside the window's own thread: arrays alone, with nothing of FreeCAD's, of Qt's or of the 3D view's.

Nothing of theirs may come to its end here either: Python's collector, which runs in whatever thread makes lists, is off
meanwhile, and the window's thread lets go of what was reckoned with.
"""
import gc
import threading
import time

WAITS = object()  # a step in which there was nothing to do yet

_threads = []  # those that reckon, and those that have since the last one began
_lock = threading.Lock()
_running, _collects = 0, True
_spent = 0.0  # [s] of processor time, of all that was reckoned here


def _hold_the_collector():
    global _running, _collects
    with _lock:
        if _running == 0:
            _collects = gc.isenabled()
            gc.disable()
        _running += 1


def _let_the_collector_go(spent_now):
    global _running, _spent
    with _lock:
        _running -= 1
        _spent += spent_now
        if _running == 0 and _collects:
            gc.enable()


class _Reckoned(threading.Thread):
    def __init__(self, works):
        super().__init__(daemon=True)  # FreeCAD may end meanwhile
        self._works, self.fault = works, None

    def run(self):
        _hold_the_collector()
        begun = time.thread_time()
        try:
            for work in self._works:
                work()
        except Exception as fault:  # told where it is waited for
            self.fault = fault
        finally:
            _let_the_collector_go(time.thread_time() - begun)


def spent():
    """[s] of processor time that was spent here."""
    return _spent


def done(works):
    """Steps until each of `works` has been called, in their order."""
    if not works:
        return
    _threads[:] = [thread for thread in _threads if thread.is_alive()]
    thread = _Reckoned(works)
    _threads.append(thread)
    thread.start()
    while thread.is_alive():
        yield WAITS
    if thread.fault is not None:
        raise thread.fault
