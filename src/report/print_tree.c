/* SPDX-License-Identifier: MIT */
/* One tree's whole story. */
#include <stdio.h>
#include <string.h>

#include "almanac/pest.h"
#include "core/text.h"
#include "report/rows.h"
#include "tree_words.h"

static void say_who(const struct printer *printer, const struct dossier *dossier)
{
	const struct tree *tree = &dossier->tree;
	char text[64], title[TREE_TITLE_SIZE], gap[24];

	if (tree->hazard[0] != '\0')
		say_wrapped(printer, "! ", "%s", tree->hazard);
	say_wrapped(printer, "", "%s  %s%s%s%s", store_tree_title(tree, title), dossier->kind.name,
		dossier->kind.cultivar[0] ? ", " : "", dossier->kind.cultivar,
		dossier->kind.cultivar[0] && dossier->kind.cultivar_sure != SURE_CERTAIN ? "?"
											 : "");
	if (dossier->host != NULL)
		say_line(printer, "  grafted on %s", dossier->host->tree.label);
	for (int32_t i = 0; i < dossier->graft_count; i++)
		say_line(printer, "  carries %s, %s", dossier->grafts[i]->tree.label,
			dossier->grafts[i]->kind.name);
	if (tree->planted.text[0] != '\0')
		say_line(printer, "  planted %s",
			date_span_format_plain(&tree->planted, text, sizeof text));
	if (tree->how != ORIGIN_UNKNOWN)
		say_line(printer, "  %s", origin_title(tree->how));
	if (tree->rootstock[0] != '\0')
		say_wrapped(printer, "  ", "on %s", tree->rootstock);
	if (dossier->spot != NULL && dossier->spot->offset_decic != 0)
		say_line(printer, "  %s %s, which runs %s %s than the place",
			dossier->spot->kind == SPOT_CONTAINER ? "in" : "in spot",
			dossier->spot->name,
			temperature_gap_format(
				dossier->spot->offset_decic, printer->units, gap, sizeof gap),
			dossier->spot->offset_decic < 0 ? "colder" : "warmer");
	else if (dossier->spot != NULL)
		say_line(printer, "  %s %s",
			dossier->spot->kind == SPOT_CONTAINER ? "in" : "in spot",
			dossier->spot->name);
	if (tree->over_fence)
		say_line(printer, "  stands over the fence: no work is asked for it");
	if (tree->target_height_um.known)
		say_line(printer, "  to be kept at %s",
			length_format(
				tree->target_height_um.value, printer->units, text, sizeof text));
	if (tree->gone.text[0] != '\0')
		say_wrapped(printer, "  ", "gone %s: %s",
			date_span_format_plain(&tree->gone, text, sizeof text), tree->gone_reason);
	if (dossier->trunk.known)
		say_line(printer, "  trunk %s across",
			length_format(
				dossier->trunk.diameter_um, printer->units, text, sizeof text));
	if (tree->note[0] != '\0')
		say_wrapped(printer, "  ", "%s", tree->note);
}

/* Where there is a plan to tell it from. */
static enum status say_sun(const struct printer *printer, struct yard *yard,
	const struct dossier *dossier, struct arena *arena, struct fault *why)
{
	const char *words = "";
	enum status status = sun_words_of_tree(yard, dossier, arena, &words, why);

	if (status == STATUS_OK && words[0] != '\0')
		say_wrapped(printer, "  ", "direct sun %s", words);
	return status;
}

static void say_seasons(const struct printer *printer, const struct dossier *dossier)
{
	char name[16], sum[32];

	for (int32_t i = 0; i < dossier->season_count; i++) {
		const struct season *season = &dossier->seasons[i];
		struct maybe_i64 point = amount_sum_point(&season->picked);

		say_line(printer, "  %-8s %s", season_title(season, name, sizeof name),
			point.known ? mass_format(point.value, printer->units, sum, sizeof sum)
				    : season_state_words(season->state));
	}
}

/* Of fruit whose flesh the almanac warns of: by the row of its cultivar, or by its name. */
static bool is_white_fleshed(const struct dossier *dossier)
{
	const struct cultivar *row = cultivar_find(dossier->kind.species, dossier->kind.cultivar);
	char folded[TEXT_SIZE];

	if (row != NULL && row->flesh[0] != '\0')
		return strstr(row->flesh, "white") != NULL;
	text_fold(dossier->kind.cultivar, folded, sizeof folded);
	return strstr(folded, "white") != NULL;
}

/* What a name says of the flesh is a guess until it was seen. */
static void say_flesh(
	const struct printer *printer, const struct almanac *almanac, const struct dossier *dossier)
{
	const struct fact_row *row = dossier->kind.species != NULL
					     ? species_fact(dossier->kind.species, "white-flesh")
					     : NULL;

	if (row == NULL || dossier->kind.cultivar[0] == '\0' || !is_white_fleshed(dossier))
		return;
	say_wrapped(printer, "  ", "White flesh: %s [%s].%s", row->text,
		source_title(almanac, row->source),
		dossier->kind.cultivar_sure != SURE_CERTAIN
			? " The name is not certain: cut one and look."
			: "");
}

