/* SPDX-License-Identifier: MIT */
#include "core/edit.h"

#include <assert.h>
#include <string.h>

#include "core/text.h"
#include "core/text_tables.h"

static_assert(EDIT_SIZE <= UINT16_MAX, "byte places of a step are 16 bits");

void edit_start(struct edit *edit, int32_t limit_characters)
{
	assert(limit_characters >= 0);
	*edit = (struct edit){.limit = limit_characters};
}

bool edit_load(struct edit *edit, const char *text, int32_t limit_characters)
{
	edit_start(edit, limit_characters);
	bool whole = edit_insert(edit, text);
	edit->steps_count = 0;
	edit->kept_length = 0;
	edit->typing = false;
	return whole;
}

/* --- changes and taking them back --- */

static void forget_oldest_step(struct edit *edit)
{
	size_t bytes = edit->steps[0].removed;
	edit->kept_length -= bytes;
	memmove(edit->kept, edit->kept + bytes, edit->kept_length);
	edit->steps_count--;
	memmove(edit->steps, edit->steps + 1, (size_t)edit->steps_count * sizeof *edit->steps);
}

static void keep_step(struct edit *edit, size_t at, size_t removed, size_t inserted)
{
	while (edit->steps_count == EDIT_STEPS_MAX ||
		edit->kept_length + removed > sizeof edit->kept)
		forget_oldest_step(edit);
	memcpy(edit->kept + edit->kept_length, edit->text + at, removed);
	edit->kept_length += removed;
	edit->steps[edit->steps_count++] = (struct edit_step){.at = (uint16_t)at,
		.inserted = (uint16_t)inserted,
		.removed = (uint16_t)removed,
		.cursor = (uint16_t)edit->cursor};
}

/* The first place between clusters at or after a place inside the text. */
static size_t boundary_from(const struct edit *edit, size_t place)
{
	size_t boundary = 0;
	while (boundary < place)
		boundary = text_next(edit->text, edit->length, boundary);
	return boundary;
}

/* Puts bytes in the place of others and sets the cursor after them, between two clusters: what
 * was put in may have joined with what stands after it. */
static void put(struct edit *edit, size_t at, size_t removed, const char *bytes, size_t inserted)
{
	size_t after = at + removed;
	memmove(edit->text + at + inserted, edit->text + after, edit->length - after + 1);
	memcpy(edit->text + at, bytes, inserted);
	edit->length += inserted;
	edit->length -= removed;
	edit->cursor = boundary_from(edit, at + inserted);
}

static bool remove_part(struct edit *edit, size_t from, size_t to)
{
	edit->typing = false;
	if (from == to)
		return false;
	keep_step(edit, from, to - from, 0);
	put(edit, from, to - from, "", 0);
	return true;
}

static bool undo(struct edit *edit)
{
	edit->typing = false;
	if (edit->steps_count == 0)
		return false;
	struct edit_step step = edit->steps[--edit->steps_count];
	edit->kept_length -= step.removed;
	put(edit, step.at, step.inserted, edit->kept + edit->kept_length, step.removed);
	edit->cursor = step.cursor;
	return true;
}

/* --- typing --- */

/* Does a letter typed at `at` belong to the step of the letters before it? Undo takes back a
 * word at a time. */
static bool joins_last_step(const struct edit *edit, size_t at, const char *bytes)
{
	if (!edit->typing || edit->steps_count == 0)
		return false;
	const struct edit_step *last = &edit->steps[edit->steps_count - 1];
	bool new_word = at > 0 && edit->text[at - 1] == ' ' && bytes[0] != ' ';
	return last->at + last->inserted == (int)at && !new_word;
}

/* What a typed character becomes; 0 when it is left out. */
static uint32_t typed_code(uint32_t code)
{
	if (!text_code_is_control(code))
		return code;
	return text_code_is_blank(code) ? ' ' : 0;
}

/* The part of text that may go in: cleaned of controls, cut at the limits. */
static bool take_typed(
	const struct edit *edit, const char *text, char out[EDIT_SIZE], size_t *taken)
{
	size_t length = strlen(text);
	int64_t characters = edit->limit - (int64_t)text_count_characters(edit->text);
	size_t room = EDIT_SIZE - 1 - edit->length;
	size_t used;
	*taken = 0;
	for (size_t at = 0; at < length; at += used) {
		char bytes[4];
		uint32_t code = typed_code(text_decode(text + at, length - at, &used));
		if (code == 0)
			continue;
		size_t size = text_encode(code, bytes);
		if (characters-- <= 0 || *taken + size > room)
			return false;
		memcpy(out + *taken, bytes, size);
		*taken += size;
	}
	return true;
}

bool edit_insert(struct edit *edit, const char *text)
{
	char bytes[EDIT_SIZE];
	size_t taken;
	bool whole = take_typed(edit, text, bytes, &taken);
	if (taken == 0)
		return whole;
	size_t at = edit->cursor;
	if (joins_last_step(edit, at, bytes)) {
		struct edit_step *last = &edit->steps[edit->steps_count - 1];
		last->inserted = (uint16_t)(last->inserted + taken);
	} else {
		keep_step(edit, at, 0, taken);
	}
	put(edit, at, 0, bytes, taken);
	edit->typing = true;
	return whole;
}

