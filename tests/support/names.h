/* SPDX-License-Identifier: MIT */
/* names.h - the names of a small invented yard, for tests of entry lines without a log. */
#ifndef SUPPORT_NAMES_H
#define SUPPORT_NAMES_H

#include "core/line.h"

/* Trees: T, A3, A5 (planted 2020-03-01) and the gone A5, fig by gate, fig wall, cut leaf, G1 twice,
 * Hass and Hass 2, and labels as odd as growers make them (3/7, -12, a,b). Spots: clump, bench.
 * Areas: north row. Containers: tray, lug box. Products: sulfate of ammonia. Kinds: fig, apple,
 * pear, apricot, lemon, peach, asian_pear; loquat and japanese_plum, both called Japanese plum. */
struct line_names fixture_names(void);

/* Today is Tuesday 24 November 2026, in the north; nothing else is set; short labels are taken. */
struct line_context fixture_context(void);

#endif
