#!/bin/bash
# SPDX-License-Identifier: MIT
# Runs test programs, three at a time (those of the screens mostly wait), and adds up what they say.
#   run.sh [-v] PROGRAM|SCRIPT ...        -v: print everything they print
# Compiled programs are cmocka's; scripts (.sh, .py) close with "N passed, N failed[, N skipped]".
# Each has its own HOME, TZ=UTC, LANG=C.UTF-8 and at most TEST_TIMEOUT seconds (240).
# The last line is "N passed, N failed, N skipped"; the exit status is 1 when anything failed, and
# a program that ran no test has failed.
set -u

one() { # PROGRAM: runs it, leaves NAME.log and NAME.result
	local program=$1 name log started status=0
	name=${program#"$B"/}
	name=${name#tests/}
	log=$SCRATCH/${name//\//.}
	mkdir -p "$log.home"
	started=$EPOCHREALTIME
	local command=("$program")
	case $program in
	*.sh) command=(bash "$program") ;;
	*.py) command=(/usr/bin/python3 "$program") ;;
	esac
	HOME=$log.home timeout -k 5 "${TEST_TIMEOUT:-240}" "${command[@]}" \
		>"$log.log" 2>&1 </dev/null || status=$?
	printf '%s %s %s\n' "$name" "$status" \
		"$(awk -v a="$started" -v b="$EPOCHREALTIME" 'BEGIN { printf "%.2f", b - a }')" \
		>"$log.result"
}

# Prints "passed failed skipped" of one log.
count() {
	awk '
	/^\[  PASSED  \] [0-9]+ test\(s\)/ { passed += $4 }
	/^\[  FAILED  \] [0-9]+ test\(s\), listed below/ { failed += $4 }
	/^\[  SKIPPED \] [0-9]+ test\(s\), listed below/ { skipped += $4 }
	/^[0-9]+ passed, [0-9]+ failed/ { passed += $1; failed += $3; skipped += $5 }
	END { print passed + 0, failed + 0, skipped + 0 }' "$1"
}

# The log without the tests that went well.
failures() {
	awk '
	/^\[ RUN      \]/ { held = $0; next }
	/^\[       OK \]/ { held = ""; next }
	{ if (held != "") print held; held = ""; print }
	END { if (held != "") print held }' "$1"
}

closing() {
	grep -aE '^\[==========\] .*test\(s\) run|^\[  PASSED  \]|^[0-9]+ passed, [0-9]+ failed' "$1" |
		sed 's/\x1b/?/g'
}

if [ "${1:-}" = --one ]; then
	one "$2"
	exit 0
fi
verbose=
if [ "${1:-}" = -v ]; then
	verbose=1
	shift
fi

export B=${B:-build}
SCRATCH=$(mktemp -d "${TMPDIR:-/tmp}/boughbook-check.XXXXXX")
trap 'rm -rf "$SCRATCH"' EXIT
export SCRATCH TZ=UTC LANG=C.UTF-8 BOUGHBOOK_BIN=$PWD/$B/boughbook BOUGHBOOK_SOURCE=$PWD
export UBSAN_OPTIONS=print_stacktrace=1
unset LC_ALL BOUGHBOOK_LOG BOUGHBOOK_ALMANAC XDG_DATA_HOME NO_COLOR

printf '%s\0' "$@" | xargs -0 -r -n 1 -P "${TEST_JOBS:-3}" "$0" --one

passed=0 failed=0 skipped=0 red=()
for result in "$SCRATCH"/*.result; do
	[ -e "$result" ] || break
	read -r name status seconds <"$result"
	log=${result%.result}.log
	read -r p f s < <(count "$log")
	said=$((p + f + s))
	if [ "$status" -ne 0 ] && [ "$f" -eq 0 ] || [ "$said" -eq 0 ]; then f=$((f + 1)); fi
	echo "$name ($seconds s)"
	if [ -n "$verbose" ]; then
		cat "$log"
	else
		closing "$log"
	fi
	if [ "$f" -ne 0 ]; then red+=("$name $status $said $log"); fi
	passed=$((passed + p)) failed=$((failed + f)) skipped=$((skipped + s))
done

for entry in ${red[@]+"${red[@]}"}; do
	read -r name status said log <<<"$entry"
	if [ -z "$verbose" ]; then
		printf '\n---- %s: exit status %s\n' "$name" "$status"
		failures "$log"
	fi
	[ "$status" -ne 124 ] || echo "$name: stopped after ${TEST_TIMEOUT:-240} s"
	[ "$said" -ne 0 ] || echo "FAILED: $name ran no test"
done
if [ $((passed + failed + skipped)) -eq 0 ] && [ $# -gt 0 ]; then failed=1; fi
echo
echo "$passed passed, $failed failed, $skipped skipped"
[ "$failed" -eq 0 ]
