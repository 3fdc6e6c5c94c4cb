#!/usr/bin/env python3
"""Titles, names, paths and bytes of files made to break paper, terminals, SVG and HTML; and the same bytes of
every file whatever the zone, the language, the home, the folder and the mask of the one who plans."""
import hashlib
import json
import os
import pathlib
import re
import shutil
import subprocess
import sys
import tempfile
import unittest
import xml.etree.ElementTree

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1] / "support"))
from engine import Engine  # noqa: E402
from pdf_text import text_of  # noqa: E402
from random_repairs import SAMPLES, TEARLINE, Repair  # noqa: E402

JOB = Repair(22).text
TITLE = JOB.splitlines()[0]


class HostileText(unittest.TestCase):
    def setUp(self):
        temporary = tempfile.TemporaryDirectory(prefix="tearline hostile ")
        self.addCleanup(temporary.cleanup)
        self.room = pathlib.Path(temporary.name)
        self.job = self.room / "job.toml"
        self.out = self.room / "out"
        self.assertTrue(TITLE.startswith('title = "'))

    def plan(self, title, *more, status=0, job=JOB, **options):
        self.job.write_text(job.replace(TITLE, f'title = "{title}"'), encoding="utf-8")
        run = subprocess.run([TEARLINE, "plan", str(self.job), "-o", str(self.out), *more], capture_output=True,
                             timeout=120, check=False, **options)
        self.assertEqual(run.returncode, status, run.stderr)
        return run.stderr

    def assert_harmless(self, said):
        text = said.decode("utf-8")  # valid, or this raises
        self.assertFalse([c for c in text if (ord(c) < 32 and c != "\n") or 0x7F <= ord(c) < 0xA0 or 0x202A <= ord(c) <= 0x202E],
                         text)

    def test_titles_without_a_space_end_up_on_paper_or_are_refused(self):
        for letter in ("W", "Ö", "漁"):
            self.plan(letter * 200, "--format", "svg,dxf,hpgl,pdf")
        for count in (201, 3_000, 100_000):
            said = self.plan("W" * count, "--format", "pdf", status=3).decode()
            self.assertIn("200", said)
            self.assertIn("title", said)
            self.assertLess(len(said), 1000)

    def test_names_of_cloth_too(self):
        # A name of 200 characters is planned to the last file; one of 201 is refused.
        for count, status in ((200, 0), (201, 3)):
            name = "N" * count
            job = (JOB.replace('"mat 450"]', f'"{name}"]') +
                   f'\n[[fabric]]\nname = "{name}"\nkind = "mat"\nweight = "450 g/m2"\n')
            said = self.plan("x", "--format", "svg,pdf", job=job, status=status).decode()
            self.assertEqual("fabric" in said and "200" in said, status == 3, said)

    def test_what_is_too_long_for_its_place_is_broken_or_ends_in_a_sign(self):
        # 200 letters without a space: no word reaches over a page's edge, none is squeezed to nothing, and
        # where letters are left out an ellipsis says so.
        name = "N" * 200
        job = (JOB.replace('"mat 450"]', f'"{name}"]') +
               f'\n[[fabric]]\nname = "{name}"\nkind = "mat"\nweight = "450 g/m2"\n')
        self.plan("T" * 200, "--format", "svg,pdf", job=job)
        signs = 0
        for path in sorted(self.out.glob("templates/*.svg")) + [self.out / "overview.svg"]:
            for text in xml.etree.ElementTree.parse(path).getroot().iter("{http://www.w3.org/2000/svg}text"):
                words = "".join(text.itertext())
                self.assertLessEqual(len(words), 110, path)
                longest = max((len(word) for word in words.split()), default=0)
                self.assertLessEqual(longest, 80, (path, words))  # as many as fit on the overview
                signs += "…" in words
        self.assertGreater(signs, 3)
        for path in self.out.glob("*.pdf"):
            boxes = text_of(path, "-bbox")
            count = 0
            for page in boxes.split("<page ")[1:]:
                width = float(re.search(r'width="([\d.]+)"', page)[1])
                for left, top, right, bottom, word in re.findall(
                        r'<word xMin="([-\d.]+)" yMin="([-\d.]+)" xMax="([-\d.]+)" yMax="([-\d.]+)">([^<]*)', page):
                    if not re.search("NNNN|TTTT", word):
                        continue
                    count += 1
                    self.assertGreaterEqual(float(left), 0.0, (path.name, word))
                    self.assertLessEqual(float(right), width, (path.name, word))
                    self.assertGreater(float(bottom) - float(top), 3.5, (path.name, word))  # points
            self.assertGreater(count, 5, path)

    def test_characters_that_xml_may_not_hold_are_refused(self):
        for escape in ("\\u0007", "\\uFFFE", "\\uFFFF", "\\u001B[2J", "\\u202E", "\\u009B", "\\n", "\\U0001FFFE"):
            said = self.plan("a" + escape, status=3)
            self.assertIn(b"cannot be printed", said)
            self.assert_harmless(said)

    def test_what_is_well_formed_stays_so(self):
        self.plan("<b>&amp; ]]> 漁船 🚤 'x' %s %n {}", "--format", "svg,dxf,hpgl,pdf")
        for path in self.out.rglob("*.svg"):
            xml.etree.ElementTree.parse(path)
        value = json.loads((self.out / "plan.json").read_text(encoding="utf-8"))
        self.assertEqual(value["job"]["title"], "<b>&amp; ]]> 漁船 🚤 'x' %s %n {}")

    def test_bytes_of_models_and_their_names_are_shown_escaped(self):
        bad = b"\x1b[2J\x9b\xff\xc2\x9b"
        files = {"a.obj": b"v 0 0 " + bad + b"\n", "b.obj": b"v 0 0 0\nv 1 0 0\nv 0 1 0\nf 1 2 " + bad + b"\n",
                 "c.ply": b"ply\nformat " + bad + b" 1.0\n", "d.stl": b"solid x\n" + bad + b" 1\n",
                 "e.ply": b"ply\nformat ascii 1.0\nelement vertex 1\nproperty " + bad + b" x\nend_header\n"}
        for name, data in files.items():
            path = self.room / name
            path.write_bytes(data)
            run = subprocess.run([TEARLINE, "hull", str(path), "--unit", "mm"], capture_output=True, check=False)
            self.assertEqual(run.returncode, 3, run.stderr)
            self.assert_harmless(run.stderr)
            engine = Engine()
            header, _ = engine.ask("hull", model=str(path), unit="mm")  # json.loads of it, or this raises
            self.assertFalse(header["ok"])
            self.assert_harmless(header["message"].encode())
            engine.stop()

    def test_names_of_files_that_are_no_text(self):
        for name in (b"\xff\x1b[2J\n.stl", b"x\ny.stl"):
            path = os.fsencode(self.room) + b"/" + name
            for make in (False, True):
                if make:
                    with open(path, "wb") as file:
                        file.write(b"solid x\nnothing\n")
                for words in ([b"hull", path, b"--unit", b"mm"], [b"plan", path, b"-o", path + b"out"]):
                    run = subprocess.run([os.fsencode(TEARLINE), *words], capture_output=True, check=False)
                    self.assertIn(run.returncode, (3, 5), run.stderr)
                    self.assert_harmless(run.stderr)
                    self.assertNotIn(b"\ny.stl", run.stderr)

    def test_a_name_that_would_turn_the_line_over_reaches_no_sheet(self):
        model = self.room / "hull \u202emm 9\u2066.step"
        shutil.copy(SAMPLES / "panel.step", model)
        for words in (["flatten", str(model), "-o", str(self.out), "--format", "svg,dxf2000,page"],
                      ["look", str(model), "-o", str(self.room / "look.html")]):
            run = subprocess.run([TEARLINE, *words], capture_output=True, check=False)
            self.assertEqual(run.returncode, 0, run.stderr)
            self.assert_harmless(run.stderr)
        job = JOB.splitlines()
        at = next(i for i, line in enumerate(job) if line.startswith("model = "))
        shutil.copy(json.loads(job[at].partition("=")[2]), self.room / "turned \u202e.step")
        job[at] = 'model = "turned \\u202e.step"'
        planned = self.room / "planned"
        self.job.write_text("\n".join(job), encoding="utf-8")
        run = subprocess.run([TEARLINE, "plan", str(self.job), "-o", str(planned), "--format", "svg,page"],
                             capture_output=True, check=False)
        self.assertEqual(run.returncode, 0, run.stderr)
        written = [p for where in (self.out, planned) for p in where.rglob("*") if p.suffix in {".svg", ".html", ".json", ".dxf"}]
        self.assertGreater(len(written), 12)
        for path in [*written, self.room / "look.html"]:
            text = path.read_text(encoding="utf-8")
            self.assertNotIn("\u202e", text, path)
            self.assertNotIn("\u2066", text, path)


