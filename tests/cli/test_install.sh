#!/bin/bash
# SPDX-License-Identifier: MIT
# make install and uninstall, into a folder of the test's own.
. "${BOUGHBOOK_SOURCE:-$PWD}/tests/support/shell.sh"

stage=$scratch/stage
unset MAKEFLAGS MAKELEVEL MFLAGS
flags=()
[ "${B:-build}" = build ] || flags=(SAN=1)

make_in_stage() { # TARGET VARIABLE=VALUE...
	(cd "$top" && make --no-print-directory "${flags[@]}" DESTDIR="$stage" "$@")
}

holds() { # FILE...: all of them stand in the stage
	local file
	for file; do
		[ -s "$stage/$file" ] || { echo "no $file" >"$scratch/said" && return 1; }
	done
}

accepts install_works make_in_stage install
holds usr/local/bin/boughbook usr/local/share/man/man1/boughbook.1.gz \
	usr/local/share/man/man5/boughbook-entry.5.gz \
	usr/local/share/man/man5/boughbook-log.5.gz usr/local/share/doc/boughbook/almanac.tar.gz \
	usr/local/share/doc/boughbook/LICENSE
verdict install_puts_each_file_in_its_place $?
tar -xzf "$stage/usr/local/share/doc/boughbook/almanac.tar.gz" -C "$scratch" &&
	diff -r "$top/share/almanac" "$scratch/almanac" >"$scratch/said" 2>&1
verdict the_tables_of_the_almanac_are_whole $?
for page in "$top"/man/*; do
	zcat "$stage/usr/local/share/man/man${page##*.}/${page##*/}.gz" | cmp - "$page"
done >"$scratch/said" 2>&1
[ ! -s "$scratch/said" ]
verdict the_manuals_are_whole $?
shows the_installed_program_runs 'boughbook 0.1.0' "$stage/usr/local/bin/boughbook" --version
shows the_installed_almanac_is_sound loquat "$stage/usr/local/bin/boughbook" almanac
shows its_tables_can_be_read_too loquat \
	"$stage/usr/local/bin/boughbook" --almanac "$scratch/almanac" almanac

accepts uninstall_works make_in_stage uninstall
find "$stage" -type f >"$scratch/said"
[ ! -s "$scratch/said" ]
verdict uninstall_leaves_no_file $?

accepts folders_can_be_chosen make_in_stage install bindir=/opt/bb/bin mandir=/opt/bb/man
holds opt/bb/bin/boughbook opt/bb/man/man1/boughbook.1.gz opt/bb/man/man5/boughbook-entry.5.gz
verdict chosen_folders_are_used $?

finish
