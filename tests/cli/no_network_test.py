#!/usr/bin/env python3
"""No command opens a network: seen by strace, which lists every call that could, of the program and of all it
starts."""
import pathlib
import re
import shutil
import subprocess
import sys
import tempfile
import unittest

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1] / "support"))
from random_repairs import SAMPLES, TEARLINE, Repair  # noqa: E402


@unittest.skipUnless(shutil.which("strace"), "needs strace")
class NoNetwork(unittest.TestCase):
    def test_of_all_commands(self):
        with tempfile.TemporaryDirectory(prefix="tearline net ") as name:
            room = pathlib.Path(name)
            (room / "job.toml").write_text(Repair(22).text, encoding="utf-8")
            for words, said in ((["plan", str(room / "job.toml"), "-o", str(room / "out"), "--format", "svg,pdf"], b""),
                                (["hull", str(SAMPLES / "panel.step")], b""),
                                (["flatten", str(SAMPLES / "panel.step"), "-o", str(room / "flat")], b""),
                                (["look", str(SAMPLES / "panel.step"), "-o", str(room / "page.html")], b""), (["new", str(room / "new.toml")], b""),
                                (["print", str(room / "out"), "--pdf", str(room / "x.pdf")], b""),
                                (["serve", "--stdio"], b'{"id":1,"request":"hello","protocol":1,"bytes":0}\n')):
                trace = room / "trace"
                run = subprocess.run(["strace", "-f", "-o", str(trace), "-e", "trace=%network", TEARLINE, *words],
                                     input=said, capture_output=True, cwd=room, timeout=120, check=False)
                self.assertEqual(run.returncode, 0, run.stderr)
                # Who one is, Qt asks the C library, and that the system's own name service on this machine.
                calls = "".join(line for line in trace.read_text(encoding="utf-8", errors="replace").splitlines(True)
                                if '"/var/run/nscd/socket"' not in line)
                self.assertIn("exited with 0", calls)
                families = set(re.findall(r"\b(?:AF|PF)_\w+", calls)) - {"AF_UNSPEC"}
                self.assertLessEqual(families, {"AF_UNIX"}, calls)
                # A socket to talk to a child by has no name; to no other is anything sent or connected.
                self.assertNotRegex(calls, r"\b(bind|listen|accept4?|connect)\(", words)


if __name__ == "__main__":
    unittest.main()
