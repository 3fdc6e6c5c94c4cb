"""What a click or a drag does to the marked damage of a repair."""


def place_in_outline(outline, curve, point):
    """Where a new point belongs among those of the outline.

    curve   the outline as it is drawn, dense, in the same order or turned round
    Beside the curve it belongs between the two points that the curve runs between there.
    """
    def nearest(to):
        return min(range(len(curve)), key=lambda k: curve[k].distanceToPoint(to))

    at, count = nearest(point), len(outline)
    places = [nearest(corner) for corner in outline]
    for index in range(count):
        # The arc of the curve from this corner to the next, the way that meets no other corner.
        start, end = places[index], places[(index + 1) % count]
        others = [p for k, p in enumerate(places) if k not in (index, (index + 1) % count)]
        for first, last in ((start, end), (end, start)):
            length = (last - first) % len(curve)
            inside = [(p - first) % len(curve) < length for p in others]
            if not any(inside) and (at - first) % len(curve) <= length:
                return index + 1
    return count


class Points:
    """An outline through points."""

    def __init__(self, repair):
        self.repair = repair

    def handles(self, draft):
        return list(self.repair.Outline)

    def click(self, point, draft, beside_curve):
        outline = list(self.repair.Outline)
        if beside_curve and len(outline) >= 3:
            outline.insert(place_in_outline(outline, draft.outline, point), point)
        else:
            outline.append(point)
        self.repair.Outline = outline

    def drag(self, handle, point):
        outline = list(self.repair.Outline)
        outline[handle] = point
        self.repair.Outline = outline

    def delete(self, handle):
        outline = list(self.repair.Outline)
        del outline[handle]
        self.repair.Outline = outline


class Middle:
    """A disc or an ellipse: its middle, and its rim pulled by a handle for each size."""

    def __init__(self, repair):
        self.repair = repair

    def _sizes(self):
        return ["Radius"] if self.repair.DamageShape == "disc" else ["Length", "Height"]

    def handles(self, draft):
        """The middle, then the rim's foremost point and, for an ellipse, its farthest across."""
        if not self.repair.Centred:
            return []
        found = [self.repair.Centre]
        if draft.outline:
            found += [draft.farthest(way) for way in (draft.along, draft.across)][
                :len(self._sizes())]
        return found

    def click(self, point, draft, beside_curve):
        self.repair.Centre = point
        self.repair.Centred = True

    def drag(self, handle, point):
        if handle == 0:
            self.repair.Centre = point
            return
        reach = point.distanceToPoint(self.repair.Centre)
        name = self._sizes()[handle - 1]
        setattr(self.repair, name, max(reach, 1.0) * (1 if name == "Radius" else 2))

    def delete(self, handle):
        if handle == 0:
            self.repair.Centred = False


def handles_of(repair):
    return Points(repair) if repair.DamageShape == "points" else Middle(repair)
