"""Resin, hardener and cups worked out anew by core/DEFINITIONS.md (Resin, Doses): what a batch takes, and
whether the tools of a shop show its doses. Written without a look at the program's way of searching: what
can be measured is asked of every batch, one by one."""
import math

SIZING = 1.10  # g/mL where no density is known: from memory (SOURCES.md section 10)
MAKERS = (1.02, 1.18)  # g/mL of polyester's hardeners, from memory (SOURCES.md section 10)
# Tool: half a division [g of the scale, mL of the others], what it takes in one go; a scale to 0.1 g and a
# 1 mL syringe as sold for the purpose, the others common practice.
TOOLS = {"scale": (0.05, math.inf), "1-mL syringe": (0.005, 1.0), "3-mL syringe": (0.05, 3.0),
         "10-mL syringe": (0.1, 10.0), "60-mL syringe": (0.5, 60.0), "measuring jug": (2.5, math.inf)}
SHARE = 0.05  # half a division is at most so much of a dose
RATIO_OFF = 0.005  # two readings miss a fixed ratio by at most
NIL = 1e-9


class Resin:
    """The resin of a job, as its effective values say it.

    @param density_given  whether the job gives the hardener's density itself"""

    def __init__(self, resin, density_given):
        self.epoxy = resin["kind"] == "epoxy"
        self.by_volume = resin["hardener_basis"] == "volume"
        self.density, self.hardener_density = resin["density"], resin["hardener_density"]
        self.parts, self.percent = resin["hardener_parts"], resin["hardener_percent"]
        self.range = None if self.epoxy else resin["hardener_range"]
        self.waste, self.cup = resin["waste"], amount(resin["cup"])
        self.assumed = resin["kind"] == "polyester" and not density_given

    def recipe(self, grams):
        """(resin g, resin mL, hardener g, hardener mL) of so many grams as totals.resin_g counts them."""
        d, h = self.density, self.hardener_density
        if self.epoxy:
            a, b = self.parts
            if self.by_volume:
                mean = (a * d + b * h) / (a + b) if d and h else SIZING
                poured, hardener = (grams / mean * part / (a + b) for part in (a, b))
                return (poured * d if d and h else None, poured, hardener * h if d and h else None, hardener)
            weighed, hardener = (grams * part / (a + b) for part in (a, b))
            return weighed, weighed / d if d and h else None, hardener, hardener / h if d and h else None
        share = self.percent / 100
        if self.by_volume:
            poured = grams / (d or SIZING)
            hardener = poured * share
            known = bool(d and h) and self.safe(lambda maker: share * h / maker)
            return grams if d else None, poured, hardener * h if known else None, hardener
        hardener = grams * share
        known = bool(h) and self.safe(lambda maker: share * maker / h)
        return grams, grams / d if d else None, hardener, hardener / h if known else None

    def safe(self, percentage_of):
        """Whether no maker's hardener leaves the range, measured on the other basis."""
        if not self.assumed or not self.range:
            return True
        return all(self.range[0] - NIL <= 100 * percentage_of(maker) <= self.range[1] + NIL
                   for maker in MAKERS)

    def between(self, grams, by_mass):
        """What hardener_range allows for so many grams, whichever hardener is poured [g or mL]."""
        if not self.range or self.range[0] == self.range[1]:
            return None
        low, high = (p / 100 * (self.recipe(grams)[1] if self.by_volume else grams) for p in self.range)
        if by_mass != self.by_volume:
            return low, high
        makers = MAKERS if self.assumed else (self.hardener_density,) * 2
        if not makers[0]:
            return None
        return (low * makers[1], high * makers[0]) if by_mass else (low / makers[0], high / makers[1])

    def hardener_shown(self, grams, tool, reading=None):
        """Whether a tool shows the hardener of a batch; the reading too where one is given."""
        by_mass = tool == "scale"
        dose = self.recipe(grams)[2 if by_mass else 3]
        if dose is None:
            return False
        half, most = TOOLS[tool]
        limits = self.between(grams, by_mass)
        least, top = (limits[0] + half, limits[1] - half) if limits else (0.0, math.inf)
        if least > top + NIL:
            return False
        aimed = min(max(dose, least), max(least, top))
        if half > SHARE * aimed + NIL or aimed > most + NIL:
            return False
        readings = [k * 2 * half for k in range(math.floor(aimed / 2 / half) - 1, math.ceil(aimed / 2 / half) + 2)]
        good = [r for r in readings if least - NIL <= r <= top + NIL]
        if reading is None:
            return bool(good)
        return any(abs(reading - r) < 1e-6 for r in good)

    def hardener_measurable(self, grams):
        _, _, mass, volume = self.recipe(grams)
        if mass is None and volume is None:
            return True
        return any(self.hardener_shown(grams, tool) for tool in TOOLS)

    def resin_measurable(self, grams):
        mass, volume = self.recipe(grams)[:2]
        if mass is not None and 0.05 <= SHARE * mass + NIL:
            return True
        return volume is not None and any(half <= SHARE * volume + NIL and volume <= most + NIL
                                          for tool, (half, most) in TOOLS.items() if tool != "scale")

    def measurable(self, grams):
        return self.resin_measurable(grams) and self.hardener_measurable(grams)


def amount(text):
    return float(str(text).split()[0])


def parts_of_at_most(whole, most):
    return max(1, math.ceil(whole / most - NIL))


def use_within(job):
    """Minutes within which a cup is used up, None where no gel time counts here: within 2 C and 0.1 % of
    what it was measured at (DEFINITIONS.md, Resin)."""
    resin, at = job["resin"], job["resin"]["gel_at"]
    if not resin["gel_minutes"] or not at:
        return None
    if abs(job["shop"]["temperature"] - at["temperature"]) > 2.0:
        return None
    if resin["kind"] != "epoxy" and abs(resin["hardener_percent"] - at["percent"]) > 0.1 + NIL:
        return None
    return resin["gel_minutes"] * job["laminator"]["use_fraction"]


def fewest_stages(thicknesses, limit):
    """The division into the fewest stages under a limit, then the thinnest maximum, earlier ones thicker on
    ties: the best of every division there is (DEFINITIONS.md, Resin). A ply thicker than the limit stands
    alone."""
    def divisions(rest):
        if not rest:
            yield []
        for count in range(1, len(rest) + 1):
            if count > 1 and sum(rest[:count]) > limit + 1e-6:
                break
            for others in divisions(rest[count:]):
                yield [rest[:count], *others]

    def rank(division):
        heights = [sum(stage) for stage in division]
        return len(division), round(max(heights), 6), [-round(h, 6) for h in heights]
    return [len(stage) for stage in min(divisions(list(thicknesses)), key=rank)]
