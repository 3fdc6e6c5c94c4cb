"""Messages over two pipes: a line of JSON with "bytes": N, then N bytes."""
import json


def head(header, size):
    """The bytes of a message before its body of that size."""
    return json.dumps(dict(header, bytes=size)).encode() + b"\n"


def packed(header, body=b""):
    """The bytes of a message."""
    return head(header, len(body)) + body


LONGEST_HEADER = 1 << 20  # [bytes] of a line that can be a header


def read_message(pipe):
    """The next (header, body), or None at the end of the pipe.

    ValueError when what comes is no message.
    """
    line = pipe.readline(LONGEST_HEADER)
    if not line:
        return None
    header = json.loads(line)
    body = pipe.read(header["bytes"])
    if len(body) < header["bytes"]:
        return None
    return header, body


def parts_of(header, body):
    """The named parts that a plan's answer is made of."""
    parts, at = {}, 0
    for part in header.get("parts", []):
        parts[part["name"]] = body[at:at + part["bytes"]]
        at += part["bytes"]
    return parts
