#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# What takes hours: fuzzers under sanitizers, every allocation failed once.
#
#     sh tests/long.sh [RUNS of the reader, 10000000] [RUNS of the solver, 1000000] [POINTS, 0: every allocation]
#
# What a fuzzer finds stays in build/fuzz/found: it becomes a file of tests/corpus and is mended.
set -eu
cd "$(dirname "$0")/.."
sh .setup/install.sh build test
reader=${1:-10000000} solver=${2:-1000000} points=${3:-0}
jobs=$(nproc)
cmake -S . -B build/fuzz -DRN_TESTS=ON -DRN_FUZZ=ON -DRN_SANITIZE=ON -DCMAKE_C_COMPILER=clang -DCMAKE_BUILD_TYPE=RelWithDebInfo >/dev/null
cmake --build build/fuzz -j "$jobs" --target fuzz_reader fuzz_store fuzz_quantity fuzz_options fuzz_solver >/dev/null

fuzz() { # name, runs, more options...
	name=$1 runs=$2
	shift 2
	mkdir -p "build/fuzz/found/$name" "build/fuzz/seen/$name"
	kept=tests/corpus/$name
	[ -d "$kept" ] || kept=
	build/fuzz/tests/fuzz_"$name" -runs="$runs" -timeout=60 -rss_limit_mb=2048 -print_final_stats=1 \
		-artifact_prefix="build/fuzz/found/$name/" "$@" "build/fuzz/seen/$name" $kept 2>&1 | tail -8
}
fuzz quantity "$reader" -max_len=200
fuzz options "$reader" -max_len=600
fuzz reader "$reader" -dict=tests/corpus/rigging.dict -max_len=4096
fuzz store "$reader" -dict=tests/corpus/rigging.dict -max_len=4096
fuzz solver "$solver" -max_len=400

cmake -S . -B build/gcc -DRN_TESTS=ON -DCMAKE_C_COMPILER=gcc >/dev/null
cmake --build build/gcc -j "$jobs" >/dev/null
/usr/bin/python3 -B tests/faults.py build/gcc/funicle . build/gcc/tests/libfailing_malloc.so "$points"
