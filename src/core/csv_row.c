/* SPDX-License-Identifier: MIT */
/* Rows of a table as they were read: kept, and asked for their cells. */
#include "core/csv.h"

#include "core/text.h"

struct csv_row csv_row_copy(struct arena *arena, const struct csv_row *row)
{
	struct csv_cell *cells = arena_array(arena, (size_t)row->count, sizeof *cells);
	struct csv_row copy = *row;
	copy.text = arena_grow(arena, row->text, row->size, row->size);
	copy.cells = cells;
	for (int32_t at = 0; at < row->count; at++) {
		cells[at] = row->cells[at];
		cells[at].text = copy.text + (row->cells[at].text - row->text);
	}
	return copy;
}

int32_t csv_find(const struct csv_row *heading, const char *name)
{
	for (int32_t at = 0; at < heading->count; at++) {
		char cell[256];
		size_t length;
		const char *start = text_trim(heading->cells[at].text, &length);
		if (text_copy_n(cell, sizeof cell, start, length) && text_same(cell, name))
			return at;
	}
	return -1;
}

const char *csv_text(const struct csv_row *row, int32_t column)
{
	return column >= 0 && column < row->count ? row->cells[column].text : "";
}
