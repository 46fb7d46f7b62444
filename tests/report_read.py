# SPDX-License-Identifier: GPL-3.0-or-later
"""Reads reports back: pages for a browser as blocks, PDFs as pages, quantities with the way they were rounded, and
the attributes of a model by a parser that is not the program's. Used by report.py."""
import html
import math
import os
import re
import subprocess
from collections import Counter
from html.parser import HTMLParser
from xml.etree import ElementTree
from xml.parsers import expat

SVG = "{http://www.w3.org/2000/svg}"


def run(*words, **more):
    return subprocess.run(words, capture_output=True, timeout=300, **more)


def told(*words):
    """What a reader of PDFs says, and what it complains of."""
    done = run(*words)
    return done.stdout.decode("utf-8"), done.stderr.decode("utf-8")


def squeezed(text):
    return "".join(text.split())


# ---- pages for a browser ----------------------------------------------------------------------------

EMPTY = {"meta", "br", "hr", "img", "input", "link", "base", "col", "wbr", "embed", "source", "track", "area"}
INSIDE = {  # what an element may stand in
    "tr": {"thead", "tbody"}, "td": {"tr"}, "th": {"tr"}, "thead": {"table"}, "tbody": {"table"}, "li": {"ul"},
    "figcaption": {"figure"}, "svg": {"figure"}, "ul": {"body", "nav", "details"}, "table": {"div"}, "h1": {"body"},
    "h2": {"body"}, "h3": {"body"}, "p": {"body"}, "figure": {"body"}, "nav": {"body"}, "title": {"head", "svg"},
}
BANNED = {"script", "iframe", "object", "embed", "link", "img", "base", "form", "input", "image", "foreignobject", "audio",
          "video", "source", "frame", "applet"}


class Block:
    """kind: h1 h2 h3 p li figure table; of a table its heads (None) and rows."""
    def __init__(self, kind, text="", style=None):
        self.kind, self.text, self.style = kind, text, style
        self.heads, self.rows = None, []


