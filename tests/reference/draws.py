# SPDX-License-Identifier: GPL-3.0-or-later
"""Random networks, each kind a function of a random generator."""
import math

import numpy as np

from network import Net, Node, Pass, Rope, Shape, Stem, Unsettled


class Draw:
    """One random network under construction."""

    def __init__(self, rng):
        self.rng = rng
        self.net = Net([], [])

    def uniform(self, low, high):
        return float(self.rng.uniform(low, high))

    def chance(self, share):
        return bool(self.rng.random() < share)

    def integer(self, low, high):
        return int(self.rng.integers(low, high + 1))

    def stiffness(self):
        return 10 ** self.uniform(4, 7)

    def weight(self):
        return 10 ** self.uniform(2, 4)

    def add(self, kind, x, y, weight=0.0):
        self.net.nodes.append(Node(f"{kind[0]}{len(self.net.nodes)}", kind, x, y, weight))
        return len(self.net.nodes) - 1

    def distance(self, a, b):
        n = self.net.nodes
        return math.hypot(n[a].x - n[b].x, n[a].y - n[b].y)

    def sling(self, a, b, factor=None):
        length = None if factor is None else factor * self.distance(a, b)
        rope = Rope(f"sling{len(self.net.ropes)}", "sling", a, b, self.stiffness(), length=length)
        self.net.ropes.append(rope)
        return rope

    def line(self, start, passes, end, factor=None, pull=None):
        rope = Rope(f"line{len(self.net.ropes)}", "line", start, end, self.stiffness(), passes,
                    pull=pull)
        if any(p.tread > 0 for p in passes):
            rope.diameter = self.uniform(0.008, 0.02) if self.chance(0.7) else 0.0
        self.net.ropes.append(rope)
        self.choose_sides(rope)
        if factor is not None:
            rope.length = factor * Shape(rope, self.net.places()).length
        return rope

    def choose_sides(self, rope):
        """The side on which the rope is drawn to lie."""
        p, st = self.net.places(), rope.stations()
        for k, a_pass in enumerate(rope.passes):
            if a_pass.tread > 0 and a_pass.side == 0:
                u, v = p[st[k + 1]] - p[st[k]], p[st[k + 2]] - p[st[k + 1]]
                turn = u[0] * v[1] - u[1] * v[0]
                a_pass.side = 1 if turn > 0 else -1

    def tread(self):
        return self.uniform(0.02, 0.12) if self.chance(0.6) else 0.0

    def apart(self, x, y, least=0.8):
        return all(math.hypot(n.x - x, n.y - y) > least for n in self.net.nodes)

    def somewhere(self, low, high, half=6.0, least=0.9):
        for _ in range(200):
            x, y = self.uniform(-half, half), self.uniform(low, high)
            if self.apart(x, y, least):
                return x, y
        raise Unsettled("no room to draw")


def draw_slings(rng):
    """Joints and pieces hung from anchors and each other; extra members, some of them slack."""
    d = Draw(rng)
    anchors = [d.add("anchor", *d.somewhere(7, 12)) for _ in range(d.integer(1, 4))]
    free = []
    for _ in range(d.integer(1, 5)):
        heavy = d.chance(0.7) or not free
        x, y = d.somewhere(0.5, 6.5)
        node = d.add("piece" if heavy else "joint", x, y, d.weight() if heavy else 0.0)
        above = anchors + [f for f in free if d.net.nodes[f].y > y]
        d.sling(above[d.integer(0, len(above) - 1)], node, some_length(d))
        free.append(node)
    for _ in range(d.integer(0, 4)):
        a = free[d.integer(0, len(free) - 1)]
        others = [n for n in anchors + free if n != a and not joined(d.net, a, n)]
        if others:
            d.sling(a, others[d.integer(0, len(others) - 1)], some_length(d))
    return d.net


def some_length(d):
    """None as drawn; shorter is pulled tight, longer may go slack."""
    pick = d.integer(0, 3)
    return None if pick < 2 else d.uniform(0.95, 1.0) if pick == 2 else d.uniform(1.0, 1.25)


def joined(net, a, b):
    return any({r.start, r.end} == {a, b} for r in net.ropes)