bool edit_replace(struct edit *edit, const char *text)
{
	struct edit fresh = {.limit = edit->limit};
	char bytes[EDIT_SIZE];
	size_t taken;
	bool whole = take_typed(&fresh, text, bytes, &taken);
	edit->typing = false;
	keep_step(edit, 0, edit->length, taken);
	put(edit, 0, edit->length, bytes, taken);
	return whole;
}

/* --- moving --- */

static size_t word_left(const struct edit *edit)
{
	size_t at = edit->cursor;
	while (at > 0 && edit->text[at - 1] == ' ')
		at--;
	while (at > 0 && edit->text[at - 1] != ' ')
		at--;
	return at;
}

static size_t word_right(const struct edit *edit)
{
	size_t at = edit->cursor;
	while (at < edit->length && edit->text[at] != ' ')
		at++;
	while (at < edit->length && edit->text[at] == ' ')
		at++;
	return at;
}

static bool move_to(struct edit *edit, size_t place)
{
	edit->typing = false;
	/* A mark typed after a blank is one cluster with it: never stand inside. */
	size_t boundary = boundary_from(edit, place);
	bool moved = edit->cursor != boundary;
	edit->cursor = boundary;
	return moved;
}

bool edit_do(struct edit *edit, enum edit_act act)
{
	size_t left = text_previous(edit->text, edit->length, edit->cursor);
	size_t right = text_next(edit->text, edit->length, edit->cursor);
	switch (act) {
	case EDIT_LEFT:
		return move_to(edit, left);
	case EDIT_RIGHT:
		return move_to(edit, right);
	case EDIT_WORD_LEFT:
		return move_to(edit, word_left(edit));
	case EDIT_WORD_RIGHT:
		return move_to(edit, word_right(edit));
	case EDIT_HOME:
		return move_to(edit, 0);
	case EDIT_END:
		return move_to(edit, edit->length);
	case EDIT_DELETE_BACK:
		return remove_part(edit, left, edit->cursor);
	case EDIT_DELETE:
		return remove_part(edit, edit->cursor, right);
	case EDIT_KILL_WORD:
		return remove_part(edit, word_left(edit), edit->cursor);
	case EDIT_KILL_TO_END:
		return remove_part(edit, edit->cursor, edit->length);
	case EDIT_KILL_LINE:
		return remove_part(edit, 0, edit->length);
	case EDIT_UNDO:
		return undo(edit);
	}
	return false;
}

/* --- showing --- */

/* Cells of text[from..to), both between clusters. */
static int cells_between(const struct edit *edit, size_t from, size_t to, int how)
{
	if (!(how & TEXT_ASCII))
		return text_width_n(edit->text + from, to - from);
	int clusters = 0;
	while (from < to) {
		from = text_next(edit->text, edit->length, from);
		clusters++;
	}
	return clusters;
}

/* Cells that the cursor itself needs: those of the cluster it stands on, one at the end. */
static int cursor_cells(const struct edit *edit, int cells, int how)
{
	if (edit->cursor == edit->length)
		return 1;
	size_t next = text_next(edit->text, edit->length, edit->cursor);
	int own = cells_between(edit, edit->cursor, next, how);
	return own > cells ? cells : own;
}

static void scroll(struct edit *edit, int cells, int how)
{
	/* The text may have changed since: start again between clusters of what is there. */
	if (edit->first > edit->cursor)
		edit->first = edit->cursor;
	edit->first = boundary_from(edit, edit->first);
	int used = cells_between(edit, edit->first, edit->cursor, how);
	used += cursor_cells(edit, cells, how);
	while (used > cells) {
		size_t next = text_next(edit->text, edit->length, edit->first);
		used -= cells_between(edit, edit->first, next, how);
		edit->first = next;
	}
	/* Room at the end that text from before could fill. */
	int tail = cells_between(edit, edit->first, edit->length, how) + 1;
	while (edit->first > 0) {
		size_t before = text_previous(edit->text, edit->length, edit->first);
		tail += cells_between(edit, before, edit->first, how);
		if (tail > cells)
			break;
		edit->first = before;
	}
}

struct edit_view edit_look(struct edit *edit, int cells, int how)
{
	assert(cells >= 1);
	scroll(edit, cells, how);
	struct edit_view view = {.from = edit->first,
		.to = edit->first,
		.cursor = cells_between(edit, edit->first, edit->cursor, how),
		.before = edit->first > 0};
	int used = 0;
	while (view.to < edit->length) {
		size_t next = text_next(edit->text, edit->length, view.to);
		used += cells_between(edit, view.to, next, how);
		if (used > cells)
			break;
		view.to = next;
	}
	view.after = view.to < edit->length;
	return view;
}

struct edit_view edit_show(struct edit *edit, int cells, int how, char *out, size_t size)
{
	struct edit_view view = edit_look(edit, cells, how);
	char part[EDIT_SIZE];
	text_copy_n(part, sizeof part, edit->text + view.from, view.to - view.from);
	text_fit(part, cells, (how & TEXT_ASCII) | TEXT_PAD_RIGHT, out, size);
	return view;
}
