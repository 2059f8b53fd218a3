/* SPDX-License-Identifier: MIT */
#include "form.h"

#include <assert.h>
#include <string.h>

#include "core/text.h"

void form_start(struct form *form, const struct form_field *fields, int count)
{
	assert(count > 0 && count <= FORM_FIELDS_MAX);
	form->fields = fields;
	form->count = count;
	form->at = 0;
	for (int i = 0; i < count; i++)
		edit_start(&form->edits[i], fields[i].limit);
}

const char *form_text(const struct form *form, int field)
{
	return form->edits[field].text;
}

void form_load(struct form *form, int field, const char *text)
{
	(void)edit_load(&form->edits[field], text, form->fields[field].limit);
}

void form_go(struct form *form, int field)
{
	form->at = field < 0 ? 0 : field >= form->count ? form->count - 1 : field;
}

bool form_take(struct form *form, const struct input *input, struct effect *out)
{
	return field_take(&form->edits[form->at], input, out);
}

void form_join(const struct form *form, char *out, size_t size)
{
	struct text_builder joined = text_builder_fixed(out, size);
	bool empty = true;
	for (int i = 0; i < form->count; i++) {
		empty = empty && form->edits[i].length == 0;
		text_add(&joined, i > 0 ? "\t" : "");
		text_add(&joined, form->edits[i].text);
	}
	if (empty)
		out[0] = '\0';
}

void form_split(struct form *form, const char *text)
{
	char part[EDIT_SIZE];
	for (int i = 0; i < form->count; i++) {
		const size_t length = strcspn(text, "\t");
		(void)text_copy_n(part, sizeof part, text, length);
		form_load(form, i, part);
		if (text[length] == '\0')
			break; /* behind the last tab a field is empty, not left out */
		text += length + 1;
	}
}

int form_draw(const struct form *form, struct paper *paper, int row)
{
	int cells = 0;
	for (int i = 0; i < form->count; i++) {
		const int width = text_width(form->fields[i].label);
		cells = width > cells ? width : cells;
	}
	for (int i = 0; i < form->count; i++) {
		const bool here = i == form->at;
		(void)paper_put(paper, row, 0, 1, STYLE_STRONG, here ? ">" : " ");
		(void)paper_put(paper, row, 2, cells, here ? STYLE_TITLE : STYLE_PLAIN,
			form->fields[i].label);
		field_draw(paper, row, cells + 4, 0, &form->edits[i], here);
		row++;
		if (here)
			row += paper_wrap(
				paper, row, cells + 4, 0, 2, STYLE_FAINT, form->fields[i].hint);
	}
	return row;
}
