/* SPDX-License-Identifier: MIT */
#include "urgency.h"

static const struct {
	const char *word;
	enum style style;
} shown[] = {
	[URGENCY_ACT] = {"ACT", STYLE_ACT},
	[URGENCY_DUE] = {"DUE", STYLE_DUE},
	[URGENCY_SOON] = {"SOON", STYLE_SOON},
	[URGENCY_NOTE] = {"note", STYLE_NOTE},
	[URGENCY_LEAVE] = {"leave", STYLE_NOTE},
};

const char *urgency_word(enum urgency urgency)
{
	return shown[urgency].word;
}

enum style urgency_style(enum urgency urgency)
{
	return shown[urgency].style;
}
