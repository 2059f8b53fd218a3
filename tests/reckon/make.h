/* SPDX-License-Identifier: MIT */
/* make.h - entries, amounts and days made by hand, for the tests of reckon. Each entry made lives
 * until the test program ends. */
#ifndef TESTS_RECKON_MAKE_H
#define TESTS_RECKON_MAKE_H

#include <string.h>

#include "core/memory.h"
#include "core/record.h"
#include "support/test.h"

static inline struct arena *made(void)
{
	static struct arena *arena;
	if (arena == NULL)
		arena = arena_new();
	return arena;
}

static inline struct date day_of(const char *iso)
{
	struct date day = {0};
	struct fault why = {0};
	check_ok(date_parse_iso(iso, &day, &why), &why);
	return day;
}

static inline struct date_span span_of(const char *text)
{
	struct date_span span = {0};
	struct fault why = {0};
	check_ok(date_span_parse(text, HEMISPHERE_NORTH, &span, &why), &why);
	return span;
}

static inline struct entry *make_entry(enum entry_kind kind, const char *day)
{
	struct entry *entry = arena_alloc(made(), sizeof *entry);
	entry->kind = kind;
	entry->day = span_of(day);
	entry->words = "";
	entry->note = "";
	return entry;
}

static inline struct amount exactly(enum dimension dimension, enum field field, int64_t value)
{
	return (struct amount){.dimension = dimension,
		.field = field,
		.low = known_i64(value),
		.high = known_i64(value)};
}

static inline struct entry *with_amount(struct entry *entry, struct amount amount)
{
	size_t count = (size_t)entry->amount_count;
	struct amount *amounts = arena_grow(
		made(), entry->amounts, count * sizeof amount, (count + 1) * sizeof amount);
	amounts[count] = amount;
	entry->amounts = amounts;
	entry->amount_count++;
	return entry;
}

static inline struct entry *with_detail(struct entry *entry, enum field field, const char *text)
{
	size_t count = (size_t)entry->detail_count;
	struct detail *details = arena_grow(
		made(), entry->details, count * sizeof *details, (count + 1) * sizeof *details);
	details[count].field = field;
	snprintf(details[count].text, sizeof details[count].text, "%s", text);
	entry->details = details;
	entry->detail_count++;
	return entry;
}

/* A weighed pick, in grams. */
static inline struct entry *make_pick(const char *day, int64_t grams)
{
	return with_amount(
		make_entry(KIND_PICK, day), exactly(DIMENSION_MASS, FIELD_WEIGHT, grams * 1000));
}

#endif
