# SPDX-License-Identifier: GPL-3.0-or-later
"""Without friction: the energy of a network and its least value."""
import copy
import math

import numpy as np
from scipy import optimize

from network import Answer, Shape, Unsettled, unstretched
from stems import stem_stiffness


class Energy:
    def __init__(self, net):
        self.net = net
        self.free = net.free()
        self.column = {n: 2 * k for k, n in enumerate(self.free)}
        self.loads = net.loads()
        self.l0 = unstretched(net)
        self.p0 = net.places()
        self.unit = net.largest_load()
        self.stems = [stem_stiffness(net, k) for k, s in enumerate(net.stems) if s.gives]
        self.slack_below = 0.0  # ropes that carry no more than this count as slack
        self.followed = None    # bends of the last accepted step

    def start(self):
        return np.array([c for n in self.free for c in self.p0[n]])

    def places(self, x):
        p = self.p0.copy()
        p[self.free] = x.reshape(-1, 2)
        return p

    def shapes(self, x):
        p = self.places(x)
        kept = self.followed or [None] * len(self.net.ropes)
        return [Shape(r, p, f) for r, f in zip(self.net.ropes, kept)]

    def follow(self, x, *_):
        self.followed = [s.bends for s in self.shapes(x)]

    def law(self, k, length):
        """energy, tension, stiffness of rope k."""
        rope = self.net.ropes[k]
        if rope.pull is not None:
            return rope.pull * length, rope.pull, 0.0
        if rope.curve is not None:
            return self.curve_law(rope.curve, length, self.l0[k])
        c = rope.stiffness / self.l0[k]
        e = length - self.l0[k]
        if rope.kind == "prop":
            return 0.5 * c * e * e, c * e, c
        return (0.5 * c * e * e, c * e, c) if c * e > self.slack_below else (0.0, 0.0, 0.0)

    def curve_law(self, curve, length, l0):
        """Straight from point to point, and on beyond the last as steep as before."""
        stretch = length / l0 - 1
        if stretch <= 0:
            return 0.0, 0.0, 0.0
        area, load, by = 0.0, 0.0, 0.0
        for k, (next_load, next_by) in enumerate(curve):
            slope = (next_load - load) / (next_by - by)
            if stretch <= next_by or k + 1 == len(curve):
                tension = load + slope * (stretch - by)
                if tension <= self.slack_below:
                    return 0.0, 0.0, 0.0
                return l0 * (area + 0.5 * (load + tension) * (stretch - by)), tension, slope / l0
            area += 0.5 * (load + next_load) * (next_by - by)
            load, by = next_load, next_by
        return None

    def gradient_of(self, shape):
        """(column, d length / d coordinate) of one rope."""
        g = np.zeros(2 * len(self.free))
        for k in range(len(shape.t)):
            ux, uy = shape.unit(k)
            i, j = shape.st[k], shape.st[k + 1]
            if i in self.column:
                g[self.column[i]] -= ux
                g[self.column[i] + 1] -= uy
            if j in self.column:
                g[self.column[j]] += ux
                g[self.column[j] + 1] += uy
        return g

    def all(self, x, second=True):
        n = len(x)
        total, g = 0.0, np.zeros(n)
        h = np.zeros((n, n)) if second else None
        for k, shape in enumerate(self.shapes(x)):
            psi, tension, c = self.law(k, shape.length)
            total += psi
            if tension == 0:
                continue
            gk = self.gradient_of(shape)
            g += tension * gk
            if second:
                h += c * np.outer(gk, gk)
                self.add_geometric(h, shape, tension)
        for nodes, rest, stiffness in self.stems:
            rows = [self.column[n] + k for n in nodes for k in range(2)]
            resisting = stiffness @ (x[rows] - rest)
            total += 0.5 * float((x[rows] - rest) @ resisting)
            g[rows] += resisting
            if second:
                h[np.ix_(rows, rows)] += stiffness
        for node in self.free:
            c = self.column[node]
            total -= self.loads[node] @ x[c:c + 2]
            g[c:c + 2] -= self.loads[node]
        return total, g, h

    def add_geometric(self, h, shape, tension):
        for k in range(len(shape.t)):
            ux, uy = shape.unit(k)
            q = tension / shape.t[k]
            block = q * np.array([[uy * uy, -ux * uy], [-ux * uy, ux * ux]])
            ends = [(shape.st[k], -1.0), (shape.st[k + 1], 1.0)]
            for a, sa in ends:
                for b, sb in ends:
                    if a in self.column and b in self.column:
                        ca, cb = self.column[a], self.column[b]
                        h[ca:ca + 2, cb:cb + 2] += sa * sb * block

    def noise(self, x):
        """What rounding of a place leaves over through the stiffest rope."""
        stiffest = max(r.stiffness / l for r, l in zip(self.net.ropes, self.l0) if l is not None)
        stiffest = max([stiffest] + [float(np.max(k)) for _, _, k in self.stems])
        return 16 * np.finfo(float).eps * stiffest * float(np.max(np.abs(x)))

    # scaled for the minimiser; a place without a tangent is infinitely high
    def value(self, x):
        try:
            return self.all(x, False)[0] / self.unit
        except Unsettled:
            return 1e30

    def slope(self, x):
        return self.all(x, False)[1] / self.unit

    def curvature(self, x):
        return self.all(x)[2] / self.unit

    def tensions(self, x):
        return [self.law(k, s.length)[1] for k, s in enumerate(self.shapes(x))]


