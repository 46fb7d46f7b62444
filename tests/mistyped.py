#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""What people mistype, name twice, draw impossibly or give the wrong name to: each with its exit code and its sentence.

usage: mistyped.py FUNICLE SOURCE_DIR

Numbers, units, names, drawings, what cannot stand still, text that means something elsewhere, files and the command
line. A refusal names the file, the line, the value and what would be read; what was there before stays as it was.
"""
import csv
import html.parser
import io
import json
import os
import re
import signal
import subprocess
import sys
import tempfile
import time
import xml.etree.ElementTree

import checks

HEAD = '<rigging xmlns="urn:funicle:rigging" format="1">\n'
ANCHOR = '<anchor id="a" x="0 m" y="5 m"/>\n'
PIECE = '<piece id="p" x="0 m" y="2 m" weight="100 kg"/>\n'
LINE = '<line id="l"><tie at="a"/><tie at="p"/></line>\n'
COMMA = "a comma is not read: decimals have a point, thousands nothing, 1250.5"
FRACTION = "a fraction is not read: write it in decimals, 5/8 is 0.625 and 1 1/2 is 1.5"
PARTED = "figures are not parted: write 1250, not 1 250"
NO_NUMBER = "this does not begin with a number: a force or weight is due, such as 12 kN, 320 kg or 450 lb"
ODD_SPACE = "the space before the unit is not a plain space"
POWER = "a power of ten is written with a small e and figures, such as 1e3"
ONE_VALUE = "one value is due, not a range"
MORE = "there is more than one quantity here"

WEIGHTS = (  # as written, what is said; None: it is read
    ("1,5 kg", "a decimal comma is not read: write 1.5 kg"),
    ("1,250 kg", "a comma is not read: write 1250 kg if it parts the thousands, 1.250 kg if it is a decimal one"),
    ("1,000.5 kg", COMMA), ("1.000,5 kg", COMMA),
    ("1.5kN", None), ("+1 kg", None), ("1e+2 kg", None), ("5e2 lb", None), ("1e-300 kg", None), ("-0 kg", None),
    ("0x10 kg", "hexadecimal is not read"), ("1e kg", POWER), ("1E2 kg", POWER),
    ("1e400 kg", "the number is too large to work with"), ("1e-320 kg", "the number is too small to work with"),
    ("INF kg", NO_NUMBER), ("NaN kg", NO_NUMBER), ("nan", NO_NUMBER), ("\u221e kg", NO_NUMBER), ("~100 kg", NO_NUMBER),
    ("ca. 100 kg", NO_NUMBER), ("--1 kg", NO_NUMBER), ("kg", NO_NUMBER), ("\u0663 kg", NO_NUMBER),
    (".5 kg", "a number begins with a figure: write 0.5, not .5"),
    ("1. kg", "a point needs a figure behind it: write 1 or 1.0, not 1."),
    ("\uff11 kg", "the figures are not plain ones: type 0 to 9"),
    ("1\u2009kg", ODD_SPACE), ("1\u00a0kg", ODD_SPACE), ("1\u202fkg", ODD_SPACE), ("1\u200bkg", ODD_SPACE),
    ("1 250 kg", PARTED), ("1'250 kg", PARTED), ("1_250 kg", PARTED), ("1\u2019250 kg", PARTED), ("1\u2009250 kg", PARTED),
    ("1/2 t", FRACTION), ("1 1/2 t", FRACTION), ("\u00bd t", FRACTION),
    ("1" * 400 + " kg", "a number has at most 60 characters"),
    ("100..200 kg", ONE_VALUE), ("1 kg..2 kg", ONE_VALUE), ("100 kg 200 kg", MORE), ("100 kg \u00b1 5", MORE), ("100 N m", MORE),
    ("1.5.5 kg", "the unit . is not known"), ("-5 kg", "it must be"), ("", "this is empty: a force or weight is due"),
    ("100", "there is no unit: a force or weight is due"), ("100 m", "this is a length where a force or weight is due"),
    ("100 KG", "the unit KG is not known; did you mean kg?"), ("100 lbs", "did you mean lb?"), ("100 tonne", "did you mean t?"),
    ("100 kilograms", "did you mean kg?"), ("100 kgf", "did you mean kg?"), ("100 T", "did you mean t?"),
    ("100 ton", "a ton has several sizes"), ("100 daN", "daN is not read: 1 daN is 10 N, 100 daN are 1 kN"),
    ("100 g", "1000 g are 1 kg"), ("100 oz", "16 oz are 1 lb"), ("100 st", "1 stone is 14 lb"), ("100 cwt", "has several sizes"),
    ("100 '", "the unit ' is not known: a force or weight is due"), ("100 kN/m", "the unit kN/m is not known"),
)
HEIGHTS = (
    ("5 ft 6 in", None), ("5ft6in", None), ("500 cm", None),
    ("5", "there is no unit: a length is due, such as 3.5 m or 12 ft 6 in"), ("5 kg", "this is a weight where a length is due"),
    ("5 deg", "this is an angle where a length is due"), ("5 M", "did you mean m?"), ("5' 6&quot;", "did you mean ft?"),
    ("5 ft 6", "behind feet stand inches below 12"), ("5 ft 13 in", "behind feet stand inches below 12"),
    ("5.5 ft 6 in", "feet before inches are whole"), ("5 m 20 cm", MORE), ("5 5/8 in", FRACTION), ("5/8 in", FRACTION),
    ("5 yd", "1 yd is 3 ft"), ("5 mi", "write feet, or m"), ("5 dm", "1 dm is 10 cm"), ("5 \u00b5m", "is written 0.001 mm"),
    ("5 px", "px needs the scale of the photo"), ("500 \u339d", "did you mean cm?"), ("5 metres", "did you mean m?"),
    ("1e9 m", "a: y is 1000000000 m; it must be at most 10000000 m"),
    ("-1e9 m", "a: y is -1000000000 m; it must be at least -10000000 m"),
)
DIRECTIONS = (
    ("left", None), ("30 deg", None), ("0.5 rad", None), ("30deg left of down", None), ("20 deg below right", None),
    ("30", "there is no unit: an angle is due"), ("30\u00b0", "did you mean deg?"), ("30 degrees", "did you mean deg?"),
    ("30 gon", "100 gon are 90 deg"), ("LEFT", "a direction is due"), ("dwon", "a direction is due"),
    ("30 deg off plumb", "a direction is due"), ("400 deg", "from -360 to 360 deg; this is 400 deg"),
    ("30 rad", "this is 1719 deg"), ("-30 deg left of down", "from 0 to 90 deg; this is -30 deg"),
    ("30'", "the unit ' is not known: an angle is due"), ("5 m", "this is a length where an angle is due"),
)
ODD = "is none of them, whatever it looks like"
NAMES = (  # what stands in the model, exit, what is said
    (ANCHOR + PIECE + LINE.replace('"a"', '"q"'), 3, 'at="q": nothing is called that; it must name an <anchor>'),
    (ANCHOR.replace('"a"', '"anchor"') + PIECE + LINE.replace('"a"', '"ancor"'), 3, "did you mean anchor?"),
    (ANCHOR.replace('"a"', '"Top"') + PIECE + LINE.replace('"a"', '"top"'), 3, "nothing is called that; did you mean Top?"),
    (ANCHOR + ANCHOR.replace('"a"', '"A"').replace("5 m", "6 m") + PIECE + LINE, 3, 'id="A": only capitals tell it from a in line 2'),
    (ANCHOR + ANCHOR + PIECE + LINE, 3, 'id="a": this name is taken by the <anchor> in line 2'),
    (ANCHOR.replace('"a"', '"\u0430"') + PIECE + LINE, 3, "its character 1 " + ODD + " (U+0430)"),
    (ANCHOR.replace('"a"', '"caf\u00e9"') + PIECE + LINE, 3, "its character 4 " + ODD + " (U+00E9)"),
    (ANCHOR.replace('"a"', '"cafe\u0301"') + PIECE + LINE, 3, "its character 5 " + ODD + " (U+0301)"),
    (ANCHOR.replace('"a"', '"\uff41"') + PIECE + LINE, 3, "its character 1 " + ODD + " (U+FF41)"),
    (ANCHOR + PIECE + LINE.replace('"a"', '"\u0430"'), 3, "names are of letters a to z; its character 1 " + ODD + " (U+0430)"),
    (ANCHOR + PIECE + LINE + '<case id="c" after="c"/>', 3, "c: follows itself, by way of c"),
    (ANCHOR + PIECE + LINE + '<case id="c" after="d"/><case id="d" after="c"/>', 3, "c: follows itself, by way of d"),
    ('<stem id="s" on="r" height="2 m"/><stem id="r" on="s" height="2 m"/>' + ANCHOR + PIECE + LINE, 3, "grows from itself"),
    (ANCHOR + PIECE + '<sling id="l" from="p" to="p"/>', 3, "l: comes to p twice in a row"),
    (ANCHOR + PIECE + LINE.replace('id="l"', 'id="l" gear="a"'), 3, 'gear="a": that is an <anchor> (line 2); it must be an item'),
    (ANCHOR + PIECE + LINE.replace('at="a"', 'at="l"'), 3, 'at="l": that is a <line> (line 4)'),
    # drawings
    (ANCHOR + PIECE.replace("2 m", "5 m") + LINE, 3, "l: a and p are at the same place"),
    (ANCHOR + PIECE.replace("2 m", "4.999999999999 m") + LINE, 3, "l: a and p are at the same place"),
    (ANCHOR + PIECE + LINE.replace('<tie at="p"', '<through at="a"/><tie at="p"'), 3, "l: comes to a twice in a row"),
    ('<gear><item id="g" kind="ring" tread="40 mm"/></gear><ring id="r" x="0 m" y="3 m" gear="g"/>' + ANCHOR + PIECE +
     LINE.replace('<tie at="p"', '<through at="r"/><tie at="p"'), 3, "l: runs dead straight through r: say on which side"),
    # what cannot stand still, and what is not there
    (ANCHOR + PIECE + LINE + '<piece id="q" x="3 m" y="3 m" weight="1 kg"/>', 4, "nothing holds the q"),
    (PIECE + PIECE.replace('"p"', '"a"').replace("2 m", "5 m") + LINE, 4, "nothing holds the p"),
    (ANCHOR + PIECE.replace(' weight="100 kg"', "") + LINE, 1, "the weight of p is not given"),
    (ANCHOR + PIECE.replace("100 kg", "0 kg") + LINE, 0, "p weighs nothing? A weight that is not known is better left out"),
    (ANCHOR + PIECE.replace("2 m", "8 m") + LINE, 1, "p falls 6.01 m before its line holds"),
    ('<anchor id="a" x="0 m" y="0 m"/>' + PIECE + '<prop id="l" from="a" to="p"/>', 4, "l would topple"),
    ('<hand id="a" x="0 m" y="5 m"/>' + PIECE + '<line id="l"><tie at="p"/><hold at="a" pull="10 N"/></line>', 4,
     "p would fall: the pull of 10.0 N cannot carry 981 N"),
    (ANCHOR + PIECE, 3, "no rope and nothing else to solve"), ("", 3, "no rope and nothing else to solve"),
    ('<gear><item id="g" kind="rope" stiffness="0 N"/></gear>' + ANCHOR + PIECE + LINE, 3, 'stiffness="0 N": it must be more than 0'),
    ('<gear><item id="g" kind="rope" strength="1e-11 N"/></gear>' + ANCHOR + PIECE + LINE, 3,
     "g: strength is 0.00000000001 N; it must be at least 0.000000001 N"),
    ('<gear><item id="g" kind="block" efficiency="0.009"/></gear>' + ANCHOR + PIECE + LINE, 3,
     'efficiency="0.009": it must be from 0.01 to 1'),
    ('<gear><item id="g" kind="rope"><stretch load="1 kN" by="10.1"/></item></gear>' + ANCHOR + PIECE + LINE, 3,
     'by="10.1": it must be more than 0, at most 10'),
)

# text that is something else to somebody else
TEXTS = ("<script>alert(1)</script>", '"><img src=x onerror=alert(1)>', "%s%n%x%d", "=cmd()", "+SUM(1)", "@x", "-1+2", "../../x",
         "]]>", "a\u202egnp.exe\u202c b", "\u2066x\u2069", "a\u200fb", "log \U0001F332", "a\nb\n=x", "a\tb", "a\u009b31mred",
         "a\u2028b\u2029c", "a\"b'c,d;e", "&amp;&lt;", "x" * 4000, "a" + "\u0301" * 200, '\\" \\u0000 \\n', "| **b** [x](y) `c`",
         "\u05e9\u05dc\u05d5\u05dd")
# what turns a terminal, a page or the order of reading; a line break is one of them inside a value
TURNS = re.compile("[\x00-\x08\x0b-\x1f\x7f-\x9f\u200e\u200f\u2028-\u202e\u2066-\u2069]")


def escaped(text):
    for character, entity in (("&", "&amp;"), ("<", "&lt;"), (">", "&gt;"), ('"', "&quot;"), ("\n", "&#10;"), ("\t", "&#9;")):
        text = text.replace(character, entity)
    return text


def texts_model(text):
    e = escaped(text)
    return f'''<rigging xmlns="urn:funicle:rigging" format="1" title="{e}">
<note topic="{e}">{e}</note>
<gear design-factor="10"><item id="g" kind="rope" diameter="12 mm" strength="40 kN" serial="{e}"/></gear>
<stem id="oak" x="0 m" y="0 m" species="{e}" strength-like="{e}"><section height="0 m" diameter="0.4 m"/></stem>
{ANCHOR}{PIECE}<anchor id="k" on="oak" height="3 m"/><sling id="s" from="k" to="p" hitch="{e}" gear="g"/>
<line id="l" gear="g"><tie at="a" knot="{e}"/><tie at="p" knot="{e}"/></line>
<case id="c" title="{e}"/></rigging>'''


class Page(html.parser.HTMLParser):
    """The elements of a page, and what of it runs."""

    def __init__(self, text):
        super().__init__()
        self.tags, self.runs = set(), []
        self.feed(text)

    def handle_starttag(self, tag, attributes):
        self.tags.add(tag)
        self.runs += [name for name, _ in attributes if name.startswith("on")]


class Mistyped(checks.Checks):
    def ends(self, what, code, said, *words, text=None):
        done = self.run(*words, text=text)
        told = " ".join((done.stdout + done.stderr).decode(errors="replace").split())
        self.holds(f"{what}: ends with {done.returncode}, not {code}", done.returncode == code, told)
        self.holds(f"{what}: does not say: {said}", said in told, told)
        return done


def models(c):
    whole = HEAD + ANCHOR + PIECE + LINE + "</rigging>\n"
    cases = '<case id="c"><force at="p" size="1 N" toward="left"/></case>\n'
    for values, before, tail in ((WEIGHTS, "100 kg", ""), (HEIGHTS, "5 m", ""), (DIRECTIONS, "left", cases)):
        text = whole.replace("</rigging>", tail + "</rigging>")
        for value, said in values:
            path = c.write("model.xml", text.replace(f'"{before}"', f'"{value}"'))
            done = c.run(path)
            told = done.stderr.decode(errors="replace")
            line = text[:text.index(f'"{before}"')].count("\n") + 1
            if said is None:
                c.holds(f"{value} is read", done.returncode in (0, 1, 4) and not told, told)
                continue
            c.holds(f"{value}: ends with {done.returncode}", done.returncode == 3 and not done.stdout, told)
            c.holds(f"{value}: does not say in line {line}: {said}",
                    any(one.startswith(f"{path}:{line}: error: ") and said in one for one in told.split("\n")), told)
    for body, code, said in NAMES:
        done = c.ends(body, code, said, c.write("model.xml", HEAD + body + "</rigging>\n"))
        if code == 3:
            c.holds(f"{body}: is refused with a line", re.search(r"model\.xml:\d+: error: ", done.stderr.decode()), done.stderr)
    c.holds("enough values", len(WEIGHTS) + len(HEIGHTS) + len(DIRECTIONS) + len(NAMES) >= 125)


def look_at_text(c, text, verb, done, content):
    what = f"{text[:30]!r} in {' '.join(verb)}"
    c.holds(f"{what}: ends with {done.returncode}", done.returncode in (0, 1), done.stderr)
    shown = content.decode()
    c.holds(f"{what}: turns something", not TURNS.search(shown) and not TURNS.search(done.stderr.decode()), TURNS.findall(shown))
    if "json" in verb:
        title = json.loads(shown)["model"]["title"]
        c.holds(f"{what}: another title", title == TURNS.sub("?", text.replace("\n", "?").replace("\t", "?")), title)
    elif "csv" in verb:
        rows = list(csv.reader(io.StringIO(shown)))
        c.holds(f"{what}: rows differ in width", len({len(row) for row in rows}) == 1)
        c.holds(f"{what}: a cell would be computed", not any(re.match("[=+@\t\r]|-[^0-9]", cell) for row in rows for cell in row))
    elif verb[0] == "draw":
        tags = {e.tag.split("}")[1] for e in xml.etree.ElementTree.fromstring(content).iter()}
        c.holds(f"{what}: {tags} are drawn", not tags & {"script", "img", "image", "foreignObject"})
    elif verb[-1].endswith(".html"):
        page = Page(shown)
        c.holds(f"{what}: something runs", not page.tags & {"script", "img", "iframe"} and not page.runs, page.tags)


def texts(c):
    verbs = (["solve"], ["solve", "--format", "json"], ["solve", "--format", "csv"], ["check"], ["check", "--format", "json"],
             ["draw"], ["explain"], ["report", "-o", "page.html"], ["report"])
    for text in TEXTS:
        path = c.write("model.xml", texts_model(text))
        for verb in verbs:
            done = c.run(*verb, path)
            if "-o" in verb:
                with open(c.path(verb[-1]), "rb") as file:
                    look_at_text(c, text, verb, done, file.read())
            else:
                look_at_text(c, text, verb, done, done.stdout)
    path = c.write("model.xml", texts_model("a" * 5000))
    c.ends("a title of 5000 letters", 3, "error: ", path)
    for word in ("\x1b[31mred.xml", "a\u202egnp.xml", "a\nb.xml"):
        for words in ((word,), ("solve", path, "--" + word), ("solve", "-o", "/no/" + word, c.write("good.xml", HEAD + ANCHOR + PIECE + LINE + "</rigging>")),
                      ("--format", word, path), ("slove", word), ("draw", "--case", word, c.path("good.xml"))):
            done = c.run(*words)
            told = done.stderr.decode(errors="replace")
            c.holds(f"{words!r} turns something", done.returncode >= 2 and not TURNS.search(told) and told.count("\n") <= 2, told)


def names_on_the_line(c):
    """What options name and measure, with something that turns a terminal in it."""
    model = c.write("model.xml", texts_model("plain"))
    for words in (("solve", "--without"), ("draw", "--case"), ("draw", "--node"), ("draw", "--stem"), ("explain", "--node"),
                  ("vary", "--of"), ("place", "--of", "p.x=0..1 m", "--part"), ("scatter", "--between"), ("fall", "--drop"),
                  ("fall", "--drop", "1 m", "--hand"), ("largest", "--piece"), ("solve", "--matters"), ("report", "--since"),
                  ("drill", "--seed"), ("vary", "--of", "p.x=0..1 m", "--steps")):
        for odd in ("\x1b[31m", "1 \x1b[31m", "a\u202eb", "p.x=1..2 \x1b[31m"):
            done = c.run(*words, odd, model)
            told = done.stderr.decode(errors="replace")
            c.holds(f"{words!r} {odd!r}: turns something", done.returncode >= 2 and not TURNS.search(told), told)
    for what, code, said, *words in (
            ("a node in capitals", 2, 'there is no node "P"; did you mean p?', "explain", "--node", "P"),
            ("a stem misspelt", 2, 'there is no stem "oka"; did you mean oak?', "draw", "--stem", "oka"),
            ("a node like none", 2, 'there is no node "elsewhere"', "draw", "--node", "elsewhere"),
            ("a number misspelt", 2, "did you mean p.weight?", "vary", "--of", "p.wieght=1..2 kg"),
            ("a drop without its unit", 2, "--drop: there is no unit", "fall", "--drop", "2"),
            ("a drop with a comma", 2, "write 2.5 m", "fall", "--drop", "2,5 m"),
            ("a range from above", 2, "from the smaller to the larger", "vary", "--of", "p.weight=200..100 kg")):
        c.ends(what, code, said, *words, model)


def command_line(c):
    model = c.write("model.xml", HEAD + ANCHOR + PIECE + LINE + "</rigging>\n")
    help_text = c.run("--help").stdout.decode()
    takes = {}
    for word, value in re.findall(r"(--[a-z-]+) ?([A-Za-z|.=0-9\"]*)", help_text[help_text.index("\noptions"):help_text.index("\nexit")]):
        takes.setdefault(word, value)
    c.holds("enough options", len(takes) >= 28, takes)
    for word in takes:
        missing = c.run("solve", model, word)
        twice = c.run("solve", model, word, "1", word, "1")
        told = missing.stderr.decode()
        c.holds(f"{word} without its value", missing.returncode == 2 or "needs a value" not in told, told)
        if "needs a value" in told:
            c.holds(f"{word} before another option", f'needs a value: "{word}"' in c.run("solve", word, "--quiet", model).stderr.decode())
            c.holds(f"{word}= with nothing behind", f'needs a value: "{word}"' in c.run("solve", model, word + "=").stderr.decode())
            if word not in ("--between", "--of"):
                told = twice.stderr.decode()
                c.holds(f"{word} twice", twice.returncode == 2 and ("given twice" in told or "it is one of" in told), told)
        else:
            c.holds(f"{word} twice", c.run("solve", model, word, word).returncode == 2)
            c.ends(f"{word} with a value", 2, f'takes no value: "{word}"', "solve", model, word + "=1")
        c.ends(f"{word} misspelt", 2, f"did you mean {word}?", "solve", model, word + "x" if word + "x" not in takes else word + "xx")
    for what, code, said, *words in (
            ("- twice", 2, 'one model at a time; what is "-"', "solve", "-", "-"),
            ("-- alone", 2, "no model is named", "--"), ("-- before a model", 1, "NOT CHECKED", "solve", "--", model),
            ("-- behind a model", 1, "NOT CHECKED", model, "--"), ("-- twice", 2, 'unknown verb "--"', "--", "--", model),
            ("a model called -o", 3, "-o: No such file", "--", "-o"), ("an empty word", 2, "a word is empty", ""),
            ("an empty model", 2, "a word is empty", "solve", ""), ("an empty output", 2, "needs a value", model, "-o", ""),
            ("letters run together", 2, 'unknown option "-hq"', "-hq"), ("three dashes", 2, "unknown option", model, "---"),
            ("the verb behind", 2, f"the verb comes first: funicle solve {model}", model, "solve"),
            ("a verb in capitals", 2, "did you mean solve?", "SOLVE", model),
            ("an option in capitals", 2, "did you mean --format?", model, "--FORMAT", "json"),
            ("a form in capitals", 2, "it is one of text|json|csv", model, "--format", "JSON"),
            ("an en dash", 2, "it begins with a long dash", model, "\u2013format", "json"),
            ("an em dash", 2, "it begins with a long dash", "\u2014help"), ("a minus", 2, "it begins with a long dash", model, "\u2212o", "x"),
            ("help for a verb", 3, "did you mean funicle --help?", "help"),
            ("version for a verb", 3, "did you mean funicle --version?", "version"),
            ("ten thousand models", 2, "one model at a time", "solve", *["m.xml"] * 10000),
            ("a figure called a table", 2, "than what draw writes: .svg, .pdf and .png", "draw", model, "-o", "figure.csv"),
            ("a figure called a photo", 2, "than what draw writes: .svg, .pdf and .png", "draw", model, "-o", "figure.jpg")):
        c.ends(what, code, said, *words)
    c.holds("a figure under a wrong name is not written", not os.path.exists(c.path("figure.csv")))


def files(c):
    gear = '<gear xmlns="urn:funicle:rigging" format="1"><item id="g" kind="rope"/></gear>\n'
    model = c.write("model.xml", HEAD + '<store href="yard.xml"/>' + ANCHOR + PIECE + LINE + "</rigging>\n")
    yard, plain = c.write("yard.xml", gear), c.write("plain.xml", HEAD + ANCHOR + PIECE + LINE + "</rigging>\n")
    os.symlink("loop-b", c.path("loop-a"))
    os.symlink("loop-a", c.path("loop-b"))
    os.symlink("nowhere", c.path("dangling"))
    os.symlink("model.xml", c.path("link.xml"))
    os.link(yard, c.path("hard.xml"))
    for what, code, said, *words in (
            ("a loop of links", 3, "loop-a: Too many levels", "loop-a"), ("a link to nothing", 3, "dangling: No such file", "dangling"),
            ("a link to a model", 1, "NOT CHECKED", "link.xml"), ("a model with a stroke behind", 3, "Not a directory", "model.xml/"),
            ("under a model", 3, "Not a directory", "model.xml/x"), ("a device", 3, "it is not a regular file", "/dev/null"),
            ("over the model", 6, "it is the model itself", model, "-o", model),
            ("over the model by a link", 6, "it is the model itself", model, "-o", "link.xml"),
            ("over the model by another way", 6, "it is the model itself", model, "-o", "./model.xml"),
            ("over its gear file", 6, "it is a gear file of the model", model, "-o", yard),
            ("over its gear file by a hard link", 6, "it is a gear file of the model", model, "-o", "hard.xml"),
            ("a report over its gear file", 6, "it is a gear file of the model", "report", model, "-o", "yard.xml"),
            ("over the edition before", 6, "it is the model that --since names", "report", "--since", plain, model, "-o", plain),
            ("a name of 300 letters", 6, "File name too long", model, "-o", "y" * 300)):
        c.ends(what, code, said, *words)
    with open(yard, encoding="utf-8") as file:
        c.holds("the gear file is whole", file.read() == gear)
    c.ends("standard input without end", 3, "larger than 4 MiB", "-", text=b"y\n" * (3 << 20))
    before = sorted(os.listdir(c.folder))
    writers(c, model)
    c.holds("nothing half written is left", sorted(os.listdir(c.folder)) == sorted([*before, "answer.json"]), os.listdir(c.folder))
    killed(c, model)


def writers(c, model):
    """Several at once into one file: it is always one of theirs, whole."""
    whole = c.run("--format", "json", model).stdout
    for _ in range(5):
        many = [subprocess.Popen([c.program, "--format", "json", model, "-o", c.path("answer.json")]) for _ in range(4)]
        codes = [one.wait(60) for one in many]
        with open(c.path("answer.json"), "rb") as file:
            c.holds("one whole answer of several writers", codes == [1] * 4 and file.read() == whole, codes)


def killed(c, model):
    """Ended without a word while it writes: the file is the old or the new one, whole."""
    whole = c.run("--format", "json", model).stdout
    old = b"old\n"
    seen = set()
    for i in range(60):
        with open(c.path("answer.json"), "wb") as file:
            file.write(old)
        one = subprocess.Popen([c.program, "--format", "json", model, "-o", c.path("answer.json")])
        time.sleep(i * 0.00025)
        one.send_signal(signal.SIGKILL)
        one.wait(60)
        with open(c.path("answer.json"), "rb") as file:
            seen.add({old: "old", whole: "new"}.get(file.read(), "neither"))
    c.holds("a writer that is killed leaves the old answer or the new one", "neither" not in seen and "old" in seen, seen)


def main():
    with tempfile.TemporaryDirectory() as folder:
        c = Mistyped(sys.argv[1], folder)
        models(c)
        texts(c)
        names_on_the_line(c)
        command_line(c)
    with tempfile.TemporaryDirectory() as folder:
        c.folder = folder
        files(c)
    print(f"{c.count} checks, {c.failed} failed")
    return 1 if c.failed or c.count < 1000 else 0


if __name__ == "__main__":
    sys.exit(main())
