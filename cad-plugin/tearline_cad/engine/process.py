"""The engine as a child process, with a thread that reads what it says and one that writes what it is
told: nobody else ever waits for it."""
import os
import queue
import signal
import subprocess
import sys
import threading

from tearline_cad.engine import framing
from tearline_cad.engine.words import tr

# [s] that an engine which is told to end has for it, watched by a thread of its own.
PATIENCE = 2.0
# [s] in which the system tells how a process ended that has just closed its pipe.
AFTER_END = 0.2


class EngineProcess:
    """Starts the program; messages are sent at once and come back through a queue."""

    def __init__(self, words, environment):
        # A session of its own: a script that stands for the program ends together with what it runs.
        apart = {"creationflags": 0x08000000} if sys.platform == "win32" else {
            "start_new_session": True}
        self._child = subprocess.Popen(words, stdin=subprocess.PIPE, stdout=subprocess.PIPE,
                                       stderr=subprocess.DEVNULL, env=environment, **apart)
        self._arrived, self._to_send = queue.Queue(), queue.Queue()
        self._ended = False
        for work in (self._read_all, self._write_all):
            threading.Thread(target=work, daemon=True).start()

    def _read_all(self):
        try:
            while True:
                message = framing.read_message(self._child.stdout)
                if message is None:
                    break
                self._arrived.put(message)
        except (OSError, ValueError, KeyError, TypeError):
            pass  # it speaks another language, or has gone
        self._arrived.put(None)

    def _write_all(self):
        # FreeCAD 1.0 runs Python without its usual ear for SIGPIPE: an engine that has died would take FreeCAD along.
        if hasattr(signal, "pthread_sigmask"):
            signal.pthread_sigmask(signal.SIG_BLOCK, {signal.SIGPIPE})
        try:
            while (data := self._to_send.get()) is not None:
                self._child.stdin.write(data)
                self._child.stdin.flush()
        except (OSError, ValueError):
            pass
        try:
            self._child.stdin.close()
        except OSError:
            pass

    @property
    def pid(self):
        return self._child.pid

    def send(self, header, body=b""):
        """That it does not arrive is noticed by its not being answered."""
        self._to_send.put(framing.packed(header, body))

    @property
    def gone(self):
        """Whether it has ended, noticed or not."""
        return self._ended or self._child.poll() is not None

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

    def _kill_all(self):
        try:
            if sys.platform == "win32":
                self._child.kill()
            else:
                os.killpg(self._child.pid, signal.SIGKILL)
        except OSError:
            pass

    def _see_off(self):
        try:
            self._child.wait(PATIENCE)
        except subprocess.TimeoutExpired:
            pass
        self._kill_all()
        self._child.wait()

    def end(self):
        """Tells it to end, and sees to it that it does; does not wait for that."""
        self._ended = True
        self._to_send.put(None)
        threading.Thread(target=self._see_off, daemon=True).start()

    def kill(self):
        """Ends it at once. One that the system keeps, asleep at a disk that does not answer, is waited for by nobody but the
        thread that sees it off."""
        self._kill_all()
        try:
            self._child.wait(AFTER_END)
        except subprocess.TimeoutExpired:
            pass
        self.end()

    def words_at_end(self):
        """How it ended."""
        try:
            code = self._child.wait(AFTER_END)
        except subprocess.TimeoutExpired:
            return tr("The engine stopped answering")
        if code < 0:
            return tr("The engine was stopped (signal {})", -code)
        return tr("The engine ended (status {})", code)
