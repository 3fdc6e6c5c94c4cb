"""Values as they are written in a job file, which is TOML; a length without its unit is in mm."""
import json
import re


def text(value):
    # TOML forbids the delete sign in text, which JSON does not escape.
    return json.dumps(str(value), ensure_ascii=False).replace("\x7f", "\\u007f")


def number(value):
    return repr(float(getattr(value, "Value", value)))


def whole(value):
    return str(int(value))


def truth(value):
    return "true" if value else "false"


def yes(word):
    """A truth that may also be left open, as a word."""
    return truth(word == "yes")


def numbers(values):
    return "[" + ", ".join(number(value) for value in values) + "]"


def vector(value):
    return numbers((value.x, value.y, value.z))


def grams(value):
    return text(f"{number(value)} g")


def grams_per_square_metre(value):
    return text(f"{number(value)} g/m2")


def megapascals(value):
    return text(f"{number(value)} MPa")


def _as_typed(words):
    """A number as typed; what is none goes to the engine as text, which says so."""
    try:
        return number(words)
    except ValueError:
        return text(words.strip())


def ply(line):
    """One line of a stack: "mat 450", "roving 600 @ 45", "roving 600 @ 45 free 20"."""
    fabric, _, turned = line.partition("@")
    fabric = fabric.strip()
    if not turned:
        return text(fabric)
    axis, _, free = turned.partition("free")
    entry = f"{{fabric = {text(fabric)}, axis = {_as_typed(axis)}"
    return entry + (f", axis_free = {_as_typed(free)}}}" if free else "}")


def plies(lines):
    return "[" + ", ".join(ply(line) for line in lines if line.strip()) + "]"


def name(key):
    """A key, in quotes where it needs them."""
    return key if re.fullmatch(r"[A-Za-z0-9_-]+", key) else text(key)


_INLINE_KEY = re.compile(r'([{,]\s*)("[^"]*"|[A-Za-z0-9_-]+)\s*=')


def read(words):
    """A value in one line as it is written: a text, a number, a truth, a list or an inline table; what is none
    of them comes back as it is."""
    for text_of in (words, _INLINE_KEY.sub(lambda found: f"{found[1]}{name_text(found[2])}:", words)):
        try:
            return json.loads(text_of)
        except ValueError:
            pass
    return words


def name_text(key):
    """A key as a text in quotes."""
    return key if key.startswith('"') else f'"{key}"'


def written(value):
    """Any value: a text, a number, a truth, a list or an inline table of such."""
    if isinstance(value, bool):
        return truth(value)
    if isinstance(value, int):
        return str(value)
    if isinstance(value, float):
        return number(value)
    if isinstance(value, str):
        return text(value)
    if hasattr(value, "x"):
        return vector(value)
    if isinstance(value, (list, tuple)):
        return "[" + ", ".join(written(each) for each in value) + "]"
    inner = ", ".join(f"{name(key)} = {written(each)}" for key, each in value.items())
    return "{" + inner + "}"


def vectors(values):
    return "[" + ", ".join(vector(value) for value in values) + "]"
