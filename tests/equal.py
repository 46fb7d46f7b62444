#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""The same answer however the file is ordered, and whichever compiler made the program.

usage: equal.py SOURCE_DIR FUNICLE [OTHER...] [SHUFFLES]

Every model of models/, tests/good, tests/hard and tests/cases is asked of FUNICLE, once more of it, or SHUFFLES times,
with the children of the root in another order, and of each OTHER. Pulls, places and the forces on anchors agree within
1e-9 of the largest pull, or of the size of the drawing; outcomes and the code the program ends with are the same. Told
is the largest deviation, and of how many models the bytes were the same.
"""
import glob
import json
import math
import os
import random
import subprocess
import sys
import tempfile
import xml.etree.ElementTree as tree

AGREES = 1e-9
NAMESPACE = "urn:funicle:rigging"
# a ring without weight on a rope that runs straight through it can be anywhere along it, and is not found in one order in six
FREE = ("tests/hard/ring-carries-nothing.xml",)


def ask(program, path):
    done = subprocess.run([program, "--format", "json", os.path.basename(path)], cwd=os.path.dirname(path), capture_output=True)
    return done.returncode, done.stdout


def shuffled(text, seed):
    """The children of the root in another order. Cases follow each other as written, and a store stays first."""
    tree.register_namespace("", NAMESPACE)
    root = tree.fromstring(text)
    children = [c for c in root if not c.tag.endswith("}case")]
    cases = [c for c in root if c.tag.endswith("}case")]
    random.Random(seed).shuffle(children)
    root[:] = children + cases
    return tree.tostring(root)


def forces(case):
    """Name: (number, whether it is a length)"""
    told = {}
    for s in case["spans"]:
        told["span", s["member"], s["index"]] = s["tension_N"], False
    for n in case["nodes"]:
        told["x", n["id"]], told["y", n["id"]] = (n["x_m"], True), (n["y_m"], True)
    for a in case["anchors"]:
        angle = math.radians(a["direction_deg"] or 0)
        told["ax", a["id"]] = a["force_N"] * math.cos(angle), False
        told["ay", a["id"]] = a["force_N"] * math.sin(angle), False
    return told


def deviation(one, two):
    """The largest, of the largest pull or of the drawing, and where; None where they cannot be compared."""
    worst = (0.0, "")
    cases = {c["id"]: c for c in two["cases"]}
    if set(cases) != {c["id"] for c in one["cases"]}:
        return None
    for case in one["cases"]:
        other = cases[case["id"]]
        if other["outcome"] != case["outcome"]:
            return None
        a, b = forces(case), forces(other)
        if set(a) != set(b):
            return None
        force = max([abs(v) for v, length in a.values() if not length] or [0])
        places = [v for v, length in a.values() if length]
        size = max(places, default=0) - min(places, default=0)
        for key, (value, length) in a.items():
            scale = size if length else force
            off = abs(b[key][0] - value)
            if off > 0:
                worst = max(worst, (off / scale if scale else math.inf, f"{case['id']} {' '.join(map(str, key))}"))
    return worst


class Tally:
    def __init__(self, what):
        self.what, self.count, self.same, self.worst, self.faults = what, 0, 0, (0.0, "", ""), []

    def compare(self, name, first, second):
        self.count += 1
        (code, out), (other_code, other_out) = first, second
        self.same += out == other_out
        if code != other_code:
            self.faults.append(f"{name}: ends with {other_code}, not {code}")
        elif out and other_out:
            off = deviation(json.loads(out), json.loads(other_out))
            if off is None or off[0] > AGREES:
                self.faults.append(f"{name}: {'other outcomes or parts' if off is None else off}")
            else:
                self.worst = max(self.worst, (*off, name))

    def tell(self):
        for fault in self.faults[:20]:
            print(f"{self.what}: {fault}")
        print(f"{self.what}: {self.count} answers, {self.same} the same bytes, largest deviation {self.worst[0]:.1e}"
              f" ({self.worst[2]}: {self.worst[1]}), {len(self.faults)} faults")
        return len(self.faults)


def main():
    shuffles = int(sys.argv.pop()) if sys.argv[-1].isdigit() else 1
    source, programs = sys.argv[1], [os.path.abspath(p) for p in sys.argv[2:]]
    paths = [os.path.abspath(p) for folder in ("models", "tests/good", "tests/hard", "tests/cases")
             for p in sorted(glob.glob(os.path.join(source, folder, "*.xml")))]
    ordered, others = Tally("other orders"), [Tally(p) for p in programs[1:]]
    with tempfile.TemporaryDirectory() as folder:
        for path in paths:
            with open(path, encoding="utf-8") as file:
                text = file.read()
            if "<rigging" not in text:
                continue
            name = os.path.relpath(path, source)
            first = ask(programs[0], path)
            for program, tally in zip(programs[1:], others):
                tally.compare(name, first, ask(program, path))
            for store in glob.glob(os.path.join(os.path.dirname(path), "*.xml")):
                link = os.path.join(folder, os.path.basename(store))
                if not os.path.exists(link):
                    with open(store, "rb") as original, open(link, "wb") as copy:
                        copy.write(original.read())
            for seed in range(0 if name in FREE else shuffles):
                other = os.path.join(folder, "shuffled.xml")
                with open(other, "wb") as file:
                    file.write(shuffled(text, seed))
                ordered.compare(name, first, ask(programs[0], other))
            for copy in os.listdir(folder):
                os.remove(os.path.join(folder, copy))
    faults = ordered.tell() + sum(t.tell() for t in others)
    return 1 if faults or ordered.count < 100 else 0


if __name__ == "__main__":
    sys.exit(main())
