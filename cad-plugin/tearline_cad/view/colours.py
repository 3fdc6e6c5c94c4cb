"""Colours of the pictures: plies told apart, and one even scale for strain, shear and depth."""

# Cream to navy in even steps of lightness: told apart with every kind of colour vision and in grey
# print. The same anchors as the engine's own pictures.
SCALE = [(250, 243, 214), (205, 217, 199), (161, 192, 183), (116, 167, 167), (85, 139, 148),
         (67, 110, 127), (50, 81, 107), (34, 54, 86), (20, 28, 66)]
STEPS = 8
# Shear has colours of its own, so that no degree is taken for a percent; as even in lightness.
SHEAR = [(252, 240, 236), (236, 208, 214), (219, 176, 196), (196, 145, 181), (169, 116, 166),
         (139, 90, 150), (108, 66, 131), (76, 44, 107), (44, 22, 76)]
OVER_LIMIT = (206, 44, 28)
STALE = (186, 188, 192)
SCALES = {"strain": SCALE, "shear": SHEAR}

# Stack plies in blues from dark to light, cover plies in ochre: two families that differ for every
# kind of colour vision; neighbours differ in lightness.
STACK = [(20, 54, 96), (70, 130, 175), (214, 232, 242)]
COVER = [(214, 150, 58), (250, 226, 176)]
# Of a second side or skin: greens, and covers of olive; core and backing like what they are made of.
SECOND_STACK = [(18, 78, 52), (72, 150, 108), (206, 236, 214)]
SECOND_COVER = [(150, 150, 40), (232, 232, 170)]
FILLERS = {"core": (196, 140, 92), "backing": (150, 132, 176)}
CARD, BRIDGED = (255, 246, 214), (214, 226, 238)
RIM = (120, 136, 152)  # about what is pale itself
# A scan off its fair surface: below it blue, on it nearly white, over it red.
BELOW, ON_IT, ABOVE = (24, 70, 150), (246, 246, 240), (168, 36, 30)
OPENING = (60, 60, 160)
DAMAGE, SCARF, FOOTPRINT = (150, 20, 60), (20, 28, 66), (90, 90, 90)
LINE = (25, 30, 40)


def between(anchors, share):
    """A colour on the way through `anchors`, share 0 to 1."""
    at = min(max(share, 0.0), 1.0) * (len(anchors) - 1)
    first = min(int(at), len(anchors) - 2)
    part = at - first
    return tuple(a + part * (b - a) for a, b in zip(anchors[first], anchors[first + 1]))


def unit(rgb):
    """0 to 1, as the 3D view wants them."""
    return tuple(level / 255.0 for level in rgb)


def scale_steps(kind="strain"):
    """STEPS colours from nothing to the most."""
    return [between(SCALES[kind], step / (STEPS - 1)) for step in range(STEPS)]


def deviation_steps():
    """Colours of a scan from the deepest below its fair surface to the highest over it; an odd number: one
    stands for next to nothing."""
    return [between([BELOW, ON_IT, ABOVE], step / STEPS) for step in range(STEPS + 1)]


def ply_colours(plies, second=()):
    """One colour a ply of plan.json, in its order.

    second   numbers of those of the second side or skin
    """
    found = []
    families = {(False, False): STACK, (True, False): COVER, (False, True): SECOND_STACK,
                (True, True): SECOND_COVER}
    for (cover, is_second), anchors in families.items():
        family = [ply for ply in plies if (ply["cover"], ply["number"] in second) == (cover, is_second)]
        for index, ply in enumerate(family):
            share = index / (len(family) - 1) if len(family) > 1 else 0.5
            found.append((ply["number"], between(anchors, share)))
    return [colour for _, colour in sorted(found)]


def nice_top(most):
    """The end of a scale: 1, 2, 4 or 8 times a power of ten, at or above `most`."""
    top = 1e-6
    while True:
        for factor in (1, 2, 4, 8):
            if factor * top >= most:
                return factor * top
        top *= 10
