/* SPDX-License-Identifier: MIT */
#include "year_line.h"

#include <assert.h>

#include "core/text.h"

static const char *const names[YEAR_THREADS] = {
	[YEAR_ALL] = "all",
	[YEAR_CROP] = "crop",
	[YEAR_SAW] = "saw",
	[YEAR_FEED] = "feed",
	[YEAR_DONE] = "done",
};

const char *year_thread_name(enum year_thread thread)
{
	return names[thread];
}

/* --- cells --- */

/* Flowers before fruit, fruit before wood: what passes soonest. */
static enum ribbon_mark crop_of(const struct ribbon *ribbon, int columns, int cell)
{
	const enum ribbon_mark flower = ribbon_mark_of_cell(ribbon, RIBBON_FLOWER, columns, cell);
	const enum ribbon_mark fruit = ribbon_mark_of_cell(ribbon, RIBBON_FRUIT, columns, cell);
	return flower == RIBBON_BLOOM || fruit == RIBBON_BLANK ? flower : fruit;
}

static enum ribbon_mark mark_of(
	const struct ribbon *ribbon, enum year_thread thread, int columns, int cell)
{
	switch (thread) {
	case YEAR_CROP:
		return crop_of(ribbon, columns, cell);
	case YEAR_SAW:
		return ribbon_mark_of_cell(ribbon, RIBBON_SAW, columns, cell);
	case YEAR_FEED:
		return ribbon_mark_of_cell(ribbon, RIBBON_FEED, columns, cell);
	case YEAR_ALL:
	case YEAR_DONE:
	case YEAR_THREADS:
		break;
	}
	return RIBBON_BLANK;
}

static uint32_t deeds_of(const struct ribbon *ribbon, int columns, int cell)
{
	return ribbon_done_in_cell(ribbon, columns, cell) & ~(UINT32_C(1) << KIND_WEATHER);
}

/* The first kind among the bits, taken out of them; KIND_TOTAL: none. */
static enum entry_kind take_kind(uint32_t *bits)
{
	for (int kind = 0; kind < KIND_TOTAL; kind++) {
		if (!(*bits & (UINT32_C(1) << kind)))
			continue;
		*bits &= ~(UINT32_C(1) << kind);
		return (enum entry_kind)kind;
	}
	return KIND_TOTAL;
}

/* The letter of the first of the kinds; false: there is none. */
static bool put_letter(struct year_line *line, int cell, uint32_t *bits)
{
	const enum entry_kind kind = take_kind(bits);
	if (kind == KIND_TOTAL)
		return false;
	line->cells[cell] = (struct year_cell){RIBBON_DEED, ribbon_letter(kind)};
	line->done |= UINT32_C(1) << kind;
	return true;
}

static void put_mark(struct year_line *line, int cell, enum ribbon_mark mark)
{
	line->cells[cell] = (struct year_cell){(uint8_t)mark, 0};
}

/* Crop and saw side by side; where one says nothing the other has both cells. What was done stands
 * in the place of the crop. */
static void put_pair(struct year_line *line, const struct ribbon *ribbon, int pairs, int pair)
{
	const enum ribbon_mark crop = crop_of(ribbon, pairs, pair);
	const enum ribbon_mark saw = ribbon_mark_of_cell(ribbon, RIBBON_SAW, pairs, pair);
	uint32_t bits = deeds_of(ribbon, pairs, pair);
	put_mark(line, 2 * pair, crop != RIBBON_BLANK ? crop : saw);
	put_mark(line, 2 * pair + 1, saw != RIBBON_BLANK ? saw : crop);
	(void)put_letter(line, 2 * pair, &bits);
}

/* Two letters at most: of three kinds and more the second is a plus. */
static void put_deeds(struct year_line *line, const struct ribbon *ribbon, int pairs, int pair)
{
	uint32_t bits = deeds_of(ribbon, pairs, pair);
	put_mark(line, 2 * pair, RIBBON_BLANK);
	put_mark(line, 2 * pair + 1, RIBBON_BLANK);
	(void)put_letter(line, 2 * pair, &bits);
	if ((bits & (bits - 1)) != 0)
		line->cells[2 * pair + 1] = (struct year_cell){RIBBON_DEED, '+'};
	else
		(void)put_letter(line, 2 * pair + 1, &bits);
}

void year_line_make(
	const struct ribbon *ribbon, enum year_thread thread, int columns, struct year_line *out)
{
	assert(columns % 2 == 0 && columns >= 12 && columns <= YEAR_COLUMNS_MAX);
	*out = (struct year_line){.done = 0};
	if (thread == YEAR_ALL || thread == YEAR_DONE) {
		for (int pair = 0; pair < columns / 2; pair++)
			(thread == YEAR_ALL ? put_pair : put_deeds)(out, ribbon, columns / 2, pair);
		return;
	}
	for (int cell = 0; cell < columns; cell++)
		put_mark(out, cell, mark_of(ribbon, thread, columns, cell));
}

/* --- the key --- */

static void add_sign(struct text_builder *key, enum ribbon_mark mark, bool ascii, const char *word)
{
	text_add_format(
		key, "%s%s %s", key->length > 0 ? "  " : "", ribbon_sign(mark, ascii), word);
}

const char *year_line_crop_key(enum year_thread thread, bool ascii, char out[RIBBON_KEY_SIZE])
{
	struct text_builder key = text_builder_fixed(out, RIBBON_KEY_SIZE);
	text_add(&key, "");
	if (thread == YEAR_ALL || thread == YEAR_CROP) {
		add_sign(&key, RIBBON_WOOD, ascii, "flower wood");
		add_sign(&key, RIBBON_BLOOM, ascii, "bloom");
		add_sign(&key, RIBBON_HANGS, ascii, "fruit");
		add_sign(&key, RIBBON_HARVEST, ascii, "harvest");
	}
	text_add_format(&key, "%s%s today", key.length > 0 ? "  " : "", ascii ? "v" : "▼");
	return out;
}

const char *year_line_saw_key(enum year_thread thread, bool ascii, char out[RIBBON_KEY_SIZE])
{
	struct text_builder key = text_builder_fixed(out, RIBBON_KEY_SIZE);
	text_add(&key, "");
	if (thread == YEAR_ALL || thread == YEAR_SAW || thread == YEAR_FEED) {
		text_add(&key, thread == YEAR_ALL   ? "saw between:"
			       : thread == YEAR_SAW ? "saw:"
						    : "feed:");
		add_sign(&key, RIBBON_CUT_CLEAR, ascii, "clear");
		add_sign(&key, RIBBON_CUT_AVOID, ascii, "leave it");
	}
	add_sign(&key, RIBBON_FROST, ascii, "frost");
	add_sign(&key, RIBBON_HEAT, ascii, "35 C (95 F)");
	return out;
}

const char *year_line_letters(uint32_t kinds, char out[RIBBON_KEY_SIZE])
{
	struct text_builder key = text_builder_fixed(out, RIBBON_KEY_SIZE);
	text_add(&key, "");
	for (enum entry_kind kind; (kind = take_kind(&kinds)) != KIND_TOTAL;)
		text_add_format(&key, "%s%c %s", key.length > 0 ? "  " : "", ribbon_letter(kind),
			kind_row(kind)->title);
	return out;
}