def hang_against(d, before, ring, after, spread, factor=None):
    """A sling on `ring` from an anchor on the side away from which the rope pulls it."""
    n = d.net.nodes
    pull = np.zeros(2)
    for other in (before, after):
        to = np.array([n[other].x - n[ring].x, n[other].y - n[ring].y])
        pull += to / np.hypot(*to)
    away = math.atan2(-pull[1], -pull[0]) + d.uniform(-spread, spread)
    reach = d.uniform(1.5, 5)
    hang = d.add("anchor", n[ring].x + reach * math.cos(away), n[ring].y + reach * math.sin(away))
    d.sling(hang, ring, factor)


def draw_line_down(d, rings, post_kind):
    """log, up over a top anchor, through rings that float on slings, down to the post; returns
    the stations."""
    post = d.add(post_kind, d.uniform(-6, 6), d.uniform(-1, 1))
    x = d.uniform(-1, 1)
    log = d.add("piece", x + d.uniform(-0.8, 0.8), d.uniform(2, 6), d.weight())
    stations = [log, d.add("anchor", x, d.uniform(10, 12))]
    for _ in range(rings):
        rx, ry = d.somewhere(4, 8, 7, 1.5)
        stations.append(d.add("ring", rx, ry, d.uniform(0, 60) if d.chance(0.5) else 0.0))
    return stations + [post]


def draw_redirects(rng):
    """A lowering line through an anchored block and through rings that float on slings."""
    d = Draw(rng)
    stations = draw_line_down(d, d.integer(0, 3), "hand" if d.chance(0.5) else "anchor")
    for before, ring, after in zip(stations[1:], stations[2:], stations[3:]):
        hang_against(d, before, ring, after, 0.6, d.uniform(0.95, 1.1) if d.chance(0.5) else None)
        if d.chance(0.25):
            d.sling(d.add("anchor", *d.somewhere(8, 12, 8, 1.0)), ring, some_length(d))
    d.line(stations[0], [Pass(k, d.tread()) for k in stations[1:-1]], stations[-1],
           d.uniform(0.97, 1.05) if d.chance(0.4) else None)
    if d.chance(0.3):
        d.sling(d.add("anchor", *d.somewhere(5, 11, 8, 1.0)), stations[0], some_length(d))
    return d.net


def draw_carriages(rng):
    """Rings or blocks rolling on lines between anchors, loaded, some held by guys."""
    d = Draw(rng)
    span = d.uniform(4, 12)
    a = d.add("anchor", -span / 2, d.uniform(7, 10))
    b = d.add("anchor", span / 2, d.uniform(7, 10))
    passes, rollers = [], d.integer(1, 2)
    for k in range(rollers):
        x = -span / 2 + span * (k + d.uniform(0.7, 1.3)) / (rollers + 1)
        kind = "block" if d.chance(0.5) else "ring"
        roller = d.add(kind, x, d.uniform(4, 6.5), d.weight())
        passes.append(Pass(roller, d.tread()))
        if rollers == 2:  # each is kept on its own half
            out = d.uniform(1, 4) * (2 * k - 1)
            d.sling(d.add("anchor", x + out, d.uniform(9, 13)), roller, d.uniform(0.95, 1.02))
        elif d.chance(0.3):
            d.sling(d.add("anchor", *d.somewhere(9, 13, 7, 1.0)), roller, d.uniform(0.95, 1.1))
        if d.chance(0.4):
            log = d.add("piece", x + d.uniform(-0.5, 0.5), d.uniform(1, 3), d.weight())
            d.sling(roller, log, some_length(d))
    d.line(a, passes, b, d.uniform(0.98, 1.1))
    return d.net


def draw_pulled(rng):
    """A tag or control line with a given pull on a piece that hangs from slings or a line."""
    d = Draw(rng)
    log = d.add("piece", d.uniform(-1, 1), d.uniform(3, 5), d.weight())
    weight = d.net.nodes[log].weight
    for _ in range(d.integer(1, 3)):
        d.sling(d.add("anchor", *d.somewhere(8, 12, 5)), log, some_length(d))
    hand = d.add("hand", *d.somewhere(-1, 2, 8, 3.0))
    passes = []
    if d.chance(0.6):
        passes.append(Pass(d.add("anchor", *d.somewhere(2, 8, 9, 3.0)), d.tread()))
    if d.chance(0.4):
        ring = d.add("ring", *d.somewhere(4, 7, 6, 2.0))
        d.sling(d.add("anchor", *d.somewhere(9, 13, 8, 1.5)), ring)
        passes.append(Pass(ring, d.tread()))
    d.line(log, passes, hand, pull=d.uniform(0.05, 0.35) * weight)
    if d.chance(0.4):
        low = d.add("piece", *d.somewhere(0, 2, 6), d.weight())
        d.sling(log, low, some_length(d))
    return d.net


