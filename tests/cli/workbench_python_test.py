#!/usr/bin/env python3
"""The workbench's Python that needs no CAD program: values written for a job file and read back by tomllib,
messages and questions to the real engine, meshes against closed forms, colours.

FreeCAD itself stands in as a place for one preference; what needs its documents is tested inside it (tests/cad)."""
import colorsys
import io
import json
import math
import os
import pathlib
import random
import re
import struct
import subprocess
import sys
import tempfile
import time
import tomllib
import types
import unittest

SOURCE = pathlib.Path(os.environ["TEARLINE_SOURCE"])
sys.path[:0] = [str(SOURCE / "cad-plugin"), str(SOURCE / "tests" / "support")]
from system_python import module  # noqa: E402

numpy = module("numpy")
CHOSEN = {}
sys.modules["Part"] = types.SimpleNamespace()
sys.modules["FreeCAD"] = types.SimpleNamespace(ParamGet=lambda path: types.SimpleNamespace(
    GetString=lambda name, start: CHOSEN.get(name, start),
    SetString=lambda name, value: CHOSEN.__setitem__(name, value)))
from job_keys import KEPT, job_keys  # noqa: E402
from random_repairs import START, Planned, Repair  # noqa: E402
from tearline_cad.document import keys, pieces, rims, toml, warning_lines  # noqa: E402
from tearline_cad.engine import client, find_program, framing, process  # noqa: E402
from tearline_cad.view import colours, meshes  # noqa: E402

# Cannot be written as plain text in a quoted string, each in its own way.
AWKWARD = ["Möwe", 'quote " and \\ back', "tab\tand\nline", "λίμνη \U0001F6A4", "", " ", "#no comment", "\x01\x7f"]


def read_back(words):
    return tomllib.loads("value = " + words)["value"]


class Toml(unittest.TestCase):
    def test_text_comes_back_letter_for_letter(self):
        for text in AWKWARD:
            self.assertEqual(read_back(toml.text(text)), text)

    def test_numbers_come_back_bit_for_bit(self):
        draw = random.Random(START)
        for _ in range(2000):
            value = struct.unpack("<d", draw.randbytes(8))[0]
            if math.isfinite(value):
                self.assertEqual(read_back(toml.number(value)), value)
        self.assertIsInstance(read_back(toml.number(6)), float)
        self.assertEqual(read_back(toml.numbers([1, 2.5, -3])), [1.0, 2.5, -3.0])
        self.assertEqual(read_back(toml.whole(3.0)), 3)

    def test_a_quantity_of_the_cad_program_is_its_value(self):
        # A length there is an object that carries mm in Value.
        length = types.SimpleNamespace(Value=25.4)
        self.assertEqual(read_back(toml.number(length)), 25.4)
        point = types.SimpleNamespace(x=1.0, y=-2.5, z=1e-9)
        self.assertEqual(read_back(toml.vector(point)), [1.0, -2.5, 1e-9])

    def test_amounts_carry_their_units(self):
        self.assertEqual(read_back(toml.grams(250)), "250.0 g")
        self.assertEqual(read_back(toml.grams_per_square_metre(150)), "150.0 g/m2")
        self.assertEqual(read_back(toml.megapascals(8.5)), "8.5 MPa")
        self.assertIs(read_back(toml.truth(1)), True)
        self.assertIs(read_back(toml.truth(0)), False)

    def test_plies_as_a_person_types_them(self):
        # Cloth, axis, freedom; what is no number goes on as text, for the engine to say so.
        for line, wanted in (("mat 450", "mat 450"), (" mat 450 ", "mat 450"),
                             ("roving 600 @ 45", {"fabric": "roving 600", "axis": 45.0}),
                             ("roving 600@-30 free 20", {"fabric": "roving 600", "axis": -30.0, "axis_free": 20.0}),
                             ("roving @ fore and aft", {"fabric": "roving", "axis": "fore and aft"}),
                             ('house "9 oz"', 'house "9 oz"')):
            self.assertEqual(read_back(toml.ply(line)), wanted, line)
        self.assertEqual(read_back(toml.plies(["mat 450", "", "  ", "mat 300"])), ["mat 450", "mat 300"])


