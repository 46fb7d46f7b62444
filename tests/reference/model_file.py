# SPDX-License-Identifier: GPL-3.0-or-later
"""Networks to model files, and such model files back to networks."""
import math
import os
import xml.etree.ElementTree as tree

from network import Net, Node, Pass, Rope, Shape


def number(value, unit):
    return f"{float(value)!r} {unit}"


SIDE_WORD = {1: "left", -1: "right"}


def write_xml(net):
    out = ["<?xml version=\"1.0\" encoding=\"UTF-8\"?>",
           "<rigging xmlns=\"urn:funicle:rigging\" format=\"1\" drawn=\"as-rigged\">", "  <gear>"]
    out += gear_rows(net)
    out += ["  </gear>"]
    for stem in net.stems:
        out += stem_rows(stem)
    for node in net.nodes:
        weight = f' weight="{number(node.weight, "N")}"' if node.weight > 0 else ""
        out.append(f'  <{node.kind} id="{node.id}" {place_words(net, node)}{weight}/>')
    for rope in net.ropes:
        out += rope_rows(net, rope)
    out += case_rows(net)
    out.append("</rigging>")
    return "\n".join(out) + "\n"


BARK_WORD = {-1: "left", 0: "axis", 1: "right"}


def place_words(net, node):
    if node.stem is None:
        return f'x="{number(node.x, "m")}" y="{number(node.y, "m")}"'
    return (f'on="{net.stems[node.stem].id}" height="{number(node.height, "m")}" '
            f'side="{BARK_WORD[node.bark]}"')


def stem_rows(stem):
    lean = f'{abs(math.degrees(stem.lean))!r} deg {"right" if stem.lean > 0 else "left"}'
    give = "yes" if stem.gives else "no"
    rows = [f'  <stem id="{stem.id}" x="{number(stem.x, "m")}" y="{number(stem.y, "m")}" '
            f'lean="{lean}" stiffness="{number(stem.modulus, "Pa")}" give="{give}">']
    for height, diameter, wall in stem.sections:
        hollow = f' wall="{number(wall, "m")}"' if wall > 0 else ""
        rows.append(f'    <section height="{number(height, "m")}" '
                    f'diameter="{number(diameter, "m")}"{hollow}/>')
    return rows + ["  </stem>"]


def gear_rows(net):
    for rope in net.ropes:
        if rope.kind == "prop":
            continue
        thick = f' diameter="{number(rope.diameter, "m")}"' if rope.diameter > 0 else ""
        kind = "sling" if rope.kind == "sling" else "rope"
        item = f'    <item id="{rope.id}-gear" kind="{kind}"{thick}'
        if rope.curve is None:
            yield f'{item} stiffness="{number(rope.stiffness, "N")}"/>'
            continue
        yield item + ">"
        for load, by in rope.curve:
            yield f'      <stretch load="{number(load, "N")}" by="{float(by)!r}"/>'
        yield "    </item>"


def rope_rows(net, rope):
    name = [n.id for n in net.nodes]
    length = f' length="{number(rope.length, "m")}"' if rope.length is not None else ""
    if rope.kind == "prop":
        weight = f' weight="{number(rope.weight, "N")}"' if rope.weight > 0 else ""
        return [f'  <prop id="{rope.id}" from="{name[rope.start]}" to="{name[rope.end]}" '
                f'diameter="{number(rope.thickness, "m")}" '
                f'stiffness="{number(rope.modulus, "Pa")}"{weight}/>']
    if rope.kind == "sling":
        return [f'  <sling id="{rope.id}" from="{name[rope.start]}" to="{name[rope.end]}" '
                f'gear="{rope.id}-gear"{length}/>']
    rows = [f'  <line id="{rope.id}" gear="{rope.id}-gear"{length}>',
            end_row(net, rope.start, rope.pull if net.nodes[rope.start].kind == "hand" else None)]
    for a_pass in rope.passes:
        words = f'at="{name[a_pass.node]}"'
        if a_pass.efficiency < 1:
            words += f' efficiency="{a_pass.efficiency!r}"'
        else:
            words += f' friction="{a_pass.friction!r}"'
        words += f' tread="{number(a_pass.tread, "m")}"'
        if a_pass.tread > 0:
            words += f' side="{SIDE_WORD[a_pass.side]}"'
        rows.append(f"    <through {words}/>")
    rows.append(end_row(net, rope.end, rope.pull if net.nodes[rope.end].kind == "hand" else None))
    return rows + ["  </line>"]


def end_row(net, node, pull):
    kind = "hold" if net.nodes[node].kind == "hand" else "tie"
    size = f' pull="{number(pull, "N")}"' if pull is not None else ""
    return f'    <{kind} at="{net.nodes[node].id}"{size}/>'


