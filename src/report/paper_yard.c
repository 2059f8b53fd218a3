/* SPDX-License-Identifier: MIT */
/* The page of the yard: where it is, what stands there, what hurts. */
#include <string.h>

#include "bloom_rows.h"
#include "paper_sheet.h"

struct roll {
	struct sheet *sheet;
	struct arena *arena;
	bool gone; /* those that are gone, else those that stand */
	int32_t count;
};

static void say_frosts(struct document *document, const struct place *place)
{
	if (place->last_frost.month != 0)
		document_row(document, "last frost", "%d %s", (int)place->last_frost.day,
			date_month_name(place->last_frost.month));
	if (place->first_frost.month != 0)
		document_row(document, "first frost", "%d %s", (int)place->first_frost.day,
			date_month_name(place->first_frost.month));
}

static void say_place(struct sheet *sheet)
{
	const struct yard *yard = sheet->paper->yard;
	const struct place *place = yard_place(yard);
	struct document *document = &sheet->document;

	if (place->latitude_udeg.known)
		document_row(document, "latitude", "%.4f", place->latitude_udeg.value / 1e6);
	if (place->longitude_udeg.known)
		document_row(document, "longitude", "%.4f", place->longitude_udeg.value / 1e6);
	if (place->hemisphere != HEMISPHERE_UNKNOWN)
		document_row(document, "hemisphere", "%s",
			place->hemisphere == HEMISPHERE_NORTH ? "north" : "south");
	document_row(document, "climate", "%s", climate_title(yard_climate(yard)));
	say_frosts(document, place);
}

static const struct document_column tree_columns[] = {
	{"tree", 14, false}, {"spot", 12, false}, {"kind", 0, false}};
static const struct document_column gone_columns[] = {
	{"tree", 22, false}, {"kind", 18, false}, {"gone", 0, false}};

static const char *kind_words(const struct dossier *dossier, struct arena *arena)
{
	const struct tree *tree = &dossier->tree;
	char planted[80];

	return arena_format(arena, "%s%s%s%s%s%s", dossier->kind.name,
		dossier->kind.cultivar[0] != '\0' ? ", " : "", dossier->kind.cultivar,
		dossier->kind.cultivar[0] != '\0' && dossier->kind.cultivar_sure != SURE_CERTAIN
			? "?"
			: "",
		tree->planted.text[0] != '\0' ? "; planted " : "",
		tree->planted.text[0] != '\0'
			? date_span_format_plain(&tree->planted, planted, sizeof planted)
			: "");
}

static enum status visit_roll(void *owner, const struct dossier *dossier, struct fault *why)
{
	struct roll *roll = owner;
	struct document *document = &roll->sheet->document;
	const struct tree *tree = &dossier->tree;
	char title[TREE_TITLE_SIZE], day[80];
	(void)why;

	if ((tree->gone.text[0] != '\0') != roll->gone ||
		(roll->sheet->paper->without_private && dossier_is_private(dossier)))
		return STATUS_OK;
	if (roll->count++ == 0) {
		document_heading(document, roll->gone ? "Gone" : "What stands there");
		document_table(document, roll->gone ? gone_columns : tree_columns, 3);
	}
	document_cell(document, arena_format(roll->arena, "%s%s", dossier->host != NULL ? "+ " : "",
					store_tree_title(tree, title)));
	if (roll->gone) {
		document_cell(document, dossier->kind.name);
		document_cell(document,
			arena_format(roll->arena, "%s%s%s",
				date_span_format_plain(&tree->gone, day, sizeof day),
				tree->gone_reason[0] != '\0' ? ": " : "", tree->gone_reason));
	} else {
		document_cell(document, dossier->spot != NULL ? dossier->spot->name : "-");
		document_cell(document, kind_words(dossier, roll->arena));
	}
	return STATUS_OK;
}

static enum status visit_hazard(void *owner, const struct dossier *dossier, struct fault *why)
{
	struct roll *roll = owner;
	(void)why;

