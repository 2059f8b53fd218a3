/* SPDX-License-Identifier: MIT */
#include <stdio.h>
#include <string.h>

#include "core/text.h"
#include "field.h"
#include "report/rows.h"
#include "review.h"
#include "urgency.h"

/* Columns: the sign of the cursor, the urgency's word, the label, the sentence. */
enum {
	URGENCY_COLUMN = 2,
	LABEL_COLUMN = 8,
	LABEL_CELLS_LEAST = 4,
	LABEL_CELLS_MOST = 14,
	NARROW = 60,     /* below, text of the open item begins further left */
	PROOF_LINES = 2, /* of the evidence, unless all of it is asked for */
	HEAD_ROWS = 1,
	REASON_ROWS = 2,
	LABEL_TEXT_SIZE = LABEL_SIZE + 16,
};

/* Where the rows of an item go; drawing and measuring are one walk. */
struct pen {
	struct paper *paper; /* NULL: only measured */
	int row;
	int column; /* of the text */
	int cells;
};

/* --- one item --- */

/* Wrapped text behind a short word in the margin. */
static void pen_text(struct pen *pen, enum style style, const char *first, const char *text)
{
	int margin = (int)strlen(first);
	if (text[0] == '\0')
		return;
	int rows = paper_wrap_rows(text, pen->cells - margin);
	if (pen->paper != NULL) {
		paper_put(pen->paper, pen->row, pen->column, 0, STYLE_FAINT, first);
		paper_wrap(pen->paper, pen->row, pen->column + margin, pen->cells - margin, rows,
			style, text);
	}
	pen->row += rows;
}

static const char *say_state(const struct review_item *item, char *out, size_t size)
{
	char when[24] = "a day not known";
	out[0] = '\0';
	switch (item->state) {
	case FLAG_OPEN:
		if (item->times_put_off > 0)
			snprintf(out, size, "Put off %d time%s before this.", item->times_put_off,
				item->times_put_off == 1 ? "" : "s");
		break;
	case FLAG_PUT_OFF:
		if (item->until.known)
			date_format_plain(item->until.value, when, sizeof when);
		snprintf(out, size, "Put off until %s.", when);
		break;
	case FLAG_SET_ASIDE:
		snprintf(out, size, "Set aside: %s", item->reason);
		break;
	case FLAG_LEFT:
		snprintf(out, size, "Left: %s", item->reason);
		break;
	}
	return out;
}

/* Where the dates come from, and who says so. */
static void pen_source(struct pen *pen, const struct review_state *state, const struct flag *flag)
{
	char text[FLAG_SAYS_SIZE];
	const char *title = source_title(state->session->almanac, flag->source);
	bool same = flag->basis[0] == '\0' || strcmp(flag->basis, title) == 0;
	snprintf(text, sizeof text, "%s%s%s", same ? "" : flag->basis, same ? "" : "; ", title);
	pen_text(pen, STYLE_PLAIN, "by   ", text);
}

static void pen_evidence(struct pen *pen, const struct review_state *state, const struct flag *flag)
{
	int32_t shown = flag->evidence_count;
	char more[32];
	if (!state->why && shown > PROOF_LINES)
		shown = PROOF_LINES;
	for (int32_t i = 0; i < shown; i++)
		pen_text(pen, STYLE_PLAIN, i == 0 ? "from " : "     ", flag->evidence[i]);
	if (shown < flag->evidence_count) {
		snprintf(more, sizeof more, "(%d more: w)", flag->evidence_count - shown);
		pen_text(pen, STYLE_FAINT, "     ", more);
	}
	const struct rule *rule = rule_find(flag->rule);
	if (state->why && rule != NULL)
		pen_text(pen, STYLE_PLAIN, "why  ", rule->reason);
}

static void pen_open(
	struct pen *pen, const struct review_state *state, const struct review_item *item)
{
	char text[FLAG_SAYS_SIZE + TEXT_SIZE];
	pen->row++; /* the head */
	if (item->group > 1)
		pen_text(pen, STYLE_STRONG, "at   ", review_labels(item, text, sizeof text));
	pen_text(pen, STYLE_PLAIN, "", review_words(item, item->flag.says, text, sizeof text));
	pen_text(pen, STYLE_STRONG, "do   ",
		review_words(item, item->flag.action, text, sizeof text));
	pen_text(pen, STYLE_PLAIN, "", say_state(item, text, sizeof text));
	pen_source(pen, state, &item->flag);
	pen_evidence(pen, state, &item->flag);
}

