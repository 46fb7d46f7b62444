#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""The nearest picture that balances, by a general constrained minimiser: the numbers of
test_nearest_picture in test_kept.c.

A line runs from a piece through two rings without friction to a post; each ring hangs on a sling. All
bends are points. Six equations, three tensions: three places too many to be free.
"""
import warnings

import numpy as np
from scipy.optimize import minimize

warnings.simplefilter("ignore")  # of a Hessian that is exact already

NAMES = ["top", "ash", "post", "b1", "r1", "log"]
DRAWN = np.array([[0.1, 11], [7.2, 9.1], [0.3, 1], [0.45, 10.48], [4.31, 8.31], [0.36, 6.8]], float)
ERROR = np.array([0.05, 0.05, 0.05, 0.03, 0.05, 0.1])
WEIGHT = {3: 20.0, 4: 9.0, 5: 3138.0}
LINE, SLINGS = [5, 3, 4, 2], [(0, 3), (1, 4)]


def unit(place, a, b):
    d = place[b] - place[a]
    return d / np.linalg.norm(d)


def left_over(unknown):
    place = DRAWN + unknown[:12].reshape(6, 2) * ERROR[:, None]
    tension = unknown[12:] * 3138.0
    force = np.zeros((6, 2))
    for a, b in zip(LINE, LINE[1:]):
        force[a] += tension[0] * unit(place, a, b)
        force[b] -= tension[0] * unit(place, a, b)
    for k, (a, b) in enumerate(SLINGS):
        force[a] += tension[1 + k] * unit(place, a, b)
        force[b] -= tension[1 + k] * unit(place, a, b)
    for node, weight in WEIGHT.items():
        force[node, 1] -= weight
    return force[3:].ravel() / 3138.0


best = minimize(lambda x: np.sum(x[:12] ** 2), np.concatenate([np.zeros(12), [1, 1.7, 1.2]]),
                jac=lambda x: np.concatenate([2 * x[:12], np.zeros(3)]), method="trust-constr",
                constraints={"type": "eq", "fun": left_over},
                options={"maxiter": 20000, "gtol": 1e-13, "xtol": 1e-14})
again = minimize(lambda x: np.sum(x[:12] ** 2), best.x, jac=lambda x: np.concatenate([2 * x[:12], np.zeros(3)]),
                 method="SLSQP", constraints={"type": "eq", "fun": left_over},
                 options={"maxiter": 1000, "ftol": 1e-16})
for result in (best, again):
    place = DRAWN + result.x[:12].reshape(6, 2) * ERROR[:, None]
    print("left over", np.abs(left_over(result.x)).max(), "sum of squares", repr(result.fun))
    print("tensions", [f"{t * 3138:.7g}" for t in result.x[12:]])
    for name, p in zip(NAMES, place):
        print(name, f"{p[0]:.8f} {p[1]:.8f}")
