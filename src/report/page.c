/* SPDX-License-Identifier: MIT */
#include "page.h"

#include <stdio.h>
#include <string.h>

#include "core/text.h"

/* clang-format off */
static const struct {
	const char *key;
	const char *title;
} PARTS[PART_TOTAL] = {
	[PART_YEAR]        = {"year",        "Its year"},
	[PART_CUTS]        = {"cuts",        "Cuts"},
	[PART_FEEDING]     = {"feeding",     "Feeding"},
	[PART_CROP]        = {"crop",        "Crop, thinning and picking"},
	[PART_POLLINATION] = {"pollination", "Pollination"},
	[PART_PESTS]       = {"pests",       "Pests, diseases and disorders, and what to do first"},
	[PART_WATER]       = {"water",       "Water and mulch"},
	[PART_COLD]        = {"cold",        "Cold, heat and chill"},
	[PART_TREE]        = {"tree",        "The tree: size, planting, propagation, pots"},
	[PART_PEOPLE]      = {"people",      "Care for people, animals and the law"},
	[PART_WORK]        = {"work",        "Work of the year besides cutting, feeding and picking"},
};
/* clang-format on */

const char *page_part_key(enum page_part part)
{
	return part < PART_TOTAL ? PARTS[part].key : "";
}

const char *page_part_title(enum page_part part)
{
	return part < PART_TOTAL ? PARTS[part].title : "";
}

void page_heading(const struct page *page, enum page_part part, const char *more)
{
	say_line(page->printer, "%s", "");
	say_line(page->printer, "%s%s", page_part_title(part), more);
}

/* --- days --- */

const char *page_days(struct month_day from, struct month_day to, char out[PAGE_DAYS_SIZE])
{
	bool one = from.month == to.month && from.day == to.day;

	snprintf(out, PAGE_DAYS_SIZE, "%02d-%02d", from.month % 100, from.day % 100);
	if (!one)
		snprintf(
			out + 5, PAGE_DAYS_SIZE - 5, " to %02d-%02d", to.month % 100, to.day % 100);
	return out;
}

int32_t page_month(const struct page *page, int32_t month)
{
	return page->hemisphere == HEMISPHERE_SOUTH ? (month + 5) % 12 + 1 : month;
}

const char *page_months(const struct page *page, int32_t from, int32_t to, char out[PAGE_DAYS_SIZE])
{
	bool all = from == 1 && to == 12;
	int32_t first = all ? from : page_month(page, from);
	int32_t last = all ? to : page_month(page, to);

	snprintf(out, PAGE_DAYS_SIZE, "%02d", first % 100);
	if (first != last)
		snprintf(out + 2, PAGE_DAYS_SIZE - 2, "-%02d", last % 100);
	return out;
}

/* --- sources --- */

static void note_source(struct page *page, const char *source)
{
	for (int32_t i = 0; i < page->source_count; i++)
		if (strcmp(page->sources[i], source) == 0)
			return;
	if (page->source_count < PAGE_SOURCES_MAX)
		page->sources[page->source_count++] = source;
}

/* How sure, where the key does not say it. */
static const char *sure_words(const char *source, enum known_by sure)
{
	switch (sure) {
	case KNOWN_READ:
		return "";
	case KNOWN_COMMON_PRACTICE:
		return strstr(source, "practice") != NULL ? "" : ", common practice";
	case KNOWN_SECOND_HAND:
		return ", second-hand";
	case KNOWN_MEMORY:
		return strstr(source, "memory") != NULL || strcmp(source, "ours") == 0
			       ? ""
			       : ", from memory";
	}
	return "";
}

const char *page_source(
	struct page *page, const char *source, enum known_by sure, char out[PAGE_SOURCE_SIZE])
{
	note_source(page, source);
	snprintf(out, PAGE_SOURCE_SIZE, " [%s%s]", source, sure_words(source, sure));
	return out;
}

void page_sources(const struct page *page)
{
	say_line(page->printer, "%s", "");
	say_line(page->printer, "Sources");
	for (int32_t i = 0; i < page->source_count; i++)
		say_wrapped(page->printer, "  - ", "%s: %s", page->sources[i],
			source_title(page->almanac, page->sources[i]));
}

/* --- climates --- */

int32_t page_group_first(const struct page *page)
{
	return page->climate != CLIMATE_ANY ? (int32_t)GROUP_HERE : (int32_t)CLIMATE_ANY;
}

int32_t page_group_next(int32_t group)
{
	if (group == GROUP_HERE)
		return CLIMATE_ANY;
	return group + 1 < GROUP_TOTAL ? group + 1 : -1;
}

bool page_group_has(const struct page *page, int32_t group, enum climate climate, bool holds)
{
	if (group == GROUP_HERE)
		return holds;
	return (int32_t)climate == group && (page->climate == CLIMATE_ANY || !holds);
}

void page_group_heading(const struct page *page, int32_t group)
{
	if (group == GROUP_HERE)
		say_line(page->printer, "  Here: %s", climate_title(page->climate));
	else if (group != CLIMATE_ANY)
		say_line(page->printer, "  %s: %s",
			page->climate == CLIMATE_ANY ? "Where" : "Elsewhere",
			climate_title((enum climate)group));
	else
		say_line(page->printer, "  %s, unless its climate stands %s",
			page->climate == CLIMATE_ANY ? "Everywhere" : "Elsewhere",
			page->climate == CLIMATE_ANY ? "below" : "below or above");
}