static struct pen pen_for(struct paper *paper, int row, int columns)
{
	int column = columns < NARROW ? URGENCY_COLUMN : LABEL_COLUMN;
	return (struct pen){
		.paper = paper, .row = row, .column = column, .cells = columns - column};
}

static int open_height(
	const struct review_state *state, int columns, const struct review_item *item)
{
	struct pen pen = pen_for(NULL, 0, columns);
	pen_open(&pen, state, item);
	return pen.row;
}

/* --- heights --- */

static int height_of(const struct review_state *state, int columns, int32_t at)
{
	if (state->shown[at] == REVIEW_FOLD)
		return 1;
	const struct review_item *item = &state->review.items[state->shown[at]];
	if (at == state->selected)
		return open_height(state, columns, item);
	return item->state != FLAG_OPEN ? 2 : 1; /* the week's list is to be seen at once */
}

int review_list_rows(const struct review_state *state, int rows)
{
	int room = rows - HEAD_ROWS - (state->reasoning ? REASON_ROWS : 0);
	return room < 1 ? 1 : room;
}

void review_place_selected(const struct review_state *state, int columns, int *from, int *height)
{
	*from = 0;
	*height = 0;
	if (state->shown_count == 0)
		return;
	for (int32_t i = 0; i < state->selected; i++)
		*from += height_of(state, columns, i);
	*height = height_of(state, columns, state->selected);
}

int review_height(const struct review_state *state, int columns)
{
	int rows = 0;
	for (int32_t i = 0; i < state->shown_count; i++)
		rows += height_of(state, columns, i);
	return rows;
}

/* --- drawing --- */

/* "A1"; of a group "A1 +11". */
static const char *label_of(const struct review_item *item, char out[LABEL_TEXT_SIZE])
{
	if (item->group > 1)
		snprintf(out, LABEL_TEXT_SIZE, "%s +%d", item->flag.label, item->group - 1);
	else
		text_copy(out, LABEL_TEXT_SIZE, item->flag.label);
	return out[0] != '\0' ? out : "yard";
}

static int label_cells(const struct review_state *state)
{
	int cells = LABEL_CELLS_LEAST;
	for (int32_t i = 0; i < state->shown_count; i++) {
		if (state->shown[i] == REVIEW_FOLD)
			continue;
		char label[LABEL_TEXT_SIZE];
		int width = text_width(label_of(&state->review.items[state->shown[i]], label));
		if (width > cells)
			cells = width;
	}
	return cells > LABEL_CELLS_MOST ? LABEL_CELLS_MOST : cells;
}

/* "until 12 December 2026", set right, where there is room for it. */
static void draw_window(
	const struct flag *flag, struct paper *paper, int row, int column, int columns)
{
	char day[24], text[40];
	if (!flag->window_to.known || columns < NARROW)
		return;
	snprintf(text, sizeof text, "until %s",
		date_format_plain(flag->window_to.value, day, sizeof day));
	if (column + (int)strlen(text) + 2 < columns)
		paper_put_right(paper, row, columns - (int)strlen(text), (int)strlen(text),
			STYLE_PLAIN, text);
}

static void draw_open(const struct review_state *state, struct paper *paper, int row,
	const struct review_item *item)
{
	int columns = paper_columns(paper);
	struct pen pen = pen_for(paper, row, columns);
	const struct rule *rule = rule_find(item->flag.rule);
	char label[LABEL_TEXT_SIZE];
	pen_open(&pen, state, item);
	if (row < HEAD_ROWS)
		return;
	paper_put(paper, row, URGENCY_COLUMN, 0, STYLE_PLAIN, urgency_word(item->flag.urgency));
	int after = paper_format(paper, row, LABEL_COLUMN, 0, STYLE_PLAIN, "%s  %s",
		label_of(item, label), rule != NULL ? rule->title : item->flag.rule);
	draw_window(&item->flag, paper, row, after, columns);
	paper_select(paper, row, 0, columns);
}

static void draw_closed(struct paper *paper, int row, int label, const struct review_item *item)
{
	int columns = paper_columns(paper);
	char state[TEXT_SIZE + 32], name[LABEL_TEXT_SIZE], words[FLAG_SAYS_SIZE + TEXT_SIZE];
	int text = LABEL_COLUMN + label + 2;
	paper_put(paper, row, URGENCY_COLUMN, 5, urgency_style(item->flag.urgency),
		urgency_word(item->flag.urgency));
	paper_put(paper, row, LABEL_COLUMN, label, STYLE_STRONG, label_of(item, name));
	paper_put(paper, row, text, columns - text, STYLE_PLAIN,
		review_words(item, item->flag.says, words, sizeof words));
	if (item->state != FLAG_OPEN)
		paper_put(paper, row + 1, LABEL_COLUMN, 0, STYLE_FAINT,
			say_state(item, state, sizeof state));
}

