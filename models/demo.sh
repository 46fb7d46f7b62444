#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Installs what is missing, builds, solves the Fern House job and writes its figures into figures/.
set -eu
cd "$(dirname "$0")/.."
sh .setup/install.sh build
cmake -S . -B build -DCMAKE_BUILD_TYPE=Release >/dev/null
cmake --build build --target funicle_program -j 2 >/dev/null
mkdir -p figures

# 0 and 1 are answers ("none over", "over or not checked"); anything else is a failure
answer() {
	code=0
	"$@" || code=$?
	[ "$code" -le 1 ] || exit "$code"
}

figure() {
	model=$1
	shift
	for case in "$@"; do
		answer build/funicle draw "models/$model.xml" --case "$case" -o "figures/$model-$case.svg"
	done
}

answer build/funicle models/fern-house.xml
figure fern-house lowering raising heavier
figure natural-fork lowering raising
figure single-ring lowering raising
figure track-line near middle far
figure tag-line-given high low two
figure drift start middle landing
figure basket-sling long short
figure shared-block meant off
figure two-legs meant half off
figure three-legs meant beech-long oak-long
figure level-limb level askew
figure held-rope lighter back
figure caught-log locked run
for model in straight-lowering one-redirect floating-redirect choked-pair three-to-one tag-line \
             ground-anchor twin-rings guyed-prop guyed-stem branch-down branch-led-back weighed-log \
             photo; do
	answer build/funicle draw "models/$model.xml" -o "figures/$model.svg"
done
echo
echo "figures:"
ls figures/*.svg
