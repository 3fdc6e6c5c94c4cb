"""FreeCAD for tests: a user folder of its own with the workbench in it."""
import os
import pathlib
import pwd
import re
import subprocess
import tempfile
import unittest

from screen import Screen

SOURCE = pathlib.Path(os.environ["TEARLINE_SOURCE"])
INSIDE = SOURCE / "tests" / "cad" / "inside"

# No start page, no splash, no autosave, no restored windows: the same window every time.
USER_CONFIGURATION = """<?xml version="1.0" encoding="UTF-8" standalone="no" ?>
<FCParameters>
  <FCParamGroup Name="Root">
    <FCParamGroup Name="BaseApp">
      <FCParamGroup Name="Preferences">
        <FCParamGroup Name="General">
          <FCText Name="AutoloadModule">TearlineWorkbench</FCText>
          <FCBool Name="ShowSplasher" Value="0"/>
          <FCBool Name="AutoloadTab" Value="0"/>
        </FCParamGroup>
        <FCParamGroup Name="Document">
          <FCBool Name="AutoSaveEnabled" Value="0"/>
          <FCBool Name="RecoveryEnabled" Value="0"/>
          <FCBool Name="CreateBackupFiles" Value="0"/>
        </FCParamGroup>
        <FCParamGroup Name="View">
          <FCBool Name="Gradient" Value="0"/>
          <FCBool Name="Simple" Value="1"/>
          <FCUInt Name="BackgroundColor" Value="4294967295"/>
          <FCBool Name="ShowNaviCube" Value="0"/>
          <FCBool Name="UseNavigationAnimations" Value="0"/>
        </FCParamGroup>
        <FCParamGroup Name="OutputWindow">
          <FCBool Name="checkError" Value="1"/>
          <FCBool Name="checkShowReportViewOnError" Value="0"/>
          <FCBool Name="checkShowReportViewOnWarning" Value="0"/>
          <FCBool Name="checkShowReportViewOnNormalMessage" Value="0"/>
        </FCParamGroup>
      </FCParamGroup>
    </FCParamGroup>
  </FCParamGroup>
</FCParameters>
"""


def prepare(folder):
    """Installs the workbench by its own command; the environment to start FreeCAD with."""
    home = pathlib.Path(folder) / "home"
    home.mkdir()
    (home / "user.cfg").write_text(USER_CONFIGURATION)
    subprocess.run([SOURCE / "cad-plugin" / "install", home], check=True, capture_output=True)
    # FreeCAD 1.0 takes no PYTHONPATH: what it should find stands where its add-ons do.
    (home / "Mod" / "TearlineTests").symlink_to(INSIDE)
    return {**os.environ, "FREECAD_USER_HOME": str(home), "PYTHONPATH": str(INSIDE),
            "PYTHONDONTWRITEBYTECODE": "1", "LIBGL_ALWAYS_SOFTWARE": "1",
            "QTWEBENGINE_DISABLE_SANDBOX": "1", "XDG_RUNTIME_DIR": str(folder)}


ANYBODY = "nobody"  # who may do no more than a person at FreeCAD may


def run_tests(module, folder, timeout=400):
    """Runs a module of tests inside FreeCAD without a window, its user's folder within `folder`.

    Never as root, whom no file's permission stops: FreeCAD lets files that it keeps be read only.
    """
    environment, user = {**prepare(folder), "HOME": str(folder)}, None
    if os.geteuid() == 0:
        user = ANYBODY
        for path in (pathlib.Path(folder), *pathlib.Path(folder).rglob("*")):
            os.chown(path, pwd.getpwnam(user).pw_uid, -1, follow_symlinks=False)
    # By -P: FreeCAD 1.0 does not look at PYTHONPATH.
    return subprocess.run(["freecadcmd", "-P", INSIDE, "-t", module], env=environment, capture_output=True, user=user,
                          text=True, stdin=subprocess.DEVNULL, timeout=timeout, check=False)


def report_of(done):
    """What the tests inside said, without FreeCAD's progress figures."""
    lines = [line.strip() for line in (done.stdout + done.stderr).splitlines()]
    return "\n".join(line for line in lines if line and not line.endswith(("%)", "Recompute......")))


# How Python, PySide and FreeCAD begin to tell of an exception that nobody caught.
UNCAUGHT = re.compile(r"Traceback|\w+Error'?>?:|\w+Error\b.*slot|Exception (thrown|ignored|in)|[Uu]nhandled|slot\w+\W.*Error")


def uncaught(report):
    """The lines of a report that tell of exceptions."""
    return [line for line in report.splitlines() if UNCAUGHT.search(line)]


class WindowTest(unittest.TestCase):
    """Tests that are scripts in FreeCAD's window; screenshots of each step are kept, to be looked at."""

    pictures = pathlib.Path(os.environ["TEARLINE_BUILD"]) / "cad-pictures"

    def run_script(self, script, timeout=150):
        with tempfile.TemporaryDirectory() as folder, Screen(folder, 1400, 900) as screen:
            environment = {**prepare(folder), "TEARLINE_PICTURES": str(self.pictures),
                           "DISPLAY": screen.environment["DISPLAY"], "QT_QPA_PLATFORM": "xcb"}
            done = run_window(script, environment, timeout)
        report = report_of(done)
        print(report)
        self.assertEqual(done.returncode, 0)
        self.assertEqual(uncaught(report), [], "a person is never shown the way through our code")


# What a script waits for in vain it tells itself, in time that it was given (inside/patience.py). The clock ends only what
# hangs, and a machine that others use as well may be that many times slower than a free one.
BUSY = 4


def run_window(script, environment, timeout=150):
    """Runs a script of tests/cad/inside in FreeCAD's window, which takes `timeout` seconds at the most on a free machine."""
    timeout *= BUSY
    return subprocess.run(["timeout", "-k", "5", str(timeout), "freecad", INSIDE / script],
                          env=environment, capture_output=True, text=True,
                          stdin=subprocess.DEVNULL, timeout=timeout + 20, check=False)
