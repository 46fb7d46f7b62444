#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Files made to hurt: each is refused with a sentence, in little memory, and nothing else is read.

usage: hostile.py FUNICLE SOURCE_DIR

Entities, depth, huge tags, names and numbers of things, stores that lead elsewhere or block, odd encodings, every single
byte, a model cut off anywhere or with a bit turned. The program may have 200 MB and ten seconds of processor time; what
is refused ends with 3 and says why, with the name of the file; what a cut or a turned bit leaves whole is answered.
"""
import os
import resource
import subprocess
import sys
import tempfile

MEMORY, SECONDS = 200 << 20, 10
HEAD = '<rigging xmlns="urn:funicle:rigging" format="1">'
BODY = ('<anchor id="a" x="0 m" y="5 m"/><piece id="p" x="0 m" y="2 m" weight="100 kg"/>'
        '<line id="l"><tie at="a"/><tie at="p"/></line>')
WHOLE = f"{HEAD}{BODY}</rigging>"
ANSWERS = (0, 1, 4, 5)


def laughs(levels):
    entities = '<!ENTITY e0 "ha">' + "".join(
        f'<!ENTITY e{i} "{f"&e{i - 1};" * 10}">' for i in range(1, levels))
    return f'<!DOCTYPE rigging [{entities}]>{HEAD}<note>&e{levels - 1};</note>{BODY}</rigging>'


def hostile():
    """(name, bytes)"""
    yield "billion laughs", laughs(10)
    yield "quadratic entity", (f'<!DOCTYPE rigging [<!ENTITY a "{"a" * 50000}">]>{HEAD}<note>{"&a;" * 50000}</note></rigging>')
    yield "entity of a file", f'<!DOCTYPE rigging [<!ENTITY a SYSTEM "/etc/passwd">]>{HEAD}<note>&a;</note>{BODY}</rigging>'
    yield "a grammar from outside", f'<!DOCTYPE rigging SYSTEM "http://localhost/x.dtd">{WHOLE}'
    yield "depth", HEAD + "<gear>" * 100000
    yield "depth, closed", HEAD + "<gear>" * 1000 + "</gear>" * 1000 + "</rigging>"
    yield "an attribute of 3.9 MB", WHOLE.replace('id="p"', f'id="{"p" * 3900000}"')
    yield "an attribute of 5 KB", WHOLE.replace('format="1"', f'format="1" title="{"t" * 5000}"')
    yield "many attributes", HEAD.replace(">", "".join(f' a{i}=""' for i in range(300000)) + ">") + "</rigging>"
    yield "many namespaces", HEAD.replace(">", "".join(f' xmlns:n{i}="u{i}"' for i in range(20000)) + ">") + "</rigging>"
    yield "many names", HEAD + "".join(f'<anchor id="a{i}" x="{i} m" y="0 m"/>' for i in range(100000)) + "</rigging>"
    yield "many elements", HEAD + "<note/>" * 500000 + "</rigging>"
    yield "comments", HEAD + "<!-- -->" * 400000
    yield "too large by one", WHOLE + " " * ((4 << 20) + 1 - len(WHOLE))
    yield "inclusion", f'{HEAD}<include xmlns="http://www.w3.org/2001/XInclude" href="/etc/passwd" parse="text"/>{BODY}</rigging>'
    for href in ("/etc/passwd", "../yard.xml", "file:///etc/passwd", "http://localhost/yard.xml", ".", "pipe.xml", "self.xml",
                 "a/../../yard.xml", "link.xml"):
        yield f"store {href}", f'{HEAD}<store href="{href}"/>{BODY}</rigging>'
    yield "NUL", WHOLE.replace("100 kg", "100\0kg")
    yield "UTF-16", WHOLE.encode("utf-16")
    yield "UTF-32", WHOLE.encode("utf-32")
    yield "Latin-1", WHOLE.replace('format="1"', 'format="1" title="\xe9"').encode("latin-1")
    yield "overlong", WHOLE.replace('format="1"', 'format="1" title="@"').encode().replace(b"@", b"\xc0\xaf")
    yield "surrogate", WHOLE.replace('format="1"', 'format="1" title="@"').encode().replace(b"@", b"\xed\xa0\x80")
    yield "empty", ""
    yield "two roots", WHOLE + WHOLE
    yield "CDATA for a model", f"<![CDATA[{WHOLE}]]>"


def maybe():
    """What may be whole or not."""
    yield "instructions", "<?a?>" * 700000 + WHOLE
    for byte in range(256):
        yield f"the byte {byte}", bytes([byte])
    whole = WHOLE.encode()
    for cut in range(0, len(whole), 3):
        yield f"cut at {cut}", whole[:cut]
    for at in range(0, len(whole), 2):
        yield f"a bit turned at {at}", whole[:at] + bytes([whole[at] ^ (1 << at % 8)]) + whole[at + 1:]


def limits():
    resource.setrlimit(resource.RLIMIT_AS, (MEMORY, MEMORY))
    resource.setrlimit(resource.RLIMIT_CPU, (SECONDS, SECONDS))


def look_at(program, folder, content, refused):
    path = os.path.join(folder, "self.xml")
    with open(path, "wb") as file:
        file.write(content if isinstance(content, bytes) else content.encode())
    done = subprocess.run([program, path], capture_output=True, preexec_fn=limits, timeout=120)
    if b"root:" in done.stdout + done.stderr:
        return "a file of the machine was read"
    if done.returncode == 3:
        if done.stdout or b"self.xml" not in done.stderr:
            return "is refused without a sentence about the file, or with half an answer"
        return None
    if refused or done.returncode not in ANSWERS:
        return f"ends with {done.returncode}: {done.stderr[:200]!r}"
    return None


def main():
    program = os.path.abspath(sys.argv[1])
    count = wrong = 0
    with tempfile.TemporaryDirectory() as folder:
        os.mkfifo(os.path.join(folder, "pipe.xml"))
        os.symlink("/etc/passwd", os.path.join(folder, "link.xml"))
        for cases, refused in ((hostile(), True), (maybe(), False)):
            for name, content in cases:
                count += 1
                what = look_at(program, folder, content, refused)
                if what:
                    wrong += 1
                    print(f"{name}: {what}")
        # the watch itself: a whole model is answered within the same limits
        if look_at(program, folder, WHOLE, True) is None:
            wrong += 1
            print("a whole model was refused")
    print(f"{count} files, {wrong} faults")
    return 1 if wrong or count < 400 else 0


if __name__ == "__main__":
    sys.exit(main())
