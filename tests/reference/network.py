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
    stem: int = None          # of Net.stems; then x and y are where it sits as drawn
    height: float = 0.0       # along the stem, m
    bark: int = 0             # -1 left, +1 right, 0 on the axis

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
    """A sling has no passes; a line may be held with a given pull. A prop is one that also pushes."""
    id: str
    kind: str                 # sling, line, prop
    start: int
    end: int
    stiffness: float          # EA, N
    passes: list = field(default_factory=list)
    diameter: float = 0.0
    length: float = None      # unstretched; None = as drawn
    pull: float = None        # at the end, which then is a hand
    toward_end: bool = None   # which way it runs; None = it does not
    curve: list = None        # (load, stretch), rising from (0, 0); `stiffness` is its steepest part
    thickness: float = 0.0    # of a prop, m
    modulus: float = 0.0      # of its wood, Pa
    weight: float = 0.0       # of a prop, half to each end, N

    def stations(self):
        return [self.start] + [p.node for p in self.passes] + [self.end]

    def radii(self):
        half = [p.tread / 2 + self.diameter / 2 if p.tread > 0 else 0.0 for p in self.passes]
        return [0.0] + half + [0.0]

    def sides(self):
        return [0] + [p.side for p in self.passes] + [0]


@dataclass
class Stem:
    id: str
    x: float
    y: float
    lean: float               # off plumb, to the right, rad
    modulus: float            # Pa
    sections: list            # (height, diameter, wall or 0), going up
    gives: bool = True

    def along(self):
        return np.array([math.sin(self.lean), math.cos(self.lean)])

    def across(self):
        return np.array([math.cos(self.lean), -math.sin(self.lean)])

    def diameter(self, height):
        """Linear between sections, level below the first and above the last."""
        return float(np.interp(height, [s[0] for s in self.sections], [s[1] for s in self.sections]))

    def place(self, height, bark):
        out = bark * self.diameter(height) / 2
        return np.array([self.x, self.y]) + height * self.along() + out * self.across()


@dataclass
class Net:
    nodes: list
    ropes: list
    name: str = ""
    stems: list = field(default_factory=list)

    def places(self):
        return np.array([[n.x, n.y] for n in self.nodes], dtype=float)

    def size(self):
        p = self.places()
        return float(np.max(np.ptp(p, axis=0)))

    def free(self):
        """Nodes that move: those not fixed, and those fixed to a stem that gives."""
        return [i for i, n in enumerate(self.nodes)
                if not n.fixed or (n.stem is not None and self.stems[n.stem].gives)]

    def loads(self):
        loads = np.array([[n.force[0], n.force[1] - n.weight] for n in self.nodes])
        for rope in self.ropes:
            loads[[rope.start, rope.end], 1] -= rope.weight / 2
        return loads

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