class Keys(unittest.TestCase):
    def test_the_kept_keys_are_those_of_the_engine(self):
        # When this fails: tests/support/job_keys.py build/tearline
        told = json.loads(KEPT.read_text(encoding="utf-8"))["keys"]
        self.assertEqual(told, list(job_keys(os.environ["TEARLINE"]).values()))

    def test_a_property_at_its_start_says_what_the_engine_assumes(self):
        """All start values written out make the same job as none of them; 0 and [] stand for nothing."""
        said = {"": "", "hull": f'model = "{SOURCE}/sample-models/cylinder.step"\nbow = [1, 0, 0]\nup = [0, 0, 1]\n',
                "damage": "centre = [1000, 0, -500]\nradius = 60\ndepth = 6\n"}
        tables = {}
        for key in keys.KEYS:
            start = keys.start_value(key)
            if start and key.prop not in ("Bow", "Up", "Depth", "Can") \
                    and key.group not in ("Through", "Backing", "Core", "Scan"):
                tables[key.table] = tables.get(key.table, "") + f"{key.key} = {key.write(start)}\n"
        self.assertGreater(sum(text.count("\n") for text in tables.values()), 20)

        def text_of(also):
            text = ""
            for table in dict.fromkeys([*said, *also]):
                text += (f"[{table}]\n" if table else "") + said.get(table, "") + also.get(table, "")
            return text

        self.assertEqual(self.effective(text_of(tables)), self.effective(text_of({})))

    def test_a_property_at_its_start_says_so_too_where_only_some_jobs_have_its_table(self):
        """The same of a core and a backing, and of a scan."""
        for name, groups, least in (("curlew-cored", ("Backing", "Core"), 7), ("curlew-photo", ("Scan",), 1)):
            plain = (SOURCE / "sample-models" / f"{name}.toml").read_text(encoding="utf-8").replace(
                'model = "', f'model = "{SOURCE}/sample-models/')
            said, count = plain, 0
            for key in keys.KEYS:
                start = keys.start_value(key)
                if start and key.group in groups and not re.search(rf"^{key.key} =", plain, re.M):
                    said = said.replace(f"[{key.table}]\n", f"[{key.table}]\n{key.key} = {key.write(start)}\n")
                    count += 1
            self.assertGreaterEqual(count, least)
            self.assertEqual(self.effective(said), self.effective(plain))

    def effective(self, text):
        """The job as the command line understands it."""
        with tempfile.TemporaryDirectory() as room:
            job = pathlib.Path(room, "job.toml")
            job.write_text(text, encoding="utf-8")
            done = subprocess.run([os.environ["TEARLINE"], "plan", str(job), "--json"],
                                  capture_output=True, text=True, timeout=120, check=False)
        self.assertEqual(done.returncode, 0, done.stderr)
        return json.loads(done.stdout)["job"]["effective"]

    def test_meanings_are_sentences_and_units_stay_as_they_are(self):
        told = {key.prop: key.meaning for key in keys.KEYS}
        self.assertEqual(told["Ratio"], "mm out for each mm up")
        self.assertEqual(told["CuredDensity"][:12], "Cured, g/cm3")
        self.assertEqual(told["Cup"], "Most that is mixed at once, g")


class Framing(unittest.TestCase):
    def test_messages_come_through_a_pipe_whole(self):
        draw = random.Random(START)
        said = [({"id": k, "name": AWKWARD[k % len(AWKWARD)]}, draw.randbytes(draw.randint(0, 500))) for k in range(50)]
        pipe = io.BytesIO(b"".join(framing.packed(header, body) for header, body in said))
        for header, body in said:
            self.assertEqual(framing.read_message(pipe), (dict(header, bytes=len(body)), body))
        self.assertIsNone(framing.read_message(pipe))

    def test_a_message_cut_short_is_the_end(self):
        whole = framing.packed({"id": 1}, b"body")
        self.assertIsNone(framing.read_message(io.BytesIO(whole[:-1])))
        with self.assertRaises(ValueError):
            framing.read_message(io.BytesIO(b"no json\n"))

    def test_parts_are_cut_where_their_sizes_say(self):
        header = {"parts": [{"name": "a", "bytes": 2}, {"name": "b", "bytes": 0}, {"name": "c", "bytes": 3}]}
        self.assertEqual(framing.parts_of(header, b"xxyyy"), {"a": b"xx", "b": b"", "c": b"yyy"})
        self.assertEqual(framing.parts_of({}, b""), {})


