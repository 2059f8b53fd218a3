/* SPDX-License-Identifier: MIT */
/* Lists: trees, entries, history, the place. */
#include <stdio.h>
#include <string.h>

#include "core/text.h"
#include "report/rows.h"
#include "rules/rule.h"

/* --- trees --- */

static const char *const tree_keys[] = {"tree", "species", "species_sure", "cultivar",
	"cultivar_sure", "planted", "gone", "host", "spot", NULL};

/* How many standing trees are called the same; a kind in doubt counts by its own name, "apple?". */
struct kind_count {
	char name[NAME_SIZE];
	int32_t trees;
};
enum { KIND_COUNTS_MAX = 60 };

struct listing {
	const struct printer *printer;
	struct rows rows;
	int32_t plants;
	int32_t grafts;
	struct kind_count kinds[KIND_COUNTS_MAX];
	int32_t kind_count;
	int32_t other; /* of kinds beyond the table */
	int32_t unlabelled;
	struct arena *arena; /* of one tree's flags */
	struct date today;
};

static void tree_row(struct listing *listing, const struct dossier *dossier)
{
	struct rows *rows = &listing->rows;
	const struct tree *tree = &dossier->tree;
	const struct tree_kind *kind = &dossier->kind;

	rows_text(rows, tree->label);
	rows_text(rows, kind->species != NULL ? kind->species->key : kind->name);
	rows_text(rows, sure_key(kind->sure));
	rows_text(rows, kind->cultivar);
	rows_text(rows, kind->cultivar[0] != '\0' ? sure_key(kind->cultivar_sure) : NULL);
	rows_text(rows, tree->planted.text);
	rows_text(rows, tree->gone.text);
	rows_text(rows, dossier->host != NULL ? dossier->host->tree.label : NULL);
	rows_text(rows, dossier->spot != NULL ? dossier->spot->name : NULL);
}

static void tree_line(struct listing *listing, const struct dossier *dossier)
{
	const struct printer *printer = listing->printer;
	const struct tree *tree = &dossier->tree;
	const struct tree_kind *what = &dossier->kind;
	char label[TEXT_FIT_SIZE(20)], kind[TEXT_FIT_SIZE(18)], title[TREE_TITLE_SIZE];
	char planted[40], head[sizeof label + sizeof kind + 8],
		text[NAME_SIZE + TEXT_SIZE + 80] = "";
	struct text_builder rest = text_builder_fixed(text, sizeof text);
	int how = TEXT_PAD_RIGHT | (printer->ascii ? TEXT_ASCII : 0);
	bool graft = dossier->host != NULL;

	text_fit(store_tree_title(tree, title), graft ? 18 : 20, how, label, sizeof label);
	text_fit(what->name, 18, how, kind, sizeof kind);
	snprintf(head, sizeof head, "%s%s %s ", graft ? "+ " : "", label, kind);
	if (what->cultivar[0] != '\0')
		text_add_format(&rest, "%s%s", what->cultivar,
			what->cultivar_sure != SURE_CERTAIN ? "?" : "");
	if (tree->planted.text[0] != '\0')
		text_add_format(&rest, "%splanted %s", rest.length > 0 ? ", " : "",
			date_span_format_plain(&tree->planted, planted, sizeof planted));
	if (tree->gone.text[0] != '\0')
		text_add_format(&rest, "%sgone%s%s", rest.length > 0 ? ", " : "",
			tree->gone_reason[0] != '\0' ? ": " : "", tree->gone_reason);
	say_wrapped(printer, head, "%s", text);
}

static void count_plant(struct listing *listing, const struct dossier *dossier)
{
	struct flags flags = {.arena = listing->arena};
	const char *name = dossier->kind.name;
	int32_t at = 0;

	listing->plants++;
	rule_find("label-lost")->look(dossier, listing->today, &flags);
	listing->unlabelled += flags.count > 0;
	arena_reset(listing->arena);
	while (at < listing->kind_count && strcmp(listing->kinds[at].name, name) != 0)
		at++;
	if (at == KIND_COUNTS_MAX) {
		listing->other++;
		return;
	}
	if (at == listing->kind_count)
		text_copy(listing->kinds[listing->kind_count++].name, NAME_SIZE, name);
	listing->kinds[at].trees++;
}

/* "62 trees: 22 apple, 5 European pear, 9 unknown"; the counts add up. */
static void say_counts(const struct listing *listing)
{
	const struct printer *printer = listing->printer;
	char room[2000] = "";
	struct text_builder text = text_builder_fixed(room, sizeof room);

	for (int32_t i = 0; listing->kind_count > 1 && i < listing->kind_count; i++)
		text_add_format(&text, "%s%d %s", i == 0 ? ": " : ", ", listing->kinds[i].trees,
			listing->kinds[i].name);
	if (listing->other > 0)
		text_add_format(&text, ", %d of other kinds", listing->other);
	say_wrapped(printer, "", "%d tree%s%s%s", listing->plants, listing->plants == 1 ? "" : "s",
		listing->grafts > 0 ? ", grafts not counted" : "", room);
	if (listing->unlabelled > 0)
		say_line(printer, "%d of %d labelled (%.0f %%)",
			listing->plants - listing->unlabelled, listing->plants,
			100.0 * (listing->plants - listing->unlabelled) / listing->plants);
}

