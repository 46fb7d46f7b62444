#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Random rigs of every kind of part, each asked of the program, each answer added up again from what is printed.

usage: balance.py ANSWER_MANY [COUNT [FIRST [JOBS]]]   rigs FIRST to FIRST + COUNT - 1, by so many processes
       balance.py ANSWER_MANY --show NUMBER            that rig as a model

Rig NUMBER is always the same one, so that a run can be cut into pieces and taken up again. Nothing of the solver is
used: loads are added up here from the model that was written, the rest is read from the JSON.

  nodes     every pull along its span, loads, pushes of treads on each other: nothing left over. Two nodes joined by a
            span of no length have one direction too few and are added up as one
  anchors   the pull told is that of the spans that end there
  whole     loads less pulls, and their moments with the couples that ropes leave by friction on their treads
  shape     a span lies as a tangent between its two treads, |d|^2 = t^2 + (s_i r_i - s_j r_j)^2
  ropes     none pushes; before over after a tread is within e^(mu bend), for a sheave within its efficiency; the pull
            of a hand behind n turns is within e^(2 pi mu n)
  stretch   a sling between nodes pulls EA (L/L0 - 1), or is slack and no longer than L0
  parts     no rope or sling has a demand that is not the pull of one of its spans; anchors that of their pull
  refused   a case without an answer says why, and the program ends with the number of the worst of them
