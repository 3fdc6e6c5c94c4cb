"""Conversations with the engine (`tearline serve`): recorded, and held again with two programs at the
pace they had, so that their answers can be compared."""
import base64
import json
import os
import subprocess
import sys
import tempfile
import threading

import plans_apart


class Talk:
    """An engine that is spoken to, and its answers other than progress."""

    def __init__(self, program, pass_on=lambda data: None):
        self.engine = subprocess.Popen([program, "serve", "--stdio"], stdin=subprocess.PIPE,
                                       stdout=subprocess.PIPE)
        self.answers = []
        self.changed = threading.Condition()
        self.ended = False
        self.listener = threading.Thread(target=self.listen, args=(pass_on,), daemon=True)
        self.listener.start()

    def listen(self, pass_on):
        while line := self.engine.stdout.readline():
            header = json.loads(line)
            body = self.engine.stdout.read(header["bytes"])
            if "progress" not in header:
                with self.changed:
                    self.answers.append((header, body))
                    self.changed.notify_all()
            pass_on(line + body)
        with self.changed:
            self.ended = True
            self.changed.notify_all()

    def say(self, data):
        try:
            self.engine.stdin.write(data)
            self.engine.stdin.flush()
        except BrokenPipeError:
            pass

    def wait_for(self, count):
        with self.changed:
            self.changed.wait_for(lambda: len(self.answers) >= count or self.ended, timeout=120)

    def close(self):
        try:
            self.engine.stdin.close()
        except BrokenPipeError:
            pass
        status = self.engine.wait()
        self.listener.join()
        return status


def record(program, folder):
    """Stands between a script and an engine; each piece that the script says is kept with the
    number of answers that stood before it."""
    def pass_on(data):
        try:
            sys.stdout.buffer.write(data)
            sys.stdout.buffer.flush()
        except BrokenPipeError:
            pass

    talk = Talk(program, pass_on)
    handle, _ = tempfile.mkstemp(prefix="talk-", suffix=".jsonl", dir=folder)
    with os.fdopen(handle, "w", encoding="ascii") as kept:
        while data := os.read(0, 1 << 20):
            with talk.changed:
                before = len(talk.answers)
            kept.write(json.dumps([before, base64.b64encode(data).decode()]) + "\n")
            kept.flush()
            talk.say(data)
    return talk.close()


def hold(program, said):
    talk = Talk(program)
    for before, data in said:
        talk.wait_for(before)
        talk.say(data)
    return talk.close(), talk.answers


def answers_apart(old, new, near):
    """By request. A request cut short by a later one is answered at no fixed moment: left out."""
    def by_id(answers):
        return {json.dumps(h.get("id")): (h, body) for h, body in answers
                if "cancelled" not in json.dumps(h)}

    was, now = by_id(old), by_id(new)
    out = [f"answer {key}: only one gives it" for key in sorted(set(was) ^ set(now))]
    for key in sorted(set(was) & set(now)):
        (a, p), (b, q) = was[key], now[key]
        if near:
            out += plans_apart.values_apart(a, b, f"answer {key}")
            continue
        if a != b:
            out.append(f"answer {key}: {json.dumps(a)[:200]}, {json.dumps(b)[:200]}")
        if p != q:
            out.append(f"answer {key}: {plans_apart.first_other_line(p, q)}")
    return out


def apart(path, old_program, new_program, near):
    """What differs in one recorded conversation; None for one that writes files or says nothing."""
    said = [(before, base64.b64decode(data))
            for before, data in map(json.loads, path.read_text(encoding="ascii").splitlines())]
    if not said or b'"write"' in b"".join(data for _, data in said):
        return None
    (old_status, old), (new_status, new) = hold(old_program, said), hold(new_program, said)
    out = answers_apart(old, new, near)
    if old_status != new_status:
        out.append(f"exit {old_status}, {new_status}")
    return out