static enum status visit_tree(void *owner, const struct dossier *dossier, struct fault *why)
{
	struct listing *listing = owner;
	(void)why;

	if (listing->printer->format != FORMAT_TEXT)
		tree_row(listing, dossier);
	else
		tree_line(listing, dossier);
	if (dossier->host != NULL)
		listing->grafts++;
	else if (dossier->tree.gone.text[0] == '\0')
		count_plant(listing, dossier);
	return STATUS_OK;
}

enum status print_tree_row(
	const struct printer *printer, const struct dossier *dossier, struct fault *why)
{
	struct listing listing = {.printer = printer, .rows = rows_begin(printer, tree_keys)};

	tree_row(&listing, dossier);
	return rows_end(&listing.rows, why);
}

enum status print_trees(
	const struct printer *printer, struct yard *yard, bool gone_too, struct fault *why)
{
	struct listing listing = {
		.printer = printer, .arena = arena_new(), .today = yard_today(yard)};
	/* whether its label hangs is told by notes and sights */
	static const struct kind_set label_kinds = {KIND_BIT(KIND_NOTE) | KIND_BIT(KIND_SAW)};
	struct yard_visitor visitor = {
		.owner = &listing, .visit = visit_tree, .alone = true, .kinds = &label_kinds};

	if (printer->format != FORMAT_TEXT)
		listing.rows = rows_begin(printer, tree_keys);
	enum status status = yard_each(yard, gone_too, &visitor, why);
	arena_free(listing.arena);
	if (status != STATUS_OK)
		return status;
	if (printer->format != FORMAT_TEXT)
		return rows_end(&listing.rows, why);
	say_counts(&listing);
	return say_end(printer, why);
}

/* --- entries --- */

static const char *const entry_keys[] = {
	"id", "day", "subject", "kind", "planned", "reading", "words", "note", NULL};

const char *subject_title(struct yard *yard, const struct subject *subject, char *out, size_t size)
{
	struct tree tree;
	struct spot spot;
	char title[TREE_TITLE_SIZE];

	text_copy(out, size, subject->label);
	if (out[0] != '\0')
		return out;
	switch (subject->kind) {
	case SUBJECT_PLACE:
		text_copy(out, size, "the place");
		break;
	case SUBJECT_AREA:
		text_copy(out, size, "area");
		break;
	case SUBJECT_SPOT:
		if (store_spot_load(yard_store(yard), subject->id, &spot, NULL) == STATUS_OK)
			text_copy(out, size, spot.name);
		break;
	case SUBJECT_TREE:
		if (store_tree_load(yard_store(yard), subject->id, &tree, NULL) == STATUS_OK)
			text_copy(out, size, store_tree_title(&tree, title));
		break;
	}
	return out;
}

struct entry_listing {
	const struct printer *printer;
	struct yard *yard;
	struct rows rows;
	bool any;
};

static void entry_lines(const struct entry_listing *listing, const struct entry *entry,
	const char *label, const char *said)
{
	const struct printer *printer = listing->printer;
	char day[40];

	date_span_format_plain(&entry->day, day, sizeof day);
	say_line(printer, "%s  %s", entry->id, day);
	say_wrapped(printer, "    ", "%s: %s%s%s%s", label, entry->planned ? "planned: " : "", said,
		entry->note != NULL && entry->note[0] ? "; " : "",
		entry->note != NULL ? entry->note : "");
}

static enum status visit_entry(void *owner, const struct entry *entry, struct fault *why)
{
	struct entry_listing *listing = owner;
	struct rows *rows = &listing->rows;
	char label[TREE_TITLE_SIZE], said[400];
	(void)why;

	listing->any = true;
	subject_title(listing->yard, &entry->subject, label, sizeof label);
	entry_format(entry, &listing->printer->numbers, said, sizeof said);
	if (listing->printer->format == FORMAT_TEXT) {
		entry_lines(listing, entry, label, said);
		return STATUS_OK;
	}
	rows_text(rows, entry->id);
	rows_text(rows, entry->day.text);
	rows_text(rows, label);
	rows_text(rows, kind_row(entry->kind)->key);
	rows_bool(rows, entry->planned);
	rows_text(rows, said);
	rows_text(rows, entry->words);
	rows_text(rows, entry->note);
	return STATUS_OK;
}

static struct entry_listing begin_entries(const struct printer *printer, struct yard *yard)
{
	struct entry_listing listing = {.printer = printer, .yard = yard};

	if (printer->format != FORMAT_TEXT)
		listing.rows = rows_begin(printer, entry_keys);
	return listing;
}

