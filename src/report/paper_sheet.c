/* SPDX-License-Identifier: MIT */
/* A sheet for each tree: all that whoever keeps it next should know. */
#include <string.h>

#include "paper_sheet.h"
#include "report/descent.h"
#include "tree_words.h"

enum { WINDOW_HEAD_CELLS = 27 };

/* --- what it is --- */

static void say_kind(struct sheet *sheet, const struct dossier *dossier)
{
	const struct tree_kind *kind = &dossier->kind;
	struct document *document = &sheet->document;

	if (kind->species != NULL)
		document_row(document, "kind", "%s, %s (%s)", kind->species->name,
			kind->species->botanical, sure_title(kind->sure));
	else
		document_row(document, "kind", "%s", kind->name);
	for (int32_t i = 0; i < kind->candidate_count; i++)
		document_row(document, i == 0 ? "it may be" : "", "%s", kind->candidates[i]->name);
	if (kind->cultivar[0] != '\0')
		document_row(document, "cultivar", "%s (%s)", kind->cultivar,
			sure_title(kind->cultivar_sure));
}

static enum status say_names(
	struct sheet *sheet, const struct dossier *dossier, struct arena *arena, struct fault *why)
{
	struct words_rows names = {.arena = arena};
	enum status status = tree_words_names(sheet->paper->yard, dossier, &names, why);

	for (int32_t i = 0; i < names.count; i++)
		document_row(&sheet->document, i == 0 ? "its names" : "", "%s%s%s",
			names.items[i].head, names.items[i].text[0] != '\0' ? ": " : "",
			names.items[i].text);
	return status;
}

/* What an unnamed tree could be. */
static enum status say_likely(
	struct sheet *sheet, const struct dossier *dossier, struct arena *arena, struct fault *why)
{
	struct words_rows rows = {.arena = arena};
	enum status status = tree_words_likely(sheet->paper->yard, dossier, &rows, why);

	for (int32_t i = 0; i < rows.count; i++)
		document_row(&sheet->document, rows.items[i].head, "%s", rows.items[i].text);
	return status;
}

/* The label of another tree, unless it is not to be told. */
static const char *label_of(struct sheet *sheet, const char *id, char out[TREE_TITLE_SIZE])
{
	struct tree tree;

	if (store_tree_load(yard_store(sheet->paper->yard), id, &tree, NULL) != STATUS_OK)
		return "a tree not in this log";
	if (sheet->paper->without_private && tree.is_private)
		return "a tree left out here";
	return store_tree_title(&tree, out);
}

static void say_lineage(struct sheet *sheet, const struct dossier *dossier)
{
	const struct tree *tree = &dossier->tree;
	struct document *document = &sheet->document;
	char text[64], title[TREE_TITLE_SIZE];

	if (tree->planted.text[0] != '\0')
		document_row(document, "planted", "%s",
			date_span_format_plain(&tree->planted, text, sizeof text));
	if (tree->how != ORIGIN_UNKNOWN)
		document_row(document, "how it came", "%s", origin_title(tree->how));
	if (tree->parent_id[0] != '\0')
		document_row(
			document, "raised from", "%s", label_of(sheet, tree->parent_id, title));
	if (tree->batch[0] != '\0')
		document_row(document, "batch", "%s", tree->batch);
	if (tree->rootstock[0] != '\0')
		document_row(document, "rootstock", "%s", tree->rootstock);
	if (dossier->host != NULL)
		document_row(document, "grafted on", "%s", label_of(sheet, tree->host_id, title));
	for (int32_t i = 0; i < dossier->graft_count; i++)
		document_row(document, i == 0 ? "carries" : "", "%s, %s",
			label_of(sheet, dossier->grafts[i]->tree.id, title),
			dossier->grafts[i]->kind.name);
	if (tree->gone.text[0] != '\0')
		document_row(document, "gone", "%s: %s",
			date_span_format_plain(&tree->gone, text, sizeof text), tree->gone_reason);
	if (tree->over_fence)
		document_row(document, "over the fence", "no work is asked for it");
}

/* What came from it, its batch, and what it has of its parent. */
static enum status say_descent(
	struct sheet *sheet, const struct dossier *dossier, struct arena *arena, struct fault *why)
{
	struct descent descent;
	char words[240], title[TREE_TITLE_SIZE];
	bool told = false;

	enum status status =
		descent_make(sheet->paper->yard, dossier->tree.id, arena, &descent, why);
	if (status != STATUS_OK)
		return status;
	for (int32_t i = 0; i < descent.count; i++) {
		const struct tree *tree = &descent.lines[i].tree;

		if (strcmp(tree->parent_id, dossier->tree.id) != 0)
			continue;
		document_row(&sheet->document, told ? "" : "came from it", "%s, %s",
			label_of(sheet, tree->id, title), origin_title(tree->how));
		told = true;
	}
	descent_batch_words(&descent.batch, words, sizeof words);
	if (words[0] != '\0')
		document_row(&sheet->document, "its batch", "%s", words);
	for (int32_t i = 0; i < descent.carries_count; i++)
		document_row(&sheet->document, i == 0 ? "what carries over" : "", "%s",
			descent.says[i].text);
	return STATUS_OK;
}

