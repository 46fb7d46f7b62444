#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
#
# Hard models, a file each: what the program ends with and what it says.
#
#     hard.sh PROGRAM [FOLDER]
#
# A NAME.expect beside each NAME.xml has, besides the numbers that test_cases.c holds against the
# solver, rows
#
#     exit    | code of the program
#     message | words that must stand in its answer (JSON, so that no sentence is broken) or error
#     absent  | words that must not
#     node    | what the first message must name
#     line    | line of the model an error must point at
#
# Numbers whose source is given as SciPy come from reference/settle_file.py.
set -u
program=${1:?usage: hard.sh PROGRAM [FOLDER]}
folder=${2:-$(dirname "$0")/hard}
answer=$(mktemp) || exit 1
trap 'rm -f "$answer"' EXIT
count=0
failed=0

differs() {
	echo "DIFFERS $name: $1"
	failed=$((failed + 1))
}

# rows KEY: the values of all rows that begin with KEY
rows() {
	sed -n "s/^$1 *| *//p" "$folder/$name.expect"
}

for model in "$folder"/*.xml; do
	name=$(basename "$model" .xml)
	if [ ! -f "$folder/$name.expect" ]; then
		differs "has no .expect"
		continue
	fi
	count=$((count + 1))
	"$program" solve "$model" --format json >"$answer" 2>&1
	code=$?

	due=$(rows exit)
	[ "$code" = "$due" ] || differs "exit $code, expected ${due:-a row that says which}"
	rows message | {
		bad=0
		while IFS= read -r words; do
			grep -qF -- "$words" "$answer" || { echo "DIFFERS $name: not said: $words"; bad=1; }
		done
		exit $bad
	} || failed=$((failed + 1))
	rows absent | {
		bad=0
		while IFS= read -r words; do
			! grep -qF -- "$words" "$answer" || { echo "DIFFERS $name: said: $words"; bad=1; }
		done
		exit $bad
	} || failed=$((failed + 1))
	node=$(rows node)
	message=$(rows message | head -n 1)
	if [ -n "$node" ]; then
		grep -F -- "$message" "$answer" | grep -qw -- "$node" || differs "does not name $node"
	fi
	line=$(rows line)
	if [ -n "$line" ]; then
		grep -qF -- "$name.xml:$line: error: " "$answer" || differs "no error in line $line"
	fi
done

echo "$count hard models, $failed differ"
[ "$count" -ge 20 ] && [ "$failed" -eq 0 ]