	if (dossier->tree.hazard[0] != '\0' &&
		!(roll->sheet->paper->without_private && dossier_is_private(dossier)))
		document_warn(
			&roll->sheet->document, arena_format(roll->arena, "%s: %s",
							dossier->tree.label, dossier->tree.hazard));
	return STATUS_OK;
}

static enum status say_areas(struct sheet *sheet, struct arena *arena, struct fault *why)
{
	struct area *areas = NULL;
	struct spot *spots = NULL;
	int32_t area_count = 0, spot_count = 0;
	struct store *store = yard_store(sheet->paper->yard);
	enum status status = store_area_list(store, arena, &areas, &area_count, why);

	if (status == STATUS_OK)
		status = store_spot_list(store, arena, &spots, &spot_count, why);
	if (status != STATUS_OK || area_count == 0)
		return status;
	document_heading(&sheet->document, "Its parts");
	for (int32_t i = 0; i < area_count; i++) {
		struct text_builder words = text_builder_in(arena);

		text_add(&words, "");
		for (int32_t s = 0; s < spot_count; s++)
			if (strcmp(spots[s].area_id, areas[i].id) == 0)
				text_add_format(&words, "%s%s", words.length > 0 ? ", " : "",
					spots[s].name);
		document_row(&sheet->document, areas[i].name, "%s",
			words.length > 0 ? words.text : "no spot of it yet");
	}
	return STATUS_OK;
}

/* Who opens when, tree under tree, so that partners are seen at a glance. */
static enum status say_bloom(struct sheet *sheet, struct arena *arena, struct fault *why)
{
	struct bloom_rows rows;
	char from[24], to[24];
	bool headed = false;
	const struct date today = yard_today(sheet->paper->yard);
	const int32_t year = date_parts(today).year;

	enum status status = bloom_rows_make(
		sheet->paper->yard, sheet->paper->without_private, arena, &rows, why);
	for (int32_t i = 0; status == STATUS_OK && i < rows.count; i++) {
		const struct bloom_row *row = &rows.items[i];

		if (!row->known || row->all_year)
			continue;
		if (!headed)
			document_heading(
				&sheet->document, "Bloom, by kind, the first to open first");
		headed = true;
		date_format_plain(date_of_month_day(year, row->from), from, sizeof from);
		date_format_plain(date_of_month_day(year, row->to), to, sizeof to);
		document_row(&sheet->document, row->label, "%s%s%s: %.*s to %.*s (%s%s%s)",
			row->kind, row->cultivar[0] != '\0' ? ", " : "", row->cultivar,
			(int)strlen(from) - 5, from, (int)strlen(to) - 5, to,
			row->by_log ? "by the log" : "the kind's span",
			bloom_class_word(row->class)[0] != '\0' ? "; opens " : "",
			bloom_class_word(row->class));
	}
	return status;
}

enum status paper_yard_page(struct sheet *sheet, struct fault *why)
{
	struct yard *yard = sheet->paper->yard;
	struct roll roll = {.sheet = sheet, .arena = arena_new()};
	static const struct kind_set no_entries = {0};
	const struct yard_visitor hazards = {
		.owner = &roll, .visit = visit_hazard, .alone = true, .kinds = &no_entries};
	const struct yard_visitor rows = {
		.owner = &roll, .visit = visit_roll, .alone = true, .kinds = &no_entries};

	document_page(&sheet->document, "The yard");
	enum status status = yard_each(yard, false, &hazards, why);
	paper_cautions(&sheet->document);
	say_place(sheet);
	if (status == STATUS_OK)
		status = say_areas(sheet, roll.arena, why);
	if (status == STATUS_OK)
		status = yard_each(yard, false, &rows, why);
	if (status == STATUS_OK)
		status = say_bloom(sheet, roll.arena, why);
	roll.gone = true;
	roll.count = 0;
	if (status == STATUS_OK)
		status = yard_each(yard, true, &rows, why);
	arena_free(roll.arena);
	return status;
}
