#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Holds the RELAX NG grammar made from the reader's table against the files, with two validators:
# what the reader takes must fit, what is misshapen must not, and what is only wrong in a value or a
# name must.
#
#     grammar.sh TABLES SOURCE      TABLES: the program funicle-tables; SOURCE: the top of the project
set -eu
tables=$1
source=$2
scratch=$(mktemp -d)
trap 'rm -rf "$scratch"' EXIT
grammar=$scratch/rigging.rng
failed=0
count=0

"$tables" rng >"$grammar"
"$tables" format >"$scratch/format.md"
test -s "$scratch/format.md"

fits_first() {
	xmllint --noout --nonet --relaxng "$grammar" "$1" >/dev/null 2>&1
}

complain() {
	echo "$1" >&2
	failed=1
}

# A validator that cannot read the grammar refuses everything: that is no refusal.
fits_first "$source/tests/good/smallest.xml" || {
	xmllint --noout --nonet --relaxng "$grammar" "$source/tests/good/smallest.xml" >&2 || true
	echo "the grammar does not work" >&2
	exit 1
}

: >"$scratch/fit"
: >"$scratch/misfit"
for file in "$source"/models/*.xml "$source"/tests/good/*.xml; do
	echo "$file" >>"$scratch/fit"
done
for expect in "$source"/tests/bad/*.expect; do
	file=${expect%.expect}.xml
	case $(sed -n 's/^grammar //p' "$expect") in
	accepts) echo "$file" >>"$scratch/fit" ;;
	refuses) echo "$file" >>"$scratch/misfit" ;;
	skip) ;;
	*) complain "$expect: does not say what the grammar does" ;;
	esac
done

while read -r file; do
	count=$((count + 1))
	fits_first "$file" || complain "xmllint refuses $file"
done <"$scratch/fit"
while read -r file; do
	count=$((count + 1))
	! fits_first "$file" || complain "xmllint takes $file"
done <"$scratch/misfit"

# jing starts slowly: all files at once. It names each file it refuses in its first column.
tr '\n' '\0' <"$scratch/fit" >"$scratch/fit0"
xargs -0 jing "$grammar" <"$scratch/fit0" >"$scratch/jing-fit" 2>&1 ||
	complain "jing refuses: $(grep error: "$scratch/jing-fit" | head -5)"
tr '\n' '\0' <"$scratch/misfit" >"$scratch/misfit0"
xargs -0 jing "$grammar" <"$scratch/misfit0" >"$scratch/jing-misfit" 2>&1 || true
while read -r file; do
	grep -qF "$file:" "$scratch/jing-misfit" || complain "jing takes $file"
done <"$scratch/misfit"

echo "$count files held against the grammar"
exit $failed
