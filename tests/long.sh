#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# What takes hours: fuzzers under sanitizers, every allocation failed once, a hundred thousand rigs of chance added up
# again, a million manufactured answers, every number at its limits, the thread sanitizer, valgrind, other compilers.
#
#     sh tests/long.sh [RUNS of the reader, 10000000] [RUNS of the solver, 1000000] [POINTS, 0: every allocation]
#
# What a fuzzer finds stays in build/fuzz/found: it becomes a file of tests/corpus and is mended.
set -eu
cd "$(dirname "$0")/.."
sh .setup/install.sh build test analyse
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

# a thousand rigs need some seconds; each piece can be asked again by its first number
cmake --build build/gcc -j "$jobs" --target answer_many >/dev/null
first=0
while [ "$first" -lt 100000 ]; do
	/usr/bin/python3 -B tests/balance.py build/gcc/tests/answer_many 10000 "$first" "$jobs"
	first=$((first + 10000))
done
for first in 0 62500 125000 187500; do # of each of four families
	RN_MANUFACTURED=62500 RN_MANUFACTURED_FIRST=$first build/gcc/tests/test_manufactured
done
/usr/bin/python3 -B tests/limits.py build/gcc/funicle build/gcc/tests/answer_many . 1 300

# what two threads touch
cmake -S . -B build/threads -DRN_TESTS=ON -DRN_SANITIZE_THREADS=ON -DCMAKE_C_COMPILER=clang -DCMAKE_BUILD_TYPE=RelWithDebInfo >/dev/null
cmake --build build/threads -j "$jobs" --target test_threads test_scatter >/dev/null
build/threads/tests/test_threads
build/threads/tests/test_scatter

# the same answers from other compilers, however much they make of the code, and by the old floating-point unit, which
# keeps more digits on the way
others=
other() { # name, options...
	folder=build/equal-$1
	shift
	cmake -S . -B "$folder" -DCMAKE_BUILD_TYPE=None "$@" >/dev/null
	cmake --build "$folder" -j "$jobs" --target funicle_program >/dev/null
	others="$others $folder/funicle"
}
other O0 -DCMAKE_C_COMPILER=gcc -DCMAKE_C_FLAGS=-O0
other O2 -DCMAKE_C_COMPILER=gcc -DCMAKE_C_FLAGS=-O2
other clang -DCMAKE_C_COMPILER=clang -DCMAKE_C_FLAGS=-O2
other x87 -DCMAKE_C_COMPILER=gcc "-DCMAKE_C_FLAGS=-O1 -mfpmath=387"
if command -v clang-19 >/dev/null; then
	other clang19 -DCMAKE_C_COMPILER=clang-19 -DCMAKE_C_FLAGS=-O2
fi
# shellcheck disable=SC2086 # a list of words
/usr/bin/python3 -B tests/equal.py . build/gcc/funicle $others 3

sh tests/valgrind.sh build/gcc
