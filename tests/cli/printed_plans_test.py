"""The prints of a real job, measured: every check bar and the circle on every page that
`tearline plan` writes of the Sandpiper dinghy, at 600 dpi, within 0.1 mm (DEFINITIONS.md, Bars).

Expected values: the lengths that stand beside the bars (100 mm and 4 in, on wide paper 150 mm and
6 in) and in the circle (20 mm)."""
import os
import pathlib
import re
import subprocess
import sys
import tempfile
import unittest

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1] / "support"))
from paper_ruler import check_sheet, info, page_count, words_on  # noqa: E402

JOB = pathlib.Path(os.environ["TEARLINE_SOURCE"]) / "sample-models" / "sandpiper.toml"


class PrintedPlans(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        cls.room = tempfile.TemporaryDirectory()
        cls.folder = pathlib.Path(cls.room.name) / "sandpiper"
        subprocess.run([os.environ["TEARLINE"], "plan", str(JOB), "-o", str(cls.folder),
                        "--format", "pdf", "--paper", "roll 914"], check=True,
                       capture_output=True)

    @classmethod
    def tearDownClass(cls):
        cls.room.cleanup()

    def check_all_pages(self, name, *bars):
        pdf = self.folder / name
        pages = page_count(pdf)
        for page in range(1, pages + 1):
            with self.subTest(page=page):
                # The words that say how long a bar should be, on the page itself.
                self.assertIn(f"check bar {bars[0]:.0f} mm", words_on(pdf, page))
                check_sheet(self, pdf, page, *bars)
        return pages

    def test_every_page_of_home_paper_measures_true(self):
        # A dinghy's repair of half a metre does not fit one A4 page.
        self.assertGreater(self.check_all_pages("templates-A4.pdf", 100.0, 4.0), 10)

    def test_every_page_of_a_roll_measures_true(self):
        self.check_all_pages("templates-roll-914-mm.pdf", 150.0, 6.0)
        across = float(re.search(r"Page size:\s+([\d.]+)",
                                 info(self.folder / "templates-roll-914-mm.pdf")).group(1))
        self.assertLessEqual(abs(across / 72.0 * 25.4 - 914.0), 0.18)  # whole points


if __name__ == "__main__":
    unittest.main(verbosity=2)