STILL_DRAWS = (draw_slings, draw_redirects, draw_carriages, draw_pulled)


def grip_of(d, passes):
    """Gives every pass friction or the efficiency of a sheave."""
    for a_pass in passes:
        if d.chance(0.5):
            a_pass.friction = d.uniform(0.05, 0.4)
        else:
            a_pass.efficiency = d.uniform(0.8, 0.98)
    return passes


def draw_running_redirects(rng):
    d = Draw(rng)
    stations = draw_line_down(d, d.integer(0, 2), "hand")
    for before, ring, after in zip(stations[1:], stations[2:], stations[3:]):
        if d.chance(0.3):
            d.net.nodes[ring].kind, d.net.nodes[ring].weight = "anchor", 0.0
            continue
        hang_against(d, before, ring, after, 0.4)
        if d.chance(0.3):
            hang_against(d, before, ring, after, 0.9, d.uniform(0.97, 1.0))
    rope = d.line(stations[0], grip_of(d, [Pass(k, d.tread()) for k in stations[1:-1]]),
                  stations[-1])
    rope.toward_end = d.chance(0.5)
    return d.net


def draw_tackle(rng):
    """2:1, 3:1 and 5:1, led off an upper sheave to the hand."""
    d = Draw(rng)
    parts = (2, 3, 5)[d.integer(0, 2)]
    block = d.add("block", 0.0, d.uniform(2, 4), d.uniform(10, 80))
    log = d.add("piece", d.uniform(-0.2, 0.2), d.uniform(0, 1), d.weight())
    d.sling(block, log)
    post = d.add("hand", d.uniform(2, 6), d.uniform(-1, 1))
    points = d.chance(0.5)
    low, high = (0.0, 0.0) if points else (d.uniform(0.04, 0.1), d.uniform(0.04, 0.1))
    uppers = parts // 2 if parts > 2 else 1
    tops = [d.add("anchor", 0.5 * (k + 1) - 0.4 * d.uniform(0.8, 1.2), d.uniform(9, 11))
            for k in range(uppers + (parts == 5))]
    passes = []
    if parts == 2:
        start = d.add("anchor", -0.4, d.uniform(9, 11))
        passes = [Pass(block, low, 1), Pass(tops[0], high, -1)]
    elif parts == 3:
        start = block
        passes = [Pass(tops[0], high, -1), Pass(block, low, -1),
                  Pass(d.add("anchor", 0.9, d.uniform(9, 11)), high, -1)]
        passes[1].side = -1
    else:
        start = block
        passes = [Pass(tops[0], high, -1), Pass(block, low, 1), Pass(tops[1], high, -1),
                  Pass(block, low, 1), Pass(tops[2], high, -1)]
    if points:
        for a_pass in passes:
            a_pass.side = 0
    else:
        # down on the left, round the block below (turning left), up, over the sheave (right)
        for k, a_pass in enumerate(passes):
            a_pass.side = 1 if a_pass.node == block else -1
    rope = d.line(start, grip_of(d, passes), post)
    rope.toward_end = d.chance(0.5)
    return d.net


def draw_running_carriage(rng):
    """Tied to an anchor, through a loaded moving block, over an anchored block, to the hand."""
    d = Draw(rng)
    a = d.add("anchor", d.uniform(-5, -2), d.uniform(8, 10))
    block = d.add("block", d.uniform(-1, 1), d.uniform(3, 5), d.weight())
    top = d.add("anchor", d.uniform(2, 5), d.uniform(8, 10))
    post = d.add("hand", d.uniform(-4, 7), d.uniform(-1, 1))
    if d.chance(0.4):
        log = d.add("piece", d.net.nodes[block].x, d.uniform(0.5, 1.5), d.weight())
        d.sling(block, log)
    if d.chance(0.4):
        d.sling(d.add("anchor", *d.somewhere(9, 13, 4, 1.0)), block, d.uniform(1.0, 1.05))
    rope = d.line(a, grip_of(d, [Pass(block, d.tread()), Pass(top, d.tread())]), post)
    rope.toward_end = d.chance(0.5)
    return d.net


RUNNING_DRAWS = (draw_running_redirects, draw_tackle, draw_running_carriage)