class Page(HTMLParser):
    """An HTML page whose elements nest; `faults` says what is wrong with it."""

    def __init__(self, source):
        super().__init__(convert_charrefs=True)
        self.faults, self.blocks, self.stack, self.ids, self.wanted, self.title = [], [], [], set(), set(), ""
        self.row = None
        if re.search("[\x00-\x08\x0b\x0c\x0e-\x1f\x7f]", source):
            self.faults.append("a control character")
        if not source.startswith("<!DOCTYPE html>\n"):
            self.faults.append("no document type")
        for odd in re.findall(r"&(?!(?:amp|lt|gt|quot|apos|#\d+|#x[0-9a-fA-F]+);)\S{0,9}", source):
            self.faults.append(f"a bare ampersand: {odd}")
        self.feed(source)
        self.close()
        if self.stack:
            self.faults.append(f"left open: {self.stack}")
        for name in self.wanted - self.ids:
            self.faults.append(f"#{name} is nowhere")
        self.figures = re.findall(r"<svg\b.*?</svg>", source, re.S)
        for figure in self.figures:
            try:
                ElementTree.fromstring(figure)
            except ElementTree.ParseError as error:
                self.faults.append(f"a figure is not XML: {error}")
        for outside in re.findall(r"url\((?!#)[^)]*\)|@import|javascript:", source):
            self.faults.append(f"looks outside: {outside}")

    def handle_starttag(self, tag, attributes, closed=False):
        within = self.stack[-1] if self.stack else ""
        in_figure = "svg" in self.stack
        if tag in BANNED:
            self.faults.append(f"<{tag}>")
        if tag in INSIDE and within not in INSIDE[tag] and not in_figure:
            self.faults.append(f"<{tag}> in <{within}>")
        names = [name for name, _ in attributes]
        if len(set(names)) != len(names):
            self.faults.append(f"<{tag}> has an attribute twice")
        for name, value in attributes:
            self.attribute(name, value or "")
        if not closed and tag not in EMPTY:
            self.stack.append(tag)
        if not in_figure:
            self.begin(tag, dict(attributes))

    def handle_startendtag(self, tag, attributes):
        if "svg" not in self.stack:
            self.faults.append(f"<{tag}/> outside a figure")
        self.handle_starttag(tag, attributes, True)

    def attribute(self, name, value):
        if name == "id":
            if value in self.ids or not re.fullmatch(r"[^\s\"'<>]+", value):
                self.faults.append(f"id {value!r} twice, or odd")
            self.ids.add(value)
        elif name.startswith("on"):
            self.faults.append(f"{name}={value!r}")
        elif name in ("href", "xlink:href", "src", "data", "action", "srcset", "background"):
            if name == "src" or not value.startswith("#"):
                self.faults.append(f"{name}={value!r}")
            self.wanted.add(value[1:])
        elif name in ("aria-labelledby", "aria-describedby"):
            self.wanted.update(value.split())
        self.wanted.update(re.findall(r"url\(#([^)]*)\)", value))

    def begin(self, tag, attributes):
        if "nav" in self.stack:
            return
        if tag in ("h1", "h2", "h3", "p", "li", "table", "figure"):
            self.blocks.append(Block(tag, style=attributes.get("class")))
        elif tag == "tr":
            self.row = []
        elif tag in ("td", "th") and self.row is not None:
            self.row.append("")

    def handle_endtag(self, tag):
        if not self.stack or self.stack[-1] != tag:
            self.faults.append(f"</{tag}> closes {self.stack[-1:]}")
            if tag not in self.stack:
                return
            while self.stack[-1] != tag:
                self.stack.pop()
        if tag == "tr" and self.blocks and self.row is not None and "svg" not in self.stack:
            if self.stack[-2] == "thead":
                self.blocks[-1].heads = self.row
            else:
                self.blocks[-1].rows.append(self.row)
            self.row = None
        self.stack.pop()

    def handle_data(self, data):
        if "svg" in self.stack or "nav" in self.stack or not self.stack:
            return
        within = self.stack[-1]
        if within in ("td", "th"):
            self.row[-1] += data
        elif within in ("h1", "h2", "h3", "p", "li", "figcaption"):
            self.blocks[-1].text += data
        elif within == "title":
            self.title += data
        elif within != "style" and data.strip():
            self.faults.append(f"words in <{within}>: {data[:40]!r}")

    # ---- what is in it ----

    def text(self):
        parts = []
        for b in self.blocks:
            parts.append(b.text)
            for row in ([b.heads] if b.heads else []) + b.rows:
                parts.extend(row)
        return "\n".join(parts)

    def chapter(self, begins):
        """Blocks below the numbered heading that begins so."""
        found, inside = [], False
        for b in self.blocks:
            if b.kind == "h2":
                inside = re.sub(r"^\d+\s+", "", b.text).startswith(begins)
            elif inside:
                found.append(b)
        return found

    def titled(self):
        """The title block as pairs."""
        return [tuple(row) for row in next(b for b in self.blocks if b.kind == "table").rows]


def sections(blocks):
    """[(heading, blocks below it)] of the second level."""
    found = []
    for b in blocks:
        if b.kind == "h3":
            found.append((b.text, []))
        elif found:
            found[-1][1].append(b)
    return found


def table_with(blocks, head):
    """The first table whose first head is this, as rows; none: []."""
    return next((b.rows for b in blocks if b.kind == "table" and b.heads and b.heads[0] == head), [])


# ---- PDFs -------------------------------------------------------------------------------------------

EDGE = re.compile(r"(?:(?P<program>funicle \S+) )?page (?P<page>\d+) of (?P<count>\d+)$")


