#!/bin/bash
# SPDX-License-Identifier: MIT
# All of `make lint` but clang-tidy, which make runs file by file: lint.sh ARCHIVE
set -uo pipefail

archive=$1
failed=()

step() { # NAME COMMAND...
	local name=$1
	shift
	echo "  lint $name"
	"$@" || failed+=("$name")
}

sources() {
	find src include tests -name '*.[ch]' | sort
}

format() {
	local file status=0
	while IFS= read -r file; do
		clang-format "$file" | cmp -s - "$file" && continue
		echo "$file: not laid out as clang-format does it"
		status=1
	done < <(sources)
	return $status
}

# Suppressed by kind, never in the source. Tables of functions and compound literals are beyond this
# cppcheck; clang-analyzer looks for the same faults.
static_check() {
	mkdir -p build/lint/cppcheck
	cppcheck -q -j 2 --cppcheck-build-dir=build/lint/cppcheck --std=c11 --error-exitcode=1 \
		--enable=warning,performance,portability \
		--suppress=missingIncludeSystem \
		--suppress=internalAstError --suppress=uninitvar --suppress=varFuncNullUB \
		"--suppress=nullPointer:tests/*" "--suppress=nullPointerRedundantCheck:tests/*" \
		-Iinclude -Isrc -Itests src tests
}

manual() {
	local pages
	shopt -s nullglob
	pages=(man/*.[1-9])
	[ ${#pages[@]} -eq 0 ] || mandoc -Tlint -Wwarning "${pages[@]}"
}

top_level() {
	local name status=0
	while IFS= read -r name; do
		case $name in
		.* | README.md | DEVELOPERS.md | Makefile | src | include | tests | schema | share | man) ;;
		*)
			echo "$name: does not belong at the top level"
			status=1
			;;
		esac
	done < <(git ls-files 2>/dev/null | cut -d/ -f1 | sort -u)
	for name in README.md DEVELOPERS.md Makefile src include tests schema share man; do
		[ -e "$name" ] || {
			echo "$name: is not there"
			status=1
		}
	done
	return $status
}

unfinished() { # marks of work left undone, and files without their licence line
	local status=0
	grep -rnE '\b(TO''DO|FIX''ME|XX''X|HA''CK)\b|@[A-Z]+@' Makefile src include tests schema share man ./*.md \
		--include='*' 2>/dev/null && status=1
	while IFS= read -r file; do
		head -2 "$file" | grep -q 'SPDX-License-Identifier: MIT' || {
			echo "$file: no licence line"
			status=1
		}
	done < <(find src include tests schema -name '*.[ch]' -o -name '*.sh' -o -name '*.py' -o -name '*.sql')
	return $status
}

scripts() {
	local file status=0
	while IFS= read -r file; do
		bash -n "$file" || status=1
	done < <(find tests schema .ci -name '*.sh' -o -path .ci/run)
	return $status
}

step format format
step sizes tests/tools/sizes.sh
step layers tests/tools/layers.sh "$archive"
step cppcheck static_check
step manual manual
step "top level" top_level
step unfinished unfinished
step scripts scripts

if [ ${#failed[@]} -ne 0 ]; then
	echo "lint failed: $(printf '%s, ' "${failed[@]}" | sed 's/, $//')"
	exit 1
fi
echo "lint: nothing found"