def minimise(energy, x):
    """Trust region with the exact curvature; each step solves its subproblem by eigenvalues."""
    radius = 0.3
    value = energy.value(x)
    for step in range(400):
        g, h = energy.slope(x), energy.curvature(x)
        if np.max(np.abs(g)) < 1e-7:
            break
        s, promised = subproblem(h, g, radius)
        gained = value - energy.value(x + s)
        ratio = gained / max(promised, 1e-300)
        if ratio > 1e-4:
            x = x + s
            energy.follow(x)
            value = energy.value(x)
        if ratio < 0.25:
            radius = 0.25 * float(np.linalg.norm(s))
        elif ratio > 0.75 and np.linalg.norm(s) > 0.9 * radius:
            radius = min(2 * radius, 3.0)
        if radius < 1e-13:
            break
    return x


def subproblem(h, g, radius):
    """Least of g.s + s.h.s/2 within the radius, and by how much it lies below zero."""
    w, v = np.linalg.eigh(h)
    c = v.T @ g

    def step(shift):
        return -c / np.maximum(w + shift, 1e-300)

    shift = 0.0 if w[0] > 1e-12 * max(w[-1], 1.0) else -w[0] + 1e-12 * max(w[-1], 1.0)
    if np.linalg.norm(step(shift)) > radius:
        high = max(2 * shift, 1e-6)
        while np.linalg.norm(step(high)) > radius:
            high *= 10
        shift = optimize.brentq(lambda q: np.linalg.norm(step(q)) - radius, shift, high,
                                xtol=1e-14, rtol=1e-10)
    y = step(shift)
    return v @ y, -float(c @ y + 0.5 * y @ (w * y))


def polish(energy, x):
    """Newton on the balance, by least squares where the place is not unique."""
    best, best_left = x, math.inf
    for step in range(40):
        _, g, h = energy.all(x)
        left = float(np.max(np.abs(g))) if len(g) else 0.0
        if left < best_left:
            best, best_left = x.copy(), left
        elif step > 6 and best_left < 1e-9 * energy.unit:
            break
        x = best - newton_step(h, g) if left <= best_left else 0.5 * (best + x)
        try:
            energy.follow(x)
        except Unsettled:
            x = best
            break
    energy.follow(best)
    return best, best_left


def newton_step(h, g):
    scale = max(float(np.max(np.abs(h))), 1e-300)
    w, v = np.linalg.eigh(h / scale)
    keep = w > 1e-14
    return v[:, keep] @ ((v[:, keep].T @ g) / (w[keep] * scale))


def settle_still(net):
    """Frictionless answer. A bend that comes out negative goes round the other side with the same
    length, from where it was."""
    net = copy.deepcopy(net)
    for rope, l0 in zip(net.ropes, unstretched(net)):
        rope.length = l0
    flipped, x = False, None
    for attempt in range(6):
        energy = Energy(net)
        x = settle_energy(energy, energy.start() if x is None else x)
        wrong = negative_bends(energy, x)
        if not wrong:
            check_shape(energy, x)
            spans = {}
            for rope, tension in zip(net.ropes, energy.tensions(x)):
                for k in range(len(rope.passes) + 1):
                    spans[rope.id, k] = tension
            return Answer(energy.places(x), spans, is_unique(energy, x), flipped)
        flipped = True
        for rope, k in wrong:
            rope.passes[k].side = -rope.passes[k].side
    raise Unsettled("sides keep changing")


def is_unique(energy, x):
    """Whether the places are: ropes that hardly carry anything are taken as slack."""
    energy.slack_below = 1e-8 * energy.unit
    h = energy.all(x)[2]
    energy.slack_below = 0.0
    return float(np.min(np.linalg.eigvalsh(h))) > 1e-4 * energy.unit / max(energy.net.size(), 1.0)


def settle_energy(energy, start):
    energy.followed = None
    energy.follow(start)
    x = minimise(energy, start)
    x, left = polish(energy, x)
    if left > max(1e-8 * energy.unit, energy.noise(x)):
        raise Unsettled(f"left-over {left / energy.unit:.1e} of the largest load")
    return x


def negative_bends(energy, x):
    wrong = []
    for k, shape in enumerate(energy.shapes(x)):
        if energy.law(k, shape.length)[1] <= 0:
            continue
        for j, bend in enumerate(shape.bends):
            if shape.r[j + 1] > 0 and bend < -1e-9:
                wrong.append((energy.net.ropes[k], j))
    return wrong


def check_shape(energy, x):
    """Outside this the energy need not be convex, or the treads press on each other."""
    for rope, shape in zip(energy.net.ropes, energy.shapes(x)):
        for k in range(len(shape.t)):
            near = shape.r[k] + shape.r[k + 1]
            if near > 0 and shape.dist[k] < 1.5 * near:
                raise Unsettled(f"{rope.id}: treads meet in span {k}")
            if shape.t[k] < 1.6 * abs(shape.rho[k]):
                raise Unsettled(f"{rope.id}: span {k} is short against its treads")
            if shape.dist[k] < 0.02:
                raise Unsettled(f"{rope.id}: span {k} runs up to its end")
        for k, bend in enumerate(shape.bends):
            if shape.r[k + 1] > 0 and bend > 1.45 * math.pi:
                raise Unsettled(f"{rope.id}: bend {k} of more than {math.degrees(bend):.0f} deg")
