# SPDX-License-Identifier: GPL-3.0-or-later
"""With props. The energy is no longer convex: what is found is the minimum reached from the drawing,
and what stands on its edge has none there.

A net topples when a prop has to turn by more than LIES_DOWN to come to rest, when its energy has no
bottom, or when the curvature of the energy has a negative eigenvalue where it balances.
"""
import copy
import math

import numpy as np

from network import Answer, Unsettled, unstretched
from still import Energy, check_shape, minimise, negative_bends, polish

LIES_DOWN = math.pi / 4
NUDGE = 1e-6          # of the size, so that what stands exactly on its edge shows it
NEGATIVE = -1e-6      # eigenvalue over load and size


class Topples(Exception):
    pass


def turned(rope, before, after):
    """Angle by which a prop has turned."""
    was, now = (p[rope.end] - p[rope.start] for p in (before, after))
    return abs(math.atan2(was[0] * now[1] - was[1] * now[0], was @ now))


def least_eigenvalue(energy, x):
    return float(np.min(np.linalg.eigvalsh(energy.all(x)[2]))) * energy.net.size() / energy.unit


def rest_from(net, side):
    energy = Energy(net)
    across = np.zeros_like(energy.p0)
    for rope in net.ropes:
        if rope.kind == "prop":
            d = energy.p0[rope.end] - energy.p0[rope.start]
            across[[rope.start, rope.end]] += NUDGE * side * np.array([-d[1], d[0]])
    x = energy.start() + across[energy.free].ravel()
    energy.follow(x)
    x = minimise(energy, x)
    if np.max(np.abs(x - energy.start())) > 20 * net.size():
        raise Topples("runs away")
    x, left = polish(energy, x)
    for rope in net.ropes:
        if rope.kind == "prop" and turned(rope, energy.p0, energy.places(x)) > LIES_DOWN:
            raise Topples(f"{rope.id} lies down")
    if left > max(1e-8 * energy.unit, energy.noise(x)):
        raise Unsettled(f"left-over {left / energy.unit:.1e} of the largest load")
    if least_eigenvalue(energy, x) < NEGATIVE:
        raise Topples("balances on its edge")
    return energy, x


def settle_pushing(net):
    """The one place of rest near the drawing, from both sides of it."""
    net = copy.deepcopy(net)
    for rope, l0 in zip(net.ropes, unstretched(net)):
        rope.length = l0
    found, why = [], None
    for side in (1, -1):
        try:
            found.append(rest_from(net, side))
        except Topples as fault:
            why = fault
    if not found:
        raise why
    if len(found) < 2:
        raise Unsettled("topples to one side only")
    energy, x = found[0]
    if np.max(np.abs(x - found[1][1])) > 1e-5 * net.size():
        raise Unsettled("two places of rest")
    if negative_bends(energy, x):
        raise Unsettled("a bend is negative")
    check_shape(energy, x)
    spans = {}
    for rope, tension in zip(net.ropes, energy.tensions(x)):
        for k in range(len(rope.passes) + 1):
            spans[rope.id, k] = tension
    lowest = least_eigenvalue(energy, x)
    return Answer(energy.places(x), spans, lowest > 1e-4)
