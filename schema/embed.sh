#!/bin/sh
# SPDX-License-Identifier: MIT
# Prints the C file that carries the schema: one byte array for each NNN_NAME.sql given, in the
# order given, and the table that include/store/schema_text.h promises.
set -eu
export LC_ALL=C

stem() {
	basename "$1" .sql
}

echo '/* Made by schema/embed.sh from schema/. */'
echo '#include "store/schema_text.h"'
echo
echo '#include <stddef.h>'
last=0
for file; do
	number=$(stem "$file" | sed -n 's/^0*\([1-9][0-9]*\)_[a-z0-9_]*$/\1/p')
	if [ "${number:-0}" -ne $((last + 1)) ]; then
		echo "$file: expected a name like $(printf %03d $((last + 1)))_what_changes.sql" >&2
		exit 1
	fi
	last=$number
	printf '\nstatic const char step_%d[] = {\n' "$number"
	od -An -v -t d1 -w20 "$file" | sed 's/ *\(-\{0,1\}[0-9][0-9]*\)/\1,/g'
	echo '0};'
done

printf '\nstatic const struct schema_text steps[] = {\n'
for file; do
	name=$(stem "$file")
	number=$(echo "$name" | sed 's/^0*\([1-9][0-9]*\)_.*/\1/')
	printf '\t{%d, "%s", step_%d, sizeof step_%d - 1},\n' "$number" "$name" "$number" "$number"
done
printf '\t{0, NULL, NULL, 0},\n};\n\n'
printf 'const struct schema_text *schema_text_table(void)\n{\n\treturn steps;\n}\n'
