/* SPDX-License-Identifier: MIT */
#include "field.h"

#include <string.h>

#include "core/text.h"

/* clang-format off */
static const struct { uint32_t key; enum edit_act act; } bindings[] = {
	{KEYS_LEFT, EDIT_LEFT}, {KEYS_RIGHT, EDIT_RIGHT},
	{KEYS_WORD_LEFT, EDIT_WORD_LEFT}, {KEYS_WORD_RIGHT, EDIT_WORD_RIGHT},
	{KEYS_HOME, EDIT_HOME}, {KEYS_END, EDIT_END}, {1, EDIT_HOME}, {5, EDIT_END},
	{KEYS_BACKSPACE, EDIT_DELETE_BACK}, {KEYS_DELETE, EDIT_DELETE},
	{23, EDIT_KILL_WORD}, {11, EDIT_KILL_TO_END}, {21, EDIT_KILL_LINE},
	{31, EDIT_UNDO}, {25, EDIT_UNDO},
};
/* clang-format on */

static void take_paste(struct edit *edit, const char *pasted, struct effect *out)
{
	const size_t length = strcspn(pasted, "\r\n");
	const char *rest = pasted + length + strspn(pasted + length, "\r\n");
	char line[EDIT_SIZE];
	const bool fits = text_copy_n(line, sizeof line, pasted, length);
	if (!edit_insert(edit, line) || !fits)
		effect_say(out, "the line is full: the rest of the paste was left out");
	else if (*rest != '\0')
		effect_say(out, "only the first line of the paste was taken");
}

bool field_take(struct edit *edit, const struct input *input, struct effect *out)
{
	char bytes[5] = "";
	if (input->key == KEYS_PASTE) {
		take_paste(edit, input->pasted, out);
		return true;
	}
	for (size_t i = 0; i < sizeof bindings / sizeof bindings[0]; i++) {
		if (bindings[i].key == input->key) {
			(void)edit_do(edit, bindings[i].act);
			return true;
		}
	}
	if (input->key < ' ' || input->key >= KEYS_FROM)
		return false;
	bytes[text_encode(input->key, bytes)] = '\0';
	if (!edit_insert(edit, bytes))
		effect_say(out, "the line is full");
	return true;
}

void field_draw(
	struct paper *paper, int row, int column, int cells, const struct edit *edit, bool active)
{
	const int there = paper_columns(paper) - column;
	struct edit shown = *edit; /* looking scrolls it; drawing changes nothing */
	char text[EDIT_SIZE];
	if (there < 1)
		return;
	if (cells <= 0 || cells > there)
		cells = there;
	const struct edit_view view = edit_show(
		&shown, cells, paper_ascii(paper) ? TEXT_ASCII : TEXT_PLAIN, text, sizeof text);
	(void)paper_put(paper, row, column, cells, STYLE_STRONG, text);
	if (active)
		paper_cursor(paper, row, column + view.cursor);
}
