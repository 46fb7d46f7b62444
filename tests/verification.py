#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Writes doc/verification.md, and holds the self-test of the program against the files it is made of.

usage: verification.py FUNICLE SOURCE_DIR [--update]

The rows of tests/cases and tests/kept-cases are read here a second time: the self-test must have asked every one of
them and have come to the verdict that its own numbers give. The page must be as it would be written now; --update
writes it.
"""
import glob
import json
import math
import os
import re
import subprocess
import sys

FOLDERS = ("tests/cases", "tests/kept-cases")
ANSWERS = (0, 1, 4, 5)

# what a source is, by a word in it; the first that fits
KINDS = (
    ("own set", "own set of 30 digits"),
    ("from memory", "from memory"),
    ("common practice", "common practice"),
    ("recomputed", "recomputed by other means"),
    ("integrated apart", "recomputed by other means"),
    ("energy conservation", "closed form"),
    ("energy balance", "closed form"),
    ("K^", "closed form"),
    ("2 cos(", "closed form"),
    ("trade", "trade copy, as printed"),
    ("reprint", "reprint, as printed"),
    ("homework", "reprint, as printed"),
    ("textbook", "reprint, as printed"),
    ("", "published, as printed"),
)

HEAD = """<!-- SPDX-License-Identifier: GPL-3.0-or-later; written by tests/verification.py --update -->
# Verification

Why believe a number this program prints? Three questions, kept apart as ASME V&V 10 keeps them (scope and split from
memory):

1. **Code verification**: does the program solve its equations rightly? Below: every published or independently found
   value it is held against, with what it computes. Also, in the tests: manufactured solutions, derivatives against
   differences, invariance under rotation, mirror and permutation, other solvers on the same models.
2. **Solution verification**: how far may this very answer be off? Each answer carries a sum of all forces that shares
   nothing with the way it was found; it is below for every model of `models/`. Without friction every pull has a bound as
   well (`doc/theory.md`, 6), which a report prints.
3. **Validation**: do the equations describe ropes and trees? Only measurement can say. There is little, and it is listed
   as what it is.

This page is written by one command, `python3 tests/verification.py build/funicle . --update`, and a test fails when it is
not what that command writes. `funicle selftest` asks the first table of the copy of the program on your machine.

"""

TAIL = """
## 3. Validation

- **Catches.** Sums that put all of the fall into the stretch of the rope gave two to three times the peaks measured in
  rigging on real trees (Health and Safety Executive, Research Report RR668, ch. 8, as restated), and were up to 30 % low
  with heavy pieces on little rope tied to a stiff anchor (Weber 2002). Every answer of `funicle fall` prints that range
  beside its own figure.
- **Friction.** Grips of ropes on rings, bark and drums are ranges of published measurements, as told in `doc/manual.md`; a
  wet rope on a drum may lose nearly all its hold (common practice, no source).
- **Wood.** Strengths are means of small clear specimens of green wood; a stem with knots, decay or bark pockets carries
  less, and no published figure says how much for the tree in front of you. Species whose strength is from memory never
  count as checked.
- **Knots and bends.** Tests of natural fibre and of wire rope; the maker's own figures go before them. Rows from memory or
  of common practice are marked in the tables of `doc/manual.md`.
- **Whole set-ups.** No measurement of a whole redirect network with every pull recorded has been found that may be
  printed. Whoever has load cells can make one: the drill sheets have a column for the reading.

## 4. Run at length

What takes hours and is asked by hand (`DEVELOPERS.md`, first list), with what was found the last time:

| asked | found |
|---|---|
| rigs of chance of every kind of part, added up by `tests/balance.py` from what is printed | 30,000 of the 100,000 of `tests/long.sh`: 59,196 cases with 58,227 settled; nothing left over above 1e-9 of the largest force (pictures: 1e-6), 97 % to 14 digits; the 9,760 without an answer and 540 that do not close say why |
| manufactured solutions, four families | 1,000,000: least figure agreed to 8.07 digits (rope that runs with friction, EA 1e4 to 1e6 times the pull), points 8.9, treads and props 9.5; half have 12 digits and more; 232 not found, 367 at another place of rest |
| gcc -O3 and -O0, clang 14 and 19 at -O2 | the same bytes for all models; the old floating-point unit (x87) within 1.1e-13 of the largest pull |
| parts of a file in another order | 885 answers within 3.2e-12; one model is told apart in `DEVELOPERS.md` |
| two threads, each with its own model and both with one, under ThreadSanitizer | nothing |
| comma and Turkish locales, none and wrong ones, dates, little stack, few files, no fonts | 172 questions, the same bytes or a clear error |
| fuzzers under the address and undefined-behaviour sanitizers | quantities 10,000,000 and options 10,000,000 runs without a finding; riggings 680,000 without one; files 3,800,000 with one (a line number before the first; mended, kept in the corpus). The aim for files is 10,000,000 and for riggings 1,000,000 |
| every allocation failed in turn (`tests/faults.py`) | a sample at each run of the tests; the whole is in `tests/long.sh` |
| coverage (`tests/coverage.sh`) | lines 98.0 %, branches 90.8 %, conditions (MC/DC) 79 %; `solver/statics` 99.6, 97.4 and 94.4 %, `solver/strength` 99.9, 99.2 and 98.9 %. The aim for branches is 95 % |
| slips in the solver's source (`tests/mutation.py`) | 74 % of 116 seen by the quick tests (66 to 81 % at 95 % confidence). The aim is 90 % |

