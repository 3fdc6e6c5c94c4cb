"""The plan kept up with a repair that is being changed, without ever waiting for it."""
import time

from PySide import QtCore

from tearline_cad.document import ask_plan, drawn, hull_file, job_text, plan_store
from tearline_cad.document import repair as repairs
from tearline_cad.engine import client, find_program

SPARSE = 0.1  # [s] between two words on how far it is: each is drawn at once
CALM = 60  # [ms] without a change before a plan is asked for


class LivePlan:
    """`on_state(words, fraction, key="", fault=False)`: words on what is missing or going on; fraction
    of the work done, None when nothing is going on; key of the job that the engine finds fault with;
    whether something is wrong. While `hold()` is true no plan is begun."""

    def __init__(self, repair, on_state, hold=lambda: False):
        self.repair, self._on_state = repair, on_state
        self.hold = hold
        self._question = None
        self._closed = False
        self._told = 0.0
        self._timer = QtCore.QTimer()
        self._timer.setSingleShot(True)
        self._timer.setInterval(CALM)
        self._timer.timeout.connect(self._ask)
        plan_store.at_work(self, True)

    @property
    def busy(self):
        return self._question is not None or self._timer.isActive()

    def fits(self):
        """Whether the plan at hand is that of the repair as it is now."""
        try:
            return ask_plan.job_of(self.repair)[0] == self.repair.PlannedJob
        except (job_text.Incomplete, hull_file.NoHull):
            return False

    def changed(self):
        """What is being planned is out of date."""
        self.stop()
        self._timer.start()

    def stop(self):
        """Stops the plan that is on its way; the one from before stays."""
        self._timer.stop()
        if self._question is not None:
            client.engine().cancel(self._question)
            self._question = None

    def _ask(self):
        if self.hold():
            self._timer.start()
            return
        try:
            job, model = ask_plan.job_of(self.repair)
        except (job_text.Incomplete, hull_file.NoHull) as missing:
            self._on_state(str(missing), None, fault=isinstance(missing, hull_file.NoHull))
            return
        if ask_plan.kept(job) or job == self.repair.PlannedJob:
            self._take()
            return
        try:
            self._question = ask_plan.ask(
                "plan", job, lambda question: self._answered(question, job, model),
                self._progress)
        except find_program.ProgramMissing as missing:
            self._on_state(str(missing), None, fault=True)
            return
        self._on_state("", 0.0)

    def _progress(self, question):
        now = time.monotonic()
        if question is self._question and now - self._told > SPARSE:
            self._told = now
            self._on_state(question.progress[0], question.progress[1])

    def _answered(self, question, job, model):
        if self._closed or question is not self._question:
            return
        self._question = None
        try:
            ask_plan.keep(job, *question.result())
        except client.Refused as refusal:
            self._on_state(ask_plan.in_short(refusal, model), None, refusal.key, True)
            return
        self._take()

    def _take(self):
        """The answer is at hand, so the recompute does not wait. It is of the repair alone: while FreeCAD recomputes
        a document it takes the keyboard, and what is typed into a field meanwhile is lost. What else hangs on the
        repair follows when the panel is closed."""
        with drawn.put_off():
            self.repair.recompute()
        repairs.tidy(self.repair.Document)
        self._on_state(self.repair.PlanState, None)

    def close(self):
        self._closed = True
        self.stop()
        plan_store.at_work(self, False)
