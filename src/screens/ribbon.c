/* SPDX-License-Identifier: MIT */
#include "ribbon.h"

#include <assert.h>
#include <stdio.h>
#include <string.h>

#include "core/text.h"
#include "rules/saw.h"

enum { MONTHS_BACK = 5, MONTHS_IN_ALL = 12, HEAT_DECIC = 350 };

/* What a mark is filled with, and the word said in it. */
struct fill {
	enum window_kind window;
	enum ribbon_row row;
	const char *sign;  /* UTF-8 */
	const char *plain; /* ASCII */
	const char *word;
	const char *meaning; /* on the key; "" : an earlier one says it */
};

/* Within a row a later mark lies over an earlier one. */
/* clang-format off */
static const struct fill fills[RIBBON_MARK_TOTAL] = {
	[RIBBON_WOOD]       = {WINDOW_FLOWER_WOOD, RIBBON_FLOWER, "░", ".", "wood",    "flower wood grows"},
	[RIBBON_BLOOM]      = {WINDOW_BLOOM,       RIBBON_FLOWER, "▒", "*", "bloom",   "bloom"},
	[RIBBON_HANGS]      = {WINDOW_FRUIT,       RIBBON_FRUIT,  "─", "-", "fruit",   "fruit hangs"},
	[RIBBON_HARVEST]    = {WINDOW_HARVEST,     RIBBON_FRUIT,  "█", "#", "harvest", "harvest"},
	[RIBBON_CUT_CLEAR]  = {WINDOW_CUT_CLEAR,   RIBBON_SAW,    "═", "=", "clear",   "clear to cut or feed"},
	[RIBBON_CUT_AVOID]  = {WINDOW_CUT_AVOID,   RIBBON_SAW,    "╳", "x", "avoid",   "avoid"},
	[RIBBON_FEED_CLEAR] = {WINDOW_FEED_CLEAR,  RIBBON_FEED,   "═", "=", "clear",   "clear to cut or feed"},
	[RIBBON_FEED_AVOID] = {WINDOW_FEED_AVOID,  RIBBON_FEED,   "╳", "x", "avoid",   "avoid"},
	[RIBBON_FROST]      = {WINDOW_TOTAL,       RIBBON_TODAY,  "╌", "~", "frost",   "frost"},
	[RIBBON_HEAT]       = {WINDOW_TOTAL,       RIBBON_TODAY,  "▓", "%", "heat",    "35 C (95 F) came"},
};

static const char *const row_names[RIBBON_ROW_TOTAL] = {
	[RIBBON_MONTHS] = "",     [RIBBON_FLOWER] = "flower", [RIBBON_FRUIT] = "fruit",
	[RIBBON_SAW]    = "saw",  [RIBBON_FEED]   = "feed",   [RIBBON_DONE]  = "done",
	[RIBBON_MORE]   = "",     [RIBBON_PLAN]   = "plan",   [RIBBON_TODAY] = "",
};

/* Kinds that have no letter on the entry line. */
static const char own_letters[KIND_TOTAL] = {
	[KIND_LOSS] = 'l', [KIND_MULCH] = 'm', [KIND_SPRAY] = 'y', [KIND_PLANT] = 'P',
	[KIND_MOVE] = 'M', [KIND_GRAFT] = 'G', [KIND_SOW] = 'S', [KIND_POT_UP] = 'U',
	[KIND_PROTECT] = 'v', [KIND_SOIL_TEST] = 'o', [KIND_PHOTO] = 'i', [KIND_LEAVE] = 'L',
	[KIND_DIED] = 'D', [KIND_WEATHER] = 'W', [KIND_USE] = 'u',
};
/* clang-format on */

static_assert(KIND_TOTAL <= 32, "the kinds of a day fit one word of bits");

const char *ribbon_row_name(enum ribbon_row row)
{
	return row_names[row];
}

char ribbon_letter(enum entry_kind kind)
{
	char letter = kind_row(kind)->letter;
	return letter != 0 ? letter : own_letters[kind];
}

/* --- what happens on each day --- */

