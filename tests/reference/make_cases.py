#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Writes tests/cases: published numbers posed as models, with what the solver must return.

    make_cases.py [FOLDER]           writes NAME.xml and NAME.expect
    make_cases.py --compare [FOLDER] exit 1 if a file there differs from what would be written

Every figure in an .expect file is typed in below from its source; none is computed here.
What is computed is the way the question is put: where a row gives a shape, each rope gets the
unstretched length that reaches this shape under the tension that statics (solved here by 2 x 2
elimination) demands, and free nodes are drawn somewhere else.
"""
import math
import os
import sys
from decimal import Decimal

LBF = 4.4482216152605
GRAVITY = 9.80665
FOOT = 0.3048


# ---- expected values ----------------------------------------------------------------------------

def half_digit(text):
    """Half a unit of the last digit; trailing zeros of a whole number do not count as digits."""
    value = Decimal(text.replace(",", ""))
    exponent = value.normalize().as_tuple().exponent if "." not in text and "e" not in text else \
        value.as_tuple().exponent
    return float(Decimal(5).scaleb(exponent - 1))


def printed(text, unit="", tolerance="half digit"):
    """A figure as its source prints it."""
    number = repr(float(text.replace(",", "")))
    if tolerance == "half digit":
        tolerance = f"abs {half_digit(text)!r}"
    elif tolerance.endswith("%"):
        tolerance = f"rel {float(tolerance[:-1]) / 100!r}"
    return f"{number} {unit}".strip(), tolerance


def recomputed(text, unit="", least=1e-6):
    """A figure found independently from the data: every digit given must be met. One of fewer than
    six digits is exact as it stands."""
    value = abs(float(text))
    digits = sum(c.isdigit() for c in text)
    half = half_digit(text) if digits >= 6 else 0.0
    tolerance = f"abs {half!r}" if half > least * value else f"rel {least!r}"
    return f"{float(text)!r} {unit}".strip(), tolerance


# ---- a model under construction -----------------------------------------------------------------

class Case:
    written = {}

    def __init__(self, name, source, gravity=None):
        self.name, self.source, self.gravity = name, source, gravity
        self.gear, self.body, self.cases, self.rows = [], [], [], []
        self.place, self.load, self.free, self.pulls = {}, {}, [], []

    # nodes
    def fixed(self, kind, name, x, y, more=""):
        self.place[name] = (x, y)
        self.body.append(f'<{kind} id="{name}" x="{x!r} m" y="{y!r} m"{more}/>')

    def anchor(self, name, x, y):
        self.fixed("anchor", name, x, y)

    def hand(self, name, x, y):
        self.fixed("hand", name, x, y)

    def bollard(self, name, x, y, turns, friction):
        self.gear.append(f'<item id="{name}-drum" kind="bollard" friction="{friction!r}"/>')
        self.fixed("bollard", name, x, y, f' gear="{name}-drum" turns="{turns!r}"')

    def node(self, kind, name, x, y, weight="", newton=0.0, off=(0.0, 0.0)):
        """`weight` as written; `newton` what that is; drawn `off` its settled place."""
        self.place[name] = (x, y)
        self.load[name] = [0.0, -newton]
        self.free.append(name)
        words = f' weight="{weight}"' if weight else ""
        self.body.append(f'<{kind} id="{name}" x="{x + off[0]!r} m" y="{y + off[1]!r} m"{words}/>')

    def piece(self, name, x, y, weight="", newton=0.0, off=(0.0, 0.0)):
        self.node("piece", name, x, y, weight, newton, off)

    def joint(self, name, x, y, off=(0.0, 0.0)):
        self.node("joint", name, x, y, off=off)

    # props
    def prop(self, name, heel, head, tension, weight="", newton=0.0, turned=1.0):
        """A bar of 30 cm from a fixed heel to a free head, which is drawn `turned` deg round the heel
        and as far from it as the bar is long without load."""
        stiffness = 12e9 * math.pi / 4 * 0.3 ** 2
        self.pull_on((heel, head), tension)
        self.load[head][1] -= newton / 2
        (x, y), (hx, hy) = self.place[heel], self.place[head]
        length = math.dist(self.place[heel], self.place[head]) / (1 + tension / stiffness)
        drawn = ray(math.degrees(math.atan2(hy - y, hx - x)) + turned, length, (x, y))
        at = next(k for k, row in enumerate(self.body) if f'id="{head}"' in row)
        self.body[at] = self.body[at].replace(f'x="{hx!r} m" y="{hy!r} m"',
                                              f'x="{drawn[0]!r} m" y="{drawn[1]!r} m"')
        words = f' weight="{weight}"' if weight else ""
        self.body.append(f'<prop id="{name}" from="{heel}" to="{head}" diameter="0.3 m" '
                         f'stiffness="12 GPa"{words}/>')

    # ropes
    def unstretched(self, stations, tension, stiffness):
        length = sum(math.dist(self.place[a], self.place[b])
                     for a, b in zip(stations, stations[1:]))
        return length / (1 + tension / stiffness)

    def pull_on(self, stations, tension):
        for a, b in zip(stations, stations[1:]):
            self.pulls.append((a, b, tension))
            self.pulls.append((b, a, tension))

    def stiff(self, name, kind, stiffness):
        self.gear.append(f'<item id="{name}-gear" kind="{kind}" stiffness="{stiffness!r} N"/>')

    def sling(self, name, a, b, tension=None, stiffness=None, length=None):
        """With a tension: as long as it must be to be between a and b under it."""
        stiffness = stiffness or 1000 * (tension or 1e3)
        self.stiff(name, "sling", stiffness)
        if tension is not None:
            self.pull_on((a, b), tension)
            length = self.unstretched((a, b), tension, stiffness)
        words = f' length="{length!r} m"' if length is not None else ""
        self.body.append(f'<sling id="{name}" from="{a}" to="{b}" gear="{name}-gear"{words}/>')

    def line(self, name, stations, tension=None, stiffness=1e6, pull="", pretension="", **through):
        """`through` are the attributes of all its passes; `passes` one dict each instead."""
        self.stiff(name, "rope", stiffness)
        length = ""
        if tension is not None:
            self.pull_on(stations, tension)
            if not pull:
                length = f' length="{self.unstretched(stations, tension, stiffness)!r} m"'
        if pretension:
            length = f' pretension="{pretension}"'
        passes = through.pop("passes", None) or [through] * (len(stations) - 2)
        self.body.append(f'<line id="{name}" gear="{name}-gear"{length}>')
        self.body.append("  " + self.end(stations[0]))
        for station, words in zip(stations[1:-1], passes):
            words = {"friction": "0"} | words if "efficiency" not in words else words
            text = "".join(f' {k}="{v}"' for k, v in words.items())
            self.body.append(f'  <through at="{station}"{text}/>')
        self.body.append("  " + self.end(stations[-1], pull))
        self.body.append("</line>")

    def end(self, station, pull=""):
        held = any(f'id="{station}"' in row and row.startswith(("<hand", "<bollard"))
                   for row in self.body)
        words = f' pull="{pull}"' if pull else ""
        return f'<{"hold" if held else "tie"} at="{station}"{words}/>'

    def case(self, name, runs=(), forces=()):
        self.cases.append(f'<case id="{name}" friction="nominal">')
        self.cases += [f'  <run line="{line}" toward="{end}"/>' for line, end in runs]
        for node, size, unit, direction in forces:
            factor = {"N": 1.0, "lbf": LBF, "kN": 1000.0}[unit]
            self.load[node][0] += size * factor * math.cos(math.radians(direction))
            self.load[node][1] += size * factor * math.sin(math.radians(direction))
            self.cases.append(f'  <force at="{node}" size="{size!r} {unit}" '
                              f'toward="{direction!r} deg"/>')
        self.cases.append("</case>")

    def fall(self, name, drop, more=""):
        self.cases += [f'<case id="{name}" friction="nominal">', f'  <fall of="log" drop="{drop!r} m"{more}/>',
                       "</case>"]

    # what is expected
    def expect(self, quantity, figure, row=None):
        value, tolerance = figure
        self.rows.append(f"{row or self.name} | {quantity} | {value} | {tolerance} | {self.source}")

    def both(self, quantity, text, exact, unit="", tolerance="half digit", row=None):
        self.expect(quantity, printed(text, unit, tolerance), row)
        self.expect(quantity, recomputed(exact, unit), row)

    def check_posed(self):
        """The settled shape must balance under the tensions given, or the row is posed wrongly."""
        force = {name: list(load) for name, load in self.load.items()}
        for a, b, tension in self.pulls:
            d = math.dist(self.place[a], self.place[b])
            if a in force:
                for k in range(2):
                    force[a][k] += tension * (self.place[b][k] - self.place[a][k]) / d
        largest = max([t for _, _, t in self.pulls] + [1e-300])
        for name, left in force.items():
            assert math.hypot(*left) < 1e-5 * largest, (self.name, name, left)

    def text(self):
        gravity = f' gravity="{self.gravity!r} m/s2"' if self.gravity else ""
        out = ['<?xml version="1.0" encoding="UTF-8"?>',
               "<!-- SPDX-License-Identifier: GPL-3.0-or-later -->",
               f'<rigging xmlns="urn:funicle:rigging" format="1" title="{self.name}" '
               f'drawn="as-rigged"{gravity}>', "  <gear>"]
        out += ["    " + row for row in self.gear] + ["  </gear>"]
        out += ["  " + row for row in self.body]
        out += ['  <cases made="none"/>'] + ["  " + row for row in self.cases] + ["</rigging>", ""]
        return "\n".join(out)

    def done(self, posed=True):
        if not self.cases:
            self.case("one")
        if posed:
            self.check_posed()
        assert self.name not in Case.written, self.name
        Case.written[self.name + ".xml"] = self.text()
        head = ["# SPDX-License-Identifier: GPL-3.0-or-later",
                "# row | quantity | expected | tolerance | source"]
        Case.written[self.name + ".expect"] = "\n".join(head + self.rows) + "\n"


def ray(angle, length, origin=(0.0, 0.0)):
    return (origin[0] + length * math.cos(math.radians(angle)),
            origin[1] + length * math.sin(math.radians(angle)))


def two_rays(a, b, load):
    """Tensions in ropes on rays a and b that balance the load vector."""
    ua, ub = ray(a, 1), ray(b, 1)
    det = ua[0] * ub[1] - ub[0] * ua[1]
    return ((-load[0] * ub[1] + load[1] * ub[0]) / det, (-load[1] * ua[0] + load[0] * ua[1]) / det)


# ---- section 1: redirect factors ----------------------------------------------------------------

BLOCK_TABLE = "angle-factor table of trade block catalogues"


def redirect(name, source, theta, weight, newton):
    """A piece hangs straight below `top`; the line leaves with `theta` between its two parts."""
    c = Case(name, source)
    c.anchor("top", 0.0, 10.0)
    c.hand("hand", *ray(theta - 90, 6.0, (0.0, 10.0)))
    c.piece("log", 0.0, 7.0, weight, newton, off=(0.11, 0.05))
    c.line("bull", ("log", "top", "hand"), newton, 1000 * newton)
    return c


def redirect_factors():
    table = """0 2.00 2.0000000;10 1.99 1.9923894;20 1.97 1.9696155;30 1.93 1.9318517;
        40 1.87 1.8793852;45 1.84 1.8477591;50 1.81 1.8126156;60 1.73 1.7320508;70 1.64 1.6383041;
        80 1.53 1.5320889;90 1.41 1.4142136;100 1.29 1.2855752;110 1.15 1.1471529;
        120 1.00 1.0000000;130 0.84 0.8452365;135 0.76 0.7653669;140 0.68 0.6840403;
        150 0.52 0.5176381;160 0.35 0.3472964;170 0.17 0.1743115;180 0.00 0.0000000"""
    for row in table.split(";"):
        theta, text, exact = row.split()
        c = redirect(f"RF-{int(theta):03}", BLOCK_TABLE, float(theta), "1.0 kN", 1000.0)
        c.expect("pull top / tension bull 0", printed(text, tolerance="abs 0.01"))
        c.expect("pull top / tension bull 0", recomputed(exact, least=1e-7))
        c.expect("bend bull 0", (f"{180 - float(theta)!r} deg", "abs 1e-06"))
        if theta != "180":
            c.expect("pull-direction top", (f"{float(theta) / 2 - 90!r} deg", "abs 1e-06"))
        c.done()


def redirect_worked():
    c = Case("RF-W1", "trade block catalogue, worked example")
    newton = 1000 * LBF
    c.anchor("b1", 0.0, 10.0)
    c.anchor("b2", *ray(50 - 90, 6.0, (0.0, 10.0)))
    c.hand("hand", *ray(50 + 90 + 135, 5.0, c.place["b2"]))
    c.piece("log", 0.0, 7.0, "1000 lbf", newton, off=(0.11, 0.05))
    c.line("bull", ("log", "b1", "b2", "hand"), newton, 1000 * newton)
    c.both("pull b1", "1810", "1812.616", "lbf", "2%")
    c.both("pull b2", "760", "765.3669", "lbf", "2%")
    c.done()
    for k, (theta, text, exact) in enumerate(((0, "1000", "1000"), (30, "965", "965.9258"),
                                              (90, "705", "707.1068"), (160, None, "173.6482"))):
        c = redirect(f"RF-W2-{theta}", "trade block catalogue, worked example", theta, "500 lbf",
                     500 * LBF)
        if text:
            c.expect("pull top", printed(text, "lbf", "2%"), "RF-W2")
        c.expect("pull top", recomputed(exact, "lbf"), "RF-W2")
        c.done()
    c = redirect("RF-W3", "trade block catalogue, worked example", 100, "150 kg", 150 * GRAVITY)
    c.both("pull top", "194", "192.8363", "kg", "2%")
    c.done()
    c = Case("RF-W4", "statics textbook problem: a tree being straightened (reprint)")
    tension = 395 / (2 * math.cos(math.radians(17)))
    c.hand("A", -8.0, 0.0)
    c.anchor("C", *ray(17, 5.0))
    c.anchor("D", *ray(-17, 7.0))
    c.node("block", "B", 0.0, 0.0, off=(-0.2, 0.1))
    c.line("AB", ("B", "A"), 395.0, pull="395 N")
    c.line("rope", ("C", "B", "D"), tension, 1000 * tension)
    c.both("tension rope 0", "207", "206.5241", "N")
    c.both("tension rope 1", "207", "206.5241", "N", row="JT-22")
    c.done()


# ---- section 2: legs ----------------------------------------------------------------------------

def legs(name, source, beta, weight, newton, reach=2.0):
    c = Case(name, source)
    tension = newton / 2 / math.sin(math.radians(beta))
    half, drop = reach * math.cos(math.radians(beta)), reach * math.sin(math.radians(beta))
    if beta == 90:
        half = 0.0
    c.anchor("a", -half, 5.0)
    c.anchor("b", half, 5.0)
    c.piece("log", 0.0, 5.0 - drop, weight, newton, off=(0.07, -0.09))
    c.sling("s1", "a", "log", tension)
    c.sling("s2", "b", "log", tension)
    return c


def leg_factors():
    table = """90 1.000 1.0000000;85 1.003 1.0038198;80 1.015 1.0154266;75 1.035 1.0352762;
        70 1.064 1.0641778;65 1.103 1.1033779;60 1.154 1.1547005;55 1.220 1.2207746;
        50 1.305 1.3054073;45 1.414 1.4142136;40 1.555 1.5557238;35 1.743 1.7434468;
        30 2.000 2.0000000"""
    for row in table.split(";"):
        beta, text, exact = row.split()
        c = legs(f"LG-{beta}", "trade chart of sling legs", float(beta), "2.0 kN", 2000.0)
        c.expect("tension s1 0", printed(text, "kN", "abs 0.01"))
        c.expect("tension s1 0", recomputed(exact, "kN", 1e-7))
        c.expect("tension s2 0", recomputed(exact, "kN", 1e-7))
        c.done()
    source = "trade chart of sling legs, worked example"
    for beta, text, exact in ((60, "577", "577.3503"), (45, "707", "707.1068")):
        c = legs(f"LG-W1-{beta}", source, beta, "1000 lbf", 1000 * LBF)
        c.both("tension s1 0", text, exact, "lbf", row="LG-W1")
        c.done()
    c = legs("LG-W2", source, 60, "2000 lbf", 2000 * LBF)
    c.both("tension s1 0", "1154", "1154.701", "lbf", "2%")
    c.done()
    c = legs("LG-W3", source, 40, "4000 kg", 4000 * GRAVITY)
    c.both("tension s1 0", "3110", "3111.448", "kg")
    c.done()
    c = legs("LG-W4", source, math.degrees(math.asin(24 / 36)), "6000 kg", 6000 * GRAVITY,
             36 * 0.0254)
    c.both("tension s1 0", "4500", "4500", "kg")
    c.done()


def deflected_lines():
    table = """0.01 25.005000;0.02 12.509996;0.05 5.024938;0.10 2.549510;0.15 1.740051;
        0.20 1.346291;0.25 1.118034;0.50 0.707107"""
    for k, row in enumerate(table.split(";"), 1):
        sag, exact = row.split()
        beta = math.degrees(math.atan2(float(sag), 0.5))
        c = legs(f"DL-{k}", "Tree Rescue Manual (2022) p. 128, formula", beta, "1.0 kN", 1000.0,
                 8 * math.hypot(0.5, float(sag)))
        c.expect("tension s1 0", recomputed(exact, "kN"))
        c.done()


# ---- section 4: friction ------------------------------------------------------------------------

def over_edge(name, source, weight, newton, arc, gravity=None, **words):
    """A piece straight below a fixed edge, the rope leaving after `arc` of bend to a hand."""
    c = Case(name, source, gravity)
    c.anchor("edge", 0.0, 10.0)
    c.hand("hand", *ray(90 - arc, 6.0, (0.0, 10.0)))
    c.piece("log", 0.0, 7.0, weight, newton)
    c.line("bull", ("log", "edge", "hand"), None, 1e4 * newton, **words)
    c.case("lower", [("bull", "log")])
    c.case("raise", [("bull", "hand")])
    return c


def raise_and_lower():
    table = """90 98 50 0.21 0.214205;180 88 35 0.15 0.146739;90 89 49 0.19 0.189972;
        90 92 53 0.18 0.175547;180 87 36 0.14 0.140437;90 92 52 0.18 0.181610;
        90 103 47 0.25 0.249740;180 125 37 0.19 0.193755;90 92 47 0.21 0.213790;
        180 127 29 0.24 0.235055;180 140 31 0.24 0.239951;180 179 17 0.37 0.374678;
        180 140 15 0.36 0.355487;90 135 34 0.44 0.438922"""
    for k, row in enumerate(table.split(";"), 1):
        arc, up, down, _, mu = row.split()
        load = math.sqrt(float(up) * float(down))
        c = over_edge(f"RL-{k:02}", "Delaney, Physics for Roping Technicians (2022) p. 88",
                      f"{load!r} kg", load * GRAVITY, float(arc), friction=mu)
        # the recomputed coefficient has six decimals: 5e-7 of it times the bend
        c.expect("tension bull 1 in raise", (f"{float(up)!r} kg", "rel 2e-06"))
        c.expect("tension bull 1 in lower", (f"{float(down)!r} kg", "rel 2e-06"))
        c.done(posed=False)


def bollard(name, source, weight, newton, turns, friction, gravity=None):
    c = Case(name, source, gravity)
    c.bollard("post", 0.0, 10.0, turns, friction)
    c.piece("log", 0.0, 7.0, weight, newton)
    c.line("bull", ("log", "post"), None, 1e4 * newton)
    c.case("lower", [("bull", "log")])
    return c


def turns_on_bollard():
    table = """0.25 75.97 75.965617;0.5 57.71 57.707750;1 33.30 33.301844;2 11.09 11.090128;
        3 3.69 3.693217;4 1.23 1.229909;5 0.41 0.409582;6 0.14 0.136399"""
    for k, row in enumerate(table.split(";"), 1):
        turns, text, exact = row.split()
        c = bollard(f"BO-{k}", "Delaney, Physics for Roping Technicians (2022) p. 88", "100 kg",
                    100 * GRAVITY, float(turns), 0.175)
        c.both("hand bull least", text, exact, "kg")
        c.done(posed=False)


def plain_pins():
    for k, (share, ratio) in enumerate((("0.3456221", "1.148515"), ("0.1820388", "1.075567"),
                                        ("0.3214584", "1.137418")), 1):
        pin = 0.2 * float(share)
        c = over_edge(f"PB-{k}", "Donzelli (1999) Table 1, geometry; sheave on a plain pin",
                      "1.0 kN", 1000.0, 180.0, efficiency=repr((1 - pin) / (1 + pin)))
        c.expect("tension bull 1 / tension bull 0 in raise", recomputed(ratio))
        c.expect("tension bull 0 / tension bull 1 in lower", recomputed(ratio))
        c.done(posed=False)


# ---- section 5: tackle --------------------------------------------------------------------------

def tackle(c, tag, parts, ratio, newton, x=0.0, weight=None):
    """`parts` at the load, as many sheaves, led off the upper block straight down to a hand."""
    top, low, hand = f"top{tag}", f"low{tag}", f"hand{tag}"
    c.anchor(top, x, 10.0)
    c.hand(hand, x, -1.0)
    c.piece(low, x, 2.0, weight or f"{newton!r} N", newton)
    stations = [top] if parts % 2 == 0 else [low]
    while len(stations) < parts + 1:
        stations.append(low if stations[-1] == top else top)
    words = {"efficiency": repr(1 / ratio)} if ratio != 1 else {"friction": "0"}
    c.line(f"fall{tag}", stations + [hand], None, 1e4 * newton, **words)
    return f"fall{tag}", hand


def tackle_table():
    columns = ("1", "1.02", "1.04", "1.045", "1.09", "1.10")
    table = """2 0.500000 0.515050 0.530196 0.533998 0.568469 0.576190;
        3 0.333333 0.346755 0.360349 0.363773 0.395055 0.402115;
        4 0.250000 0.262624 0.275490 0.278744 0.308669 0.315471;
        5 0.200000 0.212158 0.224627 0.227792 0.257092 0.263797;
        6 0.166667 0.178526 0.190762 0.193878 0.222920 0.229607"""
    for row in table.split(";"):
        parts, *pulls = row.split()
        c = Case(f"TM-K-{parts}", "pull/W = K^S (K - 1)/(K^N - 1), Wire Rope Users Manual p. 86")
        runs = []
        for k, ratio in enumerate(columns):
            runs.append(tackle(c, k, int(parts), float(ratio), 1000.0, 3.0 * k))
        c.case("raise", runs)
        for k, pull in enumerate(pulls):
            c.expect(f"tension fall{k} {parts}", recomputed(pull, "kN"))
        if parts == "4":
            c.expect("tension fall4 4", printed("0.309", "kN"), "TM-K1")
        c.done(posed=False)


def tackle_ratios():
    table = """1 0.96 0.956938 0.98 0.980392;2 1.87 1.872668 1.94 1.941561;
        3 2.75 2.748964 2.88 2.883883;4 3.59 3.587526 3.81 3.807729;5 4.39 4.389977 4.71 4.713460;
        6 5.16 5.157872 5.60 5.601431;7 5.90 5.892701 6.47 6.471991;8 6.60 6.595886 7.32 7.325481;
        9 7.27 7.268790 8.16 8.162237;10 7.91 7.912718 8.98 8.982585;
        12 9.11 9.118581 10.6 10.575341;15 10.7 10.739546 12.9 12.849264;
        20 13.0 13.007936 16.4 16.351433"""
    for row in table.split(";"):
        parts, bronze, bronze_exact, rolling, rolling_exact = row.split()
        c = Case(f"TR-{int(parts):02}", "trade table of tackle ratios")
        runs = [tackle(c, "a", int(parts), 1.045, 1000.0),
                tackle(c, "b", int(parts), 1.02, 1000.0, 3.0)]
        c.case("raise", runs)
        tolerance = "abs 0.01" if int(parts) <= 10 else "abs 0.06"
        for tag, text, exact in (("a", bronze, bronze_exact), ("b", rolling, rolling_exact)):
            # the load over the pull of the hand: the load is 1 kN
            quantity = f"load low{tag} / tension fall{tag} {parts}"
            c.expect(quantity, printed(text, tolerance=tolerance))
            c.expect(quantity, recomputed(exact))
        c.done(posed=False)


def tackle_worked():
    rows = (("TK-02", 2, 200, "100", "100", "half digit", 1.0, "Builder 3 and 2"),
            ("TK-03", 3, 600, "200", "200", "half digit", 1.0, "Builder 3 and 2"),
            ("TK-05", 4, 6000, "1500", "1500", "half digit", 1.0, "Wire Rope Users Manual p. 86"),
            ("TK-06", 4, 3250, "1000", "1004.302", "2%", 1 / 0.917, "Pipeline Rules of Thumb p. 6"))
    for name, parts, load, text, exact, tolerance, ratio, source in rows:
        c = Case(name, source)
        run = tackle(c, "", parts, ratio, load * LBF, weight=f"{load} lbf")
        c.case("raise", [run])
        c.both(f"tension fall {parts}", text, exact, "lbf", tolerance)
        if name == "TK-06":
            c.expect(f"load low / tension fall {parts}", printed("3.25", tolerance="2%"))
            c.expect(f"load low / tension fall {parts}", recomputed("3.236079"))
        c.done(posed=False)


# ---- section 8, group A: joints -----------------------------------------------------------------

def joint_on_rays(name, source, rays, load, weight, gravity=None, reach=(3.0, 4.0)):
    """One loaded joint on two ropes; s1, s2 on the rays."""
    c = Case(name, source, gravity)
    tensions = two_rays(rays[0], rays[1], load)
    for k, (angle, length, tension) in enumerate(zip(rays, reach, tensions), 1):
        c.anchor(f"a{k}", *ray(angle, length))
    c.piece("j", 0.0, 0.0, weight, -load[1], off=(0.05, -0.08))
    for k, tension in enumerate(tensions, 1):
        c.sling(f"s{k}", f"a{k}", "j", tension)
    return c


def joints():
    up = "OpenStax, University Physics vol. 1"
    cp = "OpenStax, College Physics"
    hg = "Hibbeler and Gupta, Engineering Mechanics"
    bj = "Beer and Johnston, Statics"

    def simple(name, source, rays, load, weight, figures, gravity=None):
        c = joint_on_rays(name, source, rays, (0.0, -load), weight, gravity)
        for k, (text, exact, unit, tolerance) in enumerate(figures, 1):
            if text:
                c.expect(f"tension s{k} 0", printed(text, unit, tolerance))
            c.expect(f"tension s{k} 0", recomputed(exact, unit))
        c.done()

    h = "half digit"
    simple("JT-01", f"{up} m58303", (150, 45), 15 * 9.8, "15.0 kg",
           (("108", "107.6115", "N", h), ("132", "131.7966", "N", h)), 9.8)
    simple("JT-02", f"{up} m58300", (175, 5), 70 * 9.8, "70.0 kg",
           (("3930", "3935.484", "N", "2%"), ("3930", "3935.484", "N", "2%")), 9.8)
    simple("JT-03", f"{cp} m42132", (105, 10), 76 * 9.8, "76.0 kg",
           (("736", "736.2866", "N", h), ("194", "193.5048", "N", h)), 9.8)
    simple("JT-07", f"{up} m58300", (168, 12), 2e-5 * 9.8, "2.00e-5 kg",
           ((None, "0.000471354", "N", h), ("4.71e-4", "0.000471354", "N", h)), 9.8)
    simple("JT-08-5", f"{up} m58300", (175, 5), 0.026 * 9.8, "0.026 kg",
           (("1.5", "1.461751", "N", h), ("1.5", "1.461751", "N", h)), 9.8)
    simple("JT-08-05", f"{up} m58300", (179.5, 0.5), 0.026 * 9.8, "0.026 kg",
           (("15", "14.59915", "N", h), ("15", "14.59915", "N", h)), 9.8)
    simple("JT-09", f"{hg} Ex. 3.2", (30, 180), 250 * 9.81, "250 kg",
           (("4.90", "4.905", "kN", "abs 0.0051"), ("4.25", "4.247855", "kN", h)), 9.81)
    simple("JT-11", f"{bj} Ex. 2.4", (92, -30), 3500 * LBF, "3500 lbf",
           (("3574", "3574.195", "lbf", h), ("144", "144.0346", "lbf", h)))
    simple("JT-13", "Bansal, Engineering Mechanics Ex. 1.9", (120, 45), 15, "15 N",
           (("10.98", "10.98076", "N", h), ("7.76", "7.764571", "N", h)))
    simple("JT-14", "Schaum's Outline of Engineering Mechanics Ex. 5.5-1",
           (math.degrees(math.atan2(2, -4)), math.degrees(math.atan2(2, 6))), 25 * LBF, "25 lbf",
           (("33.5", "33.54102", "lbf", h), ("31.6", "31.62278", "lbf", h)))
    simple("POS-7", "statics textbook problem", (150, 64.34109), 98.1, "98.1 N",
           (("42.6", "42.60076", "N", h), ("85.2", "85.20153", "N", h)))

    c = Case("JT-04", f"{up} m58340", 9.8)
    j, short, long = (0.02236068, -0.04472136), (0.0, 0.0), (0.1118034, 0.0)
    angles = [math.degrees(math.atan2(a[1] - j[1], a[0] - j[0])) for a in (short, long)]
    t = two_rays(angles[0], angles[1], (0.0, -3.130495))
    c.anchor("a", *short)
    c.anchor("b", *long)
    c.piece("pan", *j, "3.130495 N", 3.130495, off=(0.003, 0.004))
    c.sling("short", "a", "pan", t[0])
    c.sling("long", "b", "pan", t[1])
    c.both("tension long 0", "1.40", "1.4", "N")
    c.both("tension short 0", "2.80", "2.8", "N")
    c.done()

    c = Case("JT-05", f"{up} m58300")
    half = math.sqrt(1.5 ** 2 - 0.25 ** 2)
    c.anchor("a", -half, 0.0)
    c.anchor("b", half, 0.0)
    c.joint("mid", 0.0, 0.25, off=(0.02, -0.1))
    c.sling("s1", "a", "mid", 600.0)
    c.sling("s2", "mid", "b", 600.0)
    c.case("one", forces=[("mid", 200.0, "N", 90.0)])
    c.expect("tension s1 0", ("600 N", "abs 5.0"))
    c.expect("tension s1 0", recomputed("600", "N"))
    c.expect("y mid", recomputed("0.25", "m"))
    c.done()

    c = Case("JT-06", f"{up} m58303", 9.8)
    load = 30 * 9.8
    each, side = two_rays(120, 0, (0.0, -load))
    c.anchor("beam", *ray(120, 3.0))
    c.anchor("post", 5.0, 0.0)
    c.piece("seat", 0.0, 0.0, "30.0 kg", load, off=(-0.1, -0.05))
    c.sling("r1", "beam", "seat", each / 2, 1000 * each)
    c.sling("r2", "beam", "seat", each / 2, 1000 * each)
    c.sling("f", "seat", "post", side)
    c.both("tension r1 0", "170", "169.741", "N")
    c.both("tension f 0", "170", "169.741", "N")
    c.done()

    c = Case("JT-10", f"{hg} Ex. 3.3")
    eg, ec = two_rays(60, 225, (0.0, -20.0))
    down = math.degrees(math.atan2(3, -4))
    cd = ec * math.cos(math.radians(45)) / 0.8
    weight = cd * 0.6 + ec * math.sin(math.radians(45))
    assert abs(weight - 47.81089) < 1e-5
    e = ray(45, 2.0)
    c.piece("C", 0.0, 0.0, f"{weight!r} N", weight, off=(0.1, 0.1))
    c.piece("E", *e, "20 N", 20.0, off=(-0.05, 0.15))
    c.anchor("D", *ray(down, 3.0))
    c.anchor("G", *ray(60, 2.5, e))
    c.sling("EG", "G", "E", eg)
    c.sling("EC", "E", "C", ec)
    c.sling("CD", "C", "D", cd)
    for name, text, exact in (("EG", "54.6", "54.64102"), ("EC", "38.6", "38.63703"),
                              ("CD", "34.1", "34.15064")):
        c.both(f"tension {name} 0", text, exact, "N", "2%")
    c.done()

    c = Case("JT-12", f"{bj} Ex. 2.6")
    ab = math.degrees(math.atan2(4, -7))
    ac_angle = math.degrees(math.atan2(4, 1.5))
    load = (200 * math.cos(math.radians(ab)), 200 * math.sin(math.radians(ab)) - 300)
    ac, drag = two_rays(ac_angle, 0, load)
    c.hand("B", *ray(ab, 9.0))
    c.hand("E", *ray(-90, 7.0))
    c.anchor("C", *ray(ac_angle, 5.0))
    c.anchor("water", 6.0, 0.0)
    c.joint("boat", 0.0, 0.0, off=(0.1, -0.15))
    c.line("AB", ("boat", "B"), 200.0, pull="200 N")
    c.line("AE", ("boat", "E"), 300.0, pull="300 N")
    c.sling("AC", "boat", "C", ac)
    c.sling("drag", "boat", "water", drag)
    c.both("tension drag 0", "98.4", "98.35905", "N")
    c.both("tension AC 0", "214.4", "214.4248", "N")
    c.done()

    c = Case("JT-15", "Tayal, Engineering Mechanics Ex. 2.4")
    c.hand("p", *ray(160, 10.0))
    c.hand("q", *ray(50, 9.0))
    both = 2 * 3500 * math.cos(math.radians(55))
    c.anchor("a", *ray(-75, 4.0))
    c.joint("j", 0.0, 0.0, off=(0.2, 0.1))
    c.line("l1", ("j", "p"), 3500.0, pull="3.5 kN")
    c.line("l2", ("j", "q"), 3500.0, pull="3.5 kN")
    c.sling("s", "j", "a", both)
    c.both("tension s 0", "4.015", "4.015035", "kN")
    c.expect("direction s 0", ("-75 deg", "abs 0.5"))
    c.expect("direction s 0", ("-75 deg", "abs 1e-06"))
    c.done()

    c = Case("JT-16", f"{bj} Prob. 2.55")
    cosines = (math.cos(math.radians(25)) + math.cos(math.radians(125)),
               math.sin(math.radians(25)) + math.sin(math.radians(125)))
    p = ray(125, 1)
    det = cosines[0] * p[1] - p[0] * cosines[1]
    acb, pull = -p[0] * 1800 / det, cosines[0] * 1800 / det
    c.anchor("A", *ray(125, 5.0))
    c.anchor("B", *ray(25, 8.0))
    c.anchor("P", *ray(125, 3.0))
    c.node("block", "C", 0.0, 0.0, "1800 N", 1800.0, off=(0.1, -0.1))
    c.line("ACB", ("A", "C", "B"), acb, 1000 * acb)
    c.sling("haul", "C", "P", pull)
    c.both("tension ACB 0", "1048", "1048.365", "N")
    c.both("tension haul 0", "608", "608.1557", "N")
    c.done()

    c = Case("JT-17", f"{bj} Prob. 2.42")
    left, right = ray(155, 1), ray(15, 1)
    acb = -20 * left[0] / (left[0] + right[0]) * LBF
    weight = acb * (left[1] + right[1]) + 20 * LBF * left[1]
    assert abs(weight / LBF - 215.6353) < 1e-4
    c.anchor("A", *ray(155, 6.0))
    c.anchor("B", *ray(15, 7.0))
    c.hand("D", *ray(155, 5.0))
    c.node("block", "C", 0.0, 0.0, f"{weight!r} N", weight, off=(0.1, -0.1))
    c.line("ACB", ("A", "C", "B"), acb, 1000 * acb)
    c.line("CD", ("C", "D"), 20 * LBF, pull="20 lbf")
    c.both("tension ACB 1", "304.04", "304.0381", "lbf")
    c.done()

    c = Case("JT-18", f"{bj} Prob. 2.44")
    f = ray(135, 600.0)
    f = (f[0] + ray(25, 750.0)[0], f[1] + ray(25, 750.0)[1])
    assert abs(math.hypot(*f) - 784.0165) < 1e-4
    c.anchor("A", *ray(135, 4.0))
    c.anchor("B", *ray(25, 5.0))
    c.joint("C", 0.0, 0.0, off=(0.1, 0.12))
    c.sling("AC", "A", "C", 600.0)
    c.sling("BC", "B", "C", 750.0)
    c.case("one", forces=[("C", math.hypot(*f), "N", math.degrees(math.atan2(-f[1], -f[0])))])
    c.expect("tension AC 0", recomputed("600", "N"))
    c.expect("tension BC 0", recomputed("750", "N"))
    c.done()

    c = Case("JT-19", "statics textbook problem (reprint)", 9.81)
    c.anchor("A", 0.0, 0.0)
    c.anchor("C", 0.4, 0.0)
    c.node("block", "B", 0.2, -0.15, "1.5 kg", 1.5 * 9.81, off=(0.03, -0.01))
    c.line("ABC", ("A", "B", "C"), 1.5 * 9.81 / 2 / 0.6, 1e4)
    c.both("tension ABC 0", "12.3", "12.2625", "N")
    c.done()

    c = Case("JT-20", f"{cp} m42174", 9.8)
    load = 122 * 9.8
    c.anchor("ceiling", 0.0, 5.0)
    c.hand("hand", 0.0, 6.0)
    c.node("block", "lower", 0.0, 2.0, "7.00 kg", 7 * 9.8)
    c.piece("engine", 0.0, 1.0, "115 kg", 115 * 9.8)
    c.sling("hook", "lower", "engine", 115 * 9.8)
    c.line("fall", ("ceiling", "lower", "ceiling", "lower", "hand"), load / 4, 1000 * load)
    c.both("tension fall 3", "299", "298.9", "N")
    c.both("pull ceiling", "897", "896.7", "N")
    c.done()

    c = Case("JT-21", "Schaum's Outline of Engineering Mechanics Ex. 5.5-10", 9.81)
    c.anchor("a", 0.0, 10.0)
    c.hand("hand", 0.0, 11.0)
    c.node("block", "p1", 0.0, 2.0, "10 kg", 98.1)
    c.node("block", "p2", 0.0, 6.0)
    c.line("first", ("a", "p1", "p2"), 98.1 / 2, 1e5)
    c.line("second", ("a", "p2", "hand"), 98.1 / 4, 1e5)
    c.both("tension second 1", "24.5", "24.525", "N")
    c.done()


# ---- section 8, group B and 9.5: hanging shapes --------------------------------------------------

def hanging(name, source, places, loads, unit, figures, scale=1.0, vectors=()):
    """A chain from the first to the last place; loads on those between. `figures` are rows
    (quantity, printed or None, recomputed, unit, tolerance)."""
    factor = {"kN": 1e3, "N": 1.0, "lbf": LBF, "kip": 1e3 * LBF}[unit]
    c = Case(name, source)
    places = [(x * scale, y * scale) for x, y in places]
    last = len(places) - 1
    horizontal = horizontal_pull(places, [q * factor for q in loads])
    for k, (x, y) in enumerate(places):
        if k in (0, last):
            c.anchor(f"n{k}", x, y)
        else:
            c.piece(f"n{k}", x, y, f"{loads[k - 1]!r} {unit}", loads[k - 1] * factor,
                    off=(0.05 * scale * (-1) ** k, 0.4 * scale))
    for k in range(last):
        (xa, ya), (xb, yb) = places[k], places[k + 1]
        c.sling(f"s{k}", f"n{k}", f"n{k + 1}",
                horizontal * math.hypot(xb - xa, yb - ya) / (xb - xa))
    for quantity, text, exact, due, tolerance in figures:
        if text:
            c.expect(quantity, printed(text, due, tolerance))
        if exact:
            c.expect(quantity, recomputed(exact, due))
    c.done()


def horizontal_pull(places, loads):
    """From the balance of the first loaded node."""
    (x0, y0), (x1, y1), (x2, y2) = places[:3]
    return loads[0] / ((y2 - y1) / (x2 - x1) - (y1 - y0) / (x1 - x0))


def hanging_shapes():
    c = Case("POS-1", "Hibbeler, Statics, 14th ed. Prob. 3-36", 9.81)
    load = 100 * 9.81
    slope = math.acos(3.5 / 5)
    tension = load / 2 / math.sin(slope)
    # the two parts are equally steep: x on the left part, 3.5 - x on the right one
    x = (3.5 - 0.75 / math.tan(slope)) / 2
    c.anchor("A", 0.0, 0.0)
    c.anchor("C", 3.5, 0.75)
    c.node("block", "B", x, -x * math.tan(slope), "100 kg", load, off=(0.4, 0.2))
    c.line("rope", ("A", "B", "C"), tension, 1000 * tension)
    c.both("x B", "1.38", "1.382426", "m", "2%")
    c.expect("y B", recomputed("-1.410357", "m"))
    c.both("tension rope 0", "686.5", "686.8374", "N", "2%")
    c.expect("direction rope 1", printed("45.6", "deg", "2%"))
    c.expect("direction rope 1", ("45.573 deg", "abs 0.0005"))
    c.expect("length rope 0", recomputed("1.974895", "m"))
    c.expect("length rope 1", recomputed("3.025105", "m"))
    c.done()

    bj = "Beer and Johnston, Statics"
    # H 90 kN, A_y 25 kN: slopes of the four parts, from the loads
    slopes, x, y = (-25 / 90, 5 / 90, 65 / 90, 85 / 90), (0, 6, 9, 13.5, 18), [0.0]
    for k, slope in enumerate(slopes):
        y.append(y[-1] + slope * (x[k + 1] - x[k]))
    hanging("POS-2", f"{bj} Ex. 7.8", list(zip(x, y)), (30.0, 60.0, 20.0), "kN",
            [("pull-x n0", None, "90", "kN", ""), ("y n1", None, "-1.666667", "m", ""),
             ("y n2", None, "-1.5", "m", ""), ("y n3", None, "1.75", "m", ""),
             ("tension s0 0", None, "93.40771", "kN", ""),
             ("tension s1 0", None, "90.13878", "kN", ""),
             ("tension s2 0", None, "111.018", "kN", ""),
             ("tension s3 0", None, "123.7942", "kN", ""),
             ("direction s3 0", None, "43.36342", "deg", "")])

    # V_A 12 kN; the third part rises by 4 + 15 - 12 = 7 kN over H
    h = 19 / 3
    y = [0.0, -12 * 3 / h, -12.0, -12 + 7 * 8 / h, 0.0]
    figures = [("tension s0 0", "13.6", "13.56875", "kN", "2%"),
               ("tension s1 0", "10.2", "10.20349", "kN", "2%"),
               ("tension s2 0", "9.5", "9.439868", "kN", "2%"),
               ("tension s3 0", "11.8", "11.83685", "kN", "2%"),
               ("pull-x n0", None, "6.333333", "kN", ""), ("y n1", None, "-5.684211", "m", ""),
               ("y n2", None, "-12", "m", ""), ("y n3", None, "-3.157895", "m", "")]
    places = list(zip((0, 3, 8, 16, 18), y))
    hanging("POS-3", "Hibbeler and Gupta, Engineering Mechanics Ex. 7.13", places, (4.0, 15.0, 3.0),
            "kN", figures)

    hanging("POS-4", "Tayal, Engineering Mechanics Ex. 10.2",
            [(0, 0), (1, -1.5), (2, -2.5), (3, -2.75), (4, -2)], (100.0, 150.0, 200.0), "N",
            [("pull-y n0", "-300", "-300", "N", "half digit"),
             ("pull-y n4", "-150", "-150", "N", "half digit"),
             ("tension s0 0", "360.6", "360.5551", "N", "half digit"),
             ("tension s1 0", "282.8", "282.8427", "N", "half digit"),
             ("tension s2 0", None, "206.1553", "N", ""), ("tension s3 0", None, "250", "N", "")])

    # 600 at 4, 450 at 8 ft: A_y 450, B_y 600 lb; the steepest part, on the right, carries 720
    h = math.sqrt(720 ** 2 - 600 ** 2)
    hanging("POS-5", f"{bj} Prob. 7.115", [(0, 0), (4, -4 * 450 / h), (8, -2 * 600 / h), (10, 0)],
            (600.0, 450.0), "lbf",
            [("pull-x n0", "398", "397.995", "lbf", "half digit"),
             ("y n1", "-4.52", "-4.52267", "ft", "half digit"),
             ("tension s0 0", None, "600.7495", "lbf", ""),
             ("tension s1 0", None, "425.3234", "lbf", ""),
             ("tension s2 0", None, "720", "lbf", "")],
            FOOT)


def funiculars():
    """Here the free lengths are the data, as published; stiff rope, drawn far from its shape."""
    def chain(name, source, lengths, supports, loads, scale, figures, stiffness):
        c = Case(name, source)
        c.anchor("n0", 0.0, 0.0)
        c.anchor(f"n{len(lengths)}", supports[0] * scale, supports[1] * scale)
        for k, load in enumerate(loads, 1):
            share = k / len(lengths)
            c.piece(f"n{k}", supports[0] * scale * share, -1.0, load)
        for k, length in enumerate(lengths):
            c.sling(f"s{k}", f"n{k}", f"n{k + 1}", stiffness=stiffness, length=length * scale)
        for quantity, text, exact, unit, tolerance in figures:
            if text:
                c.expect(quantity, printed(text, unit, tolerance))
            # the data are for rope that does not stretch: EA 1e9 N adds T/EA
            value, _ = recomputed(exact, unit)
            c.expect(quantity, (value, "rel 0.0002"))
        c.done(posed=False)

    chain("MB-funicular-1", "Hibbeler and Gupta, Engineering Mechanics Ex. 7.13",
          (6.42730498, 8.055383087, 11.92404401, 3.737953875), (18, 0),
          ("4 kN", "15 kN", "3 kN"), 1.0,
          [("tension s0 0", "13.6", "13.568755", "kN", "half digit"),
           ("tension s1 0", "10.2", "10.203485", "kN", "half digit"),
           ("tension s2 0", "9.44", "9.4398682", "kN", "half digit"),
           ("tension s3 0", "11.8", "11.836854", "kN", "half digit"),
           ("x n1", None, "3", "m", ""), ("y n1", None, "-5.684211", "m", ""),
           ("x n2", None, "8", "m", ""), ("y n2", None, "-12", "m", ""),
           ("x n3", None, "16", "m", ""), ("y n3", None, "-3.157895", "m", "")], 1e9)
    chain("MB-funicular-2", "Beer and Johnston, Statics, Sample 7.8",
          (20.757268547, 10.01542021, 18.503002759, 20.632364005), (60, 20),
          ("6000 lbf", "12000 lbf", "4000 lbf"), FOOT,
          [("tension s0 0", None, "18.681542", "kip", ""),
           ("tension s1 0", None, "18.027756", "kip", ""),
           ("tension s2 0", None, "22.203603", "kip", ""),
           ("tension s3 0", "24.8", "24.758837", "kip", "half digit"),
           ("pull-x n0", "18", "18", "kip", "half digit"),
           ("pull-y n0", "-5", "-5", "kip", "half digit"),
           ("y n1", "-5.56", "-5.555556", "ft", "half digit"),
           ("y n3", "5.83", "5.833333", "ft", "half digit"),
           ("direction s3 0", "43.4", "43.36342", "deg", "half digit")], 1e10)


# ---- section 8, group C: elastic ----------------------------------------------------------------

def elastic():
    c = Case("EL-1", "Hibbeler and Gupta, Engineering Mechanics Ex. 3.4", 9.81)
    load = 8 * 9.81
    ac, ab = two_rays(150, 0, (0.0, -load))
    reach = 0.4 + ab / 300
    # B is 2 m to the right of C: the lamp hangs reach left of B
    across = 2 - reach
    cable = across / math.cos(math.radians(30))
    c.anchor("B", reach, 0.0)
    c.anchor("C", *ray(150, cable))
    c.piece("lamp", 0.0, 0.0, "8 kg", load, off=(0.1, -0.1))
    c.sling("AB", "B", "lamp", stiffness=300 * 0.4, length=0.4)
    c.pull_on(("B", "lamp"), ab)
    c.sling("AC", "C", "lamp", ac)
    c.both("length AC 0", "1.32", "1.324321", "m")
    c.both("tension AB 0", "135.9", "135.9313", "N")
    c.both("x B - x lamp", "0.853", "0.8531045", "m")
    c.expect("tension AC 0", recomputed("156.96", "N"))
    c.done()

    c = Case("EL-2", "Hibbeler, Statics, 13th ed. Prob. 3-19", 9.81)
    ac = 60 * 0.8 / math.cos(math.radians(45))
    weight = 36 + ac * math.sin(math.radians(45))
    assert abs(weight - 84) < 1e-9
    c.anchor("B", 4.0, 3.0)
    c.anchor("C", *ray(135, 4.0))
    c.piece("A", 0.0, 0.0, f"{weight!r} N", weight, off=(-0.2, 0.3))
    c.sling("AB", "B", "A", stiffness=90.0, length=3.0)
    c.pull_on(("B", "A"), 60.0)
    c.sling("AC", "C", "A", ac)
    c.both("tension AC 0", "67.88", "67.88225", "N")
    c.expect("tension AB 0", recomputed("60", "N"))
    c.done()

    for name, source, length, stiffness, load, gravity, text, exact, unit in (
            ("EL-3", "University Physics vol. 1 m58342", 35.0, 1.35e9 * math.pi * 0.004 ** 2,
             "65.0 kg", 9.8, "-32.9", "-32.85518", "cm"),
            ("EL-4", "College Physics m42081", 35.0, 5e9 * math.pi * 0.004 ** 2, "65.0 kg", 9.8,
             "-9", "-8.870899", "cm"),
            ("EL-5", "University Physics vol. 1 m58342", 30.0, 1.347597e9 * math.pi * 0.005 ** 2,
             "90 kg", 9.8, "-25.0", "-25", "cm"),
            ("EL-6", "College Physics m42081", 3020.0, 210e9 * math.pi * 0.028 ** 2, "3.0e6 N",
             None, "-18", "-17.51632", "m")):
        c = Case(name, f"OpenStax, {source}", gravity)
        c.anchor("top", 0.0, length)
        c.piece("load", 0.0, 0.0, load)
        c.sling("rope", "top", "load", stiffness=stiffness, length=length)
        c.both("y load", text, exact, unit)
        c.done(posed=False)

    c = Case("EL-7", "physics exercise (reprint)", 9.8)
    c.anchor("top", 0.0, 0.5)
    c.joint("mid", 0.0, 0.3)
    c.piece("load", 0.0, 0.0, "0.50 kg")
    c.sling("s1", "top", "mid", stiffness=175 * 0.2, length=0.2)
    c.sling("s2", "mid", "load", stiffness=270 * 0.3, length=0.3)
    c.both("y load", "-0.0461", "-0.04614815", "m")
    c.done(posed=False)


# ---- section 8, group D and 9.6: friction --------------------------------------------------------

def frictions():
    bj = "Beer and Johnston, Statics"
    c = over_edge("FRI-1", f"{bj} Ex. 8.6", "500 lbf", 500 * LBF, 180.0, efficiency=repr(0.9 / 1.1))
    c.both("tension bull 1 in raise", "611", "611.1111", "lbf", "2%")
    c.both("tension bull 1 in lower", "409", "409.0909", "lbf", "2%")
    c.done(posed=False)
    c = over_edge("FRI-1-level", f"{bj} Ex. 8.6", "500 lbf", 500 * LBF, 90.0,
                  efficiency=repr(0.9 / 1.1))
    c.both("tension bull 1 in raise", "577", "576.2966", "lbf", "2%", "FRI-1")
    c.done(posed=False)

    mu = math.log(7500 / 150) / (4 * math.pi)
    for name, turns, load in (("FRI-2-two", 2.0, "7500 N"), ("FRI-2-three", 3.0, "53.03301 kN")):
        c = bollard(name, f"{bj} Ex. 8.7", load, 1e4, turns, mu)
        c.both("hand bull least", "150", "150", "N", row="FRI-2")
        c.done(posed=False)
    mu = math.log(5000 / 80) / (4 * math.pi)
    for name, turns, load in (("FRI-3-two", 2.0, "5000 lbf"), ("FRI-3-more", 2.67049, "20000 lbf")):
        c = bollard(name, f"{bj} Prob. 8.104", load, 1e5, turns, mu)
        c.both("hand bull least", "80", "80", "lbf", row="FRI-3")
        c.expect("hand bull least", recomputed("80", "lbf", 1e-5), "MB-cap-2")
        c.done(posed=False)
    c = over_edge("FRI-4", f"{bj} Ex. 8.8", "600 lbf", 600 * LBF, 120.0, friction="0.25")
    c.both("tension bull 1 in lower", "355.4", "355.4309", "lbf")
    c.done(posed=False)
    for name, source, load, unit, turns, mu, text, exact in (
            ("FRI-5", "Baker and Haynes, Engineering Statics ch. 9", "100", "lbf", 4.5, 0.23,
             "0.15", "0.1498791"),
            ("FRI-6", "Tayal, Engineering Mechanics Ex. 7.4", "1000", "N", 0.5, 0.25,
             "456", "455.9381"),
            ("FRI-7", "Tayal, Engineering Mechanics Ex. 7.6", "1000", "N", 3.0, 0.3,
             "3.50", "3.500439"),
            ("FRI-9", "Engineering ToolBox, Bollard force", "500", "N", 0.5, 0.4,
             "142", "142.3048")):
        c = bollard(name, source, f"{load} {unit}", 1e3, turns, mu)
        c.both("hand bull least", text, exact, unit)
        c.done(posed=False)
    c = bollard("FRI-8", "Engineering ToolBox, Bollard force", "1 kN", 1e3, 1.0, 0.5)
    c.both("hand bull least", "0.043", "0.04321392", "kN")
    c.done(posed=False)

    c = bollard("MB-cap-1", "open course Engineering Mechanics 1, exercise 27", "100 kg", 1e3,
                0.75, 0.2, 9.81)
    c.both("hand bull least", "382.26", "382.25758", "N")
    c.done(posed=False)
    mu = math.log(50 * 9.81 / 70) / math.pi
    c = over_edge("MB-cap-3", "Meriam and Kraige, Statics 6/86", "50 kg", 490.5, 180.0, 9.81,
                  friction=repr(mu))
    c.both("tension bull 1 in raise", "3.44", "3.4370036", "kN")
    c.both("tension bull 1 in lower", "70", "70", "N")
    c.done(posed=False)
    for name, load, hand in (("MB-cap-4-low", "1000 N", "94.780225"),
                             ("MB-cap-4-high", "10550.724 N", "1000")):
        c = bollard(name, "homework problem: rope friction", load, 1e3, 1.5, 0.25)
        if name == "MB-cap-4-low":
            c.expect("hand bull least", printed("94.78", "N"), "MB-cap-4")
        c.expect("hand bull least", recomputed(hand, "N"), "MB-cap-4")
        c.done(posed=False)

    c = Case("MB-cap-5", "homework problem: three fixed pipes")
    r = 0.05
    for k, (x, y) in enumerate(((0.0, 10.0), (2 * r, 6.0), (4 * r, 10.0)), 1):
        c.anchor(f"p{k}", x, y)
    c.hand("hand", 5 * r, 1.0)
    c.piece("log", -r, 7.0, "44 lbf")
    words = {"friction": "0.25", "tread": f"{2 * r!r} m"}
    c.line("bull", ("log", "p1", "p2", "p3", "hand"), None, 1e6,
           passes=[words | {"side": s} for s in ("right", "left", "right")])
    c.case("lower", [("bull", "log")])
    c.both("tension bull 3", "4.173", "4.1703299", "lbf", "2%")
    c.expect("bend bull 1", ("180 deg", "abs 1e-06"))
    c.done(posed=False)


# ---- section 9: benchmarks ----------------------------------------------------------------------

def benchmarks():
    source = "planar analogue of a net after Tibert, Numerical analyses of cable roof structures"
    for tag, loads, places, tensions in (
            ("a", ("17792.886 N", "17792.886 N"),
             (("30.439605", "-0.44801733"), ("61.000395", "-0.44801733")),
             ("59201.571", "56464.495", "59201.571")),
            ("b", ("17792.886 N", ""), (("30.008227", "-1.5398372"), ("60.061706", "3.6868796")),
             ("35639.495", "34078.995", "34078.995"))):
        c = Case(f"MB-net-{tag}", source)
        c.anchor("a", 0.0, 9.144)
        c.anchor("b", 91.44, 9.144)
        c.node("piece" if loads[0] else "joint", "n1", 30.48, 0.0, loads[0])
        c.node("piece" if loads[1] else "joint", "n2", 60.96, 0.0, loads[1])
        for name, ends, length in (("s0", ("a", "n1"), 31.7599684),
                                   ("s1", ("n1", "n2"), 30.4190391),
                                   ("s2", ("n2", "b"), 31.7599684)):
            c.sling(name, *ends, stiffness=12116955.7, length=length)
        # free lengths and EA are given to nine digits: 1e-8 of EA T/EA
        for k, exact in enumerate(tensions):
            c.expect(f"tension s{k} 0", (f"{exact} N", "rel 1e-06"))
        for k, (x, y) in enumerate(places, 1):
            c.expect(f"x n{k}", (f"{x} m", "abs 2e-06"))
            c.expect(f"y n{k}", (f"{y} m", "abs 2e-06"))
        c.done(posed=False)

    c = Case("MB-six", "MathWorks, Optimization Toolbox documentation, mass-spring example", 9.807)
    springs = ((40, 1.0), (80, 0.5), (120, 1.0), (160, 2.0), (200, 1.0), (240, 0.5))
    c.anchor("n0", 0.0, 5.0)
    c.anchor("n6", 5.0, 4.0)
    for k, mass in enumerate((2, 1, 3, 2, 1), 1):
        c.piece(f"n{k}", 5 * k / 6, 5 - k / 6, f"{mass} kg")
    for k, (stiffness, length) in enumerate(springs):
        c.sling(f"s{k}", f"n{k}", f"n{k + 1}", stiffness=stiffness * length, length=length)
    c.expect("potential", ("246.4901067576 J", "rel 1e-09"))
    for k, (x, y) in enumerate((("0.84771217", "2.8830349"), ("1.3673148", "2.1207468"),
                                ("2.2502637", "1.2802188"), ("4.089262", "2.3714032"),
                                ("4.7088891", "3.3774093")), 1):
        c.expect(f"x n{k}", recomputed(x, "m"))
        c.expect(f"y n{k}", recomputed(y, "m"))
    for k, tension in enumerate(("51.215413", "33.802762", "26.286166", "22.138136", "36.303708",
                                 "44.949106")):
        c.expect(f"tension s{k} 0", recomputed(tension, "N"))
    c.done(posed=False)

    for name, source, ends, free, stiffness, load, place, tensions, energy in (
            ("MB-two-1", "Chapra, Applied Numerical Methods with MATLAB 7.4", (10.0, -10.0), 10.0,
             (9.0, 2.0), (2.0, 4.0), ("4.9523019", "1.2768513"), ("0.2779486", "4.632716"),
             ("-9.6422", "-9.642203594")),
            ("MB-two-2", "Arora, Optimization: Algorithms and Applications ch. 3", (-1.0, 1.0), 1.0,
             (200.0, 180.0), (20.0, 40.0), ("0.50437113", "0.12192402"), ("46.01657", "2.272346"),
             ("-9.65623", "-9.656229788")),
            ("MB-two-3", "Vanderplaats, Numerical Optimization Techniques", (10.0, -10.0), 10.0,
             (8.0, 1.0), (5.0, 5.0), ("8.6320661", "4.5319067"), ("1.745991", "6.902334"),
             ("-41.81", "-41.80822994"))):
        c = Case(name, source)
        c.anchor("a", 0.0, ends[0])
        c.anchor("b", 0.0, ends[1])
        c.joint("j", 0.0, 0.0)
        c.sling("s1", "a", "j", stiffness=stiffness[0] * free, length=free)
        c.sling("s2", "b", "j", stiffness=stiffness[1] * free, length=free)
        c.case("one", forces=[("j", load[0], "N", 0.0), ("j", load[1], "N", 90.0)])
        c.expect("potential", printed(energy[0], "J"))
        c.expect("potential", (f"{energy[1]} J", "rel 1e-09"))
        c.expect("x j", recomputed(place[0], "m"))
        c.expect("y j", recomputed(place[1], "m"))
        c.expect("tension s1 0", recomputed(tensions[0], "N"))
        c.expect("tension s2 0", recomputed(tensions[1], "N"))
        if name == "MB-two-1":
            c.expect("x j", printed("4.9523", "m"))
            c.expect("y j", printed("1.2769", "m"))
        if name == "MB-two-3":
            c.expect("x j", printed("8.631", "m", "2%"))
            c.expect("y j", printed("4.533", "m", "2%"))
        c.done(posed=False)

    table = """-40 0.000000 10.000000 0.0004000;-20 1.568832 7.487660 -0.0098009;
        -10 2.365821 6.209670 -0.0147766;0 3.160610 4.934084 -0.0197363;
        5 3.557181 4.297194 -0.0222103;10 3.953205 3.660905 -0.0246802;
        20 4.743616 2.390133 -0.0296083;40 6.228418 0.000000 -0.0388601"""
    for k, row in enumerate(table.split(";"), 1):
        delta, side, middle, y = row.split()
        c = Case(f"MB-legs-{k}", "three-bar problem after Timoshenko, large displacements")
        for x, name in ((-3.0, "a"), (0.0, "b"), (3.0, "c")):
            c.anchor(name, x, 4.0)
        c.piece("log", 0.0, 0.0, "10 kN", off=(0.03, 0.0))
        for name, anchor, length in (("left", "a", 5.0), ("middle", "b", 4 + float(delta) / 1000),
                                     ("right", "c", 5.0)):
            c.sling(name, anchor, "log", stiffness=1e6, length=length)
        for name, exact in (("left", side), ("middle", middle), ("right", side)):
            c.expect(f"tension {name} 0", recomputed(exact, "kN"))
        c.expect("y log", recomputed(y, "m"))
        c.done(posed=False)


# ---- section 10: treads -------------------------------------------------------------------------

def belt(name, source, diameters, centres, crossed, length, laps, text=None):
    """A belt round two fixed treads, cut at a point of one straight part and tied there."""
    r1, r2 = diameters[0] / 2, diameters[1] / 2
    c = Case(name, source)
    c.anchor("p1", 0.0, 0.0)
    c.anchor("p2", centres, 0.0)
    if crossed:
        c.anchor("m", centres * r1 / (r1 + r2), 0.0)
    else:
        # the upper common tangent touches both treads at the same angle
        angle = math.acos((r1 - r2) / centres)
        c.anchor("m", (centres + (r1 + r2) * math.cos(angle)) / 2, (r1 + r2) * math.sin(angle) / 2)
    sides = ("left", "right") if crossed else ("left", "left")
    passes = [{"tread": f"{d!r} m", "side": s} for d, s in zip(diameters, sides)]
    c.line("belt", ("m", "p1", "p2", "m"), None, 1e6, pretension="1 kN", passes=passes)
    if text:
        c.expect("path belt", printed(text, "m"))
    c.expect("path belt", recomputed(length, "m", 1e-8))
    for k, lap in enumerate(laps):
        c.expect(f"bend belt {k}", recomputed(lap, "deg", 1e-8))
    c.expect("tension belt 1", recomputed("1000", "N"))
    c.done(posed=False)


def belts():
    source = "textbook exercise: belt on two pulleys"
    belt("SH-1", source, (0.45, 0.20), 1.95, True, "4.97531072",
         ("199.188136", "199.188136"), "4.975")
    belt("SH-2", source, (0.45, 0.20), 1.95, False, "4.92903318",
         ("187.350653", "172.649347"))
    belt("SH-3", source, (0.5, 1.6), 12.0, False, "27.32388504", (), "27.32")
    belt("SH-3-crossed", source, (0.5, 1.6), 12.0, True, "27.39060604", ())
    belt("SH-4", source, (0.105, 0.393), 0.697, False, "2.20611413", (), "2.2")

    # the tight part of the crossed belt, taken as a load hanging straight off the larger pulley
    c = Case("SH-1-pull", source)
    r1, r2, centres = 0.225, 0.1, 1.95
    lean = math.asin((r1 + r2) / centres)
    # rope up along x = -r1, over p1 (turning right) by 180 deg + 2 lean, then left round p2
    axis = -math.pi / 2 - lean
    c.anchor("p1", 0.0, 10.0)
    c.anchor("p2", centres * math.cos(axis), 10.0 + centres * math.sin(axis))
    c.hand("hand", 4.0, 10.0)
    c.piece("log", -r1, 6.0, "1000 N")
    c.line("belt", ("log", "p1", "p2", "hand"), None, 1e7,
           passes=[{"tread": "0.45 m", "side": "right", "friction": "0.25"},
                   {"tread": "0.2 m", "side": "left", "friction": "0"}])
    c.case("lower", [("belt", "log")])
    c.both("bend belt 0", "199.2", "199.188136", "deg", row="SH-1")
    c.expect("tension belt 1", recomputed("419.319465", "N"), "SH-1")
    c.done(posed=False)


# ---- section 13.3: pull of a redirect on a branch ------------------------------------------------

def branch_redirects():
    for k, (theta, text, exact, phi) in enumerate(((0, "2.00", "2.0000000", 45),
                                                   (45, "1.85", "1.8477591", 22.5),
                                                   (90, "1.41", "1.4142136", 0)), 1):
        c = redirect(f"RM-{k}", "Tree Rescue Manual (2022) p. 121", -theta, "1 kN", 1000.0)
        c.both("pull top", text, exact, "kN")
        # the branch rises 45 deg to the right: its axis, seen from the tip, points along -135 deg
        c.expect("pull-direction top", (f"{-135 + phi!r} deg", "abs 1e-06"))
        c.done()


# ---- section 8.2: bars that push ------------------------------------------------------------------

def bar(name, source, heel, head, top, load, weight=0.0):
    """A bar from `heel` to `head`, held up by a rope from `head` to `top`."""
    c = Case(name, source)
    c.anchor("heel", *heel)
    c.anchor("top", *top)
    c.piece("head", *head, f"{load!r} N", load)
    direction = [math.degrees(math.atan2(b[1] - head[1], b[0] - head[0])) for b in (heel, top)]
    push, pull = two_rays(*direction, (0.0, -load - weight / 2))
    c.prop("bar", "heel", "head", push, f"{weight!r} N" if weight else "", weight)
    c.sling("tie", "head", "top", pull)
    return c


def bars():
    source = "Baker and Haynes, Engineering Statics ch. 3, Cargo Boom"
    c = bar("BAR-1", source, (0.0, 0.0), (12.855752, 15.320889), (0.0, 18.534827), 24000.0)
    c.both("tension tie 0", "17.16", "17.15871", "kN")
    c.both("tension bar 0", "-25.9", "-25.89719", "kN")
    c.done()

    # the source measures the bar's own weight at its middle; its hinge is pulled, so it points back
    c = bar("BAR-2", "OpenStax, University Physics vol. 1 m58341", (0.0, 0.0), (4.0, 0.0), (0.0, 3.0),
            400.0, 600.0)
    c.both("tension tie 0", "1167", "1166.667", "N")
    c.expect("tension bar 0", recomputed("-933.3333", "N"))
    c.both("pull heel", "980", "980.3627", "N")
    c.both("pull-direction heel", "-162", "-162.18111", "deg")
    c.done()

    c = bar("BAR-4", "Tayal, Engineering Mechanics Ex. 2.9", (0.0, -0.2), (0.25, 0.0), (0.0, 0.3), 1000.0)
    c.both("tension tie 0", "781.0", "781.025", "N")
    c.both("tension bar 0", "-640.3", "-640.3124", "N")
    c.done()


# ---- section 11: caught pieces -------------------------------------------------------------------

ENERGY = "energy conservation: F = W + sqrt(W^2 + 2 W K f)"
STANDARD = "EN 892 and UIAA 101 standard drop, 80 kg, 4.6 m on 2.6 m; " + ENERGY
EDGE = "energy balance with one friction edge, lengths kept: k = K/(L1 + L2 e^-mu theta); recomputed"
CROSSING = "the same with the rope that crosses the edge counted; integrated apart, recomputed"


def straight_drop(name, source, mass, length, stiffness, drops):
    """A piece on one rope under an anchor; `drops`: case, fall factor, force."""
    c = Case(name, source, 9.81)
    c.anchor("top", 0.0, length)
    c.piece("log", 0.0, 0.0, f"{mass} kg")
    c.line("bull", ("log", "top"), None, stiffness)
    for case, factor, force, unit in drops:
        c.fall(case, factor * length)
        c.expect(f"peak in {case}", recomputed(force, unit))
    c.done(posed=False)


def edge_drop(name, source, mass, lead, fall, stiffness, mu, drop):
    """A piece under a fixed point, the rope led straight down again to another."""
    c = Case(name, source, 9.81)
    c.anchor("top", 0.0, 20.0)
    c.anchor("low", 0.0, 20.0 - fall)
    c.piece("log", 0.0, 20.0 - lead, f"{mass} kg")
    c.line("bull", ("log", "top", "low"), None, stiffness, friction=mu, side="left")
    c.fall("caught", drop)
    return c


def caught():
    names = ("quarter", "half", "one")
    for k, (full, stiffness, forces) in enumerate((
            ("7", 13688.517, ("3.231693", "4.155061", "5.486013")),
            ("9", 24081.372, ("3.957408", "5.202375", "6.982706")),
            ("12", 45072.198, ("5.062912", "6.783848", "9.232358"))), 1):
        straight_drop(f"FA-{k}", STANDARD, 80, 2.6, stiffness,
                      [("standard", 4.6 / 2.6, full, "kN")] +
                      [(n, f, force, "kN") for n, f, force in zip(names, (0.25, 0.5, 1.0), forces)])
    straight_drop("FA-4", ENERGY + ", h = 0", 100, 12.0, 200000.0, [("caught", 0.0, "1962", "N")])
    straight_drop("FA-5", "EN 1891 A: 100 kg, fall factor 0.3, 6 kN; " + ENERGY, 100, 2.0, 41162.080,
                  [("rated", 0.3, "6", "kN"), ("one", 1.0, "10.021042", "kN")])
    straight_drop("FA-6", STANDARD, 80, 2.6, 24070.907,
                  [(n, f, force, "kN") for n, f, force in
                   zip(names, (0.25, 0.5, 1.0), ("3.956761", "5.201446", "6.981380"))])
    for k, (stiffness, lead, anchor, stretch) in enumerate((
            (200000.0, "13565.8547", "27131.7094", "0.813951"),
            (400000.0, "18254.6193", "36509.2386", "0.547639"),
            (1500000.0, "33344.3110", "66688.6220", "0.266754"),
            (109200.0, "10637.6120", "21275.2240", "1.168968")), 7):
        c = edge_drop(f"FA-{k}", ENERGY, 200, 1.0, 11.0, stiffness, "0", 2.0)
        c.expect("tension bull 0", recomputed(lead, "N"))
        c.expect("pull top", recomputed(anchor, "N"))
        c.expect("travel", recomputed(repr(2 + float(stretch)), "m"))
        c.done(posed=False)
    for k, (mu, lead, fall, anchor) in enumerate((
            ("0", "13565.8547", "13565.8547", "27131.7094"), ("0.1", "15288.0954", "11166.4660", "26454.5613"),
            ("0.3", "19304.7056", "7522.2935", "26826.9991")), 11):
        c = edge_drop(f"FA-{k}", EDGE, 200, 1.0, 11.0, 200000.0, mu, 2.0)
        for quantity, value in (("tension bull 0", lead), ("tension bull 1", fall), ("pull top", anchor)):
            c.expect(quantity, (f"{float(value)!r} N", "rel 0.04" if float(mu) else "rel 1e-06"))
        c.done(posed=False)
    for k, (mu, lead, fall, travel, anchor) in enumerate((
            ("0", "3469.8473", "3469.8473", "2.602385", "6939.6946"),
            ("0.1", "3743.8046", "2734.4850", "2.202262", "6478.2896"),
            ("0.3", "4325.6262", "1685.5284", "1.660161", "6011.1546")), 14):
        c = edge_drop(f"FA-{k}", EDGE, 100, 3.0, 12.0, 20000.0, mu, 2.0)
        for quantity, value, unit in (("tension bull 0", lead, "N"), ("tension bull 1", fall, "N"),
                                      ("pull top", anchor, "N"), ("travel", repr(2 + float(travel)), "m")):
            c.expect(quantity, (f"{float(value)!r} {unit}", "rel 0.04" if float(mu) else "rel 1e-06"))
        c.done(posed=False)
    for k, (run, ratio) in enumerate(((0.5, 5), (1, 3), (2, 2), (4, 1.5), (8, 1.25)), 1):
        c = Case(f"FA-17-{k}", "energy conservation: F/W = (h + s)/s, h = 2 m", 9.81)
        c.anchor("top", 0.0, 20.0)
        c.hand("crew", 0.0, 8.0)
        c.piece("log", 0.0, 17.0, "100 kg")
        c.line("bull", ("log", "top", "crew"), None, 1e9, friction="0", side="left")
        c.fall("caught", 2.0, f' hand="{ratio * 981!r} N"')
        c.expect("peak", recomputed(repr(float(ratio * 981)), "N"))
        c.expect("run-out", (f"{float(run)!r} m", "rel 1e-04"))
        c.done(posed=False)
    for k, (stiffness, mu, drop, rows) in enumerate((
            (20000.0, "0.1", 2.0, (("tension bull 0", "3680.80 N"), ("tension bull 1", "2688.47 N"),
                                   ("travel", "4.2358 m"))),
            (20000.0, "0.3", 2.0, (("tension bull 0", "4164.10 N"), ("tension bull 1", "1622.59 N"),
                                   ("travel", "3.7126 m"))),
            (2e6, "0.1", 0.02, (("tension bull 0", "3743.0346 N"),)),
            (2e6, "0.3", 0.02, (("tension bull 0", "4323.6519 N"),))), 1):
        c = edge_drop(f"CR-{k}", CROSSING, 100, 3.0, 12.0, stiffness, mu, drop)
        for quantity, value in rows:
            number, unit = value.split()
            c.expect(quantity, (f"{float(number)!r} {unit}", f"abs {half_digit(number)!r}"))
        c.done(posed=False)


ALL = (redirect_factors, redirect_worked, leg_factors, deflected_lines, raise_and_lower,
       turns_on_bollard, plain_pins, tackle_table, tackle_ratios, tackle_worked, joints,
       hanging_shapes, funiculars, elastic, frictions, benchmarks, belts, branch_redirects, bars,
       caught)


def main():
    words = [w for w in sys.argv[1:] if w != "--compare"]
    here = os.path.dirname(os.path.abspath(__file__))
    folder = words[0] if words else os.path.join(here, "..", "cases")
    for write in ALL:
        write()
    different = 0
    for name, text in Case.written.items():
        path = os.path.join(folder, name)
        if "--compare" not in sys.argv:
            with open(path, "w", encoding="utf-8") as file:
                file.write(text)
            continue
        with open(path, encoding="utf-8") as file:
            if file.read() != text:
                print(f"{name} differs")
                different += 1
    print(f"{len(Case.written) // 2} cases")
    return 1 if different else 0


if __name__ == "__main__":
    sys.exit(main())
