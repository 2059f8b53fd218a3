#!/bin/bash
# SPDX-License-Identifier: MIT
# Is anything too long to read? Functions 60 lines, sources 500, headers 200, tests 900, Makefile
# 180, lines 100 columns (a tab is eight). Tables do not count, also when they stand in a function.
set -uo pipefail

faults=0
fault() {
	echo "$1"
	faults=$((faults + 1))
}

table_lines() { # FILE FIRST LAST: how many of these lines are a table inside a function
	sed -n "$2,$3p" "$1" | awk '
		/^\tstatic const / { inside = 1 }
		inside { lines++ }
		/^\t}?[^\t]*;$/ { inside = 0 }
		END { print lines + 0 }'
}

while IFS=$'\t' read -r name file first last; do
	lines=$((last - first + 1))
	[ "$lines" -le 60 ] || lines=$((lines - $(table_lines "$file" "$first" "$last")))
	[ "$lines" -le 60 ] || fault "$file:$first: $name has $lines lines; at most 60"
done < <(find src include tests -name '*.[ch]' -print0 |
	xargs -0 -r ctags --languages=C --langmap=C:.c.h --kinds-C=f --fields=ne --sort=no -f - |
	awk -F'\t' '!/^!/ {
		first = last = 0
		for (i = 4; i <= NF; i++) {
			if ($i ~ /^line:/) first = substr($i, 6)
			if ($i ~ /^end:/) last = substr($i, 5)
		}
		print $1 "\t" $2 "\t" first "\t" last
	}')

limit() { # LINES FILES...
	local most=$1 file lines
	shift
	for file; do
		lines=$(wc -l <"$file")
		[ "$lines" -le "$most" ] || fault "$file: $lines lines; at most $most"
	done
}

shopt -s globstar nullglob
limit 500 src/**/*.c
limit 200 include/**/*.h src/**/*.h tests/**/*.h
limit 900 tests/**/*.c tests/**/*.sh tests/**/*.py
limit 179 Makefile

while IFS= read -r hit; do
	fault "$hit"
done < <(for file in src/**/*.[ch] include/**/*.h tests/**/*.[ch]; do
	awk -v file="$file" '
	/clang-format off/ { table = 1 }
	/clang-format on/ { table = 0 }
	!table {
		columns = 0
		line = $0
		gsub(/[\200-\277]/, "", line)
		for (i = 1; i <= length(line); i++)
			columns = substr(line, i, 1) == "\t" ? columns - columns % 8 + 8 : columns + 1
		if (columns > 100) print file ":" NR ": " columns " columns; at most 100"
	}' "$file"
done)

[ "$faults" -eq 0 ] || echo "sizes: $faults faults"
[ "$faults" -eq 0 ]
