# SPDX-License-Identifier: GPL-3.0-or-later
"""Models that are hard on a report: made of those of models/, in a folder of their own. Used by report.py."""
import os
import shutil

HOSTILE = "<script>alert(1)</script> & &amp; \" ' %s %n %d \u202egnal\u2066 ]]> </td></table> \u00e9\u03b8 \\"


def attribute(text):
    for plain, escaped in (("&", "&amp;"), ("<", "&lt;"), (">", "&gt;"), ('"', "&quot;")):
        text = text.replace(plain, escaped)
    return text


def make(source, folder):
    """[(path, what its report must say in capitals, or None)]; the gear is beside them."""
    made = []
    shutil.copy(os.path.join(source, "models", "yard.xml"), folder)

    def model(name, base, *changes, says=None):
        with open(os.path.join(source, "models", base + ".xml"), encoding="utf-8") as file:
            text = file.read()
        for old, new in changes:
            assert old in text, (name, old)
            text = text.replace(old, new)
        path = os.path.join(folder, name + ".xml")
        with open(path, "w", encoding="utf-8") as file:
            file.write(text)
        made.append((path, says))

    end = "</rigging>"
    bull = '<item id="bull16"   kind="rope"'
    model("drops-first", "floating-redirect", ('on="beech" height="11 m" gear="sling20"', 'on="beech" height="11 m"'),
          ('<sling id="top"', '<!--'), ('<sling id="long"', '--><sling id="long"'), says="OVER")
    model("one-over", "floating-redirect", (end, '<case id="gust" title="a pull far over everything"><force at="log" '
          'size="900 kN" toward="up"/></case>' + end), says="OVER")
    model("heavy", "two-legs", ('weight="', 'weight="9'), says="OVER ITS LIMIT")
    model("bare", "floating-redirect", (' design-factor="5"', ""), ("weight=\"320 kg\"", "weight=\"100 kg\""),
          says="NOT CHECKED")
    model("long-title", "two-legs", ('title="', 'title="' + "of many words, " * 60))
    model("long-word", "two-legs", ('title="', 'title="' + "Donaudampfschiff" * 40))
    model("hostile", "floating-redirect", ('title="', f'title="{attribute(HOSTILE)}'),
          ('<note topic="site">', f'<note topic="{attribute(HOSTILE)}">{attribute(HOSTILE)}</note>\n<note topic="site">'),
          (end, f'<case id="odd" title="{attribute(HOSTILE)}" friction="nominal"><set of="log" weight="200 kg"/></case>'
           + end), ('href="yard.xml"', 'href="odd-yard.xml"'))
    with open(os.path.join(folder, "yard.xml"), encoding="utf-8") as file:
        yard = file.read()
    assert bull in yard
    with open(os.path.join(folder, "odd-yard.xml"), "w", encoding="utf-8") as file:
        file.write(yard.replace(bull, f'{bull} serial="{attribute(HOSTILE)}" checked-on="{attribute(HOSTILE)}"'))
    model("four-kib", "floating-redirect", ('href="yard.xml"', 'href="long-yard.xml"'))
    with open(os.path.join(folder, "long-yard.xml"), "w", encoding="utf-8") as file:
        file.write(yard.replace(bull, f'{bull} serial="{"0123456789abcde-" * 255}" checked-on="{("day and night " * 290)[:-1]}"'))
    sections = "\n".join(f'<section height="{0.03 * i:.2f} m" diameter="{0.30 - 0.00035 * i:.5f} m"/>'
                         for i in range(1, 299))
    model("many-sections", "floating-redirect",  # nothing hangs on it: what is long is the list
          (end, f'<stem id="larch" x="20 m" y="0 m" species="European larch" design-factor="5">{sections}</stem>' + end))
    cases = "".join(f'<case id="weight-{i}" title="number {i} of ten" friction="nominal"><set of="log" '
                    f'weight="{100 + 20 * i} kg"/></case>\n' for i in range(10))
    model("many-cases", "floating-redirect", (end, cases + end))
    model("notes", "two-legs", ("<store", '<note>no topic, and\n  of two lines</note><note topic="revision">2</note>'
          '<note topic="checker">somebody else</note><note topic="site">another site</note><store'))
    for name in ("end-not-held", "hand-too-weak", "piece-without-rope", "spar-falls-over"):
        shutil.copy(os.path.join(source, "tests", "hard", name + ".xml"), folder)
        made.append((os.path.join(folder, name + ".xml"), "NOT CHECKED"))
    return made
