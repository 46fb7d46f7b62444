#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# What is made from the element table and kept in the tree must be what the table makes now.
#     generated.sh TABLES SOURCE
set -u
tables=$1
source=$2
wrong=0
compare() { # what, file
	"$tables" "$1" | cmp -s - "$source/$2" || {
		echo "$2 is not what the table makes: $(basename "$tables") $1 > $2"
		wrong=1
	}
}
compare rng io/xml/rigging.rng
compare format doc/format.md
exit $wrong
