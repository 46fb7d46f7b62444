#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Holds every step of vary against the answer of a file in which that number stands.

usage: vary.py FUNICLE SOURCE_DIR [EVERY]

Of each model (of every so-manyth) some of its written numbers are varied, one at a time and a pair: for every choice the
file is written anew with that number in it, solved by itself, and has the same outcome, the same closest part and the
same utilisation to 1e-9. CSV tells what JSON tells. What is proposed by place, written into the file as it is printed,
gives what was told.
"""
import csv
import glob
import io
import json
import os
import random
import re
import shutil
import subprocess
import sys
import tempfile

SAME = 1e-9
UNITS = {"m": "m", "N": "N", "1": "", "Pa": "Pa"}
SECTION = re.compile(r"<section [^>]*/>")
NUMBER = re.compile(r'(\S+)="(-?[\d.]+) ?(m|cm|mm|kg|kN|deg|deg right|)"')
SLOW = ("held-rope.xml", "caught-log.xml")  # each answer takes most of a second, and they are many
LOST = {"no-equilibrium": "no-equilibrium", "not-found": "not-found"}


def run(program, *words):
    done = subprocess.run([program, *words], capture_output=True, text=True, encoding="utf-8", timeout=300)
    return done.returncode, done.stdout, done.stderr


class Varied:
    def __init__(self, program, folder):
        self.program, self.folder, self.faults, self.checked = program, folder, 0, 0

    def differs(self, what):
        print("DIFFERS", what)
        self.faults += 1

    def numbers(self, text):
        """(name, position of the value, its length) of numbers that stand at an element with an id."""
        body = re.sub(r"<!--.*?-->", lambda m: " " * len(m[0]), text, flags=re.S)
        for element in re.finditer(r"<(anchor|block|ring|bollard|piece|sling|line|stem|joint|prop|item|fork)\s([^>]*?)/?>", body):
            owner = re.search(r'\bid="([^"]+)"', element[2])
            for a in NUMBER.finditer(element[2]):
                # a friction given with its range is taken as known when it is varied
                if owner and a[1] not in ("turns", "place-error", "length-error", "at") and "friction-range" not in element[2]:
                    yield f"{owner[1]}.{a[1]}", element.start(2) + a.start(2) , a
        for stem in re.finditer(r'<stem [^>]*?id="([^"]+)".*?</stem>', body, re.S):
            for i, section in enumerate(SECTION.finditer(stem[0])):
                for a in NUMBER.finditer(section[0]):
                    if a[1] in ("diameter", "height"):
                        yield f"{stem[1]}.section{i + 1}.{a[1]}", stem.start() + section.start() + a.start(2), a

    def written(self, text, places, values, units):
        """The model with other numbers, from the last place to the first."""
        for (_, at, a), value, unit in sorted(zip(places, values, units), key=lambda p: -p[0][1]):
            end = at + len(a[2]) + text[at + len(a[2]):].index('"')
            side = " right" if "right" in a[3] else ""
            new = f"{value * 57.29577951308232!r} deg{side}" if unit == "rad" else f"{value!r} {UNITS[unit]}".strip()
            text = text[:at] + new + text[end:]
        path = os.path.join(self.folder, "alone.xml")
        with open(path, "w", encoding="utf-8") as f:
            f.write(text)
        return path

    def alone(self, path):
        code, out, _ = run(self.program, "solve", path, "--format", "json")
        if code == 3:
            return "cannot-be", None, None
        answer = json.loads(out)
        worst, part = 0, None
        for case in answer["cases"]:
            if case["outcome"] not in ("settled", "kept") or not case["balance"]["closed"]:
                return LOST.get(case["outcome"], "not-found"), None, None
            if case["falls"]:
                return "falls-first", None, None
            for p in case["parts"]:
                if p["not_checked"] is None and (part is None or p["utilisation"] > worst):
                    worst, part = p["utilisation"], p["id"]
        return "found", worst, part

    def hold(self, model, text, places, varied):
        units = [n["unit"] for n in varied["numbers"]]
        for choice in varied["choices"]:
            values = [choice["first"], choice["second"]][:len(units)]
            name = f'{os.path.basename(model)}: {[p[0] for p in places]} {values}'
            outcome, worst, part = self.alone(self.written(text, places, values, units))
            self.checked += 1
            if choice["answer"] != outcome:
                self.differs(f"{name}: {choice['answer']}, alone {outcome}")
            elif outcome == "found" and part is not None:
                told = choice["utilisation"]
                if told is None or abs(told - worst) > SAME * max(worst, 1e-3) or part not in choice["part"]:
                    self.differs(f"{name}: {told} {choice['part']}, alone {worst} {part}")

    def ends(self, a):
        value = float(a[2])
        low, high = (value * 0.85, value * 1.2) if value else (-0.3, 0.4)
        return f"{min(low, high):.6f}..{max(low, high):.6f} {a[3].removesuffix(' right')}".strip()

    def vary(self, model, text, places, *more):
        words = [w for p in places for w in ("--of", f"{p[0]}={self.ends(p[2])}")]
        code, out, err = run(self.program, "vary", model, *words, *more)
        if code in (2, 3):
            if not re.search("sets this number itself|cannot go from|no number|of its own|says how far", err):
                self.differs(f"{model} {words}: {err.strip()}")
            return None
        if code not in (0, 1, 4, 5):
            self.differs(f"{model} {words}: ends with {code}")
            return None
        return out

    def look(self, model, seed):
        with open(model, encoding="utf-8") as f:
            text = f.read()
        found = list(self.numbers(text))
        names = [n[0] for n in found]
        found = [n for n in found if names.count(n[0]) == 1]
        chosen = random.Random(seed).sample(found, min(3, len(found)))
        for places in [[c] for c in chosen] + [chosen[:2]]:
            if len(places) == 2 and len(chosen) < 2:
                continue
            out = self.vary(model, text, places, "--steps", "2", "--format", "json")
            if out:
                varied = json.loads(out)
                self.hold(model, text, places, varied)
                self.hold_csv(model, text, places, varied)

    def hold_csv(self, model, text, places, varied):
        rows = list(csv.reader(io.StringIO(self.vary(model, text, places, "--steps", "2", "--format", "csv"))))
        told = [row[6] for row in rows if row[1] == "choice" and row[4] == "utilisation"]
        if told != ["" if c["utilisation"] is None else repr(c["utilisation"]).removesuffix(".0") for c in varied["choices"]]:
            self.differs(f"{model}: CSV tells {told}")

    def place(self, model, words, part):
        """What is printed to be copied gives what was told."""
        path = os.path.join(self.folder, model)
        code, out, err = run(self.program, "place", path, *[w for o in words for w in ("--of", o)], "--format", "json")
        placed = json.loads(out) if code in (0, 1) else None
        if not placed or not placed["better"]:
            return self.differs(f"{model}: place ends with {code}, {err}")
        with open(path, encoding="utf-8") as f:
            text = f.read()
        owner = None
        for group in placed["attributes"].split("; "):
            owner, _, rest = group.partition(" ")
            for name, value in re.findall(r'(\S+)="([^"]+)"', rest):
                element = re.search(rf'<\w+\s[^>]*\bid="{owner}".*?(?:/>|</\w+>)', text, re.S)
                new, count = re.subn(rf'\b{name}="[^"]*"', f'{name}="{value}"', element[0], count=1)
                if count != 1:
                    return self.differs(f"{model}: nowhere to write {name} of {owner}")
                text = text[:element.start()] + new + text[element.end():]
        alone = os.path.join(self.folder, "alone.xml")
        with open(alone, "w", encoding="utf-8") as f:
            f.write(text)
        outcome, worst, who = self.alone(alone)
        self.checked += 1
        # printed to a tenth of a millimetre or so
        if outcome != "found" or abs(worst - placed["best"]["utilisation"]) > 1e-3 * worst:
            self.differs(f"{model}: proposed {placed['best']['utilisation']} {placed['attributes']}, alone {outcome} {worst} {who}")
        if worst > placed["drawn"]["utilisation"]:
            self.differs(f"{model}: proposed is worse than as drawn")


def main(program, source, every=1):
    with tempfile.TemporaryDirectory() as folder:
        for path in glob.glob(os.path.join(source, "models", "*.xml")):
            shutil.copy(path, folder)
        v = Varied(os.path.abspath(program), folder)
        models = [m for m in sorted(glob.glob(os.path.join(folder, "*.xml"))) if os.path.basename(m) != "yard.xml"]
        for i, model in enumerate(models[::every]):
            if os.path.basename(model) not in SLOW:
                v.look(model, i)
        v.place("floating-redirect.xml", ["long.reach=1..5 m", "long.height=6..10.5 m"], None)
        v.place("three-legs.xml", ["hub.x=2..5 m", "hub.y=5..8 m"], None)
        print(f"{v.checked} answers held against single ones, {v.faults} faults")
        return 1 if v.faults or v.checked < 200 // every else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1], sys.argv[2], int(sys.argv[3]) if len(sys.argv) > 3 else 1))