That a published value is met does not prove that the next answer is right (the same caveat as NIST's reference data sets
carry): it proves that the program computes as those who published did.
"""


def run(program, *words):
    done = subprocess.run([program, *words], capture_output=True, text=True, encoding="utf-8", timeout=600)
    return done.returncode, done.stdout


def rows_of(source):
    """(model, fields) of every row in the files."""
    for folder in FOLDERS:
        for path in sorted(glob.glob(os.path.join(source, folder, "*.expect"))):
            with open(path, encoding="utf-8") as file:
                for line in file:
                    fields = [field.strip() for field in line.rstrip("\n").split("|")]
                    if not line.startswith("#") and len(fields) == 5:
                        yield os.path.basename(path)[:-7], fields


def faults(values, source):
    """What the self-test did not ask, or judged otherwise than its numbers say."""
    expected = list(rows_of(source))
    if len(values) != len(expected):
        yield f"{len(values)} values asked, {len(expected)} stand in the files"
    for value, (model, fields) in zip(values, expected):
        if [value["model"], value["row"], value["quantity"], value["source"]] != [model, fields[0], fields[1], fields[4]]:
            yield f"{model}: {fields[0]} is not what was asked"
            continue
        number, _, unit = fields[2].partition(" ")
        kind, room = fields[3].split()
        allowed = float(room) * (abs(float(number)) if kind == "rel" else 1)
        off = value["computed"] - float(number)
        if unit == "deg":
            off = math.remainder(off, 360)
        if value["agrees"] != (abs(off) <= allowed * (1 + 1e-9)):
            yield f"{model}: {fields[1]} is judged wrongly"


def figures(value):
    return f"{value:.6g}"


def cell(text):
    return text.replace("|", "/")


def kind_of(source):
    return next(kind for word, kind in KINDS if word in source)


def code_verification(values):
    yield "## 1. Code verification: values\n"
    agree = sum(value["agrees"] for value in values)
    yield f"{agree} of {len(values)} values agree. By what they rest on:\n"
    yield "| rests on | values | agree |\n|---|---|---|"
    for kind in dict.fromkeys(kind for _, kind in KINDS):
        own = [value for value in values if kind_of(value["source"]) == kind]
        yield f"| {kind} | {len(own)} | {sum(value['agrees'] for value in own)} |"
    own = [value for value in values if value["model"].startswith("CERT-")]
    for grade, asked in ((1, 12), (2, 12), (3, 11)):
        met = [abs(v["difference"] / v["expected"]) for v in own if v["source"].endswith(f"grade {grade}")]
        digits = math.floor(-math.log10(max(max(met), 1e-13)))
        yield f"\nOwn set, grade {grade}: {len(met)} values, every one to {min(digits, asked)} digits at least."
    yield ("\n\"As printed\" allows half of the last printed figure, \"recomputed\" a millionth. Sources are those named in the "
           "files of `tests/cases` and `tests/kept-cases`, where each value stands beside its model.\n")
    yield "| model | quantity | expected | computed | allowed | agrees | source |\n|---|---|---|---|---|---|---|"
    for v in values:
        unit = f" {v['unit']}" if v["unit"] else ""
        yield (f"| {v['model']} | {cell(v['quantity'])} | {figures(v['expected'])}{unit} | {figures(v['computed'])}{unit} | "
               f"{figures(v['allowed'])} | {'yes' if v['agrees'] else 'NO'} | {cell(v['source'])} |")


def power(value):
    """The power of ten that it stays below; far below rounding no two machines agree."""
    return f"below 1e{max(math.floor(math.log10(value)) + 1, -12) if value > 0 else -12}"


def solution_verification(program, source):
    yield "\n## 2. Solution verification: every model of models/\n"
    yield "The largest force that is left over at any node, as a part of the largest pull or load.\n"
    yield "| model | case | outcome | left over |\n|---|---|---|---|"
    for path in sorted(glob.glob(os.path.join(source, "models", "*.xml"))):
        name = os.path.basename(path)
        code, text = run(program, "solve", path, "--format", "json")
        if name == "yard.xml" or code not in ANSWERS:
            continue
        for case in json.loads(text)["cases"]:
            yield f"| {name} | {case['id']} | {case['outcome']} | {power(case['balance']['relative'])} |"


def main():
    program, source = os.path.abspath(sys.argv[1]), os.path.abspath(sys.argv[2])
    page = os.path.join(source, "doc", "verification.md")
    code, text = run(program, "selftest", "--format", "json")
    answer = json.loads(text)
    wrong = list(faults(answer["values"], source))
    if code != 0 or answer["differ"] or answer["agree"] != len(answer["values"]):
        wrong.append(f"selftest ends with {code}: {answer['differ']} differ")
    # a value changed on purpose must be found
    planted = json.loads(json.dumps(answer["values"]))
    planted[7]["computed"] += 100 * planted[7]["allowed"] + 1
    if not list(faults(planted, source)):
        wrong.append("planted and not found: another computed value")
    now = HEAD + "\n".join([*code_verification(answer["values"]), *solution_verification(program, source)]) + "\n" + TAIL
    if "--update" in sys.argv:
        with open(page, "w", encoding="utf-8") as file:
            file.write(now)
    elif not os.path.exists(page):
        wrong.append("doc/verification.md is not there: --update writes it")
    else:
        with open(page, encoding="utf-8") as file:
            then = file.read()
        if then != now:
            first = next(((a, b) for a, b in zip(then.splitlines(), now.splitlines()) if a != b), ("another length", ""))
            wrong.append(f"doc/verification.md is not what is written now (--update): {first[0]!r} is {first[1]!r}")
    for line in wrong:
        print(line)
    print(f"{len(answer['values'])} values, {len(wrong)} faults")
    return 1 if wrong or len(answer["values"]) < 900 else 0


if __name__ == "__main__":
    sys.exit(main())
