"""The program found, killed, cancelled, asked to write.

Run inside FreeCAD: freecadcmd -t TestTearlineEngine (see ../workbench_objects_test.py).
"""
import os
import signal

import sample_repair
from document_case import DocumentCase
from sample_repair import parts
from tearline_cad.document import ask_plan, files
from tearline_cad.engine import client, find_program


class Waiting:
    """Stands in for the window: `act(question)` is called while a plan is waited for."""

    def __init__(self, act):
        self.act, self.question = act, None

    def __call__(self, question):
        self.question = question
        return self

    def tick(self):
        self.act(self.question)

    def close(self):
        pass


class TheEngine(DocumentCase):
    def test_without_an_engine_it_says_what_to_do(self):
        client.engine().stop()
        find_program.set_program("/nowhere/tearline")
        repair = sample_repair.sample_repair(self.document)
        self.document.recompute()
        self.assertIn("There is no program at /nowhere/tearline", repair.PlanState)
        self.assertIn("Engine...", repair.PlanState)

    def test_a_program_that_is_no_engine_is_refused(self):
        client.engine().stop()
        find_program.set_program("/bin/true")
        repair = sample_repair.sample_repair(self.document)
        self.document.recompute()
        self.assertIn("not an engine", repair.PlanState)

    def test_an_engine_killed_in_the_middle_starts_again(self):
        repair = self.planned()
        killed = []

        def kill(question):
            if question.progress[0].startswith("ply") and not killed:
                killed.append(client.engine().pid)
                os.kill(killed[0], signal.SIGKILL)

        ask_plan.while_waiting = Waiting(kill)
        repair.Ratio = 10
        self.document.recompute()
        self.assertTrue(killed)
        self.assertIn("signal 9", repair.PlanState)
        self.assertEqual(len(parts(repair, "ply")), 8)
        ask_plan.while_waiting = None
        repair.touch()
        self.document.recompute()
        self.assertEqual(repair.PlanState, "Planned")
        self.assertNotEqual(client.engine().pid, killed[0])

    def test_a_plan_is_cancelled_and_the_old_one_stays(self):
        repair = self.planned()
        resin = repair.Resin

        def cancel(question):
            if question.progress[0].startswith("ply"):
                client.engine().cancel(question)

        ask_plan.while_waiting = Waiting(cancel)
        repair.Ratio = 10
        self.document.recompute()
        self.assertIn("stopped as asked", repair.PlanState)
        self.assertEqual(repair.Resin, resin)

    def test_what_waits_behind_a_plan_that_does_not_stop_is_asked_of_the_next_engine(self):
        repair = self.planned()
        engine, patience = client.engine(), client.CANCEL_PATIENCE
        client.CANCEL_PATIENCE = 0.2
        self.addCleanup(setattr, client, "CANCEL_PATIENCE", patience)
        first = engine.pid
        os.kill(first, signal.SIGSTOP)
        stopped = ask_plan.ask("plan", repair.PlannedJob)
        engine.cancel(stopped)
        answered = ask_plan.ask("plan", repair.PlannedJob)
        header, _ = engine.wait_for(answered, at_most=60)
        self.assertTrue(header["ok"])
        self.assertNotEqual(engine.pid, first)
        with self.assertRaisesRegex(client.Refused, "stopped as asked"):
            stopped.result()

    def test_the_packagings_own_libraries_are_kept_from_the_engine(self):
        os.environ["LD_LIBRARY_PATH"] = "/nowhere"
        self.addCleanup(os.environ.pop, "LD_LIBRARY_PATH")
        self.assertNotIn("LD_LIBRARY_PATH", find_program.clean_environment())

    def test_files_are_written(self):
        repair = self.planned()
        out = self.folder / "cut"
        question = files.write_files(repair, out, ["svg", "dxf", "hpgl"])
        client.engine().wait_for(question)
        for name in ("templates/1A.svg", "templates.dxf", "templates.plt", "job-sheet.html"):
            self.assertTrue((out / name).is_file(), name)
