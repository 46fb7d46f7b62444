#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Random networks, settled twice: by the files beside this one with SciPy, and by the program.

Nothing is shared with the program but the theory. A network is plain data (network.py, drawn by
draws.py); without friction its energy is minimised by a trust region and polished by Newton
(still.py), with friction its balance is solved by continuation in the friction (running.py). With
props the minimum near the drawing is looked for, and what has none must be refused (pushing.py);
ropes on curves and stems that give (stems.py) are part of the energy. The program gets the same network as a model file on its standard input (model_file.py). Some networks
are then told otherwise, mirrored, turned, backwards (retold.py): no tension may change.

    networks.py PROGRAM [--seed N] [--still N] [--running N] [--pushing N] [--curved N] [--giving N]
                        [--retold N] [--keep FOLDER]

prints every disagreement, every draw the reference could not settle with the reason, and one line of
summary. Exit 1 on any disagreement, or when more than 5 % of the draws were skipped.
"""
import argparse
import copy
import json
import math
import os
import subprocess
import sys
from dataclasses import dataclass, field

import numpy as np

from draws import CURVED_DRAWS, GIVING_DRAWS, PUSHING_DRAWS, RUNNING_DRAWS, STILL_DRAWS
from model_file import write_xml
from network import Unsettled
from pushing import Topples, settle_pushing
from retold import CHANGES, backwards
from running import settle_running
from still import settle_still

TENSION_TOLERANCE = 1e-6      # of the largest tension
PLACE_TOLERANCE = 1e-6        # of the size of the network
INVARIANCE_TOLERANCE = 1e-8   # of the largest tension
SKIPPED_SHARE = 0.05


# ---- the program under test ---------------------------------------------------------------------

class Disagreement(Exception):
    pass


def ask_program(program, net):
    done = subprocess.run([program, "solve", "-", "--format", "json"], input=write_xml(net),
                          capture_output=True, text=True, timeout=30, check=False)
    try:
        return json.loads(done.stdout)["cases"][0], done
    except (ValueError, KeyError, IndexError) as fault:
        said = (done.stderr or done.stdout).strip()[:300]
        raise Disagreement(f"no answer (exit {done.returncode}): {said}") from fault


def run_program(program, net):
    case, done = ask_program(program, net)
    if case["outcome"] != "settled":
        raise Disagreement(f"outcome {case['outcome']} (exit {done.returncode}): "
                           f"{done.stdout[-400:] if not case.get('notes') else case['notes']}")
    spans = {(s["member"], s["index"]): s["tension_N"] for s in case["spans"]}
    places = {n["id"]: (n["x_m"], n["y_m"]) for n in case["nodes"]}
    return spans, places


def compare(net, answer, program):
    spans, places = run_program(program, net)
    if set(spans) != set(answer.spans):
        raise Disagreement(f"spans differ: {sorted(set(spans) ^ set(answer.spans))}")
    largest = max(max(answer.spans.values()), 1e-300)
    key = max(answer.spans, key=lambda k: abs(spans[k] - answer.spans[k]))
    error = abs(spans[key] - answer.spans[key]) / largest
    if error > TENSION_TOLERANCE:
        raise Disagreement(f"tension of {key[0]} span {key[1]}: {spans[key]!r} N, reference "
                           f"{answer.spans[key]!r} N ({error:.1e} of the largest)")
    if answer.unique:
        for k, node in enumerate(net.nodes):
            off = math.dist(places[node.id], answer.places[k]) / max(net.size(), 1.0)
            if off > PLACE_TOLERANCE:
                raise Disagreement(f"place of {node.id}: {places[node.id]}, reference "
                                   f"{tuple(answer.places[k])} ({off:.1e} of the size)")
    return error


def compare_toppling(net, why, program):
    case, done = ask_program(program, net)
    said = [note for note in case["notes"] if "would topple" in note]
    if case["outcome"] != "no-equilibrium" or done.returncode != 4 or not said:
        raise Disagreement(f"outcome {case['outcome']} (exit {done.returncode}), but {why}")


def compare_changed(net, program, rng):
    plain, _ = run_program(program, net)
    largest = max(plain.values())
    for change in CHANGES:
        other = copy.deepcopy(net)
        change(other, rng)
        spans, _ = run_program(program, other)
        if change is backwards:
            last = {r.id: len(r.passes) for r in net.ropes}
            spans = {(k, last[k] - j): t for (k, j), t in spans.items()}
        key = max(plain, key=lambda k: abs(plain[k] - spans[k]))
        error = abs(plain[key] - spans[key]) / max(largest, 1e-300)
        if error > INVARIANCE_TOLERANCE:
            raise Disagreement(f"{change.__name__}: {key[0]} span {key[1]} {spans[key]!r} N "
                               f"instead of {plain[key]!r} N ({error:.1e} of the largest)")


# ---- run ----------------------------------------------------------------------------------------

@dataclass
class Tally:
    compared: int = 0
    skipped: list = field(default_factory=list)
    failed: list = field(default_factory=list)
    toppled: int = 0
    worst: float = 0.0
    unique: int = 0
    slack: int = 0
    flipped: int = 0


def make_draw(kinds, seed, index):
    rng = np.random.default_rng([seed, index])
    draw = kinds[index % len(kinds)]
    net = draw(rng)
    net.name = f"{draw.__name__[5:]}-{index}"
    return net


def run_draws(kinds, settle, count, options, tally, settled):
    for index in range(count):
        name = f"{kinds[index % len(kinds)].__name__[5:]}-{index}"
        try:
            net = make_draw(kinds, options.seed, index)
            answer = settle(net)
        except Unsettled as why:
            tally.skipped.append(f"{name}: {why}")
            continue
        except Topples as why:
            tally.toppled += 1
            try:
                compare_toppling(net, why, options.program)
            except Disagreement as what:
                report(tally, net, options, what)
            continue
        tally.compared += 1
        tally.unique += answer.unique
        tally.slack += min(answer.spans.values()) <= 0
        tally.flipped += answer.flipped
        settled.append(net)
        try:
            tally.worst = max(tally.worst, compare(net, answer, options.program))
        except Disagreement as what:
            report(tally, net, options, what)


def report(tally, net, options, what):
    tally.failed.append(net.name)
    print(f"DIFFERS {net.name}: {what}")
    if options.keep:
        os.makedirs(options.keep, exist_ok=True)
        with open(os.path.join(options.keep, net.name + ".xml"), "w", encoding="utf-8") as file:
            file.write(write_xml(net))


def run_changes(nets, options, tally):
    rng = np.random.default_rng(options.seed)
    count = 0
    for net in nets:
        count += 1
        try:
            compare_changed(net, options.program, rng)
        except Disagreement as what:
            report(tally, net, options, what)
    return count


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("program", help="funicle")
    parser.add_argument("--seed", type=int, default=2385)
    parser.add_argument("--still", type=int, default=300)
    parser.add_argument("--running", type=int, default=100)
    parser.add_argument("--pushing", type=int, default=250)
    parser.add_argument("--curved", type=int, default=100)
    parser.add_argument("--giving", type=int, default=60)
    parser.add_argument("--retold", type=int, default=40)
    parser.add_argument("--keep", help="folder for the models that differ")
    options = parser.parse_args()

    still, running, nets = Tally(), Tally(), []
    pushing, curved, giving = Tally(), Tally(), Tally()
    run_draws(STILL_DRAWS, settle_still, options.still, options, still, nets)
    still_nets = len(nets)
    run_draws(RUNNING_DRAWS, settle_running, options.running, options, running, nets)
    half = options.retold // 2
    changed = run_changes(nets[:half] + nets[still_nets:still_nets + half], options, still)

    run_draws(PUSHING_DRAWS, settle_pushing, options.pushing, options, pushing, [])
    run_draws(CURVED_DRAWS, settle_still, options.curved, options, curved, [])
    run_draws(GIVING_DRAWS, settle_still, options.giving, options, giving, [])

    tallies = (still, running, pushing, curved, giving)
    for line in [line for tally in tallies for line in tally.skipped]:
        print(f"skipped {line}")
    skipped = sum(len(tally.skipped) for tally in tallies)
    failed = sum(len(tally.failed) for tally in tallies)
    drawn = options.still + options.running + options.pushing + options.curved + options.giving
    too_many = skipped > SKIPPED_SHARE * drawn
    print(f"{still.compared} still ({still.slack} with slack parts, {still.flipped} with a side "
          f"changed, {still.compared - still.unique} with a free place) and {running.compared} "
          f"running networks compared, {pushing.compared} with props and {pushing.toppled} that "
          f"topple, {curved.compared} with curves ({curved.slack} with slack parts), "
          f"{giving.compared} with stems that give, {changed} told in {len(CHANGES)} other ways, "
          f"{skipped} skipped, worst {max(tally.worst for tally in tallies):.1e} of the largest "
          f"tension, {failed} differ")
    return 1 if failed or too_many else 0


if __name__ == "__main__":
    sys.exit(main())
