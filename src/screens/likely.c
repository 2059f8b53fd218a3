/* SPDX-License-Identifier: MIT */
/* Which cultivar a tree could be: what is seen on the left, chosen among the words of its kind, and
 * beside it the cultivars in the order in which they fit, anew with each word. Nothing is kept
 * before Enter. */
#include <stdio.h>
#include <string.h>

#include "core/text.h"
#include "report/likely_report.h"
#include "screen.h"

enum { HEAD_ROWS = 2, WIDE = 76, TRAITS_CELLS = 38, TRAITS_CELLS_LEAST = 27, NAME_CELLS = 11 };
enum { WORDS_ROOM = 1600, FOOT_ROWS = 6, FOOT_ROWS_LEAST = 4, ROOMY_ROWS = 18 };

struct likely_page {
	char id[ID_SIZE];
	struct likely_report report;
	const char *traits[LIKELY_TRAITS_MAX];
	int32_t trait_count;
	char values[LIKELY_TRAITS_MAX][LIKELY_VALUE_SIZE]; /* as chosen */
	char kept[LIKELY_TRAITS_MAX][LIKELY_VALUE_SIZE];   /* as the log has them */
	bool in_list;                                      /* the cursor is among the cultivars */
	int32_t at, top;                                   /* traits */
	int32_t row, row_top;                              /* cultivars, then the seedling */
};

/* --- reading --- */

static enum status rank(struct likely_page *page, struct context *context, struct fault *why)
{
	struct likely_said said[LIKELY_TRAITS_MAX];
	for (int32_t i = 0; i < page->trait_count; i++)
		said[i] = (struct likely_said){page->traits[i], page->values[i]};
	arena_reset(context->arena);
	return likely_report_make(context->session->yard, page->id, said, page->trait_count,
		context->arena, &page->report, why);
}

/* What was noted of a trait, months as they fall here; "" nothing. */
static void take_value(
	const struct likely_report *report, const char *trait, char out[LIKELY_VALUE_SIZE])
{
	char turned[LIKELY_VALUE_SIZE];
	out[0] = '\0';
	for (int32_t i = 0; i < report->note_count; i++) {
		const struct likely_note *note = &report->notes[i];
		if (note->by_picks || strcmp(note->trait, trait) != 0)
			continue;
		const bool turn = report->south && strcmp(trait, "season") == 0;
		(void)text_copy(out, LIKELY_VALUE_SIZE,
			turn ? likely_turn_season(note->value, turned, sizeof turned)
			     : note->value);
	}
}

static enum status likely_open(
	void *state, struct context *context, const char *argument, struct fault *why)
{
	struct likely_page *page = state;
	(void)text_copy(page->id, sizeof page->id, argument);
	enum status status = likely_report_make(
		context->session->yard, page->id, NULL, 0, context->arena, &page->report, why);
	if (status != STATUS_OK)
		return status;
	page->trait_count =
		likely_traits(page->report.kinds, page->report.kind_count, page->traits);
	for (int32_t i = 0; i < page->trait_count; i++) {
		take_value(&page->report, page->traits[i], page->kept[i]);
		(void)text_copy(page->values[i], LIKELY_VALUE_SIZE, page->kept[i]);
	}
	return STATUS_OK;
}

static bool differs(const struct likely_page *page)
{
	for (int32_t i = 0; i < page->trait_count; i++)
		if (strcmp(page->values[i], page->kept[i]) != 0)
			return true;
	return false;
}

/* What is chosen and not kept stays; the rest is read anew. */
static enum status likely_reread(void *state, struct context *context, struct fault *why)
{
	struct likely_page *page = state;
	if (differs(page))
		return rank(page, context, why);
	arena_reset(context->arena);
	return likely_open(state, context, arena_text(context->arena, page->id), why);
}

/* --- drawing --- */

static int foot_rows(int rows)
{
	return rows >= ROOMY_ROWS ? FOOT_ROWS : FOOT_ROWS_LEAST;
}

static int list_rows(int rows)
{
	return rows - HEAD_ROWS - foot_rows(rows);
}

static int traits_cells(int columns)
{
	return columns >= WIDE ? TRAITS_CELLS : TRAITS_CELLS_LEAST;
}

