"""How long a test waits on a machine that others use too."""
import pathlib
import time

LOOK = 0.2  # [s] between two looks at the queue for processors


class Patience:
    """Seconds that may pass, those not counted in which a thread of FreeCAD's or the engine's stood in the queue for a
    processor: what is waited for did not go on in them."""

    def __init__(self, seconds):
        self._left = seconds
        self._at, self._queued = time.monotonic(), _queued()

    def over(self):
        now = time.monotonic()
        if now - self._at < LOOK:
            return False
        queued = _queued()
        # A thread not seen before has stood there since it began.
        lost = max((stood - self._queued.get(thread, 0.0) for thread, stood in queued.items()), default=0.0)
        self._left -= max(now - self._at - lost, 0.0)
        self._at, self._queued = now, queued
        return self._left < 0


def _queued():
    """{thread: s} that each thread has stood in the queue since it began."""
    from tearline_cad.engine.client import engine

    found = {}
    for process in ("self", engine().pid):
        for task in pathlib.Path(f"/proc/{process}/task").glob("*/schedstat"):
            try:
                found[task] = int(task.read_text().split()[1]) * 1e-9  # ns, proc(5)
            except OSError:
                pass  # a thread that has ended
    return found