def case_rows(net):
    rows = ['  <cases made="none"/>', '  <case id="one" friction="nominal">']
    for rope in net.ropes:
        if rope.toward_end is not None:
            end = net.nodes[rope.end if rope.toward_end else rope.start].id
            rows.append(f'    <run line="{rope.id}" toward="{end}"/>')
    for node in net.nodes:
        size = math.hypot(*node.force)
        if size > 0:
            angle = math.degrees(math.atan2(node.force[1], node.force[0]))
            rows.append(f'    <force at="{node.id}" size="{number(size, "N")}" '
                        f'toward="{angle!r} deg"/>')
    return rows + ["  </case>"]


# ---- reading ------------------------------------------------------------------------------------

SPACE = "{urn:funicle:rigging}"
UNITS = {"m": 1.0, "mm": 0.001, "cm": 0.01, "N": 1.0, "kN": 1e3, "MN": 1e6, "kg": 9.80665}
NODES = ("anchor", "hand", "bollard", "fork", "ring", "block", "joint", "piece")
FIXED = ("anchor", "hand", "bollard", "fork")


def si(text, absent=0.0):
    if text is None:
        return absent
    words = text.split()
    return float(words[0]) * (UNITS[words[1]] if len(words) > 1 else 1.0)


def read_xml(path):
    root = tree.parse(path).getroot()
    items = {i.get("id"): i for i in root.iter(SPACE + "item")}
    net, index = Net([], [], os.path.basename(path)), {}
    gear = {}
    for element in root:
        kind = element.tag.removeprefix(SPACE)
        if kind in NODES:
            own = items.get(element.get("gear"))
            weight = si(element.get("weight")) + (si(own.get("weight")) if own is not None else 0.0)
            index[element.get("id")] = len(net.nodes)
            gear[element.get("id")] = own
            fixed = "anchor" if kind in FIXED else kind
            net.nodes.append(Node(element.get("id"), fixed, si(element.get("x")),
                                  si(element.get("y")), weight))
    for element in root:
        kind = element.tag.removeprefix(SPACE)
        if kind == "sling":
            net.ropes.append(read_sling(element, items, index))
        elif kind == "line":
            net.ropes.append(read_line(element, items, index, gear))
    drawn = [e for e in root if e.tag in (SPACE + "sling", SPACE + "line")]
    for rope, element in zip(net.ropes, drawn):
        choose_sides(net, rope)
        set_length(net, rope, element)
    read_case(root, net, index)
    return net


def read_sling(element, items, index):
    own = items[element.get("gear")]
    return Rope(element.get("id"), "sling", index[element.get("from")], index[element.get("to")],
                si(own.get("stiffness")))


def read_line(element, items, index, gear):
    own = items[element.get("gear")]
    stations = [s for s in element]
    passes = [read_pass(s, index, gear) for s in stations[1:-1]]
    start, end = index[stations[0].get("at")], index[stations[-1].get("at")]
    rope = Rope(element.get("id"), "line", start, end, si(own.get("stiffness")), passes,
                si(own.get("diameter")))
    if stations[-1].get("pull"):
        rope.pull = si(stations[-1].get("pull"))
    return rope


def read_pass(station, index, gear):
    own = gear[station.get("at")]

    def number(word, absent):
        if station.get(word) is not None:
            return si(station.get(word))
        return si(own.get(word), absent) if own is not None else absent

    side = {"left": 1, "right": -1, None: 0}[station.get("side")]
    return Pass(index[station.get("at")], number("tread", 0.0), side, number("friction", 0.0),
                number("efficiency", 1.0))


def choose_sides(net, rope):
    p, st = net.places(), rope.stations()
    for k, a_pass in enumerate(rope.passes):
        if a_pass.tread > 0 and a_pass.side == 0:
            u, v = p[st[k + 1]] - p[st[k]], p[st[k + 2]] - p[st[k + 1]]
            a_pass.side = 1 if u[0] * v[1] - u[1] * v[0] > 0 else -1


def set_length(net, rope, element):
    drawn = Shape(rope, net.places()).length
    if element.get("length"):
        rope.length = si(element.get("length"))
    elif element.get("slack"):
        rope.length = drawn + si(element.get("slack"))
    elif element.get("pretension"):
        rope.length = drawn / (1 + si(element.get("pretension")) / rope.stiffness)
    else:
        rope.length = drawn


def read_case(root, net, index):
    case = root.find(SPACE + "case")
    for run in case.iter(SPACE + "run") if case is not None else ():
        rope = next(r for r in net.ropes if r.id == run.get("line"))
        rope.toward_end = index[run.get("toward")] == rope.end
    for force in case.iter(SPACE + "force") if case is not None else ():
        angle = math.radians(si(force.get("toward").removesuffix(" deg")))
        net.nodes[index[force.get("at")]].force = (si(force.get("size")) * math.cos(angle),
                                                   si(force.get("size")) * math.sin(angle))
