/* SPDX-License-Identifier: MIT */
#include "report/likely_report.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "core/text.h"

enum { KNOWN_MOST = 12, ORDERS_MOST = 2, ORDER_SEASONS_LEAST = 2, CELL_SIZE = 120 };

const char *const likely_seedling = "a seedling, or not on this list";
const char *const likely_caution =
	"Looks settle no name. Many a yard tree is a seedling, or on no list; sports of a cultivar "
	"look like it. Weight of fruit is left out: it follows crop and site.";

/* --- kinds --- */

static void add_kind(const struct almanac *almanac, const char *key, const char *name,
	struct likely_kind *kinds, int32_t *count)
{
	struct likely_kind kind = {.key = key, .name = name};
	kind.rows = almanac_cultivars(almanac, key, &kind.count);
	if (kind.rows != NULL && *count < CANDIDATES_MAX)
		kinds[(*count)++] = kind;
}

int32_t likely_report_kinds(const struct almanac *almanac, const struct tree_kind *kind,
	struct likely_kind out[CANDIDATES_MAX])
{
	struct kind_name fits[1];
	int32_t count = 0;
	if (kind->species != NULL)
		add_kind(almanac, kind->species->key, kind->species->name, out, &count);
	for (int32_t i = 0; i < kind->candidate_count; i++)
		add_kind(almanac, kind->candidates[i]->key, kind->candidates[i]->name, out, &count);
	if (kind->outside != NULL && almanac_find_kinds(almanac, kind->outside, fits, 1) == 1)
		add_kind(almanac, fits[0].key, fits[0].name, out, &count);
	return count;
}

/* --- notes of the log --- */

static bool is_south(const struct yard *yard)
{
	return yard_place(yard)->hemisphere == HEMISPHERE_SOUTH;
}

/* The grower's months are those of the place, the almanac's those of the north. */
static enum status read_note(struct likely_report *report, const char *trait, const char *value,
	struct likely_note *note, struct fault *why)
{
	char turned[LIKELY_VALUE_SIZE];
	enum status status =
		likely_read(report->kinds, report->kind_count, trait, value, note, why);
	if (status != STATUS_OK || !report->south || strcmp(note->trait, "season") != 0)
		return status;
	(void)text_copy(note->value, sizeof note->value,
		likely_turn_season(note->value, turned, sizeof turned));
	return STATUS_OK;
}

static void drop_note(struct likely_report *report, const char *trait)
{
	for (int32_t i = 0; i < report->note_count; i++) {
		if (strcmp(report->notes[i].trait, trait) != 0)
			continue;
		for (int32_t k = i + 1; k < report->note_count; k++)
			report->notes[k - 1] = report->notes[k];
		report->note_count--;
		return;
	}
}

static void put_note(struct likely_report *report, const struct likely_note *note)
{
	drop_note(report, note->trait);
	if (report->note_count < LIKELY_NOTES_MAX)
		report->notes[report->note_count++] = *note;
}

/* What does not fit the kind any more is told, not used. */
static enum status read_log(struct likely_report *report, struct store *store, const char *tree_id,
	struct arena *arena, struct fault *why)
{
	struct trait *traits = NULL;
	int32_t count = 0;
	struct text_builder unread = text_builder_in(arena);
	enum status status = store_trait_list(store, tree_id, arena, &traits, &count, why);
	text_add(&unread, "");
	for (int32_t i = 0; status == STATUS_OK && i < count; i++) {
		struct likely_note note;
		if (traits[i].value[0] == '\0')
			drop_note(report, traits[i].name);
		else if (read_note(report, traits[i].name, traits[i].value, &note, NULL) ==
			 STATUS_OK)
			put_note(report, &note);
		else
			text_add_format(&unread, "%s%s %s", unread.length > 0 ? "; " : "",
				traits[i].name, traits[i].value);
	}
	report->unread = unread.text;
	return status;
}

