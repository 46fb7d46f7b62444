#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# What three analysers see in the sources: gcc's own, cppcheck, clang-tidy. Prints every finding, ends with 1 if there
# is one. Some minutes; not a part of run.sh.
#
#     sh tests/analyse.sh
#
# Left out of clang-tidy, and why:
#     bugprone-easily-swappable-parameters   two doubles beside each other are how geometry is written
#     bugprone-reserved-identifier, cert-dcl37-c, cert-dcl51-cpp   _POSIX_C_SOURCE has to be defined by that name
#     cert-err33-c                           what is printed to standard error is nowhere to be complained of
#     concurrency-mt-unsafe                  getenv is called in io/cli alone, before any thread
#     cert-flp30-c                           words.c and explain.c count digits of whole powers of ten, which are exact
# and of cppcheck: objectIndex (2.10 takes the address of what a pointer points to for that of the pointer).
set -u
cd "$(dirname "$0")/.."
sh .setup/install.sh build test analyse
build=build/analyse
cmake -S . -B "$build" -DCMAKE_EXPORT_COMPILE_COMMANDS=ON >/dev/null || exit 2
cmake --build "$build" -j "$(nproc)" >/dev/null || exit 2
found=$(mktemp) || exit 2
trap 'rm -f "$found"' EXIT
flags="$(pkg-config --cflags libxml-2.0 pangocairo nettle gsl) -DRN_LIBRARIES=\"\""
sources=$(find solver io -name '*.c' ! -name write_grammar.c | sort)
for file in $sources; do
	# shellcheck disable=SC2086
	gcc -std=c11 -O1 -fanalyzer -I. $flags -c "$file" -o /dev/null 2>&1 | grep 'warning:' >>"$found"
done
cppcheck --std=c11 --enable=warning,performance,portability -q -I. --suppress=missingIncludeSystem --suppress=objectIndex \
	-j "$(nproc)" solver io 2>&1 | grep -E ': (error|warning|performance|portability):' >>"$found"
# shellcheck disable=SC2086
echo $sources | xargs -n 4 -P "$(nproc)" clang-tidy -p "$build" --quiet \
	--checks='-*,clang-analyzer-*,bugprone-*,cert-*,concurrency-*,-bugprone-easily-swappable-parameters,-bugprone-reserved-identifier,-cert-dcl37-c,-cert-dcl51-cpp,-cert-err33-c,-concurrency-mt-unsafe,-cert-flp30-c' \
	2>/dev/null | grep 'warning:' >>"$found"
sort -u "$found"
echo "$(sort -u "$found" | wc -l) findings"
[ ! -s "$found" ]