class FindProgram(unittest.TestCase):
    def setUp(self):
        CHOSEN.clear()
        self.addCleanup(CHOSEN.clear)

    def test_a_chosen_path_is_meant(self):
        find_program.set_program(os.environ["TEARLINE"])
        self.assertEqual(str(find_program.find_program()), os.environ["TEARLINE"])
        find_program.set_program("/nowhere/tearline")
        with self.assertRaises(find_program.ProgramMissing) as said:
            find_program.find_program()
        self.assertIn("/nowhere/tearline", str(said.exception))

    def test_otherwise_the_environment_comes_first(self):
        self.assertEqual(str(next(iter(find_program.candidates()))), os.environ["TEARLINE"])
        self.assertEqual(str(find_program.find_program()), os.environ["TEARLINE"])

    def test_what_the_cad_programs_packaging_set_is_taken_out(self):
        before = dict(os.environ)
        self.addCleanup(lambda: (os.environ.clear(), os.environ.update(before)))
        os.environ.update({"LD_LIBRARY_PATH": "/snap/lib", "PYTHONHOME": "/snap", "MINE": "kept"})
        clean = find_program.clean_environment()
        self.assertNotIn("LD_LIBRARY_PATH", clean)
        self.assertNotIn("PYTHONHOME", clean)
        self.assertEqual(clean["MINE"], "kept")
        self.assertEqual(clean["PATH"], os.environ["PATH"])


class Questions(unittest.TestCase):
    """The client against the real engine."""

    def setUp(self):
        CHOSEN.clear()
        self.engine = client.Engine()
        self.addCleanup(self.engine.stop)

    def test_a_plan_comes_with_its_progress(self):
        told = []
        text = Repair(22).text.encode()
        question = self.engine.ask("plan", text, file="job.toml", on_progress=lambda q: told.append(q.progress))
        header, body = self.engine.wait_for(question)
        parts = framing.parts_of(header, body)
        plan = json.loads(parts["plan.json"])
        self.assertEqual(plan["job"]["title"], "Repair 22")
        self.assertGreater(len(told), 2)
        self.assertEqual([f for _, f in told], sorted(f for _, f in told))
        self.assertFalse(self.engine.waiting)
        self.assertRegex(self.engine.version, r"^\d+\.\d+\.\d+$")

    def test_a_refusal_carries_its_kind_and_words(self):
        question = self.engine.ask("plan", Repair(22).text.replace("radius", "radus").encode(), file="job.toml")
        with self.assertRaises(client.Refused) as said:
            self.engine.wait_for(question)
        self.assertEqual(said.exception.kind, "bad-input")
        self.assertIn("radius", str(said.exception))
        self.assertTrue(self.engine.wait_for(self.engine.ask("ping"))[0]["ok"])

    def test_a_question_is_cancelled_once(self):
        first = self.engine.ask("plan", Repair(7).text.encode(), file="a.toml")
        second = self.engine.ask("plan", Repair(0).text.encode(), file="b.toml")
        self.engine.cancel(second)
        self.engine.cancel(second)
        self.assertTrue(self.engine.wait_for(first)[0]["ok"])
        with self.assertRaises(client.Refused) as said:
            self.engine.wait_for(second)
        self.assertEqual(said.exception.kind, "cancelled")

    def test_an_engine_that_dies_answers_every_question_and_is_started_anew(self):
        self.engine.wait_for(self.engine.ask("ping"))
        pid = self.engine.pid
        questions = [self.engine.ask("plan", Repair(7).text.encode(), file="a.toml") for _ in range(2)]
        os.kill(pid, 9)
        for question in questions:
            with self.assertRaises(client.Refused) as said:
                self.engine.wait_for(question)
            self.assertEqual(said.exception.kind, "engine-lost")
        self.assertTrue(self.engine.wait_for(self.engine.ask("ping"))[0]["ok"])
        self.assertNotEqual(self.engine.pid, pid)

    def test_one_that_never_stops_is_ended_after_its_patience(self):
        # An engine that says hello and then nothing more.
        script = pathlib.Path(tempfile.mkdtemp()) / "deaf"
        script.write_text("#!/usr/bin/env python3\nimport sys, time\n"
                          "sys.stdin.buffer.readline()\n"
                          'sys.stdout.write(\'{"id": 1, "ok": true, "version": "0.0.0", "bytes": 0}\\n\')\n'
                          "sys.stdout.flush()\ntime.sleep(60)\n", encoding="utf-8")
        script.chmod(0o755)
        find_program.set_program(script)
        patience, client.CANCEL_PATIENCE = client.CANCEL_PATIENCE, 0.2
        self.addCleanup(setattr, client, "CANCEL_PATIENCE", patience)
        question = self.engine.ask("plan", b"")
        self.engine.cancel(question)
        started = time.monotonic()
        with self.assertRaises(client.Refused) as said:
            self.engine.wait_for(question)
        self.assertEqual(said.exception.kind, "cancelled")
        self.assertLess(time.monotonic() - started, 50.0)  # its sleep is 60 s

    def test_a_program_that_is_no_engine_is_said(self):
        find_program.set_program("/bin/true")
        with self.assertRaises(client.Refused) as said:
            self.engine.wait_for(self.engine.ask("ping"))
        self.assertIn("/bin/true is not an engine", str(said.exception))

    def test_a_pipe_to_an_ended_process_sends_nothing(self):
        child = process.EngineProcess(["/bin/true"], dict(os.environ))
        deadline = time.monotonic() + 20
        while not child.ended and time.monotonic() < deadline:
            child.next_message(0.05)
        self.assertTrue(child.ended)
        time.sleep(0.05)
        sent = [child.send({"id": k}, b"x" * 100000) for k in range(3)]
        self.assertFalse(sent[-1])
        child.end()
        self.assertIn("status 0", child.words_at_end())


