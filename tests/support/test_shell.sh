#!/bin/bash
# SPDX-License-Identifier: MIT
# The words of the test scripts, and programs in tmux.
. "${BOUGHBOOK_SOURCE:-$PWD}/tests/support/shell.sh"
. "$top/tests/support/tmux.sh"

judge() { # SCRIPT: what a test script with these lines says and exits with
	bash -c ". '$top/tests/support/shell.sh'; $1; finish"
}

shows accepts_takes_success '1 passed, 0 failed, 0 skipped' judge 'accepts a true'
refuses accepts_tells_failure 'FAILED: a' judge 'accepts a false'
shows refuses_takes_failure_with_words '1 passed' judge 'refuses a no sh -c "echo no; exit 1"'
refuses refuses_wants_failure 'was accepted' judge 'refuses a no echo no'
refuses refuses_wants_the_words 'FAILED: a' judge 'refuses a yes sh -c "echo no; exit 1"'
refuses shows_wants_the_words 'FAILED: a' judge 'shows a yes echo no'
refuses exits_wants_the_status 'exit status 1, want 3' judge 'exits a 3 false'
refuses a_script_without_a_test_fails '0 passed' judge ':'
shows skips_are_told 'skipped: a: no root' judge 'skip a "no root"'

tmux_start 15 60 sh -c 'stty size; read x; echo "got <$x>"; exit 3'
tmux_wait '15 60'
verdict tmux_gives_the_size_asked_for $?
tmux_type 'gr|ün;'
tmux_keys Enter
tmux_wait 'got <gr|ün;>'
verdict tmux_types_what_is_said $?
[ "$(tmux_wait_end)" = 3 ]
verdict tmux_tells_the_exit_status $?
tmux_deadline=1
tmux_wait 'never' && false
[ $? -eq 1 ] && says 'got <'
verdict tmux_gives_up_at_the_deadline $?

finish
