"""Programs that are no engine, and engines that end: FreeCAD's window never stands still for them: see
../workbench_window_test.py."""
import os
import pathlib
import signal
import stat
import tempfile
import time

import FreeCADGui

import hand
import window
from at_view import sample_boat
from tearline_cad.engine import client, find_program
from PySide import QtCore, QtGui
from window import check, panel, press, settle, wait_until, widget

FOLDER = pathlib.Path(tempfile.mkdtemp(prefix="tearline-test-"))
LONGEST = 2.0  # [s] that the window may stand still

# What may stand where the program is looked for, and says nothing of use.
PROGRAMS = {
    "silent": "exec sleep 1000",
    "wrapped": "sleep 1000",  # the shell waits for another process, which holds the pipes
    "chatty": "exec yes no engine",
    "endless": "exec cat /dev/zero",
    "short": "exit 3",
}


def program(name, text):
    path = FOLDER / name
    path.write_text(f"#!/bin/sh\n{text}\n")
    path.chmod(path.stat().st_mode | stat.S_IXUSR)
    return path


def now_of_its_own():
    """[s] on the clock, without what the window's thread stood in a queue for other programs."""
    waited = pathlib.Path("/proc/thread-self/schedstat").read_text().split()[1]  # ns, proc(5)
    return time.monotonic() - int(waited) * 1e-9


class Stillness:
    """The longest time that the window did nothing else."""

    def __init__(self):
        self.longest, self._last = 0.0, now_of_its_own()
        self._timer = QtCore.QTimer()
        self._timer.timeout.connect(self._tick)
        self._timer.start(20)

    def _tick(self):
        now = now_of_its_own()
        self.longest = max(self.longest, now - self._last)
        self._last = now

    def end(self):
        self._tick()
        self._timer.stop()
        return self.longest


def ask_in_vain(repair, name, path):
    """A program is set in the panel, then a figure is changed with the panel of the repair open."""
    still = Stillness()
    FreeCADGui.runCommand("Tearline_Engine")
    settle(0.3)
    widget("ProgramPath").setText(str(path))
    widget("TryProgram").click()
    settle(0.2)
    check("not an engine" in widget("EngineState").text(), widget("EngineState").text())
    press("Close")
    settle(0.2)
    FreeCADGui.runCommand("Tearline_Edit")
    wait_until(panel, "the panel")
    settle(0.3)
    hand.fill(widget("Ratio"), "11")
    settle(0.5)
    check(panel().strip.kind in ("planning", "refused"), panel().strip.kind)
    press("Cancel")
    settle(0.3)
    longest = still.end()
    print(f"{name}: the window stood still for {longest:.2f} s")
    check(longest < LONGEST, f"{name}: {longest:.2f} s")


def recompute_in_vain(document, repair, path):
    """Outside the panel the wait can be stopped."""
    find_program.set_program(str(path))
    client.engine().stop()
    still = Stillness()

    def stop():
        for dialog in QtGui.QApplication.topLevelWidgets():
            if dialog.objectName() == "TearlineWaiting" and dialog.isVisible():
                hand.click(hand.middle_of(dialog.findChild(QtGui.QPushButton)))

    QtCore.QTimer.singleShot(1500, stop)
    repair.Ratio = 13
    document.recompute()
    check(still.end() < LONGEST, "the window went on while it was waited for")
    check(repair.PlanState.startswith("Not planned"), repair.PlanState)


def killed(document, repair):
    """The engine is killed while it is idle: the next change starts another."""
    find_program.set_program("")
    client.engine().stop()
    client.engine().wait_for(client.engine().ask("ping"))
    os.kill(client.engine().pid, signal.SIGKILL)
    settle(0.2)
    repair.Ratio = 14
    document.recompute()
    check(repair.PlanState == "Planned", repair.PlanState)


def main():
    document, repair, _ = sample_boat()
    for name, text in PROGRAMS.items():
        ask_in_vain(repair, name, program(name, text))
    recompute_in_vain(document, repair, FOLDER / "wrapped")
    killed(document, repair)


window.run(main)
