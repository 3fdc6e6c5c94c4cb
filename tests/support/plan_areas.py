"""What of a hull a plan takes up, what lies beyond its end with it (core/DEFINITIONS.md, End of the hull)."""


def lapped_mm2(plan):
    return plan.get("lap", {}).get("area_mm2", 0.0)


def ground_mm2(plan):
    """That is ground and primed."""
    return plan["scarf"]["area_mm2"] + lapped_mm2(plan)


def touched_mm2(plan):
    """All that is touched."""
    return plan["footprint"]["area_mm2"] + lapped_mm2(plan)