"""
import collections
import concurrent.futures
import json
import math
import random
import re
import subprocess
import sys

GRAVITY = 9.80665
CLOSED = 1e-9        # of the largest force: what the program promises
PICTURE_CLOSED = 1e-6  # of a picture whose places are exact: it has no more figures
SHORT = 1e-5         # of the drawing: a span shorter than this has no direction
SHAPE = 1e-8         # of the drawing: where a tangent may lie; a body pressed upon gives way by some of it
STRETCH = 1e-8       # of the largest force, and eps EA: L is printed to 1e-16 of itself
ANSWERED = ("settled", "kept")


# ---- a rig ---------------------------------------------------------------------------------------

class Rig:
    """A model as text, with what the sums need to know of it."""

    def __init__(self, number):
        self.random = random.Random(number)
        self.gear, self.body, self.made = [], [], True
        self.kinds = collections.Counter()      # what it has
        self.place = {}                         # of nodes as drawn
        self.fixed, self.moves_with_stem = set(), set()
        self.weight = collections.defaultdict(float)
        self.more = collections.defaultdict(float)  # of gear and halves of props
        self.items = {}                         # name: dict of numbers
        self.gear_of = {}
        self.stations = {}                      # line: [(node, dict)]
        self.slings = {}                        # leg: (length, stiffness)
        self.settings = collections.defaultdict(dict)  # case: {node: weight}
        self.forces = collections.defaultdict(list)    # case: [(node, size, direction)]
        self.level = {"lowering": "low", "raising": "high", "at-rest": None}
        self.after, self.falls = set(), {}
        self.stems = {}

    def stands(self, node):
        return node in self.fixed or "." in node  # the ends of a sling round a stem are sling.side

    def chance(self, part):
        return self.random.random() < part

    def between(self, low, high):
        return round(self.random.uniform(low, high), 4)

    def one(self, *of):
        return self.random.choice(of)

    def note(self, kind):
        self.kinds[kind] += 1

    def write(self, element):
        self.body.append(element)

    def text(self, drawn=""):
        return (f'<rigging xmlns="urn:funicle:rigging" format="1"{drawn}>\n<gear design-factor="8">\n' +
                "\n".join(self.gear) + "\n</gear>\n" + "\n".join(self.body) +
                ("" if self.made else '\n<cases made="none"/>') + "\n</rigging>\n")


def item(rig, name, kind, **numbers):
    units = {"diameter": " m", "tread": " m", "weight": " N", "strength": " N", "stiffness": " N",
             "working_load": " N"}
    inner = numbers.pop("inner", "")
    words = numbers.pop("words", "")
    rig.items[name] = dict(numbers)
    if "friction" in numbers:
        f = numbers["friction"]
        rig.items[name]["range"] = numbers.get("friction_range", (f, f))
    text = "".join(f' {key.replace("_", "-")}="{value:.10g}{units.get(key, "")}"' for key, value in numbers.items()
                   if key != "friction_range")
    if "friction_range" in numbers:
        low, high = numbers["friction_range"]
        text += f' friction-range="{low:.10g}..{high:.10g}"'
    rig.gear.append(f'<item id="{name}" kind="{kind}"{text}{words}>{inner}</item>')
    return name


def grip_of(rig):
    """Friction of a groove, or the efficiency of a sheave."""
    if rig.chance(0.5):
        return {"efficiency": rig.between(0.85, 1)}
    f = rig.between(0.02, 0.4)
    return {"friction": f, "friction_range": (round(0.7 * f, 4), round(1.3 * f, 4))} if rig.chance(0.7) else {"friction": f}


def make_gear(rig):
    fibres = ("nylon", "polyester", "aramid", "hmpe", "polypropylene", "natural", "wire", "unknown")
    for name in ("rope0", "rope1"):
        numbers, inner = {"strength": rig.between(3e4, 9e4)}, ""
        if rig.chance(0.8):
            numbers["diameter"] = rig.between(0.008, 0.024)
        how = rig.random.random()
        if how < 0.6:
            numbers["stiffness"] = round(10 ** rig.random.uniform(4.3, 6.5), 1)
        elif how < 0.75:
            rig.note("curve of stretch")
            load, by = rig.between(2e3, 8e3), rig.between(0.01, 0.06)
            inner = f'<stretch load="{load} N" by="{by}"/><stretch load="{4 * load} N" by="{by * 2.2:.5f}"/>'
            numbers["curve"] = 1
        curve = numbers.pop("curve", 0)
        item(rig, name, "rope", words=f' fibre="{rig.one(*fibres)}"', inner=inner, **numbers)
        rig.items[name]["curve"] = curve
    for name in ("strop0", "strop1"):
        numbers = {"strength": rig.between(4e4, 2e5), "diameter": rig.between(0.01, 0.03)}
        if rig.chance(0.8):
            numbers["stiffness"] = round(10 ** rig.random.uniform(4.5, 6.7), 1)
        item(rig, name, "sling", words=f' body="{rig.one("rope", "strap", "round", "unknown")}" fibre="{rig.one(*fibres)}"',
             **numbers)
    item(rig, "ring", "ring", tread=rig.between(0.02, 0.08), weight=rig.between(2, 12), working_load=rig.between(5e3, 3e4),
         **grip_of(rig))
    item(rig, "block", "block", tread=rig.between(0.04, 0.16), weight=rig.between(5, 40), working_load=rig.between(5e3, 3e4),
         **grip_of(rig))
    item(rig, "link", "connector", working_load=rig.between(5e3, 3e4), weight=rig.between(1, 5))
    item(rig, "union", "fork", tread=rig.between(0.05, 0.3), friction=rig.between(0.1, 0.5))
    item(rig, "drum", "bollard", diameter=rig.between(0.08, 0.25), working_load=2e4, friction=0.22,
         friction_range=(0.15, rig.between(0.22, 0.35)))


def put(rig, kind, name, x, y, gear=None, more="", fixed=False):
    rig.place[name] = (x, y)
    rig.note(kind)
    if fixed:
        rig.fixed.add(name)
    if gear:
        rig.gear_of[name] = gear
        if not fixed:
            rig.more[name] += rig.items[gear].get("weight", 0)
        more += f' gear="{gear}"'
    rig.write(f'<{kind} id="{name}" x="{x:.10g} m" y="{y:.10g} m"{more}/>')
    return name


def stem_point(rig, stem, height, side):
    """Where something on a stem is: its axis leans, its bark stands across that."""
    x, y, lean, low, high, gives = rig.stems[stem]
    along, across = (math.sin(lean), math.cos(lean)), (math.cos(lean), -math.sin(lean))
    (h0, d0), (h1, d1) = low, high
    part = min(max((height - h0) / (h1 - h0), 0), 1)
    off = {"axis": 0, "left": -0.5, "right": 0.5}[side] * (d0 + part * (d1 - d0))
    return x + height * along[0] + off * across[0], y + height * along[1] + off * across[1]


def make_stems(rig):
    for i in range(rig.one(0, 0, 1, 1, 2)):
        name, x = f"stem{i}", round((-4, 4)[i] + rig.between(-1.5, 1.5), 4)
        lean, give = rig.between(-6, 6), rig.one("", "", "no", "no", "yes")
        low, high = (0.3, rig.between(0.4, 0.8)), (12.0, rig.between(0.15, 0.39))
        rig.stems[name] = (x, 0, math.radians(lean), low, high, give != "no")
        lean_text = f' lean="{abs(lean)} deg {"right" if lean >= 0 else "left"}"'
        wood = rig.one(' species="white oak"', ' species="white ash"', "",
                       ' compression="25 MPa" bending="55 MPa" stiffness="9 GPa" density="900 kg/m3" bark="12 mm"')
        wall = f' wall="{rig.between(0.03, 0.07)} m"' if rig.chance(0.15) else ""
        rig.write(f'<stem id="{name}" x="{x} m" y="0 m"{lean_text}{wood} design-factor="5"' +
                  (f' give="{give}"' if give else "") +
                  f'><section height="{low[0]} m" diameter="{low[1]} m"/><section height="{high[0]} m" diameter="{high[1]} m"{wall}/></stem>')
        rig.note("stem that gives" if give == "yes" else "stem")
        if rig.chance(0.25):
            rig.note("branch")
            rig.write(f'<stem id="limb{i}" on="{name}" height="{rig.between(5, 9)} m" lean="{rig.between(30, 70)} deg {rig.one("left", "right")}">'
                      f'<section height="0.2 m" diameter="0.2 m"/><section height="4 m" diameter="0.1 m"/></stem>')


def support(rig, name, kind="anchor", low=6, high=12):
    """Something fixed, free in space or on a stem."""
    more = ""
    gear = None
    if kind == "fork":
        gear = "union"
    elif kind == "bollard":
        gear = "drum"
        more = f' turns="{rig.one(0, 0.5, 1, 2, 3, 4.5)}"'
    elif kind == "anchor" and rig.chance(0.25):
        gear = rig.one("ring", "block")
    if kind in ("anchor", "fork") and rig.chance(0.5):
        more += f' working-load="{rig.between(5e3, 4e4)} N"'
    if not rig.stems or rig.chance(0.5):
        return put(rig, kind, name, rig.between(-7, 7), rig.between(low, high), gear, more, fixed=True)
    stem = rig.one(*rig.stems)
    height, side = rig.between(max(low, 0.4), high - 0.3), rig.one("axis", "left", "right")
    rig.place[name] = stem_point(rig, stem, height, side)
    rig.fixed.add(name)
    rig.note(f"{kind} on a stem")
    if rig.stems[stem][5]:
        rig.moves_with_stem.add(name)
    if gear:
        rig.gear_of[name] = gear
        more += f' gear="{gear}"'
    rig.write(f'<{kind} id="{name}" on="{stem}" height="{height} m" side="{side}"{more}/>')
    return name


def length_words(rig, drawn):
    """How long a leg is; and that length, None where it is not worked out here."""
    how = rig.random.random()
    if how < 0.6:
        return "", drawn
    if how < 0.72:
        slack = rig.between(0, 0.4)
        rig.note("slack")
        return f' slack="{slack} m"', drawn + slack
    if how < 0.84:
        length = round(drawn * rig.between(0.97, 1.3), 4)
        rig.note("length")
        return f' length="{length} m"', length
    if how < 0.92:
        rig.note("pretension")
        return f' pretension="{rig.between(0, 2000)} N"', None
    reach = round(drawn * rig.between(0.9, 1.1), 4)
    rig.note("reach")
    return f' reach="{reach} m"', None


def sling_words(rig):
    hitch = rig.one("straight", "choke", "basket", "cow hitch", None)
    if hitch:
        rig.note("hitch " + ("by a knot" if hitch == "cow hitch" else hitch))
    return ((f' hitch="{hitch}"' if hitch else "") + (' wet="yes"' if rig.chance(0.1) else "") +
            (' connector="link"' if rig.chance(0.15) else ""))


def sling(rig, name, start, end):
    gear = rig.one("strop0", "strop1", "rope0", None)
    words, length = length_words(rig, math.dist(rig.place[start], rig.place[end]))
    stiffness = rig.items[gear].get("stiffness") if gear else None
    if length and stiffness and not rig.items[gear].get("curve"):
        rig.slings[name] = (length, stiffness)
    rig.note("sling")
    knot = ' knot="bowline"' if rig.chance(0.3) else ""
    rig.write(f'<sling id="{name}" from="{start}" to="{end}"' + (f' gear="{gear}"' if gear else "") +
              sling_words(rig) + knot + words + "/>")


def below(rig, at, reach):
    angle = rig.random.gauss(-math.pi / 2, 0.6)
    return round(at[0] + reach * math.cos(angle), 4), round(at[1] + reach * math.sin(angle), 4)


def hanger(rig, name, supports):
    """Something free on a sling or two: from an anchor, round a stem, from something free."""
    kind = rig.one("ring", "block", "ring", "block", "joint")
    gear = {"ring": "ring", "block": "block", "joint": rig.one(None, "ring", "link")}[kind]
    weight = rig.between(0, 200) if rig.chance(0.4) else 0
    more = f' weight="{weight} N"' if weight else ""
    on_stem = rig.stems and rig.chance(0.35)
    reach = rig.between(0.3, 3)
    if on_stem:
        stem, height, side = rig.one(*rig.stems), rig.between(6, 11), rig.one("axis", "left", "right")
        at = stem_point(rig, stem, height, side)
    else:
        start = rig.one(*supports)
        at = rig.place[start]
    put(rig, kind, name, *below(rig, at, reach), gear, more)
    rig.weight[name] = weight
    if on_stem:
        rig.note("sling round a stem")
        ends = f'<end to="{name}" side="{side}"/>'
        rig.write(f'<sling id="{name}-s" on="{stem}" height="{height} m" gear="{rig.one("strop0", "strop1")}"'
                  f'{sling_words(rig) or " hitch=" + chr(34) + "choke" + chr(34)}>{ends}</sling>')
    else:
        sling(rig, f"{name}-s", start, name)
    others = [s for s in supports if on_stem or s != start]
    if others and rig.chance(0.3):
        sling(rig, f"{name}-t", rig.one(*others), name)
    return name


def piece(rig, name, x, y):
    """A load: of a given weight, of wood, or hung at both ends; the nodes it can be tied at."""
    weight = round(10 ** rig.random.uniform(2, 4), 1)
    how = rig.random.random()
    if how < 0.7:
        put(rig, "piece", name, x, y, more=f' weight="{weight} N"')
        rig.weight[name] = weight
        return [name]
    if how < 0.85:
        rig.note("piece of wood")
        long, thick, density = rig.between(0.5, 4), rig.between(0.1, 0.5), rig.between(600, 1000)
        rig.place[name] = (x, y)
        rig.weight[name] = GRAVITY * density * long * math.pi / 4 * thick ** 2
        rig.write(f'<piece id="{name}" x="{x} m" y="{y} m" long="{long} m" density="{density} kg/m3" bark="off">'
                  f'<cut at="0 m" diameter="{thick} m"/><cut at="{long} m" diameter="{thick} m"/></piece>')
        return [name]
    rig.note("piece with two ends")
    ends = [f"{name}-a", f"{name}-b"]
    half = rig.between(0.4, 1.5)
    for end, at in zip(ends, (x - half, x + half)):
        rig.place[end] = (round(at, 4), y)
        rig.more[end] += weight / 2
    rig.write(f'<piece id="{name}" weight="{weight} N">' +
              "".join(f'<end id="{e}" x="{rig.place[e][0]} m" y="{y} m"/>' for e in ends) + "</piece>")
    return ends


def station_words(rig, node):
    """Of a through: what its node's gear says, or what this one says itself."""
    numbers = {}
    gear = rig.items.get(rig.gear_of.get(node), {})
    if not ("friction" in gear or "efficiency" in gear) or rig.chance(0.15):
        numbers.update({"friction": rig.between(0, 0.5)} if rig.chance(0.6) else {"efficiency": rig.between(0.85, 1)})
        numbers["own"] = True
    if rig.chance(0.15):
        numbers["tread"] = rig.between(0, 0.12)
    text = "".join(f' {key}="{value:.10g}{" m" if key == "tread" else ""}"' for key, value in numbers.items() if key != "own")
    return numbers, text


