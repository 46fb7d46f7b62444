#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# The program from outside: exit codes, files, pipes.
#     program.sh PROGRAM SOURCE
set -u
program=$1
models=$2/models
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
failed=0
count=0

ends() { # what, expected exit code, command...
	what=$1
	expected=$2
	shift 2
	"$@" >"$work/out" 2>"$work/err"
	got=$?
	count=$((count + 1))
	[ "$got" -eq "$expected" ] && return
	echo "$what: ends with $got, not $expected"
	sed 's/^/    /' "$work/err"
	failed=$((failed + 1))
}
says() { # text in standard error or output of the last command
	count=$((count + 1))
	grep -qF -- "$1" "$work/out" "$work/err" && return
	echo "$what: does not say: $1"
	failed=$((failed + 1))
}
holds() { # what, test expression...
	what=$1
	shift
	count=$((count + 1))
	[ "$@" ] && return
	echo "$what: [ $* ] does not hold"
	failed=$((failed + 1))
}

# ---- the command line ----
ends "no word at all" 2 "$program"
says "funicle MODEL.xml"
ends "help" 0 "$program" --help
says "exit"
ends "help beside a verb" 0 "$program" draw -h
ends "version" 0 "$program" --version
says "GPL-3.0-or-later"
ends "an unknown verb" 2 "$program" slove "$models/fern-house.xml"
says "did you mean solve?"
ends "an unknown option" 2 "$program" --fromat json "$models/fern-house.xml"
says "did you mean --format?"
ends "an unknown form" 2 "$program" --format yaml "$models/fern-house.xml"
says "it is"
ends "an option without its value" 2 "$program" "$models/fern-house.xml" --format
ends "an option twice" 2 "$program" --units us --units us "$models/fern-house.xml"
ends "two models" 2 "$program" solve "$models/fern-house.xml" "$models/fern-house.xml"
ends "a verb alone" 2 "$program" solve
ends "an unknown case" 2 "$program" draw --case nosuch "$models/fern-house.xml"
says "lowering"
ends "a model called like an option" 3 "$program" -- --help

# ---- answers ----
ends "an answer" 1 "$program" "$models/fern-house.xml"
says "Closest"
ends "the same by its verb" 1 "$program" solve "$models/fern-house.xml"
ends "in the other units" 1 "$program" --units=us "$models/fern-house.xml"
says "lbf"
cat >"$work/none-over.xml" <<'MODEL'
<rigging xmlns="urn:funicle:rigging" format="1" title="all rated">
  <gear design-factor="10"><item id="s" kind="sling" strength="100 kN" stiffness="700 kN"/></gear>
  <anchor id="a" x="0 m" y="5 m" working-load="9 kN"/>
  <piece id="log" x="0 m" y="3 m" weight="200 kg"/>
  <sling id="one" from="a" to="log" gear="s" hitch="straight"/>
</rigging>
MODEL
ends "none over" 0 "$program" "$work/none-over.xml"
says "NONE OVER ITS LIMIT (2 checked, 0 not checked)"
sed 's/9 kN/1 kN/' "$work/none-over.xml" >"$work/over.xml"
ends "over" 1 "$program" "$work/over.xml"
says "OVER ITS LIMIT"
sed '/<sling/d' "$work/none-over.xml" | sed 's/<\/rigging>/<anchor id="b" x="2 m" y="5 m"\/><sling id="t" from="a" to="b"\/><\/rigging>/' >"$work/nothing.xml"
ends "nothing holds it" 4 "$program" "$work/nothing.xml"
says "nothing holds the log"
ends "a model from standard input" 0 sh -c "'$program' - < '$work/none-over.xml'"
ends "a model from an empty standard input" 3 sh -c "'$program' - < /dev/null"
ends "json" 0 "$program" --format json "$work/none-over.xml"
holds "json names its model's digest" "$(sha256sum <"$work/none-over.xml" | cut -c1-64)" = \
	"$(grep -o '"sha256": *"[0-9a-f]*"' "$work/out" | grep -o '[0-9a-f]\{64\}')"

# ---- files ----
ends "no such model" 3 "$program" "$work/none.xml"
ends "a folder for a model" 3 "$program" "$work"
mkfifo "$work/pipe.xml"
ends "a pipe for a model" 3 "$program" "$work/pipe.xml"
ends "into a file" 0 "$program" "$work/none-over.xml" -o "$work/answer.txt"
holds "the answer is there" -s "$work/answer.txt"
holds "nothing else was left" "$(ls "$work" | grep -c part)" -eq 0
echo old >"$work/kept.txt"
ends "a full disk" 6 "$program" "$work/none-over.xml" -o /dev/full
ends "into a folder that is none" 6 "$program" "$work/none-over.xml" -o "$work/no/answer.txt"
ends "over a folder" 6 "$program" "$work/none-over.xml" -o "$work"
ends "a wrong model over an old answer" 3 "$program" "$work/none.xml" -o "$work/kept.txt"
holds "the old answer is whole" "$(cat "$work/kept.txt")" = old
ends "a full standard output" 6 sh -c "'$program' '$work/none-over.xml' > /dev/full"
ends "a closed pipe" 0 sh -c "'$program' '$work/none-over.xml' | true"
ends "a figure" 0 "$program" draw "$work/none-over.xml" -o "$work/figure.svg"
holds "the figure is whole" "$(tail -c 7 "$work/figure.svg")" = "</svg>"
ends "a store elsewhere" 3 sh -c "sed 's|<gear|<store href=\"../yard.xml\"/><gear|' '$work/none-over.xml' | '$program' -"
says "plain name"
ln -s "$models/yard.xml" "$work/link.xml"
sed 's|<gear|<store href="link.xml"/><gear|' "$work/none-over.xml" >"$work/linked.xml"
ends "a store that is a link" 3 "$program" "$work/linked.xml"
sed 's|<gear|<store href="pipe.xml"/><gear|' "$work/none-over.xml" >"$work/piped.xml"
ends "a store that is a pipe" 3 "$program" "$work/piped.xml"

# ---- the same bytes every time, whatever the surroundings ----
"$program" --format json "$models/fern-house.xml" >"$work/one.json" 2>/dev/null
(cd / && TZ=Asia/Tokyo LC_ALL=C HOME=/nowhere "$program" --format json "$models/fern-house.xml") >"$work/two.json" 2>/dev/null
holds "the same answer twice" "$(cmp "$work/one.json" "$work/two.json" && echo same)" = same
holds "no NaN in it" "$(grep -ciE 'nan|inf\b' "$work/one.json")" -eq 0

echo "$count checks, $failed failed"
[ "$failed" -eq 0 ]
