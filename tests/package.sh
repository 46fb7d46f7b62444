#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
#
# The Debian packages: made twice, examined, installed, used, removed.
#
#     package.sh BUILD SOURCE
#
# Builds all that is installed once more in a folder of its own: what BUILD, made with the same compiler and build
# type, has of it must be the same to the byte. Ends with 77, skipped, without root or dpkg, and where one of the
# packages is installed already.
set -eu
export LC_ALL=C
built=$(cd "$1" && pwd)
source=$(cd "$2" && pwd)
packages="funicle libfunicle0 libfunicle-dev"

skip() {
	echo "skipped: $1"
	exit 77
}
fail() {
	echo "$1" >&2
	exit 1
}
is_known() { # to dpkg, in whatever state
	dpkg-query -W -f '${Status}' "$1" 2>/dev/null | grep -qv ' not-installed$'
}
[ "$(id -u)" = 0 ] || skip "only root may install packages"
for tool in dpkg dpkg-shlibdeps lintian; do
	command -v "$tool" >/dev/null || skip "there is no $tool"
done
for package in $packages; do
	! is_known "$package" || skip "$package is installed already"
done

# dpkg once nobody else is at work with it
as_only_one() {
	tries=60
	until dpkg "$@" >"$scratch/dpkg" 2>&1; do
		tries=$((tries - 1))
		if ! grep -q 'locked by another process' "$scratch/dpkg" || [ "$tries" = 0 ]; then
			cat "$scratch/dpkg" >&2
			return 1
		fi
		sleep 1
	done
}

scratch=$(mktemp -d)
installing=
clean() {
	# shellcheck disable=SC2086 # a list of words
	[ -z "$installing" ] || as_only_one --purge $packages || true
	rm -rf "$scratch"
}
trap clean EXIT
trap 'exit 1' INT TERM

# ---- made: from another folder the same, and twice the same ----------------------------------------

cached() {
	sed -n "s/^$1:[A-Z]*=//p" "$built/CMakeCache.txt"
}
cmake -S "$source" -B "$scratch/build" -DCMAKE_INSTALL_PREFIX=/usr -DCMAKE_BUILD_TYPE="$(cached CMAKE_BUILD_TYPE)" \
	-DCMAKE_C_COMPILER="$(cached CMAKE_C_COMPILER)" -DCMAKE_C_FLAGS="$(cached CMAKE_C_FLAGS)" >/dev/null
cmake --build "$scratch/build" -j "$(nproc)" >"$scratch/log" 2>&1 || {
	cat "$scratch/log"
	exit 1
}
for file in funicle libfunicle.so libfunicle.a funicle.1 funicle.5 funicle.bash; do
	cmp "$built/$file" "$scratch/build/$file" || fail "$file depends on the folder it is built in"
done

pack() {
	(cd "$scratch/build" && cpack -B "$scratch/$1" >"$scratch/log" 2>&1) || {
		cat "$scratch/log"
		exit 1
	}
}
export SOURCE_DATE_EPOCH=1700000000
pack once
find "$scratch/build" -type f -exec touch {} +
pack twice
count=0
for file in "$scratch"/once/*.deb; do
	count=$((count + 1))
	cmp "$file" "$scratch/twice/$(basename "$file")" || fail "a package depends on when it is made"
done
[ "$count" = 3 ] || fail "$count packages, not 3"
lintian --allow-root --fail-on error "$scratch"/once/*.deb || fail "lintian finds errors"

# ---- hardened ----------------------------------------------------------------------------------------

hardened() { # what, in which tables of readelf, of the program and of the library
	for file in funicle libfunicle.so; do
		readelf -W "$2" "$scratch/build/$file" | grep -qE "$3" || fail "$file: no $1"
	done
}
hardened "place that is chosen anew each time" -h 'Type: +DYN'
hardened "table of addresses that is shut once it is filled" -l ' GNU_RELRO '
hardened "filling of that table at the start" -d '(BIND_NOW|FLAGS_1.*NOW)'
hardened "stack without code" -l ' GNU_STACK .* RW '
hardened "guard of the stack" --dyn-syms '__stack_chk_fail'
hardened "size held against what is written" --dyn-syms '__[a-z]+_chk@'

# ---- installed and used ----------------------------------------------------------------------------

installing=yes
as_only_one -i "$scratch"/once/*.deb
for package in $packages; do
	dpkg -L "$package"
done | sort -u >"$scratch/installed"

cd "$scratch"
answers() { # none over, or over: an answer
	code=0
	"$@" >"$scratch/out" || code=$?
	[ "$code" -le 1 ] && [ -s "$scratch/out" ] || fail "$*: ends with $code"
}
funicle=/usr/bin/funicle
"$funicle" --version | grep -q '^funicle [0-9]' || fail "no version"
"$funicle" selftest >"$scratch/out" || fail "selftest: $(tail -3 "$scratch/out")"
answers "$funicle" /usr/share/funicle/models/fern-house.xml
"$funicle" draw /usr/share/funicle/models/floating-redirect.xml -o figure.pdf || fail "no figure"
[ -s figure.pdf ] || fail "no figure"
bash -c '. /usr/share/bash-completion/completions/funicle && complete -p funicle' >/dev/null
printf '%s\n' '#include <stdio.h>' '#include <solver/funicle.h>' \
	'int main(void) { return puts(rn_version_text()) < 0; }' >version.c
# shellcheck disable=SC2046 # a list of words
"$(cached CMAKE_C_COMPILER)" version.c -o version $(pkg-config --cflags --libs funicle)
./version >/dev/null || fail "the shared library is not found"

# ---- removed ---------------------------------------------------------------------------------------

# shellcheck disable=SC2086 # a list of words
as_only_one --purge $packages
installing=
while read -r path; do
	if [ -e "$path" ] && [ ! -d "$path" ]; then
		fail "left behind: $path"
	fi
done <"$scratch/installed"
left=$(find /usr /etc /var/lib /opt -iname '*funicle*' -not -path "$source/*" -not -path "$built/*" 2>/dev/null || true)
[ -z "$left" ] || fail "left behind: $left"
for package in $packages; do
	! is_known "$package" || fail "dpkg still knows $package"
done
echo "3 packages made, installed, used and removed"
