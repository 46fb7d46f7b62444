#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""What coverage.sh measured: a table per folder, and a list of what was never reached.

usage: covered.py EXPORT.json EXPORT.lcov SOURCE_DIR LIST [FLOORS]

LIST gets a row for each line that never ran, each side of a branch never taken and each condition whose own effect
was never seen, with the text of the source. FLOORS are rows "FOLDER LINES BRANCHES CONDITIONS" in per cent, FOLDER "."
for all; ends with 1 where a figure is below its floor.

A branch in a macro belongs to the line that uses the macro. What stands in a header and is compiled into several files
counts as reached when it is reached in one of them, as llvm-cov counts.
"""
import collections
import json
import os
import sys

KINDS = ("lines", "branches", "mcdc")
EXPANSION = 1  # kind of a region that a macro stands in


class Source:
    """Texts of the files, for quoting."""

    def __init__(self, root):
        self.root, self.files = root, {}

    def name(self, path):
        return os.path.relpath(path, self.root)

    def text(self, path, from_line, from_column, to_line, to_column):
        lines = self.files.setdefault(path, None)
        if lines is None:
            with open(path, encoding="utf-8") as file:
                lines = self.files[path] = file.read().split("\n")
        part = lines[from_line - 1:to_line]
        if not part:
            return ""
        part[-1] = part[-1][:to_column - 1]
        part[0] = part[0][from_column - 1:]
        return " ".join(" ".join(part).split())


def uses_of_macros(function):
    """Of the files of a function that are macros spelled out: where the outermost one is used."""
    used = {}
    for region in function["regions"]:
        if region[7] == EXPANSION:
            used[region[6]] = (region[5], region[:4])

    def outermost(file):
        at = None
        while file in used:
            file, at = used[file]
        return file, at

    return outermost


def branches_of(functions, source):
    """(file, line, column, text) -> (times true, times false)"""
    seen = collections.defaultdict(lambda: [0, 0])
    for function in functions:
        outermost = uses_of_macros(function)
        for record in function["branches"]:
            file, at = outermost(record[6])
            path = function["filenames"][file]
            text = source.text(function["filenames"][record[6]], *record[:4])
            if at:
                text = f"{source.text(path, *at)}: {text}"
            place = seen[(source.name(path), *(at or record)[:2], text)]
            place[0] += record[4]
            place[1] += record[5]
    return seen


def conditions_of(functions, source):
    """(file, line, column, text of the decision) -> whether each condition showed its effect"""
    seen = {}
    for function in functions:
        for record in function["mcdc_records"]:
            path = function["filenames"][0]
            key = (source.name(path), record[0], record[1], source.text(path, *record[:4]))
            shown = record[-1]
            seen[key] = [a or b for a, b in zip(seen.get(key, [False] * len(shown)), shown)]
    return seen


def lines_never_run(lcov, source):
    never, path = [], None
    with open(lcov, encoding="utf-8") as file:
        for row in file:
            if row.startswith("SF:"):
                path = row[3:].strip()
            elif row.startswith("DA:"):
                line, times = row[3:].split(",")[:2]
                if int(times) == 0:
                    text = source.text(path, int(line), 1, int(line), 400)
                    never.append((source.name(path), int(line), 0, f"line: {text}"))
    return never


def write_list(path, functions, lcov, source):
    rows = lines_never_run(lcov, source)
    for (file, line, column, text), (true, false) in branches_of(functions, source).items():
        if not true and not false:
            rows.append((file, line, column, f"branch never asked: {text}"))
        elif not true or not false:
            rows.append((file, line, column, f"branch never {'false' if true else 'true'}: {text}"))
    for (file, line, column, text), shown in conditions_of(functions, source).items():
        hidden = ", ".join(str(i + 1) for i, one in enumerate(shown) if not one)
        if hidden:
            rows.append((file, line, column, f"condition {hidden} of {len(shown)} not shown: {text}"))
    with open(path, "w", encoding="utf-8") as file:
        for name, line, _, text in sorted(rows):
            file.write(f"{name}:{line}: {text}\n")


def sums(files, source):
    folders = collections.defaultdict(lambda: {kind: [0, 0] for kind in KINDS})
    for file in files:
        for folder in (os.path.dirname(source.name(file["filename"])), "."):
            for kind in KINDS:
                folders[folder][kind][0] += file["summary"][kind]["covered"]
                folders[folder][kind][1] += file["summary"][kind]["count"]
    return folders


def share(pair):
    return 100 * pair[0] / pair[1] if pair[1] else 100.0


def print_table(folders):
    print(f"{'':16}" + "".join(f"{name:>22}" for name in ("lines", "branches", "conditions (MC/DC)")))
    for folder in sorted(folders, key=lambda name: (name == ".", name)):
        if not folders[folder]["lines"][1]:
            continue  # headers alone
        cells = (f"{pair[0]} of {pair[1]} {share(pair):6.2f}" for pair in folders[folder].values())
        print(f"{folder if folder != '.' else 'all':16}" + "".join(f"{cell:>22}" for cell in cells))


def below_floors(folders, floors):
    below = 0
    with open(floors, encoding="utf-8") as file:
        for row in file:
            words = row.split("#")[0].split()
            if not words:
                continue
            for kind, floor in zip(KINDS, words[1:]):
                if share(folders[words[0]][kind]) < float(floor):
                    below += 1
                    print(f"{words[0]}: {kind} {share(folders[words[0]][kind]):.2f} below {floor}")
    return below


def main():
    export, lcov, root, written = sys.argv[1:5]
    source = Source(os.path.abspath(root))
    with open(export, encoding="utf-8") as file:
        measured = json.load(file)["data"][0]
    write_list(written, measured["functions"], lcov, source)
    folders = sums(measured["files"], source)
    print_table(folders)
    return 1 if len(sys.argv) > 5 and below_floors(folders, sys.argv[5]) else 0


if __name__ == "__main__":
    sys.exit(main())
