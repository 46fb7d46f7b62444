#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Installs the Debian packages of .setup/packages that are missing: "build", "test", "analyse".
set -eu
here=$(dirname "$0")
wanted=
for purpose in "$@"; do
	wanted="$wanted $(sed -n "s/^$purpose //p" "$here/packages")"
done
missing=
for package in $wanted; do
	state=$(dpkg-query -W -f '${db:Status-Status}' "$package" 2>/dev/null || true)
	[ "$state" = installed ] || missing="$missing $package"
done
[ -n "$missing" ] || exit 0
echo "installing:$missing"
as_root=
[ "$(id -u)" = 0 ] || as_root=sudo
$as_root apt-get update -qq
# shellcheck disable=SC2086 # a list of words
DEBIAN_FRONTEND=noninteractive $as_root apt-get install -y -qq --no-install-recommends $missing >/dev/null
