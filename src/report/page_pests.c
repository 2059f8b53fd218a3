/* SPDX-License-Identifier: MIT */
/* One kind's pests with season and first response, the degree-days some of them go by, and the
 * year's small work, on its page of the almanac. */
#include "page.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "almanac/pest.h"
#include "core/text.h"

enum { PESTS_MAX = 256, SEASON_SIZE = 40, HEAD_SIZE = 64 };

/* --- season --- */

/* "03-07", "02, 06-10": the months it shows on this kind; *first gets the first of them. */
static const char *say_season(
	const struct page *page, const struct pest_row *pest, char out[SEASON_SIZE], int32_t *first)
{
	struct text_builder text = text_builder_fixed(out, SEASON_SIZE);
	const struct species *species = page->species;
	char months[PAGE_DAYS_SIZE];
	bool own = false;

	*first = 13;
	text_add(&text, "");
	for (int32_t i = 0; i < pest->span_count; i++)
		own = own || span_names(&pest->spans[i], species->key);
	for (int32_t i = 0; i < pest->span_count; i++) {
		const struct pest_span *span = &pest->spans[i];

		if (span->enters ||
			(own ? !span_names(span, species->key) : span->hosts[0] != '\0'))
			continue;
		if (text.length == 0)
			*first = page_month(page, span->from_month);
		text_add_format(&text, "%s%s", text.length > 0 ? ", " : "",
			page_months(page, span->from_month, span->to_month, months));
	}
	return out;
}

struct shown {
	const struct pest_row *pest;
	char season[SEASON_SIZE];
	int32_t first; /* month; 12 months on for what shows all year */
	int32_t place; /* in the table */
};

static int by_season(const void *a, const void *b)
{
	const struct shown *one = a;
	const struct shown *other = b;

	return one->first != other->first ? one->first - other->first : one->place - other->place;
}

/* --- pests --- */

static void say_pest(struct page *page, const struct shown *shown)
{
	const struct printer *printer = page->printer;
	const struct pest_row *pest = shown->pest;
	char head[HEAD_SIZE], low[32], high[32], cut[120] = "", source[PAGE_SOURCE_SIZE];

	if (pest->cut_low_um.known) {
		length_format(pest->cut_low_um.value, printer->units, low, sizeof low);
		length_format(pest->cut_high_um.value, printer->units, high, sizeof high);
		bool same = pest->cut_low_um.value == pest->cut_high_um.value;
		snprintf(cut, sizeof cut, "; cut %s%s%s below the last sign", low,
			same ? "" : " to ", same ? "" : high);
	}
	snprintf(head, sizeof head, "  %-13s ", shown->season);
	say_wrapped(printer, head, "%s%s: %s%s%s", pest->name,
		pest->report == REPORT_YES ? " (!)" : "", pest->first, cut,
		(pest->read & CELL_FIRST) != 0
			? page_source(page, pest->sources[0], pest->sure, source)
			: " [from memory]");
}

static void say_general(const struct page *page)
{
	const struct species *species = page->species;
	char names[1600];
	struct text_builder text = text_builder_fixed(names, sizeof names);

	text_add(&text, "");
	for (int32_t i = 0; i < species->pest_count; i++)
		if (strcmp(species->pests[i]->hosts, "all") == 0)
			text_add_format(&text, "%s%s%s", text.length > 0 ? ", " : "",
				species->pests[i]->name,
				species->pests[i]->report == REPORT_YES ? " (!)" : "");
	if (text.length > 0)
		say_wrapped(page->printer, "  on any kind: ", "%s", names);
}

static void say_pests(struct page *page)
{
	const struct species *species = page->species;
	struct arena *arena = arena_new();
	struct shown *shown = arena_array(arena, PESTS_MAX, sizeof *shown);
	int32_t count = 0;

	for (int32_t i = 0; i < species->pest_count && count < PESTS_MAX; i++) {
		struct shown *one = &shown[count];

		if (strcmp(species->pests[i]->hosts, "all") == 0)
			continue;
		*one = (struct shown){.pest = species->pests[i], .place = count};
		say_season(page, one->pest, one->season, &one->first);
		if (strcmp(one->season, "01-12") == 0)
			one->first = 12;
		count++;
	}
	qsort(shown, (size_t)count, sizeof *shown, by_season);
	say_wrapped(page->printer, "  ",
		"By the months in which they show. What you see may be one of these, or something "
		"that looks like it. For anything sprayed the label is the law. (!): it may have "
		"to "
		"be reported; ask your plant health authority before you move any of it.");
	for (int32_t i = 0; i < count; i++)
		say_pest(page, &shown[i]);
	say_general(page);
	arena_free(arena);
}

