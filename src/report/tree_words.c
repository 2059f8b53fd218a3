/* SPDX-License-Identifier: MIT */
#include "tree_words.h"

#include <stdio.h>
#include <string.h>

#include "almanac/pest.h"
#include "core/line.h"
#include "core/text.h"
#include "rules/saw.h"

void words_rows_add(struct words_rows *rows, const char *head, const char *text)
{
	if (rows->count == rows->size) {
		size_t old = (size_t)rows->size * sizeof *rows->items;

		rows->size = rows->size > 0 ? rows->size * 2 : 16;
		rows->items = arena_grow(
			rows->arena, rows->items, old, (size_t)rows->size * sizeof *rows->items);
	}
	rows->items[rows->count++] =
		(struct words_row){arena_text(rows->arena, head), arena_text(rows->arena, text)};
}

/* --- names --- */

/* A species is kept by its key. */
static const char *plain_name(const struct yard *yard, const struct identity *row)
{
	const struct species *species =
		row->is_cultivar ? NULL : almanac_species(yard_almanac(yard), row->name);
	return species != NULL ? species->name : row->name;
}

/* Why it is taken for what it is, where no older name stands to say it beside. */
static void add_present(struct yard *yard, struct words_rows *out, const struct identity *rows,
	int32_t count, bool is_cultivar)
{
	const struct identity *last = NULL;
	char day[64] = "";

	for (int32_t i = 0; i < count; i++) {
		if (rows[i].is_cultivar != is_cultivar)
			continue;
		if (last != NULL && strcmp(last->opinion, rows[i].opinion) != 0)
			return;
		last = &rows[i];
	}
	if (last == NULL || last->name[0] == '\0' ||
		(last->reason[0] == '\0' && last->who[0] == '\0'))
		return;
	if (date_span_first(&last->day).known)
		date_span_format_plain(&last->day, day, sizeof day);
	words_rows_add(out,
		arena_format(out->arena, "taken for %s%s%s%s%s%s", plain_name(yard, last),
			last->sure != SURE_CERTAIN ? "?" : "", day[0] != '\0' ? ", " : "", day,
			last->who[0] != '\0' ? ", by " : "", last->who),
		last->reason);
}

enum status tree_words_names(
	struct yard *yard, const struct dossier *dossier, struct words_rows *out, struct fault *why)
{
	struct identity *rows = NULL;
	int32_t count = 0;
	enum status status = store_identity_list(
		yard_store(yard), dossier->tree.id, out->arena, &rows, &count, why);

	for (int32_t i = 0; status == STATUS_OK && i + 1 < count; i++) {
		const struct identity *old = &rows[i], *next = NULL;
		char day[64] = "";

		for (int32_t n = i + 1; next == NULL && n < count; n++)
			if (rows[n].is_cultivar == old->is_cultivar &&
				strcmp(rows[n].opinion, old->opinion) != 0)
				next = &rows[n];
		if (next == NULL || strcmp(next->name, old->name) == 0)
			continue;
		if (date_span_first(&next->day).known)
			date_span_format_plain(&next->day, day, sizeof day);
		words_rows_add(out,
			arena_format(out->arena, "%s %s%s; %s%s%s%s",
				next->is_change ? "was" : "was recorded as", plain_name(yard, old),
				old->sure != SURE_CERTAIN ? "?" : "",
				next->is_change ? "changed to " : "since ",
				next->name[0] != '\0' ? plain_name(yard, next) : "unknown",
				day[0] != '\0' ? ", " : "", day),
			next->reason);
	}
	for (int what = 0; status == STATUS_OK && what < 2; what++)
		add_present(yard, out, rows, count, what == 1);
	return status;
}

/* --- windows --- */

/* Whose days they are; of days learned also how many seasons and how far they lie apart. */
static const char *basis_words(
	enum basis basis, const struct window *window, char *out, size_t size)
{
	switch (basis) {
	case BASIS_ALMANAC:
		return "almanac";
	case BASIS_OWN:
		return "set by hand";
	case BASIS_LEARNED:
		break;
	}
	if (window == NULL || window->basis != BASIS_LEARNED)
		return "your own days";
	const struct learned *learned = &window->learned;
	bool by_bloom = window->row != NULL && window->row->anchor == ANCHOR_BLOOM;
	snprintf(out, size, "your %s, %d season%s: %+d days, %+d to %+d",
		by_bloom ? "bloom" : "picks", learned->seasons, learned->seasons == 1 ? "" : "s",
		learned->shift_days, learned->shift_min, learned->shift_max);
	return out;
}

/* window: of which the days were learned, NULL where they are those of the saw. */
static void add_window(struct words_rows *rows, enum window_kind kind, bool all_year,
	struct window_span span, enum basis basis, const struct window *window)
{
	const struct date_span days = date_span_between(span.from, span.to);
	char words[64], whose[160];

	if (all_year)
		words_rows_add(rows, window_title(kind), "all year");
	else
		words_rows_add(rows, window_title(kind),
			arena_format(rows->arena, "%s (%s)",
				date_span_format_plain(&days, words, sizeof words),
				basis_words(basis, window, whose, sizeof whose)));
}

void tree_words_windows(const struct dossier *dossier, struct date today, struct words_rows *out)
{
	for (int kind = 0; kind < WINDOW_TOTAL; kind++) {
		const enum window_kind which = (enum window_kind)kind;
		const struct window window = dossier_window(dossier, which, today);

		if (which == WINDOW_CUT_CLEAR || which == WINDOW_CUT_AVOID) {
			const struct saw_span saw = saw_span_at(dossier,
				which == WINDOW_CUT_CLEAR ? VERDICT_CLEAR : VERDICT_AVOID, today);
			if (saw.known)
				add_window(out, which, saw.all_year,
					(struct window_span){saw.from, saw.to}, saw.basis, NULL);
		} else if (window.known) {
			add_window(out, which, window.all_year, window_span_at(&window, today),
				window.basis, &window);
		}
	}
}

/* --- entries --- */

void tree_words_entries(
	const struct dossier *dossier, const struct number_rules *numbers, struct words_rows *out)
{
	char said[400], day[40];

	for (int32_t i = 0; i < dossier->entry_count; i++) {
		const struct entry *entry = dossier->entries[i];
		const struct pest_row *meant =
			entry->kind == KIND_SAW && dossier->kind.species != NULL
				? species_pest_meant(dossier->kind.species,
					  entry_detail(entry, FIELD_SUBJECT_SEEN))
				: NULL;

		date_span_format_plain(&entry->day, day, sizeof day);
		entry_format(entry, numbers, said, sizeof said);
		words_rows_add(out, day,
			arena_format(out->arena, "%s%s%s%s%s%s", said,
				meant != NULL ? " (it may be " : "",
				meant != NULL ? meant->name : "", meant != NULL ? ")" : "",
				entry->note != NULL && entry->note[0] ? "; " : "",
				entry->note != NULL ? entry->note : ""));
	}
}
