/* SPDX-License-Identifier: MIT */
/* Which cultivar a tree could be, the best first; a name is never settled. */
#include <stdio.h>
#include <string.h>

#include "core/text.h"
#include "report/rows.h"

enum { SHOWN_LEAST = 5, SHOWN_MOST = 12, WORDS_ROOM = 600, NAME_CELLS = 26 };

/* --- for machines --- */

static const char *const keys[] = {"tree", "rank", "key", "cultivar", "fits", "near", "differs",
	"not_known", "sure", "noted", "look_next", "source", NULL};

static void put_candidate(struct rows *rows, const struct likely_report *report,
	const struct likely_candidate *candidate, const struct almanac *almanac)
{
	static const enum likely_fit order[] = {
		LIKELY_FITS, LIKELY_NEAR, LIKELY_DIFFERS, LIKELY_NOT_KNOWN};
	const struct likely *likely = &report->likely;
	char words[WORDS_ROOM];

	rows_text(rows, report->dossier->tree.label);
	if (candidate == NULL)
		rows_text(rows, NULL);
	else
		rows_i32(rows, candidate->rank);
	rows_text(rows, candidate != NULL ? candidate->kind->key : NULL);
	rows_text(rows, candidate != NULL ? candidate->row->name : likely_seedling);
	for (size_t i = 0; i < sizeof order / sizeof order[0]; i++)
		rows_text(rows, candidate == NULL ? NULL
						  : likely_report_words(report, candidate, order[i],
							    words, sizeof words));
	rows_text(rows, candidate != NULL ? known_by_word(candidate->surest) : NULL);
	rows_text(rows, likely_report_noted(report, words, sizeof words));
	rows_text(rows, likely->next_count > 0 ? likely->next[0].trait : NULL);
	rows_text(rows, candidate != NULL ? source_title(almanac, candidate->row->source) : NULL);
}

static enum status put_rows(const struct printer *printer, const struct likely_report *report,
	const struct almanac *almanac, struct fault *why)
{
	struct rows rows = rows_begin(printer, keys);

	for (int32_t i = 0; i < report->likely.count; i++)
		put_candidate(&rows, report, &report->likely.candidates[i], almanac);
	put_candidate(&rows, report, NULL, almanac);
	return rows_end(&rows, why);
}

/* --- for people --- */

static void add_part(struct text_builder *text, const struct likely_report *report,
	const struct likely_candidate *candidate, enum likely_fit fit, const char *head)
{
	char words[WORDS_ROOM];

	likely_report_words(report, candidate, fit, words, sizeof words);
	if (words[0] != '\0')
		text_add_format(text, "%s%s %s", text->length > 0 ? "; " : "", head, words);
}

static void say_candidate(const struct printer *printer, const struct likely_report *report,
	const struct likely_candidate *candidate, bool shares)
{
	char room[3 * WORDS_ROOM], name[NAME_SIZE + 16], head[TEXT_FIT_SIZE(NAME_CELLS)];
	struct text_builder text = text_builder_fixed(room, sizeof room);

	text_add(&text, "");
	add_part(&text, report, candidate, LIKELY_FITS, "fits");
	add_part(&text, report, candidate, LIKELY_NEAR, "near");
	add_part(&text, report, candidate, LIKELY_DIFFERS, "differs");
	add_part(&text, report, candidate, LIKELY_NOT_KNOWN, "not on record");
	if (candidate->surest >= KNOWN_SECOND_HAND)
		text_add_format(&text, "%s(%s)", text.length > 0 ? " " : "",
			known_by_word(candidate->surest));
	snprintf(name, sizeof name, " %2d%s %s", candidate->rank, shares ? "=" : " ",
		candidate->row->name);
	text_fit(name, NAME_CELLS, TEXT_PAD_RIGHT, head, sizeof head);
	if (text_width(name) >= NAME_CELLS) {
		say_line(printer, "%s", name);
		text_fit("", NAME_CELLS, TEXT_PAD_RIGHT, head, sizeof head);
	}
	say_wrapped(printer, head, "%s", room);
}

