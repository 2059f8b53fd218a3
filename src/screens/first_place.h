/* SPDX-License-Identifier: MIT */
/* first_place.h - the answers of the first run, read into a place. A blank answer leaves the
 * place as it is: nothing is guessed. */
#ifndef SCREENS_FIRST_PLACE_H
#define SCREENS_FIRST_PLACE_H

#include "core/record.h"

/* "38.2", "33.5 S", "38.2, -122.1", "north". */
enum status first_read_where(const char *text, struct place *place, struct fault *why) MUST_CHECK;
/* "winter frosty", "all mild": the wet season and the winters, in any order. */
enum status first_read_climate(const char *text, struct place *place, struct fault *why) MUST_CHECK;
/* "us" or "si". */
enum status first_read_units(const char *text, struct place *place, struct fault *why) MUST_CHECK;

#endif
