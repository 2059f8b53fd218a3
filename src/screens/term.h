/* SPDX-License-Identifier: MIT */
/* term.h - the terminal: taking it over, giving it back on every way out, its signals and size.
 *
 * Handlers set a flag and write one byte into a pipe; everything else is done by the loop. Of a
 * crash the handler writes a string made ready before and puts back the modes, then lets the
 * signal do its work. */
#ifndef SCREENS_TERM_H
#define SCREENS_TERM_H

#include <stdbool.h>

#include "core/fault.h"
#include "colours.h"
#include "paper.h"

/* STATUS_SYNTAX: standard input or output is no terminal, or one on which nothing can be put at
 * its place. Nothing was written to it then. */
enum status term_start(struct fault *why) MUST_CHECK;
void term_end(void); /* also when it was never started */

/* What a wait ended with. */
enum term_event {
	TERM_TIME,    /* nothing came */
	TERM_KEYS,    /* bytes wait to be read */
	TERM_RESIZED, /* and the new size is in force */
	TERM_WOKEN,   /* back from being stopped: draw all anew */
	TERM_STOP,    /* asked to stop: call term_suspend */
	TERM_LEAVE,   /* asked to leave, or the terminal is gone: no key will come any more */
};
enum term_event term_wait(int milliseconds);
/* Waits for keys alone; what else happened stays for term_wait. */
bool term_wait_keys(int milliseconds);
/* Which signal asked to leave; 0 none. */
int term_signal(void);
/* The terminal does not answer any more: no use drawing on it. */
bool term_is_lost(void);
void term_set_lost(void);
/* Ends this program as the signal would have, had it not been caught. The terminal is given
 * back. */
void term_die(int signal_number);
/* Gives the terminal to whoever started us and stops, until somebody brings us back. */
void term_suspend(void);
/* false: this terminal has no colours, and none it stays. */
bool term_set_scheme(enum scheme scheme);
enum scheme term_scheme(void);
/* The environment says which: BOUGHBOOK_COLOURS, or NO_COLOR. */
bool term_scheme_is_asked(void);
/* What a style looks like here, as curses attributes. */
unsigned term_attributes(enum style style);

#endif
