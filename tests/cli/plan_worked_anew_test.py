#!/usr/bin/env python3
"""Random repairs whose quantities are worked out anew: from the geometry that stands in plan.json and the
figures of the job, by core/DEFINITIONS.md, never from another quantity of the plan."""
import json
import math
import pathlib
import re
import sys
import unittest

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1] / "support"))
import mixing  # noqa: E402
from closed_lines import area  # noqa: E402
from each import for_each  # noqa: E402
from plan_areas import ground_mm2, touched_mm2  # noqa: E402
from random_repairs import OfPlans, Repair  # noqa: E402

NUMBERS = (0, 1, 3, 6, 7, 9, 13, 14, 20, 25)
GLASS = 2.56  # g/cm3, DEFINITIONS.md, Edges
POSITION = {"flat": 1.0, "vertical": 0.75, "overhead": 0.5}  # SOURCES.md section 10


def region(piece, name):
    """Area of a piece's line less its holes [m2]; None where it has no such line."""
    if piece[f"{name}_line"] is None:
        return None
    return (area(piece[f"{name}_line"]) + sum(map(area, piece[f"{name}_holes"]))) * 1e-6


class Anew:
    """What a job and the lines of its plan come to."""

    def __init__(self, plan):
        self.plan, self.job = plan, plan["job"]["effective"]
        self.fabrics = {fabric["name"]: fabric for fabric in self.job["fabric"]}
        given = self.job["resin"]["kind"] != "polyester"  # the repairs leave polyester's at its default
        self.resin = mixing.Resin(self.job["resin"], given)

    def weight(self, fabric):
        return mixing.amount(self.fabrics[fabric]["weight"])  # g/m2

    def thickness(self, fabric):
        """DEFINITIONS.md, Edges [mm], w in kg/m2."""
        w, psi = self.weight(fabric) / 1000, self.fabrics[fabric]["glass_content"]
        return w / GLASS + w * (1 - psi) / (psi * self.job["resin"]["cured_density"])

    def glass_g(self, ply):
        """DEFINITIONS.md, Tear margin: net area and half the torn band; cloth is counted as it is cut."""
        total = 0.0
        for piece in ply["pieces"]:
            net, torn, cut = (region(piece, name) for name in ("net", "tear", "cut"))
            if ply["kind"] == "mat":
                parted = torn if torn is not None else cut if cut is not None else net
                total += 0.5 * (net + parted)
            else:
                total += cut if cut is not None else net
        return total * self.weight(ply["fabric"])

    def to_cut_m2(self, ply):
        return sum(next(a for a in (region(piece, name) for name in ("tear", "cut", "net")) if a is not None)
                   for piece in ply["pieces"])

    def resin_g(self, ply):
        psi = self.fabrics[ply["fabric"]]["glass_content"]
        return self.glass_g(ply) * (1 - psi) / psi

    def prime_g(self):
        return mixing.amount(self.job["resin"]["prime"]) * ground_mm2(self.plan) * 1e-6

    def resin_in_all(self):
        return (sum(map(self.resin_g, self.plan["plies"])) + self.prime_g()) * (1 + self.resin.waste)

    def fair_depth(self):
        """Where glass should end over the floor: a final topcoat takes its thickness (DEFINITIONS.md,
        Job file)."""
        coat = self.job["topcoat"]
        final = coat and coat["finish"] == "final"
        return self.job["damage"]["depth"] - (coat["thickness"] if final else 0.0)

    def edges(self):
        """DEFINITIONS.md, Edges, without a least step: a stack ply that starts at or above D is a cover."""
        ratio, depth = self.job["scarf"]["ratio"], self.job["damage"]["depth"]
        height, edges = 0.0, []
        for ply in self.plan["plies"]:
            below, height = height, height + self.thickness(ply["fabric"])
            if ply["cover"]:
                edges.append(max(edges) + self.job["layup"]["cover_step"])
            elif self.job["layup"]["order"] == "largest first":
                edges.append(ratio * (depth - below))
            else:
                edges.append(min(ratio * height, ratio * depth))
        return edges


each_plan = for_each(lambda self: self.made, lambda made: f"repair {made.number}")
each_dose = for_each(lambda self: self.doses(), lambda dose: f"repair {dose[0].number}")