static void draw_traits(const struct likely_page *page, struct paper *paper)
{
	const int cells = traits_cells(paper_columns(paper));
	const int rows = list_rows(paper_rows(paper));
	for (int row = 0; row < rows && page->top + row < page->trait_count; row++) {
		const int32_t i = page->top + row;
		const bool here = !page->in_list && i == page->at;
		const bool changed = strcmp(page->values[i], page->kept[i]) != 0;
		(void)paper_put(paper, HEAD_ROWS + row, 0, 1, STYLE_STRONG,
			i == page->at ? ">"
			: changed     ? "*"
				      : " ");
		(void)paper_put(paper, HEAD_ROWS + row, 2, NAME_CELLS - 1,
			here ? STYLE_TITLE : STYLE_PLAIN, page->traits[i]);
		(void)paper_put(paper, HEAD_ROWS + row, 2 + NAME_CELLS, cells - NAME_CELLS - 3,
			changed ? STYLE_STRONG : STYLE_PLAIN,
			page->values[i][0] != '\0' ? page->values[i] : "-");
		if (here)
			paper_select(paper, HEAD_ROWS + row, 0, cells - 1);
	}
}

static int32_t count_of(const struct likely_page *page, int32_t row, enum likely_fit fit)
{
	const struct likely_candidate *candidate = &page->report.likely.candidates[row];
	int32_t count = 0;
	for (int32_t i = 0; i < page->report.note_count; i++)
		count += candidate->fits[i] == fit;
	return count;
}

static bool shares(const struct likely *likely, int32_t row)
{
	const int32_t rank = likely->candidates[row].rank;
	return (row > 0 && likely->candidates[row - 1].rank == rank) ||
	       (row + 1 < likely->count && likely->candidates[row + 1].rank == rank);
}

static void draw_candidate(
	const struct likely_page *page, struct paper *paper, int32_t row, int at, int left)
{
	const struct likely *likely = &page->report.likely;
	const int cells = paper_columns(paper) - left;
	char text[NAME_SIZE + 40], signs[64];
	if (row == likely->count) {
		(void)paper_put(paper, at, left, cells, STYLE_PLAIN, likely_seedling);
		return;
	}
	const struct likely_candidate *candidate = &likely->candidates[row];
	(void)snprintf(text, sizeof text, "%3d%s %s", candidate->rank,
		shares(likely, row) ? "=" : " ", candidate->row->name);
	(void)snprintf(signs, sizeof signs, "+%d ~%d -%d%s", count_of(page, row, LIKELY_FITS),
		count_of(page, row, LIKELY_NEAR), count_of(page, row, LIKELY_DIFFERS),
		candidate->surest == KNOWN_MEMORY        ? " m"
		: candidate->surest == KNOWN_SECOND_HAND ? " s"
							 : "  ");
	(void)paper_put(paper, at, left, cells - 13,
		candidate->rank == 1 && page->report.note_count > 0 ? STYLE_STRONG : STYLE_PLAIN,
		text);
	paper_put_right(paper, at, left + cells - 12, 12, STYLE_PLAIN, signs);
}

static void draw_candidates(const struct likely_page *page, struct paper *paper)
{
	const int left = traits_cells(paper_columns(paper));
	const int rows = list_rows(paper_rows(paper));
	for (int row = 0; row < rows; row++) {
		const int32_t i = page->row_top + row;
		const bool last =
			row == rows - 1 && i < page->report.likely.count && !page->in_list;
		/* whatever is in view, the seedling is */
		if (i <= page->report.likely.count)
			draw_candidate(page, paper, last ? page->report.likely.count : i,
				HEAD_ROWS + row, left);
		if (page->in_list && i == page->row)
			paper_select(paper, HEAD_ROWS + row, left, paper_columns(paper) - left);
	}
}