static enum status read_said(struct likely_report *report, const struct likely_said *said,
	int32_t count, struct fault *why)
{
	for (int32_t i = 0; i < count; i++) {
		struct likely_note note;
		if (said[i].value[0] == '\0') {
			drop_note(report, said[i].trait);
			continue;
		}
		const enum status status =
			read_note(report, said[i].trait, said[i].value, &note, why);
		if (status != STATUS_OK)
			return status;
		put_note(report, &note);
	}
	return STATUS_OK;
}

/* --- its own picks against trees that are known --- */

static int compare_days(const void *a, const void *b)
{
	const int32_t one = *(const int32_t *)a;
	const int32_t two = *(const int32_t *)b;
	return one < two ? -1 : one > two;
}

/* Days from the other's first pick to this one's, the median of the seasons that have both. */
static struct maybe_i32 days_after(
	const struct dossier *dossier, const struct dossier *other, int32_t *seasons)
{
	enum { MOST = 40 };
	int32_t days[MOST];
	*seasons = 0;
	for (int32_t i = 0; i < dossier->season_count && *seasons < MOST; i++) {
		const struct season *own = &dossier->seasons[i];
		const struct season *theirs = dossier_season(other, own->year);
		if (theirs != NULL && own->first_pick.known && theirs->first_pick.known)
			days[(*seasons)++] =
				date_days_between(theirs->first_pick.value, own->first_pick.value);
	}
	if (*seasons < ORDER_SEASONS_LEAST)
		return (struct maybe_i32){.known = false};
	qsort(days, (size_t)*seasons, sizeof days[0], compare_days);
	return known_i32(days[*seasons / 2]);
}

static void add_order(
	struct likely_report *report, const struct dossier *other, const struct cultivar *row)
{
	struct likely_note note = {.trait = LIKELY_ORDER, .against = row, .by_picks = true};
	int32_t seasons = 0;
	note.days = days_after(report->dossier, other, &seasons);
	if (!note.days.known || report->note_count == LIKELY_NOTES_MAX)
		return;
	const int32_t days = note.days.value;
	note.side = days < 0 ? -1 : days > 0;
	struct text_builder text = text_builder_fixed(note.value, sizeof note.value);
	const bool hidden = dossier_is_private(other);
	text_add_format(&text, "%d days %s %s (%s%s, %d seasons)", abs(days),
		days < 0 ? "before" : "after", row->name,
		hidden ? "a tree here" : other->tree.label,
		other->kind.cultivar_sure == SURE_CERTAIN ? "" : "?", seasons);
	report->notes[report->note_count++] = note;
}

static bool has_order(const struct likely_report *report)
{
	for (int32_t i = 0; i < report->note_count; i++)
		if (strcmp(report->notes[i].trait, LIKELY_ORDER) == 0)
			return true;
	return false;
}

/* Unless the grower noted an order. A cultivar that is certain is asked before one suspected. */
static enum status read_picks(
	struct likely_report *report, struct yard *yard, struct arena *arena, struct fault *why)
{
	const struct dossier *dossier = report->dossier;
	const enum sure order[] = {SURE_CERTAIN, SURE_SUSPECTED};
	int32_t count = 0, asked = 0;
	if (has_order(report) || dossier->kind.species == NULL)
		return STATUS_OK;
	const struct neighbour *of_kind =
		dossier_neighbours_of(dossier, dossier->kind.species, &count);
	const int32_t before = report->note_count;
	for (size_t o = 0; o < sizeof order / sizeof order[0]; o++)
		for (int32_t i = 0; i < count && asked < KNOWN_MOST; i++) {
			const struct neighbour *other = &of_kind[i];
			const struct dossier *story = NULL;
			const struct cultivar *row =
				cultivar_find(dossier->kind.species, other->kind.cultivar);
			if (row == NULL || other->kind.cultivar_sure != order[o] ||
				strcmp(other->tree_id, dossier->tree.id) == 0 ||
				report->note_count - before == ORDERS_MOST)
				continue;
			asked++;
			const enum status status =
				yard_dossier_in(yard, other->tree_id, arena, &story, why);
			if (status != STATUS_OK)
				return status;
			add_order(report, story, row);
		}
	return STATUS_OK;
}