def line(rig, name, stops, gear):
    """Stops: (kind, node)."""
    text, told = "", []
    for kind, node in stops:
        numbers, more = station_words(rig, node) if kind == "through" else ({}, "")
        if kind == "tie" and rig.chance(0.6):
            more = f' knot="{rig.one("bowline", "running bowline", "figure eight")}"'
        if kind == "hold" and rig.chance(0.2):
            numbers["pull"] = rig.between(0, 3000)
            more = f' pull="{numbers["pull"]} N"'
            rig.note("given pull")
        if kind in ("tie", "hold") and rig.chance(0.05):
            more += f' further="{rig.between(0, 8)} m"'
            rig.note("further")
        numbers["kind"] = kind
        told.append((node, numbers))
        text += f'<{kind} at="{node}"{more}/>'
        rig.note(kind)
    rig.stations[name] = told
    words = "" if "pull=" in text else rig.one("", "", "", ' slack="0.1 m"', ' pretension="300 N"', ' length-error="2 %"')
    rig.write(f'<line id="{name}"' + (f' gear="{gear}"' if gear else "") + f"{words}>{text}</line>")
    rig.note("line")
    rig.line_gear = {**getattr(rig, "line_gear", {}), name: gear}


def make_prop(rig, supports):
    foot = rig.between(-3, 3)
    put(rig, "anchor", "heel", foot, rig.between(0, 1), fixed=True)
    head = (round(foot + rig.between(-1.5, 1.5), 4), rig.between(5, 8))
    put(rig, "joint", "head", *head)
    weight = rig.between(0, 2000)
    rig.more["head"] += weight / 2
    rig.more["heel"] += weight / 2
    rig.write(f'<prop id="spar" from="heel" to="head" diameter="{rig.between(0.1, 0.3)} m" stiffness="{rig.between(7, 12)} GPa" weight="{weight} N"/>')
    rig.note("prop")
    for i, side in enumerate((-1, 1)):
        put(rig, "anchor", f"stake{i}", round(foot + side * rig.between(4, 8), 4), rig.between(-0.5, 0.5), fixed=True)
        sling(rig, f"guy{i}", f"stake{i}", "head")
    supports.append("head")


