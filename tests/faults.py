#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Memory that runs out anywhere, for every verb.

usage: faults.py FUNICLE SOURCE_DIR FAILING_MALLOC [POINTS: sampled of each run, 40; 0: every one]

Each command is run once to count its allocations, then again and again with one of them failing, once or from there
on, and an old file where the output goes. Whatever happens: the old file is whole or the new one is complete, no
other file is left, and standard output is nothing or all of it. Unless a library that sets pages ends the process
(Pango does, for PDF and PNG, when the numbers are safe), it ends by itself with a code that says so: 6, or the
answer's own where the failure was of something it can do without.
"""
import os
import random
import subprocess
import sys
import tempfile

OLD = b"an old answer, to be kept\n"

# words, file written, whether pages are set by Pango
COMMANDS = (
    (("solve", "models/one-redirect.xml"), "answer.txt", False),
    (("solve", "models/three-legs.xml", "--format", "json"), "answer.json", False),
    (("solve", "models/photo.xml", "--format", "csv"), "answer.csv", False),
    (("solve", "models/tag-line-given.xml", "--ranges"), "answer.txt", False),
    (("solve", "models/two-legs.xml", "--matters", "closest"), "answer.txt", False),
    (("solve", "models/two-legs.xml", "--without", "every"), "answer.txt", False),
    (("check", "models/fern-house.xml"), "answer.txt", False),
    (("draw", "models/floating-redirect.xml"), "figure.svg", False),
    (("draw", "models/floating-redirect.xml"), "figure.pdf", True),
    (("draw", "models/floating-redirect.xml"), "figure.png", True),
    (("largest", "models/straight-lowering.xml"), "answer.txt", False),
    (("vary", "models/two-legs.xml", "--of", "log.weight=100..600 kg", "--steps", "2", "--part", "bull"), "answer.txt", False),
    (("vary", "models/two-legs.xml", "--of", "log.weight=100..600 kg", "--steps", "2"), "curve.svg", False),
    (("place", "models/two-legs.xml", "--of", "b1.x=0.2..0.6 m", "--steps", "1"), "answer.json", False),
    (("vary", "models/two-legs.xml", "--of", "b1.x=0.2..0.6 m", "--of", "b1.y=9..10.4 m", "--steps", "1"), "map.svg", False),
    (("fall", "models/caught-log.xml"), "answer.txt", False),
    (("explain", "models/one-redirect.xml"), "answer.txt", False),
    (("explain", "models/one-redirect.xml"), "answer.html", False),
    (("drill", "models/one-redirect.xml"), "answer.txt", False),
    (("report", "models/one-redirect.xml"), "answer.txt", False),
    (("report", "models/one-redirect.xml"), "answer.html", False),
    (("report", "models/one-redirect.xml", "--card"), "card.pdf", True),
    (("report", "models/one-redirect.xml"), "review.pdf", True),
    (("scatter", "models/one-redirect.xml", "--trials", "16", "--threads", "1"), "answer.txt", False),
    (("scatter", "models/one-redirect.xml", "--trials", "16", "--threads", "2", "--format", "json"), "answer.json", False),
    (("selftest",), "answer.txt", False),
    (("--help",), None, False),
)
ANSWERS = (0, 1, 4, 5)


class Tester:
    def __init__(self, program, source, module):
        self.program, self.source, self.module = program, source, module
        self.runs = self.wrong = self.killed = 0

    def run(self, folder, words, output, **environment):
        typed = [self.program, *words] + (["-o", os.path.join(folder, output)] if output else [])
        # libraries that guard memory of their own would hide a failure, or be hidden by it
        chosen = dict(os.environ, LD_PRELOAD=self.module, G_SLICE="always-malloc", **environment)
        chosen.pop("ASAN_OPTIONS", None)
        try:
            return subprocess.run(typed, cwd=self.source, capture_output=True, env=chosen, timeout=120)
        except subprocess.TimeoutExpired:
            return None

    def differs(self, text):
        self.wrong += 1
        print(text)

    def fresh(self, folder, output):
        for name in os.listdir(folder):
            os.remove(os.path.join(folder, name))
        for name in self.written(output):
            with open(os.path.join(folder, name), "wb") as file:
                file.write(OLD)

    def written(self, output):
        """A report leaves a copy for machines beside it."""
        if not output:
            return ()
        copy = (output.rsplit(".", 1)[0] + ".json",) if output in ("review.pdf", "answer.html") else ()
        return (output, *copy)

    def contents(self, folder, output):
        result = {}
        for name in self.written(output):
            path = os.path.join(folder, name)
            with open(path, "rb") as file:
                result[name] = file.read()
        return result

    def command(self, folder, words, output, by_pango, points):
        self.fresh(folder, output)
        count_file = os.path.join(folder, "count")
        good = self.run(folder, words, output, FAIL_COUNT=count_file)
        with open(count_file, encoding="ascii") as file:
            count = int(file.read())
        os.remove(count_file)
        if good is None or good.returncode not in ANSWERS:
            return self.differs(f"{words}: does not run as it is")
        whole = self.contents(folder, output)
        chosen = range(1, count + 1)
        if points and count > points:
            chosen = sorted(random.Random(len(words) * 1000 + count).sample(chosen, points))
        for at in chosen:
            for goes_on in ({}, {"FAIL_ON": "1"}):
                self.point(folder, words, output, by_pango, at, goes_on, good, whole)

    def point(self, folder, words, output, by_pango, at, goes_on, good, whole):
        self.fresh(folder, output)
        self.runs += 1
        told = f"{' '.join(words)} -> {output}, allocation {at}{' on' if goes_on else ''}"
        done = self.run(folder, words, output, FAIL_AT=str(at), **goes_on)
        if done is None:
            return by_pango or self.differs(f"{told}: hangs")
        if done.returncode < 0 or done.returncode > 6:
            self.killed += 1
            if not by_pango:
                self.differs(f"{told}: ends with {done.returncode}")
        elif done.returncode not in (good.returncode, 6, 2, 3):
            self.differs(f"{told}: ends with {done.returncode}")
        now = {name: open(os.path.join(folder, name), "rb").read() for name in os.listdir(folder)}
        for name in self.written(output):
            if now.get(name) not in (OLD, whole.get(name)) and not (by_pango and done.returncode == good.returncode):
                self.differs(f"{told}: {name} is neither the old one nor a whole new one")
        if set(now) != set(self.written(output)):
            self.differs(f"{told}: leaves {sorted(set(now) - set(self.written(output)))}")
        if done.returncode == good.returncode and output and not by_pango and now != whole:
            self.differs(f"{told}: says it has answered and has not")
        if done.stdout not in (b"", good.stdout) and not by_pango:  # GLib has messages of its own
            self.differs(f"{told}: half an answer on standard output")
        if done.returncode == 6 and not done.stderr:
            self.differs(f"{told}: says nothing")


def main():
    program, source, module = (os.path.abspath(path) for path in sys.argv[1:4])
    points = int(sys.argv[4]) if len(sys.argv) > 4 else 40
    tester = Tester(program, source, module)
    with tempfile.TemporaryDirectory() as folder:
        for words, output, by_pango in COMMANDS:
            tester.command(folder, words, output, by_pango, points)
    print(f"{tester.runs} runs, {tester.killed} ended by a library that sets pages, {tester.wrong} faults")
    return 1 if tester.wrong or tester.runs < 150 else 0


if __name__ == "__main__":
    sys.exit(main())
