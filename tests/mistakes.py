#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""What people mix up: a number that can be, and that nobody would mean, is asked about with the likely intent.

usage: mistakes.py FUNICLE SOURCE_DIR

One slip after another is put into a whole model. The answer goes on as before, and says under "Look again" where the
number stands, what it is and what would be usual; in text, in JSON, in pages. Of the models that are shipped, and of all
that the tests hold against published answers, nothing is asked.
"""
import glob
import json
import os
import sys
import tempfile

import checks

MODEL = '''<rigging xmlns="urn:funicle:rigging" format="1" title="one of everything">
  <gear design-factor="10">
    <item id="rope" kind="rope" diameter="16 mm" strength="70 kN" fibre="polyester" knot-factor="0.6"/>
    <item id="strop" kind="sling" body="rope" diameter="20 mm" strength="130 kN" stiffness="910 kN"/>
    <item id="eye" kind="ring" tread="44 mm" weight="0.9 kg" working-load="15 kN" friction="0.20"/>
    <item id="sheave" kind="block" tread="76 mm" weight="2.1 kg" working-load="22 kN" efficiency="0.90"/>
    <item id="drum" kind="bollard" diameter="168 mm" working-load="20 kN" friction="0.22"/>
  </gear>
  <stem id="oak" x="0 m" y="0 m" lean="1 deg left" density="900 kg/m3" compression="27 MPa" bending="55 MPa" stiffness="9 GPa" design-factor="5">
    <section height="0.3 m" diameter="0.6 m"/>
    <section height="12 m" girth="95 cm"/>
  </stem>
  <anchor id="stump" x="5 m" y="0.4 m" working-load="12 kN"/>
  <block id="top" x="0.5 m" y="10.5 m" gear="sheave"/>
  <ring id="low" x="5 m" y="1 m" gear="eye"/>
  <bollard id="post" x="10 m" y="0.7 m" gear="drum" turns="3"/>
  <hand id="arm" x="-6 m" y="1.5 m"/>
  <piece id="log" x="0.7 m" y="7 m" weight="320 kg"/>
  <sling id="choker" on="oak" height="11 m" gear="strop" hitch="choke" angle="120 deg">
    <end to="top" side="right" reach="0.6 m"/>
  </sling>
  <sling id="foot" from="stump" to="low" gear="strop" hitch="straight"/>
  <line id="bull" gear="rope"><tie at="log"/><through at="top"/><through at="low"/><hold at="post"/></line>
  <line id="tag" gear="rope"><tie at="log"/><hold at="arm" pull="50 N"/></line>
  <case id="gust"><run line="bull" toward="log"/><force at="log" size="200 N" toward="left"/></case>
  <case id="wet"><run line="bull" toward="log"/><set of="log" weight="380 kg"/></case>
</rigging>
'''


def line_of(text):
    return MODEL[:MODEL.index(text)].count("\n") + 1


# (what is written, what is written instead, what is said)
SLIPS = (
    # kilonewtons, kilograms, tonnes
    ('weight="320 kg"', 'weight="320 kN"', "log weighs 32600 kg (320 kN)? bull, which it hangs on, breaks at 70.0 kN; "
                                          "320 kg (3.14 kN) would be usual"),
    ('weight="320 kg"', 'weight="320 t"', "320 kg (3.14 kN) would be usual"),
    ('weight="320 kg"', 'weight="0.32 kg"', "log weighs 0.320 kg (3.14 N)? bull alone, which it hangs on, weighs"),
    ('weight="320 kg"', 'weight="700 kN"', "318 kg (3.11 kN) would be usual"),
    ('weight="320 kg"', 'weight="0 kg"', "log weighs nothing? A weight that is not known is better left out"),
    ('weight="380 kg"', 'weight="380 kN"', "380 kg (3.73 kN) would be usual (in case wet)"),
    ('strength="70 kN"', 'strength="70 N"', "the strength of rope is 70.0 N? 70.0 kN would be usual"),
    ('strength="70 kN"', 'strength="70 kg"', "the strength of rope is 686 N? 70.0 kN would be usual"),
    ('strength="70 kN"', 'strength="70 t"', "the strength of rope is 686 kN? 70.0 kN would be usual"),
    ('strength="70 kN"', 'strength="70 MN"', "the strength of rope is 70000 kN? 70.0 kN would be usual"),
    ('working-load="15 kN"', 'working-load="15 N"', "the working-load of eye is 15.0 N? 15.0 kN would be usual"),
    ('working-load="15 kN"', 'working-load="15 kg"', "the working-load of eye is 147 N? 15.0 kN would be usual"),
    ('working-load="15 kN"', 'working-load="15 MN"', "the working-load of eye is 15000 kN? 15.0 kN would be usual"),
    ('working-load="12 kN"', 'working-load="12 N"', "the working-load of stump is 12.0 N? 12.0 kN would be usual"),
    ('weight="2.1 kg"', 'weight="2.1 t"', "the weight of sheave is 2100 kg (20.6 kN)? 2.10 kg (20.6 N) would be usual"),
    ('weight="2.1 kg"', 'weight="2.1 kN"', "the weight of sheave is 214 kg (2.10 kN)? 2.10 kg (20.6 N) would be usual"),
    ('weight="0.9 kg"', 'weight="0.9 kN"', "the weight of eye is 91.8 kg (900 N)? 0.900 kg (8.83 N) would be usual"),
    ('stiffness="910 kN"', 'stiffness="910 N"', "the stiffness of strop is 910 N? 910 kN would be usual"),
    ('pull="50 N"', 'pull="50 kN"', "is 50.0 kN?"),
    ('size="200 N"', 'size="200 kN"', "is 200 kN? 200 N would be usual"),
    # a working load for a strength, a factor in it already
    ('strength="70 kN"', 'strength="7 kN"', "70.0 kN would be usual for its diameter: is the design factor taken off already, "
                                          "or is it the working load?"),
    ('strength="70 kN"', 'working-load="70 kN"', "the working-load of rope is 70.0 kN? A rope of its diameter breaks at some "
                                               "69.1 kN: is this its strength?"),
    ('strength="70 kN"', 'strength="7 kN" working-load="70 kN"', "the working-load of rope is 70.0 kN, and its strength 7.00 kN? "
                                                              "Were the two changed about?"),
    # millimetres, inches, feet and metres
    ('diameter="16 mm"', 'diameter="1.6 m"', "the diameter of rope is 1.60 m? 16.0 mm would be usual"),
    ('diameter="16 mm"', 'diameter="0.016 mm"', "the diameter of rope is 0.016 mm? 16.0 mm would be usual"),
    ('diameter="16 mm"', 'diameter="16 cm"', "the diameter of rope is 0.160 m? 16.0 mm would be usual"),
    ('diameter="16 mm"', 'diameter="16 ft"', "the diameter of rope is 4.88 m? 16.0 mm would be usual"),
    ('diameter="16 mm"', 'diameter="16 in"', "the diameter of rope is 0.406 m? 16.0 mm would be usual"),
    ('tread="44 mm"', 'tread="0.044 mm"', "the tread of eye is 0.044 mm? 44.0 mm would be usual"),
    ('diameter="168 mm"', 'diameter="168 m"', "the diameter of drum is 168 m? 0.168 m would be usual"),
    ('diameter="0.6 m"', 'diameter="0.6 mm"', "the diameter of section 1 of oak is 0.600 mm? 0.600 m would be usual"),
    ('girth="95 cm"', 'girth="95 m"', "the diameter of section 2 of oak is 30.2 m? 0.302 m would be usual"),
    ('height="12 m"', 'height="12000 m"', "the height of section 2 of oak is 12000 m? 12.0 m would be usual"),
    ('reach="0.6 m"', 'reach="600 m"', "the reach of choker is 600 m? It is drawn 0.728 m long; 0.600 m would be near that"),
    ('reach="0.6 m"', 'reach="0.6 mm"', "the reach of choker is 0.600 mm? It is drawn 0.728 m long; 0.600 m would be near that"),
    ('to="low" gear="strop"', 'to="low" gear="strop" length="600 m"', "the length of foot is 600 m? It is drawn 0.600 m long; "
                                                                      "0.600 m would be near that"),
    ('y="1 m" gear="eye"', 'y="1000 m" gear="eye"', "low is drawn 989 m away from all the rest, which is 19.2 m across?"),
    # angles
    ('lean="1 deg left"', 'lean="1 rad left"', "the lean of oak is 57.2958 deg? 1 deg would be usual"),
    ('angle="120 deg"', 'angle="2.1 deg"', "the angle of choker is 2.1 deg? 120.321 deg would be usual"),
    ('toward="left"', 'toward="up"', "log is pulled up with 200 N? Nothing but a hauling line does that; a load pulls down"),
    # parts of one and per cent
    ('friction="0.20"', 'friction="2"', "the friction of eye is 2? 0.2 would be usual"),
    ('friction="0.20"', 'friction="0.2 %"', "the friction of eye is 0.002? 0.2 would be usual"),
    ('efficiency="0.90"', 'efficiency="9 %"', "the efficiency of sheave is 0.09? 0.9 would be usual"),
    ('knot-factor="0.6"', 'knot-factor="0.6 %"', "the knot-factor of rope is 0.006? 0.6 would be usual"),
    ('design-factor="5"', 'design-factor="500"', "the design-factor of oak is 500? 5 would be usual"),
    ('design-factor="5"', 'design-factor="1"', "the design-factor of oak is 1? 10 would be usual"),
    # the rest
    ('density="900 kg/m3"', 'density="0.9 kg/m3"', "the density of oak is 0.900 kg/m3? 900 kg/m3 would be usual"),
    ('density="900 kg/m3"', 'density="56 kg/m3"', "the density of oak is 56.0 kg/m3? 897 kg/m3 would be usual"),
    ('stiffness="9 GPa"', 'stiffness="9 MPa"', "the stiffness of oak is 9.00 MPa? 9.00 GPa would be usual"),
    ('bending="55 MPa"', 'bending="55 kPa"', "the strength in bending of oak is 0.0550 MPa? 55.0 MPa would be usual"),
    ('bending="55 MPa"', 'bending="55 Pa"', "the strength in bending of oak is 0.0000550 MPa? 55.0 MPa would be usual"),
    ('compression="27 MPa"', 'compression="27 GPa"', "the compression of oak is 27.0 GPa? 27.0 MPa would be usual"),
    ('diameter="0.6 m"', 'diameter="0.6 m" wall="0.1 mm"', "the wall of section 1 of oak is 0.100 mm? 0.100 m would be usual"),
    ('lean="1 deg left"', 'lean="1 deg left" bark="15 m"', "the bark of oak is 15.0 m? 15.0 mm would be usual"),
    ('diameter="20 mm"', 'diameter="20 mm" eye="80 m"', "the eye of strop is 80.0 m? 80.0 mm would be usual"),
    ('diameter="20 mm"', 'diameter="20 mm" long="4 mm"', "the length as made of strop is 4.00 mm? 4.00 m would be usual"),
    ('diameter="20 mm"', 'diameter="20 mm" choke-factor="0.75 %"', "the choke-factor of strop is 0.0075? 0.75 would be usual"),
    ('diameter="20 mm"', 'diameter="2 m"', "the diameter of strop is 2.00 m? 20.0 mm would be usual"),
    ('knot-factor="0.6"', 'knot-factor="0.6" wet-factor="0.9 %"', "the wet-factor of rope is 0.009? 0.9 would be usual"),
    ('knot-factor="0.6"', 'knot-factor="0.6" condition-factor="0.8 %"', "the condition-factor of rope is 0.008? 0.8 would be usual"),
    ('knot-factor="0.6"/>', 'knot-factor="0.6"><bend over="4" keeps="0.8 %"/></item>', "is 0.008? 0.8 would be usual"),
    ('knot-factor="0.6"/>', 'knot-factor="0.6"><stretch load="14 kN" by="2"/></item>', "is 2? 0.02 would be usual"),
    ('<line id="bull"', '<line id="bull" length-error="0.5"', "the length-error of bull is 0.5? 0.05 would be usual"),
    ('<hold at="post"', '<hold at="post" further="5000 m"', "is 5000 m? 5.00 m would be usual"),
    ('to="low" gear="strop"', 'to="low" gear="strop" pretension="300 kN"', "the pretension of foot is 300 kN? 2.94 kN would be usual"),
    ('to="low" gear="strop"', 'to="low" gear="strop" slack="200 m"', "the slack of foot is 200 m? It is drawn 0.600 m long"),
    ('<set of="log" weight="380 kg"/>', '<fall of="log" drop="2000 m"/>', "is 2000 m? 2.00 m would be usual"),
    ('<set of="log" weight="380 kg"/>', '<fall of="log" drop="1 m" below="1000 m"/>', "is 1000 m? 1.00 m would be usual"),
    ('<set of="log" weight="380 kg"/>', '<fall of="log" line="bull" drop="1 m" hand="150 kN"/>', "is 150 kN? 150 N would be usual"),
    ('format="1"', 'format="1" gravity="32.2 m/s2"', "the gravity of the model is 32.2 m/s2? 9.81 m/s2 would be usual"),
)


# the same of what cannot be
REFUSED = (
    ('friction="0.20"', 'friction="20"', "it must be from 0 to 3; did you mean 20 %?"),
    ('efficiency="0.90"', 'efficiency="90"', "it must be from 0.01 to 1; did you mean 90 %?"),
    ('knot-factor="0.6"', 'knot-factor="60"', "; did you mean 60 %?"),
    ('angle="120 deg"', 'angle="120 rad"', "it must be from 0 to 180 deg"),
    ('angle="120 deg"', 'angle="-120 deg"', "it must be from 0 to 180 deg"),
    ('lean="1 deg left"', 'lean="-1 deg left"', "a lean is from 0 to below 90 deg, to the left or to the right; this is -1 deg"),
    ('lean="1 deg left"', 'lean="3 rad left"', "a lean is from 0 to below 90 deg; this is 172 deg"),
    ('lean="1 deg left"', 'lean="1 deg"', "which way it leans is not said: write 3 deg left or 3 deg right"),
    ('toward="left"', 'toward="30 rad"', "a direction is from -360 to 360 deg; this is 1719 deg"),
    ('toward="left"', 'toward="30 rad left of down"', "is from 0 to 90 deg; this is 1719 deg"),
    ('weight="320 kg"', 'weight="-320 kg"', "it must be"),
)


def unbroken(text):
    return " ".join(text.split())


def slips(c):
    for before, after, said in SLIPS:
        what = f"{before} as {after}"
        c.holds(f"{before} stands in the model once", MODEL.count(before) == 1)
        path = c.write("slip.xml", MODEL.replace(before, after))
        done = c.read("check", path)
        text = unbroken(done.stdout)
        c.holds(f"{what} is taken", done.returncode == 0, done.stderr)
        c.holds(f"{what}: does not say: {said}", said in text and "Look again: " in text, text[:600])
        c.holds(f"{what}: does not say the line", f"{path}:{line_of(before)}: " in text.replace("- ", "-"), text[:600])
    c.holds("enough slips", len(SLIPS) >= 45)


def everywhere(c):
    """Once told, in each form of an answer, and in none of them changing what it ends with."""
    plain = c.write("plain.xml", MODEL)
    slip = c.write("slip.xml", MODEL.replace('weight="2.1 kg"', 'weight="2.1 kN"'))
    said = "the weight of sheave is 214 kg (2.10 kN)? 2.10 kg (20.6 N) would be usual"
    us = "the weight of sheave is 472 lb (472 lbf)? 4.63 lb (4.63 lbf) would be usual"
    for verb, words in (("solve", said), ("check", said), ("largest", said), ("report", said),
                        ("vary", said), ("solve --units us", us), ("check --units us", us)):
        words_of = verb.split() + (["--of", "top.x=0.4..0.6 m", "--steps", "2"] if verb == "vary" else [])
        first = c.read(*words_of, plain)
        done = c.read(*words_of, slip)
        c.holds(f"{verb} of the plain model is quiet", "Look again" not in first.stdout + first.stderr)
        c.holds(f"{verb} ends as before", first.returncode == done.returncode and done.returncode < 2, done.stderr)
        c.holds(f"{verb} says it once", unbroken(done.stdout).count(words) == 1, unbroken(done.stdout)[:900])
    for verb in ("solve", "check", "largest"):
        done = c.read(verb, "--format", "json", slip)
        cautions = json.loads(done.stdout)["cautions"]
        c.holds(f"{verb} tells it in JSON", sum(said in one for one in cautions) == 1, str(cautions))
        place = f"{slip}:{line_of('2.1 kg')}: "
        c.holds(f"{verb} tells the line", any(one.startswith(place) for one in cautions), str(cautions))
    figure = c.read("draw", slip).stdout
    c.holds("a figure says it", "Look again" in figure)
    c.holds("a figure of the plain model does not", "Look again" not in c.read("draw", plain).stdout)
    page = c.read("report", slip, "-o", c.path("report.html"))
    with open(c.path("report.html"), encoding="utf-8") as file:
        c.holds("a page says it", "Look again" in file.read(), page.stderr)


def refused(c):
    """Where a slip makes a model impossible, it is named beside what cannot be."""
    path = c.write("slip.xml", MODEL.replace('diameter="16 mm"', 'diameter="16 m"'))
    done = c.read(path)
    c.holds("a rope as thick as a tree is refused", done.returncode == 3)
    c.holds("and is what is named", f"{path}:3: error: the diameter of rope is 16.0 m? 16.0 mm would be usual" in done.stderr,
            done.stderr)
    for before, after, said in REFUSED:
        path = c.write("slip.xml", MODEL.replace(before, after))
        done = c.read(path)
        c.holds(f"{before} stands in the model once", MODEL.count(before) == 1)
        c.holds(f"{before} as {after} is refused", done.returncode == 3 and not done.stdout, done.stdout)
        place = f"{path}:{line_of(before)}: error: "
        c.holds(f"{before} as {after}: does not say {said}", any(one.startswith(place) and said in one
                                                              for one in done.stderr.split("\n")), done.stderr)


def drawings(c):
    """As large as a county, as small as a stamp: nothing is too near for a tread here."""
    small = ('<rigging xmlns="urn:funicle:rigging" format="1"><gear><item id="rope" kind="rope" diameter="12 mm"/></gear>'
             '<anchor id="a" x="0 m" y="5 m"/><piece id="p" x="0 m" y="2 m" weight="100 kg"/>'
             '<line id="l" gear="rope"><tie at="a"/><tie at="p"/></line></rigging>')
    for y, said in (("6000 m", "the drawing is 6000 m across? 6.00 m would be usual"),
                    ("2.006 m", "the drawing is 6.00 mm across? 6.00 m would be usual"), ("60 m", None)):
        text = unbroken(c.read("check", c.write("slip.xml", small.replace("5 m", y))).stdout)
        c.holds(f"a span up to {y}", said in text if said else "Look again" not in text, text[:300])


def neighbours(c):
    path = c.write("slip.xml", MODEL.replace('working-load="22 kN"', 'working-load="900 kN"'))
    text = unbroken(c.read("check", path).stdout)
    c.holds("gear forty times another's is not asked about", "No other gear" not in text, text[:400])
    text = MODEL.replace('working-load="22 kN"', 'working-load="0.9 MN"')
    for before, after in (('strength="70 kN"', 'working-load="0.8 kN"'), ('strength="130 kN"', 'working-load="0.9 kN"'),
                          ('working-load="15 kN"', 'working-load="0.7 kN"'), ('working-load="20 kN"', 'working-load="0.9 kN"')):
        text = text.replace(before, after)
    said = "the working-load of sheave is 900 kN? No other gear here is near it;"
    found = unbroken(c.read("check", c.write("slip.xml", text)).stdout)
    c.holds("gear a thousand times all others'", said in found, found[:600])


def idle(c):
    """Gear that hangs nowhere is not asked about."""
    for used, gear in (("idle", "rope"), ("used", "odd")):
        text = MODEL.replace('<item id="strop"', '<item id="odd" kind="rope" diameter="1.6 m"/><item id="strop"')
        text = text.replace('<line id="tag" gear="rope">', f'<line id="tag" gear="{gear}">')
        asked = "the diameter of odd" in unbroken(c.read("check", c.write("slip.xml", text)).stdout)
        c.holds(f"gear that is {used}", asked == (used == "used"))


def asked_on_the_line(c, source):
    """What a command line asks stands in every case, and is asked about once."""
    text = unbroken(c.read("fall", os.path.join(source, "models", "caught-log.xml"), "--drop", "2000 m").stdout)
    c.holds("a drop of two kilometres", text.count("of fall of log is 2000 m? 2.00 m would be usual") == 1, text[:600])


def quiet(c, source):
    """No false alarm."""
    names = [n for folder in ("models", "tests/good", "tests/cases", "tests/kept-cases", "tests/hard")
             for n in sorted(glob.glob(os.path.join(source, folder, "*.xml")))]
    looked_at = 0
    for name in names:
        with open(name, encoding="utf-8") as file:
            if "<rigging" not in file.read():
                continue
        done = c.read("check", name)
        looked_at += done.returncode == 0
        c.holds(f"{name}: is asked about", "Look again" not in done.stdout, unbroken(done.stdout)[:600])
    c.holds("enough models", looked_at >= 280, str(looked_at))


def main():
    with tempfile.TemporaryDirectory() as folder:
        c = checks.Checks(sys.argv[1], folder)
        c.holds("the model itself is quiet", "Look again" not in c.read("check", c.write("plain.xml", MODEL)).stdout)
        slips(c)
        everywhere(c)
        refused(c)
        drawings(c)
        neighbours(c)
        idle(c)
        asked_on_the_line(c, os.path.abspath(sys.argv[2]))
        quiet(c, os.path.abspath(sys.argv[2]))
    print(f"{c.count} checks, {c.failed} failed")
    return 1 if c.failed else 0


if __name__ == "__main__":
    sys.exit(main())
