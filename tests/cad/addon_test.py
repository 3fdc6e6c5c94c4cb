#!/usr/bin/env python3
"""The add-on as it is packed and installed, without FreeCAD."""
import ast
import json
import os
import pathlib
import re
import shutil
import subprocess
import tempfile
import unittest
import zipfile

PLUGIN = pathlib.Path(os.environ["TEARLINE_SOURCE"]) / "cad-plugin"
TRANSLATIONS = PLUGIN / "resources" / "translations"


class Addon(unittest.TestCase):
    def setUp(self):
        temporary = tempfile.TemporaryDirectory()
        self.addCleanup(temporary.cleanup)
        self.folder = pathlib.Path(temporary.name)

    def install(self, *words, **environment):
        home = self.folder / "home"
        home.mkdir(exist_ok=True)
        bare = {key: value for key, value in os.environ.items()
                if key not in ("FREECAD_USER_HOME", "XDG_DATA_HOME")}
        return subprocess.run([PLUGIN / "install", *words], capture_output=True, text=True,
                              check=False, env={**bare, "HOME": str(home), **environment})

    def test_the_archive_has_package_and_licence_at_its_root(self):
        for name in ("one.zip", "two.zip"):
            subprocess.run([PLUGIN / "pack", self.folder / name], check=True, capture_output=True)
        self.assertEqual((self.folder / "one.zip").read_bytes(),
                         (self.folder / "two.zip").read_bytes(), "the same files, the same bytes")
        names = zipfile.ZipFile(self.folder / "one.zip").namelist()
        for wanted in ("package.xml", "LICENSE", "Init.py", "InitGui.py", "README.md",
                       "tearline_cad/workbench.py", "resources/icons/tearline.svg",
                       "resources/translations/Tearline_de.qm"):
            self.assertIn(wanted, names)
        self.assertFalse([name for name in names if "__pycache__" in name])

    def test_install_finds_the_folders_of_every_version(self):
        base = self.folder / "home" / ".local" / "share" / "FreeCAD"
        # Version 1.1 and later keep what is theirs in a folder of their own (FreeCAD's release notes,
        # from memory).
        (base / "v1-1").mkdir(parents=True)
        flat = self.folder / "home" / ".var" / "app" / "org.freecad.FreeCAD" / "data" / "FreeCAD"
        flat.mkdir(parents=True)
        told = self.install("--list").stdout.split()
        self.assertEqual(told, [str(each / "Mod" / "Tearline") for each in (base, base / "v1-1", flat)])
        self.assertEqual(self.install().returncode, 0)
        for each in (base, base / "v1-1", flat):
            self.assertTrue((each / "Mod" / "Tearline" / "InitGui.py").is_file())
        self.install("--remove")
        self.assertFalse((base / "Mod" / "Tearline").exists())

    def test_install_has_help_and_refuses_what_it_does_not_know(self):
        self.assertEqual(self.install("--help").returncode, 0)
        self.assertIn("--list", self.install("--help").stdout)
        self.assertEqual(self.install("--no-such").returncode, 2)

    def test_what_qt_reads_is_made_of_the_catalogues(self):
        # When this fails: cad-plugin/resources/translations/make
        copy = self.folder / "cad-plugin"
        shutil.copytree(PLUGIN, copy, ignore=shutil.ignore_patterns("__pycache__"))
        subprocess.run(["python3", copy / "resources" / "translations" / "make"], check=True)
        before = {path.name: path.read_bytes() for path in TRANSLATIONS.glob("*.qm")}
        self.assertEqual(len(before), 2)
        for name, data in before.items():
            self.assertEqual((copy / "resources" / "translations" / name).read_bytes(), data, name)

    def test_every_word_of_the_workbench_is_translated(self):
        told = subprocess.run(["python3", TRANSLATIONS / "make", "--words"], check=True, capture_output=True, text=True)
        said = json.loads(told.stdout)
        self.assertGreater(len(said), 600)  # counted when the list was made: it must not fall silent
        for language in ("de", "fr"):
            known = json.loads((TRANSLATIONS / f"{language}.json").read_text(encoding="utf-8"))
            self.assertEqual([words for words in said if words not in known], [], language)

    def test_every_warning_of_the_engine_has_a_heading(self):
        source = PLUGIN.parent / "core"
        codes = {code for path in [*(source / "warnings").glob("of_*.h"), source / "boat" / "tell.cpp"]
                 for code in re.findall(r'"([a-z]+(?:-[a-z]+)+)"', path.read_text(encoding="utf-8"))}
        self.assertGreater(len(codes), 90)  # counted when this was written: it must not fall silent
        tree = ast.parse((PLUGIN / "tearline_cad" / "document" / "warning_headings.py").read_text(encoding="utf-8"))
        table = next(node.value for node in tree.body if isinstance(node, ast.Assign))
        self.assertEqual({key.value for key in table.keys}, codes | {"slivers"})

    def test_translations_keep_what_is_filled_in(self):
        for language in ("de", "fr"):
            known = json.loads((TRANSLATIONS / f"{language}.json").read_text(encoding="utf-8"))
            self.assertEqual([words for words, told in known.items() if words.count("{}") != told.count("{}")], [])

    def test_what_is_shown_goes_through_the_catalogue(self):
        shown = {"QLabel", "QPushButton", "QCheckBox", "setText", "setToolTip", "setWindowTitle", "setLabelText",
                 "QProgressDialog", "warning", "question", "PrintError", "openTransaction", "getOpenFileName"}

        def bare(node):
            """Words of a call, or of an error, that no tr() is around."""
            if isinstance(node, ast.Call) and getattr(node.func, "id", "") == "tr":
                return
            if isinstance(node, ast.Constant) and isinstance(node.value, str) and re.search(r"[^\W\d_]{3} ", node.value):
                yield node.value
            for inner in ast.iter_child_nodes(node):
                yield from bare(inner)

        found = []
        for path in sorted((PLUGIN / "tearline_cad").rglob("*.py")):
            for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
                name = getattr(getattr(node, "func", None), "id", getattr(getattr(node, "func", None), "attr", ""))
                if isinstance(node, ast.Raise) and node.exc is not None or isinstance(node, ast.Call) and name in shown:
                    found += [f"{path.name}: {words}" for words in bare(node)]
        # The last says what a programmer has done wrong.
        self.assertEqual(sorted(set(found)), ["fields.py: no widget for "])

    def test_icons_are_seen_on_light_and_on_dark(self):
        # WCAG 2's contrast of what an icon's lines are drawn in, on FreeCAD's light and dark panels.
        def light(colour):
            parts = [int(colour[k:k + 2], 16) / 255 for k in (1, 3, 5)]
            linear = [x / 12.92 if x <= 0.03928 else ((x + 0.055) / 1.055) ** 2.4 for x in parts]
            return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]

        def contrast(one, other):
            low, high = sorted((light(one), light(other)))
            return (high + 0.05) / (low + 0.05)

        for path in (PLUGIN / "resources" / "icons").glob("*.svg"):
            lines = set(re.findall(r'stroke="(#[0-9a-f]{6})"', path.read_text(encoding="utf-8")))
            # The best-seen line of an icon carries its form.
            best = max(min(contrast(line, paper) for paper in ("#efefef", "#31363b")) for line in lines)
            self.assertGreater(best, 2.5, path.name)

    def test_both_catalogues_hold_the_same_words(self):
        words = [set(json.loads((TRANSLATIONS / f"{name}.json").read_text(encoding="utf-8")))
                 for name in ("de", "fr")]
        self.assertEqual(words[0], words[1])
        self.assertGreater(len(words[0]), 150)


if __name__ == "__main__":
    unittest.main(verbosity=2)
