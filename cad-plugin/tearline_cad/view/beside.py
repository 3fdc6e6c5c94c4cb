"""Reckoning beside the window's own thread: arrays alone, with nothing of FreeCAD's, of Qt's or of the 3D view's."""
import threading
import time

WAITS = object()  # a step in which there was nothing to do yet
_spent = 0.0  # [s] of processor time, of all that was reckoned here


class _Reckoned(threading.Thread):
    def __init__(self, works):
        super().__init__(daemon=True)  # FreeCAD may end meanwhile
        self._works, self.fault = works, None

    def run(self):
        global _spent
        begun = time.thread_time()
        try:
            for work in self._works:
                work()
        except Exception as fault:  # told where it is waited for
            self.fault = fault
        _spent += time.thread_time() - begun


def spent():
    """[s] of processor time that was spent here."""
    return _spent


def done(works):
    """Steps until each of `works` has been called, in their order."""
    if not works:
        return
    thread = _Reckoned(works)
    thread.start()
    while thread.is_alive():
        yield WAITS
    if thread.fault is not None:
        raise thread.fault
