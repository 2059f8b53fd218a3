# SPDX-License-Identifier: MIT
# shellcheck shell=bash
# Sourced by the test scripts: counts what passed, and closes with the line that the runner reads.
#
#   . "${BOUGHBOOK_SOURCE:-$PWD}/tests/support/shell.sh"
#   accepts a_fact_in_words boughbook --version
#   refuses bad_day_is_named '31 April' boughbook enter 'A3 note @ 31 april'
#   shows   the_sum_is_told '131.3' boughbook season
#   finish
#
# $scratch is a folder of the script's own, $program the built program; `boughbook` runs it.

set -uo pipefail

top=${BOUGHBOOK_SOURCE:-$PWD}
program=${BOUGHBOOK_BIN:-$top/build/boughbook}
scratch=$(mktemp -d)
passed=0 failed=0 skipped=0
at_end=()

leave() {
	local act
	for act in ${at_end[@]+"${at_end[@]}"}; do "$act"; done
	rm -rf "$scratch"
}
trap leave EXIT

boughbook() {
	"$program" "$@"
}

# verdict NAME STATUS: 0 is good; else what the last command said is shown.
verdict() {
	if [ "$2" -eq 0 ]; then
		passed=$((passed + 1))
	else
		failed=$((failed + 1))
		echo "FAILED: $1"
		sed 's/^/  | /' "$scratch/said" 2>/dev/null
	fi
}

# skip NAME WHY: counted and told.
skip() {
	skipped=$((skipped + 1))
	echo "skipped: $1: $2"
}

# says WORDS: they are in what the last command said, on either stream.
says() {
	grep -qF -- "$1" "$scratch/said"
}

# accepts NAME COMMAND...: it exits 0.
accepts() {
	local name=$1
	shift
	"$@" >"$scratch/said" 2>&1 </dev/null
	verdict "$name" $?
}

# shows NAME WORDS COMMAND...: it exits 0 and says WORDS.
shows() {
	local name=$1 words=$2
	shift 2
	"$@" >"$scratch/said" 2>&1 </dev/null && says "$words"
	verdict "$name" $?
}

# refuses NAME WORDS COMMAND...: it fails and says WORDS.
refuses() {
	local name=$1 words=$2
	shift 2
	if "$@" >"$scratch/said" 2>&1 </dev/null; then
		verdict "$name: was accepted" 1
	else
		says "$words"
		verdict "$name" $?
	fi
}

# exits NAME STATUS COMMAND...: with just this status.
exits() {
	local name=$1 want=$2 status=0
	shift 2
	"$@" >"$scratch/said" 2>&1 </dev/null || status=$?
	[ "$status" -eq "$want" ] || echo "exit status $status, want $want" >>"$scratch/said"
	[ "$status" -eq "$want" ]
	verdict "$name" $?
}

finish() {
	echo "$passed passed, $failed failed, $skipped skipped"
	[ "$failed" -eq 0 ] && [ $((passed + skipped)) -gt 0 ]
	exit
}