# ---- props --------------------------------------------------------------------------------------

def prop(d, heel, head):
    """A bar of wood, with its own weight or without."""
    bar = Rope(f"prop{len(d.net.ropes)}", "prop", heel, head, 0.0)
    bar.thickness, bar.modulus = d.uniform(0.1, 0.35), 10 ** d.uniform(9, 10.3)
    bar.stiffness = bar.modulus * math.pi / 4 * bar.thickness ** 2
    bar.weight = d.uniform(100, 1500) if d.chance(0.6) else 0.0
    d.net.ropes.append(bar)
    return bar


def guy(d, head, x, factor=None):
    return d.sling(d.add("anchor", x, d.uniform(-0.5, 1.0)), head, factor)


def draw_spar(rng):
    """A spar on its heel, guyed to both sides, that carries a piece or a line over its head."""
    d = Draw(rng)
    heel = d.add("anchor", d.uniform(-1, 1), d.uniform(-0.3, 0.3))
    lean, high = d.uniform(-0.4, 0.4), d.uniform(5, 10)
    x, y = d.net.nodes[heel].x + high * math.sin(lean), high * math.cos(lean)
    head = d.add("block" if d.chance(0.5) else "joint", x, y,
                 d.weight() if d.chance(0.5) else 0.0)
    prop(d, heel, head)
    for side in (-1, 1):
        for _ in range(d.integer(1, 2)):
            guy(d, head, side * d.uniform(4, 9),
                d.uniform(0.99, 1.0) if d.chance(0.4) else None)
    if d.net.nodes[head].kind == "block" and d.chance(0.7):
        log = d.add("piece", x + d.uniform(0.5, 1.5) * (1 if lean > 0 else -1), d.uniform(1, 3),
                    d.weight())
        post = d.add("hand", d.net.nodes[heel].x + d.uniform(-2, 2), d.uniform(-1, 0))
        d.line(log, [Pass(head, d.tread())], post)
    else:
        d.sling(head, d.add("piece", x + d.uniform(-0.4, 0.4), y - d.uniform(2, 4), d.weight()))
    return d.net


def draw_boom(rng):
    """A boom on a mast, held up by one or two topping lifts, a strut inside its triangle at times."""
    d = Draw(rng)
    high = d.uniform(2, 4)
    heel = d.add("anchor", 0.0, high)
    rise, reach = d.uniform(-0.3, 0.9), d.uniform(3, 7)
    x, y = reach * math.cos(rise), high + reach * math.sin(rise)
    head = d.add("joint", x, y)
    prop(d, heel, head)
    top = d.add("anchor", d.uniform(-0.3, 0.3), max(y, high) + d.uniform(2, 4))
    lift = d.sling(head, top)
    if d.chance(0.4):  # the lift bears on a strut square to the boom
        d.net.ropes.remove(lift)
        knee = d.add("joint", 0.45 * x, 0.55 * y + 0.45 * d.net.nodes[top].y + d.uniform(0.1, 0.6))
        d.sling(head, knee)
        d.sling(knee, top)
        prop(d, heel, knee)
    if d.chance(0.5):
        d.sling(d.add("anchor", d.uniform(-2, 0), d.net.nodes[top].y + d.uniform(0.5, 2)), head,
                some_length(d))
    d.sling(head, d.add("piece", x + d.uniform(-0.3, 0.3), y - d.uniform(2, 4), d.weight()))
    return d.net


def draw_shears(rng):
    """Two props that meet at their head."""
    d = Draw(rng)
    feet = d.add("anchor", -d.uniform(1, 3), 0.0), d.add("anchor", d.uniform(1, 3), 0.0)
    x, y = d.uniform(-2.5, 2.5), d.uniform(4, 8)
    head = d.add("joint", x, y, d.weight() if d.chance(0.5) else 0.0)
    for foot in feet:
        prop(d, foot, head)
    for side in (-1, 1):
        if d.chance(0.6):
            guy(d, head, side * d.uniform(5, 9), some_length(d))
    d.sling(head, d.add("piece", x + d.uniform(-0.4, 0.4), y - d.uniform(2, 3), d.weight()))
    return d.net


