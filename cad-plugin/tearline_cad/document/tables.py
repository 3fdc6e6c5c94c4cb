"""Tables of the job that may come more than once, [[hull.scan.tape]] and [[fabric]], and those with a name, [marks.A]:
kept as lines of the repair's FurtherTables."""
import re

from tearline_cad.document import toml

_HEAD = re.compile(r"\s*\[\[?\s*([^\]]+?)\s*\]\]?\s*(#.*)?")
MARKS = "marks"  # the one kind that is named in its head
GROUND_SCAN, SCAN_AFTER = "damage.scan", "damage.scan_after"
ONE = (GROUND_SCAN,)  # what there is one of at most


def cut(lines):
    """Lines of further tables, cut where a table begins: [[line, ...], ...]."""
    found = [[]]
    for line in lines:
        if line.lstrip().startswith("["):
            found.append([])
        found[-1].append(line)
    return [table for table in found if table]


def values(table):
    """{key: value as text, number, list or inline table} of a table of simple keys; what is none of them as its
    text."""
    found = {}
    for line in table[1:]:
        key, equals, value = line.partition("=")
        if equals:
            found[key.strip()] = toml.read(value.strip())
    return found


def path_of(table):
    matched = _HEAD.fullmatch(table[0])
    return matched.group(1) if matched else ""


def is_of(table, path):
    return path_of(table).startswith(MARKS + ".") if path == MARKS else path_of(table) == path


def all_of(repair, path):
    """[{key: value}] of the tables of one kind; of a mark its name as well."""
    found = []
    for table in cut(repair.FurtherTables):
        if is_of(table, path):
            named = {"name": path_of(table)[len(MARKS) + 1:]} if path == MARKS else {}
            found.append({**named, **values(table)})
    return found


def written(path, told):
    """The lines of one table."""
    told = dict(told)
    head = f"[{path}.{told.pop('name')}]" if path == MARKS else f"[{path}]" if path in ONE else f"[[{path}]]"
    return [head, *(f"{key} = {toml.written(value)}" for key, value in told.items())]


def with_one(repair, path, told):
    """FurtherTables with one more table."""
    return [*repair.FurtherTables, *written(path, told)]


def changed(repair, path, number, told):
    """FurtherTables with the table of that number among those of its kind as told; None: without it."""
    lines, at = [], -1
    for table in cut(repair.FurtherTables):
        if is_of(table, path):
            at += 1
            if at == number:
                lines += [] if told is None else written(path, told)
                continue
        lines += table
    return lines


def new_mark(repair):
    """A name that no mark has yet: A, B, ..., Z, A1, ..."""
    taken = {each["name"] for each in all_of(repair, MARKS)}
    letters = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"
    names = [*letters, *(f"{letter}{k}" for k in range(1, 100) for letter in letters)]
    return next(name for name in names if name not in taken)
