"""The keys of the job file as the engine tells them."""
import json
import subprocess


def job_keys(program):
    """(table, key) -> row, from a conversation of three requests."""
    said = b"".join(json.dumps({"id": i, "request": request, "protocol": 1, "bytes": 0}).encode() + b"\n"
                    for i, request in enumerate(("hello", "keys", "bye")))
    told = subprocess.run([program, "serve", "--stdio"], input=said, capture_output=True, timeout=60,
                          check=True).stdout
    header, _, rest = told.split(b"\n", 1)[1].partition(b"\n")  # behind the answer to hello
    rows = json.loads(rest[:json.loads(header)["bytes"]])["keys"]
    return {(row["table"], row["key"]): row for row in rows}
