/* SPDX-License-Identifier: MIT */
/* place.h - the row of the place as creating and saving share it: the words that its settings have
 * in the log. For the store's own parts. */
#ifndef STORE_PLACE_H
#define STORE_PLACE_H

#include "sql.h"

/* Indexed by the enum; NULL: not set. */
extern const char *const place_hemispheres[3];
extern const char *const place_wets[5];
extern const char *const place_winters[4];
extern const char *const place_units[3];
extern const char *const place_gallons[3];
extern const char *const place_numbers[3];
extern const char *const place_dates[3];

enum { MONTH_DAY_SIZE = 6 };
/* "MM-DD"; NULL when the month is 0. */
const char *month_day_text(struct month_day day, char out[MONTH_DAY_SIZE]);
/* The one row, with the open act as its maker; place->id is not read. */
enum status place_insert(
	struct store *store, const struct place *place, struct fault *why) MUST_CHECK;

#endif