def draw_spreader(rng):
    """A bar that spreads a bridle and hangs two pieces, or one piece on two slings."""
    d = Draw(rng)
    hook = d.add("anchor", 0.0, 10.0)
    half, low = d.uniform(0.8, 2.0), d.uniform(6, 8.5)
    a = d.add("joint", -half, low + d.uniform(-0.2, 0.2))
    b = d.add("joint", half, low + d.uniform(-0.2, 0.2))
    bar = prop(d, a, b)
    bar.weight = d.uniform(50, 400) if d.chance(0.6) else 0.0
    for end in (a, b):
        d.sling(hook, end)
    if d.chance(0.5):
        weight = d.weight()
        for end in (a, b):
            d.sling(end, d.add("piece", d.net.nodes[end].x, low - d.uniform(1, 3),
                               weight * d.uniform(0.8, 1.25)))
    else:
        log = d.add("piece", d.uniform(-0.3, 0.3), low - d.uniform(2, 4), d.weight())
        for end in (a, b):
            d.sling(end, log)
    if d.chance(0.4):
        d.sling(d.add("anchor", *d.somewhere(8, 12, 8, 1.0)), a if d.chance(0.5) else b,
                some_length(d))
    return d.net


def draw_falling_spar(rng):
    """A spar that nothing holds on the side it leans to, or only much too softly; or balanced."""
    d = Draw(rng)
    heel = d.add("anchor", 0.0, 0.0)
    side = -1 if d.chance(0.5) else 1
    lean = 0.0 if d.chance(0.4) else side * d.uniform(0.02, 0.3)
    high = d.uniform(5, 10)
    head = d.add("joint", high * math.sin(lean), high * math.cos(lean), d.weight())
    prop(d, heel, head)
    pick = d.integer(0, 2)
    if pick == 1 and lean != 0:
        guy(d, head, side * d.uniform(4, 8))  # on the side it falls to
    elif pick == 2:
        for way in (-1, 1):
            rope = d.sling(d.add("anchor", way * d.uniform(3, 7), 0.0), head)
            rope.stiffness = d.net.nodes[head].weight * d.uniform(0.01, 0.1)
    return d.net


PUSHING_DRAWS = (draw_spar, draw_boom, draw_shears, draw_spreader, draw_falling_spar)


# ---- curves of load and stretch ------------------------------------------------------------------

def curve_of(d, about):
    """Two to four points; ropes stiffen or soften, up to eightfold at a point."""
    points, load, by = [], 0.0, 0.0
    slope = about * 10 ** d.uniform(0.7, 1.7)
    for _ in range(d.integer(2, 4)):
        step = about * d.uniform(0.1, 0.8)
        load, by = load + step, by + step / slope
        points.append((load, by))
        slope = max(slope * 10 ** d.uniform(-0.8, 0.9), 3 * about)
    return points


def give_curves(d, share=0.7):
    about = d.net.largest_load()
    for rope in d.net.ropes:
        if rope.pull is not None or not d.chance(share):
            continue
        rope.curve = curve_of(d, about)
        pairs = zip([(0.0, 0.0)] + rope.curve, rope.curve)
        rope.stiffness = max((b[0] - a[0]) / (b[1] - a[1]) for a, b in pairs)
    return d.net


def curved(draw):
    """The same network, most of its ropes on curves."""
    def drawn(rng):
        d = Draw(rng)
        d.net = draw(rng)
        return give_curves(d)
    drawn.__name__ = draw.__name__ + "_curved"
    return drawn


def draw_shared(rng):
    """Three to five legs to one piece: how they share is all stretch."""
    d = Draw(rng)
    log = d.add("piece", d.uniform(-1, 1), d.uniform(1, 3), d.weight())
    for _ in range(d.integer(3, 5)):
        d.sling(d.add("anchor", *d.somewhere(7, 11)), log,
                d.uniform(0.99, 1.02) if d.chance(0.5) else None)
    return give_curves(d, 0.8)


CURVED_DRAWS = (draw_shared, curved(draw_slings), curved(draw_redirects), curved(draw_carriages))


# ---- stems that give -----------------------------------------------------------------------------

def stem(d, x):
    sections, height, diameter = [], d.uniform(0, 0.6), d.uniform(0.35, 0.8)
    for k in range(d.integer(2, 4)):
        hollow = d.uniform(0.05, 0.12) if d.chance(0.15) else 0.0
        sections.append((height, diameter, hollow))
        height += d.uniform(2, 6)
        diameter *= d.uniform(0.6, 0.95)
    own = Stem(f"stem{len(d.net.stems)}", x, d.uniform(-0.3, 0.3), d.uniform(-0.25, 0.25),
               10 ** d.uniform(9.6, 10.2), sections)
    d.net.stems.append(own)
    return len(d.net.stems) - 1


