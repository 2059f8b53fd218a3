/* SPDX-License-Identifier: MIT */
#include "rules/flag.h"

#include <assert.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "core/text.h"

static const char *const urgency_keys[] = {
	[URGENCY_ACT] = "act",
	[URGENCY_DUE] = "due",
	[URGENCY_SOON] = "soon",
	[URGENCY_NOTE] = "note",
	[URGENCY_LEAVE] = "leave",
};

const char *urgency_key(enum urgency urgency)
{
	return urgency_keys[urgency];
}

static void grow(struct flags *flags)
{
	int32_t capacity = flags->capacity == 0 ? 8 : flags->capacity * 2;

	flags->items = arena_grow(flags->arena, flags->items,
		(size_t)flags->count * sizeof(struct flag), (size_t)capacity * sizeof(struct flag));
	flags->capacity = capacity;
}

struct flag *flags_add(
	struct flags *flags, const char *rule, const struct dossier *dossier, enum urgency urgency)
{
	if (flags->count == flags->capacity)
		grow(flags);
	struct flag *flag = &flags->items[flags->count++];
	*flag = (struct flag){.rule = rule, .urgency = urgency, .settles = KIND_TOTAL};
	flag->source = "common practice";
	text_copy(flag->tree_id, sizeof flag->tree_id, dossier->tree.id);
	text_copy(flag->label, sizeof flag->label, dossier->tree.label);
	return flag;
}

void flag_key_set(struct flag *flag, int32_t season_year, const char *cause)
{
	snprintf(flag->key, sizeof flag->key, "%s|%s|%d|%s", flag->rule, flag->tree_id, season_year,
		cause);
}

void flag_entry_add(struct flag *flag, const struct entry *entry)
{
	for (int32_t i = 0; i < flag->entry_count; i++)
		if (strcmp(flag->entries[i], entry->id) == 0)
			return;
	if (flag->entry_count < FLAG_ENTRIES_MAX)
		text_copy(flag->entries[flag->entry_count++], ID_SIZE, entry->id);
}

void flag_evidence(struct flags *flags, struct flag *flag, const char *format, ...)
{
	char line[FLAG_SAYS_SIZE];
	va_list arguments;

	if (flag->evidence_count == FLAG_EVIDENCE_MAX)
		return;
	va_start(arguments, format);
	vsnprintf(line, sizeof line, format, arguments);
	va_end(arguments);
	flag->evidence[flag->evidence_count++] = arena_text(flags->arena, line);
}

void flags_change_on(struct flags *flags, struct date today, struct date day)
{
	if (date_compare(day, today) <= 0)
		return;
	if (!flags->next_change.known || date_compare(day, flags->next_change.value) < 0)
		flags->next_change = known_date(day);
}

/* Known before unknown; among known ones by `sign` times their order. */
static int by_known(bool a_known, int64_t a, bool b_known, int64_t b, int sign)
{
	if (a_known != b_known)
		return a_known ? -1 : 1;
	if (!a_known || a == b)
		return 0;
	return a < b ? -sign : sign;
}

int flag_compare(const struct flag *a, const struct flag *b)
{
	int order = (int)a->urgency - (int)b->urgency;

	if (order == 0)
		order = by_known(a->crop_at_risk_mg.known, a->crop_at_risk_mg.value,
			b->crop_at_risk_mg.known, b->crop_at_risk_mg.value, -1);
	if (order == 0)
		order = by_known(a->window_to.known, a->window_to.value.day, b->window_to.known,
			b->window_to.value.day, 1);
	if (order == 0)
		order = by_known(
			a->began.known, a->began.value.day, b->began.known, b->began.value.day, 1);
	if (order == 0)
		order = text_compare_natural(a->label, b->label);
	if (order == 0)
		order = strcmp(a->rule, b->rule);
	return order != 0 ? order : strcmp(a->key, b->key);
}

static int compare(const void *left, const void *right)
{
	return flag_compare(left, right);
}

void flags_sort(struct flags *flags)
{
	if (flags->count > 1)
		qsort(flags->items, (size_t)flags->count, sizeof flags->items[0], compare);
}
