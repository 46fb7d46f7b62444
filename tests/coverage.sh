#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Which lines ran, which sides of branches were taken and which conditions showed an effect of their own (MC/DC) while
# every test ran once, measured by clang 19. Prints a table by folders; the list of what was never reached is
# build/coverage/never.txt. Ends with 1 where a figure is below its floor in tests/coverage.floors, or a test failed.
# Half an hour; not a part of run.sh.
#
#     sh tests/coverage.sh [BUILD]
#
# Left out: architecture, library and package (of a build with counters in it they say nothing), and references, which
# run the same code as the models of tests/cases. schema, pages, varied and reports take fewer models, manufactured
# fewer networks. Arenas have small blocks, so that nearly each RN_TAKE can fail. What ends by a signal, or in a folder
# or under a limit where nothing can be written, leaves no counts; so do most runs of faults in which memory stays out.
set -u
cd "$(dirname "$0")/.." || exit 2
sh .setup/install.sh build test analyse || exit 2
build=${1:-build/coverage}
jobs=$(nproc)
cmake -S . -B "$build" -DRN_TESTS=ON -DCMAKE_C_COMPILER=clang-19 -DCMAKE_BUILD_TYPE=Debug \
	-DCMAKE_C_FLAGS="-O1 -DRN_ARENA_SMALL -DRN_MANUFACTURED_COUNT=1250 -fprofile-instr-generate -fcoverage-mapping -fcoverage-mcdc" \
	>/dev/null || exit 2
build=$(cd "$build" && pwd)
here=$(pwd)
counts=$build/counts
rm -rf "$counts"
mkdir -p "$counts/shared" "$counts/own"
failed=0

# one set of counts for all runs of a program; where a run may leave half a file, one for each
shared=$counts/shared/%4m.profraw
own=$counts/own/%p.profraw

# the manual pages are made while building
LLVM_PROFILE_FILE=$shared cmake --build "$build" -j "$jobs" >"$build/build.log" 2>&1 || {
	cat "$build/build.log"
	exit 2
}

LLVM_PROFILE_FILE=$shared ctest --test-dir "$build" -j "$jobs" --output-on-failure -E \
	"^(architecture|library|package|reference|reference_nets|program|hostile|faults|schema|pages|varied|reports)$" || failed=1
LLVM_PROFILE_FILE=$own ctest --test-dir "$build" -j "$jobs" --output-on-failure -R "^(program|hostile|faults)$" || failed=1
for test in "schema 12" "pages 12" "vary 8" "report 12"; do
	LLVM_PROFILE_FILE=$shared /usr/bin/python3 -B "tests/${test% *}.py" "$build/funicle" . "${test#* }" || failed=1
done

find "$counts" -name '*.profraw' >"$counts/list"
llvm-profdata-19 merge --failure-mode=all -f "$counts/list" -o "$build/all.profdata" 2>"$counts/unread" || exit 2
cover() { # options...
	llvm-cov-19 export "$@" -instr-profile="$build/all.profdata" "$build/funicle" -object "$build/libfunicle.so" \
		-object "$build/funicle_pages" -object "$build/tests/funicle_tables" -ignore-filename-regex='(/tests/|endorsed\.c)' 2>/dev/null
}
cover >"$build/export.json" && cover -format=lcov >"$build/export.lcov" || exit 2
/usr/bin/python3 -B tests/covered.py "$build/export.json" "$build/export.lcov" "$here" "$build/never.txt" tests/coverage.floors || failed=1
exit $failed
