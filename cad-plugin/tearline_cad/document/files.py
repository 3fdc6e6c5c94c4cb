"""Files written for a repair: the job with its hull, and whatever the engine writes from it."""
import pathlib

from tearline_cad.document import ask_plan, ground_scans, hull_file, job_text

FORMATS = ("svg", "dxf", "dxf2000", "hpgl", "pdf")


def save_job(repair, path):
    """Writes the job file, with the hull beside it, for `tearline plan`."""
    path = pathlib.Path(path)
    model, unit = hull_file.hull_file(repair)
    hull_file.copy_beside(model, path)
    ground_scans.copy_beside(repair, path)
    path.write_text(job_text.job_text(repair, model, unit), encoding="utf-8")


def write_files(repair, folder, formats=("svg", "dxf"), on_answer=None, on_progress=None, **options):
    """Asks the engine to write templates, sheets and cutter files; the question comes back."""
    job, _ = ask_plan.job_of(repair)
    return ask_plan.ask("write", job, on_answer, on_progress, folder=str(folder),
                        formats=list(formats), **options)
