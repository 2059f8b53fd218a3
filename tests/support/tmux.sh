# SPDX-License-Identifier: MIT
# shellcheck shell=bash
# Sourced after shell.sh: the real program in a real terminal multiplexer, each script with a server
# of its own. Waiting is for something to show, with a deadline; nothing sleeps and hopes.
#
#   tmux_start 24 80 "$program" --log "$log" --today 2026-11-24
#   tmux_wait 'Yard' && tmux_keys w && tmux_wait 'Walk'
#   tmux_screen                         the screen as text
#   tmux_golden NAME tests/screens/walk.screen

tmux_status=$scratch/tmux-status
tmux_socket=$scratch/tmux
tmux_deadline=${TMUX_DEADLINE:-10}

tmux_do() {
	TMUX='' tmux -S "$tmux_socket" -f /dev/null "$@"
}

tmux_stop() {
	tmux_do kill-server >/dev/null 2>&1
	rm -f "$tmux_socket"
}
at_end+=(tmux_stop)

# tmux_start ROWS COLUMNS COMMAND...: in a screen of that size; the screen stays when it ends.
tmux_start() {
	local rows=$1 columns=$2
	shift 2
	tmux_stop
	rm -f "$tmux_status"
	tmux_do new-session -d -x "$columns" -y "$rows" \; set -g status off \; \
		set -g remain-on-exit on \; set -sg escape-time 0 \; \
		resize-window -x "$columns" -y "$rows" \; \
		respawn-pane -k "$(printf '%q ' env ESCDELAY=25 "$@"); echo \$? >$tmux_status"
}

tmux_screen() {
	tmux_do capture-pane -p
}

# tmux_keys KEY...: as tmux names them (Enter, Escape, Down, PPage, a ...).
tmux_keys() {
	tmux_do send-keys "$@"
}

# tmux_type TEXT: letter by letter. A ';' at the end would end the command of tmux.
tmux_type() {
	local text=$1
	[[ $text != *';' ]] || text="${text%;}\;"
	tmux_do send-keys -l -- "$text"
}

# tmux_until COMMAND...: until it succeeds; shows the screen and fails after the deadline.
tmux_until() {
	local started=$SECONDS
	until "$@"; do
		if [ $((SECONDS - started)) -ge "$tmux_deadline" ]; then
			tmux_screen >"$scratch/said"
			return 1
		fi
		sleep 0.02
	done
}

tmux_shows() {
	tmux_screen | grep -qF -- "$1"
}

tmux_shows_not() {
	! tmux_shows "$1"
}

tmux_wait() {
	tmux_until tmux_shows "$1"
}

tmux_wait_gone() {
	tmux_until tmux_shows_not "$1"
}

# The shell round the command writes its status: tmux itself may tell that of the pane before it.
tmux_is_dead() {
	[ -s "$tmux_status" ]
}

# tmux_wait_end: until the command has ended; prints its exit status.
tmux_wait_end() {
	tmux_until tmux_is_dead && cat "$tmux_status"
}

# tmux_golden NAME FILE: the screen is what the file holds; UPDATE_GOLDEN writes the file instead.
tmux_golden() {
	if [ -n "${UPDATE_GOLDEN:-}" ]; then
		tmux_screen >"$top/$2"
		verdict "$1" 0
	else
		tmux_screen | diff -u "$top/$2" - >"$scratch/said" 2>&1
		verdict "$1" $?
	fi
}