static struct date first_of_month(struct date day, int32_t months)
{
	struct date_parts parts = date_parts(day);
	int32_t month = parts.year * 12 + parts.month - 1 + months;
	struct month_day first = {.month = (int8_t)(month % 12 + 1), .day = 1};
	return date_of_month_day(month / 12, first);
}

static void note_basis(struct ribbon *ribbon, const struct window *window)
{
	if (window->basis == BASIS_OWN)
		ribbon->by_hand = true;
	if (window->basis == BASIS_LEARNED && window->learned.seasons > ribbon->learned_seasons)
		ribbon->learned_seasons = window->learned.seasons;
}

static void put_mark(struct ribbon *ribbon, enum ribbon_mark mark, int32_t at)
{
	ribbon->marks[at] |= (uint16_t)(1U << mark);
	ribbon->dated = true;
}

static void put_windows(struct ribbon *ribbon, const struct dossier *dossier, enum ribbon_mark mark)
{
	for (int32_t at = 0; at < ribbon->days; at++) {
		struct date day = date_add_days(ribbon->from, at);
		struct window window = dossier_window(dossier, fills[mark].window, day);
		if (!window_holds(&window, day))
			continue;
		put_mark(ribbon, mark, at);
		note_basis(ribbon, &window);
	}
}

/* --- the saw: the rows for a shape cut, as the rules read them --- */

static void note_moved(struct ribbon *ribbon, const struct tree_learning *learning)
{
	const struct learned *all[] = {
		&learning->bloom, &learning->harvest, &learning->harvest_end};
	for (size_t i = 0; i < sizeof all / sizeof all[0]; i++)
		if (all[i]->applied && all[i]->seasons > ribbon->learned_seasons)
			ribbon->learned_seasons = all[i]->seasons;
}

static void put_saw(struct ribbon *ribbon, const struct dossier *dossier)
{
	bool moved = false;
	for (int32_t at = 0; at < ribbon->days; at++) {
		const struct saw_day day = saw_on(dossier, date_add_days(ribbon->from, at));
		if (!day.known || day.verdict == VERDICT_ALLOWED)
			continue;
		put_mark(ribbon, day.verdict == VERDICT_AVOID ? RIBBON_CUT_AVOID : RIBBON_CUT_CLEAR,
			at);
		moved = moved || day.basis == BASIS_LEARNED;
		ribbon->by_hand = ribbon->by_hand || day.basis == BASIS_OWN;
	}
	if (moved)
		note_moved(ribbon, &dossier->learning);
}

/* --- frost and heat: the place's, whatever the tree is --- */

static bool may_freeze(const struct place *place, struct date day)
{
	if (place->first_frost.month == 0 || place->last_frost.month == 0)
		return false;
	const int32_t at = circle_of_date(day);
	const int32_t first = circle_of(place->first_frost);
	const int32_t last = circle_of(place->last_frost);
	return first <= last ? at >= first && at <= last : at >= first || at <= last;
}

static uint32_t hot_months(const struct dossier *dossier)
{
	uint32_t months = 0;
	for (int32_t i = 0; i < dossier->weather_count; i++) {
		const struct weather_day *day = &dossier->weather[i];
		if (day->max_decic.known && day->max_decic.value >= HEAT_DECIC)
			months |= UINT32_C(1) << date_parts(day->day).month;
	}
	return months;
}

static void put_risk(struct ribbon *ribbon, const struct dossier *dossier)
{
	const uint32_t hot = hot_months(dossier);
	for (int32_t at = 0; at < ribbon->days; at++) {
		const struct date day = date_add_days(ribbon->from, at);
		if (dossier->place != NULL && may_freeze(dossier->place, day))
			ribbon->marks[at] |= (uint16_t)(1U << RIBBON_FROST);
		if ((hot >> date_parts(day).month & 1) != 0)
			ribbon->marks[at] |= (uint16_t)(1U << RIBBON_HEAT);
	}
}

static void put_marks(struct ribbon *ribbon, const struct dossier *dossier)
{
	for (int mark = 0; mark < RIBBON_MARK_TOTAL; mark++)
		if (fills[mark].row != RIBBON_SAW && fills[mark].row != RIBBON_TODAY)
			put_windows(ribbon, dossier, (enum ribbon_mark)mark);
	put_saw(ribbon, dossier);
	put_risk(ribbon, dossier);
}

