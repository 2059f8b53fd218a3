#!/bin/bash
# SPDX-License-Identifier: MIT
# The tools that judge the source and the suite: the source keeps its layers and sizes, and small
# trees made here show that the tools would see it if it did not.
. "${BOUGHBOOK_SOURCE:-$PWD}/tests/support/shell.sh"

tools=$top/tests/tools
tree=$scratch/tree
mkdir "$tree"

plant() { # FILE TEXT: a new small tree with one good header, and this file
	rm -rf "$tree/src" "$tree/include" "$tree/tests"
	mkdir -p "$tree/include/core" "$tree/include/store" "$tree/src/store" "$tree/tests" \
		"$tree/$(dirname "$1")"
	printf 'int core_good(void);\n' >"$tree/include/core/good.h"
	printf 'int store_good(void);\n' >"$tree/include/store/good.h"
	printf 'int store_own(void);\n' >"$tree/src/store/own.h"
	touch "$tree/Makefile"
	printf '%b' "$2" >"$tree/$1"
}

inside() { # COMMAND...: run in the small tree
	(cd "$tree" && "$@")
}

layers() { # NAME WORDS FILE TEXT
	plant "$3" "$4"
	refuses "$1" "$2" inside "$tools/layers.sh"
}

if [ "${B:-build}" = build ]; then
	accepts the_source_keeps_its_layers "$tools/layers.sh" "$top/build/libboughbook.a"
else # sanitizers and counters bring globals of their own
	accepts the_source_keeps_its_layers "$tools/layers.sh"
fi

plant src/store/a.c '#include "core/good.h"\n#include "store/own.h"\n#include <sqlite3.h>\n'
accepts arrows_down_are_fine inside "$tools/layers.sh"
layers arrow_up_is_seen 'core may not include "store/good.h"' \
	src/core/a.c '#include "store/good.h"\n'
layers arrow_up_from_a_header_is_seen 'core may not include' \
	include/core/a.h '#include "store/good.h"\n'
layers private_header_is_kept 'belongs to store alone' \
	src/dossier/a.c '#include "store/own.h"\n'
layers unknown_layer_is_seen 'barn is not a layer' src/barn/a.c '#include "core/good.h"\n'
layers missing_header_is_seen 'no header "core/none.h"' src/core/a.c '#include "core/none.h"\n'
layers included_source_is_seen 'a .c file is included' tests/a.c '#include "../src/a.c"\n'
layers sqlite_away_from_home_is_seen 'SQLite is at home' src/report/a.c '#include <sqlite3.h>\n'
layers curses_away_from_home_is_seen 'curses is at home' src/cli/a.c '#include <panel.h>\n'
layers clock_away_from_home_is_seen 'the clock is at home' src/core/a.c '# include <time.h>\n'
layers heap_away_from_home_is_seen 'src/core/a.c:2: the heap is at home' \
	src/core/a.c 'int a;\nvoid *b = malloc (3);\n'
layers second_way_to_open_a_file_is_seen 'src/report/a.c:2: files are opened by' \
	src/report/a.c 'int b(void)\n{ return open("x", 0); }\n'
layers second_way_to_place_a_file_is_seen 'files are put in their place' \
	src/exchange/a.c '\trename(one, two);\n'
layers second_way_to_open_a_log_is_seen 'databases are opened and hardened' \
	src/store/a.c '\tsqlite3_open("x", &db);\n'
layers second_way_to_the_screen_is_seen 'text is put on the screen' \
	src/screens/a.c '\tmvwaddstr(window, 0, 0, name);\n'
layers second_measure_of_text_is_seen 'text is put on the screen, and measured' \
	src/screens/a.c '\treturn wcswidth(name, 9);\n'
layers second_way_out_is_seen 'people read what went through' src/report/a.c '\tprintf("%s", name);\n'
layers header_that_needs_another_is_seen 'does not compile alone' \
	include/core/a.h 'int core_a(struct unknown one, int32_t two);\n'

plant src/core/a.c 'int core_good(int a);\nint core_good(int a) { static int b; return b += a; }\n'
inside "${CC:-cc}" -c src/core/a.c -o a.o && inside ar rcs a.a a.o
refuses mutable_global_is_seen "a.c: 'b' is a mutable global" inside "$tools/layers.sh" a.a
plant src/core/a.c 'extern const char *const names[];\nconst char *const names[] = {"a", "b"};\n'
rm -f "$tree/a.a"
inside "${CC:-cc}" -fPIE -c src/core/a.c -o a.o && inside ar rcs a.a a.o
accepts constant_table_is_no_global inside "$tools/layers.sh" a.a

sizes() { # NAME WORDS FILE TEXT; WORDS "": is accepted. Counting needs what only lint installs
	plant "$3" "$4"
	if ! command -v ctags >/dev/null 2>&1; then
		skip "$1" 'no ctags here'
	elif [ -z "$2" ]; then
		accepts "$1" inside "$tools/sizes.sh"
	else
		refuses "$1" "$2" inside "$tools/sizes.sh"
	fi
}

