#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""The manual pages and the completion for bash against what the program says of itself: no warning from two
formatters, every verb and option of --help in both, every element and attribute of the format, every exit code.

usage: manpages.py BUILD SOURCE FUNICLE
"""
import os
import re
import subprocess
import sys

wrong = []


def complain(text):
    wrong.append(text)
    print(text)


def output(words, **more):
    return subprocess.run(words, text=True, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, timeout=60, **more)


def formatted(page):
    """A page as plain text; any warning is a complaint."""
    lint = output(["mandoc", "-Tlint", "-Wwarning", page])
    if lint.returncode != 0 or lint.stdout:
        complain(lint.stdout)
    done = subprocess.run(["groff", "-ww", "-man", "-Tutf8", "-P-c", page], text=True, capture_output=True,
                          env=dict(os.environ, LC_ALL="C.UTF-8"))
    if done.returncode != 0 or done.stderr:
        complain(f"groff: {page}: {done.stderr}")
    return re.sub(r".\x08", "", done.stdout)


def section(text, heading):
    """Lines of a section of a formatted page or of --help."""
    found = re.search(rf"^{heading}\n(.*?)(?=^\S|\Z)", text, re.M | re.S)
    if not found:
        complain(f"no section {heading}")
    return found.group(1).splitlines() if found else []


def first_words(lines, indent):
    return [line.split()[0] for line in lines if re.match(rf"^ {{{indent}}}\S", line)]


def terms(lines):
    """Every word that stands where a term of a list stands."""
    return {word.strip(",") for line in lines if re.match(r"^ {7}\S", line) for word in line.split()[:2]}


def compare(what, want, have):
    if not want:
        complain(f"{what}: nothing to look for")
    for name in want:
        if name not in have:
            complain(f"{what}: {name} is missing")


# ---- completion ---------------------------------------------------------------------------------------

ASK = 'source "$1"; shift; COMP_WORDS=("$@"); COMP_CWORD=$(($# - 1)); _funicle; printf "%s\\n" "${COMPREPLY[@]}"'


def completed(build, folder, *words):
    done = subprocess.run(["bash", "--norc", "-c", ASK, "bash", os.path.join(build, "funicle.bash"), "funicle", *words],
                          text=True, capture_output=True, cwd=folder, timeout=60)
    if done.returncode != 0 or done.stderr:
        complain(f"completion of {words}: {done.stderr}")
    return sorted(line.strip() for line in done.stdout.split("\n") if line.strip())


def completes(build, folder, words, want):
    have = completed(build, folder, *words)
    if have != sorted(want):
        complain(f"{words}: completes {have}, not {sorted(want)}")


def completion(build, source, verbs, options):
    models = os.path.join(source, "models")
    files = sorted(name for name in os.listdir(models) if name.endswith(".xml"))
    compare("completion", options, completed(build, models, "-"))
    completes(build, models, [""], files + verbs)
    completes(build, models, ["check", ""], files)
    completes(build, models, ["check", "two"], ["two-legs.xml"])
    completes(build, models, ["two-legs.xml", "--format", ""], ["text", "json", "csv"])
    completes(build, models, ["two-legs.xml", "--format", "=", "j"], ["json"])
    completes(build, models, ["two-legs.xml", "--format", "="], ["text", "json", "csv"])
    completes(build, models, ["draw", "two-legs.xml", "--case", "h"], ["half"])
    completes(build, models, ["two-legs.xml", "--without", "ev"], ["every"])
    completes(build, models, ["two-legs.xml", "--drop", ""], [])
    completes(build, models, ["two-legs.xml", "-o", "dem"], ["demo.sh"])


# ---- all ----------------------------------------------------------------------------------------------

def main():
    build, source, program = (os.path.abspath(word) for word in sys.argv[1:4])
    help_text = output([program, "--help"]).stdout
    verbs = first_words(section(help_text, "verbs"), 2)
    options = first_words(section(help_text, "options"), 2)
    options += re.findall(r"\(also (-\w)\)$", help_text, re.M)

    page = formatted(os.path.join(build, "funicle.1"))
    compare("funicle(1)", verbs, terms(section(page, "VERBS")))
    compare("funicle(1)", options, terms(section(page, "OPTIONS")))
    compare("funicle(1)", list("0123456"), terms(section(page, "EXIT STATUS")))
    commands = re.findall(r"^  (funicle .*?)  ", help_text, re.M)
    flat = " ".join(page.split())
    compare("funicle(1)", commands, flat)
    compare("funicle(1)", [" ".join(help_text.split("\n\n")[-1].split())], flat)

    page = formatted(os.path.join(build, "funicle.5"))
    lines, reference = page.splitlines(), open(os.path.join(source, "doc/format.md"), encoding="utf-8").read()
    compare("funicle(5)", re.findall(r"^## (`?<?\w+)", reference, re.M),
            {"`" + word.split(">")[0] for line in lines for word in line.split()[:1]} | {"Quantities"})
    compare("funicle(5)", set(re.findall(r"^\| `([\w-]+)`", reference, re.M)), terms(lines))

    completion(build, source, verbs, options)
    print(f"{len(verbs)} verbs and {len(options)} options, {len(wrong)} complaints")
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
