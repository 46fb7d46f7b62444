#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Runs what the manual shows: every ```console block is typed and its output compared, every ```xml
block that is a whole model is read and solved.

usage: manual.py FUNICLE SOURCE_DIR [--update]

A console block holds one or more "$ command" lines, each followed by what it prints (standard output
and error together). --update writes what is printed now into the pages.
"""
import os
import re
import subprocess
import sys

FENCE = re.compile(r"^```(\w+)\n(.*?)^```$", re.M | re.S)
ANSWERS = (0, 1, 4)  # of a model that was read: none over, over or not checked, would come down


def pages(source):
    yield os.path.join(source, "README.md")
    for folder, _, names in sorted(os.walk(os.path.join(source, "doc"))):
        for name in sorted(names):
            if name.endswith(".md"):
                yield os.path.join(folder, name)


def typed(block):
    """(command, expected output) pairs of a console block."""
    pairs = []
    for line in block.splitlines():
        if line.startswith("$ "):
            pairs.append((line[2:], []))
        elif pairs:
            pairs[-1][1].append(line)
    return [(command, "\n".join(lines)) for command, lines in pairs]


def run(command, source, program):
    environment = dict(os.environ, PATH=os.path.dirname(program) + ":" + os.environ["PATH"])
    done = subprocess.run(command, shell=True, cwd=source, env=environment, text=True,
                          stdout=subprocess.PIPE, stderr=subprocess.STDOUT, timeout=60)
    return "\n".join(line.rstrip() for line in done.stdout.splitlines())


def main():
    program, source = os.path.abspath(sys.argv[1]), os.path.abspath(sys.argv[2])
    update = "--update" in sys.argv
    wrong = commands = models = 0
    for page in pages(source):
        text = open(page, encoding="utf-8").read()

        def check(match):
            nonlocal wrong, commands, models
            kind, block = match.group(1), match.group(2)
            if kind == "xml" and "<rigging" in block:
                models += 1
                done = subprocess.run([program, "-"], input=block, text=True, capture_output=True,
                                      cwd=os.path.join(source, "models"), timeout=60)
                if done.returncode not in ANSWERS:
                    wrong += 1
                    print(f"{page}: a model ends with {done.returncode}\n{done.stderr}{block}")
            if kind != "console":
                return match.group(0)
            shown = []
            for command, expected in typed(block):
                commands += 1
                got = run(command, source, program)
                if got != expected and not update:
                    wrong += 1
                    print(f"{page}: $ {command}\n--- shown\n{expected}\n--- printed\n{got}")
                shown.append(f"$ {command}\n{got}\n" if got else f"$ {command}\n")
            return "```console\n" + "".join(shown) + "```"

        new = FENCE.sub(check, text)
        if update and new != text:
            open(page, "w", encoding="utf-8").write(new)
    if commands == 0 or models == 0:
        print("the manual shows no command or no model: nothing was tested")
        return 1
    print(f"{commands} commands and {models} models of the manual, {wrong} wrong")
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
