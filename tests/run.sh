#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Installs what is missing, builds with gcc and with clang (warnings are errors), runs every test:
# once plain and once under the address and undefined-behaviour sanitizers.
set -eu
cd "$(dirname "$0")/.."
sh .setup/install.sh build test
jobs=$(nproc)

build() { # folder, options...
	folder=$1
	shift
	cmake -S . -B "$folder" -DRN_TESTS=ON -DRN_WERROR=ON "$@" >/dev/null
	cmake --build "$folder" -j "$jobs" >"$folder/build.log" 2>&1 || {
		cat "$folder/build.log"
		exit 1
	}
}

build build/gcc -DCMAKE_C_COMPILER=gcc
build build/clang -DCMAKE_C_COMPILER=clang -DRN_SANITIZE=ON -DCMAKE_BUILD_TYPE=RelWithDebInfo
ctest --test-dir build/gcc --output-on-failure -j "$jobs"
ctest --test-dir build/clang --output-on-failure -j "$jobs" -LE slow
/usr/bin/python3 -B tests/equal.py . build/gcc/funicle build/clang/funicle # the same answers from both