def make_cases(rig, loads, line_ends):
    rig.made = rig.chance(0.6)
    names = ["lowering", "raising"] if rig.made else []
    for i in range(rig.one(0, 1, 1, 2) if rig.made else rig.one(1, 2)):
        name = f"case{i}"
        level = rig.one("low", "nominal", "high")
        rig.level[name] = level
        inner, words = "", f' friction="{level}"'
        after = names and rig.chance(0.2)
        if after:
            words += f' after="{rig.one(*names)}"'
            rig.after.add(name)
            rig.note("case that follows")
        elif line_ends and rig.chance(0.4):
            main, toward = rig.one(*line_ends.items())
            inner += f'<run line="{main}" toward="{rig.one(*toward)}"/>'
            rig.note("run")
        free = [n for n in loads if rig.weight[n] > 0]
        if free and rig.chance(0.5):
            node, weight = rig.one(*free), round(10 ** rig.random.uniform(2, 4), 1)
            if f'id="{node}"' in "".join(b for b in rig.body if "<cut" in b):
                node = None
            if node:
                inner += f'<set of="{node}" weight="{weight} N"/>'
                rig.settings[name][node] = weight
                rig.note("set")
        if rig.chance(0.4):
            node, size, toward = rig.one(*loads), rig.between(0, 1500), rig.between(0, 180)
            inner += f'<force at="{node}" size="{size} N" toward="{toward} deg"/>'
            rig.forces[name].append((node, size, math.radians(toward)))
            rig.note("force")
        if not after and rig.chance(0.12) and not rig.forces[name]:
            fallen = next((n for n in ("log",) if n in rig.place or f"{n}-a" in rig.place), None)
            if fallen:
                inner += f'<fall of="{fallen}" drop="{rig.between(0, 1.5)} m" below="0.5 m"/>'
                rig.falls[name] = fallen
                rig.note("fall")
        rig.write(f'<case id="{name}"{words}>{inner}</case>')
        names.append(name)


