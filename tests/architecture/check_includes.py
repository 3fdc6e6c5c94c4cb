#!/usr/bin/env python3
"""The includes say what core/README.md says: each core folder uses only those before it; the big
libraries stay where they are met; no tolerance has the name of another."""
import pathlib
import re
import sys

# The rooms in the order of the way (core/README.md): each uses only rooms before it.
ROOMS = """base job warnings plane solve hull surface scan remesh patch parallel damage laminate closing dish plies flattening
           pieces templates ground rates layout quantities drawing formats paper job_sheet page files
           plan boat batch variants serve""".split()
# core/plan/plan.h gathers what the stages give, for what is written from it.
SEES_PLAN = {"formats", "job_sheet", "page", "files", "plan", "boat", "batch", "serve"}

# Library -> the places that may include it.
LIBRARIES = {
    "OpenCASCADE": (re.compile(r"^(gp_|Geom|BRep|Topo|TopoDS|STEP|IGES|Standard|Message|Interface|XS|Poly_|TCol|Bnd|Shape|GProp|Adaptor)"),
                    re.compile(r"^core/(hull|patch)/.*\.cpp$|^sample-models/|^tests/")),
    "CGAL": (re.compile(r"^CGAL/"), re.compile(r"\.cpp$")),
    "Clipper": (re.compile(r"^(polyclipping/)?clipper\.hpp$"), re.compile(r"^core/plane/boolean\.cpp$")),
    "Qt": (re.compile(r"^Q[A-Z]"), re.compile(r"^core/paper/|^cli/print/|^tests/unit/(paint|print_window)/")),
    "JSON": (re.compile(r"^nlohmann/"), re.compile(r"\.cpp$|^tests/fuzz/")),
    "TOML": (re.compile(r"^toml\+\+/"), re.compile(r"\.cpp$")),
    "CLI11": (re.compile(r"^CLI/"), re.compile(r"^cli/")),
}
TOLERANCE = re.compile(r"^inline constexpr [\w:]+ (\w+) =", re.MULTILINE)
INCLUDE = re.compile(r'^\s*#\s*include\s*[<"]([^>"]+)[>"]')


def complaints(top: pathlib.Path):
    files = [p for folder in ("core", "cli", "tests", "sample-models")
             for p in (top / folder).rglob("*") if p.suffix in (".h", ".cpp")]
    if len(files) < 20:
        yield f"only {len(files)} sources found below {top}: wrong folder?"
    cgal_files = []
    for path in sorted(files):
        name = path.relative_to(top).as_posix()
        for number, line in enumerate(path.read_text(encoding="utf-8").splitlines(), 1):
            match = INCLUDE.match(line)
            if not match:
                continue
            target = match.group(1)
            if target.startswith("CGAL/") and name not in cgal_files:
                cgal_files.append(name)
            for library, (pattern, allowed) in LIBRARIES.items():
                if pattern.match(target) and not allowed.search(name):
                    yield f"{name}:{number}: {library} may not be included here"
            parts = name.split("/")
            if parts[0] != "core" or len(parts) < 3:
                continue
            folder = parts[1]
            if folder not in ROOMS:
                yield f"{name}:{number}: folder core/{folder} is not among those of core/README.md"
                continue
            if target == "core/plan/plan.h":
                if folder not in SEES_PLAN:
                    yield f"{name}:{number}: core/{folder} may not know the whole plan"
                continue
            used = target.split("/")
            if used[0] == "core" and len(used) == 3 and used[1] not in ROOMS[:ROOMS.index(folder) + 1]:
                yield f"{name}:{number}: core/{folder} may not use core/{used[1]}"
    if len(cgal_files) > 3:
        yield f"more than three CGAL files (each takes half a minute to compile): {cgal_files}"


def tolerances_of_one_name(top: pathlib.Path):
    """They share a namespace: two of one name and another value break C++'s one-definition rule."""
    first = {}
    for path in sorted((top / "core").rglob("tolerances.h")):
        for name in TOLERANCE.findall(path.read_text(encoding="utf-8")):
            here = path.relative_to(top).as_posix()
            if first.setdefault(name, here) != here:
                yield f"{here}: a tolerance {name} stands in {first[name]} too"


def main():
    top = pathlib.Path(sys.argv[1]).resolve()
    found = [*complaints(top), *tolerances_of_one_name(top)]
    print("\n".join(found))
    return 1 if found else 0


if __name__ == "__main__":
    sys.exit(main())
