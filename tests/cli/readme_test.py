"""The job that README shows, and the one `tearline new` writes, plan as they stand."""
import os
import pathlib
import re
import subprocess
import tempfile
import unittest

TEARLINE = os.environ["TEARLINE"]
SOURCE = pathlib.Path(os.environ["TEARLINE_SOURCE"])
CURLEW = SOURCE / "sample-models" / "curlew.step"


class FirstJob(unittest.TestCase):
    def planned(self, text):
        with tempfile.TemporaryDirectory() as folder:
            job = pathlib.Path(folder, "my-job.toml")
            named = re.sub(r'(?m)^model = "[^"]*"', f'model = "{CURLEW}"', text)
            self.assertIn(str(CURLEW), named)
            job.write_text(named, encoding="utf-8")
            done = subprocess.run([TEARLINE, "plan", str(job), "-o", str(job.parent / "out")],
                                  capture_output=True, text=True, check=False)
            self.assertEqual(done.returncode, 0, done.stderr)

    def test_of_readme(self):
        readme = (SOURCE / "README.md").read_text(encoding="utf-8")
        self.planned(re.search(r"```toml\n(.*?)```", readme, re.DOTALL).group(1))

    def test_of_the_command_new(self):
        with tempfile.TemporaryDirectory() as folder:
            job = pathlib.Path(folder, "new.toml")
            subprocess.run([TEARLINE, "new", str(job)], check=True, capture_output=True)
            self.planned(job.read_text(encoding="utf-8"))


if __name__ == "__main__":
    unittest.main(verbosity=2)
