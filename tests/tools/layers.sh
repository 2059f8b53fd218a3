#!/bin/bash
# SPDX-License-Identifier: MIT
# Are the layers kept? layers.sh [ARCHIVE]
# Reads the include lines of src, include and tests against the table below; sees that SQLite,
# curses, the clock and the heap are touched only at home; compiles every header alone; and with
# an archive, that nothing in it can be changed behind a caller's back (no mutable globals).
set -uo pipefail

# layer: the layers it may include, besides itself
declare -A MAY=(
	[core]=""
	[store]="core"
	[almanac]="core"
	[reckon]="core almanac"
	[rules]="core almanac reckon"
	[dossier]="core store almanac reckon rules"
	[report]="core store almanac reckon rules dossier"
	[exchange]="core store almanac reckon rules dossier report"
	[screens]="core store almanac reckon rules dossier report exchange"
	[cli]="core store almanac reckon rules dossier report exchange screens"
)

# Statics that have to change, and why: FILE:NAME. Signal and exit handlers take no argument.
MUTABLE=" term:terminal ${MUTABLE_ALLOWED:-} "

faults=0
fault() {
	echo "$1"
	faults=$((faults + 1))
}

arrows() { # every #include "..." of our own
	local file line path layer other
	while IFS=: read -r file line path; do
		layer=${file#*/}
		layer=${layer%%/*}
		other=${path%%/*}
		if [ -z "${MAY[$layer]+known}" ]; then
			fault "$file:$line: $layer is not a layer"
		elif [ ! -e "include/$path" ] && [ ! -e "src/$path" ] && [ ! -e "$(dirname "$file")/$path" ]; then
			fault "$file:$line: no header \"$path\""
		elif [[ $path != */* ]]; then
			continue # of the same folder
		elif [ "$other" != "$layer" ] && [[ " ${MAY[$layer]} " != *" $other "* ]]; then
			fault "$file:$line: $layer may not include \"$path\""
		elif [ "$other" != "$layer" ] && [ ! -e "include/$path" ]; then
			fault "$file:$line: \"$path\" belongs to $other alone"
		fi
	done < <(grep -rnE --include='*.[ch]' '^[[:space:]]*#[[:space:]]*include[[:space:]]*"' src include |
		sed -E 's/^([^:]*:[0-9]+):.*"([^"]*)".*/\1:\2/')
	while IFS= read -r line; do
		fault "$line: a .c file is included"
	done < <(grep -rnE --include='*.[ch]' '^[[:space:]]*#[[:space:]]*include.*\.c[">]' src include tests)
}

home() { # PATTERN WHERE WHAT: the pattern stands only in files that match WHERE
	local hit
	while IFS= read -r hit; do
		fault "$hit: $3"
	done < <(grep -rnE --include='*.[ch]' "$1" src include | grep -vE "^($2)" | cut -d: -f1,2)
}

homes() {
	local start='^[[:space:]]*#[[:space:]]*include[[:space:]]*<' word='(^|[^_[:alnum:]])'
	home "${start}sqlite3\.h>" 'src/store/' 'SQLite is at home in src/store'
	home "${start}(n?curses|ncursesw/.*|panel|term|form|menu)\.h>" 'src/screens/' \
		'curses is at home in src/screens'
	home "${start}(sys/)?time\.h>" 'src/core/clock\.c' 'the clock is at home in src/core/clock.c'
	home "${word}(malloc|calloc|realloc|free)[[:space:]]*\(" 'src/core/memory\.c' \
		'the heap is at home in src/core/memory.c'
	home "${word}(rand|srand|random|getrandom|getentropy)[[:space:]]*\(" 'src/core/clock\.c' \
		'randomness is at home in src/core/clock.c'
}

# The four doors: a file written whole, a database opened and hardened, text fitted to cells, text
# made clean for any output. What stands here is a door itself, or reads, or writes what is clean.
doors() {
	local call='(^|[^_>.[:alnum:]])' # a blank before the bracket is a word of a comment
	home "${call}(open|openat|creat|mkstemp|fopen|freopen|fdopen|tmpfile)\(" \
		'src/core/(file|file_write|folder)\.c|src/store/(logfile|create|merge_other)\.c|src/almanac/(sheet|almanac_find)\.c|src/exchange/(table_reader|manifest)\.c|src/cli/main\.c' \
		'files are opened by core/file.h or core/folder.h'
	home "${call}(rename|renameat|link|unlink|truncate|ftruncate)\(" \
		'src/core/(file_write|folder|leftover)\.c|src/store/(create|copy|backup|merge_other)\.c|src/exchange/import_all\.c' \
		'files are put in their place by core/file.h, logs by the store'
	home 'sqlite3_open' 'src/store/(connect|copy|json|schema)\.c' \
		'databases are opened and hardened by src/store/connect.c'
	home "${call}(mv)?w?(add|ins)n?_?w?(str|ch|chstr)\(|${call}(mv)?w?printw\(|${call}wcs?width\(" \
		'src/screens/paper\.c' 'text is put on the screen, and measured, by src/screens/paper.h'
	home "${call}(printf|vprintf|fprintf|vfprintf|dprintf|fputs|fputc|puts|putc|putchar|fwrite|putwc|fputws)\(" \
		'src/almanac/embed_main\.c|src/core/(clock|csv_write|file_write|memory)\.c|src/report/(document|html|rows)\.c|src/exchange/(geojson|icalendar|manifest|table_writer)\.c|src/screens/(loop|plain)\.c|src/cli/(call|cmd_enter|main|progress)\.c' \
		'people read what went through report/rows, html or csv, which clean it'
}

alone() { # every header compiles by itself, twice
	local header
	while IFS= read -r header; do
		printf '#include "%s"\n#include "%s"\n' "$header" "$header" |
			${CC:-cc} -std=c17 -D_XOPEN_SOURCE=700 -DNCURSES_WIDECHAR=1 -Wall -Wextra \
				-Wpedantic -Werror -Iinclude -Isrc -Itests -I. -fsyntax-only -x c - ||
			fault "$header: does not compile alone"
	done < <(find include src tests -name '*.h')
}

constant() { # ARCHIVE
	local object name
	while read -r object name; do
		[[ $MUTABLE == *" ${object%.o}:${name%.*} "* ]] ||
			fault "${object%.o}.c: '${name%.*}' is a mutable global"
	done < <(objdump -t "$1" | awk '
		/^[^ ]+\.o:/ { object = $1; sub(/:$/, "", object) }
		/ O \.(data|bss)(\.[^r][^ ]*)?\t/ { print object, $NF }')
}

arrows
homes
doors
alone
if [ $# -gt 0 ]; then constant "$1"; fi
[ "$faults" -eq 0 ] || echo "layers: $faults faults"
[ "$faults" -eq 0 ]