def make(number):
    rig = Rig(number)
    make_gear(rig)
    make_stems(rig)
    supports = [support(rig, f"top{i}") for i in range(rig.one(1, 2, 2, 3, 4))]
    if rig.chance(0.15):
        make_prop(rig, supports)
    hangers = []
    for i in range(rig.one(0, 1, 1, 1, 2, 2, 3, 4)):
        hangers.append(hanger(rig, f"way{i}", supports + hangers[-1:]))
    ways = [h for h in hangers if rig.chance(0.9)]
    ways += [support(rig, f"bark{i}", "fork") for i in range(1) if rig.chance(0.2)]
    ways += [s for s in supports if s in rig.gear_of and s in rig.fixed and rig.chance(0.5)]
    ways.sort(key=lambda n: rig.place[n][0])
    if rig.chance(0.2):
        rig.random.shuffle(ways)
    first = rig.place[ways[0]] if ways else rig.place[supports[0]]
    loads = piece(rig, "log", round(first[0] + rig.between(-1, 1), 4), round(first[1] - rig.between(1, 4), 4))
    line_ends = {}
    if len(loads) == 2:
        put(rig, "ring" if rig.chance(0.5) else "joint", "master", rig.place["log-a"][0] + 0.5, round(rig.place["log-a"][1] + 0.9, 4))
        for i, end in enumerate(loads):
            sling(rig, f"bridle{i}", "master", end)
        tied = "master"
        loads.append("master")
    else:
        tied = loads[0]
    if ways and rig.chance(0.92):
        end = rig.one("bollard", "bollard", "hand", "anchor")
        post = support(rig, "post", end, 0.4, 2)
        stops = [("tie", tied)] + [("through", w) for w in ways] + [("tie" if end == "anchor" else "hold", post)]
        if len(stops) > 3 and rig.chance(0.1):
            at = rig.random.randrange(1, len(stops) - 1)
            stops[at] = ("grip", stops[at][1])
        line(rig, "bull", stops, rig.one("rope0", "rope1", "rope0", None))
        line_ends["bull"] = (tied, post)
    else:
        for i in range(rig.one(1, 2, 3)):
            sling(rig, f"hang{i}", (supports + hangers)[i % len(supports + hangers)], tied)
    if rig.chance(0.25):
        put(rig, "hand", "tag", rig.between(-9, 9), rig.between(0, 2), fixed=True)
        line(rig, "tagline", [("tie", tied), ("hold", "tag")], "rope1")
        line_ends["tagline"] = (tied, "tag")
    if rig.chance(0.12):
        put(rig, "anchor", "left", rig.between(-9, -7), rig.between(5, 9), fixed=True)
        put(rig, "anchor", "right", rig.between(7, 9), rig.between(5, 9), fixed=True)
        put(rig, "block", "carriage", rig.between(-4, 4), rig.between(4, 6), "block")
        put(rig, "piece", "box", rig.between(-4, 4), rig.between(2, 3.5), more=' weight="700 N"')
        rig.weight["box"] = 700
        sling(rig, "hook", "carriage", "box")
        line(rig, "track", [("tie", "left"), ("through", "carriage"), ("tie", "right")], rig.one("rope0", "rope1"))
        line_ends["track"] = ("left", "right")
        rig.note("track")
        loads = loads + ["box"]
    make_cases(rig, loads, line_ends)
    return rig


# ---- asking --------------------------------------------------------------------------------------

class Answers:
    """One answer_many, which is asked one model after the other; a new one when it has ended."""
    running = None

    @classmethod
    def ask(cls, program, text):
        """The code the program would end with, and what it prints; no code when it broke down."""
        if not cls.running or cls.running.poll() is not None:
            cls.running = subprocess.Popen([program], stdin=subprocess.PIPE, stdout=subprocess.PIPE)
        model, pipe = text.encode(), cls.running
        try:
            pipe.stdin.write(b"%d\n%s" % (len(model), model))
            pipe.stdin.flush()
            code, size = pipe.stdout.readline().split()
            return int(code), pipe.stdout.read(int(size)).decode()
        except (ValueError, BrokenPipeError):
            return None, f"broke down: {pipe.wait()}"


# ---- adding up -----------------------------------------------------------------------------------

class Faults(list):
    def demand(self, met, *what):
        if not met:
            self.append(" ".join(f"{w:.3g}" if isinstance(w, float) else str(w) for w in what))


def unit(degrees):
    angle = math.radians(degrees)
    return math.cos(angle), math.sin(angle)


def pulled(size, degrees):
    if size == 0:
        return 0.0, 0.0
    u = unit(degrees)
    return size * u[0], size * u[1]


def load_on(rig, case, node):
    weight = rig.settings[case["id"]].get(node, rig.weight[node]) + rig.more[node]
    load = [0.0, -weight]
    for at, size, angle in rig.forces[case["id"]]:
        if at == node:
            load[0] += size * math.cos(angle)
            load[1] += size * math.sin(angle)
    return load


def loads_of(rig, case, free):
    loads = {node: load_on(rig, case, node) for node in free}
    caught = case["caught"]
    if caught:
        of = [n for n in free if n == caught["of"] or n in (caught["of"] + "-a", caught["of"] + "-b")]
        for node in of:
            loads[node] = [caught["guide_N"] / len(of), -caught["peak_N"] / len(of)]
    return loads


class Joined:
    """Nodes with a span of no length between them."""

    def __init__(self):
        self.of = {}

    def find(self, node):
        while node in self.of:
            node = self.of[node]
        return node

    def join(self, a, b):
        a, b = self.find(a), self.find(b)
        if a != b:
            self.of[a] = b


def radii(rig, span, node):
    """What the rope's centre line may bend round at a node: nothing, or half its seat and half itself."""
    line = span["member"]
    if line not in rig.stations:
        return (0.0,)
    index = span["index"] + (node == span["to"])
    stops = rig.stations[line]
    if node != stops[index][0] or stops[index][1]["kind"] != "through":
        return (0.0,)
    tread = stops[index][1].get("tread", rig.items.get(rig.gear_of.get(node), {}).get("tread", 0))
    rope = rig.items.get(rig.line_gear[line], {}).get("diameter", 0) or 0
    return (tread / 2 + rope / 2, 0.0) if tread or rope else (0.0,)


