#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Does every exercise with what stands on its sheet alone, and holds that against its key and against the answer.

usage: drill.py FUNICLE SOURCE_DIR

The two sums of each free node and the ratio of each bend are put up as linear equations and solved by least squares
(NumPy): what a trainee does with a pencil. The key must be met within its own tolerance for a calculation, and not with a heavier piece; it must be
the answer of the model with the weights of the sheet; one number of the working, and only the one the key names, must
disagree with its parts.
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

import numpy as np

NEWTONS = {"N": 1.0, "kN": 1e3}
ROW = re.compile(r"^  (F\d+) +.*? (-?[\d.]+) +([\d.]+) +(-?[\d.]+) +(-?[\d.]+)$", re.M)
SPAN = r"(\S+) (\S+) to (\S+)"


def run(program, *words):
    done = subprocess.run([program, *words], capture_output=True, text=True, encoding="utf-8", timeout=120)
    return done.returncode, done.stdout


def newtons(text):
    value, unit = text.split()
    return float(value) * NEWTONS[unit]


def direction(words):
    """A unit vector from "down and left, 31 deg off plumb"."""
    if words.startswith("straight"):
        return np.array([0.0, 1.0 if "up" in words else -1.0])
    if words.startswith("level"):
        return np.array([1.0 if "right" in words else -1.0, 0.0])
    angle = math.radians(float(re.search(r"([\d.]+) deg", words)[1]))
    return np.array([math.sin(angle) * (1 if "right" in words else -1), math.cos(angle) * (1 if "up" in words else -1)])


def read_sheet(sheet):
    known = re.sub(r"\n  ", " ", sheet.partition("1  What is known\n")[2].partition("\n\n2  ")[0])
    asked = sheet.partition("\n2  What does")[2].partition("\ndeg: ")[0]
    loads = [(m[1], newtons(m[2]) * direction(m[3])) for m in
             re.finditer(r"^\S+ (\S+): .*? ([\d.]+ k?N)(?: \([^)]*\))?, (.*)\.$", known, re.M)]
    ratios = [(m.group(2, 3, 4), float(m[5]), m.group(6, 7, 8)) for m in
              re.finditer(rf"^Over (\S+) the pull in {SPAN} is ([\d.]+) times that in {SPAN}\.$", known, re.M)]
    given = {m.group(1, 2, 3): newtons(m[4]) for m in re.finditer(rf"^{SPAN} carries (-?[\d.]+ k?N):", known, re.M)}
    spans = {m.group(1, 2, 3): math.radians(float(m[4])) for m in re.finditer(rf"^{SPAN} +([\d.]+) +__", asked, re.M)}
    return loads, ratios, given, spans


def pencil(sheet, headings, free):
    """The pull of every span asked for, from the sheet; `headings` are those of spans that are given."""
    loads, ratios, given, spans = read_sheet(sheet)
    index = {span: i for i, span in enumerate(spans)}
    rows, right = [], []
    for node in free:
        sums = [np.zeros(len(index)), np.zeros(len(index))]
        rest = -sum((f for n, f in loads if n == node), np.zeros(2))
        for span, heading in list(spans.items()) + [(s, headings[s]) for s in given]:
            way = np.array([math.cos(heading), math.sin(heading)]) * (1 if span[1] == node else -1)
            if node not in span[1:]:
                continue
            if span in index:
                for k in range(2):
                    sums[k][index[span]] += way[k]
            else:
                rest -= given[span] * way
        rows += sums
        right += list(rest)
    for after, ratio, before in ratios:
        row, value = np.zeros(len(index)), 0.0
        for span, share in ((after, 1.0), (before, -ratio)):
            if span in index:
                row[index[span]] += share
            else:
                value -= share * given[span]
        rows.append(row)
        right.append(value)
    solution, _, rank, _ = np.linalg.lstsq(np.array(rows), np.array(right), rcond=1e-6)
    return {span: solution[i] for span, i in index.items()}, rank == len(index)


def read_key(key):
    rows = re.findall(r"^(\S+ \S+ to \S+|pull on \S+) +([\d.]+) +(-?[\d.]+) +(-?[\d.]+) to (-?[\d.]+) +(-?[\d.]+) to (-?[\d.]+)$",
                      key, re.M)
    return {name: [float(v) for v in values] for name, *values in rows}


