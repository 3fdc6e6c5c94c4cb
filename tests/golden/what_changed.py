"""What changed in a plan or a template since its golden copy, in words.

A closed line is kept as a few of its points with its area and length: a finer mesh puts other
points on the same line, and that is no change. Everything else is kept as it stands, to 0.001 mm.
"""
import json
import math
import re
import xml.etree.ElementTree as ElementTree

LINE_WITHIN = 0.02     # mm: how far a line may wander, a fifth of what a net line is held to
FIGURE_WITHIN = 2e-5   # of a figure's size: areas and masses follow the lines
KEPT_POINTS = 16       # of each line
# Names that hold lines of points; figures of the machine that made the plan are left out.
LEFT_OUT = {"model_sha256", "mesh"}


def is_line(value):
    return (isinstance(value, list) and len(value) >= 3 and all(
        isinstance(p, list) and len(p) in (2, 3) and all(isinstance(x, (int, float)) for x in p)
        for p in value))


def length(points):
    return sum(math.dist(p, q) for p, q in zip(points, points[1:] + points[:1]))


def area(points):
    return 0.5 * sum(p[0] * q[1] - p[1] * q[0] for p, q in zip(points, points[1:] + points[:1]))


def is_kept_line(value):
    return isinstance(value, dict) and set(value) == {"line", "length", "area"}


def canonical(value):
    """A plan as it is kept."""
    if is_line(value):
        step = max(1, len(value) // KEPT_POINTS)
        return {"line": [[round(x, 3) for x in p] for p in value[::step]],
                "length": round(length(value), 3), "area": round(area(value), 2)}
    if isinstance(value, dict):
        return {k: canonical(v) for k, v in value.items() if k not in LEFT_OUT}
    if isinstance(value, list):
        return [canonical(v) for v in value]
    if isinstance(value, float):
        return round(value, 6)
    return value


def written(kept, indent=0):
    """JSON with a line of the file for each item, and points of a line in one row."""
    if isinstance(kept, dict) and kept and not is_kept_line(kept):
        rows = [f"{json.dumps(k, ensure_ascii=False)}: {written(v, indent + 1)}"
                for k, v in kept.items()]
    elif isinstance(kept, list) and any(isinstance(v, (dict, list)) for v in kept):
        rows = [written(v, indent + 1) for v in kept]
    else:
        return json.dumps(kept, ensure_ascii=False, separators=(",", ":"))
    ends = "{}" if isinstance(kept, dict) else "[]"
    pad = "\n" + " " * (indent + 1)
    return ends[0] + pad + ("," + pad).join(rows) + "\n" + " " * indent + ends[1]


def from_line(p, points, closed=True):
    """Distance of a point from a line of points."""
    best = math.inf
    for a, b in zip(points, points[1:] + (points[:1] if closed else [])):
        ab = [y - x for x, y in zip(a, b)]
        t = sum((pi - ai) * d for pi, ai, d in zip(p, a, ab)) / max(sum(d * d for d in ab), 1e-12)
        t = max(0.0, min(1.0, t))
        best = min(best, math.dist(p, [ai + t * d for ai, d in zip(a, ab)]))
    return best


def figures_differ(was, now):
    return not abs(was - now) <= 1e-3 + FIGURE_WITHIN * abs(was)


def text_differs(was, now):
    """Words must be the same; figures inside them the same within their last place."""
    number = r"-?\d+\.?\d*"
    if re.sub(number, "#", was) != re.sub(number, "#", now):
        return True
    for a, b in zip(re.findall(number, was), re.findall(number, now)):
        places = len(a.partition(".")[2])
        if abs(float(a) - float(b)) > 1.01 * 10.0 ** -places:
            return True
    return False


def line_changes(was, now, path):
    if not is_line(now):
        return [f"{path}: was a line of points, now {str(now)[:60]}"]
    out = []
    far = max(from_line(p, now) for p in was["line"])
    if far > LINE_WITHIN:
        out.append(f"{path}: the line moved by {far:.3f} mm")
    if abs(was["length"] - length(now)) > LINE_WITHIN + 1e-4 * was["length"]:
        out.append(f"{path}: length {was['length']:.3f} -> {length(now):.3f} mm")
    if was["area"] * area(now) < 0:
        out.append(f"{path}: the line winds the other way")
    return out


def changes(was, now, path="plan"):
    """Every difference between a kept plan and one just made, a line each."""
    if is_kept_line(was):
        return line_changes(was, now, path)
    if isinstance(was, dict) and isinstance(now, dict):
        now = {k: v for k, v in now.items() if k not in LEFT_OUT}
        out = [f"{path}.{k}: is gone" for k in was if k not in now]
        out += [f"{path}.{k}: is new" for k in now if k not in was]
        for key in was:
            if key in now:
                out += changes(was[key], now[key], f"{path}.{key}")
        return out
    if isinstance(was, list) and isinstance(now, list):
        if len(was) != len(now):
            return [f"{path}: {len(was)} items -> {len(now)}"]
        out = []
        for i, (a, b) in enumerate(zip(was, now)):
            out += changes(a, b, f"{path}[{i}]")
        return out
    figures = all(isinstance(x, (int, float)) and not isinstance(x, bool) for x in (was, now))
    texts = isinstance(was, str) and isinstance(now, str)
    if figures and figures_differ(was, now) or texts and text_differs(was, now) or (
            not figures and not texts and was != now):
        return [f"{path}: {was!r} -> {now!r}"]
    return []


def numbers(text):
    return [float(x) for x in re.findall(r"-?\d+\.?\d*(?:e-?\d+)?", text)]


def drawn_points(element):
    flat = numbers(element.get("d") or element.get("points") or "")
    return list(zip(flat[::2], flat[1::2]))


def svg_changes(was, now):
    """Differences of two SVG texts: elements, words, and how far their lines lie apart."""
    old, new = ElementTree.fromstring(was), ElementTree.fromstring(now)
    out = []
    a, b = list(old.iter()), list(new.iter())
    if [e.tag for e in a] != [e.tag for e in b]:
        out.append(f"{len(a)} elements -> {len(b)}, or in another order")
    for e, f in zip(a, b):
        name = e.tag.rpartition("}")[2]
        if text_differs((e.text or "").strip(), (f.text or "").strip()):
            out.append(f"<{name}>: {e.text!r} -> {f.text!r}")
        for key in sorted(set(e.attrib) | set(f.attrib)):
            p, q = e.get(key, ""), f.get(key, "")
            if key in ("d", "points"):
                line, other = drawn_points(e), drawn_points(f)
                closed = "z" in p.lower()
                far = max((from_line(x, other, closed) for x in line), default=0.0) \
                    if len(other) > 1 else math.inf
                if far > LINE_WITHIN:
                    out.append(f"<{name} class={e.get('class')}> {key}: moved by {far:.3f} mm")
            elif re.sub(r"[-\d.e]+", "#", p) != re.sub(r"[-\d.e]+", "#", q) or any(
                    abs(x - y) > LINE_WITHIN + FIGURE_WITHIN * abs(x)
                    for x, y in zip(numbers(p), numbers(q))):
                out.append(f"<{name}> {key}: {p!r} -> {q!r}")
    return out
