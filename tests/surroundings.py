#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""The same bytes whatever surrounds the program: languages, variables, streams, clocks, limits.

usage: surroundings.py FUNICLE SOURCE_DIR

Languages are made by localedef in a folder of their own: German, with a comma in its numbers, and Turkish, whose i has no
capital I. What cannot work ends with the code and a sentence that are told; nothing is left behind, nothing hangs.
What closed streams, signals, masks and full disks do is in program.sh.
"""
import os
import resource
import subprocess
import sys
import tempfile

QUESTIONS = (["solve"], ["solve", "--units", "us"], ["solve", "--format", "json"], ["solve", "--format", "csv"], ["check"],
             ["check", "--format", "json"], ["draw"], ["largest"], ["explain", "--node", "b1"])
PAGES = (["report", "-o", "out.html"], ["report", "-o", "out.pdf"], ["draw", "-o", "out.png"])
LANGUAGES = ("de_DE.UTF-8", "tr_TR.UTF-8")
SECONDS = 120


class Watch:
    def __init__(self, program, models, folder):
        self.program, self.models, self.folder = program, models, folder
        self.count, self.wrong = 0, 0
        self.plain = {"PATH": os.environ["PATH"], "HOME": folder, "LC_ALL": "C", "TZ": "UTC", "SOURCE_DATE_EPOCH": "1700000000",
                      **{k: v for k, v in os.environ.items() if k.startswith(("ASAN", "UBSAN", "LSAN"))}}

    def demand(self, met, *what):
        self.count += 1
        if not met:
            self.wrong += 1
            print(*what, flush=True)

    def ask(self, words, environment=None, before=None, **how):
        words, model = list(words), os.path.join(self.models, "fern-house.xml")
        done = subprocess.run([self.program, *words, model], cwd=self.folder, env=self.plain if environment is None else environment,
                              preexec_fn=before, timeout=SECONDS, capture_output=True, stdin=subprocess.DEVNULL, **how)
        written = b""
        for name in ("out.html", "out.pdf", "out.png", "out.json"):
            path = os.path.join(self.folder, name)
            if os.path.exists(path):
                os.chmod(path, 0o600)
                with open(path, "rb") as file:
                    written += file.read()
                os.remove(path)
        return done.returncode, done.stdout, done.stderr, written

    def same(self, what, environment=None, before=None, questions=QUESTIONS):
        for words in questions:
            found = self.ask(words, environment, before)
            self.demand(found == self.expected[tuple(words)], f"{what}: {' '.join(words)} is told otherwise: "
                        f"{found[0]}, {found[2][:200]!r}")
        left = [name for name in os.listdir(self.folder) if name not in self.own]
        self.demand(not left, what, "leaves", left)

    def begin(self):
        self.own = set(os.listdir(self.folder))
        self.expected = {tuple(words): self.ask(words) for words in QUESTIONS + PAGES}
        for words, (code, out, _, written) in self.expected.items():
            self.demand(code in (0, 1) and len(out + written) > 300, " ".join(words), "gives no answer to begin with:", code)


def make_languages(folder):
    made = []
    for name in LANGUAGES:
        kind, letters = name.split(".")
        done = subprocess.run(["localedef", "-i", kind, "-f", letters, os.path.join(folder, name)], capture_output=True)
        if os.path.exists(os.path.join(folder, name)):
            made.append(name)
        elif done.returncode:
            print(f"no {name}: {done.stderr[:100]!r}")
    return made


def languages(watch):
    folder = os.path.join(watch.folder, "languages")
    os.mkdir(folder)
    watch.own.add("languages")
    made = make_languages(folder)
    watch.demand(len(made) == len(LANGUAGES), "not every language could be made")
    german = {**watch.plain, "LC_ALL": "de_DE.UTF-8", "LOCPATH": folder}
    point = subprocess.run(["locale", "decimal_point"], env=german, capture_output=True, text=True).stdout.strip()
    watch.demand(point == ",", "a comma is not in force:", point)
    for name in made:
        watch.same(name, {**watch.plain, "LC_ALL": name, "LANG": name, "LOCPATH": folder}, questions=QUESTIONS + PAGES)
    for name in ("POSIX", "C.UTF-8", "none_AT_ALL", "", "x" * 5000, "../../etc"):
        watch.same(f"LC_ALL={name[:20]}", {**watch.plain, "LC_ALL": name}, questions=QUESTIONS[:3])
    watch.same("no language", {k: v for k, v in watch.plain.items() if k != "LC_ALL"}, questions=QUESTIONS[:3])


def variables(watch):
    watch.same("nothing but a date", {k: v for k, v in watch.plain.items() if k == "SOURCE_DATE_EPOCH" or "SAN" in k})
    for zone in ("Asia/Tokyo", "nowhere", ":" + "x" * 1000, "XXX-25:99"):
        watch.same(f"TZ={zone[:12]}", {**watch.plain, "TZ": zone}, questions=QUESTIONS[:1] + PAGES[:2])
    watch.same("a home that is none", {**watch.plain, "HOME": "/nowhere", "XDG_CACHE_HOME": "/nowhere", "TMPDIR": "/nowhere"},
               questions=QUESTIONS + PAGES[:1])
    watch.same("1 MiB of variables", {**watch.plain, **{f"V{i}": "x" * 65536 for i in range(16)}}, questions=QUESTIONS[:3])
    for epoch in ("0", "2147483647", "2147483648", "4102444800"):
        code, _, err, written = watch.ask(PAGES[1], {**watch.plain, "SOURCE_DATE_EPOCH": epoch})
        watch.demand(code in (0, 1) and written.startswith(b"%PDF"), "a date of", epoch, "ends with", code, err[:200])
    for epoch in ("-1", "x", "", "9" * 30):
        code, _, err, _ = watch.ask(PAGES[1], {**watch.plain, "SOURCE_DATE_EPOCH": epoch})
        watch.demand(code in (0, 1, 2), "a date of", epoch, "ends with", code, err[:200])


def limited(kind, size):
    return lambda: resource.setrlimit(kind, (size, size))


def limits(watch, stack):
    watch.same("a stack of 256 KiB", before=limited(resource.RLIMIT_STACK, stack))
    watch.same("eight files", before=limited(resource.RLIMIT_NOFILE, 8))
    watch.same("no core", before=limited(resource.RLIMIT_CORE, 0))
    watch.same("umask 777", before=lambda: os.umask(0o777), questions=QUESTIONS + PAGES[:1])
    for count in (3, 4):
        code, _, err, _ = watch.ask(["solve"], before=limited(resource.RLIMIT_NOFILE, count))
        unloaded = b"while loading shared libraries" in err  # the program has not begun
        watch.demand(unloaded or code in (0, 1, 3), count, "files: ends with", code, err[:200])


def no_letters(watch):
    """Pages are still written where there are no fonts; what they look like then is not asked."""
    config = os.path.join(watch.folder, "fonts.conf")
    with open(config, "w", encoding="utf-8") as file:
        file.write('<?xml version="1.0"?><!DOCTYPE fontconfig SYSTEM "urn:fontconfig:fonts.dtd"><fontconfig/>')
    watch.own.add("fonts.conf")
    bare = {**watch.plain, "FONTCONFIG_FILE": config}
    watch.same("no fonts", bare)  # nothing but pages wants them
    for words in PAGES[1:]:
        code, _, err, written = watch.ask(words, bare)
        watch.demand(code in (0, 1, 6) and (written or code == 6), "no fonts:", words, "ends with", code, err[:200])


def main():
    program, source = (os.path.abspath(a) for a in sys.argv[1:3])
    with tempfile.TemporaryDirectory() as folder:
        watch = Watch(program, os.path.join(source, "models"), folder)
        watch.begin()
        languages(watch)
        variables(watch)
        limits(watch, 256 << 10)
        no_letters(watch)
    print(f"{watch.count} questions, {watch.wrong} faults")
    return 1 if watch.wrong or watch.count < 100 else 0


if __name__ == "__main__":
    sys.exit(main())