/* Kinds other than `only` are left out; KIND_TOTAL: none is. */
static void put_deeds(const struct ribbon *ribbon, const struct entry *const *entries,
	int32_t count, enum entry_kind only, uint32_t *days)
{
	for (int32_t i = 0; i < count; i++) {
		if (only != KIND_TOTAL && entries[i]->kind != only)
			continue;
		struct maybe_date day = date_span_first(&entries[i]->day);
		if (!day.known)
			continue;
		int32_t at = date_days_between(ribbon->from, day.value);
		if (at >= 0 && at < ribbon->days)
			days[at] |= UINT32_C(1) << entries[i]->kind;
	}
}

void ribbon_make(const struct dossier *dossier, struct date today, struct ribbon *out)
{
	*out = (struct ribbon){.from = first_of_month(today, -MONTHS_BACK)};
	struct date end = first_of_month(today, MONTHS_IN_ALL - MONTHS_BACK);
	out->days = date_days_between(out->from, end);
	assert(out->days <= RIBBON_DAYS_MAX);
	out->today = date_days_between(out->from, today);
	put_marks(out, dossier);
	put_deeds(out, dossier->entries, dossier->entry_count, KIND_TOTAL, out->done);
	/* what was done with the whole crop of a place was done to no tree */
	put_deeds(out, dossier->place_entries, dossier->place_entry_count, KIND_WEATHER, out->done);
	put_deeds(out, dossier->planned, dossier->planned_count, KIND_TOTAL, out->planned);
}

/* --- cells --- */

void ribbon_cell_days(
	const struct ribbon *ribbon, int columns, int cell, int32_t *first, int32_t *last)
{
	*first = (int32_t)((int64_t)cell * ribbon->days / columns);
	*last = (int32_t)((int64_t)(cell + 1) * ribbon->days / columns) - 1;
	if (*last < *first)
		*last = *first; /* more cells than days */
}

static int cell_of_day(const struct ribbon *ribbon, int columns, int32_t day)
{
	int cell = (int)((int64_t)day * columns / ribbon->days);
	int32_t first, last;
	for (; cell + 1 < columns; cell++) {
		ribbon_cell_days(ribbon, columns, cell, &first, &last);
		if (day <= last)
			break;
	}
	return cell;
}

static void put_sign(struct ribbon_cell *cell, enum ribbon_mark mark, const char *sign)
{
	text_copy(cell->text, sizeof cell->text, sign);
	cell->mark = mark;
}

/* Letters of a word over the cells from one on; false when they do not fit. */
static void put_word(struct ribbon_cell *cells, enum ribbon_mark mark, const char *word)
{
	for (; *word != '\0'; word++, cells++)
		put_sign(cells, mark, (char[]){*word, '\0'});
}

static uint32_t bits_of_cell(
	const struct ribbon *ribbon, const uint32_t *days, int columns, int cell)
{
	int32_t first, last;
	uint32_t bits = 0;
	ribbon_cell_days(ribbon, columns, cell, &first, &last);
	for (int32_t at = first; at <= last; at++)
		bits |= days[at];
	return bits;
}

enum ribbon_mark ribbon_mark_of_cell(
	const struct ribbon *ribbon, enum ribbon_row row, int columns, int cell)
{
	int32_t first, last;
	enum ribbon_mark top = RIBBON_BLANK;
	ribbon_cell_days(ribbon, columns, cell, &first, &last);
	for (int mark = 0; mark < RIBBON_MARK_TOTAL; mark++) {
		if (fills[mark].row != row)
			continue;
		for (int32_t at = first; at <= last; at++)
			if (ribbon->marks[at] & (1U << mark))
				top = (enum ribbon_mark)mark;
	}
	return top;
}

uint32_t ribbon_done_in_cell(const struct ribbon *ribbon, int columns, int cell)
{
	return bits_of_cell(ribbon, ribbon->done, columns, cell);
}

int ribbon_cell_of_today(const struct ribbon *ribbon, int columns)
{
	return cell_of_day(ribbon, columns, ribbon->today);
}