class Pdf:
    """Pages of a PDF: `texts` without head and foot, None of a page of a figure, which stands in `figures`."""

    def __init__(self, path):
        self.path, self.faults = path, []
        self.info = self.ask("pdfinfo", "-isodates", path)
        sizes = self.ask("pdfinfo", "-f", "1", "-l", "9999", path)
        self.sizes = [tuple(map(float, s)) for s in re.findall(r"^Page +\d+ size: +([\d.]+) x ([\d.]+) pts", sizes, re.M)]
        self.tree = self.ask("pdfinfo", "-struct", path)
        self.raw = self.ask("pdftotext", "-raw", path, "-")
        fonts = self.ask("pdffonts", path).splitlines()[2:]
        if not fonts or any(line.split()[-5] != "yes" for line in fonts):
            self.faults.append("a font is not in it")
        self.texts, self.heads, self.figures = [], [], []
        for number, page in enumerate(self.raw.split("\f")[:-1]):
            self.take(number, page)
        if len(self.sizes) != len(self.texts):
            self.faults.append(f"{len(self.sizes)} pages, {len(self.texts)} read")

    def ask(self, *words):
        out, complaints = told(*words)
        if complaints:
            self.faults.append(f"{words[0]}: {complaints.splitlines()[0]}")
        return out

    def value(self, key):
        found = re.findall(rf"^{key}: +(.*)$", self.info, re.M)
        return found[0] if len(found) == 1 else None

    def take(self, number, page):
        lines = page.rstrip("\n").split("\n")
        edge = EDGE.match(lines[-1])
        if not edge or (int(edge["page"]), int(edge["count"])) != (number + 1, len(self.sizes)):
            self.faults.append(f"page {number + 1} ends with {lines[-1]!r}")
            edge = None
        figure = bool(edge) and not edge["program"]
        self.heads.append(None if figure or len(lines) < 2 else lines[-2])
        self.texts.append(None if figure else "\n".join(lines[:-2]))
        if figure:
            self.figures.append(squeezed("".join(lines[:-1])))

    def bookmarks(self):
        """[(level, text, page from 1)]"""
        out = self.ask("pdftohtml", "-xml", "-i", "-stdout", self.path)
        found, level = [], 0
        for mark in re.finditer(r"<(/?)outline>|<item page=\"(\d+)\">(.*?)</item>", out, re.S):
            if mark[2]:
                found.append((level, html.unescape(mark[3]), int(mark[2])))
            else:
                level += -1 if mark[1] else 1
        return found

    def outside(self):
        """Words that stand beyond the edge of their page."""
        out = self.ask("pdftotext", "-bbox", self.path, "-")
        pages = re.split(r"<page ", out)[1:]
        for number, page in enumerate(pages):
            width, height = map(float, re.match(r'width="([\d.]+)" height="([\d.]+)"', page).groups())
            for x, y, right, bottom, word in re.findall(
                    r'<word xMin="([-\d.]+)" yMin="([-\d.]+)" xMax="([-\d.]+)" yMax="([-\d.]+)">(.*?)</word>', page):
                if float(x) < 0 or float(y) < 0 or float(right) > width or float(bottom) > height:
                    yield f"page {number + 1}: {word} is cut off"


TORN = 1500  # letters of a cell that may be on two pages


