"""Job files in and out, boats, Python's way in, the add-on.

Run inside FreeCAD: freecadcmd -t TestTearlineJobs (see ../workbench_objects_test.py).
"""
import os
import tomllib

import FreeCAD
import Mesh

import sample_repair
from document_case import DocumentCase
from sample_repair import vectors
from tearline_cad import api, importer
from tearline_cad.document import boat_job, figures, job_file, job_text, keys, toml
from tearline_cad.document.repair import make_repair


class Jobs(DocumentCase):
    def test_every_key_reaches_the_job_file(self):
        # One value that is not the start value for each kind of key; TOML read back by Python.
        repair = sample_repair.sample_repair(self.document)
        repair.Stack = ["mat 450", "roving 600 @ 45 free 20"]
        repair.LeastStep, repair.Position, repair.Copies, repair.Waxed = 5, "vertical", 2, True
        repair.ResinKind, repair.HardenerParts, repair.HardenerBasis = "epoxy", [5, 1], "volume"
        repair.GelMinutes, repair.Title = 22, 'Bow "A"'
        repair.PressFirst = [FreeCAD.Vector(1, 2, 3)]
        repair.Mirror = "ends there"
        job = tomllib.loads(job_text.job_text(repair, "hull.brep"))
        self.assertEqual(job["title"], 'Bow "A"')
        self.assertEqual(job["hull"]["mirror"], False)
        self.assertEqual(job["layup"]["stack"],
                         ["mat 450", {"fabric": "roving 600", "axis": 45, "axis_free": 20}])
        self.assertNotIn("fill", job["layup"])
        self.assertEqual(job["layup"]["press_first"], [1, 2, 3])
        self.assertEqual((job["layup"]["position"], job["layup"]["copies"]), ("vertical", 2))
        self.assertEqual(job["scarf"], {"least_step": 5})
        self.assertEqual(job["resin"]["hardener_parts"], [5, 1])
        self.assertEqual(job["resin"]["gel_at"]["mass"], "100.0 g")
        self.assertEqual(len(job["damage"]["outline"]), 9)
        repair.Centred, repair.Centre = True, FreeCAD.Vector(2700, 1025.5, 432.1)
        repair.Radius, repair.Length, repair.Height, repair.Depth = 60, 200, 90, 5
        for shape, sizes in (("disc", {"radius": 60}), ("ellipse", {"length": 200, "height": 90})):
            repair.DamageShape = shape
            damage = tomllib.loads(job_text.job_text(repair, "hull.brep"))["damage"]
            self.assertEqual(damage, {"centre": [2700, 1025.5, 432.1], "depth": 5, **sizes})

    def test_figures_are_in_the_units_that_go_with_those_of_lengths(self):
        # Exact by definition: 1 lb is 453.59237 g and 16 oz, 1 psi 0.006894757 MPa, 68 F 20 C; an ounce a square
        # yard, 28.349523125 g on 0.83612736 m2, is 33.9057 g/m2.
        self.addCleanup(FreeCAD.Units.setSchema, 0)
        told = [("g", 453.59237, "16 oz"), ("degrees Celsius", 20.0, "68 °F"), ("degrees Celsius", -40.0, "-40 °F"),
                ("MPa", 6.894757293168, "1000 psi"), ("g/m2", 28.349523125 / 0.83612736, "1 oz/yd2"), ("%", 1.5, "1.5 %"),
                ("fraction", 0.1, "10 %"), ("g/mL", 1.1, "1.1 g/mL")]
        FreeCAD.Units.setSchema(3)
        for unit, value, shown in told:
            self.assertEqual(figures.shown(value, unit), shown)
            self.assertAlmostEqual(figures.read(shown, unit), value, delta=1e-6 * abs(value))
        # A bare number is in the unit that the field shows; what is written out is what it says.
        self.assertAlmostEqual(figures.read("68", "degrees Celsius"), 20.0)
        self.assertAlmostEqual(figures.read("2", "g"), 56.69904625)
        self.assertAlmostEqual(figures.read("20 °C", "degrees Celsius"), 20.0)
        self.assertEqual(figures.read("450 g/m2", "g/m2"), 450.0)
        self.assertEqual((figures.mass_text(100.0), figures.mass_text(907.18474)), ("3.5 oz", "2.00 lb"))
        FreeCAD.Units.setSchema(0)
        self.assertEqual(figures.shown(20.0, "degrees Celsius"), "20 °C")
        self.assertEqual(figures.read("20", "degrees Celsius"), 20.0)
        self.assertEqual((figures.mass_text(100.0), figures.mass_text(2000.0)), ("100 g", "2.00 kg"))

    @staticmethod
    def simple(value, key=""):
        """A value of a job file whatever it was written with: lengths in mm, masses in g."""
        if isinstance(value, dict):
            return {name: Jobs.simple(each, name) for name, each in value.items()}
        if isinstance(value, list):
            return [Jobs.simple(each) for each in value]
        if isinstance(value, str) and value[:1].isdigit():
            number, _, unit = value.partition(" ")
            factor = {"mm": 1, "in": 25.4, "mil": 0.0254, "m": 1000, "kg": 1000}.get(unit, 1)
            if not unit or unit in ("mm", "in", "mil", "m", "kg", "g", "g/m2", "MPa"):
                return round(float(number) * factor, 9)
        return round(float(value), 9) if type(value) in (int, float) else value

    def test_nothing_of_a_job_file_is_lost(self):
        # Read back by Python's own TOML reader; what is at its default may be left out.
        defaults = {(key.table, key.key): keys.defaults_of(key).get("") for key in keys.KEYS}
        found = sorted(sample_repair.SAMPLES.glob("*.toml"))
        self.assertGreater(len(found), 8)
        for path in found:
            with self.subTest(path.name):
                job = tomllib.loads(path.read_text(encoding="utf-8"))
                if "model" not in job["hull"]:
                    with self.assertRaisesRegex(job_file.Unreadable, "names no hull.model"):
                        job_file.open_job(self.document, str(path))
                    continue
                repair = job_file.open_job(self.document, str(path))
                again = tomllib.loads(job_text.job_text(repair, job["hull"]["model"],
                                                        job["hull"].get("unit", "")))
                again.pop("display_units", None) if "display_units" not in job else None
                for table, content in job.items():
                    self.compare(table, content, again.get(table), defaults)
                # Nothing is said that was not there, but what the start of the list of cloths may be.
                for table in again:
                    self.assertIn(table, [*job, "title", "tearline"])

    def compare(self, table, content, told, defaults):
        if not isinstance(content, dict):
            self.assertEqual(self.simple(told), self.simple(content), table)
            return
        for key, value in content.items():
            now = (told or {}).get(key)
            if now is None and (table, key) in defaults:
                now = defaults[table, key]
                now = [ply["fabric"] for ply in now] if key in ("fill", "cover") else now
            if key in ("fill", "cover", "stack") and isinstance(value, str):
                value = [value]
            self.assertEqual(self.simple(now), self.simple(value), f"{table}.{key}")

    def test_a_job_file_is_planned_as_the_command_line_does(self):
        for name in ("curlew", "curlew-cored"):
            repair = api.open_job(self.document, sample_repair.SAMPLES / f"{name}.toml")
            plan = api.plan(repair)
            wanted = sample_repair.plan_of_job(sample_repair.SAMPLES / f"{name}.toml", self.folder / name)
            self.assertEqual([ply["fabric"] for ply in plan["plies"]],
                             [ply["fabric"] for ply in wanted["plies"]])
            # The hull goes through FreeCAD's own reader; as curves within 0.1 mm (DEFINITIONS.md).
            self.assertAlmostEqual(plan["totals"]["resin_g"] / wanted["totals"]["resin_g"], 1, 4)

    def test_a_stack_that_is_taken_over_stands_instead_of_the_fill_and_the_other_way_round(self):
        # core/job: "give stack or fill, not both".
        repair = sample_repair.sample_repair(self.document)
        told = {f"{key.table}.{key.key}": key for key in keys.KEYS}
        repair.Fill = ["mat 600"]
        self.assertTrue(job_file.take_value(repair, told["layup.stack"], ["mat 450", "roving 600"]))
        self.assertEqual((list(repair.Stack), list(repair.Fill)), (["mat 450", "roving 600"], ["mat 450"]))
        self.assertTrue(job_file.take_value(repair, told["layup.fill"], "mat 300"))
        self.assertEqual((list(repair.Stack), list(repair.Fill)), ([], ["mat 300"]))
        self.assertTrue(job_file.take_value(repair, told["scarf.ratio"], 15))
        self.assertEqual((list(repair.Stack), list(repair.Fill)), ([], ["mat 300"]))

    def test_a_boat_is_planned_as_each_of_its_repairs(self):
        first = self.planned()
        second = make_repair(self.document, first.Hull, "Fender: rub, starboard")
        second.DamageShape, second.Centred = "ellipse", True
        second.Centre, second.Length, second.Height = FreeCAD.Vector(3600, -960.7, 450), 240, 90
        second.Depth, second.Skin = 2.2, 9
        self.document.recompute()
        job = self.folder / "boat.toml"
        boat_job.save([first, second], "Curlew", str(job))
        boat = sample_repair.plan_of_job(job, self.folder / "boat")
        for told, repair in zip(boat["repairs"], (first, second)):
            self.assertAlmostEqual(told["totals"]["resin_g"], repair.Resin, places=6)
        self.assertEqual([each["name"] for each in boat["repairs"]], ["Port-chine", "Fender-rub-starboard"])
        second.Temperature = 25
        with self.assertRaisesRegex(boat_job.Differ, r"differ in \[shop\].*temperature = 25.0"):
            boat_job.save([first, second], "Curlew", str(job))

    def every_wrong_value(self, name):
        """Texts of a sample in which one value after the other is of another kind; a box stands for its hull."""
        job = tomllib.loads((sample_repair.SAMPLES / f"{name}.toml").read_text(encoding="utf-8"))
        Mesh.createBox(10, 10, 10).write(str(self.folder / "box.stl"))
        job["hull"].update(model="box.stl", unit="mm")
        places = [(job, table) for table in job]
        places += [(job[table], key) for table in job if isinstance(job[table], dict) for key in job[table]]
        for table, key in places:
            kept = table[key]
            for value in (3, -1e300, True, "", "parsec", [], {}, [[1, 2]], [{"a": 1}], {"a": {"b": []}}):
                table[key] = value
                yield key, value, "".join(f"{top} = {toml.written(each)}\n" for top, each in job.items())
            table[key] = kept

    def open_wrong(self, path):
        """Opens what may be no job: refused in one line of which nothing is left, or taken in and told again."""
        try:
            repair = api.open_job(self.document, path)
        except api.NotPlanned as refused:
            self.assertNotIn("\n", str(refused))
            self.assertIn(path.name, str(refused))
            self.assertEqual(self.document.Objects, [], "nothing is left behind")
        else:
            self.told_again(repair)

    def told_again(self, repair):
        try:
            tomllib.loads(job_text.job_text(repair, "hull.brep"))
        except job_text.Incomplete as missing:
            self.assertIn("Mark the damage", str(missing))

    def clear(self):
        for name in [made.Name for made in self.document.Objects]:
            self.document.removeObject(name)

    def test_whatever_is_wrong_in_a_job_file_is_said_in_one_line_or_kept_for_the_engine(self):
        path = self.folder / "wrong.toml"
        count = 0
        for sample in ("curlew", "curlew-cored", "curlew-photo"):
            for key, value, text in self.every_wrong_value(sample):
                count += 1
                path.write_text(text, encoding="utf-8")
                with self.subTest(sample=sample, key=key, value=value):
                    self.open_wrong(path)
                self.clear()
        self.assertGreater(count, 300)

    def test_what_python_is_offered_does_what_it_says(self):
        repair = api.new_repair(self.document, sample_repair.hull_object(self.document),
                                vectors(sample_repair.OUTLINE), "Port chine")
        self.assertEqual(len(api.plan(repair)["plies"]), repair.PlyCount)
        self.assertTrue(os.path.isfile(os.path.join(
            api.write(repair, self.folder / "out"), "job-sheet.html")))
        api.save_job(repair, self.folder / "again.toml")
        again = api.open_job(self.document, self.folder / "again.toml")
        self.assertAlmostEqual(api.plan(again)["totals"]["resin_g"], repair.Resin, 3)
        repair.ResinKind = "epoxy"
        with self.assertRaisesRegex(api.NotPlanned, "hardener_parts"):
            api.plan(repair)
        with self.assertRaisesRegex(api.NotPlanned, "there is no file|No such file"):
            api.open_job(self.document, self.folder / "none.toml")

    def test_freecad_itself_opens_and_writes_job_files(self):
        for name in list(FreeCAD.listDocuments()):
            FreeCAD.closeDocument(name)
        self.assertIn("tearline_cad.importer", FreeCAD.getImportType("toml"))
        importer.open(str(sample_repair.SAMPLES / "curlew.toml"))
        repair = next(each for each in FreeCAD.ActiveDocument.Objects
                      if hasattr(each, "PlannedJob"))
        self.assertEqual(repair.PlanState, "Planned")
        importer.export([repair], str(self.folder / "out.toml"))
        self.assertIn("[damage]", (self.folder / "out.toml").read_text(encoding="utf-8"))

    def test_a_job_file_that_cannot_be_taken_leaves_no_document_and_no_step(self):
        path = self.folder / "none.toml"
        path.write_text("[hull\n", encoding="utf-8")
        importer.open(str(path))
        importer.insert(str(path), "")
        self.assertEqual(list(FreeCAD.listDocuments()), [self.document.Name])
        importer.insert(str(path), self.document.Name)
        self.assertEqual((self.document.Objects, self.document.UndoNames), ([], []))

    def test_package_xml_is_read_by_freecads_own_parser(self):
        told = FreeCAD.Metadata(str(sample_repair.SAMPLES.parent / "cad-plugin" / "package.xml"))
        self.assertEqual(told.Name, "Tearline")
        self.assertEqual(told.License[0]["file"], "LICENSE")
        self.assertTrue(told.Maintainer[0]["email"])
        self.assertIn("repository", [each["type"] for each in told.Urls])
        self.assertEqual(told.Content["workbench"][0].Classname, "TearlineWorkbench")
        self.assertTrue(told.Content["workbench"][0].FreeCADMin)