const char *ribbon_sign(enum ribbon_mark mark, bool ascii)
{
	assert(mark < RIBBON_MARK_TOTAL);
	return ascii ? fills[mark].plain : fills[mark].sign;
}

static void put_spans(const struct ribbon *ribbon, enum ribbon_row row, int columns, bool ascii,
	struct ribbon_cell *out)
{
	for (int cell = 0; cell < columns;) {
		enum ribbon_mark mark = ribbon_mark_of_cell(ribbon, row, columns, cell);
		int from = cell;
		for (; cell < columns && ribbon_mark_of_cell(ribbon, row, columns, cell) == mark;
			cell++)
			if (mark != RIBBON_BLANK)
				put_sign(&out[cell], mark,
					ascii ? fills[mark].plain : fills[mark].sign);
		if (mark != RIBBON_BLANK && (size_t)(cell - from) >= strlen(fills[mark].word))
			put_word(&out[from], mark, fills[mark].word);
	}
}

/* Kinds in the order of the table; which: the first or the second of them. */
static void put_letters(const struct ribbon *ribbon, const uint32_t *days, int which, int columns,
	struct ribbon_cell *out)
{
	for (int cell = 0; cell < columns; cell++) {
		uint32_t bits = bits_of_cell(ribbon, days, columns, cell);
		int at = 0;
		for (int kind = 0; kind < KIND_TOTAL; kind++) {
			if (!(bits & (UINT32_C(1) << kind)))
				continue;
			char letter = ribbon_letter((enum entry_kind)kind);
			if (at == which)
				put_sign(&out[cell], RIBBON_DEED, (char[]){letter, '\0'});
			if (at > which && which == 1)
				put_sign(&out[cell], RIBBON_DEED, "+");
			at++;
		}
	}
}

static void put_months(const struct ribbon *ribbon, int columns, struct ribbon_cell *out)
{
	int room = columns / MONTHS_IN_ALL;
	for (int month = 0; month < MONTHS_IN_ALL; month++) {
		struct date first = first_of_month(ribbon->from, month);
		struct date_parts parts = date_parts(first);
		int cell = cell_of_day(ribbon, columns, date_days_between(ribbon->from, first));
		char name[16];
		text_copy(name, sizeof name, date_month_name(parts.month));
		name[room >= 4 ? 3 : 1] = '\0';
		if (room >= 9 && (month == 0 || parts.month == 1))
			snprintf(name + 3, sizeof name - 3, " %d", parts.year);
		put_word(&out[cell], RIBBON_NAME, name);
	}
}

/* Blank cells for the word, with one beside it. */
static bool has_room(const struct ribbon_cell *cells, int columns, int from, int length)
{
	for (int cell = from; cell < from + length; cell++)
		if (cell < 0 || cell >= columns || cells[cell].mark != RIBBON_BLANK)
			return false;
	return true;
}

/* A word that the day would cut in two goes. */
static void take_word(struct ribbon_cell *cells, int columns, int cell, bool ascii)
{
	const enum ribbon_mark mark = cells[cell].mark;
	int from = cell, to = cell;
	if (mark == RIBBON_BLANK || cells[cell].text[0] < 'a' || cells[cell].text[0] > 'z')
		return;
	while (from > 0 && cells[from - 1].mark == mark)
		from--;
	while (to + 1 < columns && cells[to + 1].mark == mark)
		to++;
	for (; from <= to; from++)
		put_sign(&cells[from], mark, ascii ? fills[mark].plain : fills[mark].sign);
}

/* Frost and heat, and over them the day; its word stands where they leave room. */
static void put_today(const struct ribbon *ribbon, int columns, bool ascii, struct ribbon_cell *out)
{
	static const char word[] = "today";
	int length = (int)sizeof word - 1;
	int cell = cell_of_day(ribbon, columns, ribbon->today);
	put_spans(ribbon, RIBBON_TODAY, columns, ascii, out);
	take_word(out, columns, cell, ascii);
	put_sign(&out[cell], RIBBON_NOW, ascii ? "^" : "▲");
	if (has_room(out, columns, cell + 1, length + 1))
		put_word(&out[cell + 2], RIBBON_NOW, word);
	else if (has_room(out, columns, cell - 1 - length, length + 1))
		put_word(&out[cell - 1 - length], RIBBON_NOW, word);
}