class Flow:
    """Where every block of the page for a browser stands in the PDF. Its words must follow each other there in the same
    order; the heads of a table may stand again on top of a page."""

    def __init__(self, page, pdf):
        self.faults, self.starts = [], []
        expected, self.ends_of_leaders, heads = "", set(), set()
        for b in page.blocks:
            if b.kind == "p" and b.style == "running":
                continue
            self.starts.append((len(expected), b))
            expected += ("-" if b.kind == "li" else "") + squeezed(b.text)
            if b.kind in ("h1", "h2", "h3"):
                self.ends_of_leaders.add(len(expected))
            for row in [b.heads] if b.heads else []:
                expected += squeezed("".join(row))
                heads.add(squeezed("".join(row)))
                self.ends_of_leaders.add(len(expected))
            for row in b.rows:
                expected += squeezed("".join(row))
        self.at, self.pages, self.expected = 0, [], expected
        if any(len(c) > TORN for b in page.blocks for row in b.rows for c in row):
            self.torn(squeezed("".join(t for t in pdf.texts if t)), max(map(len, heads)) * len(pdf.texts))
            return
        for number, text in enumerate(pdf.texts):
            if text is not None:
                self.take(number, squeezed(text), heads)
        if self.at != len(expected):
            self.faults.append(f"not in the PDF: {expected[self.at:self.at + 60]!r}")

    def torn(self, text, room):
        """Rows that go on to a next page have their cells in pieces: all letters must be there, and little else."""
        self.pages.append((len(self.expected), 0))
        if Counter(self.expected) - Counter(text) or len(text) > len(self.expected) + room:
            self.faults.append(f"letters are lost: {Counter(self.expected) - Counter(text)}")

    def take(self, number, text, heads):
        size = len(text)
        if not self.expected.startswith(text, self.at):
            for head in heads:
                if text.startswith(head) and self.expected.startswith(text[len(head):], self.at):
                    size -= len(head)
                    break
            else:
                same = os.path.commonprefix([self.expected[self.at:], text])
                self.faults.append(f"page {number + 1}: {text[len(same):][:40]!r} instead of "
                                   f"{self.expected[self.at + len(same):][:40]!r}")
        self.at += size
        self.pages.append((self.at, number))
        if self.at in self.ends_of_leaders and self.at < len(self.expected):
            self.faults.append(f"page {number + 1} ends with a heading: {text[-40:]!r}")

    def page_of(self, start):
        return next((number for end, number in self.pages if start < end), None)

    def headings(self):
        """[(level, text, page from 1)] as the bookmarks should be."""
        return [(int(b.kind[1]) - 1, b.text, (self.page_of(start) or 0) + 1) for start, b in self.starts
                if b.kind in ("h2", "h3")]


# ---- quantities -------------------------------------------------------------------------------------

SIZES = {
    "N": 1, "kN": 1e3, "lbf": 4.4482216152605, "m": 1, "mm": 1e-3, "ft": 0.3048, "in": 0.0254, "MPa": 1e6, "GPa": 1e9,
    "psi": 4.4482216152605 / 0.0254 ** 2, "kN m": 1e3, "lbf ft": 4.4482216152605 * 0.3048, "%": 0.01, "kg": 1,
    "lb": 0.45359237,
}
QUANTITY = re.compile(r"(\d+)(?:\.(\d+))? (" + "|".join(map(re.escape, sorted(SIZES, key=len, reverse=True))) + ")")
NOTHING = 1e-3  # below this a force is none [N]


def figures_of(whole, parts):
    return len((whole + parts).lstrip("0")) if parts or whole.lstrip("0") else 0


def says(text, exact, way, units):
    """Whether the text is `exact` [SI], rounded that way (up, down, near) to three figures, in one of these units."""
    found = QUANTITY.fullmatch(text)
    if not found or found[3] not in units:
        return False
    whole, parts, size = found[1], found[2] or "", SIZES[found[3]]
    value = float(f"{whole}.{parts or 0}") * size
    if value == 0:
        return abs(exact) < NOTHING * max(size, 1)
    step = size * (10.0 ** -len(parts) if parts else 10.0 ** max(0, len(whole) - 3))
    fit = figures_of(whole, parts) == 3 or (not parts and len(whole) > 3 and not whole[3:].strip("0")) or (
        found[3] == "ft" and len(parts) == 2)
    room = 1e-8 * abs(exact) + 1e-9 * step
    off = value - exact
    if way == "up":
        return fit and -room <= off <= step + room
    if way == "down":
        return fit and -step - room <= off <= room
    return fit and abs(off) <= step / 2 + room


def points(words, degrees):
    """Whether "down and left, 79 deg off plumb" is a direction in degrees from the right, anticlockwise."""
    x, y = math.cos(math.radians(degrees)), math.sin(math.radians(degrees))
    off = math.degrees(math.atan2(abs(x), abs(y)))
    if words.startswith("straight "):
        return off <= 0.5001 and words == ("straight up" if y > 0 else "straight down")
    if words.startswith("level "):
        return off >= 89.4999 and words == ("level to the right" if x > 0 else "level to the left")
    found = re.fullmatch(r"(up|down) and (right|left), (\d+) deg off plumb", words)
    return bool(found) and abs(int(found[3]) - off) <= 0.5001 and (found[1] == "up") == (y > 0) and (
        found[2] == "right") == (x > 0)


