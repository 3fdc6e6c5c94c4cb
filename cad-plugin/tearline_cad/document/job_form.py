"""What a job file has to be shaped like to be taken in at all; all else that may be wrong in it is the engine's to
say."""
from tearline_cad.document.take_hull import MILLIMETRES
from tearline_cad.document.words import tr

# Tables whose simple keys may be properties.
TABLES = ("", "hull", "hull.scan", "damage", "scarf", "layup", "backing", "core", "resin", "topcoat", "laminator",
          "shop")
# Lists of tables that are kept line by line.
LISTS = ("hull.scan.tape", "hull.scan.crease", "damage.opening", "damage.scan_after", "fabric", "repair")


class Unreadable(Exception):
    """Why a job file cannot be taken in."""


def told(job, path):
    """What stands at a path of a job, {} where nothing does."""
    for name in path.split(".") if path else ():
        job = job.get(name, {}) if isinstance(job, dict) else {}
    return job


def is_table(value):
    return isinstance(value, dict) or isinstance(value, list) and value \
        and all(isinstance(each, dict) for each in value)


def is_vector(value):
    return isinstance(value, list) and len(value) == 3 \
        and all(isinstance(each, (int, float)) and not isinstance(each, bool) for each in value)


def _must_be(key, value, what):
    raise Unreadable(tr("{}: {}: must be {}", key, f"{value!r}"[:60], what))


def check(job):
    """Unreadable where a table, or what the workbench itself needs of one, is something else."""
    for path in TABLES:
        if not isinstance(told(job, path), dict):
            _must_be(path, told(job, path), tr("a table"))
    for path in LISTS:
        if told(job, path) not in ({}, []) and not (isinstance(told(job, path), list) and is_table(told(job, path))):
            _must_be(path, told(job, path), tr("a list of tables"))
    hull = told(job, "hull")
    for key, value in (("title", job.get("title", "")), ("hull.model", hull.get("model", ""))):
        if not isinstance(value, str):
            _must_be(key, value, tr("words"))
    for key in ("bow", "up"):
        if key in hull and not is_vector(hull[key]):
            _must_be(f"hull.{key}", hull[key], tr("three numbers"))
    unit = hull.get("unit", "mm")
    if not isinstance(unit, str) or unit not in MILLIMETRES:
        _must_be("hull.unit", unit, ", ".join(MILLIMETRES))
