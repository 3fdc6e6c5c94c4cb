#!/usr/bin/env python3
"""The keys of the job file as the engine tells them.

    tests/support/job_keys.py build/tearline    writes them anew for the workbench
"""
import json
import pathlib
import subprocess
import sys

KEPT = (pathlib.Path(__file__).resolve().parents[2] / "cad-plugin" / "tearline_cad" / "document"
        / "job_keys.json")


def job_keys(program):
    """(table, key) -> row, from a conversation of three requests."""
    said = b"".join(json.dumps({"id": i, "request": request, "protocol": 1, "bytes": 0}).encode() + b"\n"
                    for i, request in enumerate(("hello", "keys", "bye")))
    told = subprocess.run([program, "serve", "--stdio"], input=said, capture_output=True, timeout=60,
                          check=True).stdout
    header, _, rest = told.split(b"\n", 1)[1].partition(b"\n")  # behind the answer to hello
    rows = json.loads(rest[:json.loads(header)["bytes"]])["keys"]
    return {(row["table"], row["key"]): row for row in rows}


if __name__ == "__main__":
    lines = ",\n".join(json.dumps(row) for row in job_keys(sys.argv[1]).values())
    KEPT.write_text('{"keys": [\n' + lines + "\n]}\n", encoding="utf-8")
