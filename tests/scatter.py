#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""funicle scatter from outside: exit codes, threads, interrupts, progress, and the answer told a second way.

usage: scatter.py FUNICLE SOURCE_DIR
"""
import json
import os
import pty
import signal
import subprocess
import sys
import tempfile
import time

PROGRAM = os.path.abspath(sys.argv[1])
MODELS = os.path.join(os.path.abspath(sys.argv[2]), "models")
wrong = count = 0

ONE_SLING = """<rigging xmlns="urn:funicle:rigging" format="1">
<gear design-factor="6"><item id="rope" kind="sling" strength="60 kN" stiffness="490 kN"/></gear>
<anchor id="top" x="0 m" y="6 m" working-load="100 kN"/><piece id="log" x="0 m" y="3 m" weight="9 kN"/>
<sling id="drop" from="top" to="log" gear="rope" hitch="straight"/></rigging>"""


def check(what, holds, *found):
    global wrong, count
    count += 1
    if not holds:
        wrong += 1
        print("DIFFERS", what, *found)


def run(*words, stdin=None):
    done = subprocess.run([PROGRAM, "scatter", *words], input=stdin, capture_output=True, text=True, timeout=120)
    return done.returncode, done.stdout, done.stderr


def model(name):
    return os.path.join(MODELS, name)


# ---- what it ends with, and what it refuses ---------------------------------------------------------

def exit_codes():
    with tempfile.TemporaryDirectory() as folder:
        path = os.path.join(folder, "one.xml")
        with open(path, "w", encoding="utf-8") as file:
            file.write(ONE_SLING)
        few = ("--trials", "64")
        check("none over", run(path, "--between", "log.weight=8..9 kN", *few)[0] == 0)
        check("some over", run(path, "--between", "log.weight=9..11 kN", *few)[0] == 1)
        check("as given over, and in no trial",
              run("-", "--between", "log.weight=8..9 kN", *few, stdin=ONE_SLING.replace("9 kN", "11 kN"))[0] == 1)
        code, _, errors = run(path)
        check("nothing has a range", code == 2 and "no number in it has a range" in errors, code, errors)
        unheld = ONE_SLING.replace(' working-load="100 kN"', "")
        code, out, _ = run("-", "--between", "log.weight=8..9 kN", *few, stdin=unheld)
        check("a part not checked", code == 1 and "with none over, but a loaded part not checked" in out, code, out)
    code, _, errors = run(model("photo.xml"))
    check("a picture under load", code == 3 and "picture under load" in errors, code, errors)
    for words, said in (
            (("--trials", "1000"), "a power of two"), (("--trials", "8"), "a power of two"),
            (("--trials", "131072"), "a power of two"), (("--trials", "-16"), "a power of two"),
            (("--trials", "x"), "a power of two"), (("--threads", "0"), "from 1 to 64"),
            (("--threads", "65"), "from 1 to 64"), (("--between", "log.weight"), "such as log.weight=280..400 kg"),
            (("--between", "log.weigth=1..2 kg"), "did you mean log.weight?"),
            (("--between", "log.weight=2..1 kg"), "from the smaller"),
            (("--between", "log.weight=1..2 kg", "--between", "log.weight=1..3 kg"), "given twice"),
            (("--ranges",), "--ranges goes with solve"), (("--case", "lowering"), "--case goes with")):
        code, _, errors = run(model("floating-redirect.xml"), *words)
        check(f"{words}: {said}", code == 2 and said in errors, code, errors)
    many = [word for _ in range(65) for word in ("--between", "log.weight=1..2 kg")]
    check("too many", run(model("floating-redirect.xml"), *many)[0] == 2)
    other = subprocess.run([PROGRAM, "solve", model("floating-redirect.xml"), "--trials", "64"], capture_output=True,
                           text=True)
    check("with another verb", other.returncode == 2 and "go with scatter" in other.stderr)


# ---- the same whoever settles it ---------------------------------------------------------------------

def threads():
    for form in ("text", "json", "csv"):
        for name in ("fern-house.xml", "floating-redirect.xml"):
            answers = {run(model(name), "--between", "log.weight=-10..+40 %", "--trials", "512", "--format", form,
                           "--threads", str(n))[:2] for n in (1, 2, 3, 7)}
            check(f"{name} as {form} with 1, 2, 3, 7 threads", len(answers) == 1)


# ---- told a second way -------------------------------------------------------------------------------

def closed_form():
    """A weight of 8.1 to 12 kN on a sling that takes 10: the share over and the ranks are known."""
    code, text, _ = run("-", "--between", "log.weight=8.1..12 kN", "--trials", "4096", "--format", "json",
                        stdin=ONE_SLING)
    answer = json.loads(text)
    drop = next(p for p in answer["parts"] if p["id"] == "drop")
    step = 0.39 / 4096
    check("the share over", abs(answer["trials"]["over"] / 4096 - 0.2 / 0.39) < 2 / 4096, answer["trials"])
    for key, share in (("p5", 0.05), ("p50", 0.5), ("p95", 0.95), ("most", 1)):
        check(key, abs(drop[key] - (0.81 + 0.39 * share)) < 2 * step, drop)
    check("the range told", [(r["name"], r["source"], r["low"], r["high"], r["unit"]) for r in answer["ranges"]]
          == [("log.weight", "asked", 8100, 12000, "N")], answer["ranges"])
    _, words, _ = run("-", "--between", "log.weight=8.1..12 kN", "--trials", "4096", stdin=ONE_SLING)
    check("in words", words.startswith(f"{answer['trials']['over']:,} of 4,096 trials over, "), words[:80])
    check("as given", "As given: NONE OVER ITS LIMIT (2 checked, 0 not checked)" in words, words)
    check("a caution", "no probability of an accident" in " ".join(words.split()), words)
    check("the range in words", "asked  826 to 1220 kg" in words, words)
    code, text, _ = run("-", "--between", "log.weight=8.1..12 kN", "--units", "us", stdin=ONE_SLING)
    check("in pounds", " lb" in text, text)


def on_paper():
    with tempfile.TemporaryDirectory() as folder:
        for name, begins in (("trials.pdf", b"%PDF-"), ("trials.html", b"<!DOCTYPE html>"), ("trials.txt", b"0 of 64")):
            path = os.path.join(folder, name)
            code, _, errors = run(model("one-redirect.xml"), "--trials", "64", "-o", path)
            with open(path, "rb") as file:
                check(name, code == 0 and file.read().startswith(begins), code, errors)
        code, _, errors = run(model("one-redirect.xml"), "--trials", "64", "--format", "json", "-o",
                              os.path.join(folder, "answer.pdf"))
        check("JSON called a page", code == 2 and "of another kind" in errors, code, errors)


# ---- interrupted --------------------------------------------------------------------------------------

def start(*words, **more):
    return subprocess.Popen([PROGRAM, "scatter", *words], stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True,
                            **more)


def wait_for_work(running, seconds):
    """Until it has worked so long, however busy the machine is."""
    per_second = os.sysconf("SC_CLK_TCK")
    for _ in range(6000):
        with open(f"/proc/{running.pid}/stat", encoding="ascii") as file:
            fields = file.read().rpartition(")")[2].split()
        if (int(fields[11]) + int(fields[12])) / per_second >= seconds or running.poll() is not None:
            return
        time.sleep(0.01)


def interrupted(form):
    """Ctrl-C once trials are under way: an answer of those that were done."""
    with tempfile.TemporaryDirectory() as folder:
        path = os.path.join(folder, "answer")
        running = start(model("fern-house.xml"), "--between", "log.weight=-10..+40 %", "--trials", "65536",
                        "--format", form, "-o", path)
        wait_for_work(running, 1)
        running.send_signal(signal.SIGINT)
        _, errors = running.communicate(timeout=60)
        check(f"interrupted as {form}", running.returncode in (0, 1), running.returncode, errors)
        check("nothing half written", os.listdir(folder) == ["answer"], os.listdir(folder))
        with open(path, encoding="utf-8") as file:
            return file.read()


def interrupts():
    answer = json.loads(interrupted("json"))
    trials = answer["trials"]
    check("it says so", trials["stopped"] and trials["asked"] == 65536 and 0 < trials["done"] < 65536, trials)
    kinds = ("over", "no_equilibrium", "falls", "ground", "not_found", "not_checked", "none_over")
    check("it adds up", sum(trials[k] for k in kinds) == trials["done"], trials)
    text = interrupted("text")
    check("and in words", text.startswith("STOPPED after ") and " of 65,536 trials" in text, text[:100])
    done = int(text.split()[2].replace(",", ""))
    check("of those alone", f" of {done:,} trials over" in text.split("\n")[1], text[:200])

    ignored = start(model("floating-redirect.xml"), "--trials", "2048", "--format", "json",
                    preexec_fn=lambda: signal.signal(signal.SIGINT, signal.SIG_IGN))
    wait_for_work(ignored, 0.1)
    ignored.send_signal(signal.SIGINT)
    text, _ = ignored.communicate(timeout=60)
    check("ignored where it was ignored before", json.loads(text)["trials"]["done"] == 2048)

    # a trial of this one takes so long that a second comes before the first was answered
    twice = start(model("held-rope.xml"), "--trials", "65536")
    wait_for_work(twice, 2)
    while twice.poll() is None:
        twice.send_signal(signal.SIGINT)
        time.sleep(0.02)
    out, _ = twice.communicate(timeout=60)
    check("twice ends it", twice.returncode == -signal.SIGINT and out == "", twice.returncode, out)


# ---- progress -------------------------------------------------------------------------------------------

def on_terminal(*words):
    """What standard error gets where it is a terminal."""
    master, slave = pty.openpty()
    running = subprocess.Popen([PROGRAM, "scatter", model("fern-house.xml"), "--trials", "65536", *words],
                               stdout=subprocess.PIPE, stderr=slave)
    os.close(slave)
    time.sleep(3.2)
    running.send_signal(signal.SIGINT)
    out, _ = running.communicate(timeout=60)
    told = b""
    try:
        while True:
            told += os.read(master, 4096)
    except OSError:
        pass
    os.close(master)
    return out, told


def progress():
    out, told = on_terminal()
    check("progress on a terminal", 1 <= told.count(b" of 65536 trials") <= 6, told)
    check("taken away at the end", told.endswith(b"\r\x1b[K"), told)
    check("none of it in the answer", b"\r" not in out and out.startswith(b"STOPPED after "), out[:60])
    _, told = on_terminal("--quiet")
    check("quiet", told == b"", told)
    check("none elsewhere", run(model("floating-redirect.xml"), "--trials", "4096", "--threads", "1")[2] == "")


def main():
    exit_codes()
    threads()
    closed_form()
    on_paper()
    interrupts()
    progress()
    print(f"{count} checks, {wrong} differ")
    return 1 if wrong or count < 50 else 0


if __name__ == "__main__":
    sys.exit(main())