/* --- degree-days --- */

static bool same_model(const struct degree_row *a, const struct degree_row *b)
{
	return strcmp(a->place, b->place) == 0 && strcmp(a->start, b->start) == 0 &&
	       strcmp(a->form, b->form) == 0 && a->base_decic.known == b->base_decic.known &&
	       a->base_decic.value == b->base_decic.value && a->fahrenheit == b->fahrenheit;
}

static void add_total(struct text_builder *text, const struct degree_row *row)
{
	text_add_format(
		text, "%s%s %g", text->length > 0 ? "; " : "", row->event, row->low.value / 10.0);
	if (row->high.value != row->low.value)
		text_add_format(text, " to %g", row->high.value / 10.0);
}

/* All events of one model, at its first row. */
static void say_model(struct page *page, const struct pest_row *pest, int32_t first)
{
	const struct degree_row *row = pest->degrees[first];
	char events[800], base[24], source[PAGE_SOURCE_SIZE];
	struct text_builder text = text_builder_fixed(events, sizeof events);

	for (int32_t i = 0; i < first; i++)
		if (same_model(pest->degrees[i], row))
			return;
	text_add(&text, "");
	for (int32_t i = first; i < pest->degree_count; i++)
		if (pest->degrees[i]->low.known && same_model(pest->degrees[i], row))
			add_total(&text, pest->degrees[i]);
	temperature_format((int32_t)row->base_decic.value, row->fahrenheit ? UNITS_US : UNITS_UNSET,
		base, sizeof base);
	say_wrapped(page->printer, "  - ", "%s%s%s, %s, over %s from %s: %s %s degree-days%s%s%s",
		pest->name, row->form[0] ? ", " : "", row->form, row->place, base, row->start,
		events, row->fahrenheit ? "F" : "C", row->from_memory[0] ? "; from memory: " : "",
		row->from_memory, page_source(page, row->sources[0], row->sure, source));
}

static void say_degrees(struct page *page)
{
	const struct species *species = page->species;
	bool begun = false;

	for (int32_t i = 0; i < species->pest_count; i++) {
		const struct pest_row *pest = species->pests[i];

		for (int32_t k = 0; k < pest->degree_count; k++) {
			if (!pest->degrees[k]->low.known)
				continue;
			if (!begun)
				say_wrapped(page->printer, "  ",
					"Degree-days say: look now, never: treat now. Each total "
					"holds for where it was made, with its own base and "
					"start.");
			begun = true;
			say_model(page, pest, k);
		}
	}
}

void page_pests(struct page *page)
{
	if (page->species->pest_count > 0)
		say_pests(page);
	say_degrees(page);
}

/* --- work --- */

/* " (where hard winters, wet summers; little frost)" of the keys; "" for any climate. */
static const char *say_where(const struct work_row *work, char *out, size_t size)
{
	struct text_builder text = text_builder_fixed(out, size);

	text_add(&text, "");
	for (const char *at = work->climates; *(at += strspn(at, " ")) != '\0';) {
		char key[40];
		size_t length = strcspn(at, " ");

		snprintf(key, sizeof key, "%.*s", (int)length, at);
		enum climate climate = climate_of_key(key);
		text_add_format(&text, "%s%s", text.length > 0 ? "; or " : " (where ",
			climate == CLIMATE_TOTAL ? "it hardly freezes" : climate_title(climate));
		at += length;
	}
	text_add(&text, text.length > 0 ? ")" : "");
	return out;
}

static void say_work(struct page *page, const struct work_row *work)
{
	char head[24], months[PAGE_DAYS_SIZE], where[200], source[PAGE_SOURCE_SIZE];

	snprintf(head, sizeof head, "  %-5.5s  ",
		page_months(page, work->from_month, work->to_month, months));
	say_wrapped(page->printer, head, "%s%s%s%s%s%s%s", work->task, work->when[0] ? "; " : "",
		work->when, work->condition[0] ? "; " : "", work->condition,
		page->climate == CLIMATE_ANY ? say_where(work, where, sizeof where) : "",
		work->sure == KNOWN_MEMORY
			? " [from memory]"
			: page_source(page, work->sources[0], work->sure, source));
}

void page_work(struct page *page)
{
	const struct species *species = page->species;

	for (int32_t month = 1; month <= 12; month++)
		for (int32_t i = 0; i < species->work_count; i++) {
			const struct work_row *work = species->work[i];

			if (page_month(page, work->from_month) == month &&
				(page->climate == CLIMATE_ANY ||
					work_is_for(work, species->key, page->climate)))
				say_work(page, work);
		}
}
