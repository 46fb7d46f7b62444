#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
#
# Draws every case of every model in a folder, and has each figure read by an XML parser and drawn by
# a renderer that is not ours.
#
#     figure.sh PROGRAM FOLDER
set -u
program=${1:?usage: figure.sh PROGRAM FOLDER}
folder=${2:?usage: figure.sh PROGRAM FOLDER}
work=$(mktemp -d) || exit 1
trap 'rm -rf "$work"' EXIT
count=0
failed=0

fails() {
	echo "FAILS $model, case $case: $1"
	failed=$((failed + 1))
}

for model in "$folder"/*.xml; do
	grep -q '<rigging' "$model" || continue # a gear store
	"$program" --format json "$model" >"$work/answer.json"
	cases=$(sed -n '/^  "cases"/,$s/^      "id": "\(.*\)",$/\1/p' "$work/answer.json")
	[ -n "$cases" ] || {
		case=all
		fails "no case in its answer"
	}
	for case in $cases; do
		count=$((count + 1))
		"$program" draw "$model" --case "$case" -o "$work/figure.svg"
		code=$?
		[ "$code" -le 1 ] || [ "$code" -eq 4 ] || [ "$code" -eq 5 ] || fails "draw ended with $code"
		xmllint --noout "$work/figure.svg" || fails "is not well-formed"
		grep -q 'left out for want of room' "$work/figure.svg" && fails "labels are left out"
		rsvg-convert --dpi-x 60 --dpi-y 60 "$work/figure.svg" -o "$work/figure.png" ||
			fails "cannot be rendered"
		[ "$(wc -c <"$work/figure.png")" -gt 8000 ] || fails "is nearly empty"
		rm -f "$work/figure.svg" "$work/figure.png"
	done
done
echo "$count figures, $failed failures"
[ "$count" -gt 0 ] && [ "$failed" -eq 0 ]