class Meshes(unittest.TestCase):
    """Closed forms: a cube of 2 about the origin, a sphere, a folded sheet."""

    CUBE = numpy.array([[x, y, z] for x in (-1.0, 1.0) for y in (-1.0, 1.0) for z in (-1.0, 1.0)])
    FACES = numpy.array([[0, 1, 3], [0, 3, 2], [4, 6, 7], [4, 7, 5], [0, 4, 5], [0, 5, 1],
                         [2, 3, 7], [2, 7, 6], [0, 2, 6], [0, 6, 4], [1, 5, 7], [1, 7, 3]])

    def test_a_cubes_corners_rise_by_one_along_every_face(self):
        # For each face to rise by 1 a corner goes by (1, 1, 1): the square root of 3 along its normal.
        risers = meshes.risers(self.CUBE, self.FACES, [])
        self.assertTrue(numpy.allclose(risers, self.CUBE, atol=5e-3))

    def test_an_opened_crease_rises_as_a_closed_one(self):
        # Each triangle with corners of its own, so that every edge is a rim: the same places go the same way.
        apart = self.CUBE[self.FACES.ravel()]
        faces = numpy.arange(len(apart)).reshape(-1, 3)
        risers = meshes.risers(apart, faces, numpy.unique(rims.rim(faces)))
        self.assertTrue(numpy.allclose(risers, apart, atol=5e-3))

    def test_normals_are_units_that_point_outward(self):
        normals = meshes.normals(self.CUBE, self.FACES)
        self.assertTrue(numpy.allclose(numpy.linalg.norm(normals, axis=1), 1.0))
        self.assertTrue(((normals * self.CUBE).sum(axis=1) > 1.2).all())

    def test_a_sheets_rim_is_its_outer_edges_alone(self):
        # Two triangles of a square: four edges, the diagonal is none; a closed cube has no rim.
        square = numpy.array([[0, 1, 2], [0, 2, 3]])
        self.assertEqual({tuple(sorted(e)) for e in rims.rim(square).tolist()}, {(0, 1), (1, 2), (2, 3), (0, 3)})
        self.assertEqual(len(rims.rim(self.FACES)), 0)

    def test_shares_of_a_place_in_a_triangle_give_the_place_back(self):
        draw = numpy.random.default_rng(START)
        corners = draw.uniform(-50, 50, (200, 3, 3))
        shares = draw.uniform(0.05, 1, (200, 3))
        shares /= shares.sum(axis=1)[:, None]
        for triangle, share in zip(corners, shares):
            at = share @ triangle
            found = meshes.weights(triangle[None], at)[0]
            self.assertTrue(numpy.allclose(found, share, atol=1e-9))
        outside = meshes.weights(corners, numpy.array([1e4, 1e4, 1e4]))
        self.assertTrue(numpy.allclose(outside.sum(axis=1), 1.0))
        self.assertTrue((outside >= 0).all())

    def test_rows_are_made_of_flat_numbers(self):
        self.assertEqual(meshes.array_of([1, 2, 3, 4, 5, 6], 3).tolist(), [[1, 2, 3], [4, 5, 6]])


