"""Closed lines of points, as files hold them."""
import math


def area(points):
    return 0.5 * sum(x0 * y1 - x1 * y0 for (x0, y0), (x1, y1)
                     in zip(points, points[1:] + points[:1]))


def farthest(a, b):
    """Largest distance between two loops with the same points from any start; inf if they differ."""
    if len(a) != len(b):
        return math.inf
    start = min(range(len(b)), key=lambda i: math.dist(a[0], b[i]))
    return max(math.dist(p, b[(start + i) % len(b)]) for i, p in enumerate(a))
