"""The words on the templates of every sample job can be read: none stands on another, none lies
across an edge that the cloth is parted along or across the edge of the full ply.

Expected values: the room of letters is that of DejaVu Sans, the widest of the faces that a reader's
machine takes for sans serif (tests/support/written_words.py); the dashes are those of one table,
as a reader of SVG and poppler see them."""
import json
import os
import pathlib
import subprocess
import sys
import tempfile
import unittest

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1] / "support"))
import written_words as written  # noqa: E402
from paper_ruler import page_count  # noqa: E402

JOBS = sorted((pathlib.Path(os.environ["TEARLINE_SOURCE"]) / "sample-models").glob("*.toml"))
EDGES = ("tear-line", "cut-line", "holes", "net-line", "relief-cuts")
DRAWN = ("rings", "match-ticks", "arrows", "fibre", "datum")
# Words beside a mark; those of the piece itself may lie across the smaller ply where it is tight.
BESIDE = ("BOW", "AFT", "UP", "DOWN", "PORT", "STARBOARD", "ROLL DIRECTION", "PRESS DOWN HERE FIRST",
          "EDGE OF THE SMALLER PLY")
# Plies that end close together, cloth under other cloth, a ring to press first off the datum.
CLOTH = """stack = ["mat 300", {fabric = "roving 600", axis = 30}, {fabric = "biaxial 400", axis = 45}]
"""


def plan(job, folder, *words):
    subprocess.run([os.environ["TEARLINE"], "plan", str(job), "-o", str(folder), *words],
                   check=True, capture_output=True)
    return folder


def words_of(file):
    return [text.words for text in written.texts_of_svg(file)]


class OnFiles(unittest.TestCase):
    def setUp(self):
        self.room = tempfile.TemporaryDirectory()
        self.folder = pathlib.Path(self.room.name)

    def tearDown(self):
        self.room.cleanup()

    def check(self, file):
        texts = written.texts_of_svg(file)
        self.assertGreater(len(texts), 5, file)
        self.assertEqual([text for text in texts if not text.words], [], file)
        self.assertEqual(written.overlapping(texts), [], file)
        self.assertEqual(written.crossing(texts, written.lines_of_svg(file, *EDGES)), [], file)
        self.assertEqual(written.crossing(texts, written.lines_of_svg(file, *DRAWN)), [], file)
        beside = [text for text in texts if text.words in BESIDE]
        self.assertEqual(written.crossing(beside, written.lines_of_svg(file, "smaller-ply")), [],
                         file)

    def test_words_of_every_sample_stand_clear(self):
        self.assertGreater(len(JOBS), 8)
        for job in JOBS:
            folder = plan(job, self.folder / job.stem, "--format", "svg")
            for file in sorted((folder / "templates").glob("*.svg")):
                with self.subTest(job=job.stem, template=file.stem):
                    self.check(file)
                    self.assertIn("THIS FACE TOWARDS YOU", words_of(file))
            # The guide says what it is and of which job, as every template does.
            plan_made = json.loads((folder / "plan.json").read_text(encoding="utf-8"))["job"]
            guides = sorted((folder / "templates").glob("grind-guide*.svg"))
            self.assertGreater(len(guides), 0)
            for guide in guides:
                said = words_of(guide)
                self.assertIn("GRIND GUIDE", said)
                self.assertIn(f"model {plan_made['model_sha256'][:8]}", said)
                self.assertIn(plan_made["title"].split()[0], " ".join(said))

    def test_words_of_cloth_stand_clear(self):
        for name in ("wigley", "sandpiper", "panel"):
            job = next(job for job in JOBS if job.stem == name)
            lines = job.read_text(encoding="utf-8").splitlines(keepends=True)
            text = "".join(CLOTH if line.startswith("fill =") else line for line in lines)
            text = text.replace(f'"{name}.step"', f'"{(job.parent / name).as_posix()}.step"')
            cloth = self.folder / f"{name}.toml"
            cloth.write_text(text, encoding="utf-8")
            folder = plan(cloth, self.folder / f"cloth-{name}", "--format", "svg")
            for file in sorted((folder / "templates").glob("*.svg")):
                with self.subTest(job=name, template=file.stem):
                    self.check(file)

    def test_mirrored_words_stand_clear(self):
        job = next(job for job in JOBS if job.stem == "curlew")
        folder = plan(job, self.folder / "mirrored", "--format", "svg", "--mirror")
        for file in sorted((folder / "templates").glob("*.svg")):
            with self.subTest(template=file.stem):
                self.check(file)
                self.assertIn("MIRRORED", words_of(file))
                self.assertIn("MIRRORED: THIS FACE TO THE HULL", words_of(file))

    def test_a_torn_band_is_named_and_drawn_on_every_template_that_has_one(self):
        # By the job files: mat with the default band on the taped hull, without one on the panel.
        for name, files, has_band in (("curlew-taped", "*A.svg", True), ("panel", "1A.svg", False)):
            job = next(job for job in JOBS if job.stem == name)
            folder = plan(job, self.folder / f"band-{name}", "--format", "svg")
            for file in sorted((folder / "templates").glob(files)):
                with self.subTest(job=name, template=file.stem):
                    named = any(words.startswith("THIN THIS BAND") for words in words_of(file))
                    self.assertEqual(named, has_band)
                    self.assertEqual("FULL THICKNESS" in words_of(file), has_band)

    def test_a_template_says_where_the_hull_ends(self):
        # The Wigley hull ends at its sheer, which its two cover plies reach and no other ply does.
        job = next(job for job in JOBS if job.stem == "wigley")
        folder = plan(job, self.folder / "wigley", "--format", "svg")
        saying = [file.stem for file in sorted((folder / "templates").glob("*A.svg"))
                  if "HULL ENDS HERE" in [text.words for text in written.texts_of_svg(file)]]
        self.assertEqual(saying, ["4A", "5A"])
        # And what becomes of the torn band that has no hull under it.
        for name in saying:
            self.assertIn("TRIM AT THE HULL'S END",
                          words_of(folder / "templates" / f"{name}.svg"))
        # Its scarf is whole, so no word of a scarf without room; told once for both plies.
        told = [w["message"] for w in json.loads((folder / "plan.json").read_text("utf-8"))[
            "warnings"] if w["code"].endswith("cut-at-hull-end")]
        self.assertEqual(told, ["cover ply 4 ends where the hull ends; the scarf under it is "
                                "whole; likewise for ply 5"])
        # It stands in the torn band, beyond the edge of the full ply.
        for name in saying:
            file = folder / "templates" / f"{name}.svg"
            words = next(text for text in written.texts_of_svg(file)
                         if text.words == "HULL ENDS HERE")
            net, = written.lines_of_svg(file, "net-line")
            tear, = written.lines_of_svg(file, "tear-line")
            for corner in words.corners:
                self.assertFalse(written.inside(net, corner))
                self.assertTrue(written.inside(tear, corner))


