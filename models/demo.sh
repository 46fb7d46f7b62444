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

answer build/funicle models/fern-house.xml
for case in lowering raising heavier; do
	answer build/funicle draw models/fern-house.xml --case "$case" -o "figures/fern-house-$case.svg"
done
for model in straight-lowering one-redirect floating-redirect choked-pair three-to-one; do
	answer build/funicle draw "models/$model.xml" -o "figures/$model.svg"
done
echo
echo "figures:"
ls figures/*.svg
