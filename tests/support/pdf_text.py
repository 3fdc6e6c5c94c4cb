"""What a PDF says, read by a program that is not ours."""

import subprocess

# Which letters a font joins hangs on the fonts of the machine; they are read as the letters they are.
LIGATURES = {"\ufb00": "ff", "\ufb01": "fi", "\ufb02": "fl", "\ufb03": "ffi", "\ufb04": "ffl"}


def text_of(pdf, *options):
    text = subprocess.run(["pdftotext", *options, str(pdf), "-"], capture_output=True, check=True,
                          text=True).stdout
    for joined, letters in LIGATURES.items():
        text = text.replace(joined, letters)
    return text
