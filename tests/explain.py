#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Adds up every working: the numbers of `explain` against each other and against the answer.

usage: explain.py FUNICLE SOURCE_DIR

For every model of models/ and every node of it: each force is its size times cos and sin of its angle, the
columns add up to the sum printed below them, which is nothing at a free node and the pull of the answer at a
fixed one; each rope pulls as much as in the JSON; ratio, mu and resultant of a bend and what a flat leg
carries are worked out again. A number changed on purpose must be found.
"""
import glob
import json
import math
import os
import re
import shutil
import subprocess
import sys
import tempfile

ROW = re.compile(r"^  F(\d+) +(.*?) +(-?[\d.]+) +([\d.]+) +(-?[\d.]+) +(-?[\d.]+)$", re.M)
SUM = re.compile(r"^ +sum +(-?[\d.]+) +(-?[\d.]+)$", re.M)
REACTION = re.compile(r"square root of \(x\^2 \+ y\^2\) = (\d+(?:\.\d+)?) kN")
BEND = re.compile(r"theta = (\d+(?:\.\d+)?) deg = (\d+(?:\.\d+)?) rad; T1 = (\d+(?:\.\d+)?) kN before it and T2 = (\d+(?:\.\d+)?) kN")
MU = re.compile(r"mu = ln\((\d+(?:\.\d+)?)\) / (\d+(?:\.\d+)?) = (\d+(?:\.\d+)?)")
RESULTANT = re.compile(r"T1 T2 cos\((\d+(?:\.\d+)?) deg\)\) = (\d+(?:\.\d+)?) kN")

STEM = re.compile(r"M = (\d+(?:\.\d+)?) kN m and presses on it with N = (-?\d+(?:\.\d+)?) kN\. A (?:solid|hollow) round of "
                  r"d = (\d+(?:\.\d+)?) cm.*? has W = pi [^=]+ = (\d+) cm3 and A = pi [^=]+ = (\d+) cm2\. Pressed side: "
                  r"N / A \+ M / W = (\d+(?:\.\d+)?) MPa; drawn side: M / W - N / A = (\d+(?:\.\d+)?) MPa"
                  r"(?:, with M grown by (\d+\.\d+))?")
LEG = re.compile(r"pulls (\d+(?:\.\d+)?) kN and lifts (\d+(?:\.\d+)?) kN: for each kN it lifts it carries "
                 r"(\d+(?:\.\d+)?), 1 / cos of the (\d+(?:\.\d+)?) deg")


def half(text):
    """Half of the last digit."""
    return 0.5 * 10.0 ** -len(text.partition(".")[2])


def near(a, b, room):
    return abs(a - b) <= room + 1e-9


def check(text, node, answer):
    """What does not add up, in words."""
    flat = " ".join(text.split())
    total = [0.0, 0.0]
    room = 0.0
    for _, name, size, angle, x, y in ROW.findall(text):
        f, a = float(size), math.radians(float(angle))
        own = 2 * half(x) + f * math.radians(0.05)
        if not near(f * math.cos(a), float(x), own) or not near(f * math.sin(a), float(y), own):
            yield f"{name}: {size} at {angle} deg is not {x}, {y}"
        total[0] += float(x)
        total[1] += float(y)
        room += half(x)
        member = re.match(r"(?:rope|sling|prop|piece) (\S+) to (\S+)$", name)
        if member and not any(near(abs(s["tension_N"]) / 1e3, f, half(size)) for s in answer["spans"]
                              if s["member"] == member[1] and {s["from"], s["to"]} == {node, member[2]}):
            yield f"{name}: no span of it carries {size} kN"
    sums = SUM.search(text)
    if not sums:
        yield "no sum"
        return
    for k in range(2):
        if not near(total[k], float(sums[k + 1]), room + half(sums[k + 1])):
            yield f"the column adds up to {total[k]:.4f}, not {sums[k + 1]}"
    anchor = next((a for a in answer["anchors"] if a["id"] == node), None)
    reaction = REACTION.search(flat)
    if anchor is None and not all(near(float(s), 0, half(s)) for s in sums.groups()):
        yield f"left over: {sums.groups()}"
    if anchor and not (reaction and near(float(reaction[1]), anchor["force_N"] / 1e3, half(reaction[1]))):
        yield f"the reaction is not {anchor['force_N']} N"
    for degrees, radians, before, after in BEND.findall(flat):
        if not near(math.radians(float(degrees)), float(radians), 0.0015):
            yield f"{degrees} deg is not {radians} rad"
    for ratio, angle, mu in MU.findall(flat):
        if not near(math.log(float(ratio)) / float(angle), float(mu), 0.002 / float(angle)):
            yield f"ln({ratio}) / {angle} is not {mu}"
    for (_, _, before, after), (between, resultant) in zip(BEND.findall(flat), RESULTANT.findall(flat)):
        a, b = float(before), float(after)
        own = math.sqrt(max(0, a * a + b * b + 2 * a * b * math.cos(math.radians(float(between)))))
        if not near(own, float(resultant), 3 * half(resultant) + (a + b) * math.radians(0.06)):
            yield f"the resultant of {before} and {after} is {own:.4f}, not {resultant}"
    for pull, lift, each, angle in LEG.findall(flat):
        if not near(float(lift) * float(each), float(pull), half(pull) + half(each) * float(lift) + half(lift) * float(each)):
            yield f"{lift} times {each} is not {pull}"
        if not near(float(each) * math.cos(math.radians(float(angle))), 1, 0.001 + float(each) * math.radians(0.05)):
            yield f"1 / cos {angle} deg is not {each}"
    for moment, push, d, modulus, area, pressed, drawn, grown in STEM.findall(flat):
        bending = float(grown or 1) * float(moment) * 1e3 / float(modulus)
        pressing = float(push) * 10 / float(area)
        if not near(bending + pressing, float(pressed), 0.01 * (bending + abs(pressing))):
            yield f"the pressed side is {bending + pressing:.3f} MPa, not {pressed}"
        if not near(max(bending - pressing, 0), float(drawn), 0.01 * (bending + abs(pressing))):
            yield f"the drawn side is {bending - pressing:.3f} MPa, not {drawn}"


def run(program, *words):
    done = subprocess.run([program, *words], capture_output=True, text=True, encoding="utf-8", timeout=120)
    return done.returncode, done.stdout


def hollow(source, folder):
    """A copy of a model with a stem, hollow at its foot."""
    path = os.path.join(folder, "hollow.xml")
    shutil.copy(os.path.join(source, "models", "yard.xml"), folder)
    with open(os.path.join(source, "models", "guyed-stem.xml"), encoding="utf-8") as file:
        text = file.read().replace('diameter="0.30 m"/>', 'diameter="0.30 m" wall="50 mm"/>')
    with open(path, "w", encoding="utf-8") as file:
        file.write(text)
    return path


def main():
    program, source = sys.argv[1:3]
    with tempfile.TemporaryDirectory() as folder:
        return look(program, [*sorted(glob.glob(os.path.join(source, "models", "*.xml"))), hollow(source, folder)])


def look(program, paths):
    count = wrong = planted = found = 0
    stems = set()
    for path in paths:
        code, text = run(program, path, "--format", "json")
        if code not in (0, 1):
            continue
        answer = json.loads(text)
        case = next(c for c in answer["cases"] if c["outcome"] in ("settled", "kept"))
        for node in case["nodes"]:
            code, text = run(program, "explain", path, "--case", case["id"], "--node", node["id"])
            if code not in (0, 1):
                wrong += 1
                print(f"{path}: {node['id']}: explain ends with {code}")
                continue
            count += 1
            stems.update(re.findall(r"A (solid|hollow) round", " ".join(text.split())))
            for words in check(text, node["id"], case):
                wrong += 1
                print(f"{os.path.basename(path)}: {node['id']}: {words}")
            rows = list(ROW.finditer(text))
            if rows:
                row = max(rows, key=lambda r: float(r[3]))
                changed = text[:row.start(3)] + f"{1.1 * float(row[3]) + 1:.3f}" + text[row.end(3):]
                planted += 1
                found += any(True for _ in check(changed, node["id"], case))
    print(f"{count} workings, {wrong} do not add up; {found} of {planted} planted errors found")
    return 1 if wrong or found != planted or count < 100 or stems != {"solid", "hollow"} else 0


if __name__ == "__main__":
    sys.exit(main())
