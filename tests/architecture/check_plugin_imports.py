#!/usr/bin/env python3
"""The workbench's imports say what cad-plugin/README.md says: each room of tearline_cad uses only
those before it, no two modules import each other round a corner, and what needs no window loads
without one."""
import ast
import pathlib
import sys

PACKAGE = "tearline_cad"
# From the bottom up; a room may use itself and those before it (cad-plugin/README.md, Inside).
ROOMS = ["engine", "document", "api", "window", "view", "marking", "panel", "commands", "workbench",
         "start"]
# Modules that stand beside the rooms' folders, and the files that FreeCAD executes.
OWN_ROOM = {"tearline_cad/workbench.py": "workbench", "tearline_cad/api.py": "api",
            "tearline_cad/importer.py": "api", "InitGui.py": "start", "Init.py": "start"}
# FreeCAD reads these at every start, so they load what is heavy when it is first needed; InitGui.py
# is executed as text and cannot see its own names later. Nothing imports them: no circle can hide.
MAY_IMPORT_LATE = {"tearline_cad/workbench.py", "InitGui.py"}

WINDOW = {"FreeCADGui", "PySide", "PySide2", "PySide6", "pivy"}
WITHOUT_WINDOW = {"engine", "document", "api"}
# The engine is spoken to without FreeCAD; only the preferences are FreeCAD's.
KNOWS_FREECAD = {"tearline_cad/engine/find_program.py"}


def room_of(name):
    """The room of a file below cad-plugin/, or None when it stands in none."""
    if name in OWN_ROOM:
        return OWN_ROOM[name]
    parts = name.split("/")
    return parts[1] if len(parts) == 3 and parts[0] == PACKAGE and parts[1] in ROOMS else None


def module_of(name):
    """tearline_cad/view/look.py: tearline_cad.view.look."""
    return name.removesuffix(".py").removesuffix("/__init__").replace("/", ".")


def late_nodes(tree):
    """Everything that is executed later than its module."""
    functions = (ast.FunctionDef, ast.AsyncFunctionDef, ast.Lambda)
    return {id(inner) for outer in ast.walk(tree) if isinstance(outer, functions)
            for inner in ast.walk(outer)}


def is_dynamic(node):
    """importlib.import_module(...) or __import__(...)."""
    if not isinstance(node, ast.Call):
        return False
    called = getattr(node.func, "attr", getattr(node.func, "id", ""))
    return called in ("import_module", "__import__")


def imports_of(tree, modules):
    """(line, imported module, whether inside a function); names of ours down to their module."""
    late = late_nodes(tree)
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            targets = [alias.name for alias in node.names]
        elif isinstance(node, ast.ImportFrom):
            base = "." * node.level + (node.module or "")
            longer = [f"{base}.{alias.name}" for alias in node.names]
            targets = [name if name in modules else base for name in longer]
        elif is_dynamic(node):
            targets = ["a name made up while running"]
        else:
            continue
        for target in targets:
            yield node.lineno, target, id(node) in late


def complaints_of(name, imports, modules):
    """What is wrong with the imports of one file."""
    room = room_of(name)
    for line, target, late in imports:
        where = f"cad-plugin/{name}:{line}"
        top = target.split(".")[0]
        if target.startswith(".") or " " in target:
            yield f"{where}: imports {target}: name the module in full"
        if late and name not in MAY_IMPORT_LATE:
            yield f"{where}: {target} is imported inside a function"
        if top in WINDOW and room in WITHOUT_WINDOW:
            yield f"{where}: {room}/ has to load without a window, and {top} has one"
        if top == "FreeCAD" and room == "engine" and name not in KNOWS_FREECAD:
            yield f"{where}: the engine is spoken to without FreeCAD"
        if top != PACKAGE or target == PACKAGE:
            continue
        used = room_of(modules[target]) if target in modules else None
        if used is None:
            yield f"{where}: there is no module {target}"
        elif ROOMS.index(used) > ROOMS.index(room):
            yield f"{where}: {room} stands below {used} and may not use it"


def circle(graph):
    """Modules that import each other in a circle, the first one again at the end; or []."""
    done = set()

    def follow(module, path):
        if module in path:
            return path[path.index(module):] + [module]
        if module in done:
            return []
        done.add(module)
        for used in sorted(graph.get(module, ())):
            found = follow(used, path + [module])
            if found:
                return found
        return []

    return next(filter(None, (follow(module, []) for module in sorted(graph))), [])


def complaints(top: pathlib.Path):
    plugin = top / "cad-plugin"
    names = sorted(path.relative_to(plugin).as_posix() for path in plugin.rglob("*.py"))
    if len(names) < 20:
        yield f"only {len(names)} modules found below {plugin}: wrong folder?"
    modules = {module_of(name): name for name in names}
    graph = {}
    for name in names:
        imports = list(imports_of(ast.parse((plugin / name).read_text(encoding="utf-8")), modules))
        if room_of(name) is None:
            if name != f"{PACKAGE}/__init__.py" or imports:
                yield f"cad-plugin/{name}: belongs in a room: {', '.join(ROOMS[:-1])}"
            continue
        yield from complaints_of(name, imports, modules)
        graph[module_of(name)] = {target for _, target, _ in imports if target in modules}
    if found := circle(graph):
        yield "a circle of imports: " + " -> ".join(found)


def main():
    found = list(complaints(pathlib.Path(sys.argv[1]).resolve()))
    print("\n".join(found))
    return 1 if found else 0


if __name__ == "__main__":
    sys.exit(main())
