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


def inside(loop, point):
    """Even-odd rule."""
    x, y = point
    odd = False
    for (ax, ay), (bx, by) in zip(loop, loop[1:] + loop[:1]):
        if (ay > y) != (by > y) and x < ax + (y - ay) / (by - ay) * (bx - ax):
            odd = not odd
    return odd


def to_loop(point, loop):
    """[mm] from a point to a closed line. The side that comes nearest has an end no farther off than
    the nearest corner and its own length: the others are not looked at."""
    far = [math.dist(point, corner) for corner in loop]
    best = least = min(far)
    for i, (a, b) in enumerate(zip(loop, loop[1:] + loop[:1])):
        if min(far[i], far[(i + 1) % len(loop)]) > least + math.dist(a, b):
            continue
        side = [q - p for p, q in zip(a, b)]
        square = sum(c * c for c in side)
        t = sum((p - q) * c for p, q, c in zip(point, a, side)) / square if square else 0.0
        t = min(1.0, max(0.0, t))
        best = min(best, math.dist(point, [p + t * c for p, c in zip(a, side)]))
    return best
