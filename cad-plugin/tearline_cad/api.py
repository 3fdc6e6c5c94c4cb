"""For macros and Python: repairs made, planned and written without the window.

    import FreeCAD
    from tearline_cad import api

    document = FreeCAD.newDocument("Boat")
    repair = api.open_job(document, "sample-models/curlew.toml")
    repair.Ratio = 10                       # every key of the job file is a property
    plan = api.plan(repair)                 # plan.json, as the command line writes it
    print(plan["totals"]["resin_g"], repair.PlanState)
    api.write(repair, "/tmp/curlew", ["svg", "pdf"])
    api.save_job(repair, "/tmp/curlew.toml")

Whatever is wrong is said by NotPlanned, in the words that the panel would say.
"""
import os

from tearline_cad.document import files, job_file, plan_store
from tearline_cad.document import repair as repairs
from tearline_cad.engine import client

__all__ = ["NotPlanned", "new_repair", "open_job", "plan", "save_job", "write"]


class NotPlanned(Exception):
    """Why there is no plan, or no file."""


def new_repair(document, hull, outline=(), label="Repair"):
    """A repair of a hull in the document.

    hull     a shape, a mesh or a link to one
    outline  points round the damage [mm], in the hull's own coordinates
    """
    repair = repairs.make_repair(document, hull, label)
    repair.Outline = list(outline)
    return repair


def open_job(document, path):
    """A repair from a job file, its hull brought into the document."""
    try:
        return job_file.open_job(document, str(path))
    except job_file.Unreadable as error:
        raise NotPlanned(str(error)) from error


def plan(repair):
    """Plans a repair as it is now and returns plan.json."""
    repair.touch()
    repair.Document.recompute()
    if repair.PlanState != repairs.PLANNED:
        raise NotPlanned(repair.PlanState)
    return plan_store.plan(repair)


def write(repair, folder, formats=("svg", "dxf"), **options):
    """Writes templates, grind guide and job sheet into a folder, new or written before; returns it.

    formats  of svg, pdf, dxf, dxf2000, hpgl, page
    options  mirror, papers, print_scale, less_paper
    """
    folder = os.path.abspath(os.path.expanduser(str(folder)))
    try:
        client.engine().wait_for(files.write_files(repair, folder, formats, **options))
    except client.Refused as refusal:
        raise NotPlanned(refusal.short) from refusal
    return folder


def save_job(repair, path):
    """Writes the job file, its hull beside it, as `tearline plan` takes it."""
    files.save_job(repair, os.path.expanduser(str(path)))


