/* SPDX-License-Identifier: MIT */
/* urgency.h - how an urgency is shown: a word, always, and a style. */
#ifndef SCREENS_URGENCY_H
#define SCREENS_URGENCY_H

#include "paper.h"
#include "rules/flag.h"

const char *urgency_word(enum urgency urgency); /* "ACT" */
enum style urgency_style(enum urgency urgency);

#endif
