/* SPDX-License-Identifier: MIT */
/* The almanac: the list of kinds, and one kind with every source. */
#include <stdio.h>
#include <string.h>

#include "core/text.h"
#include "page.h"
#include "print_own.h"
#include "reckon/window.h"

static const char *const kind_keys[] = {"key", "name", "botanical", "evergreen", "source", NULL};

/* All kinds, or only one. */
static enum status list_kinds(const struct printer *printer, const struct almanac *almanac,
	const struct species *only, struct fault *why)
{
	struct rows rows;

	if (printer->format != FORMAT_TEXT)
		rows = rows_begin(printer, kind_keys);
	for (int32_t i = 0; i < almanac_species_count(almanac); i++) {
		const struct species *species = almanac_species_at(almanac, i);

		if (only != NULL && species != only)
			continue;
		if (printer->format == FORMAT_TEXT) {
			say_line(printer, "%-16s %-20s %s", species->key, species->name,
				species->botanical);
			continue;
		}
		rows_text(&rows, species->key);
		rows_text(&rows, species->name);
		rows_text(&rows, species->botanical);
		rows_bool(&rows, species->evergreen);
		rows_text(&rows, source_title(almanac, species->source));
	}
	return printer->format != FORMAT_TEXT ? rows_end(&rows, why) : say_end(printer, why);
}

/* --- one kind --- */

/* PART_TOTAL: none of this name. */
static enum page_part part_of(const char *key)
{
	for (enum page_part part = PART_YEAR; part < PART_TOTAL; part++)
		if (strcmp(page_part_key(part), key) == 0)
			return part;
	return PART_TOTAL;
}

static const char *part_keys(char *out, size_t size)
{
	struct text_builder keys = text_builder_fixed(out, size);

	text_add(&keys, "");
	for (enum page_part part = PART_YEAR; part < PART_TOTAL; part++)
		text_add_format(&keys, "%s%s", keys.length > 0 ? ", " : "", page_part_key(part));
	return out;
}

static enum status refuse_part(const char *part, struct fault *why)
{
	char keys[160];

	return fault_set(why, STATUS_SYNTAX, "no part '%s'; the parts are %s", part,
		part_keys(keys, sizeof keys));
}

static struct page page_of(const struct printer *printer, const struct almanac *almanac,
	const struct yard *yard, const struct species *species)
{
	struct page page = {.printer = printer, .almanac = almanac, .species = species};

	if (yard != NULL) {
		page.climate = yard_climate(yard);
		page.hemisphere = yard_place(yard)->hemisphere;
	}
	return page;
}

/* Names that lead astray, each with its note once. */
static void say_names(struct page *page)
{
	enum { NAMES_MAX = 64 };
	const struct name_row *names[NAMES_MAX];
	int32_t count = almanac_names(page->almanac, page->species->key, names, NAMES_MAX);

	for (int32_t i = 0; i < count && i < NAMES_MAX; i++) {
		bool said = strcmp(names[i]->language, "en") != 0 || names[i]->note[0] == '\0';
		char source[PAGE_SOURCE_SIZE];

		for (int32_t k = 0; k < i; k++)
			said = said || strcmp(names[k]->note, names[i]->note) == 0;
		if (!said)
			say_wrapped(page->printer, "  ", "The name \"%s\": %s%s", names[i]->name,
				names[i]->note,
				page_source(page, names[i]->source, names[i]->sure, source));
	}
}

static void say_head(struct page *page, const struct yard *yard)
{
	const struct printer *printer = page->printer;
	const struct species *species = page->species;
	char room[160], source[PAGE_SOURCE_SIZE];

	say_line(printer, "%s (%s)%s", species->name, species->botanical,
		species->evergreen ? ", evergreen" : "");
	say_wrapped(printer, "  ", "%s%s", species->flower_wood,
		page_source(page, species->source, species->sure, source));
	say_names(page);
	say_wrapped(printer, "  ",
		"Days are month-day, of the %s hemisphere. In [ ] stands the source, told at the "
		"end, and how sure it is: second-hand, seen only in a copy or quoted; memory, not "
		"looked up; ours, judged by us; else read. Where sources differ all of them stand.",
		page->hemisphere == HEMISPHERE_SOUTH ? "southern" : "northern");
	if (page->hemisphere == HEMISPHERE_SOUTH)
		say_wrapped(printer, "  ",
			"Months that a row names in words are those of its own place, mostly of "
			"the north.");
	if (yard != NULL && !window_place_has_dates(yard_place(yard)))
		say_wrapped(printer, "  ",
			"They do not hold at this place: its hemisphere is not known, or it lies "
			"in "
			"the tropics.");
	if (!page->on_screen)
		say_wrapped(printer, "  ", "Parts, each alone with --part: %s.",
			part_keys(room, sizeof room));
}