lines() { # COUNT: that many lines inside a function
	printf 'int long_one(int a);\nint long_one(int a)\n{\n'
	for ((i = 0; i < $1 - 4; i++)); do printf '\ta++;\n'; done
	printf '\treturn a;\n}\n'
}
sizes function_of_60_lines_is_fine '' src/core/a.c "$(lines 60)\n"
sizes function_of_61_lines_is_seen 'long_one has 61 lines' src/core/a.c "$(lines 61)\n"
sizes table_in_a_function_does_not_count '' src/core/a.c \
	"$(lines 60 | sed '3a\\\tstatic const int rows[] = {\n\t\t1,\n\t\t2,\n\t};')\n"
sizes source_of_501_lines_is_seen '501 lines; at most 500' src/core/a.c "$(yes '/* */' | head -501)\n"
sizes header_of_201_lines_is_seen '201 lines; at most 200' \
	include/core/a.h "$(yes '/* */' | head -201)\n"
sizes letters_are_counted_not_bytes '' src/core/a.c "\t/* $(printf 'é%.0s' {1..86}) */\n"
sizes line_of_101_columns_is_seen '101 columns' src/core/a.c "\t/* $(printf 'x%.0s' {1..87}) */\n"

program() { # TEXT: a test script of its own
	plant tests/test_a.sh "$1"
}
program 'echo "3 passed, 0 failed, 1 skipped"\n'
accepts runner_passes_what_passed inside "$tools/run.sh" tests/test_a.sh
tail -1 "$scratch/said" | grep -qx '3 passed, 0 failed, 1 skipped'
verdict runner_adds_up $?
program 'echo "3 passed, 1 failed"; exit 1\n'
refuses runner_tells_failures '3 passed, 1 failed, 0 skipped' inside "$tools/run.sh" tests/test_a.sh
program 'echo "3 passed, 0 failed"; exit 5\n'
refuses runner_heeds_the_exit_status 'exit status 5' inside "$tools/run.sh" tests/test_a.sh
program 'echo "0 passed, 0 failed"\n'
refuses runner_wants_a_test 'ran no test' inside "$tools/run.sh" tests/test_a.sh
program 'kill -11 $$\n'
refuses runner_sees_a_crash 'ran no test' inside "$tools/run.sh" tests/test_a.sh
program 'sleep 20\n'
refuses runner_stops_a_sleeper 'stopped after 1 s' \
	inside env TEST_TIMEOUT=1 "$tools/run.sh" tests/test_a.sh
program 'test "$TZ$LANG" = UTCC.UTF-8 && test -d "$HOME" && test -z "${LC_ALL:-}" &&
	test ! -t 0 && echo "1 passed, 0 failed"\n'
accepts runner_sets_the_scene inside env LC_ALL=C HOME=/nowhere "$tools/run.sh" tests/test_a.sh

refuses embed_wants_every_number 'expected a name like 001_' sh "$top/schema/embed.sh" \
	schema/002_later.sql
mkdir "$scratch/tables" && cp "$top"/share/almanac/*.csv "$scratch/tables" &&
	sed -i '3s/heading/never/' "$scratch/tables/cuts.csv"
refuses embed_names_the_broken_cell 'cuts.csv line 3 column 4 (kind)' \
	"$top/${B:-build}/embed_almanac" "$scratch/tables"
accepts embed_reads_whole_tables "$top/${B:-build}/embed_almanac" "$top/share/almanac"
bare() { # UID: a machine without a compiler, whose apt-get notes what it was asked
	local name
	rm -rf "$tree/bin"
	mkdir "$tree/bin"
	for name in sh env; do ln -s "$(command -v $name)" "$tree/bin/$name"; done
	printf '#!/bin/sh\necho %s\n' "$1" >"$tree/bin/id"
	cat >"$tree/bin/apt-get" <<-'END'
		#!/bin/sh
		echo "asked $*"
		case "$1" in
		update) echo >"${0%/*}/updated" ;;
		install) [ -e "${0%/*}/updated" ] && [ "$DEBIAN_FRONTEND" = noninteractive ] ;;
		esac
	END
	chmod +x "$tree/bin/id" "$tree/bin/apt-get"
}

need() { # WHAT: on that machine
	env -i PATH="$tree/bin" "$tools/need.sh" "$1" </dev/null
}

bare 0
accepts need_installs_for_root need demo
says 'asked update' && says 'asked install -y --no-install-recommends gcc make'
verdict need_fetches_the_index_once $?
bare 1000
refuses need_prints_the_one_command 'apt-get install gcc make' need demo
! says asked
verdict need_leaves_the_machine_alone $?
refuses need_knows_its_words 'usage' "$tools/need.sh" everything

finish