static void draw_fold(const struct review_state *state, struct paper *paper, int row, bool selected)
{
	paper_put(paper, row, URGENCY_COLUMN, 5, STYLE_NOTE, urgency_word(URGENCY_NOTE));
	paper_format(paper, row, LABEL_COLUMN, 0, STYLE_PLAIN,
		state->notes == 1 ? "1 note, folded: n unfolds it"
				  : "%d notes, folded: n unfolds them",
		state->notes);
	if (selected && row >= HEAD_ROWS)
		paper_select(paper, row, 0, paper_columns(paper));
}

static void draw_list(const struct review_state *state, struct paper *paper)
{
	int bottom = HEAD_ROWS + review_list_rows(state, paper_rows(paper));
	int label = label_cells(state);
	int row = HEAD_ROWS - state->top;
	for (int32_t i = 0; i < state->shown_count && row < bottom; i++) {
		int height = height_of(state, paper_columns(paper), i);
		const struct review_item *item = state->shown[i] == REVIEW_FOLD
							 ? NULL
							 : &state->review.items[state->shown[i]];
		if (row + height > HEAD_ROWS) {
			if (item == NULL)
				draw_fold(state, paper, row, i == state->selected);
			else if (i == state->selected)
				draw_open(state, paper, row, item);
			else
				draw_closed(paper, row, label, item);
		}
		row += height;
	}
}

static void clear_row(struct paper *paper, int row)
{
	paper_format(paper, row, 0, 0, STYLE_PLAIN, "%*s", paper_columns(paper), "");
}

static void add_settled(
	struct text_builder *line, const char **before, int32_t count, const char *how)
{
	if (count <= 0)
		return;
	text_add_format(line, "%s%d %s", *before, count, how);
	*before = ", ";
}

static void draw_head(const struct review_state *state, struct paper *paper)
{
	char text[240];
	struct text_builder line = text_builder_fixed(text, sizeof text);
	const char *before = "; now ";
	if (state->asked[0] != '\0') {
		clear_row(paper, 0);
		paper_format(paper, 0, URGENCY_COLUMN, 0, STYLE_FAINT, "if logged: %s",
			state->asked_said);
		return;
	}
	if (state->label[0] != '\0')
		text_add_format(&line, "%s alone: ", state->label);
	text_add_format(&line, "%d ask%s for work, %d note%s", state->review.open,
		state->review.open == 1 ? "s" : "", state->review.notes,
		state->review.notes == 1 ? "" : "s");
	add_settled(&line, &before, state->gone, "done");
	add_settled(&line, &before, state->put_off, "put off");
	add_settled(&line, &before, state->set_aside, "set aside");
	if (state->order != ORDER_WORST)
		text_add_format(&line, "; %s", review_order_words(state->order));
	if (state->held[0] != '\0')
		text_add_format(&line, "; last held %s", state->held);
	clear_row(paper, 0);
	paper_put(paper, 0, URGENCY_COLUMN, 0, STYLE_FAINT, text);
}

static void draw_empty(const struct review_state *state, struct paper *paper)
{
	char day[24];
	paper_put(paper, 2, URGENCY_COLUMN, 0, STYLE_GOOD, "Nothing asks for you today.");
	if (state->review.next_change.known)
		paper_format(paper, 3, URGENCY_COLUMN, 0, STYLE_PLAIN,
			"Look again from %s, when a window opens or closes.",
			date_format_plain(state->review.next_change.value, day, sizeof day));
	if (!state->all)
		paper_put(paper, 4, URGENCY_COLUMN, 0, STYLE_FAINT,
			"a shows what was put off or set aside.");
}

static void draw_reason(const struct review_state *state, struct paper *paper)
{
	int row = paper_rows(paper) - REASON_ROWS;
	clear_row(paper, row);
	clear_row(paper, row + 1);
	paper_put(paper, row, 0, 0, STYLE_FAINT,
		"Set aside for this season. Enter keeps the reason, Esc leaves it open.");
	int column = paper_put(paper, row + 1, 0, 0, STYLE_STRONG, "why: ");
	field_draw(paper, row + 1, column, 0, &state->reason, true);
}

void review_draw(const void *screen, struct paper *paper)
{
	const struct review_state *state = screen;
	if (state->shown_count == 0)
		draw_empty(state, paper);
	draw_list(state, paper);
	draw_head(state, paper);
	if (state->reasoning)
		draw_reason(state, paper);
}
