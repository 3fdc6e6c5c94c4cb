"""The prints, measured: poppler draws each page at 600 dpi and a ruler of pixels is laid on it.

Expected values: the bars and the circle are as long as their own words say (100 mm, 4 in, 20 mm);
the paper sizes are those of ISO 216 and ANSI/ASME Y14.1; the templates' sizes stand in the plan.
"""
import os
import pathlib
import re
import shutil
import subprocess
import sys
import tempfile
import unittest

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1] / "support"))
import paper_ruler as ruler  # noqa: E402
import print_fixture as fixture  # noqa: E402
from paper_ruler import MM, WITHIN, drawn, extents, info, page_count, words_on  # noqa: E402

PROGRAM = pathlib.Path(os.environ["TEARLINE_BUILD"]) / "tearline-print"


def run(*words, **more):
    return subprocess.run([str(PROGRAM), *map(str, words)], capture_output=True, check=False, **more)


def pages_of(pdf, dpi=ruler.DPI):
    """Each page as (width, height, bytes of grey values), drawn by poppler one at a time."""
    for number in range(1, page_count(pdf) + 1):
        yield drawn(pdf, number, dpi)


class Prints(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        cls.temporary = tempfile.TemporaryDirectory()
        cls.folder = pathlib.Path(cls.temporary.name)
        cls.plan = fixture.write(cls.folder / "plan", fixture.plan())

    @classmethod
    def tearDownClass(cls):
        cls.temporary.cleanup()

    def pdf(self, *words, plan=None, name="out.pdf"):
        path = self.folder / name
        done = run(plan or self.plan, "--pdf", path, *words)
        self.assertEqual(done.returncode, 0, done.stderr)
        return path

    def test_bars_and_circle_measure_true_on_every_page(self):
        pdf = self.pdf()
        self.assertGreater(page_count(pdf), 4)
        for page in range(1, page_count(pdf) + 1):
            ruler.check_sheet(self, pdf, page, 100.0, 4.0)

    def test_longer_bars_on_wide_paper_measure_true(self):
        for paper in ("A3", "roll 610"):
            pdf = self.pdf("--paper", paper, "--only", "1A,3A")
            for page in range(1, page_count(pdf) + 1):
                ruler.check_sheet(self, pdf, page, 150.0, 6.0)

    def test_a_print_scale_stretches_everything_and_is_told(self):
        # A printer whose 100 mm bar measured 98.6 mm: 100 / 98.6.
        scale = 100.0 / 98.6
        pdf = self.pdf("--print-scale", repr(scale), "--only", "1A")
        for page in range(1, page_count(pdf) + 1):
            ruler.check_sheet(self, pdf, page, 100.0, 4.0, scale)
        self.assertIn("print scale 1.0142 IS IN THIS SHEET", words_on(pdf, 1))

    def test_a_template_is_as_large_as_the_plan_says(self):
        # Only the disc of 80 mm radius: its tear line is the largest ink inside the window, which
        # starts 13 mm from the left and ends 44 mm below the top; line 0.6 mm wide.
        width, height, grey = next(pages_of(self.pdf("--only", "1A")))
        black = grey.translate(bytes(0 if value < 40 else 1 for value in range(256)))
        left, right = int(14.5 * MM), width - int(9 * MM)
        top, bottom = int(45.5 * MM), height - int(9 * MM)
        rows = [black[y * width + left:y * width + right] for y in range(top, bottom)]
        low, high = extents(rows)
        self.assertLessEqual(abs((high - low + 1) / MM - 0.6 - 160.0), WITHIN)
        low, high = extents([bytes(row[x] for row in rows) for x in range(right - left)])
        self.assertLessEqual(abs((high - low + 1) / MM - 0.6 - 160.0), WITHIN)

    def test_media_boxes_are_the_paper(self):
        sizes = {"A4": (210, 297), "A3": (297, 420), "Letter": (215.9, 279.4),
                 "Tabloid": (279.4, 431.8)}
        for paper, (width, height) in sizes.items():
            text = info(self.pdf("--paper", paper), "-box", "-f", "1", "-l", "99")
            boxes = re.findall(r"Page\s+\d+\s+MediaBox:\s+([\d. -]+)", text)
            self.assertTrue(boxes, text)
            for box in boxes:
                x, y, right, top = map(float, box.split())
                # Whole points: half a point is 0.18 mm.
                self.assertEqual((x, y), (0.0, 0.0))
                self.assertLessEqual(abs(right / 72 * 25.4 - width), 0.18)
                self.assertLessEqual(abs(top / 72 * 25.4 - height), 0.18)

    def test_without_a_paper_a_plan_in_us_units_goes_on_letter(self):
        # ANSI/ASME Y14.1: 8.5 x 11 in, at 72 points to the inch.
        value = fixture.plan()
        value["job"].setdefault("effective", {})["display_units"] = "us"
        plan = fixture.write(self.folder / "us-plan", value)
        self.assertIn("612 x 792", info(self.pdf(plan=plan, name="us.pdf")))
        self.assertIn("595 x 842", info(self.pdf()))
        self.assertIn("595 x 842", info(self.pdf("--paper", "A4", plan=plan, name="us.pdf")))

    def test_a_roll_is_one_page_as_wide_as_said(self):
        for paper, width in (("roll 610", 610.0), ("914", 914.0), ("roll 36 in", 914.4)):
            text = info(self.pdf("--paper", paper))
            self.assertEqual(re.search(r"Pages:\s+(\d+)", text).group(1), "1")
            size = float(re.search(r"Page size:\s+([\d.]+)", text).group(1))
            self.assertLessEqual(abs(size / 72 * 25.4 - width), 0.18)

    def test_every_page_says_what_it_is(self):
        pdf = self.pdf()
        count = page_count(pdf)
        for page in range(1, count + 1):
            text = words_on(pdf, page)
            self.assertIn("PRINT AT 100 %", text)
            self.assertIn(f"sheet {page} of {count}", text)
            self.assertRegex(text, r"1A|2A|3A|grind guide|section cards")
            self.assertNotIn("MIRRORED", text)
        self.assertIn("Before grinding look behind the skin", words_on(pdf, 1))

    def test_no_page_is_without_ink_of_a_template(self):
        # A ring on A4 whose middle page shows nothing: that page is not made. Window ink that is
        # darker than the grey of ticks and frame is the template's.
        plan = fixture.plan(radii=(360.0,))
        for piece in plan["plies"][0]["pieces"]:
            piece["marks"] = []
        folder = fixture.write(self.folder / "ring", plan)
        pdf = self.pdf("--only", "1A", plan=folder)
        tiles = set()
        for number, (width, height, grey) in enumerate(pages_of(pdf, 100), 1):
            dot = 100 / 25.4
            left, right = int(15 * dot), width - int(10 * dot)
            dark = sum(grey[y * width + left:y * width + right].translate(
                bytes(1 if value < 60 else 0 for value in range(256))).count(1)
                for y in range(int(47 * dot), height - int(10 * dot)))
            self.assertGreater(dark, 0, f"page {number} is empty")
            tiles.add(re.search(r"tile ([A-Z]+\d+) of", words_on(pdf, number)).group(1))
        columns = {tile[0] for tile in tiles}
        rows = {tile[1:] for tile in tiles}
        self.assertLess(len(tiles), len(columns) * len(rows), sorted(tiles))

    def test_mirrored_is_shown_on_every_page_with_a_template(self):
        pdf = self.pdf("--mirror", "--only", "1A,2A,3A")
        count = page_count(pdf)
        for page in range(1, count + 1):
            self.assertIn("MIRRORED", words_on(pdf, page))
            self.assertNotIn("THIS FACE TOWARDS YOU", words_on(pdf, page))

    def test_one_ring_sheet_needs_fewer_pages(self):
        folder = fixture.write(self.folder / "eight", fixture.plan(
            radii=tuple(range(112, 197, 12))))
        many = page_count(self.pdf(plan=folder))
        few_pdf = self.pdf("--less-paper", plan=folder, name="few.pdf")
        few = page_count(few_pdf)
        self.assertLess(few, many / 2)
        text = [words_on(few_pdf, page) for page in range(1, few + 1)]
        self.assertTrue(any("ring sheet TEAR" in page for page in text))
        self.assertFalse(any("8A TEAR" in page for page in text), "a template of its own as well")
        self.assertIn("rings of plies 1A 2A 3A 4A 5A 6A 7A 8A agree within 0.0 mm", text[0])

    def test_a_ring_sheet_is_refused_where_rings_disagree(self):
        plan = fixture.plan(radii=(112, 124))
        plan["grind_guide"]["rings"][0]["loops"] = [fixture.circle(112 + 2.3)]
        folder = fixture.write(self.folder / "apart", plan)
        pdf = self.pdf("--less-paper", "--only", "1A,2A", plan=folder)
        self.assertIn("1A TEAR", words_on(pdf, 1))

    def test_titles_in_any_script_and_any_locale(self):
        title = "Ölüdeniz Ñandú Ягода λίμνη"
        folder = fixture.write(self.folder / "Süd see", fixture.plan(title=title))
        outputs = []
        for locale in ("C", "de_DE.UTF-8", "tr_TR.UTF-8"):
            pdf = self.folder / f"locale-{locale}.pdf"
            done = run(folder, "--pdf", pdf, env={**os.environ, "LC_ALL": locale})
            self.assertEqual(done.returncode, 0, done.stderr)
            self.assertIn(title, words_on(pdf, 1))
            outputs.append(pdf.read_bytes())
        self.assertEqual(outputs[0], outputs[1])
        self.assertEqual(outputs[0], outputs[2])

    def test_the_same_plan_gives_the_same_bytes(self):
        first = self.pdf(name="one.pdf").read_bytes()
        self.assertEqual(first, self.pdf(name="two.pdf").read_bytes())

    def test_a_plan_on_stdin_gives_the_pdf_on_stdout(self):
        text = (self.plan / "plan.json").read_bytes()
        done = run("-", "--pdf", "-", input=text)
        self.assertEqual(done.returncode, 0, done.stderr)
        self.assertEqual(done.stdout, self.pdf().read_bytes())


class ThroughTearline(unittest.TestCase):
    def test_the_print_command_hands_on_its_words(self):
        with tempfile.TemporaryDirectory() as folder:
            plan = fixture.write(pathlib.Path(folder) / "plan", fixture.plan())
            for program, name in (([os.environ["TEARLINE"], "print"], "a"), ([PROGRAM], "b")):
                done = subprocess.run(
                    [*map(str, program), str(plan), "--pdf", f"{folder}/{name}.pdf", "--paper",
                     "A3", "--only", "1A"], capture_output=True, check=False)
                self.assertEqual(done.returncode, 0, done.stderr)
            self.assertEqual(pathlib.Path(f"{folder}/a.pdf").read_bytes(),
                             pathlib.Path(f"{folder}/b.pdf").read_bytes())

    def test_the_print_command_tells_its_options_without_a_folder(self):
        done = subprocess.run([os.environ["TEARLINE"], "print", "--help"], capture_output=True,
                              text=True, check=False)
        self.assertEqual(done.returncode, 0, done.stderr)
        self.assertIn("--less-paper", done.stdout)
        none = subprocess.run([os.environ["TEARLINE"], "print"], capture_output=True, text=True,
                              check=False)
        self.assertEqual(none.returncode, 2)
        self.assertIn("DIR", none.stderr)

    def test_plan_prints_on_the_papers_that_are_named(self):
        # ISO 216: A3 is 297 mm wide; a roll as wide as it says.
        job = pathlib.Path(__file__).resolve().parents[2] / "sample-models" / "curlew.toml"
        with tempfile.TemporaryDirectory() as folder:
            out = pathlib.Path(folder) / "out"
            command = [os.environ["TEARLINE"], "plan", str(job), "-o", str(out), "--format", "pdf"]
            done = subprocess.run([*command, "--paper", "A3,roll 914"], capture_output=True,
                                  text=True, check=False)
            self.assertEqual(done.returncode, 0, done.stderr)
            for name, width in (("templates-A3.pdf", 297), ("templates-roll-914-mm.pdf", 914)):
                size = float(re.search(r"Page size:\s+([\d.]+)", info(out / name)).group(1))
                self.assertLessEqual(abs(size / 72 * 25.4 - width), 0.18)
            done = subprocess.run([*command, "--paper", "A7"], capture_output=True, text=True,
                                  check=False)
            self.assertEqual(done.returncode, 2)
            self.assertIn("paper 'A7' is not known", done.stderr)

    def test_a_paper_asks_for_pdf_by_itself(self):
        # What is asked for is written or refused, never left out without a word.
        job = pathlib.Path(__file__).resolve().parents[2] / "sample-models" / "panel.toml"
        for words, files, kept in (
                (["--paper", "A3"], ["templates-A4.pdf", "templates-A3.pdf"], "templates.dxf"),
                (["--less-paper", "--format", "svg"], ["templates-A4.pdf"], "templates/1A.svg"),
                (["--pens", "1,2,3"], ["templates.plt"], "templates.dxf")):
            with self.subTest(words=words), tempfile.TemporaryDirectory() as folder:
                out = pathlib.Path(folder) / "out"
                subprocess.run([os.environ["TEARLINE"], "plan", str(job), "-o", str(out), *words],
                               check=True, capture_output=True)
                for name in (*files, kept):
                    self.assertTrue((out / name).is_file(), name)

    def test_plan_saves_paper_as_print_does(self):
        # The same option of both commands, the same bytes.
        job = pathlib.Path(__file__).resolve().parents[2] / "sample-models" / "wigley.toml"
        with tempfile.TemporaryDirectory() as room:
            out, one = pathlib.Path(room) / "out", pathlib.Path(room) / "one.pdf"
            subprocess.run([os.environ["TEARLINE"], "plan", str(job), "-o", str(out), "--format",
                            "pdf", "--less-paper", "--paper", "A3"], check=True,
                           capture_output=True)
            for paper in ("A4", "A3"):
                done = run(out, "--pdf", one, "--less-paper", "--paper", paper)
                self.assertEqual(done.returncode, 0, done.stderr)
                self.assertEqual(one.read_bytes(), (out / f"templates-{paper}.pdf").read_bytes())
            self.assertIn("ring sheet TEAR", "".join(
                words_on(one, page) for page in range(1, page_count(one) + 1)))

    def test_a_missing_printing_program_is_said(self):
        with tempfile.TemporaryDirectory() as folder:
            alone = pathlib.Path(folder) / "tearline"
            shutil.copy(os.environ["TEARLINE"], alone)
            done = subprocess.run([str(alone), "print", folder], capture_output=True, text=True,
                                  check=False)
            self.assertEqual(done.returncode, 5, done.stderr)
            self.assertIn("tearline-print", done.stderr)
            self.assertIn("Qt 6", done.stderr)


class Refusals(unittest.TestCase):
    def setUp(self):
        self.temporary = tempfile.TemporaryDirectory()
        self.folder = pathlib.Path(self.temporary.name)

    def tearDown(self):
        self.temporary.cleanup()

    def refused(self, status, words, *arguments):
        done = run(*arguments)
        self.assertEqual(done.returncode, status, done.stderr)
        self.assertIn(words, done.stderr.decode())

    def test_what_is_no_plan(self):
        out = self.folder / "x.pdf"
        self.refused(3, "no such folder", self.folder / "nowhere", "--pdf", out)
        self.refused(3, "no plan.json", self.folder, "--pdf", out)
        (self.folder / "plan.json").write_text("{")
        self.refused(3, "not readable as JSON", self.folder, "--pdf", out)
        (self.folder / "plan.json").write_text('{"schema": "tearline-plan/9"}')
        self.refused(3, "tearline-plan/1", self.folder, "--pdf", out)
        plan = fixture.plan()
        plan["plies"][0]["pieces"][0]["net_line"][3] = [1, "two"]
        fixture.write(self.folder, plan)
        self.refused(3, "piece 1A.net_line", self.folder, "--pdf", out)
        self.assertFalse(out.exists())

    def test_an_edited_plan(self):
        fixture.write(self.folder, fixture.plan())
        (self.folder / "manifest.json").write_text(
            '{"schema": "tearline-manifest/1", "files": [{"name": "plan.json", "sha256": "00"}]}')
        self.refused(3, "was edited", self.folder, "--pdf", self.folder / "x.pdf")

    def test_a_file_that_is_not_ours_is_left_alone(self):
        fixture.write(self.folder, fixture.plan())
        out = self.folder / "letter.pdf"
        for bytes_there in (b"my notes", b"%PDF-1.4\n%%EOF\n"):
            out.write_bytes(bytes_there)
            self.refused(5, "left as it is", self.folder, "--pdf", out, "--only", "1A")
            self.assertEqual(out.read_bytes(), bytes_there)
        self.refused(5, "could not be written", self.folder, "--pdf", self.folder / "no" / "x.pdf")
        self.assertFalse(list(self.folder.glob(".tearline-*")))

    def test_our_own_pdf_is_written_anew(self):
        fixture.write(self.folder, fixture.plan())
        out = self.folder / "x.pdf"
        for piece in ("1A", "2A"):
            done = run(self.folder, "--pdf", out, "--only", piece)
            self.assertEqual(done.returncode, 0, done.stderr)
            self.assertIn(f"{piece} TEAR", words_on(out, 1))
        self.assertFalse(list(self.folder.glob(".tearline-*")))

    def test_wrong_choices(self):
        fixture.write(self.folder, fixture.plan())
        out = self.folder / "x.pdf"
        self.refused(3, "paper 'A7'", self.folder, "--pdf", out, "--paper", "A7")
        self.refused(3, "250 to 5000 mm wide", self.folder, "--pdf", out, "--paper", "roll 100")
        self.refused(3, "print scale 0.5", self.folder, "--pdf", out, "--print-scale", "0.5")
        self.refused(3, "is no number", self.folder, "--pdf", out, "--print-scale", "nan%")
        self.refused(3, "print scale nan", self.folder, "--pdf", out, "--print-scale", "nan")
        self.refused(3, "piece '9Z'", self.folder, "--pdf", out, "--only", "9Z")
        self.refused(5, "could not be written", self.folder, "--pdf", "/nowhere/x.pdf")
        self.refused(2, "", self.folder, "--colour", "red")


if __name__ == "__main__":
    unittest.main(verbosity=2)
