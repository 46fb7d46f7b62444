# SPDX-License-Identifier: GPL-3.0-or-later
"""With friction: the balance of a network, reached from the frictionless answer."""
import copy
import math

import numpy as np
from scipy import optimize

from network import Answer, Shape, Unsettled, unstretched
from still import settle_still


class Balance:
    """Unknowns: places of free nodes and the tension in the first span of every rope."""

    def __init__(self, net):
        self.net = net
        self.free = net.free()
        self.l0 = unstretched(net)
        self.p0 = net.places()
        self.loads = net.loads()
        self.unit = net.largest_load()
        self.share = 1.0        # of the friction
        self.slack = set()      # ropes that carry nothing

    def unpack(self, z):
        p = self.p0.copy()
        n = 2 * len(self.free)
        p[self.free] = z[:n].reshape(-1, 2)
        return p, z[n:] * self.unit

    def ratio(self, rope, a_pass, shape, k):
        """Tension after over tension before at pass k."""
        if rope.toward_end is None:
            return 1.0
        sign = 1 if rope.toward_end else -1
        bend = max(shape.bends[k], 0.0)
        if a_pass.efficiency < 1:
            c = (1 - a_pass.efficiency) / (1 + a_pass.efficiency) * self.share
            cosine = math.cos(shape.phi[k + 1] - shape.phi[k])
            # (q - 1)^2 = c^2 (1 + q^2 - 2 q cosine): the two roots are each other's reciprocals
            half = (1 - c * c * cosine) / (1 - c * c)
            q = half + math.sqrt(max(half * half - 1, 0.0))
            return q if sign > 0 else 1 / q
        return math.exp(sign * a_pass.friction * self.share * bend)

    def spans_of(self, rope, shape, first):
        tensions = [first]
        for k, a_pass in enumerate(rope.passes):
            tensions.append(tensions[-1] * self.ratio(rope, a_pass, shape, k))
        return tensions

    def rope_length(self, rope, shape, tensions):
        """Unstretched length that lies along the rope."""
        ea = rope.stiffness
        total = sum(t / (1 + q / ea) for t, q in zip(shape.t, tensions))
        for k in range(len(rope.passes)):
            r, bend = shape.r[k + 1], shape.bends[k]
            if r == 0:
                continue
            a, b = tensions[k] / ea, tensions[k + 1] / ea
            exponent = math.log(b / a) if a > 0 and b > 0 else 0.0
            if abs(exponent) < 1e-12 or abs(bend) < 1e-12:
                total += r * bend / (1 + a)
            else:
                total += r * bend * (1 - math.log((1 + b) / (1 + a)) / exponent)
        return total

    def residual(self, z):
        p, first = self.unpack(z)
        force = self.loads / self.unit
        force = force.copy()
        lengths = []
        for k, rope in enumerate(self.net.ropes):
            shape = Shape(rope, p)
            tensions = self.spans_of(rope, shape, first[k])
            for j, tension in enumerate(tensions):
                ux, uy = shape.unit(j)
                q = tension / self.unit
                force[shape.st[j], 0] += q * ux
                force[shape.st[j], 1] += q * uy
                force[shape.st[j + 1], 0] -= q * ux
                force[shape.st[j + 1], 1] -= q * uy
            lengths.append(first[k] / self.unit if k in self.slack else
                           self.rope_length(rope, shape, tensions) - self.l0[k])
        return np.concatenate([force[self.free].ravel(), lengths])

    def guarded(self, z):
        try:
            return self.residual(z)
        except (Unsettled, OverflowError, ValueError):
            return np.full(len(z), 1e6)


def difference_jacobian(f, z):
    n = len(z)
    jac = np.zeros((n, n))
    for k in range(n):
        step = 1e-6 * max(1.0, abs(z[k]))
        up, down = z.copy(), z.copy()
        up[k] += step
        down[k] -= step
        jac[:, k] = (f(up) - f(down)) / (2 * step)
    return jac


def newton_polish(f, z):
    left = float(np.max(np.abs(f(z))))
    for step in range(8):
        if left < 1e-14:
            break
        try:
            trial = z - np.linalg.solve(difference_jacobian(f, z), f(z))
        except np.linalg.LinAlgError:
            break
        new = float(np.max(np.abs(f(trial))))
        if new >= left:
            break
        z, left = trial, new
    return z, left


def settle_running(net):
    still = copy.deepcopy(net)
    for rope in still.ropes:
        rope.toward_end = None
    start = settle_still(still)
    if start.flipped:
        raise Unsettled("a side changes without friction")
    balance = Balance(net)
    first = [start.spans[r.id, 0] / balance.unit for r in net.ropes]
    balance.slack = {k for k, t in enumerate(first) if t <= 0}
    z = np.concatenate([start.places[balance.free].ravel(), first])
    for _ in range(4):
        found = settle_taut(balance, z)
        wrong = wrongly_taut(balance, found)
        if not wrong:
            return running_answer(balance, found)
        balance.slack ^= wrong
    raise Unsettled("slack parts keep changing")


def settle_taut(balance, z):
    for method in (steps_even, steps_halved):
        found, left = method(balance, z)
        if left < 1e-9:
            return found
    raise Unsettled(f"left-over {left:.1e} with friction")


def wrongly_taut(balance, z):
    """Ropes that push, and slack ones that are too short."""
    p, first = balance.unpack(z)
    wrong = set()
    for k, rope in enumerate(balance.net.ropes):
        too_long = k in balance.slack and Shape(rope, p).length > balance.l0[k]
        if too_long or (k not in balance.slack and first[k] < 0):
            wrong.add(k)
    return wrong


def solve_at(balance, z, share):
    balance.share = share
    for method in ("hybr", "lm"):
        answer = optimize.root(balance.guarded, z, method=method, tol=1e-12)
        found, left = newton_polish(balance.guarded, answer.x)
        if left < 1e-9:
            return found, left
    return found, left


def steps_even(balance, z):
    for share in (0.0, 0.25, 0.5, 0.75, 1.0):
        z, left = solve_at(balance, z, share)
        if left > 1e-6:
            break
    return z, left


def steps_halved(balance, z):
    z, left = solve_at(balance, z, 0.0)
    share, step = 0.0, 0.1
    while share < 1 and step > 1e-3:
        trial, left = solve_at(balance, z, min(1.0, share + step))
        if left < 1e-9 and np.max(np.abs(trial - z)) < 2.0:
            z, share = trial, min(1.0, share + step)
        else:
            step /= 2
    return z, left if share >= 1 else 1.0


def running_answer(balance, z):
    p, first = balance.unpack(z)
    spans = {}
    for k, rope in enumerate(balance.net.ropes):
        shape = Shape(rope, p)
        for j, bend in enumerate(shape.bends):
            if shape.r[j + 1] > 0 and bend < -1e-9:
                raise Unsettled(f"{rope.id}: bend {j} is negative")
        for j, tension in enumerate(balance.spans_of(rope, shape, first[k])):
            spans[rope.id, j] = tension
        for k2 in range(len(shape.t)):
            near = shape.r[k2] + shape.r[k2 + 1]
            if near > 0 and shape.dist[k2] < 1.5 * near:
                raise Unsettled(f"{rope.id}: treads meet in span {k2}")
    return Answer(p, spans, True)