class OnPaper(unittest.TestCase):
    """The same on the prints, by the letters that poppler draws: no letter stands on another, none
    on an edge (lines 0.6 and 0.5 mm wide) or on the edge of the full ply (0.3 mm)."""

    @classmethod
    def setUpClass(cls):
        cls.room = tempfile.TemporaryDirectory()
        cls.folder = pathlib.Path(cls.room.name)

    @classmethod
    def tearDownClass(cls):
        cls.room.cleanup()

    def check(self, letters, lines):
        self.assertGreater(len(letters), 20)
        self.assertEqual(written.letters_on_letters(letters), [])
        edges = [line for width in (0.6, 0.5, 0.3) for line in lines.get(width, [])]
        self.assertEqual(written.letters_on_lines(letters, edges), [])

    def test_words_of_every_sample_stand_clear_on_a_roll(self):
        # One or two pages hold a whole job, head and notes included.
        for job in JOBS:
            folder = plan(job, self.folder / job.stem, "--format", "svg")
            pdf = self.folder / f"{job.stem}.pdf"
            mirrored = [("--mirror", "--less-paper")] if job.stem == "wigley" else []
            for more in [(), ("--less-paper",), *mirrored]:
                subprocess.run([os.environ["TEARLINE"], "print", str(folder), "--pdf", str(pdf),
                                "--paper", "roll 914", *more], check=True, capture_output=True)
                for number in range(1, page_count(pdf) + 1):
                    with self.subTest(job=job.stem, more=more, page=number):
                        page = written.Page(pdf, number)
                        self.check(page.letters, page.lines)

    def test_words_stand_clear_on_tiles(self):
        # What the page's window, 13 to 202 mm and 44 to 289 mm, cuts off is not there to be read.
        def shown(points):
            return (13.0 < min(x for x, _ in points) and max(x for x, _ in points) < 202.0 and
                    44.0 < min(y for _, y in points) and max(y for _, y in points) < 289.0)
        job = next(job for job in JOBS if job.stem == "wigley")
        pdf = plan(job, self.folder / "tiles", "--format", "pdf") / "templates-A4.pdf"
        self.assertGreater(page_count(pdf), 10)
        for number in range(1, page_count(pdf) + 1):
            with self.subTest(page=number):
                page = written.Page(pdf, number)
                self.check([letter for letter in page.letters if shown(letter)], page.lines)

    def test_lines_look_the_same_in_svg_and_on_paper(self):
        job = next(job for job in JOBS if job.stem == "wigley")
        folder = plan(job, self.folder / "look", "--format", "svg")
        pdf = self.folder / "look.pdf"
        subprocess.run([os.environ["TEARLINE"], "print", str(folder), "--pdf", str(pdf), "--only",
                        "2A", "--paper", "A3"], check=True, capture_output=True)
        on_paper = written.Page(pdf, 1).dashes
        svg = written.dashes_of_svg(folder / "templates" / "2A.svg")
        self.assertEqual(svg["tear-line"], (0.6, "4.2,1.5"))
        for name in ("tear-line", "net-line", "smaller-ply"):
            width, dash = svg[name]
            self.assertIn(dash, on_paper[width], name)
        self.assertEqual(on_paper[0.25], {svg["smaller-ply"][1], "none"}, "and the band's sketch")


if __name__ == "__main__":
    unittest.main(verbosity=2)