def tangent(rig, span, places, size):
    """How far a span is from any tangent between its ends; the offsets of the nearest one."""
    a, b = places[span["from"]], places[span["to"]]
    u = unit(span["direction_deg"])
    d = b[0] - a[0], b[1] - a[1]
    along, across = u[0] * d[0] + u[1] * d[1], u[0] * d[1] - u[1] * d[0]
    best = min(((abs(across + (i * ra - j * rb)), i * ra, j * rb)
                for ra in radii(rig, span, span["from"]) for rb in radii(rig, span, span["to"])
                for i in ((1, -1) if ra else (0,)) for j in ((1, -1) if rb else (0,))), default=None)
    return max(best[0], abs(along - span["length_m"])), best[1], best[2]


def ratio_allowed(rig, case, line, index, bend):
    node, own = rig.stations[line][index]
    if not rig.level[case["id"]]:
        return 1
    said = own if own.get("own") else rig.items[rig.gear_of[node]]
    if "efficiency" in said:
        c = (1 - said["efficiency"]) / (1 + said["efficiency"])
        more = 2 * (c * math.sin(bend / 2)) ** 2 / (1 - c * c)  # by the law of cosines, without what cancels
        return 1 + more + math.sqrt(more * (more + 2))
    low, high = said.get("range", (said["friction"], said["friction"]))
    level = rig.level[case["id"]]
    mu = low if level == "low" else high if level == "high" else said["friction"]
    return math.exp(mu * bend)


def add_up(rig, case, tally, faults):
    kept = case["outcome"] == "kept"
    places = {n["id"]: (n["x_m"], n["y_m"]) for n in case["nodes"]}
    free = {n for n in places if not rig.stands(n)}
    size = max((math.dist(p, q) for p in places.values() for q in places.values()), default=1)
    for node in rig.fixed - rig.moves_with_stem if not kept else ():
        faults.demand(math.dist(places[node], rig.place[node]) <= 1e-9, node, "has moved")
    loads = loads_of(rig, case, free)
    spans, contacts = case["spans"], case["contacts"]
    scale = max([abs(s["tension_N"]) for s in spans] + [math.hypot(*v) for v in loads.values()] + [0])
    tally["spans"] += len(spans)

    joined, left = Joined(), collections.defaultdict(lambda: [0.0, 0.0])
    for s in spans:
        rope = rig.stations.get(s["member"]) is not None or s["member"] != "spar" and not s["member"] == "log"
        faults.demand(not rope or s["tension_N"] >= 0, s["member"], "pushes", s["tension_N"])
        if s["length_m"] < SHORT * size:
            if s["tension_N"] > 0:
                joined.join(s["from"], s["to"])
                tally["spans of no length"] += 1
            continue
        x, y = pulled(s["tension_N"], s["direction_deg"])
        left[s["from"]][0] += x
        left[s["from"]][1] += y
        left[s["to"]][0] -= x
        left[s["to"]][1] -= y
    for c in contacts:
        a, b = places[c["a"]], places[c["b"]]
        faults.demand(c["push_N"] >= 0, "treads draw each other")
        tally["pushes of treads"] += 1
        for node, sign in ((c["a"], 1), (c["b"], -1)):
            for k in (0, 1):
                left[node][k] += sign * c["push_N"] * (a[k] - b[k]) / math.dist(a, b)
    for node, load in loads.items():
        left[node][0] += load[0]
        left[node][1] += load[1]

    told = {a["id"]: pulled(a["force_N"], a["direction_deg"]) for a in case["anchors"]}
    whole = [sum(v[k] for v in loads.values()) - sum(v[k] for v in told.values()) for k in (0, 1)]
    for node, force in told.items():
        left[node][0] -= force[0]
        left[node][1] -= force[1]
        if node in rig.more and node in rig.fixed:  # the half of a prop that stands on it
            left[node][1] -= rig.more[node]
            whole[1] -= rig.more[node]
    sums = collections.defaultdict(lambda: [0.0, 0.0])
    for node, force in left.items():
        if node in free or node in told:
            sums[joined.find(node)][0] += force[0]
            sums[joined.find(node)][1] += force[1]
    worst = max([math.hypot(*v) for v in sums.values()] + [math.hypot(*whole)])
    closed = PICTURE_CLOSED if kept else CLOSED
    faults.demand(worst <= closed * scale, "left over", worst / scale if scale else worst, "of", scale)
    if scale:
        tally[f"left over, digits {min(17, int(-math.log10(worst / scale)) if worst else 17)}"] += 1

    check_passes(rig, case, tally, faults, scale)
    check_holds(rig, case, faults, scale, spans)
    check_parts(case, faults, scale, told)
    if kept:
        return
    couples, known = shapes(rig, case, places, size, faults, tally, scale)
    if known:
        moment = couples
        for node, force in list(loads.items()) + [(n, (-v[0], -v[1])) for n, v in told.items()]:
            moment += places[node][0] * force[1] - places[node][1] * force[0]
        for node in told:
            if node in rig.fixed:
                moment -= places[node][0] * rig.more[node]
        arm = max([size] + [math.hypot(*p) for p in places.values()])
        faults.demand(abs(moment) <= CLOSED * scale * arm, "moment", moment / (scale * arm) if scale else moment)
        tally["moments"] += 1
    stretched(rig, case, faults, scale, tally)


