# SPDX-License-Identifier: GPL-3.0-or-later
"""A network as plain data, and the shape of a rope in it."""
import math
from dataclasses import dataclass, field

import numpy as np


class Unsettled(Exception):
    """The reference found no answer it trusts."""


@dataclass
class Node:
    id: str
    kind: str                 # anchor, hand, ring, block, joint, piece
    x: float
    y: float
    weight: float = 0.0       # N
    force: tuple = (0.0, 0.0)  # outer force, N

    @property
    def fixed(self):
        return self.kind in ("anchor", "hand")


@dataclass
class Pass:
    """A rope running through a node: tread 0 is a point, side +1 turns left."""
    node: int
    tread: float = 0.0        # diameter of the seat, m
    side: int = 0
    friction: float = 0.0     # exponent per radian
    efficiency: float = 1.0   # of a sheave over 180 deg


@dataclass
class Rope:
    """A sling has no passes; a line may be held with a given pull."""
    id: str
    kind: str                 # sling, line
    start: int
    end: int
    stiffness: float          # EA, N
    passes: list = field(default_factory=list)
    diameter: float = 0.0
    length: float = None      # unstretched; None = as drawn
    pull: float = None        # at the end, which then is a hand
    toward_end: bool = None   # which way it runs; None = it does not

    def stations(self):
        return [self.start] + [p.node for p in self.passes] + [self.end]

    def radii(self):
        half = [p.tread / 2 + self.diameter / 2 if p.tread > 0 else 0.0 for p in self.passes]
        return [0.0] + half + [0.0]

    def sides(self):
        return [0] + [p.side for p in self.passes] + [0]


@dataclass
class Net:
    nodes: list
    ropes: list
    name: str = ""

    def places(self):
        return np.array([[n.x, n.y] for n in self.nodes], dtype=float)

    def size(self):
        p = self.places()
        return float(np.max(np.ptp(p, axis=0)))

    def free(self):
        return [i for i, n in enumerate(self.nodes) if not n.fixed]

    def loads(self):
        return np.array([[n.force[0], n.force[1] - n.weight] for n in self.nodes])

    def largest_load(self):
        pulls = [r.pull for r in self.ropes if r.pull is not None]
        return max([float(np.hypot(*f)) for f in self.loads()] + pulls + [1e-300])


@dataclass
class Answer:
    places: np.ndarray
    spans: dict               # (rope id, index) -> tension
    unique: bool
    flipped: bool = False


def wrap(angle, low):
    """angle put into (low, low + 2 pi]."""
    turned = math.fmod(angle - low, 2 * math.pi)
    if turned <= 0:
        turned += 2 * math.pi
    return low + turned


class Shape:
    """Spans and bends of one rope at given places: t, phi, bends, length."""

    def __init__(self, rope, p, followed=None):
        st, r, s = rope.stations(), rope.radii(), rope.sides()
        self.st, self.r, self.s = st, r, s
        m = len(st) - 1
        self.t, self.phi, self.rho, self.dist = [], [], [], []
        for k in range(m):
            i, j = st[k], st[k + 1]
            dx, dy = p[j, 0] - p[i, 0], p[j, 1] - p[i, 1]
            d = math.hypot(dx, dy)
            rho = s[k] * r[k] - s[k + 1] * r[k + 1]
            if d <= abs(rho) or d == 0:
                raise Unsettled(f"{rope.id}: span {k} has no tangent")
            self.t.append(math.sqrt(d * d - rho * rho))
            self.phi.append(math.atan2(dy, dx) + math.asin(rho / d))
            self.rho.append(rho)
            self.dist.append(d)
        self.bends = []
        for k in range(1, m):
            turn = self.phi[k] - self.phi[k - 1]
            if r[k] == 0:
                self.bends.append(abs(wrap(turn, -math.pi)))
            else:
                low = -math.pi / 2 if followed is None else followed[k - 1] - math.pi
                self.bends.append(wrap(s[k] * turn, low))
        self.length = sum(self.t) + sum(r[k + 1] * b for k, b in enumerate(self.bends))

    def unit(self, k):
        return math.cos(self.phi[k]), math.sin(self.phi[k])


def unstretched(net):
    """L0 of every rope: written, or drawn."""
    p = net.places()
    return [None if r.pull is not None else r.length if r.length is not None else Shape(r, p).length
            for r in net.ropes]