def disagree(sheet, headings, free, answers):
    found, whole = pencil(sheet, headings, free)
    if not whole:
        yield "the sheet does not say enough"
    for span, pull in found.items():
        right = answers[f"{span[0]} {span[1]} to {span[2]}"][1]
        if abs(pull / 1e3 - right) > 0.01 * abs(right) + 0.01:
            yield f"{span}: worked out {pull / 1e3:.4f}, the key has {right}"


def with_weights(text, sheet):
    """The model's file with the weights of the sheet."""
    for name, mass in re.findall(r"^piece (\S+): weight [^(]*\(([\d.]+ kg)\)", re.sub(r"\n  ", " ", sheet), re.M):
        text = re.sub(rf'(<piece +id="{re.escape(name)}"[^>]*weight=")[^"]*"', rf'\g<1>{mass}"', text)
    return text


def check(program, path, seed, folder):
    """What is wrong with one exercise, in words; None when there can be none."""
    code, sheet = run(program, "drill", path, "--seed", str(seed))
    if code != 0:
        return None
    key = run(program, "drill", path, "--seed", str(seed), "--key")[1]
    wrong = []
    if run(program, "drill", path, "--seed", str(seed))[1] != sheet:
        wrong.append("another sheet of the same seed")
    with open(path, encoding="utf-8") as file:
        text = with_weights(file.read(), sheet)
    changed = os.path.join(folder, os.path.basename(path))
    with open(changed, "w", encoding="utf-8") as file:
        file.write(text)
    answer = json.loads(run(program, changed, "--format", "json")[1])
    case = next(c for c in answer["cases"] if c["id"] == re.search(r"case\s+(\S+)\.\s+Weights", sheet)[1])
    spans = {(s["member"], s["from"], s["to"]): s for s in case["spans"]}
    answers = read_key(key)
    for name, (angle, right, low, high, least, most) in answers.items():
        if name.startswith("pull on "):
            true = next(a for a in case["anchors"] if a["id"] == name[8:])["force_N"] / 1e3
        else:
            true = spans[tuple(re.match(SPAN, name).groups())]["tension_N"] / 1e3
        if abs(true - right) > 0.006 * abs(true):
            wrong.append(f"{name}: the key has {right}, the answer {true:.4f}")
        near, far = sorted((abs(low), abs(high)))
        if abs(near / abs(true) - 0.95) > 0.01 or abs(far / abs(true) - 1.05) > 0.01 or not least <= true <= most:
            wrong.append(f"{name}: {low} to {high}, {least} to {most} round {true:.4f}")
    headings = {s: math.radians(v["direction_deg"]) for s, v in spans.items()}
    free = [n["id"] for n in case["nodes"] if n["id"] not in {a["id"] for a in case["anchors"]}]
    wrong += list(disagree(sheet, headings, free, answers))
    heavier = re.sub(r"^(piece \S+: weight )([\d.]+)", lambda m: f"{m[1]}{1.1 * float(m[2]):.4g}", sheet, flags=re.M)
    if not list(disagree(heavier, headings, free, answers)):
        wrong.append("a heavier piece on the sheet is not found")
    if len(answers) < 2:
        wrong.append("next to nothing is asked")
    odd = [m[1] for m in ROW.finditer(sheet) if abs(float(m[2]) - math.hypot(float(m[4]), float(m[5]))) > 0.02 * float(m[2])]
    named = re.search(r"It stands in (F\d+): ([\d.]+) was printed, ([\d.]+) is right", key)
    if odd != [named[1]] or named[2] not in sheet:
        wrong.append(f"the mistakes are {odd}, the key names {named[1]}")
    return wrong


def main():
    program, source = sys.argv[1:3]
    count = none = faults = 0
    with tempfile.TemporaryDirectory() as folder:
        shutil.copy(os.path.join(source, "models", "yard.xml"), folder)
        for path in sorted(glob.glob(os.path.join(source, "models", "*.xml"))):
            if path.endswith("yard.xml"):
                continue
            for seed in (1, 7):
                wrong = check(program, path, seed, folder)
                count += wrong is not None
                none += wrong is None
                for words in wrong or ():
                    faults += 1
                    print(f"{os.path.basename(path)} {seed}: {words}")
    print(f"{count} exercises, {none} not made, {faults} faults")
    return 1 if faults or count < 40 else 0


if __name__ == "__main__":
    sys.exit(main())
