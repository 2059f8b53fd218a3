/* SPDX-License-Identifier: MIT */
/* load.h - the almanac while it is being read: its parts in one place, and how rows find their
 * kind. Only the almanac's own files include this. */
#ifndef ALMANAC_LOAD_H
#define ALMANAC_LOAD_H

#include "almanac/almanac.h"
#include "almanac/packed.h"
#include "almanac/pest.h"
#include "almanac/sheet.h"
#include "core/memory.h"

enum {
	OWNER_ALL = -1,  /* a row for every kind */
	OWNER_NONE = -2, /* no kind: only the rows for every kind */
	LIST_CHAINS = 64,
	LIST_START = -2,
	SOURCE_SLOTS = 4096, /* a power of two; a table of sources fills no more than half */
};

/* Rows of one table with the kind each belongs to. */
struct list {
	size_t item_size;
	bool stays;     /* the items are handed out where they lie, not copied out by kind */
	int32_t wanted; /* so many are to come, as far as is known; 0: not known */
	char *items;
	int32_t *owners; /* place of the species, or OWNER_ALL */
	int32_t *lines;
	int32_t *before; /* the item before it of its owner, and of some others; -1 none */
	int32_t newest[LIST_CHAINS];
	int32_t count;
	int32_t room;
};

struct almanac {
	struct arena *arena;   /* what is handed out, texts aside */
	struct arena *scratch; /* texts, and what is needed while reading */
	uint64_t digest;
	char digest_text[17];
	struct source_row *sources;
	int32_t source_count;
	int32_t *source_slots; /* by key: the place of the source, from 1; 0 free */
	struct species *species;
	int32_t species_count;
	const struct feed_row *common_feeds;
	int32_t common_feed_count;
	struct name_row *names;
	int32_t name_count;
	struct cultivar *cultivars; /* those of a kind stand together */
	int32_t cultivar_count;
	struct pest_row *pests;
	int32_t pest_count;
	const struct degree_row *degrees;
	int32_t degree_count;
	const struct work_row *work;
	int32_t work_count;
};

/* The tables of share/almanac as they stood when the program was built: made by embed_main.c, so
 * that no start reads and checks them anew. */
extern const struct packed almanac_built_in;

/* Reads and checks all tables; the answer lies in the two arenas. Faults as of almanac_open. */
enum status almanac_read(const char *directory, struct arena *arena, struct arena *scratch,
	struct almanac **out, struct fault *why) MUST_CHECK;

/* Adds a copy of the item. */
void list_add(
	struct almanac *almanac, struct list *list, const void *item, int32_t owner, int32_t line);
/* The items of an owner, the one added last first: *at is LIST_START, then where the answer stands.
 * NULL: no more. */
const void *list_older(const struct list *list, int32_t owner, int32_t *at);
/* The line of the table that it came from. */
int32_t list_line(const struct list *list, int32_t at);
/* The items of one kind in the order of the table, its own first, then those for all kinds. */
void *list_of(struct arena *arena, const struct list *list, int32_t owner, int32_t *count);

/* Opens a table of the almanac and adds its bytes to the digest. */
enum status load_sheet(struct almanac *almanac, const char *directory, const char *name,
	const char *const *columns, struct sheet *sheet, struct fault *why) MUST_CHECK;
/* Where a key stands, or would stand, among source_slots. */
int32_t source_slot(const struct almanac *almanac, const char *key);
/* A cell that names a row of sources.csv. */
enum status load_source(const struct almanac *almanac, const struct sheet *sheet, int32_t column,
	const char **out, struct fault *why) MUST_CHECK;
enum status load_sure(const struct sheet *sheet, int32_t column, enum known_by *out,
	struct fault *why) MUST_CHECK;
enum status load_climate(
	const struct sheet *sheet, int32_t column, enum climate *out, struct fault *why) MUST_CHECK;
enum status load_anchor(
	const struct sheet *sheet, int32_t column, enum anchor *out, struct fault *why) MUST_CHECK;
/* A cell that names a kind; with `all`, blank is OWNER_ALL. */
enum status load_owner(const struct almanac *almanac, const struct sheet *sheet, int32_t column,
	bool all, int32_t *out, struct fault *why) MUST_CHECK;

/* The next part of a cell, in the arena of the sheet, without blanks at its end; NULL after the
 * last. */
const char *load_word(struct arena *arena, const char **at, const char *parts);
/* Kinds parted by blanks, or "all". */
enum status load_hosts(const struct almanac *almanac, const struct sheet *sheet, int32_t column,
	const char **out, struct fault *why) MUST_CHECK;
/* Sources parted by blanks, one at least; out has room for PEST_SOURCES_MAX. */
enum status load_sources_of(const struct almanac *almanac, const struct sheet *sheet,
	int32_t column, const char **out, int32_t *count, struct fault *why) MUST_CHECK;
/* "MM..MM". */
bool load_months(const char *text, int32_t *from, int32_t *to);
const char *climate_key(enum climate climate);

/* The tables, in the order in which they are read. */
enum status load_sources(
	struct almanac *almanac, const char *directory, struct fault *why) MUST_CHECK;
enum status load_species(
	struct almanac *almanac, const char *directory, struct fault *why) MUST_CHECK;
enum status load_names(
	struct almanac *almanac, const char *directory, struct fault *why) MUST_CHECK;
enum status load_cuts(struct almanac *almanac, const char *directory, struct fault *why) MUST_CHECK;
/* After load_cuts: adds the cut windows made from the shape rows. */
enum status load_windows(
	struct almanac *almanac, const char *directory, struct fault *why) MUST_CHECK;
enum status load_feeds(
	struct almanac *almanac, const char *directory, struct fault *why) MUST_CHECK;
enum status load_facts(
	struct almanac *almanac, const char *directory, struct fault *why) MUST_CHECK;
enum status load_stages(
	struct almanac *almanac, const char *directory, struct fault *why) MUST_CHECK;
enum status load_pests(
	struct almanac *almanac, const char *directory, struct fault *why) MUST_CHECK;
/* After load_pests, whose keys it names. */
enum status load_degrees(
	struct almanac *almanac, const char *directory, struct fault *why) MUST_CHECK;
enum status load_work(struct almanac *almanac, const char *directory, struct fault *why) MUST_CHECK;
enum status load_cultivars(
	struct almanac *almanac, const char *directory, struct fault *why) MUST_CHECK;
enum status load_pollination(
	struct almanac *almanac, const char *directory, struct fault *why) MUST_CHECK;
/* After load_cultivars. */
enum status load_pollen(
	struct almanac *almanac, const char *directory, struct fault *why) MUST_CHECK;

/* Letters and digits of a name, folded: "Cox's Orange" and "coxs orange" are one. */
void cultivar_fold(const char *name, char *out, size_t size);

#endif
