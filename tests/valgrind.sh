#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Every test in C that needs no hour under valgrind, and the program with some models: no error, nothing lost.
#
#     sh tests/valgrind.sh BUILD [NAMES of tests...]
#
# tests/valgrind.supp has what fontconfig, Pango and glib do, and why that is let pass.
set -u
cd "$(dirname "$0")/.."
build=$1
shift
if [ $# -eq 0 ]; then
	set -- alloc balance bending certificate curves decisions derate existence figure finite folio friction geometry jacobian \
		linear model nets options points polygon props quantity reader slings sparse species stem strength words
fi
failed=0
watched() { # what, command...
	what=$1
	shift
	said=$(valgrind -q --error-exitcode=99 --leak-check=full --errors-for-leak-kinds=definite,indirect \
		--suppressions=tests/valgrind.supp "$@" 2>&1 >/dev/null)
	code=$?
	[ "$code" -ne 99 ] && [ "$code" -lt 126 ] && return
	echo "$what: ends with $code"
	echo "$said" | head -30
	failed=$((failed + 1))
}
for name in "$@"; do
	RN_MANUFACTURED=20 watched "test_$name" "$build/tests/test_$name"
done
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
for model in models/first-model.xml models/fern-house.xml models/photo.xml models/caught-log.xml models/held-rope.xml \
	tests/good/everything.xml tests/bad/id-twice.xml tests/hard/twin-rings.xml; do
	watched "solve $model" "$build/funicle" "$model"
	watched "json $model" "$build/funicle" --format json "$model"
	watched "check $model" "$build/funicle" check "$model"
	watched "draw $model" "$build/funicle" draw "$model"
done
watched "a figure on paper" "$build/funicle" draw models/fern-house.xml -o "$work/figure.pdf"
watched "a review" "$build/funicle" report models/first-model.xml -o "$work/review.html"
echo "$failed faults under valgrind"
[ "$failed" -eq 0 ]
