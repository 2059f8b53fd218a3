/* SPDX-License-Identifier: MIT */
/* The bloom of all trees side by side: who is open when, by the log before the almanac. */
#include <stdio.h>
#include <string.h>

#include "bloom_rows.h"
#include "core/text.h"
#include "report/rows.h"

enum {
	CELLS_A_MONTH = 4,
	CELLS = 12 * CELLS_A_MONTH,
	LABEL_CELLS = 8,
	KIND_CELLS = 12,
	CLASS_CELLS = 9
};

/* --- for machines --- */

static const char *const keys[] = {"tree", "species", "cultivar", "bloom_class", "bloom_from",
	"bloom_to", "all_year", "basis", "seasons", "over_fence", NULL};

static const char *month_day_text(bool known, struct month_day day, char out[8])
{
	out[0] = '\0';
	if (known)
		snprintf(out, 8, "%02d-%02d", (int)(day.month % 100), (int)(day.day % 100));
	return out;
}

static enum status put_rows(
	const struct printer *printer, const struct bloom_rows *blooming, struct fault *why)
{
	struct rows rows = rows_begin(printer, keys);
	char day[8];

	for (int32_t i = 0; i < blooming->count; i++) {
		const struct bloom_row *row = &blooming->items[i];
		const bool dated = row->known && !row->all_year;

		rows_text(&rows, row->label);
		rows_text(&rows, row->species);
		rows_text(&rows, row->cultivar);
		rows_text(&rows, bloom_class_word(row->class));
		rows_text(&rows, month_day_text(dated, row->from, day));
		rows_text(&rows, month_day_text(dated, row->to, day));
		rows_bool(&rows, row->known && row->all_year);
		rows_text(&rows, !row->known ? "" : row->by_log ? "log" : "almanac");
		rows_i32(&rows, row->seasons);
		rows_bool(&rows, row->over_fence);
	}
	return rows_end(&rows, why);
}

/* --- for people --- */

/* The cell of the year that a day falls into. */
static int cell_of(struct month_day day)
{
	int week = ((int)day.day - 1) / 8;

	return ((int)day.month - 1) * CELLS_A_MONTH +
	       (week < CELLS_A_MONTH ? week : CELLS_A_MONTH - 1);
}

/* '#' by the log or by hand, '-' the almanac's span, in which each cultivar takes a part. */
static void draw_year(const struct bloom_row *row, char out[CELLS + 1])
{
	const char mark = row->by_log ? '#' : '-';

	memset(out, row->known && row->all_year ? mark : ' ', CELLS);
	out[CELLS] = '\0';
	for (int i = 0; i < CELLS; i += CELLS_A_MONTH)
		out[i] = out[i] == ' ' ? '.' : out[i];
	if (!row->known || row->all_year)
		return;
	for (int at = cell_of(row->from), steps = 0; steps < CELLS; steps++) {
		out[at] = mark;
		if (at == cell_of(row->to))
			break;
		at = (at + 1) % CELLS;
	}
}

static void say_row(const struct printer *printer, const struct bloom_row *row)
{
	const int how = TEXT_PAD_RIGHT | (printer->ascii ? TEXT_ASCII : 0);
	char label[TEXT_FIT_SIZE(LABEL_CELLS)], kind[TEXT_FIT_SIZE(KIND_CELLS)];
	char year[CELLS + 1], class[TEXT_FIT_SIZE(CLASS_CELLS)];

	draw_year(row, year);
	text_fit(row->label, LABEL_CELLS, how, label, sizeof label);
	text_fit(row->cultivar[0] != '\0' ? row->cultivar : row->kind, KIND_CELLS, how, kind,
		sizeof kind);
	text_fit(row->known ? bloom_class_word(row->class) : "no days", CLASS_CELLS, how, class,
		sizeof class);
	say_line(printer, "%s %s %s %s", label, kind, class, year);
}

static enum status say_all(
	const struct printer *printer, const struct bloom_rows *blooming, struct fault *why)
{
	static const char months[] = "J   F   M   A   M   J   J   A   S   O   N   D";
	const char *before = "";

	say_line(printer, "%-*s %-*s %-*s %s", LABEL_CELLS, "tree", KIND_CELLS, "", CLASS_CELLS,
		"opens", months);
	for (int32_t i = 0; i < blooming->count; i++) {
		if (strcmp(before, blooming->items[i].species) != 0)
			say_line(printer, "%s", blooming->items[i].kind);
		before = blooming->items[i].species;
		say_row(printer, &blooming->items[i]);
	}
	if (blooming->count == 0)
		say_line(printer, "no tree of a known kind stands here");
	say_wrapped(printer, "",
		"# by your log or set by hand; - the almanac's span of the whole kind, in which "
		"each "
		"cultivar takes a part, as its class says. 'boughbook partners LABEL' "
		"says "
		"whose pollen serves whom.");
	return say_end(printer, why);
}

enum status print_bloom(const struct printer *printer, struct yard *yard, struct fault *why)
{
	struct arena *arena = arena_new();
	struct bloom_rows rows;
	enum status status = bloom_rows_make(yard, false, arena, &rows, why);

	if (status == STATUS_OK && printer->format == FORMAT_TEXT)
		status = say_all(printer, &rows, why);
	else if (status == STATUS_OK)
		status = put_rows(printer, &rows, why);
	arena_free(arena);
	return status;
}
