#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
#
# The walls between the rooms, and what the solver's archive may contain.
#
#     architecture.sh SOURCES ARCHIVE
#
# SOURCES is the folder that holds solver/, io/ and tests/; ARCHIVE a static library of solver/.
# Prints every breach and ends with 1 if there is one.
set -u
export LC_ALL=C
sources=${1:?usage: architecture.sh SOURCES ARCHIVE}
archive=${2:?usage: architecture.sh SOURCES ARCHIVE}
cd "$sources" || exit 2
[ -r "$archive" ] || { echo "$archive: cannot be read"; exit 2; }
found=$(mktemp) || exit 2
trap 'rm -f "$found"' EXIT

# Every line on standard input is a breach of the rule named.
breaches() {
	sed "s|^|$1: |" >>"$found"
}

# Lines "file:line:#include ..." of the C files under the folders given.
includes() {
	grep -rnE --include='*.c' --include='*.h' '^[[:space:]]*#[[:space:]]*include' "$@"
}

# ---- arrows only point down ------------------------------------------------------------------------

# A file of one layer includes files of its own layer and of those named before it, never of a later.
layers() {
	root=$1
	shift
	above="$*"
	for layer in "$@"; do
		above=${above#"$layer"}
		above=${above# }
		for higher in $above; do
			includes "$root/$layer" | grep -F "\"$root/$higher/"
		done
	done | breaches "an arrow points up"
}
layers solver base data model statics strength study
layers io base xml report figure cli

includes solver | grep -F '"io/' | breaches "solver/ knows io/"
includes io | grep -F '"solver/' | grep -vF '"solver/funicle.h"' |
	breaches "io/ goes past the door solver/funicle.h"
includes solver io | grep -E 'include[[:space:]]*"' | grep -vE '"(solver|io)/' |
	breaches "an include does not say its folder"

# ---- each foreign library behind its own wall ------------------------------------------------------

# only LIBRARY PATTERN-OF-HEADER ALLOWED-FILES(regular expression)
only() {
	includes solver io | grep -E "<$2" | grep -vE "^($3)" | breaches "$1 outside its place"
}
only libxml2 'libxml/' 'io/xml/|io/cli/main\.c:[0-9]+:#include <libxml/parser\.h>'
only cairo '(cairo|pango)' 'io/figure/'
only GSL 'gsl/' 'solver/statics/linear\.c|solver/base/points\.c|solver/base/roots\.c|io/cli/main\.c:[0-9]+:#include <gsl/gsl_errno\.h>'
only SuiteSparse '(amd|ldl|klu|cholmod|umfpack|SuiteSparse[A-Za-z_]*)\.h' 'solver/statics/sparse\.c'
only GLPK 'glpk\.h' 'solver/statics/program\.c'
only setjmp 'setjmp\.h' 'solver/statics/program\.c'
only threads '(pthread|threads)\.h' 'solver/base/crew\.[ch]'
only stdio 'stdio\.h' 'io/'
only locale 'locale\.h' 'nowhere'

# Jumps are for the one library that ends the process otherwise. Streams belong to io/cli. The writer of the reference pages is a program of its own.
grep -rnE --include='*.c' --include='*.h' \
	'\<(FILE|stdout|stderr|stdin|printf|fprintf|vprintf|vfprintf|puts|fputs|fputc|putchar|fwrite|fread|fopen|perror|fflush)\>[[:space:]]*[(*;,)]' \
	solver io | grep -vE '^io/(cli/|xml/write_grammar\.c)' | grep -vE '__attribute__|format\(printf' |
	breaches "a stream outside io/cli"
grep -rnE --include='*.c' --include='*.h' '\<(exit|abort|setlocale)[[:space:]]*\(' solver |
	breaches "solver/ ends or changes its process"

# ---- every file ------------------------------------------------------------------------------------

grep -rnE --include='*.c' --include='*.h' '\<assert_float_(not_)?equal\>' solver io tests |
	breaches "compares floats where doubles are meant"

# The licence stands in the first line, or in the second of a file that must begin with something else.
find CMakeLists.txt .packaging solver io tests models doc -type f \
	\( -name '*.c' -o -name '*.h' -o -name '*.sh' -o -name '*.py' -o -name '*.cmake' -o -name CMakeLists.txt \) |
	while read -r file; do
		head -n 1 "$file" | grep -q 'SPDX-License-Identifier: GPL-3.0-or-later' && continue
		head -n 1 "$file" | grep -q '^#!' &&
			sed -n 2p "$file" | grep -q '^# SPDX-License-Identifier: GPL-3.0-or-later' && continue
		echo "$file"
	done | breaches "no licence line"

# ---- the archive -----------------------------------------------------------------------------------

nm -g --defined-only "$archive" | awk 'NF == 3 && $3 !~ /^rn_/ { print $3 }' |
	breaches "an exported name lacks the prefix rn_"

# Sanitizers and coverage bring symbols of their own: there only the names above are looked at.
if nm -u "$archive" | grep -qE '__(asan|ubsan|gcov|llvm_profile)'; then
	echo "built with instruments: imports and globals are not looked at"
else
	nm -u "$archive" | awk 'NF == 2 { print $2 }' | sort -u |
		grep -xE '(__)?(f|v|vf|d|vd)?printf(_chk)?|puts|fputs|putchar|fputc|putc|fwrite|fopen|perror|stdout|stderr|stdin|_?exit|_Exit|quick_exit|abort|__assert_fail|setlocale|uselocale|newlocale|signal|getenv|malloc_trim|gsl_set_error_handler(_off)?' |
		breaches "the archive imports"
	nm --format=sysv "$archive" |
		awk -F'|' 'NF == 7 {
			gsub(/[[:space:]]/, "", $1); gsub(/[[:space:]]/, "", $7)
			if ($7 ~ /^\.(data|bss|tdata|tbss)/ && $7 !~ /^\.data\.rel\.ro/ || $7 == "*COM*")
				print $1 " in " $7
		}' | breaches "the archive has a writable global"
fi

# An archive without the solver in it would satisfy everything above.
nm -g --defined-only "$archive" | grep -q ' T rn_solve$' || echo "$archive" | breaches "no solver in the archive"

sort -u "$found"
[ ! -s "$found" ]