class PlanWorkedAnew(OfPlans):
    @classmethod
    def setUpClass(cls):
        super().setUpClass()
        for made in cls.plan_repairs(NUMBERS):
            made.repair, made.anew = Repair(made.number), Anew(made.plan)

    def each(self):
        return [(made, made.plan, made.anew) for made in self.made]

    def doses(self):
        """Every cup that is mixed of the resin."""
        return [(made, made.anew, cup) for made in self.made
                for cup in [made.plan["test_cup"],
                            *(c for stage in made.plan["stages"] for c in stage["cups"])]
                if cup["mix_resin_g"] > 0]

    def near(self, shown, expected, where, rel=1e-8):
        if expected is None or shown is None:
            self.assertEqual(shown, expected, where)
        else:
            self.assertTrue(math.isclose(shown, expected, rel_tol=rel, abs_tol=1e-9),
                            f"{where}: {shown} for {expected}")

    @each_plan
    def test_the_job_is_what_was_asked_for(self, made):
        # The figures that the test itself wrote into the file.
        plan = made.plan
        job, repair = made.job, made.repair
        self.assertEqual(job["resin"]["kind"], repair.kind)
        self.assertEqual(job["resin"]["waste"], repair.waste)
        self.assertEqual(mixing.amount(job["resin"]["cup"]), repair.cup)
        self.assertEqual(mixing.amount(job["resin"]["prime"]), repair.prime)
        self.assertEqual(job["scarf"]["ratio"], repair.ratio)
        self.assertEqual(job["layup"]["copies"], repair.copies)
        self.assertEqual(job["layup"]["position"], repair.position)
        self.assertEqual(job["display_units"], repair.units)
        self.assertEqual([ply["fabric"] for ply in plan["plies"]], repair.stack + repair.cover)

    @each_plan
    def test_thickness_and_edges_follow_the_mass_balance(self, made):
        plan, anew = made.plan, made.anew
        height = 0.0
        depth = anew.job["damage"]["depth"]
        for ply, edge in zip(plan["plies"], anew.edges()):
            t = anew.thickness(ply["fabric"])
            self.near(ply["thickness_mm"], t, "thickness")
            self.near(ply["edge_offset_mm"], edge, f"edge of ply {ply['number']}")
            below, height = height, height + t
            # Over the floor: covers lie min(D - H_(k-1), dish) - t/2 deep, stack plies D - H_k + t/2.
            self.near(ply["lay_depth_mm"], depth - below - 0.5 * t, "lay depth", rel=1e-7)
        self.near(plan["totals"]["laid_thickness_mm"], height, "laid")

    @each_plan
    def test_a_ply_that_starts_above_the_depth_is_a_cover(self, made):
        plan, anew = made.plan, made.anew
        height, stack = 0.0, len(made.repair.stack)
        for k, ply in enumerate(plan["plies"]):
            self.assertEqual(ply["cover"], k >= stack or height >= anew.job["damage"]["depth"] - 1e-6)
            height += anew.thickness(ply["fabric"])

    @each_plan
    def test_areas_are_those_of_the_lines(self, made):
        plan, anew = made.plan, made.anew
        for ply in plan["plies"]:
            for piece in ply["pieces"]:
                parted = [region(piece, n) for n in ("tear", "cut") if region(piece, n) is not None]
                self.near(piece["area_mm2"], 1e6 * (parted[0] if parted else region(piece, "net")), "area")
            self.near(ply["glass_area_mm2"], 1e6 * anew.to_cut_m2(ply), "to cut")

    @each_plan
    def test_glass_and_resin_of_every_piece_and_ply(self, made):
        plan, anew = made.plan, made.anew
        for ply in plan["plies"]:
            self.near(ply["glass_g"], anew.glass_g(ply), "glass")
            self.near(ply["resin_g"], anew.resin_g(ply), "resin")
            for key in ("glass_g", "resin_g"):
                self.near(sum(piece[key] for piece in ply["pieces"]), ply[key], f"pieces' {key}")

    def test_a_torn_band_is_as_wide_as_the_margin(self):
        # Steiner's formula: a band of m outside a convex line of length L holds L m + pi m2. Discs and
        # ellipses on the panel alone are convex and flat.
        count = 0
        for made, plan, anew in self.each():
            if made.repair.hull != "panel" or made.repair.shape not in ("disc", "ellipse"):
                continue
            for ply in plan["plies"]:
                for piece in ply["pieces"] if ply["kind"] == "mat" else []:
                    line = piece["net_line"]
                    long = sum(math.dist(p, q) for p, q in zip(line, line[1:] + line[:1]))
                    m = anew.fabrics[ply["fabric"]]["tear_margin"]
                    band = 1e6 * (region(piece, "tear") - region(piece, "net"))
                    self.near(band, long * m + math.pi * m * m, "band", rel=1e-3)
                    count += 1
        self.assertGreater(count, 5)

    def test_net_areas_of_discs_on_the_panel_are_closed_forms(self):
        # pi (r + e)2 within 0.05 % (DEFINITIONS.md, Bars); the damage and the scarf likewise.
        count = 0
        for made, plan, anew in self.each():
            if made.repair.hull != "panel" or made.repair.shape != "disc":
                continue
            r = made.repair.size
            self.near(plan["damage"]["area_mm2"], math.pi * r * r, "damage", rel=5e-4)
            self.near(plan["damage"]["perimeter_mm"], 2 * math.pi * r, "perimeter", rel=5e-4)
            reach = r + anew.job["scarf"]["ratio"] * anew.job["damage"]["depth"]
            self.near(plan["scarf"]["area_mm2"], math.pi * reach ** 2, "scarf", rel=5e-4)
            for ply, edge in zip(plan["plies"], anew.edges()):
                net = 1e6 * sum(region(piece, "net") for piece in ply["pieces"])
                flat = math.pi * (r + edge) ** 2
                if made.repair.order == "smallest first" and not ply["cover"]:
                    self.near(net, flat, f"net of ply {ply['number']}", rel=5e-4)
                else:  # lies down the scarf, which is steeper than the panel: longer by its slope at most
                    slope = math.hypot(1.0, 1.0 / anew.job["scarf"]["ratio"])
                    self.assertGreaterEqual(net, flat * (1 - 5e-4))
                    self.assertLessEqual(net, flat * slope ** 2)
                count += 1
        self.assertGreater(count, 4)

    @each_plan
    def test_totals_are_sums_with_priming_and_waste(self, made):
        plan, anew = made.plan, made.anew
        totals = plan["totals"]
        self.near(totals["glass_g"], sum(map(anew.glass_g, plan["plies"])), "glass")
        self.near(totals["glass_area_m2"], sum(map(anew.to_cut_m2, plan["plies"])), "cloth")
        self.near(totals["ground_area_m2"], ground_mm2(plan) * 1e-6, "ground")
        self.near(totals["prime_g"], anew.prime_g(), "priming")
        self.near(totals["resin_g"], anew.resin_in_all(), "resin")
        _, _, mass, volume = anew.resin.recipe(anew.resin_in_all())
        self.near(totals["hardener_g"], mass, "hardener")
        self.near(totals["hardener_mL"], volume, "hardener")

    @each_plan
    def test_topcoat_covers_the_footprint(self, made):
        # Footprint x wet thickness x density x (1 + waste), its own hardener by mass.
        plan, anew = made.plan, made.anew
        if anew.resin.epoxy:  # takes a topcoat only where the job says which (Resin)
            self.assertIsNone(plan["totals"]["topcoat_g"])
            self.assertEqual(plan["topcoat_cups"], [])
            return
        coat = anew.job["topcoat"]
        grams = (touched_mm2(plan) * coat["thickness"] / 1000 * coat["density"] *
                 (1 + anew.resin.waste))
        self.near(plan["totals"]["topcoat_g"], grams, "topcoat")
        self.near(plan["totals"]["topcoat_hardener_g"], grams * coat["hardener_percent"] / 100, "hardener")
        self.near(sum(cup["resin_g"] for cup in plan["topcoat_cups"]), grams, "topcoat's cups")

    @each_plan
    def test_stages_are_the_best_of_all_divisions(self, made):
        # Every division tried: the fewest under the limit, then the thinnest maximum, earlier ones thicker.
        plan, anew = made.plan, made.anew
        limit = anew.job["shop"]["stage_thickness"] * POSITION[made.repair.position]
        laid = [stage for stage in plan["stages"] if stage["plies"]]
        thick = [anew.thickness(ply["fabric"]) for ply in plan["plies"]]
        self.assertEqual([len(stage["plies"]) for stage in laid], mixing.fewest_stages(thick, limit))
        self.assertEqual([n for stage in laid for n in stage["plies"]],
                         [ply["number"] for ply in plan["plies"]])
        for stage in laid:
            self.near(stage["thickness_mm"], sum(thick[n - 1] for n in stage["plies"]), "stage")

    def stage_needs(self, plan, anew, stage):
        """Resin with waste and area of a stage; without plies it is the priming coat's."""
        if not stage["plies"]:
            return anew.prime_g() * (1 + anew.resin.waste), ground_mm2(plan) * 1e-6
        plies = [plan["plies"][n - 1] for n in stage["plies"]]
        return (sum(map(anew.resin_g, plies)) * (1 + anew.resin.waste), sum(map(anew.to_cut_m2, plies)))

    @each_plan
    def test_cups_hold_each_stage_to_the_gram(self, made):
        plan, anew = made.plan, made.anew
        self.assertEqual(bool(plan["stages"][0]["plies"]), anew.prime_g() == 0)
        for stage in plan["stages"]:
            grams, _ = self.stage_needs(plan, anew, stage)
            self.near(sum(cup["resin_g"] for cup in stage["cups"]), grams, "cups of a stage")
            self.assertEqual(len({json.dumps(cup) for cup in stage["cups"]}), 1)
        everything = sum(cup["resin_g"] for stage in plan["stages"] for cup in stage["cups"])
        self.near(everything, plan["totals"]["resin_g"], "all cups")

    @each_plan
    def test_cups_are_spread_in_time(self, made):
        # Area by the laminator's rate within use_fraction of the gel time, where that counts here.
        plan, anew = made.plan, made.anew
        minutes, besides = mixing.use_within(anew.job), 0.0
        for stage in plan["stages"]:
            grams, m2 = self.stage_needs(plan, anew, stage)
            mixed = [cup for cup in stage["cups"] if cup["mix_resin_g"] > 0]
            if not mixed:
                besides = m2  # comes out of the next stage's first cup
                continue
            for cup in mixed:
                self.assertEqual(cup["use_within_min"], minutes)
            if minutes:
                spread = minutes * anew.job["laminator"]["wet_out_rate"]
                self.assertLessEqual((m2 + besides) / len(mixed), spread + 1e-9)
            besides = 0.0

    def test_a_priming_coat_too_small_comes_out_of_the_first_stage(self):
        taken = 0
        for _, plan, anew in self.each():
            prime = anew.prime_g() * (1 + anew.resin.waste)
            first = next(stage for stage in plan["stages"] if stage["plies"])
            coat = [stage for stage in plan["stages"] if not stage["plies"]]
            if not coat:
                continue
            alone = coat[0]["cups"][0]["mix_resin_g"] > 0
            self.near(first["primes_g"], 0.0 if alone else prime, "primed from the first stage")
            taken += not alone
            if not alone:
                # All of it is mixed in the first stage's cups: needs and left over add up.
                needs = sum(cup["resin_g"] for cup in first["cups"]) + prime
                mixed = sum(cup["mix_resin_g"] - cup["left_g"] for cup in first["cups"])
                self.near(mixed, needs, "mixed in the first stage")
        self.assertGreater(taken, 2)

    @each_dose
    def test_every_dose_can_be_read_off_the_tool_named(self, dose):
        # Doses: half a division at most 5 % of it, and inside hardener_range by half a division.
        _, anew, cup = dose
        tool = cup["hardener_by"]
        self.assertIsNotNone(tool, cup)
        self.assertTrue(anew.resin.hardener_shown(cup["mix_resin_g"], tool["tool"], tool["reading"]), cup)
        poured = cup["resin_by"]
        half = mixing.TOOLS[poured["tool"]][0]
        amount = cup["pour_resin_g" if poured["tool"] == "scale" else "pour_resin_mL"]
        self.assertLessEqual(half, mixing.SHARE * amount + 1e-9, cup)
        self.assertLessEqual(abs(poured["reading"] - amount), half + 1e-9, cup)
        divisions = poured["reading"] / (2 * half)
        self.assertAlmostEqual(divisions, round(divisions), delta=1e-6, msg=cup)

    @each_dose
    def test_the_basis_of_the_data_sheet_comes_first(self, dose):
        _, anew, cup = dose
        own = [tool for tool in mixing.TOOLS if (tool == "scale") != anew.resin.by_volume]
        shown = [tool for tool in own if anew.resin.hardener_shown(cup["mix_resin_g"], tool)]
        if shown:
            self.assertEqual(cup["hardener_by"]["tool"], shown[0], cup)

    @each_dose
    def test_doses_mixed_belong_to_what_is_poured(self, dose):
        _, anew, cup = dose
        grams, volume, mass, hardener = anew.resin.recipe(cup["mix_resin_g"])
        self.near(cup["pour_resin_g"], grams, "poured")
        self.near(cup["pour_resin_mL"], volume, "poured")
        if not cup["moved_inward"]:
            self.near(cup["mix_hardener_g"], mass, "hardener")
            self.near(cup["mix_hardener_mL"], hardener, "hardener")
        self.near(cup["left_g"], cup["mix_resin_g"] - (cup["mix_resin_g"] - cup["left_g"]), "left")

    def test_a_fixed_ratio_is_kept_to_half_a_percent_by_what_is_read(self):
        count = 0
        for _, anew, cup in self.doses():
            if not anew.resin.epoxy or not anew.resin.by_volume:
                continue
            a, b = anew.resin.parts
            by, of = cup["resin_by"], cup["hardener_by"]
            if "scale" in (by["tool"], of["tool"]):
                continue
            self.assertLessEqual(abs(by["reading"] / of["reading"] / (a / b) - 1), 0.005 + 1e-9, cup)
            count += 1
        self.assertGreater(count, 2)

    @each_plan
    def test_what_is_bought_is_for_all_copies(self, made):
        plan, anew = made.plan, made.anew
        copies, items = made.repair.copies, {item["kind"]: item for item in plan["shopping"]["items"]}
        left = sum(cup["left_g"] for stage in plan["stages"] for cup in stage["cups"])
        test_cup = plan["test_cup"]["mix_resin_g"]
        a, b = anew.resin.parts or (1, 0)
        resin = copies * (plan["totals"]["resin_g"] + left) + test_cup
        share = anew.resin.recipe(1.0)
        item = items["resin"]
        wanted = resin * share[0] if item["unit"] == "g" and share[0] is not None else resin * share[1]
        self.near(item["amount"], wanted, "resin", rel=1e-6)
        self.near(items["fairing"]["amount"], copies * plan["totals"]["fairing_mL"], "fairing")
        cloth = {}
        for roll in plan["rolls"]:
            cloth[roll["fabric"]] = cloth.get(roll["fabric"], 0) + roll["length_mm"] / 1000
        bought = {i["name"]: i["amount"] for i in plan["shopping"]["items"] if i["kind"] == "cloth"}
        self.assertEqual(set(bought), set(cloth))
        for name, metres in cloth.items():
            self.near(bought[name], metres, name)

    @each_plan
    def test_sanding_leaves_the_plies_below_the_fair_surface(self, made):
        # README of quantities, Sanding: H over the floor, the fair surface at D - c; a ply stays when half
        # of it or more does.
        plan, anew = made.plan, made.anew
        height, kept, fair = 0.0, 0, anew.fair_depth()
        for ply in plan["plies"]:
            t = anew.thickness(ply["fabric"])
            kept += fair - height >= 0.5 * t - 1e-9
            height += t
        self.near(plan["totals"]["sanding_mm"], max(0.0, height - fair), "sanding")
        self.near(plan["totals"]["kept_mm"], min(height, fair), "kept")
        self.assertEqual(plan["totals"]["kept_plies"], kept)

    @each_plan
    def test_what_the_command_says_is_what_the_plan_holds(self, made):
        # Every warning on stderr with its code, in the order of the plan; how many plies and templates.
        plan = made.plan
        said = re.findall(r"^warning.* \[([a-z-]+)\]$", made.run.stderr, re.M)
        self.assertEqual(sorted(said), sorted(w["code"] for w in plan["warnings"]))
        count = sum(len(ply["pieces"]) for ply in plan["plies"])
        self.assertIn(f"{len(plan['plies'])} pl", made.run.stderr.splitlines()[-1])
        self.assertIn(f"{count} template", made.run.stderr.splitlines()[-1])


if __name__ == "__main__":
    unittest.main()