static int32_t shown_of(const struct likely *likely)
{
	int32_t shown = likely->leading;

	while (shown < likely->count && shown < SHOWN_LEAST)
		shown++;
	return shown < SHOWN_MOST ? shown : SHOWN_MOST;
}

static void say_next(const struct printer *printer, const struct likely_report *report)
{
	const struct likely *likely = &report->likely;
	char words[2 * WORDS_ROOM];

	if (likely->leading < 2)
		return;
	if (likely->next_count == 0) {
		say_wrapped(printer, "",
			"What is on record does not tell the first %d apart any further.",
			likely->leading);
		return;
	}
	say_line(printer, "To tell the first %d apart, look at", likely->leading);
	for (int32_t i = 0; i < likely->next_count; i++) {
		const char *how = likely_how(likely->next[i].trait);

		say_wrapped(printer, "  ", "%s%s%s%s: %s", likely->next[i].trait,
			how[0] != '\0' ? " (" : "", how, how[0] != '\0' ? ")" : "",
			likely_report_split(report, likely->next[i].trait, words, sizeof words));
	}
}

static void say_noted(const struct printer *printer, const struct likely_report *report)
{
	char words[2 * WORDS_ROOM];

	likely_report_noted(report, words, sizeof words);
	say_wrapped(printer, "  ", "%s%s", words[0] != '\0' ? "noted: " : "nothing is noted yet",
		words);
	if (report->unread[0] != '\0')
		say_wrapped(
			printer, "  ", "noted, and no trait of this kind here: %s", report->unread);
}

static void say_kinds(const struct printer *printer, const struct likely_report *report)
{
	char room[WORDS_ROOM];
	struct text_builder text = text_builder_fixed(room, sizeof room);

	text_add(&text, "");
	for (int32_t i = 0; i < report->kind_count; i++)
		text_add_format(&text, "%s%s (%d cultivars)", i > 0 ? ", " : "",
			report->kinds[i].name, report->kinds[i].count);
	say_wrapped(printer, "", "%s  which could it be: %s", report->dossier->tree.label, room);
}

static enum status say_all(
	const struct printer *printer, const struct likely_report *report, struct fault *why)
{
	const struct likely *likely = &report->likely;
	const char *label = report->dossier->tree.label;
	const int32_t shown = report->note_count > 0 ? shown_of(likely) : 0;

	say_kinds(printer, report);
	say_noted(printer, report);
	for (int32_t i = 0; i < shown; i++) {
		const int32_t rank = likely->candidates[i].rank;
		const bool shares =
			(i > 0 && likely->candidates[i - 1].rank == rank) ||
			(i + 1 < likely->count && likely->candidates[i + 1].rank == rank);
		say_candidate(printer, report, &likely->candidates[i], shares);
	}
	if (shown > 0 && shown < likely->count)
		say_line(printer, "     %d more beside or behind them; --format csv lists all",
			likely->count - shown);
	say_line(printer, "     or %s", likely_seedling);
	say_next(printer, report);
	say_wrapped(printer, "", "%s", likely_caution);
	say_wrapped(printer, "",
		"boughbook tree trait \"%s\" NAME=VALUE keeps what you see; tree identify \"%s\" "
		"--cultivar NAME --sure suspected a name that you hold likely.",
		label, label);
	return say_end(printer, why);
}

enum status print_likely(const struct printer *printer, struct yard *yard, const char *tree_id,
	const struct likely_said *said, int32_t count, struct fault *why)
{
	struct arena *arena = arena_new();
	struct likely_report *report = arena_alloc(arena, sizeof *report);
	enum status status = likely_report_make(yard, tree_id, said, count, arena, report, why);

	if (status == STATUS_OK && printer->format == FORMAT_TEXT)
		status = say_all(printer, report, why);
	else if (status == STATUS_OK)
		status = put_rows(printer, report, yard_almanac(yard), why);
	arena_free(arena);
	return status;
}
