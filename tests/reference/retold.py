# SPDX-License-Identifier: GPL-3.0-or-later
"""The same network told otherwise: its tensions must not change."""
import math


def mirrored(net, rng):
    for node in net.nodes:
        node.x = -node.x
        node.force = (-node.force[0], node.force[1])
    for rope in net.ropes:
        for a_pass in rope.passes:
            a_pass.side = -a_pass.side


def shifted(net, rng):
    dx, dy = 23.85, -17.13
    for node in net.nodes:
        node.x += dx
        node.y += dy


def scaled(net, rng):
    k = 2.385
    for node in net.nodes:
        node.x *= k
        node.y *= k
    for rope in net.ropes:
        rope.diameter *= k
        if rope.length is not None:
            rope.length *= k
        for a_pass in rope.passes:
            a_pass.tread *= k


def permuted(net, rng):
    order = list(rng.permutation(len(net.nodes)))
    place = {int(old): new for new, old in enumerate(order)}
    net.nodes = [net.nodes[k] for k in order]
    for rope in net.ropes:
        rope.start, rope.end = place[rope.start], place[rope.end]
        for a_pass in rope.passes:
            a_pass.node = place[a_pass.node]
    net.ropes = [net.ropes[k] for k in rng.permutation(len(net.ropes))]


def backwards(net, rng):
    for rope in net.ropes:
        rope.start, rope.end = rope.end, rope.start
        rope.passes = rope.passes[::-1]
        for a_pass in rope.passes:
            a_pass.side = -a_pass.side
        if rope.toward_end is not None:
            rope.toward_end = not rope.toward_end


def rotated(net, rng):
    """Weights become outer forces first, which can be turned."""
    angle = math.radians(37.2)
    c, s = math.cos(angle), math.sin(angle)
    for node in net.nodes:
        node.x, node.y = c * node.x - s * node.y, s * node.x + c * node.y
        fx, fy = node.force[0], node.force[1] - node.weight
        node.force, node.weight = (c * fx - s * fy, s * fx + c * fy), 0.0


CHANGES = (mirrored, shifted, scaled, permuted, backwards, rotated)
