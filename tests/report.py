#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Every report read back by programs that are not ours, and held against the answer and the files it is made of.

usage: report.py FUNICLE SOURCE_DIR [EVERY: one model of so many, 1]

For each model of models/ and for models that are hard on paper: the PDF is tagged, has its fonts, its bookmarks and
its page numbers, and is the same file wherever it is made; the page for a browser is sound, and says the same, block
for block; numbers are those of the JSON, rounded to the careful side; inputs are those of the files, all of them and
no others; the verdict stands where it must. Then the card, the sheet for a checker, the changes since an edition,
workings as PDF and HTML, and how it all ends.
"""
import concurrent.futures
import glob
import hashlib
import json
import math
import os
import re
import shutil
import sys
import tempfile
from collections import Counter
from xml.etree import ElementTree

import report_hard
from report_read import (NOTHING, SVG, Flow, Page, Pdf, beside, inputs_of, plain, points, read_model, run, says,
                         sections, squeezed, table_with)

EPOCH = "1700000000"  # 2023-11-14T22:13:20Z
LOCALE = "de_DE.UTF-8"  # with a decimal comma
BANNED = re.compile(r"\b(safe|ok|pass|approved|within\s+limits)\b", re.I)
HANG = ("settled", "kept")
FORCES = {"metric": ("N", "kN"), "us": ("lbf",)}
LENGTHS = {"metric": ("m", "mm"), "us": ("ft", "in")}
STRESSES = {"metric": ("MPa", "GPa"), "us": ("psi",)}
MOMENTS = {"metric": ("kN m",), "us": ("lbf ft",)}


def part_name(kind, id):
    return f"{'rope' if kind == 'line' else kind} {id}"


def has_answer(case):
    return bool(case["anchors"] or case["spans"] or case["parts"])


# ---- numbers ----------------------------------------------------------------------------------------

def part_faults(row, part, units):
    name, carries, limit, share, how = row
    own = part_name(part["kind"], part["id"])
    stem = part["kind"] in ("stem", "branch")
    expected = own if stem or part["at"] in (None, part["id"]) else f"{own} at {part['at']}"
    if name != expected and not (stem and name.startswith(own + ", ")):
        yield f"{name!r} is not {expected!r}"
    if stem:
        if carries or limit:
            yield f"{name}: a stem has no one pull"
    elif not says(carries, part["demand_N"], "up", FORCES[units]):
        yield f"{name}: carries {carries}, not {part['demand_N']} N"
    if part["not_checked"]:
        if limit or share or how != f"NOT CHECKED: {part['not_checked']}":
            yield f"{name}: is not checked, and says {limit} {share} {how}"
        return
    if not stem and not says(limit, part["limit_N"], "down", FORCES[units]):
        yield f"{name}: limit {limit}, not {part['limit_N']} N"
    over = share.endswith(" OVER")
    if over != (part["utilisation"] > 1) or not says(share.removesuffix(" OVER"), part["utilisation"], "up", ("%",)):
        yield f"{name}: share {share}, not {part['utilisation']}"
    if not how:
        yield f"{name}: nothing says how its limit is made"


def parts_faults(rows, case, units):
    if len(rows) != len(case["parts"]):
        yield f"{len(rows)} parts, not {len(case['parts'])}"
        return
    checked = [p for p in case["parts"] if not p["not_checked"]]
    others = [p for p in case["parts"] if p["not_checked"]]
    worst_first = sorted(checked, key=lambda p: -p["utilisation"]) + sorted(others, key=lambda p: -p["demand_N"])
    for row, part in zip(rows, worst_first):
        yield from part_faults(row, part, units)


def span_faults(row, span, kinds, units):
    name, start, end, pull, length = row
    prop = kinds.get(span["member"]) not in ("line", "sling", None)
    if name.split(" ", 1)[-1] != span["member"] or (start, end) != (span["from"], span["to"]):
        yield f"{row} is not {span['member']} {span['from']} {span['to']}"
    if pull == "slack":
        if span["tension_N"] > NOTHING or prop:
            yield f"{name}: slack, not {span['tension_N']} N"
    elif not says(pull.removesuffix(" push"), abs(span["tension_N"]), "up", FORCES[units]):
        yield f"{name} {start} {end}: {pull}, not {span['tension_N']} N"
    if pull.endswith(" push") != (span["tension_N"] < -NOTHING):
        yield f"{name}: {pull}, not {span['tension_N']} N"
    if not says(length, span["length_m"], "near", LENGTHS[units]):
        yield f"{name}: {length}, not {span['length_m']} m"


def bend_faults(rows, passes, units):
    rows = list(rows)
    for p in passes:
        row = rows[0] if rows else None
        if not row or (row[0], row[1]) != (p["line"], p["at"]):
            if p["force_N"] > NOTHING:
                yield f"no bend of {p['line']} at {p['at']}"
            continue
        rows.pop(0)
        if abs(float(row[2]) - p["bend_deg"]) > 0.05 + 1e-9 or not re.fullmatch(r"\d+\.\d", row[2]):
            yield f"bend {row[2]}, not {p['bend_deg']} deg"
        for text, force in zip(row[3:6], (p["before_N"], p["after_N"], p["force_N"])):
            if not says(text, force, "up", FORCES[units]):
                yield f"{row[0]} at {row[1]}: {text}, not {force} N"
        if p["force_N"] > NOTHING and not points(row[6], p["direction_deg"]):
            yield f"{row[0]} at {row[1]}: {row[6]}, not {p['direction_deg']} deg"
    if rows:
        yield f"a bend nobody knows: {rows[0]}"


def anchor_faults(rows, anchors, units):
    wanted = {a["id"]: a for a in anchors if a["force_N"] > NOTHING}
    for name, _, pull, way in rows:
        a = wanted.pop(name.split(" ", 1)[-1], None)
        if not a:
            yield f"an anchor nobody knows: {name}"
        elif not says(pull, a["force_N"], "up", FORCES[units]) or not points(way, a["direction_deg"]):
            yield f"{name}: {pull}, {way}, not {a['force_N']} N, {a['direction_deg']} deg"
    for name in wanted:
        yield f"anchor {name} is not there"


def stem_faults(rows, stems, units):
    known = {s["id"]: s for s in stems}
    for row in rows:
        s = known.pop(row[0], None)
        if not s:
            yield f"a stem nobody knows: {row[0]}"
            continue
        values = [(row[2], abs(s["axial_N"]), FORCES), (row[3], abs(s["shear_N"]), FORCES),
                  (row[4], abs(s["moment_Nm"]), MOMENTS), (row[5], s["stress_Pa"], STRESSES),
                  (row[6], s["tension_Pa"], STRESSES)]
        for text, exact, names in values:
            if not says(text, exact, "up", names[units]):
                yield f"stem {row[0]}: {text}, not {exact}"
        if row[1] in ("where it grows", "at its foot") and s["height_m"] == 0:
            continue
        if not re.match(r"[\d.]+ (m|ft|in|mm) ", row[1]) or not says(
                " ".join(row[1].split()[:2]), s["height_m"], "near", LENGTHS[units]):
            yield f"stem {row[0]}: worst section {row[1]}, not {s['height_m']} m"
    for name, s in known.items():
        if s["pull_N"] > NOTHING and s["diameter_m"] > 0:
            yield f"stem {name} is not there"


def alike(a, b):
    """Whether two cases may stand for each other in a table of three figures."""
    def near(x, y):
        return abs(x - y) <= max(1.0, 0.011 * max(abs(x), abs(y)))
    forces = [[s["tension_N"] for s in c["spans"]] + [p["force_N"] for p in c["anchors"]] +
              [p["demand_N"] for p in c["parts"]] for c in (a, b)]
    checked = [[bool(p["not_checked"]) or p["utilisation"] > 1 for p in c["parts"]] for c in (a, b)]
    return len(forces[0]) == len(forces[1]) and all(map(near, *forces)) and checked[0] == checked[1]


def case_of(heading, answer):
    return next((c for c in answer["cases"] if heading == f"Case {c['id']}" or (
        c["title"] and heading == f"Case {c['id']}: {plain(c['title'])}")), None)


def number_faults(page, answer, units):
    kinds = {m["id"]: m["kind"] for m in answer["members"]}
    shown = []
    for heading, blocks in sections(page.chapter("What every part carries")):
        case = case_of(heading, answer)
        if not case:
            yield f"{heading!r} is no case"
            continue
        shown.append(case["id"])
        for words in parts_faults(table_with(blocks, "part, and where it is worst"), case, units):
            yield f"{case['id']}: {words}"
    pulled = sections(page.chapter("Pulls"))
    if [case_of(h, answer)["id"] for h, _ in pulled] != shown:
        yield "parts and pulls are of other cases"
    for heading, blocks in pulled:
        case = case_of(heading, answer)
        spans = table_with(blocks, "rope, sling or prop")
        if len(spans) != len(case["spans"]):
            yield f"{case['id']}: {len(spans)} pulls, not {len(case['spans'])}"
        faults = [f for row, span in zip(spans, case["spans"]) for f in span_faults(row, span, kinds, units)]
        faults += bend_faults(table_with(blocks, "bend"), case["passes"], units)
        faults += anchor_faults(table_with(blocks, "anchor"), case["anchors"], units)
        faults += stem_faults(table_with(blocks, "stem"), case["stems"], units)
        for words in faults:
            yield f"{case['id']}: {words}"
    for case in answer["cases"]:
        if case["id"] in shown or not has_answer(case):
            continue
        if not any(alike(case, other) for other in answer["cases"] if other["id"] in shown):
            yield f"case {case['id']} is left out, and none is like it"


# ---- inputs, verdict, title -------------------------------------------------------------------------

def input_faults(page, path):
    wanted = Counter()
    owners = {}
    for place, names, attribute, value in inputs_of(path):
        wanted[place, attribute, value] += 1
        owners.setdefault((place, attribute, value), set()).update(names)
    for row in table_with(page.chapter("What was put in"), "file and line"):
        key = (row[0], row[2], row[3])
        if not wanted[key]:
            yield f"listed, and not in the files: {row}"
            continue
        wanted[key] -= 1
        if row[1] not in owners[key]:
            yield f"{row} is of {owners[key]}"
    for key in +wanted:
        yield f"not listed: {key}"


def gear_faults(page, path):
    """Which gear is used, what is left out, and where design factors come from."""
    root = read_model(path)
    roots = [(os.path.basename(path), root)] + [
        (e.values["href"], read_model(os.path.join(os.path.dirname(path), e.values["href"])))
        for e in root.children if e.name == "store"]
    everything = [(name, e) for name, r in roots for e in r.all()]
    named = {e.values[a] for _, e in everything for a in ("gear", "connector") if a in e.values}
    items = {e.values["id"]: e for _, e in everything if e.name == "item"}
    rows = table_with(page.chapter("Gear"), "item")
    if {row[0] for row in rows} != named or len(rows) != len(named):
        yield f"gear {[row[0] for row in rows]}, not {sorted(named)}"
    for row in rows:
        values = items[row[0]].values
        if row[1:4] != [plain(values.get(k, "not said")) for k in ("kind", "serial", "checked-on")]:
            yield f"{row} is not {values}"
    left = re.search(r"Left out: (\d+) item", page.text())
    if int(left[1] if left else 0) != len(set(items) - named):
        yield f"left out: {left and left[0]}, not {len(set(items) - named)}"
    factors = {f"{name}:{e.lines['design-factor']}": e.values["design-factor"] for name, e in everything
               if "design-factor" in e.values}
    branches = {e.values["id"] for e in root.children if "on" in e.values and "design-factor" not in e.values}
    for row in table_with(page.chapter("Criteria"), "design factor of"):
        if row[2] == "not written" and row[0] not in branches:
            yield f"{row} is written"
        if row[2] != "not written" and (row[2] not in factors or float(factors[row[2]].split()[0]) != float(row[1])):
            yield f"{row} is not in the files"


def note_faults(page, path):
    title = page.titled()
    topics = set()
    for note in (e for e in read_model(path).children if e.name == "note"):
        words = " ".join(plain(" ".join(note.text.split())).split())
        topic = plain(note.values.get("topic", "note"))
        topics.add(topic)
        if (topic, words) not in [(name, " ".join(text.split())) for name, text in title]:
            yield f"note {topic!r} is not in the title block"
    for topic in {"site", "job", "revision", "status", "author", "checker"}:
        if sum(name == topic for name, _ in title) < 1 or (topic not in topics and dict(title)[topic] != ""):
            yield f"no room for {topic}"


def verdict_faults(page, answer, code):
    sentence, text = answer["verdict"]["sentence"], page.text()
    under = page.chapter("Verdict")
    if page.titled()[0] != ("verdict", sentence):
        yield f"the title block does not begin with: {sentence}"
    if not under or under[0].style != "strong" or under[0].text != sentence + ".":
        yield f"the verdict is not: {sentence}"
    unchecked = {part_name(p["kind"], p["id"]) for c in answer["cases"] for p in c["parts"] if p["not_checked"]}
    over = any(p["utilisation"] and p["utilisation"] > 1 for c in answer["cases"] for p in c["parts"])
    lacking = any(c["outcome"] not in HANG or not c["balance"]["closed"] for c in answer["cases"])
    if over and "OVER ITS LIMIT" not in sentence or (code, "NONE OVER" in text) not in (
            (0, True), (1, False), (4, False), (5, False)):
        yield f"ends with {code} and says: {sentence}"
    if (over or lacking or code) and "NONE OVER" in text:
        yield "NONE OVER stands in it"
    counts = re.search(r"Parts: (\d+) checked, (\d+) over, (\d+) not checked", text)
    verdict = answer["verdict"]
    if not counts or tuple(map(int, counts.groups())) != (verdict["checked"], verdict["over"], verdict["not_checked"]):
        yield "the count of parts is another"
    named = " ".join(b.text for b in under if b.style == "strong")
    for name in unchecked:
        if name not in named:
            yield f"{name} is not checked, and not named under the verdict"
    for case in answer["cases"]:
        if not has_answer(case) and f"Case {case['id']} has no answer" not in text:
            yield f"nothing says that case {case['id']} has no answer"


def word_faults(page):
    for found in BANNED.finditer(page.text()):
        yield f"the word {found[0]!r}"


def named(page, name):
    """The page, as if it were written to that file."""
    for b in (b for b in page.blocks if b.kind == "table"):
        b.rows = [["command", r[1].replace("r.html", name)] if r[0] == "command" else r for r in b.rows]


# ---- the tests --------------------------------------------------------------------------------------

class Tester:
    def __init__(self, program, folder, locales):
        self.program, self.folder, self.locales = program, folder, locales
        self.count = self.wrong = 0
        self.what = ""

    def holds(self, truth, words):
        self.count += 1
        if not truth:
            self.wrong += 1
            print(f"{self.what}: {words[:300]}")

    def none_of(self, faults, before=""):
        self.count += 1
        faults = list(faults)
        for words in faults[:8]:
            print(f"{self.what}: {before}{words[:300]}")
        self.wrong += len(faults) > 0

    def run(self, *words, cwd=None, **environment):
        done = run(self.program, *words, cwd=cwd or self.folder,
                   env=dict(os.environ, SOURCE_DATE_EPOCH=EPOCH, **environment))
        return done.returncode, done.stdout, done.stderr.decode("utf-8", "replace")

    def at(self, name):
        return os.path.join(self.folder, name)

    def read(self, name):
        with open(self.at(name), "rb") as file:
            return file.read()

    def page(self, *words):
        """A report as a page for a browser; how it ended."""
        code, _, err = self.run(*words, "-o", "r.html")
        if code not in (0, 1, 4, 5) or not os.path.exists(self.at("r.html")):
            self.holds(False, f"{' '.join(words)} ends with {code}: {err[:200]}")
            return code, None
        page = Page(self.read("r.html").decode("utf-8"))
        self.none_of(page.faults, "HTML: ")
        return code, page

    def pdf(self, name, *words, **more):
        if os.path.exists(self.at(name)):
            os.remove(self.at(name))
        code, _, err = self.run(*words, "-o", name, **more)
        if not os.path.exists(self.at(name)):
            self.holds(False, f"{' '.join(words)} ends with {code}: {err[:200]}")
            return None
        pdf = Pdf(self.at(name))
        self.none_of(pdf.faults, "PDF: ")
        self.none_of(pdf.outside(), "PDF: ")
        self.holds(pdf.value("Tagged") == "yes", "the PDF is not tagged")
        self.holds(pdf.value("CreationDate") == "2023-11-14T22:13:20Z", f"made on {pdf.value('CreationDate')}")
        self.holds(len(re.findall(r"^ *H1\b", pdf.tree, re.M)) == 1, "not one title")
        return pdf

    # ---- the whole ----

    def whole(self, name, must):
        """The report of a model: PDF, HTML, JSON, both units; what its verdict must say."""
        path = self.at(name)
        code, page = self.page("report", name)
        solved, told, _ = self.run("solve", name, "--format", "json")
        ranged = self.run("solve", name, "--ranges")[0]
        self.holds(code == ranged, f"ends with {code}, solve --ranges with {ranged}")
        self.solved_code = solved
        if not page:
            return
        answer = json.loads(told)
        self.holds(self.read("r.json") == told, "the JSON beside it is not that of solve")
        title = dict(page.titled())
        self.holds(title["SHA-256, JSON"] == hashlib.sha256(told).hexdigest(), "the digest of the JSON is wrong")
        self.holds(title["its SHA-256"] == hashlib.sha256(self.read(name)).hexdigest(), "another digest of the model")
        self.holds(f"funicle solve {name} --format json gives" in page.text(), "another command gives the JSON")
        self.holds(title["date"] == "2023-11-14", f"dated {title['date']}")
        self.holds(title["command"] == f"funicle report {name} -o r.html", f"the command is {title['command']}")
        self.none_of(number_faults(page, answer, "metric"))
        self.none_of(input_faults(page, path))
        self.none_of(gear_faults(page, path))
        self.none_of(note_faults(page, path))
        self.none_of(verdict_faults(page, answer, solved))
        self.holds(not must or title["verdict"].startswith(must), f"the verdict is {title['verdict']}, not {must}")
        self.none_of(word_faults(page))
        self.paper(name, page)
        self.american(name)
        self.card(name, answer)
        self.for_checker(name, page, answer)

    def paper(self, name, page):
        pdf = self.pdf("r.pdf", "report", name)
        if not pdf:
            return
        title = dict(page.titled())
        named(page, "r.pdf")
        self.holds(squeezed(pdf.value("Title") or "") == squeezed(page.title), "PDF: its title is another")
        flow = Flow(page, pdf)
        self.none_of(flow.faults, "PDF: ")
        running = next(b.text for b in page.blocks if b.style == "running")
        for head in (h for h in pdf.heads if h is not None):
            cut = head.rstrip(".\u2026")
            begins = head != cut and len(cut) > 60 and squeezed(running).startswith(squeezed(cut))
            self.holds(head == running or begins, f"PDF: the head of a page is {head!r}")
        if not flow.faults and len(flow.pages) > 1:
            wanted = [(level, squeezed(text), number) for level, text, number in flow.headings()]
            self.holds([(level, squeezed(text), number) for level, text, number in pdf.bookmarks()] == wanted,
                       "PDF: bookmarks are others, or on other pages")
        sizes = {tuple(round(x, 2) for x in sorted(s)) for s in pdf.sizes}
        self.holds(sizes == {(595.28, 841.89)}, f"A4 is {sizes}")
        self.holds(len(pdf.figures) == len(page.figures), f"{len(page.figures)} figures on {len(pdf.figures)} pages")
        for text, figure in zip(pdf.figures, page.figures):
            words = [squeezed("".join(t.itertext())) for t in ElementTree.fromstring(figure).iter(SVG + "text")]
            lost = [w for w in words if plain(w).removesuffix("...") not in text]
            self.none_of((f"a figure does not say {w}" for w in lost), "PDF: ")
            self.holds(any(w and plain(w)[:60] in text for w in [squeezed(title["model"]), squeezed(running)]),
                       "PDF: a figure does not say which model it is of")
        self.none_of((f"the word {m[0]!r}" for m in BANNED.finditer(pdf.raw)), "PDF: ")
        self.anywhere(name, pdf)

    def anywhere(self, name, pdf):
        """The same command elsewhere: the same bytes."""
        again = self.at("elsewhere")
        shutil.rmtree(again, ignore_errors=True)
        os.mkdir(again)
        for file in glob.glob(self.at("*.xml")):
            shutil.copy(file, again)
        self.run("report", name, "-o", "r.pdf", cwd=again, TZ="Pacific/Kiritimati", LC_ALL=LOCALE, LOCPATH=self.locales)
        with open(os.path.join(again, "r.pdf"), "rb") as file:
            self.holds(file.read() == self.read("r.pdf"), "the same command elsewhere gives another PDF")
        with open(os.path.join(again, "r.json"), "rb") as file:
            self.holds(file.read() == self.read("r.json"), "the same command elsewhere gives another JSON")

    def american(self, name):
        """In pounds and feet, on the paper of North America."""
        american = ("--units", "us", "--paper", "letter")
        code, page = self.page("report", name, *american)
        _, told, _ = self.run("solve", name, "--format", "json", "--units", "us")
        if not page:
            return
        self.holds(self.read("r.json") == told, "with --units us the JSON beside it is not that of solve")
        self.holds(f"{name} --format json --units us gives" in page.text(), "us: another command gives the JSON")
        self.none_of(number_faults(page, json.loads(told), "us"), "us: ")
        self.none_of(input_faults(page, self.at(name)), "us: ")
        self.none_of(verdict_faults(page, json.loads(told), self.solved_code), "us: ")
        self.none_of(word_faults(page), "us: ")
        pdf = self.pdf("u.pdf", "report", name, *american)
        if pdf:
            named(page, "u.pdf")
            self.none_of(Flow(page, pdf).faults, "letter paper: ")
            self.holds(set(pdf.sizes) <= {(612.0, 792.0), (792.0, 612.0)}, f"letter paper is {set(pdf.sizes)}")

    # ---- editions ----

    def solved(self, name, *more):
        return json.loads(self.run("solve", name, "--format", "json", *more)[1])

    def since(self, old, new, *more):
        """What is said to have changed from one file to the other."""
        self.what = f"{new} since {old}"
        _, page = self.page("report", new, "--since", old, *more)
        if not page:
            return []
        blocks = page.chapter("What changed")
        self.holds(bool(blocks), "the chapter is not there")
        rows = table_with(blocks, "of")
        self.none_of(change_faults(rows, self.at(old), self.at(new)))
        was, then = self.solved(old, *more), self.solved(new, *more)
        self.none_of(outcome_faults(blocks, was, then))
        digest = hashlib.sha256(self.read(old)).hexdigest()
        self.holds(blocks[0].text == f"Before: {old}, SHA-256 {digest}: {was['verdict']['sentence']}. Now: "
                   f"{then['verdict']['sentence']}.", f"it begins: {blocks[0].text}")
        none = sum(b.text.startswith("None") for b in blocks)
        self.holds(none == (not rows) + (not table_with(blocks, "part, in its worst case")), f"{none} times none")
        self.none_of(word_faults(page))
        return rows

    def editions(self):
        base = self.read("tag-line.xml").decode("utf-8")

        def edition(name, *changes):
            text = base
            for old, new in changes:
                assert old in text, old
                text = text.replace(old, new)
            with open(self.at(name), "w", encoding="utf-8") as file:
                file.write(text)

        line = re.search(r'  <line id="tag".*?</line>\n', base, re.S)[0]
        weight = re.search(r'weight="[^"]*"', base)[0]
        yard = self.read("yard.xml").decode("utf-8")
        with open(self.at("yard-b.xml"), "w", encoding="utf-8") as file:
            file.write(yard.replace("?>\n", "?>\n<!-- another\nedition -->\n", 1).replace(
                'strength="70 kN"', 'strength="65 kN"').replace('working-load="22 kN"', 'working-load="21 kN"'))
        edition("a.xml")
        edition("one-value.xml", (weight, 'weight="211 kg"'))
        edition("no-line.xml", (line, ""))
        edition("more.xml", ("</rigging>", '  <anchor id="more" x="-3 m" y="9 m" working-load="10 kN"/>\n  <sling id="new-leg" '
                             'from="more" to="b1" gear="sling14" hitch="straight" slack="1 m"/>\n</rigging>'))
        edition("other-gear.xml", ('href="yard.xml"', 'href="yard-b.xml"'))
        self.holds(not self.since("a.xml", "a.xml"), "an edition differs from itself")
        for name in ("one-value.xml", "no-line.xml", "more.xml", "other-gear.xml"):
            there, back = self.since("a.xml", name), self.since(name, "a.xml")
            self.holds(there and sorted(map(tuple, there)) == sorted((a, b, d, c) for a, b, c, d in back),
                       "the other way round is not the other way round")
        self.holds(not self.since("two-legs.xml", "two-legs.xml", "--drop", "1 m"), "an edition differs from itself")
        self.holds('funicle solve two-legs.xml --format json --drop "1 m" gives' in self.read("r.html").decode().replace("&quot;", '"'),
                   "another command gives the JSON")

    # ---- workings ----

    def working(self, name):
        """The hand calculation: the same words as text, as PDF and as a page for a browser."""
        self.what = f"explain {name}"
        code, text, _ = self.run("explain", name)
        ended, page = self.page("explain", name)
        pdf = self.pdf("e.pdf", "explain", name)
        if not page or not pdf:
            return
        self.holds(code == ended, f"ends with {ended}, not {code}")
        self.none_of(Flow(page, pdf).faults, "PDF: ")
        words = [w for w in text.decode("utf-8").split() if w != "-"]
        body = "\n".join("\n".join([b.text, *(b.heads or []), *(c for r in b.rows for c in r)]) for b in page.blocks
                         if b.kind not in ("h1", "figure") and b.style != "running").split()
        body = [w for w in body if w != "-"]
        self.holds(len(words) > 80 and Counter(words) == Counter(body),
                   f"other words: {Counter(words) - Counter(body)} {Counter(body) - Counter(words)}")

    # ---- how it ends ----

    def ends(self, expected, *words, says=""):
        self.what = " ".join(words)
        code, _, err = self.run(*words)
        self.holds(code == expected and says in err, f"ends with {code}, not {expected}: {err[:100]}")

    def endings(self):
        for name, code in (("one-redirect.xml", 0), ("floating-redirect.xml", 1), ("bare.xml", 1), ("hand-too-weak.xml", 4)):
            for more in ((), ("--card",), ("--for-checker",), ("--since", "two-legs.xml")):
                for ending in ("txt",) if more else ("pdf", "html", "txt"):
                    self.ends(code, "report", name, *more, "-o", "o." + ending)
        with open(self.at("broken.xml"), "w", encoding="utf-8") as file:
            file.write("<rigging/>")
        self.ends(3, "report", "two-legs.xml", "--since", "nosuch.xml", says="nosuch.xml")
        self.ends(3, "report", "two-legs.xml", "--since", "broken.xml", says="broken.xml:1")
        self.ends(3, "report", "two-legs.xml", "--since", "yard.xml")
        self.ends(3, "report", "broken.xml")
        self.ends(2, "report", "two-legs.xml", "--card", "--since", "a.xml", says="one at a time")
        self.ends(2, "report", "two-legs.xml", "--card", "--for-checker", says="one at a time")
        self.ends(2, "report", "two-legs.xml", "--format", "json")
        self.ends(2, "solve", "two-legs.xml", "--card")
        self.ends(6, "report", "two-legs.xml", "-o", "nosuch/r.pdf", says="nosuch")
        self.unwritten()

    def unwritten(self):
        """What was there before is whole when a report cannot be written."""
        for name in ("old.pdf", "old.json"):
            with open(self.at(name), "w", encoding="utf-8") as file:
                file.write("an edition before")
        os.mkdir(self.at("kept.json"))
        shutil.copy(self.at("old.pdf"), self.at("kept.pdf"))
        self.ends(6, "report", "two-legs.xml", "-o", "kept.pdf", says="it is a folder")
        self.holds(self.read("kept.pdf") == b"an edition before", "the old PDF is gone")
        for size in (8, 64):  # blocks of 512 bytes: not even the numbers have room, or the pages have none
            self.what = f"a disk that is full after {size} blocks"
            done = run("sh", "-c", f'ulimit -f {size}; exec "$@"', "sh", self.program, "report", "two-legs.xml", "-o",
                       "old.pdf", cwd=self.folder)
            self.holds(done.returncode == 6, f"ends with {done.returncode}")
            self.holds(self.read("old.pdf") == b"an edition before", "the old PDF is gone")
            told = self.run("solve", "two-legs.xml", "--format", "json")[1]
            self.holds(self.read("old.json") in (b"an edition before", told), "the old JSON is cut off")
        self.holds(not glob.glob(self.at("*.part")), "something half written is left")
        self.ends(6, "report", "two-legs.xml", "-o", "two-legs.xml", says="it is the model itself")
        for epoch, day in (("253402300800", ""), ("abc", ""), ("", ""), ("0", "1970-01-01")):
            self.what = f"SOURCE_DATE_EPOCH={epoch}"
            run(self.program, "report", "two-legs.xml", "--for-checker", "-o", "d.pdf", cwd=self.folder,
                env=dict(os.environ, SOURCE_DATE_EPOCH=epoch))
            pdf = Pdf(self.at("d.pdf"))
            self.holds(f"\ndate{' ' * bool(day)}{day}\n" in pdf.raw, "the day is another")
            self.holds(pdf.value("CreationDate") == "1970-01-01T00:00:00Z", f"made on {pdf.value('CreationDate')}")

    # ---- the short ones ----

    def card(self, name, answer):
        pdf = self.pdf("c.pdf", "report", name, "--card")
        code, page = self.page("report", name, "--card")
        if not pdf or not page:
            return
        self.holds(len(pdf.sizes) == 1 and abs(pdf.sizes[0][0] - 419.53) < 0.1 and abs(pdf.sizes[0][1] - 595.28) < 0.1,
                   f"the card is {pdf.sizes}")
        self.none_of(Flow(page, pdf).faults, "card: ")
        self.none_of(card_faults(page, answer, self.largest(name), plain(" ".join(
            read_model(self.at(name)).values.get("gravity", "9.80665 m/s2").split()))), "card: ")
        self.none_of(word_faults(page), "card: ")
        self.holds("NONE OVER" not in page.text() or self.solved_code == 0, "card: NONE OVER stands on it")

    def largest(self, name):
        code, told, _ = self.run("largest", name, "--format", "json")
        return json.loads(told) if code in (0, 1, 4, 5) and told else None

    def for_checker(self, name, report, answer):
        pdf = self.pdf("k.pdf", "report", name, "--for-checker")
        _, page = self.page("report", name, "--for-checker")
        if not pdf or not page:
            return
        named(page, "k.pdf")
        self.none_of(Flow(page, pdf).faults, "for a checker: ")
        self.none_of(input_faults(page, self.at(name)), "for a checker: ")
        self.none_of(checker_faults(page, report, answer), "for a checker: ")
        self.holds(pdf.texts.count(None) == 0, "for a checker: a figure")


# ---- the card ---------------------------------------------------------------------------------------

def card_faults(page, answer, largest, gravity):
    text = page.text()
    if page.blocks[2].text != answer["verdict"]["sentence"] or page.blocks[2].style != "strong":
        yield f"does not begin with the verdict: {page.blocks[2].text}"
    under = dict(sections(page.blocks))
    piece = under["Largest piece"][0].text
    weight = largest and largest["largest_N"]
    asks = under["Stop and ask if"][0].text
    if weight and weight > 0:
        found = re.match(r"(\S+): (\S+ kg) \((\S+ k?N)\)", piece)
        g = float(gravity.split()[0])
        if not found or not says(found[3], weight, "down", FORCES["metric"]) or not says(found[2], weight / g, "down", ("kg",)):
            yield f"{piece!r} is not {weight} N"
        elif not asks.startswith(f"{found[1]} is heavier than {found[2]} ({found[3]})"):
            yield f"{asks!r}: another largest piece"
    elif not piece.startswith("None can be given") or "heavier than drawn" not in asks:
        yield f"{piece!r}, and largest says {weight}"
    if sum(b.kind == "li" for b in under["Stop and ask if"]) < 6:
        yield "stop conditions are missing"
    for words in ("wind rises", "wood cracks", "a catch was not looked at" if not any(
            c["outcome"] == "caught" or c.get("caught") for c in answer["cases"]) else "let go from higher"):
        if words not in text:
            yield f"does not say: {words}"
    sides = " ".join(b.text for b in under["Danger sides"])
    for case in filter(has_answer, answer["cases"]):
        for node in {p["at"] for p in case["passes"]}:
            pulls = [(p["force_N"], math.radians(p["direction_deg"] or 0)) for p in case["passes"] if p["at"] == node]
            x, y = (sum(f * turn(a) for f, a in pulls) for turn in (math.cos, math.sin))
            if math.hypot(x, y) > 1.1 and f"{beside(x, y)} {node}" not in sides:
                if not any(f"{beside(x * c - y * s, x * s + y * c)} {node}" in sides for c, s in (
                        (math.cos(a), math.sin(a)) for a in (-0.011, 0.011))):  # a case like it stands for it
                    yield f"{case['id']}: no danger side {beside(x, y)} {node}"
    rows = table_with(under.get("Turns and hand pull", []), "line at")
    holds = {(f"{h['line']} at {h['at']}", c["id"]): h for c in answer["cases"] for h in c["holds"]}
    for row in rows:
        h = holds.get((row[0], row[1]))
        if h and (float(row[2]) != round(h["turns"], 6) or not says(row[3], h["hand_least_N"], "up", FORCES["metric"])
                  or not says(row[4], h["hand_most_N"], "up", FORCES["metric"])):
            yield f"{row} is not {h}"
    if {name for name, _ in holds} - {row[0] for row in rows}:
        yield "a bollard has no turns"


# ---- what changed -----------------------------------------------------------------------------------

def keyed(path):
    """(of, what) -> value (place)"""
    found = {}
    for place, names, attribute, value in inputs_of(path):
        found[max(names, key=len), attribute] = value, f"{value} ({place})"
    return found


def change_faults(rows, was, then):
    old, new = keyed(was), keyed(then)
    wanted = {}
    for key in {*old, *new}:
        before, after = old.get(key, (None, "not there")), new.get(key, (None, "not there"))
        if before[0] != after[0]:
            wanted[key] = before[1], after[1]
    for row in rows:
        key = next((k for k in wanted if (k[0] == row[0] or k[0] == row[0] + " 1") and k[1] == row[1]), None)
        if not key or wanted.pop(key) != (row[2], row[3]):
            yield f"a change that is none: {row}"
    for key, values in wanted.items():
        yield f"not said: {key} {values}"


def worst_of(answer):
    """Worst share of each part over all cases; None: not checked. And the hardest pull on each anchor."""
    shares, pulls = {}, {}
    for case in answer["cases"]:
        for p in case["parts"]:
            name = part_name(p["kind"], p["id"])
            share = None if p["not_checked"] else p["utilisation"]
            shares[name] = share if shares.get(name) is None else max(shares[name], share or 0)
        for a in case["anchors"]:
            pulls[a["id"]] = max(pulls.get(a["id"], 0), a["force_N"])
    return shares, pulls


def outcome_faults(blocks, was, then):
    (old, old_pulls), (new, new_pulls) = worst_of(was), worst_of(then)
    rows = {row[0]: row[1:] for row in table_with(blocks, "part, in its worst case")}
    for name in {*old, *new}:
        a, b = old.get(name), new.get(name)
        differs = (name in old) != (name in new) or (a is None) != (b is None) or (
            a is not None and abs(a - b) > 0.005 * max(a, b))
        if differs != (name in rows):
            yield f"{name}: {a} {b}, said: {rows.get(name)}"
        for text, share, there in zip(rows.get(name, ()), (a, b), (name in old, name in new)):
            if not there or share is None:
                fit = text == ("not checked" if there else "not there")
            else:
                fit = says(text.removesuffix(" OVER"), share, "up", ("%",)) and text.endswith(" OVER") == (share > 1)
            if not fit:
                yield f"{name}: {text} is not {share}"
    pulled = {row[0].split(" ", 1)[-1]: row[1:] for row in table_with(blocks, "pull on an anchor, in its worst case")}
    for name in {*old_pulls, *new_pulls}:
        a, b = old_pulls.get(name), new_pulls.get(name)
        differs = a is None or b is None or abs(a - b) > 0.005 * max(a, b)
        if differs != (name in pulled):
            yield f"anchor {name}: {a} {b}, said: {pulled.get(name)}"
        for text, pull in zip(pulled.get(name, ()), (a, b)):
            if not (text == "not there" if pull is None else says(text, pull, "up", FORCES["metric"])):
                yield f"anchor {name}: {text} is not {pull} N"


# ---- for a checker ----------------------------------------------------------------------------------

def checker_faults(page, report, answer):
    """None of the sizes and shares of the report but such as were put in."""
    results = set()
    for begins in ("What every part carries", "Pulls"):
        for b in report.chapter(begins):
            for row in b.rows if b.kind == "table" else []:
                results.update(c.removesuffix(" OVER") for c in row if re.fullmatch(r"[\d.]+ (k?N|%|MPa|kN m)( OVER)?", c))
    given = {c for begins in ("What was put in", "What was taken for granted") for b in page.chapter(begins)
             for row in b.rows for c in row}
    results -= given  # a pull that a case sets is told with the case
    text = "\n".join(b.text if b.kind != "table" else "" for b in page.blocks)
    for b in page.blocks:
        for row in b.rows:
            text += "\n" + "\n".join(c for c in row if c not in given)
    text = re.sub(r"[\d.]+ (?:kg|lb) \([^)]*\)", "", text)  # a weight that a case puts in
    for size in sorted(results):
        if re.search(rf"(?<![\d.]){re.escape(size)}", text):
            yield f"says {size}, which is a result"
    if answer["verdict"]["sentence"] in text or "OVER ITS LIMIT" in text or "NOT CHECKED" in text or "verdict" in text:
        yield "says the verdict"
    asked = {(row[0], row[1]) for row in table_with(page.chapter("What the checker finds"), "to be found")}
    if len(asked) < 2 and answer["cases"] and any(has_answer(c) for c in answer["cases"]):
        yield "nothing is asked"


# ---- all of it --------------------------------------------------------------------------------------

def look_at(program, kept, name, must):
    """One model, or the rest (None), in a folder of its own."""
    with tempfile.TemporaryDirectory() as folder:
        for path in glob.glob(os.path.join(kept, "*.xml")):
            shutil.copy(path, folder)
        tester = Tester(program, folder, os.path.join(kept, "locales"))
        if name:
            tester.what = name
            tester.whole(name, must)
        else:
            tester.editions()
            for model in ("floating-redirect.xml", "three-to-one.xml", "guyed-stem.xml"):
                tester.working(model)
            tester.endings()
        return tester


def main():
    program, source = os.path.abspath(sys.argv[1]), os.path.abspath(sys.argv[2])
    every = int(sys.argv[3]) if len(sys.argv) > 3 else 1
    only = sys.argv[4:]  # to look at some models alone
    with tempfile.TemporaryDirectory() as kept:
        os.mkdir(os.path.join(kept, "locales"))
        run("localedef", "-i", "de_DE", "-f", "UTF-8", os.path.join(kept, "locales", LOCALE))
        models = {os.path.basename(m): None for m in sorted(glob.glob(os.path.join(source, "models", "*.xml")))}
        for name in models:
            shutil.copy(os.path.join(source, "models", name), kept)
        del models["yard.xml"]
        hard = {os.path.basename(m): says for m, says in report_hard.make(source, kept)}
        asked = [(n, m) for n, m in [*list(models.items())[::every], *list(hard.items())[::every], (None, None)]
                 if not only or (n or "rest") in only]
        with concurrent.futures.ThreadPoolExecutor(2) as pool:  # it is the program that takes the time
            testers = list(pool.map(lambda a: look_at(program, kept, *a), asked))
    count, wrong = (sum(getattr(t, what) for t in testers) for what in ("count", "wrong"))
    print(f"{len(asked)} models, {count} looked at, {wrong} wrong")
    return 1 if wrong or (not only and count < 1500 / every) else 0


if __name__ == "__main__":
    sys.exit(main())
