#!/bin/bash
# SPDX-License-Identifier: MIT
# What the suite ran of each source, from a build with COVERAGE=1: coverage.sh build/coverage
set -euo pipefail
cd "$1/src"
find . -name '*.gcno' -print0 | sort -z | while IFS= read -r -d '' notes; do
	(cd "$(git rev-parse --show-toplevel)" && gcov -n -o "$1/src/$notes" "src/${notes%.gcno}.c") |
		awk -v name="src/${notes#./}" '
			/^File / { ours = $0 ~ /src\// }
			/^Lines executed/ && ours {
				split($2, part, "[:%]")
				sub(/\.gcno$/, ".c", name)
				printf "%6.2f %% of %4d lines  %s\n", part[2], $4, name
				ours = 0
			}'
done
