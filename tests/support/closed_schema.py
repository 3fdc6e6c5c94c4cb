"""A JSON Schema that allows nothing beside what it names: what the program adds must be written down."""


def closed(part):
    """The schema with no field beside those it names."""
    if isinstance(part, dict):
        part = {key: closed(value) for key, value in part.items()}
        if "properties" in part:
            part["additionalProperties"] = False
    elif isinstance(part, list):
        part = [closed(value) for value in part]
    return part
