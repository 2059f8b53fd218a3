/* SPDX-License-Identifier: MIT */
/* field.h - a line to type into, on any screen: keys into core/edit, and its text onto paper. */
#ifndef SCREENS_FIELD_H
#define SCREENS_FIELD_H

#include "core/edit.h"
#include "screen.h"

/* Takes a character, a paste (its first line; `out` says so when there were more) or a key of
 * editing. false: the key means nothing in a line. */
bool field_take(struct edit *edit, const struct input *input, struct effect *out);
/* Draws it into cells of one row; the cursor goes there when `active`. */
void field_draw(
	struct paper *paper, int row, int column, int cells, const struct edit *edit, bool active);

#endif