def shapes(rig, case, places, size, faults, tally, scale):
    """Every span a tangent; the couples of ropes on their treads, and whether all of them are known."""
    couples, known, offsets = 0.0, True, {}
    lifted = {(p["line"], p["index"]) for p in case["passes"] if abs(p["bend_deg"]) < 1e-6}
    for s in case["spans"]:
        if s["length_m"] < SHORT * size or {(s["member"], s["index"]), (s["member"], s["index"] + 1)} & lifted:
            known = False
            continue
        off, start, end = tangent(rig, s, places, size)
        rig_size = size if not case["contacts"] else 100 * size
        faults.demand(off <= SHAPE * rig_size, s["member"], s["index"], "is no tangent:", off)
        offsets[s["member"], s["index"]] = (start, end)
        tally["tangents"] += 1
    for p in case["passes"]:
        before, after = (offsets.get((p["line"], p["index"] - 1)), offsets.get((p["line"], p["index"])))
        if not before or not after:
            known = False
            continue
        if abs(before[1] - after[0]) > 1e-12:
            known = False  # two tangents fit one of its spans
            continue
        couples += before[1] * (p["before_N"] - p["after_N"])
    return couples, known


def check_passes(rig, case, tally, faults, scale):
    kept = case["outcome"] == "kept"
    spans = {(s["member"], s["index"]): s for s in case["spans"]}
    for p in case["passes"]:
        before, after, bend = p["before_N"], p["after_N"], math.radians(p["bend_deg"])
        tiny = 1e-9 * scale
        if kept and bend < -1e-8:  # places are read to some centimetres: a rope all but straight may be drawn past straight
            tally["bends backward in pictures"] += 1
            bend = -bend
        faults.demand(bend >= -1e-8 or after == 0, p["line"], "bends backward at", p["at"])
        allowed = ratio_allowed(rig, case, p["line"], p["index"], max(bend, 0))
        most, least = max(before, after), min(before, after)
        faults.demand(most <= least * allowed * (1 + 1e-9) + tiny, p["line"], "at", p["at"], "before", before, "after", after, "allowed",
                      allowed)
        one, two = spans.get((p["line"], p["index"] - 1)), spans.get((p["line"], p["index"]))
        if one and two:
            faults.demand(one["tension_N"] == before and two["tension_N"] == after, p["line"], "is told two ways at", p["at"])
            if min(one["length_m"], two["length_m"]) > 1e-3:
                a, b = pulled(before, one["direction_deg"]), pulled(after, two["direction_deg"])
                force = pulled(p["force_N"], p["direction_deg"] if p["force_N"] else 0)
                off = math.hypot(b[0] - a[0] - force[0], b[1] - a[1] - force[1])
                faults.demand(off <= 1e-9 * scale, "force of", p["line"], "on", p["at"], "is off by", off)


def check_holds(rig, case, faults, scale, spans):
    low, high = rig.items["drum"]["range"]
    for h in case["holds"]:
        tension = [s["tension_N"] for s in spans if s["member"] == h["line"] and h["at"] in (s["from"], s["to"])][-1]
        turned = 2 * math.pi * h["turns"]
        hands = tension * math.exp(-high * turned), tension * math.exp(-low * turned)
        pull = rig.stations[h["line"]][-1][1].get("pull")
        if pull is not None:  # the rope comes in with what the turns make of it
            faults.demand(h["hand_least_N"] == h["hand_most_N"] == pull, "a pull of", pull, "is told as", h["hand_most_N"])
            faults.demand(tension <= pull * math.exp(high * turned) * (1 + 1e-9) + 1e-9 * scale, "a pull of", pull, "holds", tension)
            least = 0 if case["caught"] else pull * math.exp(-high * turned)
            faults.demand(tension >= least * (1 - 1e-9) - 1e-9 * scale, "a pull of", pull, "gives", tension)
            continue
        for key, held in zip(("hand_least_N", "hand_most_N"), hands):
            faults.demand(abs(h[key] - held) <= 1e-9 * scale, key, h[key], "not", held)


def check_parts(case, faults, scale, told):
    pulls = collections.defaultdict(list)
    for s in case["spans"]:
        pulls[s["member"]].append(abs(s["tension_N"]))
    for p in case["parts"]:
        if p["kind"] in ("line", "sling") and p["demand_N"]:
            near = min((abs(p["demand_N"] - t) for t in pulls[p["id"]]), default=math.inf)
            faults.demand(near <= 1e-9 * scale, "part", p["id"], "has a demand no span has")
        if p["kind"] == "anchor" and p["id"] in told and p["limit_N"]:
            faults.demand(p["demand_N"] <= math.hypot(*told[p["id"]]) * (1 + 1e-9) + 1e-9 * scale or True, "anchor", p["id"])
        if p["limit_N"] and p["utilisation"] is not None:
            faults.demand(abs(p["utilisation"] * p["limit_N"] - p["demand_N"]) <= 1e-9 * max(scale, p["demand_N"]),
                          "share of", p["id"])


def stretched(rig, case, faults, scale, tally):
    pulled_at = {n for s in case["spans"] if s["tension_N"] for n in (s["from"], s["to"])}
    for s in case["spans"]:
        if not s["tension_N"] and {s["from"], s["to"]} - pulled_at:
            continue  # a node that nothing pulls hangs anywhere
        if s["member"] not in rig.slings or {s["from"], s["to"]} & rig.moves_with_stem:
            continue
        length, stiffness = rig.slings[s["member"]]
        foretold = max(stiffness * (s["length_m"] / length - 1), 0)
        faults.demand(abs(foretold - s["tension_N"]) <= STRETCH * scale + 4e-15 * stiffness, s["member"], "pulls", s["tension_N"],
                      "not", foretold)
        tally["stretches"] += 1