/* --- making --- */

static enum status find_kinds(struct likely_report *report, struct yard *yard, struct fault *why)
{
	const struct dossier *dossier = report->dossier;
	report->kind_count = likely_report_kinds(yard_almanac(yard), &dossier->kind, report->kinds);
	if (report->kind_count > 0)
		return STATUS_OK;
	if (dossier->kind.species == NULL && dossier->kind.outside == NULL)
		return fault_set(why, STATUS_ABSENT,
			"of which kind %s is is not known: say it first, one or several (tree "
			"identify %s --species \"apple or pear\")",
			dossier->tree.label, dossier->tree.label);
	return fault_set(
		why, STATUS_ABSENT, "the almanac has no cultivars of %s", dossier->kind.name);
}

enum status likely_report_make(struct yard *yard, const char *tree_id,
	const struct likely_said *said, int32_t said_count, struct arena *arena,
	struct likely_report *out, struct fault *why)
{
	*out = (struct likely_report){.south = is_south(yard), .unread = ""};
	enum status status = yard_dossier_in(yard, tree_id, arena, &out->dossier, why);
	if (status == STATUS_OK)
		status = find_kinds(out, yard, why);
	if (status == STATUS_OK)
		status = read_log(out, yard_store(yard), tree_id, arena, why);
	if (status == STATUS_OK)
		status = read_said(out, said, said_count, why);
	if (status == STATUS_OK)
		status = read_picks(out, yard, arena, why);
	if (status == STATUS_OK)
		likely_rank(out->kinds, out->kind_count, out->notes, out->note_count, arena,
			&out->likely);
	return status;
}

/* --- keeping --- */

static enum status read_kept(const struct likely_kind *kinds, int32_t kind_count,
	const struct likely_said *said, struct trait *out, struct fault *why)
{
	struct likely_note note;
	const bool taken_back = said->value[0] == '\0';
	char word[LIKELY_VALUE_SIZE] = "";
	if (taken_back) { /* any word of the trait says which is meant */
		(void)likely_words(kinds, kind_count, said->trait, word, sizeof word);
		word[strcspn(word, ",")] = '\0';
	}
	if (taken_back && word[0] == '\0') {
		(void)text_copy(out->name, sizeof out->name, said->trait);
		return STATUS_OK;
	}
	const enum status status = likely_read(
		kinds, kind_count, said->trait, taken_back ? word : said->value, &note, why);
	if (status != STATUS_OK)
		return status;
	(void)text_copy(out->name, sizeof out->name, note.trait);
	(void)text_copy(out->value, sizeof out->value, taken_back ? "" : note.value);
	return STATUS_OK;
}

/* Those it may be; of a tree of no known kind all. */
static int32_t kinds_to_check(
	const struct almanac *almanac, const struct tree_kind *kind, struct likely_kind *kinds)
{
	int32_t count = likely_report_kinds(almanac, kind, kinds);
	if (kind->species != NULL || kind->candidate_count > 0 || kind->outside != NULL)
		return count;
	for (int32_t i = 0; i < almanac_species_count(almanac); i++) {
		const struct species *species = almanac_species_at(almanac, i);
		kinds[count] = (struct likely_kind){.key = species->key,
			.name = species->name,
			.rows = species->cultivars,
			.count = species->cultivar_count};
		count++;
	}
	return count;
}

enum status likely_report_keep(struct yard *yard, const char *tree_id,
	const struct likely_said *said, int32_t count, const struct trait *by, struct fault *why)
{
	const struct almanac *almanac = yard_almanac(yard);
	const int32_t all = almanac_species_count(almanac);
	struct arena *arena = arena_new();
	struct likely_kind *kinds = arena_array(arena, (size_t)all + CANDIDATES_MAX, sizeof *kinds);
	struct trait *traits = arena_array(arena, (size_t)count + 1, sizeof *traits);
	struct tree_kind kind;
	enum status status = yard_kind(yard, tree_id, yard_today(yard), &kind, why);
	const int32_t kind_count = status == STATUS_OK ? kinds_to_check(almanac, &kind, kinds) : 0;
	for (int32_t i = 0; status == STATUS_OK && i < count; i++) {
		traits[i] = *by;
		traits[i].value[0] = '\0';
		status = read_kept(kinds, kind_count, &said[i], &traits[i], why);
	}
	if (status == STATUS_OK)
		status = work_traits(yard, tree_id, traits, count, why);
	arena_free(arena);
	return status;
}

