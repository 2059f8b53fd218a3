/* SPDX-License-Identifier: MIT */
/* form.h - a few fields under one another, each a line of its own: a table of labels and hints,
 * the text in core/edit. */
#ifndef SCREENS_FORM_H
#define SCREENS_FORM_H

#include "field.h"

enum { FORM_FIELDS_MAX = 12 };

struct form_field {
	const char *label;
	const char *hint; /* what may stand there; shown under the field that is typed in */
	int32_t limit;    /* characters */
};

struct form {
	const struct form_field *fields;
	int count;
	int at;
	struct edit edits[FORM_FIELDS_MAX];
};

void form_start(struct form *form, const struct form_field *fields, int count);
const char *form_text(const struct form *form, int field);
void form_load(struct form *form, int field, const char *text);
/* To a field that there is. */
void form_go(struct form *form, int field);
bool form_take(struct form *form, const struct input *input, struct effect *out);
/* Fields joined by tabs, "" when all are empty; and apart again. */
void form_join(const struct form *form, char *out, size_t size);
void form_split(struct form *form, const char *text);
/* Draws from a row on; returns the row after it. */
int form_draw(const struct form *form, struct paper *paper, int row);

#endif
