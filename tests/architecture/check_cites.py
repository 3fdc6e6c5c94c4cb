#!/usr/bin/env python3
"""Every document that a comment or a test cites is in the repository, down to the section."""
import pathlib
import re
import sys

SUFFIXES = {".cpp", ".h", ".py", ".md", ".toml", ".txt", ".cmake"}
FOLDERS = ("core", "cli", "cad-plugin", "tests", "sample-models")
WRAPPED = re.compile(r"\n\s*(?:///?<?|#|\*)?\s*")
# Documents that live elsewhere, by the words they were cited with.
ELSEWHERE = re.compile(r"\b[Tt]rade" + r"[- ]facts\b|\bDES" + r"IGN\b|\breal-" + r"boats\b")


def headings(page: pathlib.Path):
    return [line.lstrip("# ").strip() for line in page.read_text(encoding="utf-8").splitlines()
            if line.startswith("## ")]


def complaints(top: pathlib.Path):
    numbers = {h.split(".")[0] for h in headings(top / "core/SOURCES.md")}
    names = headings(top / "core/DEFINITIONS.md")
    cites = 0
    files = [p for folder in FOLDERS for p in (top / folder).rglob("*") if p.suffix in SUFFIXES]
    for path in sorted(files) + [top / "README.md", top / "DEVELOPERS.md"]:
        name = path.relative_to(top).as_posix()
        text = WRAPPED.sub(" ", path.read_text(encoding="utf-8"))
        for match in ELSEWHERE.finditer(text):
            yield f"{name}: cites {match.group(0)}, which is not in the repository"
        for match in re.finditer(r"SOURCES\.md sections? (\d+)", text):
            cites += 1
            if match.group(1) not in numbers:
                yield f"{name}: SOURCES.md has no section {match.group(1)}"
        for match in re.finditer(r"DEFINITIONS\.md, ([A-Z][a-z]+)", text):
            cites += 1
            if not any(heading.startswith(match.group(1)) for heading in names):
                yield f"{name}: DEFINITIONS.md has no {match.group(1)}"
    if cites < 100:
        yield f"only {cites} cites found below {top}: wrong folder?"


def main():
    found = list(complaints(pathlib.Path(sys.argv[1]).resolve()))
    print("\n".join(found))
    return 1 if found else 0


if __name__ == "__main__":
    sys.exit(main())
