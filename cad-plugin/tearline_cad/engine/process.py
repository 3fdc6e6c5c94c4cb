"""The engine as a child process with a thread that reads what it says."""
import queue
import subprocess
import sys
import threading

from tearline_cad.engine import framing


class EngineProcess:
    """Starts the program; messages are sent at once and come back through a queue."""

    def __init__(self, words, environment):
        hidden = {"creationflags": 0x08000000} if sys.platform == "win32" else {}
        self._child = subprocess.Popen(words, stdin=subprocess.PIPE, stdout=subprocess.PIPE,
                                       stderr=subprocess.DEVNULL, env=environment, **hidden)
        self._arrived = queue.Queue()
        self._ended = False
        threading.Thread(target=self._read_all, daemon=True).start()

    def _read_all(self):
        try:
            while True:
                message = framing.read_message(self._child.stdout)
                if message is None:
                    break
                self._arrived.put(message)
        except (OSError, ValueError, KeyError):
            pass
        self._arrived.put(None)

    @property
    def pid(self):
        return self._child.pid

    def send(self, header, body=b""):
        """False when the engine is gone."""
        try:
            self._child.stdin.write(framing.packed(header, body))
            self._child.stdin.flush()
            return True
        except (OSError, ValueError):
            return False

    def next_message(self, wait=0.0):
        """(header, body), or None when nothing came within `wait` seconds or the engine ended."""
        try:
            message = self._arrived.get(timeout=wait) if wait else self._arrived.get_nowait()
        except queue.Empty:
            return None
        if message is None:
            self._ended = True
        return message

    @property
    def ended(self):
        return self._ended

    def end(self, patience=2.0):
        """Closes the pipe and waits; kills what does not go."""
        try:
            self._child.stdin.close()
        except OSError:
            pass
        try:
            self._child.wait(patience)
        except subprocess.TimeoutExpired:
            self._child.kill()
            self._child.wait()
        self._child.stdout.close()
        self._ended = True

    def kill(self):
        self._child.kill()
        self.end()

    def words_at_end(self):
        """How it ended."""
        code = self._child.poll()
        if code is None:
            return "The engine stopped answering"
        if code < 0:
            return f"The engine was stopped (signal {-code})"
        return f"The engine ended (status {code})"
