"""Manual pages and completions say what --help says: they are written from the same words."""
import os
import pathlib
import re
import subprocess
import tempfile
import unittest

TEARLINE = pathlib.Path(os.environ["TEARLINE"])
BUILD = pathlib.Path(os.environ["TEARLINE_BUILD"])


def run(*words, **options):
    return subprocess.run([str(word) for word in words], capture_output=True, text=True,
                          check=True, **options).stdout


def words_of(text):
    """Words alone, however lines are broken."""
    return " ".join(text.split())


def shown(page):
    """A page as troff's own marks stand for: what a reader sees."""
    text = re.sub(r"\\f[A-Z]", "", page).replace("\\-", "-").replace("\\&", "").replace("\\e", "\\")
    return words_of(re.sub(r"(?m)^\.[A-Z]+ ?", "", text))


class Manual(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        cls.scratch = tempfile.TemporaryDirectory()
        cls.addClassCleanup(cls.scratch.cleanup)
        cls.folder = pathlib.Path(cls.scratch.name)
        run(BUILD / "cli" / "package" / "tearline-manual", cls.folder)
        cls.commands = re.findall(r"(?m)^  ([a-z]+) {2,}", run(TEARLINE, "--help").split("commands:")[-1])

    def help_of(self, command):
        return run(TEARLINE, command, "--help")

    def test_every_command_has_a_page(self):
        self.assertGreaterEqual(len(self.commands), 6)
        pages = {page.name for page in self.folder.glob("*.1")}
        self.assertEqual(pages, {"tearline.1"} | {f"tearline-{name}.1" for name in self.commands})

    def test_a_page_says_every_word_of_help(self):
        for command in self.commands:
            page = shown((self.folder / f"tearline-{command}.1").read_text(encoding="utf-8"))
            # Entries of help: a name and, behind two blanks or more, its words; usage aside.
            entries = re.split(r"(?m)^  (?=\S)", self.help_of(command))[1:]
            self.assertTrue(entries)
            for entry in entries:
                for part in re.split(r" {2,}", re.sub(r"\n\s*(?=\S)", "  ", entry)):
                    # Headings of groups end an entry.
                    part = words_of(re.sub(r"^(-\w),", r"\1, ", part))
                    if part and not part.endswith(":") and not part.startswith("["):
                        self.assertIn(part, page, f"{command}: {part}")

    def test_bash_offers_commands_options_and_their_choices(self):
        def offered(*words):
            quoted = " ".join(f"'{word}'" for word in words)
            return run("bash", "-c", f"source {self.folder}/tearline.bash; COMP_WORDS=({quoted}); "
                       f"COMP_CWORD={len(words) - 1}; _tearline; echo \"${{COMPREPLY[@]}}\"").split()
        self.assertEqual(offered("tearline", ""), [*self.commands, "-h", "--help", "--version"])
        self.assertEqual(offered("tearline", "pl"), ["plan"])
        self.assertEqual(offered("tearline", "hull", "x.stl", "--unit", "m"), ["mm", "m"])
        self.assertEqual(offered("tearline", "plan", "--format", "svg,d"), ["svg,dxf", "svg,dxf2000"])
        self.assertEqual(offered("tearline", "plan", "--chord"), ["--chord-error"])
        # The printing program's options, by either of its names.
        self.assertEqual(offered("tearline", "print", "out", "--ta"), ["--tables"])
        self.assertEqual(offered("tearline-print", "out", "--ta"), ["--tables"])
        # Files are left to the shell.
        self.assertEqual(offered("tearline", "plan", "jo"), [])

    def test_every_option_is_in_every_shell(self):
        shells = {name: (self.folder / f"tearline.{name}").read_text(encoding="utf-8")
                  for name in ("bash", "zsh", "fish")}
        for command in self.commands:
            for option in set(re.findall(r"(?<![\w-])--([a-zA-Z-]{2,})", re.sub(
                    r"(?m)^ {20,}.*$", "", self.help_of(command)))):
                for name, text in shells.items():
                    self.assertRegex(text, f"-l {option}\\b" if name == "fish" else f"--{option}\\b")


if __name__ == "__main__":
    unittest.main(verbosity=2)
