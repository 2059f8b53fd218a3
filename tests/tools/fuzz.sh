#!/bin/bash
# SPDX-License-Identifier: MIT
# Looks for bytes that break the program, with clang's libFuzzer, AddressSanitizer and UBSan:
#   fuzz.sh fuzz|fuzz-smoke [NAME...]
# Each tests/fuzz/test_NAME.c runs for FUZZ_TIME seconds (600; fuzz-smoke 30), two at a time. It
# begins with tests/fuzz/corpus/NAME and what earlier runs kept in build/fuzz/corpus/NAME. What
# crashes, leaks or hangs (FUZZ_HANG seconds by the clock, 10: more on a machine that others use)
# lies in build/fuzz/finds/NAME afterwards, beside what earlier runs found; a small copy of it in
# tests/fuzz/corpus/NAME is a test from then on. The last line is "N passed, N failed".
set -uo pipefail
how=$1
shift
B=build/fuzz
mkdir -p "$B"
time=${FUZZ_TIME:-600}
[ "$how" != fuzz-smoke ] || time=${FUZZ_TIME:-30}
names=("$@")
if [ ${#names[@]} -eq 0 ]; then
	mapfile -t names < <(find tests/fuzz -name 'test_*.c' | sed 's,.*/test_,,; s,\.c$,,' | sort)
fi

if [ "$how" = one ]; then
	name=$1 kept=$B/corpus/$1 finds=$B/finds/$1
	mkdir -p "$kept" "$finds"
	touch "$B/$name.begun"
	"$B/tests/fuzz/test_$name" -max_total_time="$time" -max_len=4096 -timeout="${FUZZ_HANG:-10}" \
		-rss_limit_mb=3000 -print_final_stats=1 -artifact_prefix="$finds/" \
		"$kept" "tests/fuzz/corpus/$name" >"$B/$name.log" 2>&1
	status=$?
	runs=$(sed -n 's/^stat::number_of_executed_units: *//p' "$B/$name.log")
	if [ "$status" -eq 0 ]; then
		echo "$name: $runs runs in $time s, nothing found"
	else
		echo "$name: FAILED after $runs runs; $(find "$finds" -type f \
			-newer "$B/$name.begun" | tr '\n' ' ')"
		grep -E -A18 'ERROR:|runtime error:|Assertion' "$B/$name.log" | head -40
		touch "$B/$name.failed"
	fi
	exit 0
fi

programs=()
for name in "${names[@]}"; do programs+=("$B/tests/fuzz/test_$name"); done
# The main of the ordinary test gives way to that of the fuzzer. The tables of the almanac are made by
# the ordinary build: theirs is a main that stays.
make --no-print-directory build/embed_almanac >"$B.log" 2>&1 &&
make --no-print-directory B="$B" EMBEDDER=build/embed_almanac CC=clang WERROR= SAN= COVERAGE= CPPFLAGS=-Dmain=replay \
	MODE_FLAGS='-O1 -fno-omit-frame-pointer -fsanitize=fuzzer-no-link,address,undefined -fno-sanitize-recover=all' \
	LDFLAGS=-fsanitize=fuzzer "${programs[@]}" >"$B.log" 2>&1 || {
	tail -30 "$B.log"
	echo "0 passed, 1 failed"
	exit 1
}
rm -f "$B"/*.failed
export FUZZ_TIME=$time
printf '%s\0' "${names[@]}" | xargs -0 -n 1 -P "${FUZZ_JOBS:-2}" "$0" one
failed=$(find "$B" -maxdepth 1 -name '*.failed' | wc -l)
echo "$((${#names[@]} - failed)) passed, $failed failed"
[ "$failed" -eq 0 ]
