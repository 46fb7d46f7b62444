# SPDX-License-Identifier: GPL-3.0-or-later
"""Stems that give, as cantilevers: unit force at height a moves height b by

    across   int_0^min(a,b) (a - z)(b - z) / E I(z) dz
    along    int_0^min(a,b) dz / E A(z)

and the stiffness over all nodes of a stem is the inverse, F^-1 (x) n n^T + A^-1 (x) a a^T.
"""
import math

import numpy as np
from scipy import integrate

# Two constants of the model besides the wood: bark and eyes give a little on their own, by this part
# of what the stem gives there, so that two nodes at one height share; and a node at the foot, which
# itself does not move, is held as stiffly as one this high above it.
BARK_GIVES = 1e-3
HEIGHT_LEAST = 0.1  # m


def wall_at(stem, z):
    """That of the nearest section below; of the first one under it."""
    walls = [wall for height, _, wall in stem.sections[1:] if height <= z]
    return walls[-1] if walls else stem.sections[0][2]


def hollow(stem, z):
    outer, wall = stem.diameter(z), wall_at(stem, z)
    return outer, outer - 2 * wall if 0 < wall < outer / 2 else 0.0


def bending(stem, z):
    outer, inner = hollow(stem, z)
    return stem.modulus * math.pi / 64 * (outer ** 4 - inner ** 4)


def pressing(stem, z):
    outer, inner = hollow(stem, z)
    return stem.modulus * math.pi / 4 * (outer ** 2 - inner ** 2)


def from_foot(stem, integrand, top):
    """Sections are corners of the integrand, so each part is integrated by itself."""
    corners = [0.0] + [h for h, _, _ in stem.sections if 0 < h < top] + [top]
    return sum(integrate.quad(integrand, low, high, epsabs=0, epsrel=1e-11)[0]
               for low, high in zip(corners, corners[1:]))


def flexibility(stem, heights):
    n = len(heights)
    across, along = np.zeros((n, n)), np.zeros((n, n))
    for i, a in enumerate(heights):
        for j, b in enumerate(heights[:i + 1]):
            low = min(a, b)
            across[i, j] = across[j, i] = from_foot(
                stem, lambda z, a=a, b=b: (a - z) * (b - z) / bending(stem, z), low)
            along[i, j] = along[j, i] = from_foot(stem, lambda z: 1 / pressing(stem, z), low)
    for matrix in (across, along):
        matrix[np.diag_indices(n)] *= 1 + BARK_GIVES
    return across, along


def stem_stiffness(net, index):
    """Nodes on the stem, their coordinates at rest, stiffness over these coordinates."""
    stem = net.stems[index]
    nodes = [k for k, n in enumerate(net.nodes) if n.stem == index]
    heights = [max(net.nodes[k].height, HEIGHT_LEAST) for k in nodes]
    across, along = flexibility(stem, heights)
    n, a = stem.across(), stem.along()
    stiffness = (np.kron(np.linalg.inv(across), np.outer(n, n))
                 + np.kron(np.linalg.inv(along), np.outer(a, a)))
    rest = np.concatenate([stem.place(net.nodes[k].height, net.nodes[k].bark) for k in nodes])
    return nodes, rest, 0.5 * (stiffness + stiffness.T)
