#!/bin/sh
# SPDX-License-Identifier: MIT
# Sees that what a target needs is on this machine: need.sh demo|check|lint|fuzz|outside|sweep.
# Missing Debian packages are installed when root; where sudo and a terminal are there, it asks
# once; else it prints the one command and stops. It looks for the files themselves, so that a
# hand-built ncurses counts, and takes no time when nothing is missing. FETCH_S=N: what is fetched
# is here within N seconds, or it fails.
set -eu

usage() {
	echo "usage: need.sh demo|check|lint|fuzz|outside|sweep" >&2
	exit 2
}

missing=

# PACKAGE is missing unless the command or one of the files is there.
command_of() { # COMMAND PACKAGE
	command -v "$1" >/dev/null 2>&1 || missing="$missing $2"
}

header_of() { # HEADER PACKAGE
	for folder in /usr/include /usr/local/include /usr/include/ncursesw; do
		if [ -e "$folder/$1" ]; then return; fi
	done
	missing="$missing $2"
}

need_demo() {
	command_of "${CC:-cc}" gcc
	command_of make make
	header_of stdlib.h libc6-dev
	header_of panel.h libncurses-dev
	header_of sqlite3.h libsqlite3-dev
}

need_check() {
	need_demo
	header_of cmocka.h libcmocka-dev
	command_of tmux tmux
	command_of sqlite3 sqlite3
	[ -x /usr/bin/python3 ] || missing="$missing python3"
}

need_lint() {
	need_check
	command_of clang-tidy clang-tidy
	command_of clang-format clang-format
	command_of cppcheck cppcheck
	command_of mandoc mandoc
	command_of ctags universal-ctags
}

need_fuzz() {
	need_check
	command_of clang clang
	# the libraries of its sanitizers and of its fuzzer
	set -- /usr/lib/llvm-*/lib/clang/*/lib/linux/libclang_rt.fuzzer-*.a
	[ -e "$1" ] || missing="$missing libclang-rt-dev"
}

need_outside() {
	need_demo
	command_of node nodejs
	command_of npm npm
	[ -x /usr/bin/python3 ] || missing="$missing python3"
	if [ ! -d /usr/lib/python3/dist-packages/geographiclib ]; then
		missing="$missing python3-geographiclib"
	fi
}

need_sweep() {
	need_check
	command_of node nodejs
	command_of npm npm
	if [ ! -d /usr/lib/python3/dist-packages/ephem ]; then missing="$missing python3-ephem"; fi
}

apt_get() { # [sudo] -- ARGUMENTS; what fetches can be stopped at any moment, what unpacks cannot
	local as=
	while [ "$1" != -- ]; do as="$as $1" && shift; done
	shift
	local limit=
	case $1${2:-} in update* | install-d) limit=${FETCH_S:+timeout -k 5 $FETCH_S} ;; esac
	# shellcheck disable=SC2086
	$as env DEBIAN_FRONTEND=noninteractive $limit apt-get "$@"
}

install_with() { # [sudo]: the index is fetched only where the packages are not known yet
	# shellcheck disable=SC2086
	set -- "$@" --
	# shellcheck disable=SC2086
	apt_get "$@" install -d -y --no-install-recommends $missing >/dev/null 2>&1 || {
		apt_get "$@" update
		apt_get "$@" install -d -y --no-install-recommends $missing
	}
	# shellcheck disable=SC2086
	apt_get "$@" install -y --no-install-recommends $missing
}

case ${1:-} in
demo | check | lint | fuzz | outside | sweep) "need_$1" ;;
*) usage ;;
esac
[ -n "$missing" ] || exit 0

if command -v apt-get >/dev/null 2>&1; then
	if [ "$(id -u)" -eq 0 ]; then
		echo "installing$missing"
		install_with
		exit
	fi
	if command -v sudo >/dev/null 2>&1 && [ -t 0 ] && [ -t 1 ]; then
		printf 'not on this machine:%s\ninstall with sudo apt-get? [y/N] ' "$missing"
		read -r answer
		case $answer in
		y | Y | yes)
			install_with sudo
			exit
			;;
		esac
	fi
fi
echo "these Debian packages are missing; as root run:" >&2
echo "    apt-get install$missing" >&2
exit 1
