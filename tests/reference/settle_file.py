#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Settles a model file without the program and prints what it finds as rows of an .expect file.

    settle_file.py MODEL.xml...

Reads as much of the format as the files of tests/hard use: items with stiffness, diameter, tread
and friction, nodes with x and y, slings and lines, the first case. Forks are taken as touching and
treads as never meeting.
"""
import sys

from model_file import read_xml
from network import Unsettled
from running import settle_running
from still import settle_still


def print_rows(net):
    running = any(r.toward_end is not None for r in net.ropes)
    answer = (settle_running if running else settle_still)(net)
    name = net.name.removesuffix(".xml")
    for (rope, span), tension in answer.spans.items():
        print(f"{name} | tension {rope} {span} | {tension:.10g} N | rel 1e-06 | SciPy")
    for node, place in zip(net.nodes, answer.places):
        if not node.fixed and answer.unique:
            for axis, value in zip("xy", place):
                print(f"{name} | {axis} {node.id} | {value:.10f} m | abs 1e-06 | SciPy")
    if answer.flipped:
        print("# goes round the other side than drawn")
    if not answer.unique:
        print("# a place is not unique")


def main():
    failed = 0
    for path in sys.argv[1:]:
        try:
            print_rows(read_xml(path))
        except Unsettled as why:
            print(f"# {path}: {why}")
            failed = 1
    return failed


if __name__ == "__main__":
    sys.exit(main())
