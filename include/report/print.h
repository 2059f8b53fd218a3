/* SPDX-License-Identifier: MIT */
/* print.h - the views of the log as text for people, CSV and JSON, to a stream given.
 *
 * JSON is an array of flat objects with the keys that others rely on (see the manual); CSV has
 * the same keys as its heading. Everything goes through core/text's one door for output. */
#ifndef REPORT_PRINT_H
#define REPORT_PRINT_H

#include <stdio.h>

#include "report/likely_report.h"
#include "report/review.h"
#include "report/season_report.h"
#include "report/stock_report.h"
#include "report/sun_report.h"
#include "report/weather_warmth.h"

enum format { FORMAT_TEXT, FORMAT_CSV, FORMAT_JSON, FORMAT_HTML }; /* HTML: papers only */

struct printer {
	FILE *stream;
	enum format format;
	bool ascii;    /* the locale has no UTF-8 */
	int32_t width; /* of text, cells */
	enum unit_system units;
	struct number_rules numbers;
};

enum status print_review(const struct printer *printer, const struct review *review,
	const struct yard *yard, bool all, struct fault *why) MUST_CHECK;
enum status print_ask(const struct printer *printer, const struct ask_answer *answer,
	const struct yard *yard, struct fault *why) MUST_CHECK;
enum status print_season(const struct printer *printer, const struct season_report *report,
	const struct yard *yard, struct fault *why) MUST_CHECK;
enum status print_stock(const struct printer *printer, const struct stock_report *report,
	const struct yard *yard, struct fault *why) MUST_CHECK;
/* Parts of the span; not warmth, harvest and frost. */
enum status print_weather(const struct printer *printer, const struct weather_report *report,
	enum weather_part part, struct yard *yard, struct fault *why) MUST_CHECK;
/* WEATHER_ALL: without the totals of pests. */
enum status print_weather_warmth(const struct printer *printer, const struct weather_warmth *warmth,
	enum weather_part part, struct yard *yard, struct fault *why) MUST_CHECK;
/* Harvest or frost; WEATHER_ALL both, for people. */
enum status print_weather_trees(const struct printer *printer, const struct weather_trees *trees,
	enum weather_part part, struct yard *yard, struct fault *why) MUST_CHECK;
enum status print_dose(const struct printer *printer, struct yard *yard, const char *tree_id,
	const struct product *product, struct fault *why) MUST_CHECK;
/* What a tree draws in a week, what to give and how long to run, with what it rests on. */
enum status print_water(const struct printer *printer, struct yard *yard, const char *tree_id,
	struct fault *why) MUST_CHECK;
enum status print_rules(const struct printer *printer, struct fault *why) MUST_CHECK;
struct almanac_question {
	const char *kind; /* NULL: the list of kinds */
	const char *part; /* "cuts", "feeding" ... of its page; NULL: all of it */
	bool on_screen;   /* without what only the command line can do */
};
/* yard NULL: no log is open, nothing of the grower's own is shown. STATUS_SYNTAX: no such part. */
enum status print_almanac(const struct printer *printer, const struct almanac *almanac,
	struct yard *yard, const struct almanac_question *question, struct fault *why) MUST_CHECK;
/* The cultivars of a kind, with whence each trait is; kind NULL: how many of each, or for machines
 * all rows. */
enum status print_cultivars(const struct printer *printer, const struct almanac *almanac,
	const char *kind, struct fault *why) MUST_CHECK;
enum status print_trees(const struct printer *printer, struct yard *yard, bool gone_too,
	struct fault *why) MUST_CHECK;
enum status print_tree(const struct printer *printer, struct yard *yard, const char *tree_id,
	struct fault *why) MUST_CHECK; /* the whole story of one tree */
/* Who serves a tree and whom it serves, over the fence too, and what a partner would be. */
enum status print_partners(const struct printer *printer, struct yard *yard, const char *tree_id,
	struct fault *why) MUST_CHECK;
/* Which cultivar it could be, by what was noted and what is said now; for machines all rows. */
enum status print_likely(const struct printer *printer, struct yard *yard, const char *tree_id,
	const struct likely_said *said, int32_t count, struct fault *why) MUST_CHECK;
/* Who stood in a yard that looks back, and each that came, went or moved since. */
enum status print_standing(
	const struct printer *printer, struct yard *then, struct fault *why) MUST_CHECK;
/* When each tree blooms, all side by side: by the log, before the almanac. */
enum status print_bloom(
	const struct printer *printer, struct yard *yard, struct fault *why) MUST_CHECK;
/* Where a tree comes from, what came from it, and what carries over. */
enum status print_descent(const struct printer *printer, struct yard *yard, const char *tree_id,
	struct fault *why) MUST_CHECK;
/* Rise and set, and hours of direct sun: all spots, or one with what shades it. STATUS_ABSENT: the
 * place has no latitude. */
enum status print_sun(const struct printer *printer, struct yard *yard,
	const struct sun_options *options, struct fault *why) MUST_CHECK;
enum status print_entries(const struct printer *printer, struct yard *yard,
	const struct entry *entries, int32_t count, struct fault *why) MUST_CHECK;
/* The same of all that the query finds, read as they are printed. */
enum status print_entries_of(const struct printer *printer, struct yard *yard,
	const struct entry_query *query, struct fault *why) MUST_CHECK;
enum status print_history(const struct printer *printer, struct yard *yard, const char *tree_id,
	struct fault *why) MUST_CHECK;
/* What one act did, a line each, in the words of the history: "tree A3: planted 2010, was not
 * known". */
const char *history_words(const struct change_row *rows, int32_t count, struct arena *arena);
enum status print_place(
	const struct printer *printer, struct yard *yard, struct fault *why) MUST_CHECK;

#endif
