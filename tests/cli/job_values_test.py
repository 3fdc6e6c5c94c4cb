#!/usr/bin/env python3
"""A job file said in other ways is the same job, and every figure in it arrives as what it is: keys in any
order, inline tables, other units, other line ends; each value in plan.json's effective job by definition; each
key misspelt is met with its right name and its line."""
import json
import math
import pathlib
import random
import re
import sys
import unittest

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1] / "support"))
from engine import Engine, parts  # noqa: E402
from random_repairs import SAMPLES, START, Repair  # noqa: E402

INCH, POUND, FOOT = 25.4, 453.59237, 304.8  # international yard and pound, 1959
PSI = 0.45359237 * 9.80665 / 25.4 ** 2  # MPa
PANEL = SAMPLES / "panel.step"
# Every key with a value that is no default, as a person writes it, and what it is.
VALUES = {
    "": {"title": ('"Ölüdeniz #3"', "Ölüdeniz #3"), "display_units": ('"us"', "us")},
    "hull": {"surface": ('"outside"', "outside"), "skin": ('"3/8 in"', 3 / 8 * INCH),
             "outward": ('"as modelled"', "as modelled"), "mirror": ("false", False)},
    "damage": {"depth": ('"0.11 in"', 0.11 * INCH), "radius": ('"4.4 cm"', 44.0), "side": ('"outside"', "outside")},
    "scarf": {"ratio": ("10", 10.0), "least_step": ('"2 mm"', 2.0), "safety_factor": ("1.75", 1.75),
              "bond_shear": ('"1450 psi"', 1450 * PSI)},
    "layup": {"order": ('"smallest first"', "smallest first"), "cover_step": ('"1.25 in"', 1.25 * INCH),
              "position": ('"vertical"', "vertical"), "copies": ("4", 4)},
    "resin": {"kind": ('"polyester"', "polyester"), "density": ("1.11", 1.11), "cured_density": ("1.22", 1.22),
              "hardener_percent": ("1.6", 1.6), "hardener_range": ("[1.1, 2.2]", [1.1, 2.2]),
              "hardener_density": ("1.05", 1.05), "gel_minutes": ("17", 17.0),
              "least_temperature": ("16", 16.0), "recoat_hours": ("20", 20.0), "waxed": ("true", True),
              "waste": ("0.2", 0.2), "drops_per_mL": ("31", 31.0)},
    "topcoat": {"finish": ('"final"', "final"), "thickness": ('"18 mil"', 18 * INCH / 1000), "density": ("1.3", 1.3),
                "hardener_percent": ("1.9", 1.9), "hardener_range": ("[1.5, 2.5]", [1.5, 2.5])},
    "laminator": {"wet_out_rate": ("0.04", 0.04), "use_fraction": ("0.55", 0.55)},
    "shop": {"temperature": ("21", 21.0), "stage_thickness": ('"1/8 in"', INCH / 8), "cutting_gap": ("7", 7.0),
             "hours_between_stages": ("18", 18.0), "fairing_skim": ("0.4", 0.4)},
}
# Amounts whose effective value is text with its unit: what the figure in it has to be.
AMOUNTS = {("resin", "cup"): ('"8 oz wt"', 8 * POUND / 16), ("resin", "prime"): ('"0.5 oz/ft2"', 0.5 * POUND / 16 / 0.3048 ** 2),
           ("fabric", "weight"): ('"1.5 oz/ft2"', 1.5 * POUND / 16 / 0.3048 ** 2)}
FABRIC = {"glass_content": ("0.31", 0.31), "roll_width": ('"50 in"', 50 * INCH), "tear_margin": ('"3/4 in"', 0.75 * INCH),
          "strain_limit": ("0.04", 0.04), "least_radius": ("9", 9.0), "modulus": ('"1.1 Msi"', 1.1e6 * PSI),
          "tensile_strength": ("88", 88.0)}
FIXED = {"hull": {"model": f'"{PANEL}"', "bow": "[1, 0, 0]", "up": "[0, 0, 1]"}, "damage": {"centre": "[10, 0, -5]"},
         "layup": {"stack": '["mat 450", "mat 450"]', "cover": "[]"},
         "resin": {"gel_at": '{temperature = 21, percent = 1.6, mass = "100 g"}'}}


def whole_job():
    """Tables of keys as texts."""
    tables = {name: {key: text for key, (text, _) in keys.items()} for name, keys in VALUES.items()}
    for name, keys in FIXED.items():
        tables[name].update(keys)
    tables["resin"]["cup"], tables["resin"]["prime"] = (AMOUNTS["resin", key][0] for key in ("cup", "prime"))
    tables["fabric"] = {"name": '"mat 450"', "weight": AMOUNTS["fabric", "weight"][0],
                        **{key: text for key, (text, _) in FABRIC.items()}}
    return tables


