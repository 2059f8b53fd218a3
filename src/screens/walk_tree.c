/* SPDX-License-Identifier: MIT */
#include "walk_tree.h"

#include <stdio.h>
#include <string.h>

#include "core/text.h"
#include "urgency.h"
#include "yard_rows.h"

/* --- reading --- */

static void read_head(struct walk_tree *out, const struct dossier *dossier, struct date today)
{
	struct yard_row row = {.id = ""};
	const struct tree_kind *kind = &dossier->kind;
	(void)text_copy(out->id, sizeof out->id, dossier->tree.id);
	(void)text_copy(out->label, sizeof out->label, dossier->tree.label);
	(void)text_copy(out->hazard, sizeof out->hazard, dossier->tree.hazard);
	struct text_builder name = text_builder_fixed(out->kind, sizeof out->kind);
	text_add(&name, kind->name);
	if (kind->cultivar[0] != '\0') {
		text_add(&name, ", ");
		text_add(&name, kind->cultivar);
		text_add(&name, kind->cultivar_sure != SURE_CERTAIN ? "?" : "");
	}
	yard_row_year(dossier, today, &row);
	(void)text_copy(out->year, sizeof out->year, row.year);
	if (dossier->tree.planted.text[0] != '\0')
		(void)date_span_format_plain(
			&dossier->tree.planted, out->planted, (int)sizeof out->planted);
}

/* "12 Nov 2026"; an uncertain day whole, in its own words. */
static void say_day(const struct date_span *span, char *out, size_t size)
{
	if (!date_span_is_exact(span)) {
		(void)date_span_format_plain(span, out, (int)size);
		return;
	}
	const struct date_parts parts = date_parts(span->low.value);
	(void)snprintf(out, size, "%2d %.3s %04d", (int)parts.day, date_month_name(parts.month),
		(int)parts.year);
}

static void read_entries(
	struct walk_tree *out, const struct dossier *dossier, const struct session *session)
{
	for (int32_t i = dossier->entry_count; i > 0 && out->entry_count < WALK_ENTRIES_MAX; i--) {
		const struct entry *entry = dossier->entries[i - 1];
		struct walk_entry *shown = &out->entries[out->entry_count++];
		char said[FAULT_TEXT_SIZE];
		say_day(&entry->day, shown->day, sizeof shown->day);
		(void)entry_format(entry, &session->numbers, said, (int)sizeof said);
		struct text_builder whole = text_builder_fixed(shown->said, sizeof shown->said);
		text_add(&whole, said);
		if (entry->note != NULL && entry->note[0] != '\0') {
			text_add(&whole, "; ");
			text_add(&whole, entry->note);
		}
	}
}

static void read_flags(struct walk_tree *out, const struct review *review)
{
	for (int32_t i = 0; i < review->count && out->flag_count < WALK_FLAGS_MAX; i++) {
		const struct flag *flag = &review->items[i].flag;
		struct walk_flag *shown = &out->flags[out->flag_count++];
		shown->urgency = flag->urgency;
		(void)text_copy(shown->says, sizeof shown->says, flag->says);
	}
}

enum status walk_tree_read(
	struct walk_tree *out, struct session *session, const char *id, struct fault *why)
{
	struct arena *arena = arena_new();
	const struct dossier *dossier;
	struct review review;
	const struct review_options options = {.tree_id = id};
	*out = (struct walk_tree){.id = ""};
	enum status status = yard_dossier_in(session->yard, id, arena, &dossier, why);
	if (status == STATUS_OK) {
		read_head(out, dossier, yard_today(session->yard));
		read_entries(out, dossier, session);
		status = review_make(session->yard, &options, arena, &review, why);
	}
	if (status == STATUS_OK)
		read_flags(out, &review);
	arena_free(arena);
	return status;
}

/* --- drawing --- */

enum { WHY_CELLS = 8 };

static int draw_head(const struct walk_tree *tree, struct paper *paper, int rows, const char *place)
{
	const int width = paper_columns(paper);
	const int place_cells = text_width(place);
	int row = 0;
	if (tree->hazard[0] != '\0') {
		(void)paper_put(paper, row, 0, 6, STYLE_HAZARD, "HAZARD");
		row += paper_wrap(paper, row, 7, 0, rows > 12 ? 2 : 1, STYLE_STRONG, tree->hazard);
	}
	const int column = paper_put(paper, row, 0, width / 2, STYLE_TITLE, tree->label);
	(void)paper_put(
		paper, row, column + 2, width - place_cells - column - 3, STYLE_PLAIN, tree->kind);
	paper_put_right(paper, row, width - place_cells, 0, STYLE_PLAIN, place);
	row++;
	const bool hint = tree->why_key && tree->flag_count > 0;
	(void)paper_format(paper, row, 0, hint ? width - WHY_CELLS : 0, STYLE_PLAIN, "%s%s%s",
		tree->year, tree->planted[0] != '\0' ? "; planted " : "", tree->planted);
	if (hint)
		paper_put_right(paper, row, width - WHY_CELLS, WHY_CELLS, STYLE_FAINT, "!: why");
	return row + 1;
}

static int draw_flags(const struct walk_tree *tree, struct paper *paper, int row, int rows)
{
	const int room = (rows - row) / 3 < 1 ? 1 : (rows - row) / 3;
	const int most = tree->flag_count < room ? tree->flag_count : room;
	for (int i = 0; i < most; i++) {
		const struct walk_flag *flag = &tree->flags[i];
		const bool alone = most == 1 && room > 1;
		(void)paper_put(paper, row, 0, 6, urgency_style(flag->urgency),
			urgency_word(flag->urgency));
		row += paper_wrap(paper, row, 6, 0, alone ? 2 : 1, STYLE_PLAIN, flag->says);
	}
	return row;
}

void walk_tree_draw(const struct walk_tree *tree, struct paper *paper, int rows, int32_t first,
	const char *place)
{
	const int day_cells = 11;
	int row = draw_head(tree, paper, rows, place);
	row = draw_flags(tree, paper, row, rows);
	if (rows - row > 5)
		row++;
	if (tree->entry_count == 0 && row < rows)
		(void)paper_put(paper, row, 0, 0, STYLE_PLAIN, "nothing logged yet");
	for (int32_t i = first; i < tree->entry_count && row < rows; i++, row++) {
		const int column =
			paper_put(paper, row, 0, 0, STYLE_FAINT, tree->entries[i].day) + 2;
		(void)paper_put(paper, row, column < day_cells + 2 ? day_cells + 2 : column, 0,
			STYLE_PLAIN, tree->entries[i].said);
	}
}
