# SPDX-License-Identifier: GPL-3.0-or-later
"""Random networks, each kind a function of a random generator."""
import math

import numpy as np

from network import Net, Node, Pass, Rope, Shape, Unsettled


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
