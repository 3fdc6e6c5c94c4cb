"""Questions to the engine and their answers, without ever waiting unless asked to."""
import time

from tearline_cad.engine import find_program
from tearline_cad.engine.process import EngineProcess
from tearline_cad.engine.words import tr

PROTOCOL = 1
# [s] how long the engine may go on after "cancel" before it is ended and started anew.
CANCEL_PATIENCE = 3.0
# [s] longest time to the first answer of a new engine; nobody stands still for it.
START_PATIENCE = 20.0


class Refused(Exception):
    """The engine's own words for why there is no answer; `kind` as in the protocol, `key` of the
    job that is at fault or "", `short`: the words without the job's file, `place` in the model's
    coordinates [mm] or None."""

    def __init__(self, header):
        super().__init__(header.get("message", ""))
        self.kind = header.get("error", "bug")
        self.key = header.get("key", "")
        self.short = header.get("short", str(self))
        self.place = header.get("place")


class Question:
    """One request on its way.

    asked, sent   its header and body, to be sent again to another engine
    """

    def __init__(self, asked, sent):
        self.asked, self.sent = asked, sent
        self.number = 0
        self.on_answer = self.on_progress = None
        self.header = None
        self.body = b""
        self.progress = ("", 0.0)
        self.cancelled_at = None

    @property
    def answered(self):
        return self.header is not None

    def result(self):
        """(header, body); raises Refused."""
        if not self.header.get("ok"):
            raise Refused(self.header)
        return self.header, self.body


class Engine:
    """The engine of this session: started at the first question, again after it was lost."""

    def __init__(self):
        self._process = None
        self._questions = {}
        self._number = 0
        self._path, self._hello, self._begun = "", None, 0.0
        self.version = ""
        self.on_asked = None  # told when there is something to wait for

    # -- asking --------------------------------------------------------------------------------

    def ask(self, request, body=b"", on_answer=None, on_progress=None, **fields):
        """Sends a request; `on_answer(question)` comes from pump().

        ProgramMissing or Refused when there is no engine to ask.
        """
        self._start()
        question = self._send(request, body, fields)
        question.on_answer = on_answer
        question.on_progress = on_progress
        if self.on_asked:
            self.on_asked()
        return question

    def _send(self, request, body, fields):
        return self._send_question(Question(dict(fields, request=request), body))

    def _send_question(self, question):
        self._number += 1
        question.number = self._number
        self._questions[self._number] = question
        self._process.send(dict(question.asked, id=self._number), question.sent)
        return question

    def cancel(self, question):
        """Asks the engine to stop; the answer will be Refused("cancelled")."""
        if question.answered or question.cancelled_at is not None:
            return
        question.cancelled_at = time.monotonic()
        self._number += 1
        self._process.send({"id": self._number, "request": "cancel", "target": question.number})

    # -- hearing -------------------------------------------------------------------------------

    @property
    def waiting(self):
        return bool(self._questions)

    @property
    def pid(self):
        return self._process.pid if self._process else None

    def pump(self, wait=0.0):
        """Hands out what has arrived; waits at most `wait` seconds for the first."""
        if self._process is None:
            return
        message = self._process.next_message(wait)
        while message is not None:
            self._handle(*message)
            if self._process is None:
                return
            message = self._process.next_message()
        if self._process.ended:
            self._lost()
        elif not self._hello.answered and time.monotonic() - self._begun > START_PATIENCE:
            self._lost(self._no_engine(tr("it does not answer")))
        else:
            self._end_what_does_not_stop()

    def wait_for(self, question, while_waiting=None, at_most=None):
        """Waits for an answer; `while_waiting()` is called between, and may cancel. After `at_most` seconds
        the engine is given up."""
        begun = time.monotonic()
        while not question.answered:
            self.pump(wait=0.01)
            if while_waiting and not question.answered:
                while_waiting()
            if at_most and time.monotonic() - begun > at_most and not question.answered:
                self._lost(self._no_engine(tr("it does not answer")))
        return question.result()

    def _handle(self, header, body):
        question = self._questions.get(header.get("id"))
        if question is None:
            return
        if "progress" in header:
            question.progress = (header["progress"], header.get("fraction", 0.0))
            if question.on_progress:
                question.on_progress(question)
            return
        self._answer(question, header, body)

    def _answer(self, question, header, body=b""):
        self._questions.pop(question.number, None)
        question.header, question.body = header, body
        if question.on_answer:
            question.on_answer(question)

    def _end_what_does_not_stop(self):
        """An engine that does not stop is ended; what else was asked of it is asked of the next one."""
        now = time.monotonic()
        if not any(question.cancelled_at and now - question.cancelled_at > CANCEL_PATIENCE
                   for question in self._questions.values()):
            return
        self._process.kill()
        left = [question for question in self._questions.values() if question is not self._hello]
        self._questions.clear()
        self._lost()
        for question in left:
            if question.cancelled_at:
                self._answer(question, {"ok": False, "error": "cancelled", "message": tr("stopped as asked")})
        for question in left:
            if not question.cancelled_at:
                try:
                    self._start()
                except find_program.ProgramMissing as missing:
                    self._answer(question, {"ok": False, "error": "engine-lost", "message": str(missing)})
                else:
                    self._send_question(question)

    # -- the process ---------------------------------------------------------------------------

    def _start(self):
        """Starts an engine where there is none; what is asked next goes to it at once, and what it says
        to "hello" is heard when it comes."""
        if self._process is not None:
            if not self._process.gone:
                return
            self._lost()
        self._path = find_program.find_program()
        words = find_program.command_line(self._path, "serve", "--stdio")
        try:
            self._process = EngineProcess(words, find_program.clean_environment())
        except OSError as error:
            raise find_program.ProgramMissing(
                tr("{} cannot be started: {}", self._path, error.strerror)) from error
        self._hello = self._send("hello", b"", {"protocol": PROTOCOL})
        self._hello.on_answer = self._greeted
        self._begun = time.monotonic()

    def _greeted(self, hello):
        if hello.header.get("ok"):
            self.version = hello.header.get("version", "")
        else:
            self._lost(self._no_engine(hello.header.get("message", tr("it does not answer"))))

    def _no_engine(self, why):
        return tr("{} is not an engine that this workbench can use: {}. Take the program and the workbench from "
                  "the same version.", self._path, why)

    def _lost(self, words=""):
        """The engine has ended: every question is answered with that."""
        process, self._process = self._process, None
        greeted = self._hello is not None and self._hello.answered
        if process is not None:
            process.end()
            if not words:
                words = process.words_at_end()
                words = tr("{}; it starts again at the next change", words) if greeted else \
                    self._no_engine(words)
        if self._hello is not None:
            self._hello.on_answer = None
        words = words or tr("The engine stopped answering; it starts again at the next change")
        for question in list(self._questions.values()):
            self._answer(question, {"ok": False, "error": "engine-lost", "message": words})

    def stop(self):
        """Ends the engine; it starts again when asked something."""
        if self._process is not None:
            self._lost(tr("The engine was ended; it starts again at the next change"))


_engine = Engine()


def engine():
    """The engine of this session."""
    return _engine
