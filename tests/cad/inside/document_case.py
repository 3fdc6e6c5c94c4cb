"""A document of its own for each test inside FreeCAD, and what the tests share."""
import pathlib
import tempfile
import unittest

import FreeCAD

import sample_repair
from tearline_cad.document import ask_plan
from tearline_cad.engine import find_program


class DocumentCase(unittest.TestCase):
    def setUp(self):
        self.document = FreeCAD.newDocument("Test")
        self.document.UndoMode = 1
        temporary = tempfile.TemporaryDirectory()
        self.addCleanup(temporary.cleanup)
        self.folder = pathlib.Path(temporary.name)
        self.addCleanup(self.restore)

    def restore(self):
        ask_plan.while_waiting = None
        ask_plan.forget()
        find_program.set_program("")
        for name in list(FreeCAD.listDocuments()):
            FreeCAD.closeDocument(name)

    def planned(self):
        repair = sample_repair.sample_repair(self.document)
        self.document.recompute()
        self.assertEqual(repair.PlanState, "Planned")
        return repair
