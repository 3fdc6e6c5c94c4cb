"""The engine that runs, with PDFs that are made one at a time, as a test lets them: it can look at what a person
sees meanwhile for as long as a busy machine needs."""
import os
import pathlib
import shlex
import shutil

from tearline_cad.engine import client, find_program

# A test that has failed opens no gate any more: each PDF waits as long as that, 0.05 s a turn.
TURNS = 2400
GATE = """#!/bin/sh
turn=0
while ! rm {gate} 2>/dev/null && [ $turn -lt {turns} ]; do sleep 0.05; turn=$((turn + 1)); done
exec {printer} "$@"
"""
PROGRAM = """#!/bin/sh
{foreign} exec {program} "$@"
"""


class HeldPrinter:
    """Takes the place of the engine's program, which has to have answered; copies stand in `folder`."""

    def __init__(self, folder):
        self._gate = pathlib.Path(folder) / "gate"
        of_engine = pathlib.Path(f"/proc/{client.engine().pid}")
        program = (of_engine / "exe").resolve()
        # It looks for its printer beside itself: a copy, not a link.
        shutil.copy(program, pathlib.Path(folder) / "program")
        self._script(folder, "tearline-print", GATE.format(gate=shlex.quote(str(self._gate)), turns=TURNS,
                                                           printer=shlex.quote(str(program.with_name("tearline-print")))))
        # What a script that starts the engine gave it and the workbench keeps from it.
        given = dict(each.split("=", 1) for each in os.fsdecode((of_engine / "environ").read_bytes()).split("\0") if "=" in each)
        foreign = " ".join(f"{name}={shlex.quote(given[name])}" for name in find_program.FOREIGN if name in given)
        find_program.set_program(self._script(folder, "tearline", PROGRAM.format(
            foreign=foreign, program=shlex.quote(str(pathlib.Path(folder) / "program")))))
        client.engine().stop()

    @staticmethod
    def _script(folder, name, text):
        path = pathlib.Path(folder) / name
        path.write_text(text)
        path.chmod(0o755)
        return path

    def let_one_go(self):
        self._gate.touch()
