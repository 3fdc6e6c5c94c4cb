"""The print window on a screen: it opens, shows the page, and says why where it cannot.

The picture of it is kept as print-window.png in the build folder, to be looked at.
"""
import os
import pathlib
import subprocess
import sys
import tempfile
import time
import unittest

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1] / "support"))
import print_fixture as fixture  # noqa: E402
import screen as screens  # noqa: E402

BUILD = pathlib.Path(os.environ["TEARLINE_BUILD"])
PROGRAM = BUILD / "tearline-print"


def share(picture, colour):
    """How much of the screen has exactly this colour."""
    width, height, rgb = picture
    pixels = [rgb[k::3] for k in range(3)]
    return sum(1 for rgb in zip(*pixels) if rgb == colour) / (width * height)


class PrintWindow(unittest.TestCase):
    def setUp(self):
        self.temporary = tempfile.TemporaryDirectory()
        self.folder = pathlib.Path(self.temporary.name)
        self.plan = fixture.write(self.folder / "plan", fixture.plan())

    def tearDown(self):
        self.temporary.cleanup()

    def test_it_opens_and_shows_a_page_on_grey(self):
        with screens.Screen(self.folder) as screen:
            window = subprocess.Popen([str(PROGRAM), str(self.plan)], env=screen.environment)
            try:
                picture = None
                for _ in range(100):
                    time.sleep(0.1)
                    self.assertIsNone(window.poll(), "the window closed by itself")
                    picture = screen.picture()
                    # White paper on the grey of the preview (150, 150, 150).
                    if share(picture, (150, 150, 150)) > 0.05:
                        break
                time.sleep(0.5)
                picture = screen.picture()
                screens.write_png(BUILD / "print-window.png", *picture)
                self.assertGreater(share(picture, (150, 150, 150)), 0.05)
                self.assertGreater(share(picture, (255, 255, 255)), 0.2)
                self.assertGreater(share(picture, (0, 0, 0)), 0.001)
            finally:
                window.terminate()
                window.wait()

    def test_without_a_screen_it_says_what_to_do(self):
        bare = {key: value for key, value in os.environ.items()
                if key not in ("DISPLAY", "WAYLAND_DISPLAY", "QT_QPA_PLATFORM")}
        done = subprocess.run([str(PROGRAM), str(self.plan)], env=bare, capture_output=True,
                              text=True, check=False, timeout=30)
        self.assertEqual(done.returncode, 5)
        self.assertIn("--pdf FILE", done.stderr)


if __name__ == "__main__":
    unittest.main(verbosity=2)