class SameBytes(unittest.TestCase):
    def test_whatever_the_surroundings(self):
        with tempfile.TemporaryDirectory(prefix="tearline same ") as name:
            room = pathlib.Path(name)
            (room / "languages").mkdir()
            # Decimal commas, compiled here where the machine has the sources (package locales).
            german = {"LC_ALL": "de_DE.UTF-8", "LOCPATH": str(room / "languages")}
            subprocess.run(["localedef", "-i", "de_DE", "-f", "UTF-8", str(room / "languages" / "de_DE.UTF-8")],
                           capture_output=True, check=False)
            (room / "job.toml").write_text(JOB, encoding="utf-8")
            (room / "else").mkdir()
            first = None
            for k, (change, mask, folder) in enumerate((
                    ({}, 0o022, "."), ({"TZ": "Asia/Kolkata"}, 0o022, "."), ({"TZ": "America/St_Johns"}, 0o022, "."),
                    (german, 0o022, "."), ({"HOME": "/nonexistent"}, 0o022, "."),
                    ({}, 0o077, "else"))):
                out = room / f"out {k}"
                run = subprocess.run(["sh", "-c", f'umask {mask:o}; exec "$@"', "sh", TEARLINE, "plan",
                                      str(room / "job.toml"), "-o", str(out), "--format", "svg,dxf,dxf2000,hpgl,pdf"],
                                     cwd=room / folder, env=dict(os.environ, **change), capture_output=True, text=True,
                                     check=False)
                self.assertEqual(run.returncode, 0, run.stderr)
                found = {str(p.relative_to(out)): hashlib.sha256(p.read_bytes()).hexdigest()
                         for p in out.rglob("*") if p.is_file()}
                first = first or found
                self.assertEqual(found, first, change)


if __name__ == "__main__":
    unittest.main()