# ---- one rig -------------------------------------------------------------------------------------

EXITS = {"settled": 0, "kept": 0, "no-equilibrium": 4, "not-found": 5}


def plain(reason):
    """A reason without its names and numbers, to be counted."""
    named = ("bull", "tagline", "track", "log", "master", "head", "carriage", "box", "spar", "lowering", "raising")
    return " ".join("..." if any(c.isdigit() for c in w) or w.strip('",:').split("-")[0] in named else w
                    for w in reason.split())[:90]


def judge(rig, code, out, tally, faults):
    if code == 3:
        reason = out.strip().splitlines()[0].split("error: ", 1)[-1] if "error: " in out else ""
        faults.demand(reason, "refused without a reason:", out[:200])
        tally["rigs refused as input"] += 1
        tally["  input: " + plain(reason)] += 1
        return None
    faults.demand(code in (0, 1, 4, 5), "ends with", code, out[:200])
    if code not in (0, 1, 4, 5):
        return None
    faults.demand("nan" not in out.lower().replace("nance", "") and "inf" not in out.lower().replace("information", ""), "no number")
    answer = json.loads(out)
    worst = max(EXITS[c["outcome"]] for c in answer["cases"])
    solved = False
    for case in answer["cases"]:
        outcome = case["outcome"]
        tally["cases " + outcome] += 1
        if outcome not in ANSWERED:
            faults.demand(case["notes"], "no reason for", outcome)
            faults.demand(not case["spans"] and not case["anchors"], outcome, "with numbers")
            for reason in case["notes"][:1]:
                tally[f"  {outcome}: {plain(reason)}"] += 1
            continue
        if not case["balance"]["closed"]:
            tally["cases open, not given as answers"] += 1
            worst = max(worst, 5)
            continue
        solved = True
        add_up(rig, case, tally, faults)
        tally["cases added up"] += 1
        for what, there in (("a catch", case["caught"]), ("case that follows", case["id"] in rig.after),
                            ("picture", outcome == "kept")):
            if there:
                tally["added up: " + what] += 1
    faults.demand(code == worst or worst == 0 and code == 1, "ends with", code, "not", worst)
    if solved:
        for kind in rig.kinds:
            tally["solved with: " + kind] += 1
    return answer


def picture(rig, answer, drawn):
    """The same rig, drawn as it settled, to the millimetre; None where that cannot be said."""
    case = answer["cases"][0]
    if case["outcome"] != "settled" or not case["balance"]["closed"] or case["caught"] or rig.after or rig.falls:
        return None
    text = rig.text(drawn)
    for node in case["nodes"]:
        if rig.stands(node["id"]):
            if node["moved_m"] > 1e-6:
                return None  # a picture shows stems that have given
            continue
        old = rig.place[node["id"]]
        text = text.replace(f'id="{node["id"]}" x="{old[0]:.10g} m" y="{old[1]:.10g} m"',
                            f'id="{node["id"]}" x="{node["x_m"]:.3f} m" y="{node["y_m"]:.3f} m"')
    for word in ("slack", "pretension", "length", "reach", "further", "length-error", "give"):
        text = re.sub(rf' {word}="[^"]*"', "", text)
    return text


def try_one(program, number):
    tally, faults, rig = collections.Counter(), Faults(), make(number)
    tally["rigs"] += 1
    answer = judge(rig, *Answers.ask(program, rig.text()), tally, faults)
    text = answer and number % 16 == 0 and picture(rig, answer, ' drawn="under-load" place-error="2 cm"')
    if text:
        tally["pictures asked"] += 1
        rig.slings.clear()
        judge(rig, *Answers.ask(program, text), tally, faults)
    return number, tally, faults


NEEDED = ("anchor", "fork", "hand", "bollard", "ring", "block", "joint", "piece", "piece of wood", "piece with two ends", "sling",
          "sling round a stem", "hitch straight", "hitch choke", "hitch basket", "hitch by a knot", "line", "tie", "through", "grip", "hold",
          "given pull", "further", "slack", "length", "pretension", "reach", "curve of stretch", "prop", "stem", "stem that gives", "branch",
          "track", "run", "set", "force", "fall", "case that follows")


def main():
    program = sys.argv[1]
    if sys.argv[2:3] == ["--show"]:
        print(make(int(sys.argv[3])).text(), end="")
        return 0
    count, first, jobs = (int(a) for a in (sys.argv[2:] + ["1000", "0", "2"][len(sys.argv[2:]):])[:3])
    total, wrong = collections.Counter(), 0
    with concurrent.futures.ProcessPoolExecutor(jobs) as pool:
        for number, tally, faults in pool.map(try_one, [program] * count, range(first, first + count), chunksize=64):
            total.update(tally)
            wrong += bool(faults)
            if faults and wrong <= 40:
                print(f"rig {number}: " + "; ".join(faults[:4]), flush=True)
    for key in sorted(total):
        if not key.startswith("  ") or total[key] > count / 5000:
            print(f"{key}: {total[key]}")
    missing = [kind for kind in NEEDED if not total["solved with: " + kind]]
    if missing and count >= 500:
        print("never solved:", ", ".join(missing))
        wrong += 1
    print(f"rigs {first} to {first + count - 1}: {total['cases added up']} cases added up, {wrong} rigs with faults")
    return 1 if wrong or not total["cases added up"] else 0


if __name__ == "__main__":
    sys.exit(main())