/* Of the cultivar under the cursor, all that speaks for and against it. */
static void candidate_words(const struct likely_page *page, char *out, size_t size)
{
	static const struct {
		enum likely_fit fit;
		const char *head;
	} parts[] = {{LIKELY_FITS, "fits"}, {LIKELY_NEAR, "near"}, {LIKELY_DIFFERS, "differs"},
		{LIKELY_NOT_KNOWN, "not on record"}};
	const struct likely *likely = &page->report.likely;
	struct text_builder text = text_builder_fixed(out, size);
	char words[WORDS_ROOM];
	if (page->row >= likely->count) {
		text_add(&text, likely_caution);
		return;
	}
	const struct likely_candidate *candidate = &likely->candidates[page->row];
	text_add_format(&text, "%s:", candidate->row->name);
	for (size_t i = 0; i < sizeof parts / sizeof parts[0]; i++) {
		(void)likely_report_words(
			&page->report, candidate, parts[i].fit, words, sizeof words);
		if (words[0] != '\0')
			text_add_format(&text, " %s %s;", parts[i].head, words);
	}
	text_add_format(&text, " %s", known_by_word(candidate->surest));
}

/* What parts the leading ones, else how to look at the trait. */
static void trait_words(const struct likely_page *page, char *out, size_t size)
{
	const struct likely *likely = &page->report.likely;
	const char *trait = page->traits[page->at];
	struct text_builder text = text_builder_fixed(out, size);
	char words[WORDS_ROOM];
	const char *how = likely_how(trait);
	text_add_format(&text, "%s%s%s. ", trait, how[0] != '\0' ? ": " : "", how);
	if (likely->next_count == 0 || likely->leading < 2) {
		text_add(&text, likely_caution);
		return;
	}
	text_add_format(&text, "To tell the first %d apart, look at %s: %s", likely->leading,
		likely->next[0].trait,
		likely_report_split(&page->report, likely->next[0].trait, words, sizeof words));
}

static void draw_foot(const struct likely_page *page, struct paper *paper)
{
	const int rows = paper_rows(paper);
	const int from = rows - foot_rows(rows);
	char words[2 * WORDS_ROOM];
	if (page->in_list)
		candidate_words(page, words, sizeof words);
	else
		trait_words(page, words, sizeof words);
	paper_rule(paper, from, 0, paper_columns(paper));
	(void)paper_wrap(
		paper, from + 1, 0, paper_columns(paper), rows - from - 2, STYLE_PLAIN, words);
	(void)paper_put(paper, rows - 1, 0, 0, STYLE_FAINT,
		differs(page) ? "* not kept: Enter keeps it. Looks settle no name."
			      : "Looks settle no name; many a yard tree is a seedling.");
}

static void likely_draw(const void *state, struct paper *paper)
{
	const struct likely_page *page = state;
	const int left = traits_cells(paper_columns(paper));
	char kinds[200];
	struct text_builder text = text_builder_fixed(kinds, sizeof kinds);
	text_add_format(&text, "%s  ", page->report.dossier->tree.label);
	for (int32_t k = 0; k < page->report.kind_count; k++)
		text_add_format(&text, "%s%s", k > 0 ? " or " : "", page->report.kinds[k].name);
	(void)paper_put(paper, 0, 0, 0, STYLE_TITLE, kinds);
	(void)paper_put(paper, 1, 2, left - 3, STYLE_FAINT, "what you see: Left, Right");
	(void)paper_put(paper, 1, left, 0, STYLE_FAINT,
		paper_columns(paper) >= WIDE ? "could be: + fits ~ near - differs m memory"
					     : "+ fits ~ near - differs m memory");
	draw_traits(page, paper);
	draw_candidates(page, paper);
	draw_foot(page, paper);
}

/* --- acting --- */

static void keep_in(int32_t *at, int32_t *top, int32_t count, int32_t rows)
{
	*at = *at >= count ? count - 1 : *at;
	*at = *at < 0 ? 0 : *at;
	*top = *at < *top ? *at : *at >= *top + rows ? *at - rows + 1 : *top;
	*top = *top > count - rows ? count - rows : *top;
	*top = *top < 0 ? 0 : *top;
}

static void likely_settle(void *state, struct context *context)
{
	struct likely_page *page = state;
	const int32_t rows = list_rows(context->rows);
	keep_in(&page->at, &page->top, page->trait_count, rows);
	keep_in(&page->row, &page->row_top, page->report.likely.count + 1, rows);
}

