/* SPDX-License-Identifier: MIT */
/* plain.h - `boughbook --plain`: the same work line by line, for a screen reader. It prints, asks
 * and reads lines; it moves no cursor, sets no colour, and ends when the input does. */
#ifndef SCREENS_PLAIN_H
#define SCREENS_PLAIN_H

#include "screens/screens.h"

/* Reads standard input and writes standard output until the grower leaves. */
enum status plain_run(const struct screens_options *options, struct fault *why) MUST_CHECK;

#endif
