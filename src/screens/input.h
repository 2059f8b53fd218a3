/* SPDX-License-Identifier: MIT */
/* input.h - bytes from the terminal into keys and pastes.
 *
 * curses is asked byte by byte; UTF-8 and escape sequences are put together here. A byte that is
 * no character and a sequence that nobody knows are swallowed whole: they never type, cancel or
 * make deaf. A lone ESC is a key after 50 ms without another byte. */
#ifndef SCREENS_INPUT_H
#define SCREENS_INPUT_H

#include "screen.h"

enum { PASTE_SIZE = 65536 };

struct input_reader {
	int held[8]; /* read too far; given again first */
	int held_count;
	char pasted[PASTE_SIZE]; /* of the last KEYS_PASTE */
	bool ascii;              /* bytes above 127 are no characters here */
};

/* The sequences of bracketed paste, for curses to know. */
void input_teach(void);
/* The next key, if one waits: KEYS_NONE when none does, or what came meant nothing. Keys above
 * any character are enum key. */
struct input input_read(struct input_reader *reader);
bool input_waits(struct input_reader *reader);

#endif
