#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Every number of a model at the ends of what a double holds, and at and just beyond every limit that is stated.

usage: limits.py FUNICLE ANSWER_MANY SOURCE_DIR [EVERY [VERBS_EVERY]]

The models are those of tests/good that need no gear file, and some of chance (tests/balance.py). One number after the other
is put to nothing, to the least and the most a double can be and to the limits of doc/format.md; every so-manyth of all
of these is asked. What comes is an answer whose numbers are numbers and whose balance closes, or a sentence with the line
of the file, and a code of those that are told; never a breakdown, NaN or infinity. Every so-manyth of those asked is given
to the other verbs as well, in both units, as text, figure and report.
"""
import collections
import glob
import json
import os
import re
import subprocess
import sys
import tempfile

sys.path.insert(0, os.path.dirname(os.path.abspath(__file__)))
import balance  # noqa: E402

VALUES = ("0", "-0", "5e-324", "-5e-324", "2.2250738585072009e-308", "2.2250738585072014e-308", "1e-300", "1e-160", "1e-17", "1e-9",
          "1", "0.9999999999999999", "1.0000000000000002", "-1", "0.01", "0.009999999999999998", "3", "3.0000000000000004", "10",
          "10.000000000000002", "20", "20.000000000000004", "180", "180.00000000000003", "1e7", "10000000.000000002", "1e18",
          "1.0000000000000002e18", "1e150", "1e300", "-1e300", "1.7976931348623157e308", "-1.7976931348623157e308")
VERBS = (["check"], ["check", "--format", "json"], ["solve", "--units", "us"], ["solve", "--format", "csv"], ["largest"], ["draw"],
         ["report", "-o", "r.html"], ["solve", "--ranges"])
NUMBER = re.compile(r' ([a-z-]+)="(-?[0-9][0-9.e+-]*)( ?[A-Za-z/%][A-Za-z0-9/%]*)?( (?:left|right)[a-z ]*)?"')
WORDS = ("format", "version", "id", "serial", "checked-on", "title")
CODES = (0, 1, 3, 4, 5)
BAD = re.compile(r"\b-?(nan|inf|infinity)\b", re.IGNORECASE)
SECONDS = 120


def models(source):
    for path in sorted(glob.glob(os.path.join(source, "tests/good/*.xml"))):
        with open(path, encoding="utf-8") as file:
            text = file.read()
        if "<store" not in text and "<rigging" in text:
            yield os.path.basename(path), text
    for number in (0, 5, 11, 23):
        yield f"rig {number}", balance.make(number).text()


def changed(source):
    """(what, line, text)"""
    for name, text in models(source):
        for found in NUMBER.finditer(text):
            if found[1] in WORDS:
                continue
            line = text.count("\n", 0, found.start()) + 1
            for value in VALUES:
                new = f' {found[1]}="{value}{found[3] or ""}{found[4] or ""}"'
                yield f"{name}:{line}:{new}", line, text[:found.start()] + new + text[found.end():]


def no_number(word):
    raise ValueError(word)


def look_at(code, out):
    if code not in CODES:
        return f"ends with {code}: {out[:200]}"
    if code == 3:
        return None if re.match(r"rig:\d+: error: \S", out) and not BAD.search(out.splitlines()[0]) else f"says {out[:200]}"
    try:
        answer = json.loads(out, parse_constant=no_number)
    except ValueError as error:
        return f"is no JSON: {error}"
    for case in answer["cases"]:
        answered = case["outcome"] in balance.ANSWERED
        if answered and not case["balance"]["closed"] and code != 5:
            return "is open, and given out"
        if not answered and not case["notes"]:
            return f"gives no reason for {case['outcome']}"
        for sentence in case["notes"]:
            if BAD.search(sentence):
                return "says " + sentence
    return None


def other_verbs(program, folder, text):
    with open(os.path.join(folder, "m.xml"), "w", encoding="utf-8") as file:
        file.write(text)
    for words in VERBS:
        try:
            done = subprocess.run([program, *words, "m.xml"], cwd=folder, capture_output=True, timeout=SECONDS)
        except subprocess.TimeoutExpired:
            return f"{' '.join(words)} takes more than {SECONDS} s"
        out = (done.stdout + done.stderr).decode(errors="replace")
        if words[0] == "report" and os.path.exists(os.path.join(folder, "r.html")):
            with open(os.path.join(folder, "r.html"), encoding="utf-8") as file:
                out += re.sub(r"<(style|script).*?</\1>", "", file.read(), flags=re.DOTALL)
            os.remove(os.path.join(folder, "r.html"))
        asks_which = words[0] == "largest" and done.returncode == 2
        if done.returncode not in CODES and not asks_which:
            return f"{' '.join(words)} ends with {done.returncode}: {out[:200]}"
        bad = BAD.search(out)
        if bad:
            return f"{' '.join(words)} says ...{out[max(0, bad.start() - 60):bad.end() + 20]!r}"
        if done.returncode == 3 and "m.xml" not in out and words[0] != "largest":
            return f"{' '.join(words)} names no file: {out[:200]}"
    return None


def main():
    program, answers, source = (os.path.abspath(a) for a in sys.argv[1:4])
    every, verbs_every = (int(a) for a in (sys.argv[4:] + ["7", "60"][len(sys.argv[4:]):])[:2])
    codes, wrong, asked = collections.Counter(), 0, 0
    with tempfile.TemporaryDirectory() as folder:
        for i, (what, line, text) in enumerate(changed(source)):
            if i % every:
                continue
            asked += 1
            code, out = balance.Answers.ask(answers, text)
            codes[code] += 1
            fault = look_at(code, out)
            if not fault and asked % verbs_every == 0:
                fault = other_verbs(program, folder, text)
            if fault:
                wrong += 1
                print(f"{what}: {fault}", flush=True)
    print(f"{asked} models, codes {dict(sorted(codes.items(), key=str))}, {wrong} faults")
    return 1 if wrong or len(codes) < 4 else 0


if __name__ == "__main__":
    sys.exit(main())
