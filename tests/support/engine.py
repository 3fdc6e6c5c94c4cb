"""The engine (`tearline serve`) spoken to by a script: one request, one answer; what it says of its progress
is kept apart."""
import json
import os
import subprocess


class Engine:
    def __init__(self, greet=True):
        self.process = subprocess.Popen([os.environ["TEARLINE"], "serve", "--stdio"],
                                        stdin=subprocess.PIPE, stdout=subprocess.PIPE)
        self.progress, self.last = [], 0
        if greet:
            header, _ = self.ask("hello", protocol=1)
            assert header["ok"], header

    def raw(self, data):
        self.process.stdin.write(data)
        self.process.stdin.flush()

    def send(self, header, body=b""):
        self.raw(json.dumps(dict(header, bytes=len(body))).encode() + b"\n" + body)

    def message(self):
        """The next message of any kind: header and body; None where the pipe has ended."""
        line = self.process.stdout.readline()
        if not line:
            return None, b""
        header = json.loads(line)
        return header, self.process.stdout.read(header["bytes"])

    def answer(self):
        while True:
            header, body = self.message()
            if header is None or "progress" not in header:
                return header, body
            self.progress.append(header)

    def ask(self, request, body=b"", **fields):
        self.last += 1
        self.progress = []
        self.send(dict({"id": self.last, "request": request}, **fields), body)
        return self.answer()

    def close(self):
        self.process.stdin.close()
        status = self.process.wait(30)
        self.process.stdout.close()
        return status

    def stop(self):
        if self.process.poll() is None:
            self.process.kill()
            self.process.wait()
        for pipe in (self.process.stdin, self.process.stdout):
            try:
                pipe.close()
            except BrokenPipeError:
                pass


def parts(header, body):
    """The files of an answer to "plan", by name."""
    out, at = {}, 0
    for part in header["parts"]:
        out[part["name"]] = body[at:at + part["bytes"]]
        at += part["bytes"]
    assert at == len(body), (at, len(body))
    return out
