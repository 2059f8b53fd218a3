/* SPDX-License-Identifier: MIT */
/* yard.h - gathers one tree's whole story from the log and the almanac: the dossier that rules
 * and reports read. What all trees share (place, windows set by hand, products, containers,
 * weather, names of kinds) is read once, when it is first needed. */
#ifndef DOSSIER_YARD_H
#define DOSSIER_YARD_H

#include "reckon/dossier.h"
#include "store/records.h"
#include "store/shelf.h"

struct yard;

/* Opens it. The yard, and every dossier made by it, lives in arena. */
enum status yard_open(struct store *store, const struct almanac *almanac, struct date today,
	struct arena *arena, struct yard **out, struct fault *why) MUST_CHECK;
const struct place *yard_place(const struct yard *yard);
/* The units in which dossiers tell figures: those of the place, as long as none are asked for. */
void yard_tell_in(struct yard *yard, enum unit_system units);
enum unit_system yard_told_in(const struct yard *yard);
enum climate yard_climate(const struct yard *yard);
struct date yard_today(const struct yard *yard);
struct number_rules yard_numbers(const struct yard *yard);
const struct almanac *yard_almanac(const struct yard *yard);
struct store *yard_store(const struct yard *yard);
/* The newest act when what the trees share was read: all that is told by this yard is as old. */
const char *yard_read_at(const struct yard *yard);

/* From now on who stands, and where, is told as it was on the yard's day: trees that are gone since
 * are there, those that came later are not; what is not known counts as it is now. To be said
 * before anything asks who stands. Dossiers stay those of all that is known. */
void yard_look_back(struct yard *yard);
/* Those that stand (looking back: that stood), by species, then in the natural order of labels. */
enum status yard_standing(struct yard *yard, const struct neighbour **out, int32_t *count,
	struct fault *why) MUST_CHECK;

/* One tree's dossier for the yard's day, with its host's or grafts'. STATUS_ABSENT: no such
 * tree. */
enum status yard_dossier(struct yard *yard, const char *tree_id, const struct dossier **out,
	struct fault *why) MUST_CHECK;
/* The same with one more done entry in it, as `ask` wants; the log is not touched. */
enum status yard_dossier_with(struct yard *yard, const char *tree_id, const struct entry *extra,
	struct date today, const struct dossier **out, struct fault *why) MUST_CHECK;

/* Both into an arena of the caller's: for whoever looks at many trees. */
enum status yard_dossier_in(struct yard *yard, const char *tree_id, struct arena *arena,
	const struct dossier **out, struct fault *why) MUST_CHECK;
enum status yard_dossier_with_in(struct yard *yard, const char *tree_id, const struct entry *extra,
	struct date today, struct arena *arena, const struct dossier **out,
	struct fault *why) MUST_CHECK;

/* For what shows a tree and asks no rule: without who stands around it, which costs by the yard. */
enum status yard_dossier_shown(struct yard *yard, const char *tree_id, struct arena *arena,
	const struct dossier **out, struct fault *why) MUST_CHECK;

/* Every standing tree (gone_too: those gone as well), grafts right after their host. A dossier
 * lives only as long as the visit. Anything but STATUS_OK from visit ends the round and is
 * answered; STATUS_END ends it without fault. */
struct yard_visitor {
	void *owner;
	enum status (*visit)(void *owner, const struct dossier *dossier, struct fault *why);
	bool alone; /* it asks no rule that looks at who stands around: they may be left out */
	/* Those kinds of the trees' own entries that it asks for, through whatever it calls: the
	 * others may be left out. NULL: all. */
	const struct kind_set *kinds;
};
enum status yard_each(struct yard *yard, bool gone_too, const struct yard_visitor *visitor,
	struct fault *why) MUST_CHECK;
/* The entries of the first of these trees, which are about to be told one after another, are read
 * at once and held until the next are taken up or all put back: *taken says of how many, at least
 * one. Nothing may be saved meanwhile; yard_each does it by itself. */
enum status yard_take_up(struct yard *yard, const struct shelf_wants *wants, int32_t *taken,
	struct fault *why) MUST_CHECK;
void yard_put_back(struct yard *yard);
/* One tree that is no standing graft, with its grafts, as yard_each comes to it; but its neighbours
 * are told only once yard_standing was asked, for that costs by the yard. */
enum status yard_visit(struct yard *yard, const char *tree_id, const struct yard_visitor *visitor,
	struct fault *why) MUST_CHECK;

/* A spot picked as one ("off the clump"): its own pick and loss entries by season. */
struct spot_crop {
	struct spot spot;
	char kind_name[NAME_SIZE];     /* "fig"; "apple and pear" where kinds differ; "" nothing */
	const struct species *species; /* NULL: nothing stands there, or kinds differ */
	int32_t trees;                 /* standing there */
	const struct entry *const *entries; /* picks and losses, done, by day */
	int32_t entry_count;
	struct season_rule season_rule;
	const struct season *seasons;
	int32_t season_count;
	int32_t season_year; /* of today */
};
enum status yard_spot_crop(struct yard *yard, const char *spot_id, struct arena *arena,
	const struct spot_crop **out, struct fault *why) MUST_CHECK;

/* Products in hand, as read when the yard was opened. */
const struct product *yard_products(const struct yard *yard, int32_t *count);

/* What a tree is, by its identity rows as they stand on a day: later opinions win, a change of
 * sense `change` holds from its day on, a correction for all time between two changes. */
enum status yard_kind(struct yard *yard, const char *tree_id, struct date day,
	struct tree_kind *out, struct fault *why) MUST_CHECK;

/* Rows of season_turn for a tree, and for its spots that were picked as one, put into the log
 * inside the open act: called after any change of identity, place, own windows, hosts. */
enum status yard_put_turns(struct store *store, const struct almanac *almanac, const char *tree_id,
	struct fault *why) MUST_CHECK;
/* The same for a spot by itself (trees came or went, a first pick "off the clump"). */
enum status yard_put_spot_turns(struct store *store, const struct almanac *almanac,
	const char *spot_id, struct fault *why) MUST_CHECK;
/* For all trees and picked spots; on the first writable opening under another almanac. */
enum status yard_put_all_turns(
	struct store *store, const struct almanac *almanac, struct fault *why) MUST_CHECK;

/* What verify asks: are the kept turns those that the almanac gives? */
struct turns_checked {
	int32_t subjects;       /* trees and spots looked at */
	int32_t differ;         /* whose turns are other ones, or none */
	char first[LABEL_SIZE]; /* the first of them */
};
enum status yard_check_turns(struct store *store, const struct almanac *almanac,
	struct turns_checked *out, struct fault *why) MUST_CHECK;

/* Names for the entry line: the store's, and the almanac's kinds. */
struct line_names_owner {
	struct store *store;
	const struct almanac *almanac;
};
struct line_names yard_names(struct line_names_owner *owner);
/* The context a line is read in at this place today. */
struct line_context yard_line_context(const struct yard *yard, struct line_names_owner *owner);

#endif
