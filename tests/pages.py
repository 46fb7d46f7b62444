#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Every figure as PDF and PNG, read back by programs that are not ours.

usage: pages.py FUNICLE SOURCE_DIR [EVERY: one model of so many, 1]

The PDF is tagged, its fonts are in it, every word of the SVG can be read in it, and the same figure is the same
file; with SOURCE_DATE_EPOCH its date is that one; on letter paper its page is one. The PNG is as large as its sheet and not empty.
"""
import glob
import os
import re
import struct
import subprocess
import sys
import tempfile
from xml.etree import ElementTree

# drawn as curves and as maps too
VARIED = {
    "basket-sling.xml": [("--of", "log.weight=100..600 kg", "--steps", "6")],
    "floating-redirect.xml": [("--of", "long.reach=1..6 m"), ("--of", "long.reach=1..6 m", "--of", "top.height=8..12 m", "--steps", "7")],
    "three-legs.xml": [("--of", "hub.x=-1..4 m", "--of", "hub.y=5..8 m", "--part", "ash", "--steps", "5")],
}

TEXT = "{http://www.w3.org/2000/svg}text"


def run(*words, **more):
    return subprocess.run(words, capture_output=True, text=True, encoding="utf-8", timeout=120, **more)


def words_of(text):
    return "".join(text.split())


def look_at(program, verb, model, folder, *more):
    """What is wrong with the figure in its three forms."""
    def draw(name, *options, **environment):
        path = os.path.join(folder, name)
        done = run(program, verb, model, *more, *options, "-o", path, env=dict(os.environ, **environment))
        return path if done.returncode in (0, 1, 4, 5) and os.path.exists(path) else None

    svg, pdf, png = draw("figure.svg"), draw("figure.pdf"), draw("figure.png")
    if not (svg and pdf and png):
        yield "is not drawn"
        return
    told = run("pdfinfo", pdf).stdout
    if not re.search(r"^Tagged: +yes$", told, re.M):
        yield "the PDF is not tagged"
    if not re.search(r"^Title: +\S", told, re.M):
        yield "the PDF has no title"
    fonts = run("pdffonts", pdf).stdout.splitlines()[2:]
    if not fonts or any(line.split()[-5] != "yes" for line in fonts):
        yield "a font is not in the PDF"
    read = words_of(run("pdftotext", "-raw", pdf, "-").stdout)
    for text in ElementTree.parse(svg).iter(TEXT):
        if words_of(text.text or "") not in read:
            yield f"the PDF does not say {text.text!r}"
    with open(pdf, "rb") as first, open(draw("again.pdf"), "rb") as second:
        if first.read() != second.read():
            yield "two PDFs of one figure differ"
    dated = run("pdfinfo", "-isodates", draw("dated.pdf", SOURCE_DATE_EPOCH="1700000000")).stdout
    if "2023-11-14T22:13:20" not in dated:
        yield "the date is not SOURCE_DATE_EPOCH"
    letter = run("pdfinfo", draw("letter.pdf", "--paper", "letter")).stdout
    if not re.search(r"^Page size: +(612 x 792|792 x 612) pts", letter, re.M):
        yield "with --paper letter it is no letter"
    with open(png, "rb") as file:
        head = file.read(24)
        size = file.seek(0, 2)
    width, height = struct.unpack(">II", head[16:24])
    if {round(width * 25.4 / 200), round(height * 25.4 / 200)} != {297, 210} or size < 8000:
        yield f"the PNG has {width} x {height} dots, {size} bytes"


def main():
    program, source = sys.argv[1:3]
    every = int(sys.argv[3]) if len(sys.argv) > 3 else 1
    count = wrong = 0
    models = [m for m in sorted(glob.glob(os.path.join(source, "models", "*.xml"))) if not m.endswith("yard.xml")]
    with tempfile.TemporaryDirectory() as folder:
        for model in models[::every]:
            with open(model, encoding="utf-8") as file:
                text = file.read()
            nodes = re.findall(r'<(?:piece|block|ring) +id="([^"]+)"[^>]* x="', text)
            stems = re.findall(r'<stem +id="([^"]+)"', text)
            varied = VARIED.get(os.path.basename(model), ())
            sheets = [("draw", ()), ("draw", ("--node", nodes[0])), *(("draw", ("--stem", id)) for id in stems[:1])]
            for verb, more in sheets + [(verb, of) for of in varied for verb in ("vary", "place")]:
                count += 1
                for words in look_at(program, verb, model, folder, *more):
                    wrong += 1
                    print(f"{os.path.basename(model)} {verb} {' '.join(more)}: {words}")
                for name in os.listdir(folder):
                    os.remove(os.path.join(folder, name))
    print(f"{count} figures, {wrong} faults")
    return 1 if wrong or count < 5 else 0


if __name__ == "__main__":
    sys.exit(main())