void ribbon_cells(const struct ribbon *ribbon, enum ribbon_row row, int columns, bool ascii,
	struct ribbon_cell *out)
{
	assert(columns >= MONTHS_IN_ALL);
	for (int cell = 0; cell < columns; cell++)
		put_sign(&out[cell], RIBBON_BLANK, " ");
	switch (row) {
	case RIBBON_MONTHS:
		put_months(ribbon, columns, out);
		return;
	case RIBBON_TODAY:
		put_today(ribbon, columns, ascii, out);
		return;
	case RIBBON_DONE:
	case RIBBON_MORE:
		put_letters(ribbon, ribbon->done, row == RIBBON_MORE, columns, out);
		break;
	case RIBBON_PLAN:
		put_letters(ribbon, ribbon->planned, 0, columns, out);
		break;
	case RIBBON_FLOWER:
	case RIBBON_FRUIT:
	case RIBBON_SAW:
	case RIBBON_FEED:
	case RIBBON_ROW_TOTAL:
		put_spans(ribbon, row, columns, ascii, out);
		break;
	}
	int now = cell_of_day(ribbon, columns, ribbon->today);
	if (out[now].mark == RIBBON_BLANK)
		put_sign(&out[now], RIBBON_NOW, ascii ? ":" : "┊");
}

bool ribbon_has_row(const struct ribbon *ribbon, enum ribbon_row row, int columns)
{
	const uint32_t *days = row == RIBBON_PLAN ? ribbon->planned : ribbon->done;
	if (row != RIBBON_MORE && row != RIBBON_PLAN)
		return true;
	for (int cell = 0; cell < columns; cell++) {
		uint32_t bits = bits_of_cell(ribbon, days, columns, cell);
		if (bits != 0 && (row == RIBBON_PLAN || (bits & (bits - 1)) != 0))
			return true;
	}
	return false;
}

/* --- the key --- */

static void part_begin(struct text_builder *key)
{
	if (key->length > 0)
		text_add(key, "  ");
}

static void key_of_marks(const struct ribbon *ribbon, bool ascii, struct text_builder *key)
{
	unsigned seen = 0;
	for (int32_t at = 0; at < ribbon->days; at++)
		seen |= ribbon->marks[at];
	if (seen & (1U << RIBBON_FROST | 1U << RIBBON_HEAT)) /* they may leave its word no room */
		text_add_format(key, "%s today", ascii ? "^" : "▲");
	for (int mark = 0; mark < RIBBON_MARK_TOTAL; mark++) {
		const struct fill *fill = &fills[mark];
		/* the saw's marks and the feed's look the same: said once */
		int twin = mark - (RIBBON_FEED_CLEAR - RIBBON_CUT_CLEAR);
		bool said = fill->row == RIBBON_FEED && twin >= 0 && (seen & (1U << twin));
		if (!(seen & (1U << mark)) || said)
			continue;
		const char *sign = ascii ? fill->plain : fill->sign;
		part_begin(key);
		text_add_format(key, "%s%s %s", sign, sign, fill->meaning);
	}
}

static void key_of_deeds(const struct ribbon *ribbon, struct text_builder *key)
{
	uint32_t seen = 0;
	for (int32_t at = 0; at < ribbon->days; at++)
		seen |= ribbon->done[at] | ribbon->planned[at];
	for (int kind = 0; kind < KIND_TOTAL; kind++) {
		if (!(seen & (UINT32_C(1) << kind)))
			continue;
		const struct kind_row *row = kind_row((enum entry_kind)kind);
		part_begin(key);
		text_add_format(key, "%c %s", ribbon_letter((enum entry_kind)kind), row->title);
	}
}

const char *ribbon_key(const struct ribbon *ribbon, bool ascii, char out[RIBBON_KEY_SIZE])
{
	struct text_builder key = text_builder_fixed(out, RIBBON_KEY_SIZE);
	text_add(&key, "");
	key_of_marks(ribbon, ascii, &key);
	key_of_deeds(ribbon, &key);
	return out;
}