def beside(x, y):
    """The side of a bend that is pulled so: "down and left of"."""
    off = math.degrees(math.atan2(abs(x), abs(y)))
    if off < 10.5:
        return "straight above" if y > 0 else "straight below"
    if off >= 79.5:
        return f"level {'right' if x > 0 else 'left'} of"
    return f"{'up' if y > 0 else 'down'} and {'right' if x > 0 else 'left'} of"


# ---- models -----------------------------------------------------------------------------------------

ATTRIBUTE = re.compile(rb"\s+([^\s=/>]+)\s*=\s*(?:\"[^\"]*\"|'[^']*')", re.S)
NEVER_PRINTED = re.compile("[\x00-\x1f\x7f-\x9f\u200e\u200f\u2028\u2029\u202a-\u202e\u2066-\u2069\u061c\ufeff"
                           "\ufdd0-\ufdef\ufffe\uffff]")


def plain(text):
    """What is no letter, or turns others round, stands as a question mark."""
    return NEVER_PRINTED.sub("?", text)


class Element:
    def __init__(self, name, parent, values):
        self.name, self.parent, self.values, self.lines, self.children, self.text = name, parent, values, {}, [], ""
        if parent:
            self.nth = 1 + sum(c.name == name for c in parent.children)
            parent.children.append(self)

    def all(self):
        yield self
        for child in self.children:
            yield from child.all()

    def owners(self):
        """What it may be called; a thing without an id by its parent and which of them it is."""
        if "id" in self.values:
            return {f"{self.name} {self.values['id']}"}
        if not self.parent:
            return {self.name}
        before = [""] if not self.parent.parent else [f"{o}, " for o in self.parent.owners()]
        several = sum(c.name == self.name for c in self.parent.children) > 1
        return {f"{b}{self.name}{n}" for b in before for n in ([f" {self.nth}"] if several else [f" {self.nth}", ""])}


def read_model(path):
    """The root element; by expat, lines counted in the bytes."""
    with open(path, "rb") as file:
        source = file.read()
    parser = expat.ParserCreate()
    state = {"at": None, "root": None}

    def start(name, values):
        e = Element(name, state["at"], {k: v for k, v in values.items() if not k.startswith("xmlns")})
        begin = parser.CurrentByteIndex + 1 + len(name.encode())
        while True:
            found = ATTRIBUTE.match(source, begin)
            if not found:
                break
            e.lines[found[1].decode()] = 1 + source.count(b"\n", 0, found.start(1))
            begin = found.end()
        state["root"] = state["root"] or e
        state["at"] = e

    def end(_):
        state["at"] = state["at"].parent

    def data(text):
        state["at"].text += text

    parser.StartElementHandler, parser.EndElementHandler, parser.CharacterDataHandler = start, end, data
    parser.Parse(source, True)
    return state["root"]


def inputs_of(path):
    """[(file:line, owners, attribute, value)] of everything that the job uses, gear files behind the model."""
    root = read_model(path)
    roots = [(os.path.basename(path), root)]
    for store in (e for e in root.children if e.name == "store"):
        name = store.values["href"]
        roots.append((name, read_model(os.path.join(os.path.dirname(path), name))))
    named = {e.values[a] for _, r in roots for e in r.all() for a in ("gear", "connector") if a in e.values}
    found = []
    for name, r in roots:
        for e in r.all():
            item = e
            while item and item.name != "item":
                item = item.parent
            if e.name == "note" or (item and item.values["id"] not in named):
                continue
            for attribute, value in e.values.items():
                if attribute != "id":
                    found.append((f"{name}:{e.lines[attribute]}", e.owners(), attribute, plain(value.strip(" "))))
    return found