/* --- where it stands --- */

static void say_position(struct sheet *sheet, const struct spot *spot)
{
	const enum unit_system units = sheet->paper->printer.units;
	char east[24], north[24];

	if (spot->east_um.known && spot->north_um.known)
		document_row(&sheet->document, "on the plan", "%s east, %s north",
			length_format(spot->east_um.value, units, east, sizeof east),
			length_format(spot->north_um.value, units, north, sizeof north));
}

static enum status say_stands(
	struct sheet *sheet, const struct dossier *dossier, struct arena *arena, struct fault *why)
{
	struct tree_place *places = NULL;
	int32_t count = 0;
	enum status status = store_tree_place_list(yard_store(sheet->paper->yard), dossier->tree.id,
		NULL, arena, &places, &count, why);
	char from[24], to[24];

	for (int32_t i = 0; status == STATUS_OK && i < count; i++) {
		struct spot spot;

		if (store_spot_load(yard_store(sheet->paper->yard), places[i].spot_id, &spot,
			    NULL) != STATUS_OK)
			continue;
		/* the first day of a planting that is not known to the day says nothing */
		const struct date_span *planted = &dossier->tree.planted;
		places[i].from.known = places[i].from.known &&
				       (date_span_is_exact(planted) || !planted->low.known ||
					       places[i].from.value.day != planted->low.value.day);
		if (places[i].from.known)
			date_format_plain(places[i].from.value, from, sizeof from);
		if (places[i].to.known)
			date_format_plain(places[i].to.value, to, sizeof to);
		document_row(&sheet->document, places[i].to.known ? "stood in" : "stands in",
			"%s%s%s%s%s%s", spot.kind == SPOT_CONTAINER ? "container " : "spot ",
			spot.name, places[i].from.known ? ", from " : "",
			places[i].from.known ? from : "", places[i].to.known ? " to " : "",
			places[i].to.known ? to : "");
		if (!places[i].to.known)
			say_position(sheet, &spot);
	}
	return status;
}

/* --- its size --- */

/* The newest figure of a whole tree; NULL none. */
static const struct stem_measure *newest_of(
	const struct dossier *dossier, enum field field, const struct entry **when)
{
	for (int32_t i = dossier->entry_count - 1; i >= 0; i--)
		for (int32_t s = 0; s < dossier->entries[i]->stem_count; s++)
			if (dossier->entries[i]->stems[s].field == field) {
				*when = dossier->entries[i];
				return &dossier->entries[i]->stems[s];
			}
	return NULL;
}

static void say_whole(
	struct sheet *sheet, const struct dossier *dossier, enum field field, const char *head)
{
	const struct entry *when = NULL;
	const struct stem_measure *found = newest_of(dossier, field, &when);
	char size[24], day[80];

	if (found != NULL)
		document_row(&sheet->document, head, "%s, %s",
			length_format(
				found->low_um, sheet->paper->printer.units, size, sizeof size),
			date_span_format_plain(&when->day, day, sizeof day));
}

/* The newest reading of each stem. */
static void say_stems(struct sheet *sheet, const struct dossier *dossier)
{
	const enum unit_system units = sheet->paper->printer.units;
	char size[24], at[24], day[24];

	for (int32_t stem = 1; stem <= STEMS_MAX; stem++) {
		const struct trunk_reading *newest = NULL;

		for (int32_t i = 0; i < dossier->reading_count; i++)
			if (dossier->readings[i].stem == stem)
				newest = &dossier->readings[i];
		if (newest == NULL)
			continue;
		document_row(&sheet->document, stem == 1 ? "stems" : "", "%d: %s across%s%s%s, %s",
			(int)stem, length_format(newest->diameter_um, units, size, sizeof size),
			newest->from_girth ? ", by its girth" : "",
			newest->at_height_um.known ? ", measured at " : "",
			newest->at_height_um.known
				? length_format(newest->at_height_um.value, units, at, sizeof at)
				: "",
			date_format_plain(newest->day, day, sizeof day));
	}
	if (dossier->trunk.known && dossier->trunk.stems > 1)
		document_row(&sheet->document, "as one trunk", "%s across",
			length_format(dossier->trunk.diameter_um, units, size, sizeof size));
	say_whole(sheet, dossier, FIELD_HEIGHT, "height");
	say_whole(sheet, dossier, FIELD_SPREAD, "spread");
	if (dossier->tree.target_height_um.known)
		document_row(&sheet->document, "to be kept at", "%s",
			length_format(
				dossier->tree.target_height_um.value, units, size, sizeof size));
}

/* --- its years --- */

static enum status say_now(
	struct sheet *sheet, const struct dossier *dossier, struct arena *arena, struct fault *why)
{
	struct review review = {0};
	const struct review_options options = {.tree_id = dossier->tree.id};
	struct words_rows windows = {.arena = arena};
	enum status status = review_make(sheet->paper->yard, &options, arena, &review, why);

