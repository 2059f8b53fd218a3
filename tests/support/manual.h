/* SPDX-License-Identifier: MIT */
/* manual.h - tables of the manual pages that are made from the program's own. */
#ifndef SUPPORT_MANUAL_H
#define SUPPORT_MANUAL_H

#include "core/text.h"

/* Text for a manual page: a hyphen is a minus, each sentence begins a line of its own. */
void manual_add(struct text_builder *out, const char *text);
/* The page's text from the line after `begin` to the line that starts with `end` is what add
 * makes; UPDATE_GOLDEN=1 writes it. */
void check_manual_table(
	const char *page, const char *begin, const char *end, void (*add)(struct text_builder *));

#endif
