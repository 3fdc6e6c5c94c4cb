"""A plan's warnings as lines for the user, in the words and order of the job sheet."""

# What a line begins with, the gravest rank first.
RANKS = {"stop": "Stop and decide: ", "do": "Do this: ", "know": "Know this: "}


def in_order(warnings):
    """The warnings of a plan, the gravest rank first."""
    order = list(RANKS)
    return sorted(warnings, key=lambda each: order.index(each["rank"]))


def warning_lines(warnings):
    """A line for each warning, the gravest rank first."""
    return [RANKS[warning["rank"]] + warning["plain"] for warning in in_order(warnings)]