/* The word before or behind the one that stands; none stands between the last and the first. */
static void turn(struct likely_page *page, int32_t by)
{
	char *value = page->values[page->at];
	char words[WORDS_ROOM], chosen[LIKELY_VALUE_SIZE] = "";
	int32_t count = 0, now = 0, place = 0;
	(void)likely_report_choices(&page->report, page->traits[page->at], words, sizeof words);
	for (int pass = 0; pass < 2; pass++) {
		place = 0;
		for (const char *at = words; *at != '\0';) {
			const size_t length = strcspn(at, ",");
			place++;
			if (pass == 0 && strlen(value) == length && strncmp(at, value, length) == 0)
				now = place;
			if (pass == 1 && place == now)
				(void)text_copy_n(chosen, sizeof chosen, at, length);
			at += length + (at[length] == ',' ? 2 : 0);
		}
		if (pass == 0) {
			count = place + 1;
			now = (now + by + count) % count;
		}
	}
	(void)text_copy(value, LIKELY_VALUE_SIZE, chosen);
}

static void choose(
	struct likely_page *page, struct context *context, int32_t by, struct effect *out)
{
	struct fault why;
	page->in_list = false;
	turn(page, by);
	if (rank(page, context, &why) != STATUS_OK)
		effect_say(out, "%s", why.text);
	page->row = 0;
}

static void keep(struct likely_page *page, struct context *context, struct effect *out)
{
	const struct trait by = {.day = known_date(yard_today(context->session->yard))};
	struct likely_said said[LIKELY_TRAITS_MAX];
	struct fault why;
	int32_t count = 0;
	for (int32_t i = 0; i < page->trait_count; i++)
		if (strcmp(page->values[i], page->kept[i]) != 0)
			said[count++] = (struct likely_said){page->traits[i], page->values[i]};
	if (count == 0) {
		effect_say(out, "nothing was changed");
		return;
	}
	if (likely_report_keep(context->session->yard, page->id, said, count, &by, &why) !=
		STATUS_OK) {
		effect_say(out, "not saved: %s", why.text);
		return;
	}
	memcpy(page->kept, page->values, sizeof page->kept);
	out->wrote = true;
	effect_say(out, "saved, u takes it back");
}

static void move(struct likely_page *page, int32_t by)
{
	if (page->in_list)
		page->row += by;
	else
		page->at += by;
}

static void likely_act(void *state, struct context *context, enum action action, struct effect *out)
{
	struct likely_page *page = state;
	const int32_t rows = list_rows(context->rows);
	if (action == ACTION_UP || action == ACTION_DOWN)
		move(page, action == ACTION_UP ? -1 : 1);
	else if (action == ACTION_PAGE_UP || action == ACTION_PAGE_DOWN)
		move(page, action == ACTION_PAGE_UP ? -rows : rows);
	else if (action == ACTION_FIRST || action == ACTION_LAST)
		move(page, action == ACTION_FIRST ? INT16_MIN : INT16_MAX);
	else if (action == ACTION_LEFT || action == ACTION_RIGHT)
		choose(page, context, action == ACTION_LEFT ? -1 : 1, out);
	else if (action == ACTION_NEXT_PART)
		page->in_list = !page->in_list;
	else if (action == ACTION_SAVE)
		keep(page, context, out);
	else {
		if (action == ACTION_BACK && differs(page))
			effect_say(out, "what was chosen is not kept");
		effect_usual(out);
	}
	likely_settle(page, context);
}

/* clang-format off */
static const struct key_row keys[] = {
	{KEYS_UP, ACTION_UP, false},
	{KEYS_DOWN, ACTION_DOWN, false},
	{KEYS_LEFT, ACTION_LEFT, false},
	{KEYS_RIGHT, ACTION_RIGHT, false},
	{KEYS_ENTER, ACTION_SAVE, false},
	{KEYS_TAB, ACTION_NEXT_PART, false},
	{KEYS_ESCAPE, ACTION_BACK, false},
	{0, ACTION_NONE, false},
};
/* clang-format on */

const struct screen screen_likely = {
	.name = "likely",
	.title = "Which is it",
	.purpose = "what a tree could be: Left and Right choose what you see, Enter keeps it",
	.state_size = sizeof(struct likely_page),
	.least_rows = 15,
	.least_columns = 60,
	.open = likely_open,
	.reread = likely_reread,
	.draw = likely_draw,
	.act = likely_act,
	.keys = keys,
	.settle = likely_settle,
};
