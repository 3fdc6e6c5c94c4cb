"""What the engine is asked of a repair, and the last few plans kept."""
import collections
import os

from tearline_cad.document import hull_file, job_text
from tearline_cad.engine.client import engine

KEPT = 8

_answers = collections.OrderedDict()  # job text -> (header, body)

# Called again and again while a plan is waited for; set by the window to keep itself alive.
while_waiting = None


def job_path():
    """Where jobs are read as if they stood: models are named from here."""
    return os.path.join(hull_file.folder(), "repair.toml")


def job_of(repair):
    """(job text, name of the model in it); Incomplete or NoHull."""
    model, unit = hull_file.hull_file(repair)
    return job_text.job_text(repair, model, unit), model


def in_short(refusal, model):
    """The words of a refusal; the model is a file of ours, which the user never sees, and so are scans."""
    folder = hull_file.folder()
    return refusal.short.replace(os.path.join(folder, model), "hull").replace(folder + os.sep, "")


def keep(job, header, body):
    _answers[job] = (header, body)
    while len(_answers) > KEPT:
        _answers.popitem(last=False)


def kept(job):
    return _answers.get(job)


def forget():
    _answers.clear()


def ask(request, job, on_answer=None, on_progress=None, **fields):
    """Asks without waiting."""
    return engine().ask(request, job.encode(), on_answer, on_progress, file=job_path(), **fields)


def plan_of(job):
    """(header, body) of a job's plan; waits for it. Refused or ProgramMissing."""
    if job not in _answers:
        question = ask("plan", job)
        waiting = while_waiting(question) if while_waiting else None
        try:
            keep(job, *engine().wait_for(question, waiting and waiting.tick))
        finally:
            if waiting:
                waiting.close()
    return _answers[job]