static void say_pollination(struct page *page)
{
	const struct pollination *row = page->species->pollination;
	char source[PAGE_SOURCE_SIZE];

	if (row != NULL)
		say_wrapped(page->printer, "  - ", "%s. Carried by %s.%s", row->text, row->carried,
			page_source(page, row->source, row->sure, source));
	page_facts(page, PART_POLLINATION);
	say_wrapped(page->printer, "  - ",
		"Its cultivars and their pollen: boughbook almanac %s --cultivars. Who serves a "
		"tree "
		"of yours: boughbook partners LABEL.",
		page->species->key);
}

/* --- the parts in their order --- */

static enum status say_year(struct page *page, struct yard *yard, struct fault *why)
{
	page_year(page);
	return yard != NULL ? print_own_of_kind(page->printer, yard, page->species, why)
			    : STATUS_OK;
}

static enum status say_part(
	struct page *page, struct yard *yard, enum page_part part, struct fault *why)
{
	page_heading(page, part,
		part == PART_PESTS || part == PART_WORK
			? (page->hemisphere == HEMISPHERE_SOUTH ? " (southern)" : " (northern)")
			: "");
	switch (part) {
	case PART_YEAR:
		return say_year(page, yard, why);
	case PART_CUTS:
		page_cuts(page);
		break;
	case PART_FEEDING:
		page_feeds(page);
		break;
	case PART_POLLINATION:
		say_pollination(page);
		return STATUS_OK;
	case PART_PESTS:
		page_pests(page);
		break;
	case PART_WORK:
		page_work(page);
		break;
	case PART_CROP:
	case PART_WATER:
	case PART_COLD:
	case PART_TREE:
	case PART_PEOPLE:
	case PART_TOTAL:
		break;
	}
	page_facts(page, part);
	return STATUS_OK;
}

/* All parts, or only one. */
static enum status say_kind(
	struct page *page, struct yard *yard, enum page_part only, struct fault *why)
{
	enum status status = STATUS_OK;

	say_head(page, yard);
	for (enum page_part part = PART_YEAR; status == STATUS_OK && part < PART_TOTAL; part++)
		if (only == PART_TOTAL || part == only)
			status = say_part(page, yard, part, why);
	if (status != STATUS_OK)
		return status;
	page_sources(page);
	return say_end(page->printer, why);
}

enum status print_almanac(const struct printer *printer, const struct almanac *almanac,
	struct yard *yard, const struct almanac_question *question, struct fault *why)
{
	const char *kind = question->kind;
	enum page_part only = PART_TOTAL;

	if (kind == NULL)
		return list_kinds(printer, almanac, NULL, why);
	if (question->part != NULL && (only = part_of(question->part)) == PART_TOTAL)
		return refuse_part(question->part, why);
	struct kind_name fits[8];
	int32_t count = almanac_find_kinds(almanac, kind, fits, 8);
	if (count > 1)
		return fault_set(why, STATUS_DOUBT, "'%s' could be %s (%s) or %s (%s)", kind,
			fits[0].name, fits[0].key, fits[1].name, fits[1].key);
	if (count == 0)
		return fault_set(
			why, STATUS_ABSENT, "no kind '%s'; 'boughbook almanac' lists them", kind);
	const struct species *species = almanac_species(almanac, fits[0].key);
	if (species == NULL)
		return fault_set(why, STATUS_ABSENT,
			"%s is known by name, but the almanac has no dates for it", fits[0].name);
	struct page page = page_of(printer, almanac, yard, species);
	page.on_screen = question->on_screen;
	return printer->format != FORMAT_TEXT ? list_kinds(printer, almanac, species, why)
					      : say_kind(&page, yard, only, why);
}