def written(tables, end="\n"):
    """As a file with a table a heading."""
    lines = [f"{key} = {text}" for key, text in tables[""].items()]
    for name, keys in tables.items():
        if name:
            lines += [f"[[{name}]]" if name == "fabric" else f"[{name}]"]
            lines += [f"{key} = {text}" for key, text in keys.items()]
    return end.join(lines) + end


def shuffled(tables, number):
    draw = random.Random(START + number)
    names = [name for name in tables if name]
    draw.shuffle(names)
    out = {"": dict(draw.sample(sorted(tables[""].items()), len(tables[""])))}
    for name in names:
        out[name] = dict(draw.sample(sorted(tables[name].items()), len(tables[name])))
    return out


class JobValues(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        print(f"start value {START}")
        cls.engine = Engine()
        cls.whole = cls.plan(written(whole_job()))

    @classmethod
    def tearDownClass(cls):
        assert cls.engine.close() == 0

    @classmethod
    def plan(cls, text, file="job.toml"):
        header, body = cls.engine.ask("plan", text.encode() if isinstance(text, str) else text, file=file)
        assert header["ok"], header
        return parts(header, body)["plan.json"]

    def refused(self, text):
        header, _ = self.engine.ask("plan", text.encode(), file="job.toml")
        self.assertFalse(header["ok"], text)
        self.assertEqual(header["error"], "bad-input")
        return header["message"]

    def test_every_value_arrives_as_what_it_is(self):
        job = json.loads(self.whole)["job"]["effective"]
        for table, keys in VALUES.items():
            for key, (text, wanted) in keys.items():
                got = (job[table] if table else job)[key]
                with self.subTest(key=f"{table}.{key}", text=text):
                    self.same(got, wanted)
        fabric = next(f for f in job["fabric"] if f["name"] == "mat 450")
        for key, (text, wanted) in FABRIC.items():
            with self.subTest(key=f"fabric.{key}", text=text):
                self.same(fabric[key], wanted)
        for (table, key), (text, wanted) in AMOUNTS.items():
            got = (fabric if table == "fabric" else job[table])[key]
            with self.subTest(key=f"{table}.{key}", text=text):
                self.same(float(got.split()[0]), wanted)
                self.assertIn(got.split()[1], ("g", "g/m2"))
        gel = job["resin"]["gel_at"]
        self.assertEqual((gel["temperature"], gel["percent"]), (21.0, 1.6))

    def same(self, got, wanted):
        if isinstance(wanted, float):
            self.assertTrue(math.isclose(got, wanted, rel_tol=1e-9), (got, wanted))
        else:
            self.assertEqual(got, wanted)

    def test_the_order_of_keys_and_tables_is_no_matter(self):
        for number in range(6):
            self.assertEqual(self.plan(written(shuffled(whole_job(), number))), self.whole)

    def test_tables_may_be_written_in_line_or_by_dotted_keys(self):
        tables = whole_job()
        lines = [f"{key} = {text}" for key, text in tables[""].items()]
        for name in ("scarf", "shop", "laminator"):
            lines.append(f"{name} = {{" + ", ".join(f"{k} = {v}" for k, v in tables[name].items()) + "}")
        for name in ("topcoat", "layup"):
            lines += [f"{name}.{key} = {text}" for key, text in tables[name].items()]
        lines.append("fabric = [{" + ", ".join(f"{k} = {v}" for k, v in tables["fabric"].items()) + "}]")
        rest = {"": {}, **{name: tables[name] for name in ("hull", "damage", "resin")}}
        self.assertEqual(self.plan("\n".join(lines) + "\n" + written(rest)), self.whole)

    def test_line_ends_marks_and_comments_are_no_matter(self):
        text = written(whole_job())
        commented = "# of a boat\n" + text.replace("\n", " # so it is\n")
        for other in (written(whole_job(), "\r\n").encode(), b"\xef\xbb\xbf" + text.encode(),
                      commented.encode(), text.replace("\n", "\n\n").encode(), text.replace(" = ", "   =\t").encode()):
            self.assertEqual(self.plan(other), self.whole)

    def test_lengths_in_any_unit_are_the_same_job(self):
        # Exact in binary: halves and quarters of a mm, so that the unit alone could make a difference.
        base = Repair(22).text
        size, depth = 40.0, 2.5
        say = lambda r, d: re.sub(r"radius = .*", f"radius = {r}", re.sub(r"depth = .*", f"depth = {d}", base))  # noqa: E731
        wanted = self.plan(say(size, depth))
        for r, d in (('"40 mm"', '"2.5 mm"'), ('"4 cm"', '"0.25 cm"'), ('"0.04 m"', '"2.5mm"'), ("40.0", "2.5")):
            self.assertEqual(self.plan(say(r, d)), wanted, (r, d))
        inches = json.loads(self.plan(say(f'"{size / INCH!r} in"', f'"{depth / INCH!r} in"')))
        for key in ("glass_g", "resin_g", "laid_thickness_mm"):
            self.assertTrue(math.isclose(inches["totals"][key], json.loads(wanted)["totals"][key], rel_tol=1e-7))

    def test_weights_in_any_unit_are_the_same_job(self):
        base = Repair(22).text + '[[fabric]]\nname = "house"\nkind = "mat"\nweight = {}\n'
        base = re.sub(r"stack = .*", 'stack = ["house", "house"]', base)
        plans = [json.loads(self.plan(base.replace("{}", text))) for text in (
            '"450 g/m2"', '"0.45 kg/m2"', '"450 gsm"', f'"{450 / (POUND / 16 / 0.3048 ** 2)!r} oz/ft2"',
            f'"{450 / (POUND / 16 / 0.9144 ** 2)!r} oz/yd2"')]
        for plan in plans[1:]:
            for key in ("glass_g", "resin_g", "laid_thickness_mm"):
                self.assertTrue(math.isclose(plan["totals"][key], plans[0]["totals"][key], rel_tol=1e-6), key)

    def test_what_is_not_given_is_as_if_its_default_were(self):
        # SOURCES.md section 10: the very defaults, written out.
        base = Repair(1).text
        self.assertNotIn("[laminator]", base)
        wanted = json.loads(self.plan(base))
        said = json.loads(self.plan(base + "[laminator]\nwet_out_rate = 0.05\nuse_fraction = 0.6\n[shop]\n"
                                    "temperature = 20\nstage_thickness = 4.3\ncutting_gap = 5\nfairing_skim = 0.3\n"))
        for key in ("plies", "stages", "totals", "rolls", "grind_guide"):
            self.assertEqual(said[key], wanted[key], key)

    def test_a_key_misspelt_is_met_with_its_name_and_line(self):
        # Each key without one of its letters, where that is no other key.
        tables = whole_job()
        known = {key for keys in tables.values() for key in keys}
        count = 0
        for name, keys in tables.items():
            for key in keys:
                if len(key) < 4:
                    continue
                wrong = key[:2] + key[3:]
                if wrong in known:
                    continue
                # Beside the right one: its letters are all that is wrong.
                text = written({**tables, name: {**keys, wrong: keys[key]}})
                line = 1 + text.splitlines().index(f"{wrong} = {keys[key]}")
                said = self.refused(text)
                with self.subTest(key=f"{name}.{key}"):
                    self.assertIn(f"job.toml:{line}:", said)
                    self.assertIn(wrong, said)
                    self.assertRegex(said, rf"\b{key}\b")
                count += 1
        self.assertGreater(count, 55)

    def test_a_table_misspelt_is_met_with_its_name(self):
        tables = whole_job()
        for name in ("scarf", "layup", "resin", "topcoat", "laminator", "shop", "damage"):
            text = written({(n if n != name else name[:-1]): keys for n, keys in tables.items()})
            self.assertRegex(self.refused(text), rf"\b{name}\b")

    def test_a_value_of_another_kind_is_refused_where_it_stands(self):
        # A number for words, words for a number, a list for one value, nothing that is a number.
        tables = whole_job()
        for name, keys in VALUES.items():
            for key, (_, value) in keys.items():
                bad = {bool: '"yes"', int: '"four"', float: "[1]", str: "3", list: "1.5"}[type(value)]
                if key == "title":
                    bad = "[]"
                text = written({**tables, name: {**tables[name], key: bad}})
                line = 1 + text.splitlines().index(f"{key} = {bad}")
                said = self.refused(text)
                with self.subTest(key=f"{name}.{key}", said=said):
                    self.assertIn(f"job.toml:{line}: {name + '.' if name else ''}{key}", said)

    def test_numbers_that_are_none_are_refused(self):
        tables = whole_job()
        for name, key in (("scarf", "ratio"), ("damage", "depth"), ("resin", "waste"), ("shop", "temperature"),
                          ("topcoat", "density"), ("laminator", "wet_out_rate")):
            for bad in ("nan", "inf", "-inf"):
                said = self.refused(written({**tables, name: {**tables[name], key: bad}}))
                self.assertIn(f"{name}.{key}", said)


if __name__ == "__main__":
    unittest.main()