/* --- words --- */

/* What a row says, months as they fall at the place. */
static bool row_says(const struct likely_report *report, const struct cultivar *row,
	const char *trait, char *out, size_t size, enum known_by *sure)
{
	char cell[CELL_SIZE];
	if (!likely_says(row, trait, cell, sizeof cell, sure))
		return false;
	if (report->south && strcmp(trait, "season") == 0)
		(void)likely_turn_season(cell, out, size);
	else
		(void)text_copy(out, size, cell);
	return true;
}

const char *likely_report_words(const struct likely_report *report,
	const struct likely_candidate *candidate, enum likely_fit fit, char *out, size_t size)
{
	struct text_builder text = text_builder_fixed(out, size);
	text_add(&text, "");
	for (int32_t i = 0; i < report->note_count; i++) {
		const char *trait = report->notes[i].trait;
		const bool again = i > 0 && strcmp(report->notes[i - 1].trait, trait) == 0 &&
				   candidate->fits[i - 1] == fit;
		char says[CELL_SIZE];
		enum known_by sure = KNOWN_MEMORY;
		if (candidate->fits[i] != fit || again)
			continue;
		text_add_format(&text, "%s%s", text.length > 0 ? ", " : "", trait);
		if ((fit == LIKELY_DIFFERS || fit == LIKELY_NEAR) &&
			row_says(report, candidate->row, trait, says, sizeof says, &sure))
			text_add_format(&text, " (%s)", says);
	}
	return out;
}

/* The rows from `first` on that say the same as it does, unless one before it did. */
static void add_group(const struct likely_report *report, const char *trait, int32_t first,
	struct text_builder *text)
{
	char says[CELL_SIZE], other[CELL_SIZE];
	enum known_by sure = KNOWN_MEMORY;
	const struct likely_candidate *candidates = report->likely.candidates;
	if (!row_says(report, candidates[first].row, trait, says, sizeof says, &sure))
		return;
	for (int32_t i = 0; i < first; i++)
		if (row_says(report, candidates[i].row, trait, other, sizeof other, &sure) &&
			strcmp(says, other) == 0)
			return;
	text_add_format(
		text, "%s%s: %s", text->length > 0 ? "; " : "", says, candidates[first].row->name);
	for (int32_t i = first + 1; i < report->likely.leading; i++)
		if (row_says(report, candidates[i].row, trait, other, sizeof other, &sure) &&
			strcmp(says, other) == 0)
			text_add_format(text, ", %s", candidates[i].row->name);
}

const char *likely_report_split(
	const struct likely_report *report, const char *trait, char *out, size_t size)
{
	struct text_builder text = text_builder_fixed(out, size);
	text_add(&text, "");
	for (int32_t i = 0; i < report->likely.leading; i++)
		add_group(report, trait, i, &text);
	return out;
}

const char *likely_report_noted(const struct likely_report *report, char *out, size_t size)
{
	struct text_builder text = text_builder_fixed(out, size);
	text_add(&text, "");
	for (int32_t i = 0; i < report->note_count; i++) {
		const struct likely_note *note = &report->notes[i];
		char turned[LIKELY_VALUE_SIZE];
		const bool turn = report->south && strcmp(note->trait, "season") == 0;
		text_add_format(&text, "%s%s %s", text.length > 0 ? "; " : "",
			note->by_picks ? "by first picks" : note->trait,
			turn ? likely_turn_season(note->value, turned, sizeof turned)
			     : note->value);
	}
	return out;
}
