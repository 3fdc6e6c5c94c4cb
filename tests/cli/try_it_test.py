"""cli/try-it, with a build that stops: it says how far it came, and why it stopped, in few lines."""
import os
import pathlib
import subprocess
import tempfile
import unittest

SOURCE = pathlib.Path(os.environ["TEARLINE_SOURCE"])


def tried(cmake):
    """try-it with a shell script in place of cmake: status, and what a person sees."""
    with tempfile.TemporaryDirectory() as folder:
        fake = pathlib.Path(folder, "cmake")
        fake.write_text("#!/bin/sh\n" + cmake, encoding="utf-8")
        fake.chmod(0o755)
        done = subprocess.run([SOURCE / "cli" / "try-it"], capture_output=True, text=True, check=False,
                              env={**os.environ, "PATH": f"{folder}:{os.environ['PATH']}",
                                   "TEARLINE_BUILD": f"{folder}/build"})
    return done.returncode, done.stderr


class BuildThatStops(unittest.TestCase):
    def test_the_compilers_error_is_shown_and_not_its_warnings(self):
        status, said = tried("""
            [ "$1" = -S ] && exit 0
            for i in 1 2 3 4 5 6 7; do
                echo "[$i/10] Building CXX object room.o"
                for j in 1 2 3 4 5 6 7 8 9; do echo "other.cpp:$j:1: warning: unused variable"; done
            done
            echo 'FAILED: core/strip.o'
            echo 'strip.cpp:133:46: error: no match for operator='
            echo '  133 | (at_start ? a : b) = {c, d};'
            exit 1""")
        self.assertEqual(status, 1)
        self.assertIn("strip.cpp:133:46: error: no match for operator=", said)
        self.assertIn("133 | (at_start", said)
        self.assertNotIn("warning", said)
        self.assertIn("Building: 7 of 10", said)
        self.assertIn("build/try-it.log", said)

    def test_what_names_no_error_ends_with_its_last_lines(self):
        status, said = tried("""
            [ "$1" = -S ] && exit 0
            for i in 1 2 3; do echo "[$i/9] Building"; done
            echo 'the machine has gone'; exit 137""")
        self.assertEqual(status, 1)
        self.assertIn("the machine has gone", said)

    def test_a_build_that_cannot_be_set_up(self):
        status, said = tried("""
            echo 'CMake Warning: old policy' >&2
            echo 'CMake Error at CMakeLists.txt:41 (find_package):' >&2
            echo '  could not find CGAL' >&2
            exit 1""")
        self.assertEqual(status, 1)
        self.assertIn("could not find CGAL", said)
        self.assertNotIn("old policy", said)


if __name__ == "__main__":
    unittest.main(verbosity=2)
