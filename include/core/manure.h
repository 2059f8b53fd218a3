/* SPDX-License-Identifier: MIT */
/* manure.h - what the words of a feed or a mulch say of manure. Raw manure starts the days that
 * have to go by before a harvest; composted manure does not. */
#ifndef CORE_MANURE_H
#define CORE_MANURE_H

#include "core/record.h"

enum manure {
	MANURE_NONE,
	MANURE_UNSAID,   /* manure, neither raw nor composted: no days are counted by it */
	MANURE_RAW,      /* "fresh chook poo", "raw manure", "slurry" */
	MANURE_COMPOSTED /* "composted", "rotted", "pellets", "dried" and the like */
};
enum manure manure_of_words(const char *words);
/* Of a done feed or mulch, by its product and other words; MANURE_NONE for other kinds. */
enum manure manure_of_entry(const struct entry *entry);

#endif