/* What its sightings of the last year may be, and what to do first. */
static void say_seen(const struct printer *printer, const struct almanac *almanac,
	const struct dossier *dossier, struct date today)
{
	enum { SEEN_DAYS = 400, SEEN_MAX = 12 };
	const struct pest_row *told[SEEN_MAX];
	int32_t count = 0;

	for (int32_t i = dossier->entry_count - 1; dossier->kind.species != NULL && i >= 0; i--) {
		const struct entry *entry = dossier->entries[i];
		struct maybe_date day = date_span_first(&entry->day);
		const struct pest_row *pest =
			entry->kind == KIND_SAW ? species_pest_named(dossier->kind.species,
							  entry_detail(entry, FIELD_SUBJECT_SEEN))
						: NULL;
		bool is_new = pest != NULL && day.known && count < SEEN_MAX &&
			      date_days_between(day.value, today) <= SEEN_DAYS;

		for (int32_t k = 0; k < count; k++)
			is_new = is_new && told[k] != pest;
		if (!is_new)
			continue;
		if (count == 0)
			say_line(printer, "What was seen may be");
		told[count++] = pest;
		say_wrapped(printer, "  ", "%s; first: %s [%s]", pest->name, pest->first,
			source_title(almanac, pest_first_source(pest)));
	}
}

/* Rows of words, their heads in a column of so many cells. */
static void say_rows(const struct printer *printer, const struct words_rows *rows, int cells)
{
	char head[64];

	for (int32_t i = 0; i < rows->count; i++) {
		snprintf(head, sizeof head, "  %-*s ", cells, rows->items[i].head);
		say_wrapped(printer, head, "%s", rows->items[i].text);
	}
}

/* What it was taken for before; what holds now stands above. */
static enum status say_former_names(const struct printer *printer, struct yard *yard,
	const struct dossier *dossier, struct arena *arena, struct fault *why)
{
	struct words_rows names = {.arena = arena};
	enum status status = tree_words_names(yard, dossier, &names, why);

	for (int32_t i = 0; i < names.count; i++) {
		say_wrapped(printer, "  ", "%s", names.items[i].head);
		if (names.items[i].text[0] != '\0')
			say_wrapped(printer, "    ", "%s", names.items[i].text);
	}
	return status;
}

/* What an unnamed tree could be. */
static enum status say_likely(const struct printer *printer, struct yard *yard,
	const struct dossier *dossier, struct arena *arena, struct fault *why)
{
	struct words_rows rows = {.arena = arena};
	enum status status = tree_words_likely(yard, dossier, &rows, why);

	for (int32_t i = 0; i < rows.count; i++)
		say_wrapped(printer, "  ", "%s: %s", rows.items[i].head, rows.items[i].text);
	return status;
}

static void say_windows(const struct printer *printer, const struct dossier *dossier,
	struct date today, struct arena *arena)
{
	struct words_rows windows = {.arena = arena};

	tree_words_windows(dossier, today, &windows);
	say_rows(printer, &windows, 27);
}

static void say_entries(
	const struct printer *printer, const struct dossier *dossier, struct arena *arena)
{
	struct words_rows entries = {.arena = arena};

	tree_words_entries(dossier, &printer->numbers, &entries);
	say_rows(printer, &entries, 17);
}

static enum status say_story(const struct printer *printer, struct yard *yard,
	const struct dossier *dossier, struct arena *arena, struct fault *why)
{
	enum status status = say_sun(printer, yard, dossier, arena, why);
	if (status == STATUS_OK)
		status = say_former_names(printer, yard, dossier, arena, why);
	if (status == STATUS_OK)
		status = say_likely(printer, yard, dossier, arena, why);
	if (status != STATUS_OK)
		return status;
	if (dossier->kind.species != NULL || dossier->own_window_count > 0) {
		say_line(printer, "Its year");
		say_windows(printer, dossier, yard_today(yard), arena);
	}
	say_line(printer, "Its crops");
	say_seasons(printer, dossier);
	say_flesh(printer, yard_almanac(yard), dossier);
	say_line(printer, "Its entries");
	say_entries(printer, dossier, arena);
	if (dossier->entry_count == 0)
		say_line(printer, "  none yet");
	say_seen(printer, yard_almanac(yard), dossier, yard_today(yard));
	return say_end(printer, why);
}

enum status print_tree(
	const struct printer *printer, struct yard *yard, const char *tree_id, struct fault *why)
{
	const struct dossier *dossier = NULL;
	enum status status = yard_dossier(yard, tree_id, &dossier, why);

	if (status != STATUS_OK)
		return status;
	if (printer->format != FORMAT_TEXT)
		return print_tree_row(printer, dossier, why);
	say_who(printer, dossier);
	struct arena *arena = arena_new();
	status = say_story(printer, yard, dossier, arena, why);
	arena_free(arena);
	return status;
}
