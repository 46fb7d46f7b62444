#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Nets of some hundred nodes, settled by SciPy and by the program, which takes the ways of large systems for them.

A square net of slings hangs from anchors along its upper edge, which is narrower or wider than the net; weights,
lengths and stiffness are drawn at random. Its energy is lowered by Newton steps with a growing diagonal (Levenberg),
each by SciPy's sparse LU; nothing is shared with the program but the law of a rope.

    nets.py PROGRAM [--seed N] [--count N]

prints every disagreement and one line of summary. Exit 1 on any disagreement.
"""
import argparse
import sys
from types import SimpleNamespace

import numpy as np
from scipy import sparse
from scipy.sparse.linalg import spsolve

from network import Net, Node, Rope, Unsettled
from networks import Disagreement, compare

LEFT_OVER = 1e-9    # of the largest tension
STEPS = 500


def draw_net(rng):
    side, deep = int(rng.integers(8, 16)), int(rng.integers(8, 16))
    spread = rng.uniform(0.9, 1.1)
    nodes, ropes = [], []
    for j in range(deep + 1):
        for i in range(side):
            x = spread * i if j == 0 else i + rng.uniform(-0.05, 0.05)
            y = 20.0 if j == 0 else 20.0 - j + rng.uniform(-0.05, 0.05)
            weight = 0.0 if j == 0 else rng.uniform(5, 50)
            nodes.append(Node(f"n{j}-{i}", "anchor" if j == 0 else "joint", x, y, weight))
    stiff = 10 ** rng.uniform(3.5, 5.5)
    for j in range(1, deep + 1):
        for i in range(side):
            here = j * side + i
            for other, name in ((here - side, "v"), (here - 1, "h")):
                if name == "h" and i == 0:
                    continue
                ropes.append(Rope(f"{name}{j}-{i}", "sling", other, here, stiff * rng.uniform(0.5, 2),
                                  length=rng.uniform(0.95, 1.05)))
    return Net(nodes, ropes)


class Energy:
    """Of ropes that only pull: sum of EA/2L0 (L - L0)^2 less the work of the loads."""

    def __init__(self, net):
        self.net = net
        self.ends = np.array([[r.start, r.end] for r in net.ropes])
        self.l0 = np.array([r.length for r in net.ropes])
        self.k = np.array([r.stiffness for r in net.ropes]) / self.l0
        self.loads = net.loads()
        self.free = np.array(net.free())
        self.columns = (2 * self.free[:, None] + [0, 1]).ravel()

    def stretches(self, places):
        d = places[self.ends[:, 1]] - places[self.ends[:, 0]]
        length = np.hypot(d[:, 0], d[:, 1])
        return d / length[:, None], length, np.maximum(length - self.l0, 0)

    def value(self, places):
        _, _, e = self.stretches(places)
        return 0.5 * np.sum(self.k * e * e) - np.sum(self.loads * places)

    def gradient(self, places):
        u, _, e = self.stretches(places)
        pull = (self.k * e)[:, None] * u
        g = -self.loads.copy()
        np.add.at(g, self.ends[:, 1], pull)
        np.add.at(g, self.ends[:, 0], -pull)
        return g.ravel()[self.columns]

    def hessian(self, places):
        u, length, e = self.stretches(places)
        across = self.k * e / length
        blocks = (np.where(e > 0, self.k, 0) - across)[:, None, None] * u[:, :, None] * u[:, None, :]
        blocks += across[:, None, None] * np.eye(2)
        rows, columns, values = [], [], []
        for a in range(2):
            for b in range(2):
                for i in range(2):
                    for j in range(2):
                        rows.append(2 * self.ends[:, a] + i)
                        columns.append(2 * self.ends[:, b] + j)
                        values.append((1 if a == b else -1) * blocks[:, i, j])
        size = 2 * len(self.net.nodes)
        full = sparse.coo_matrix((np.concatenate(values), (np.concatenate(rows), np.concatenate(columns))),
                                 shape=(size, size)).tocsc()
        return full[self.columns][:, self.columns]


def settle(net):
    energy, places, mu = Energy(net), net.places(), 1.0
    for _ in range(STEPS):
        g = energy.gradient(places)
        _, _, e = energy.stretches(places)
        if np.max(np.abs(g)) <= LEFT_OVER * max(np.max(energy.k * e), 1.0):
            tensions = energy.k * e
            return SimpleNamespace(spans={(r.id, 0): t for r, t in zip(net.ropes, tensions)}, places=places,
                                   unique=bool(np.all(tensions > 1e-3)))
        step = spsolve(energy.hessian(places) + mu * sparse.identity(len(g), format="csc"), -g)
        tried = places.copy()
        tried[energy.free] += step.reshape(-1, 2)
        noise = 1e-13 * abs(energy.value(places))
        if energy.value(tried) <= energy.value(places) + noise:
            places, mu = tried, max(mu / 10, 1e-9)
        else:
            mu *= 8
    raise Unsettled("Newton did not end")


def main():
    words = argparse.ArgumentParser()
    words.add_argument("program")
    words.add_argument("--seed", type=int, default=16)
    words.add_argument("--count", type=int, default=12)
    options = words.parse_args()
    worst, slack, failed = 0.0, 0, 0
    for index in range(options.count):
        net = draw_net(np.random.default_rng([options.seed, index]))
        try:
            answer = settle(net)
            worst = max(worst, compare(net, answer, options.program))
            slack += sum(t == 0 for t in answer.spans.values())
        except (Disagreement, Unsettled) as fault:
            failed += 1
            print(f"net {index} of {len(net.nodes)} nodes: {fault}")
    print(f"{options.count} nets, {slack} slack slings; largest difference {worst:.1e} of the largest tension")
    return 1 if failed or slack == 0 else 0


if __name__ == "__main__":
    sys.exit(main())