def on_stem(d, index, height, kind="anchor"):
    bark = d.integer(-1, 1)
    x, y = d.net.stems[index].place(height, bark)
    node = d.add(kind, float(x), float(y))
    own = d.net.nodes[node]
    own.stem, own.height, own.bark = index, height, bark
    return node


def ground_guy(d, index, way):
    d.sling(on_stem(d, index, d.uniform(4, 9)),
            d.add("anchor", d.net.stems[index].x + way * d.uniform(4, 8), 0.0), d.uniform(0.985, 1.0))


def draw_line_between_stems(rng):
    """A line or sling from stem to stem, a piece on it; guys to the ground at times."""
    d = Draw(rng)
    a, b = stem(d, -d.uniform(3, 5)), stem(d, d.uniform(3, 5))
    left, right = on_stem(d, a, d.uniform(6, 11)), on_stem(d, b, d.uniform(6, 11))
    roller = d.add("ring", d.uniform(-1, 1), d.uniform(4, 5.5), d.weight())
    d.line(left, [Pass(roller, d.tread())], right, d.uniform(0.97, 1.02))
    if d.chance(0.6):
        d.sling(on_stem(d, a, d.uniform(3, 9)), on_stem(d, b, d.uniform(3, 9)),
                d.uniform(0.985, 1.0))
    for index, way in ((a, -1), (b, 1)):
        if d.chance(0.4):
            ground_guy(d, index, way)
    if d.chance(0.4):  # a stiff stay from the foot, which feels how far the foot gives
        stay = d.sling(on_stem(d, a, d.uniform(0.0, 0.15)), on_stem(d, b, d.uniform(6, 9)),
                       d.uniform(0.9993, 0.9999))
        stay.stiffness = 10 ** d.uniform(7, 8)
    if d.chance(0.4):  # a second rope at the height of the first
        twin = on_stem(d, a, d.net.nodes[left].height)
        d.sling(twin, roller, some_length(d))
    return d.net


def draw_floating_between_stems(rng):
    """A lowering line over one stem and through a ring that floats on a sling from another."""
    d = Draw(rng)
    a, b = stem(d, d.uniform(-0.5, 0.5)), stem(d, d.uniform(5, 8))
    top = on_stem(d, a, d.uniform(8, 12))
    x, y = d.net.nodes[top].x, d.net.nodes[top].y
    log = d.add("piece", x - d.uniform(0.3, 0.8), y - d.uniform(3, 5), d.weight())
    ring = d.add("ring", x + d.uniform(2.5, 3.5), y - d.uniform(1.5, 3), d.uniform(5, 60))
    d.sling(on_stem(d, b, y + d.uniform(-1, 2)), ring)
    foot = a if d.chance(0.5) else b
    if d.chance(0.7):
        post = on_stem(d, foot, d.uniform(0.0, 1.5), "hand")
    else:
        post = d.add("hand", d.net.nodes[ring].x + d.uniform(-2, 2), d.uniform(-1, 0))
    d.line(log, [Pass(top, d.tread()), Pass(ring, d.tread())], post,
           d.uniform(0.98, 1.0) if d.chance(0.3) else None)
    if d.chance(0.5):
        ground_guy(d, a, -1)
    return d.net


def draw_hung_between_stems(rng):
    """A floating anchor: two or three slings from two stems meet at a joint that carries a piece."""
    d = Draw(rng)
    a, b = stem(d, -d.uniform(3, 5)), stem(d, d.uniform(3, 5))
    joint = d.add("joint", d.uniform(-1, 1), d.uniform(4, 6))
    for index in (a, b, a if d.chance(0.5) else b)[:d.integer(2, 3)]:
        d.sling(on_stem(d, index, d.uniform(6.5, 11)), joint, some_length(d))
    log = d.add("piece", d.net.nodes[joint].x, d.uniform(1, 2.5), d.weight())
    d.sling(joint, log)
    if d.chance(0.5):
        d.sling(on_stem(d, a, d.uniform(0.0, 3)), log, d.uniform(0.9, 1.0))
    if d.chance(0.3):
        d.net.stems[b].gives = False
    return d.net


GIVING_DRAWS = (draw_line_between_stems, draw_floating_between_stems, draw_hung_between_stems)
