#!/usr/bin/env python3
"""The engine under more than it can answer: thousands of requests at once, cancelled and with ids used again, a
reader that is slow or goes away. It says "busy", stays small, and ends."""
import json
import os
import pathlib
import subprocess
import sys
import threading
import time
import unittest

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1] / "support"))
from engine import Engine  # noqa: E402
from random_repairs import Repair  # noqa: E402

MANY = 10_000
ROOM = 512  # requests: what DEVELOPERS.md says is taken in before reading stops
JOB = Repair(7).text.encode()


def peak_mb(pid):
    for line in pathlib.Path(f"/proc/{pid}/status").read_text(encoding="ascii").splitlines():
        if line.startswith("VmHWM:"):
            return int(line.split()[1]) / 1024
    raise AssertionError("no VmHWM")


def message(header, body=b""):
    return json.dumps(dict(header, bytes=len(body))).encode() + b"\n" + body


class ServeLoad(unittest.TestCase):
    def setUp(self):
        self.engine = Engine()
        self.addCleanup(self.engine.stop)

    def send_beside(self, messages):
        """Written by a thread of its own: the engine reads no further than it has room."""
        def send():
            try:
                for data in messages:
                    self.engine.raw(data)
            except (BrokenPipeError, ValueError):
                pass
        writer = threading.Thread(target=send, daemon=True)
        writer.start()
        return writer

    def answers(self, count):
        out = []
        while len(out) < count:
            header, _ = self.engine.answer()
            self.assertIsNotNone(header, f"{len(out)} of {count}")
            out.append(header)
        return out

    def test_each_of_ten_thousand_requests_has_one_answer_in_their_order(self):
        before = peak_mb(self.engine.process.pid)
        body = b"#" + b"x" * 100_000  # a job that is none, too large to be kept ten thousand times: 1 GB
        writer = self.send_beside(message({"id": i, "request": "plan", "file": "job.toml"}, body) for i in range(MANY))
        time.sleep(2)  # nobody reads: the engine waits on the pipe, and the writer on the engine
        self.assertTrue(writer.is_alive())
        headers = self.answers(MANY)
        self.assertEqual([header["id"] for header in headers], list(range(MANY)))
        self.assertLessEqual({header["error"] for header in headers}, {"bad-input", "busy"})
        self.assertLess(peak_mb(self.engine.process.pid) - before, 2 * ROOM * len(body) / 1e6 + 50)
        writer.join(30)
        self.assertEqual(self.engine.close(), 0)

    def test_cancelled_ones_are_not_worked_out_and_their_ids_serve_again(self):
        def requests():
            for i in range(MANY // 2):
                yield message({"id": i % 50, "request": "plan", "file": "job.toml"}, JOB)
                yield message({"id": 0, "request": "cancel", "target": i % 50})
        writer = self.send_beside(requests())
        said = [header.get("error", "ok") for header in self.answers(MANY // 2)]
        writer.join(30)
        self.assertLessEqual(set(said), {"ok", "cancelled", "busy"})
        self.assertGreater(said.count("cancelled"), 50)
        for i in range(50):  # not one is cancelled by what was said of its id before
            header, _ = self.engine.ask("ping") if i % 7 else self.engine.ask("plan", JOB, file="job.toml")
            self.assertTrue(header["ok"], header)
        self.assertEqual(self.engine.close(), 0)

    def test_a_slow_reader_is_waited_for(self):
        writer = self.send_beside(message({"id": i, "request": "plan", "file": "job.toml"}, JOB + b"\n#%d" % i) for i in range(60))
        for i in range(60):
            time.sleep(0.02)
            header, _ = self.engine.answer()
            self.assertEqual((header["id"], header["ok"]), (i, True), header)
        writer.join(30)
        self.assertEqual(self.engine.close(), 0)

    def test_who_listens_no_more_ends_it_at_once(self):
        # What waits is worth nothing to anybody; the pipe to write into stays open.
        self.send_beside(message({"id": i, "request": "plan", "file": "job.toml"}, JOB + b"\n#%d" % i) for i in range(400))
        self.answers(1)
        self.engine.process.stdout.close()
        self.assertEqual(self.engine.process.wait(20), 3)

    def test_who_goes_away_in_the_middle_of_a_body_ends_it(self):
        self.engine.raw(b'{"id": 1, "request": "plan", "bytes": 60000000}\n' + b"x" * 1000)
        self.engine.process.stdin.close()
        header, _ = self.engine.message()
        self.assertIn("ended inside a body", header["message"])
        self.assertEqual(self.engine.process.wait(20), 3)

    def test_a_false_count_takes_no_room(self):
        before = peak_mb(self.engine.process.pid)
        for count in (-1, 1.5, 1e300, 2**64, 10**30, "5", None, [], True):
            self.engine.raw(json.dumps({"id": 1, "request": "ping", "bytes": count}).encode() + b"\n")
            header, _ = self.engine.message()
            self.assertEqual(header["error"], "bad-request", count)
        self.assertLess(peak_mb(self.engine.process.pid) - before, 20)
        self.engine.raw(b'{"id": 1, "request": "ping", "bytes": 67108865}\n')
        header, _ = self.engine.message()
        self.assertIn("at most", header["message"])
        self.assertEqual(self.engine.process.wait(20), 3)

    def test_lines_without_an_end_take_no_room(self):
        before = peak_mb(self.engine.process.pid)
        block = b"x" * 1_000_000
        writer = self.send_beside([block] * 200 + [b"\n", message({"id": 9, "request": "ping"})])
        header, _ = self.engine.message()
        self.assertIn("at most", header["message"])
        header, _ = self.engine.message()
        self.assertEqual((header["id"], header["ok"]), (9, True))
        writer.join(30)
        self.assertLess(peak_mb(self.engine.process.pid) - before, 20)
        self.assertEqual(self.engine.close(), 0)

    def test_headers_that_go_deep_or_wide(self):
        for header in (b'{"id": 1, "request": "ping", "x": ' + b"[" * 30_000 + b"]" * 30_000 + b', "bytes": 0}',
                       b'{"id": "' + b"\xff" * 60 + b'", "request": "ping", "bytes": 0}',
                       b'{"id": 1e400, "request": "ping", "bytes": 0}',
                       b'{"id": 1, "id": 2, "request": "ping", "request": "ping", "bytes": 0}',
                       b'{"id": -9223372036854775809, "request": "ping", "bytes": 0}',
                       b'{"id": 18446744073709551615, "request": "ping", "bytes": 0}'):
            self.engine.raw(header + b"\n")
            answer, _ = self.engine.message()
            self.assertIsNotNone(answer, header[:60])
            self.assertNotEqual(answer.get("error"), "bug", header[:60])
        self.assertTrue(self.engine.ask("ping")[0]["ok"])


class Ends(unittest.TestCase):
    def test_with_both_pipes_closed_before_a_word(self):
        run = subprocess.run([os.environ["TEARLINE"], "serve", "--stdio"], stdin=subprocess.DEVNULL, stdout=subprocess.DEVNULL,
                             timeout=20, check=False)
        self.assertEqual(run.returncode, 0)


if __name__ == "__main__":
    unittest.main()
