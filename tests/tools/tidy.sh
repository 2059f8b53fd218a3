#!/bin/bash
# SPDX-License-Identifier: MIT
# clang-tidy over one source: tidy.sh SOURCE STAMP FLAGS...
# Prints what it finds in one piece, so that two at a time do not mix; when it finds nothing, leaves
# STAMP and the headers it read in STAMP.d, so that make need not look again.
set -uo pipefail
source=$1 stamp=$2
shift 2
flags=(-std=c17 "$@" -Itests)
told=(-include tests/tools/analyzer.h)
[ "$source" != src/core/fault.c ] || told=()
# It cannot know that a failed assertion of cmocka does not come back; in a test a crash tells enough.
checks=
[[ $source != tests/* ]] || checks='--checks=-clang-analyzer-core.*,-cert-flp30-c,-cert-err34-c,-bugprone-macro-parentheses'

mkdir -p "$(dirname "$stamp")"
if ! found=$(clang-tidy --quiet $checks "$source" -- "${told[@]}" "${flags[@]}" 2>/dev/null); then
	echo "$found" | grep -A2 -E ': (error|warning): ' | sed "s|^$PWD/||; s|,-warnings-as-errors||"
	exit 1
fi
"${CC:-cc}" -MM -MP -MT "$stamp" -MF "$stamp.d" "${flags[@]}" "$source" && touch "$stamp"