class Pieces(unittest.TestCase):
    def test_arrays_are_those_that_the_file_names(self):
        # Second reader: struct over the header's own offsets.
        with tempfile.TemporaryDirectory() as room:
            made = Planned(room, Repair(6).text, "--format", "svg")
            self.assertEqual(made.run.returncode, 0, made.run.stderr)
            for _, piece in made.pieces():
                data = (made.folder / piece["mesh"]).read_bytes()
                line, body = data.split(b"\n", 1)
                found = pieces.read_arrays(data)
                header = json.loads(line)
                self.assertEqual(set(found), {entry["name"] for entry in header["arrays"]})
                for entry in header["arrays"]:
                    count = entry["shape"][0] * entry["shape"][1]
                    letter = {"float64": "d", "int32": "i"}[entry["type"]]
                    wanted = struct.unpack_from(f"<{count}{letter}", body, entry["offset"])
                    self.assertEqual(tuple(found[entry["name"]]), wanted)
                # Each array begins at a multiple of 8 in the file too.
                self.assertTrue(all((len(line) + 1 + e["offset"]) % 8 == 0 for e in header["arrays"]))


class Colours(unittest.TestCase):
    def test_between_runs_through_its_anchors(self):
        for k, anchor in enumerate(colours.SCALE):
            share = k / (len(colours.SCALE) - 1)
            for got, wanted in zip(colours.between(colours.SCALE, share), anchor):
                self.assertAlmostEqual(got, wanted, delta=1e-9)
        self.assertEqual(colours.between(colours.SCALE, -3), tuple(colours.SCALE[0]))
        self.assertEqual(colours.between(colours.SCALE, 7), tuple(colours.SCALE[-1]))

    def test_the_scale_darkens_step_by_step(self):
        # Told apart in grey print: lightness (HLS) falls with every step.
        light = [colorsys.rgb_to_hls(*colours.unit(c))[1] for c in colours.scale_steps()]
        self.assertEqual(len(light), colours.STEPS)
        self.assertTrue(all(a > b + 0.03 for a, b in zip(light, light[1:])), light)

    def test_the_engines_pictures_have_the_same_anchors(self):
        # core/job_sheet/colour_scale.cpp, read as text.
        text = (SOURCE / "core" / "job_sheet" / "colour_scale.cpp").read_text(encoding="utf-8")
        rows = re.findall(r"\{(\d+)(?:\.0)?, (\d+)(?:\.0)?, (\d+)(?:\.0)?\}", text)
        self.assertEqual([tuple(map(int, row)) for row in rows[:len(colours.SCALE)]],
                         [tuple(c) for c in colours.SCALE])

    def test_plies_have_colours_of_their_own_in_two_families(self):
        plies = [{"number": k + 1, "cover": k >= 4} for k in range(6)]
        found = colours.ply_colours(plies)
        self.assertEqual(len(set(found)), 6)
        for ply, colour in zip(plies, found):
            warm = colour[0] > colour[2]  # ochre, not blue
            self.assertEqual(warm, ply["cover"])
        self.assertEqual(len(colours.ply_colours([{"number": 1, "cover": False}])), 1)

    def test_a_scale_ends_at_a_round_figure_no_more_than_double(self):
        draw = random.Random(START)
        for _ in range(500):
            most = 10 ** draw.uniform(-5, 4)
            top = colours.nice_top(most)
            self.assertGreaterEqual(top, most)
            self.assertLessEqual(top, 2.0 * most * (1 + 1e-9))
            self.assertIn(round(top / 10 ** math.floor(math.log10(top) + 1e-9)), (1, 2, 4, 8))


class Warnings(unittest.TestCase):
    def test_the_gravest_come_first_and_equals_stay_in_order(self):
        given = [{"rank": rank, "plain": f"{rank} {k}"} for k, rank in enumerate(("know", "do", "stop", "do", "know"))]
        self.assertEqual(warning_lines.warning_lines(given), [
            "Stop and decide: stop 2", "Do this: do 1", "Do this: do 3", "Know this: know 0", "Know this: know 4"])


if __name__ == "__main__":
    unittest.main()