static enum status end_entries(struct entry_listing *listing, struct fault *why)
{
	if (listing->printer->format != FORMAT_TEXT)
		return rows_end(&listing->rows, why);
	if (!listing->any)
		say_line(listing->printer, "no entries");
	return say_end(listing->printer, why);
}

enum status print_entries(const struct printer *printer, struct yard *yard,
	const struct entry *entries, int32_t count, struct fault *why)
{
	struct entry_listing listing = begin_entries(printer, yard);
	enum status status = STATUS_OK;

	for (int32_t i = 0; status == STATUS_OK && i < count; i++)
		status = visit_entry(&listing, &entries[i], why);
	return status == STATUS_OK ? end_entries(&listing, why) : status;
}

enum status print_entries_of(const struct printer *printer, struct yard *yard,
	const struct entry_query *query, struct fault *why)
{
	struct entry_listing listing = begin_entries(printer, yard);
	enum status status = store_entry_each(yard_store(yard), query, visit_entry, &listing, why);

	return status == STATUS_OK ? end_entries(&listing, why) : status;
}

/* --- the place --- */

static const char *const place_keys[] = {"name", "latitude_udeg", "longitude_udeg", "hemisphere",
	"wet", "winter", "climate", "last_frost", "first_frost", "units", "gallon", "numbers",
	"dates", NULL};

static void month_day_cell(struct rows *rows, struct month_day day)
{
	char text[8] = "";

	if (day.month != 0)
		snprintf(text, sizeof text, "%02d-%02d", day.month % 100, day.day % 100);
	rows_text(rows, text);
}

static enum status place_row(
	const struct printer *printer, const struct yard *yard, struct fault *why)
{
	static const char *const hemispheres[] = {"", "north", "south"};
	static const char *const wet[] = {"", "winter", "summer", "all", "little"};
	static const char *const winters[] = {"", "hard", "frosty", "mild"};
	static const char *const units[] = {"", "us", "si"};
	static const char *const gallons[] = {"", "us", "imperial"};
	static const char *const numbers[] = {"", "point", "comma"};
	static const char *const dates[] = {"", "dmy", "mdy"};
	const struct place *place = yard_place(yard);
	struct rows rows = rows_begin(printer, place_keys);

	rows_text(&rows, place->name);
	rows_i64(&rows, (struct maybe_i64){place->latitude_udeg.value, place->latitude_udeg.known});
	rows_i64(&rows,
		(struct maybe_i64){place->longitude_udeg.value, place->longitude_udeg.known});
	rows_text(&rows, hemispheres[place->hemisphere]);
	rows_text(&rows, wet[place->wet]);
	rows_text(&rows, winters[place->winter]);
	rows_text(&rows, climate_title(yard_climate(yard)));
	month_day_cell(&rows, place->last_frost);
	month_day_cell(&rows, place->first_frost);
	rows_text(&rows, units[place->units]);
	rows_text(&rows, gallons[place->gallon]);
	rows_text(&rows, numbers[place->numbers]);
	rows_text(&rows, dates[place->dates]);
	return rows_end(&rows, why);
}

enum status print_place(const struct printer *printer, struct yard *yard, struct fault *why)
{
	static const char *const hemispheres[] = {
		"not known: no dates are given", "north", "south"};
	static const char *const wet[] = {"not known", "winter", "summer", "all year", "little"};
	static const char *const winters[] = {"not known", "hard", "frosty", "mild"};
	static const char *const units[] = {"not set", "US", "metric"};
	static const char *const gallons[] = {"not set", "US", "imperial"};
	static const char *const numbers[] = {"as they stand", "decimal point", "decimal comma"};
	static const char *const dates[] = {
		"asked where day and month could be swapped", "day first", "month first"};
	const struct place *place = yard_place(yard);

	if (printer->format != FORMAT_TEXT)
		return place_row(printer, yard, why);
	say_line(printer, "%s", place->name);
	if (place->latitude_udeg.known)
		say_line(printer, "  latitude    %.4f", place->latitude_udeg.value / 1e6);
	if (place->longitude_udeg.known)
		say_line(printer, "  longitude   %.4f", place->longitude_udeg.value / 1e6);
	say_line(printer, "  hemisphere  %s", hemispheres[place->hemisphere]);
	say_line(printer, "  wet season  %s", wet[place->wet]);
	say_line(printer, "  winters     %s", winters[place->winter]);
	say_line(printer, "  climate     %s", climate_title(yard_climate(yard)));
	if (place->last_frost.month != 0)
		say_line(printer, "  last frost  %02d-%02d", place->last_frost.month,
			place->last_frost.day);
	if (place->first_frost.month != 0)
		say_line(printer, "  first frost %02d-%02d", place->first_frost.month,
			place->first_frost.day);
	say_line(printer, "  units       %s", units[place->units]);
	say_line(printer, "  gallon      %s", gallons[place->gallon]);
	say_line(printer, "  numbers     %s", numbers[place->numbers]);
	say_line(printer, "  dates       %s", dates[place->dates]);
	return say_end(printer, why);
}
