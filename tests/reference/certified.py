#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""A set of our own with answers of thirty digits, in three grades of difficulty.

usage: certified.py --write | --compare

Writes tests/cases/CERT-*.xml and .expect, or holds those that are there against what it would write. Ropes run without
friction through points; each is at rest where T = EA (l - L0) / L0 and the pulls at every free node cancel. Newton's
method on both, in decimal arithmetic of sixty digits (Python's decimal), from an answer in doubles: the last step is
below 1e-45. After NIST's reference data sets (StRD): certified digits, graded, and no proof of the next case.

Grade 1 has an answer that can be written down; grade 2 has several unknowns; grade 3 loses digits: lines that hang
nearly level, ropes a million times as stiff as others, a leg that is taut by a hair. What is allowed says how many.
"""
import os
import sys
from decimal import Decimal, getcontext

getcontext().prec = 60
FOLDER = os.path.join(os.path.dirname(os.path.abspath(__file__)), "..", "cases")
ALLOWED = {1: "1e-12", 2: "1e-12", 3: "1e-11"}
SOURCE = "own set, 30 digits by decimal arithmetic, grade"


class Model:
    """Anchors and free nodes with weights; ropes as (id, EA, L0, nodes)."""

    def __init__(self, name, grade, title, anchors, free, ropes):
        self.name, self.grade, self.title = name, grade, title
        self.anchors = {id: (Decimal(x), Decimal(y)) for id, x, y in anchors}
        self.free = [(id, Decimal(x), Decimal(y), Decimal(w)) for id, x, y, w in free]
        self.ropes = [(id, Decimal(ea), Decimal(l0), nodes) for id, ea, l0, nodes in ropes]
        self.index = {id: i for i, (id, *_) in enumerate(self.free)}


def pieces(model, place, rope, root):
    """(from, to, length, unit vector) of every straight part."""
    at = lambda id: place[id] if id in model.index else tuple(number(c, root) for c in model.anchors[id])
    for a, b in zip(rope[3], rope[3][1:]):
        (ax, ay), (bx, by) = at(a), at(b)
        dx, dy = bx - ax, by - ay
        length = root(dx * dx + dy * dy)
        yield a, b, length, (dx / length, dy / length)


def number(value, root):
    return value if root is decimal_root else float(value)


def decimal_root(value):
    return value.sqrt()


def float_root(value):
    return value ** 0.5


def tension(model, place, rope, root):
    length = sum(part[2] for part in pieces(model, place, rope, root))
    return number(rope[1], root) * (length - number(rope[2], root)) / number(rope[2], root)


def assemble(model, place, root):
    """What is left over at the free nodes, and its derivative."""
    size = 2 * len(model.free)
    zero = number(Decimal(0), root)
    left = [zero] * size
    slope = [[zero] * size for _ in range(size)]
    for i, node in enumerate(model.free):
        left[2 * i + 1] += number(node[3], root)
    for rope in model.ropes:
        pull = tension(model, place, rope, root)
        if pull <= 0:
            continue
        growth = [zero] * size
        for a, b, length, u in pieces(model, place, rope, root):
            for id, sign in ((a, -1), (b, 1)):
                if id not in model.index:
                    continue
                for k in range(2):
                    growth[2 * model.index[id] + k] += sign * u[k]
                for other, turned in ((a, -1), (b, 1)):
                    if other not in model.index:
                        continue
                    for k in range(2):
                        for m in range(2):
                            across = (1 if k == m else 0) - u[k] * u[m]
                            slope[2 * model.index[id] + k][2 * model.index[other] + m] += sign * turned * pull * across / length
        stiff = number(rope[1], root) / number(rope[2], root)
        for k in range(size):
            left[k] += pull * growth[k]
            for m in range(size):
                slope[k][m] += stiff * growth[k] * growth[m]
    return left, slope


def energy(model, place):
    """Of stretch and weight, in doubles."""
    sum_ = sum(float(weight) * place[id][1] for id, _, _, weight in model.free)
    for rope in model.ropes:
        pull = tension(model, place, rope, float_root)
        if pull > 0:
            sum_ += pull * pull * float(rope[2]) / (2 * float(rope[1]))
    return sum_


def solve(matrix, right):
    """Gauss with pivots."""
    n = len(right)
    rows = [list(row) + [value] for row, value in zip(matrix, right)]
    for k in range(n):
        best = max(range(k, n), key=lambda i: abs(rows[i][k]))
        rows[k], rows[best] = rows[best], rows[k]
        for i in range(k + 1, n):
            times = rows[i][k] / rows[k][k]
            for j in range(k, n + 1):
                rows[i][j] -= times * rows[k][j]
    for k in reversed(range(n)):
        rows[k][n] = (rows[k][n] - sum(rows[k][j] * rows[j][n] for j in range(k + 1, n))) / rows[k][k]
    return [row[n] for row in rows]


def moved(model, place, step, times):
    return {id: (place[id][0] + times * step[2 * i], place[id][1] + times * step[2 * i + 1])
            for i, (id, *_) in enumerate(model.free)}


def rest(model):
    """Places at rest: damped in doubles, then to the last of sixty digits."""
    place = {id: (float(x), float(y)) for id, x, y, _ in model.free}
    shift = 1.0
    for _ in range(4000):
        left, slope = assemble(model, place, float_root)
        size = max(map(abs, left))
        damped = [[value + (shift * size if i == j else 0) for j, value in enumerate(row)] for i, row in enumerate(slope)]
        step = solve(damped, [-value for value in left])
        tried = moved(model, place, step, 1)
        calmer = max(map(abs, assemble(model, tried, float_root)[0])) < size
        if energy(model, tried) < energy(model, place) or (calmer and shift < 1e-6):
            place, shift = tried, shift / 4
        else:
            shift = max(4 * shift, 1e-9)
        if shift > 1e12:
            break
    place = {id: (Decimal(x), Decimal(y)) for id, (x, y) in place.items()}
    for _ in range(60):
        left, slope = assemble(model, place, decimal_root)
        step = solve(slope, [-value for value in left])
        place = moved(model, place, step, 1)
        if max(map(abs, step)) < Decimal("1e-45"):
            if min(tension(model, place, rope, decimal_root) for rope in model.ropes) <= 0:
                raise SystemExit(f"{model.name}: a rope is slack")
            return place
    raise SystemExit(f"{model.name}: no rest")


def hung(count, span, weight, ea, slack):
    """A chain of joints between two anchors at one height."""
    free = [(f"j{i}", str(Decimal(span) * i / (count + 1)), "7", weight) for i in range(1, count + 1)]
    ids = ["a", *[f[0] for f in free], "b"]
    part = Decimal(span) / (count + 1) * Decimal(slack)
    ropes = [(f"l{i}", ea, str(part), pair) for i, pair in enumerate(zip(ids, ids[1:]))]
    return [("a", "0", "10"), ("b", span, "10")], free, [(i, e, l, list(n)) for i, e, l, n in ropes]


def models():
    yield Model("CERT-11", 1, "one leg", [("a", "0", "5")], [("p", "0.25", "2", "1000")], [("l", "250000", "3", ["a", "p"])])
    yield Model("CERT-12", 1, "two legs alike", [("a", "-3", "6"), ("b", "3", "6")], [("p", "0.1", "2", "2500")],
                [("l", "400000", "5", ["a", "p"]), ("m", "400000", "5", ["b", "p"])])
    yield Model("CERT-13", 1, "a ring in the middle of a rope", [("a", "-4", "9"), ("b", "4", "9")], [("r", "0.5", "6", "3200")],
                [("l", "300000", "10", ["a", "r", "b"])])
    yield Model("CERT-21", 2, "two legs that differ", [("a", "-2", "7"), ("b", "5", "6")], [("p", "0.5", "3", "2750")],
                [("l", "180000", "4.5", ["a", "p"]), ("m", "520000", "5.25", ["b", "p"])])
    yield Model("CERT-22", 2, "three legs to one joint", [("a", "-3", "8"), ("b", "0.5", "9"), ("c", "4", "7")],
                [("p", "0.4", "5", "4100")],
                [("l", "210000", "4.4", ["a", "p"]), ("m", "350000", "3.9", ["b", "p"]), ("n", "260000", "4.1", ["c", "p"])])
    yield Model("CERT-23", 2, "a ring between anchors of two heights", [("a", "-5", "11"), ("b", "6", "7")],
                [("r", "1.5", "6", "1850")], [("l", "275000", "13.5", ["a", "r", "b"])])
    yield Model("CERT-24", 2, "a ring on a rope, held off by a leg", [("a", "0", "12"), ("b", "8", "10"), ("c", "14", "9")],
                [("r", "4", "7", "2900"), ("p", "2", "4", "1500")],
                [("l", "310000", "11", ["a", "r", "b"]), ("m", "450000", "8.25", ["c", "r"]), ("n", "220000", "3.5", ["r", "p"])])
    yield Model("CERT-25", 2, "a chain of five", *hung(5, "12", "700", "150000", "1.1"))
    yield Model("CERT-31", 3, "a line that hangs nearly level", [("a", "0", "10"), ("b", "20", "10")],
                [("p", "10.25", "9.9", "1000")], [("l", "100000000", "10.0001", ["a", "p"]), ("m", "100000000", "10.0001", ["b", "p"])])
    yield Model("CERT-32", 3, "a rope a million times as stiff", [("a", "-2", "7"), ("b", "3", "7")],
                [("p", "0.5", "3", "1200")], [("l", "2000", "4", ["a", "p"]), ("m", "2000000000", "4.5", ["b", "p"])])
    yield Model("CERT-33", 3, "a third leg taut by a hair", [("a", "-3", "8"), ("b", "0", "8"), ("c", "3", "8")],
                [("p", "0.01", "4", "5000")],
                [("l", "500000", "5", ["a", "p"]), ("m", "500000", "4.0312", ["b", "p"]), ("n", "500000", "5", ["c", "p"])])
    yield Model("CERT-34", 3, "a stiff chain of twelve", *hung(12, "26", "90", "50000000", "1.002"))


def in_digits(value, digits=30):
    """Plain, so many significant digits."""
    if value == 0:
        return "0"
    return f"{+value:.{max(digits - 1 - value.adjusted(), 0)}f}"


def as_xml(model, place):
    lines = ['<?xml version="1.0" encoding="UTF-8"?>', "<!-- SPDX-License-Identifier: GPL-3.0-or-later -->",
             f'<rigging xmlns="urn:funicle:rigging" format="1" title="{model.title}" drawn="as-rigged">', "  <gear>"]
    for id, ea, _, _ in model.ropes:
        lines.append(f'    <item id="{id}-gear" kind="rope" stiffness="{ea} N"/>')
    lines.append("  </gear>")
    for id, (x, y) in model.anchors.items():
        lines.append(f'  <anchor id="{id}" x="{x} m" y="{y} m"/>')
    through = {id for rope in model.ropes for id in rope[3][1:-1]}
    for id, x, y, weight in model.free:
        kind = "ring" if id in through else "piece"
        lines.append(f'  <{kind} id="{id}" x="{x.normalize():f} m" y="{y} m" weight="{weight} N"/>')
    for id, _, l0, nodes in model.ropes:
        lines.append(f'  <line id="{id}" gear="{id}-gear" length="{l0.normalize():f} m">')
        for k, node in enumerate(nodes):
            end = k in (0, len(nodes) - 1)
            lines.append(f'    <tie at="{node}"/>' if end else f'    <through at="{node}" friction="0" side="left"/>')
        lines.append("  </line>")
    lines += ['  <cases made="none"/>', '  <case id="one" friction="nominal"/>', "</rigging>", ""]
    return "\n".join(lines)


def as_rows(model, place):
    allowed = ALLOWED[model.grade]
    lines = ["# SPDX-License-Identifier: GPL-3.0-or-later", "# row | quantity | expected | tolerance | source"]
    row = lambda quantity, value, unit: lines.append(
        f"{model.name} | {quantity} | {in_digits(value)} {unit} | rel {allowed} | {SOURCE} {model.grade}")
    for rope in model.ropes:
        row(f"tension {rope[0]} 0", tension(model, place, rope, decimal_root), "N")
    for id, *_ in model.free:
        for k, axis in enumerate("xy"):
            if abs(place[id][k]) > Decimal("1e-30"):
                row(f"{axis} {id}", place[id][k], "m")
    return "\n".join(lines) + "\n"


def main():
    wrong = count = 0
    for model in models():
        place = rest(model)
        for suffix, text in (("xml", as_xml(model, place)), ("expect", as_rows(model, place))):
            path = os.path.join(FOLDER, f"{model.name}.{suffix}")
            count += 1
            if "--write" in sys.argv:
                with open(path, "w", encoding="utf-8") as file:
                    file.write(text)
            else:
                with open(path, encoding="utf-8") as file:
                    if file.read() != text:
                        wrong += 1
                        print(f"{os.path.basename(path)} is not what is certified")
    print(f"{count} files, {wrong} differ")
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
