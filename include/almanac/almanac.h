/* SPDX-License-Identifier: MIT */
/* almanac.h - what is known of fruit trees, from published sources: the tables of share/almanac.
 *
 * Read once, when the program is built, or for a folder that is named; checked row by row, then
 * const. A broken row is named by file, line and column and the whole almanac is refused. All
 * months are those of the northern hemisphere; reckon/window turns them for the place. Every row
 * has a source and says how sure it is. */
#ifndef ALMANAC_ALMANAC_H
#define ALMANAC_ALMANAC_H

#include "almanac/cultivar.h"

struct almanac;

/* A name that people use for a kind, which may be one without dates here. */
struct name_row {
	const char *name;
	const char *species;  /* key */
	const char *language; /* "en", "es"; "la": botanical */
	const char *note;     /* traps: "also the true Japanese plum" */
	const char *source;
	enum known_by sure;
	const char *folded; /* for comparing */
};

struct source_row {
	const char *key;
	const char *title; /* author, title, year, page */
	const char *address;
	const char *region; /* whose climate it speaks for, "" */
};

/* Reads all tables of a directory; "": those built in, always whole. STATUS_ABSENT: no almanac
 * there; STATUS_SYNTAX or STATUS_RANGE: a row is broken, file:line:column named in *why. */
enum status almanac_open(const char *directory, struct almanac **out, struct fault *why) MUST_CHECK;
void almanac_close(struct almanac *almanac);
/* --almanac DIR (may be NULL), else $BOUGHBOOK_ALMANAC, which must hold one; else "", the tables
 * built in. */
enum status almanac_find(const char *option, char *out, int size, struct fault *why) MUST_CHECK;
/* A digest of all tables, 16 hex digits: kept flags and season turns depend on it. */
const char *almanac_digest(const struct almanac *almanac);

int32_t almanac_species_count(const struct almanac *almanac);
const struct species *almanac_species_at(const struct almanac *almanac, int32_t index);
/* By key; NULL when there is none. */
const struct species *almanac_species(const struct almanac *almanac, const char *key);
/* Every kind that key, common or botanical name fits, case-folded; a key is never in doubt.
 * Fills at most max, returns how many fit. Known kinds outside the almanac (mango): see below. */
int32_t almanac_find_species(
	const struct almanac *almanac, const char *name, const struct species **out, int32_t max);
/* A fruit known by name but without dates here (mango, grape, pecan): its plain name, or NULL.
 * A name can fit a kind here and one outside ("Japanese plum"): then both answer, and it is
 * asked. */
const char *almanac_outside_kind(const struct almanac *almanac, const char *name);
/* Every kind that a name fits, with dates here or without: a key is never in doubt, "plum" and
 * "Japanese plum" are. Fills at most max, returns how many fit. */
struct kind_name {
	const char *key;
	const char *name; /* plain */
};
int32_t almanac_find_kinds(
	const struct almanac *almanac, const char *name, struct kind_name *out, int32_t max);
/* The names of a kind, in the order of the table. Fills at most max, returns how many there are. */
int32_t almanac_names(const struct almanac *almanac, const char *species,
	const struct name_row **out, int32_t max);
/* Feeding rules that hold for all kinds: what a tree of unknown kind is dosed by. */
const struct feed_row *almanac_common_feeds(const struct almanac *almanac, int32_t *count);
const struct source_row *almanac_source(const struct almanac *almanac, const char *key);
/* The cultivars of a kind, which may be one known by name only (lime); NULL when there are none. */
const struct cultivar *almanac_cultivars(
	const struct almanac *almanac, const char *species, int32_t *count);

#endif