	if (status != STATUS_OK || dossier->tree.gone.text[0] != '\0')
		return status;
	tree_words_windows(dossier, yard_today(sheet->paper->yard), &windows);
	if (windows.count > 0)
		document_heading(&sheet->document, "Its year");
	document_heads(&sheet->document, WINDOW_HEAD_CELLS);
	for (int32_t i = 0; i < windows.count; i++)
		document_row(&sheet->document, windows.items[i].head, "%s", windows.items[i].text);
	document_heads(&sheet->document, DOCUMENT_HEAD_CELLS);
	if (paper_has_flags(&review, dossier->tree.id))
		document_heading(&sheet->document, "Just now");
	paper_flags(&sheet->document, &review, dossier->tree.id);
	return STATUS_OK;
}

static void say_crops(struct sheet *sheet, const struct dossier *dossier, struct arena *arena)
{
	const struct season_options options = {.depth = SEASON_FIGURES};
	struct season_report report;

	season_report_of(sheet->paper->yard, dossier, &options, arena, &report);
	paper_seasons(&sheet->document, &report, sheet->paper->printer.units, arena);
}

static void say_work(struct sheet *sheet, const struct dossier *dossier, struct arena *arena)
{
	struct words_rows entries = {.arena = arena};
	const struct number_rules *numbers = &sheet->paper->printer.numbers;
	char said[400], day[80];

	if (dossier->planned_count > 0)
		document_heading(&sheet->document, "What was planned");
	for (int32_t i = 0; i < dossier->planned_count; i++) {
		const struct entry *plan = dossier->planned[i];

		entry_format(plan, numbers, said, sizeof said);
		document_row(&sheet->document, date_span_format_plain(&plan->day, day, sizeof day),
			"%s", said);
	}
	tree_words_entries(dossier, numbers, &entries);
	document_heading(&sheet->document, "What was done and seen");
	for (int32_t i = 0; i < entries.count; i++)
		document_row(&sheet->document, entries.items[i].head, "%s", entries.items[i].text);
	if (entries.count == 0)
		document_say(&sheet->document, "Nothing is logged yet.");
}

static enum status say_tree(
	struct sheet *sheet, const struct dossier *dossier, struct arena *arena, struct fault *why)
{
	char title[NAME_SIZE * 3];

	document_page(&sheet->document, paper_tree_title(dossier, title, sizeof title));
	if (dossier->tree.hazard[0] != '\0')
		document_warn(&sheet->document, dossier->tree.hazard);
	say_kind(sheet, dossier);
	enum status status = say_names(sheet, dossier, arena, why);
	if (status == STATUS_OK)
		status = say_likely(sheet, dossier, arena, why);
	say_lineage(sheet, dossier);
	if (status == STATUS_OK)
		status = say_descent(sheet, dossier, arena, why);
	if (status == STATUS_OK)
		status = say_stands(sheet, dossier, arena, why);
	say_stems(sheet, dossier);
	if (dossier->tree.note[0] != '\0' &&
		!(sheet->paper->without_private && text_is_private(dossier->tree.note)))
		document_row(&sheet->document, "note", "%s", dossier->tree.note);
	if (status == STATUS_OK)
		status = say_now(sheet, dossier, arena, why);
	if (status == STATUS_OK)
		say_crops(sheet, dossier, arena);
	paper_partners(sheet, dossier, arena);
	say_work(sheet, dossier, arena);
	document_heading(&sheet->document, "Cautions");
	paper_cautions(&sheet->document);
	return status;
}

/* --- which --- */

static enum status visit_sheet(void *owner, const struct dossier *dossier, struct fault *why)
{
	struct sheet *sheet = owner;

	if (sheet->paper->without_private && dossier_is_private(dossier))
		return STATUS_OK;
	struct arena *arena = arena_new();
	enum status status = say_tree(sheet, dossier, arena, why);
	arena_free(arena);
	return status;
}

static enum status say_one(struct sheet *sheet, struct fault *why)
{
	struct arena *arena = arena_new();
	const struct dossier *dossier = NULL;
	enum status status = paper_allows(sheet->paper, why);

	if (status == STATUS_OK)
		status = yard_dossier_in(
			sheet->paper->yard, sheet->paper->tree_id, arena, &dossier, why);
	if (status == STATUS_OK) {
		paper_begin(&sheet->document, sheet->paper, yard_place(sheet->paper->yard)->name);
		status = say_tree(sheet, dossier, arena, why);
	}
	arena_free(arena);
	return status;
}

enum status on_paper_sheets(const struct on_paper *paper, struct fault *why)
{
	struct sheet sheet = {.paper = paper};
	const struct yard_visitor visitor = {.owner = &sheet, .visit = visit_sheet};
	enum status status = STATUS_OK;

	if (paper->tree_id != NULL) {
		status = say_one(&sheet, why);
	} else {
		paper_begin(&sheet.document, paper, yard_place(paper->yard)->name);
		status = paper_yard_page(&sheet, why);
		if (status == STATUS_OK)
			status = yard_each(paper->yard, false, &visitor, why);
	}
	return paper_finish(&sheet.document, status, why);
}
