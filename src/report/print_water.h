/* SPDX-License-Identifier: MIT */
/* print_water.h - the parts of a tree's page of water. */
#ifndef REPORT_PRINT_WATER_H
#define REPORT_PRINT_WATER_H

#include "reckon/tree_water.h"
#include "report/rows.h"

/* What the figures rest on, one line each, with where it is from. */
void say_water_inputs(const struct printer *printer, const struct tree_water *water);
/* What is not known or would narrow the figures, with the words that would tell it. */
void say_water_lacks(const struct printer *printer, const struct tree_water *water);
/* Keys of what is not known, parted by blanks; returns out. */
const char *water_lack_keys(unsigned lacks, char *out, size_t size);
/* How to water such a tree: its stand, heat, what the almanac says of its kind. */
void say_water_advice(const struct printer *printer, const struct tree_water *water);
/* The titles of the sources that stand in brackets, each once. */
void say_water_sources(const struct printer *printer, const struct tree_water *water,
	const struct almanac *almanac);

/* "480 l to 620 l (130 gal to 160 gal, US)", two figures each; "up to ..." from nothing. */
const char *water_volumes(
	const struct printer *printer, const struct water_range *litres, char *out, size_t size);

#endif
