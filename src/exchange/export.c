/* SPDX-License-Identifier: MIT */
#include "exchange/export.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "core/file.h"
#include "core/text.h"
#include "report/rows.h"

struct exporting {
	struct session *session;
	const struct export_options *options;
	struct arena *arena;
	struct printer printer;
};

static enum status entries_of(struct exporting *exporting, struct entry_query *query,
	struct entry **entries, int32_t *count, struct fault *why)
{
	query->planned = -1;
	return store_entry_list(
		exporting->session->store, query, exporting->arena, entries, count, why);
}

static enum status export_entries(struct exporting *exporting, struct fault *why)
{
	struct entry_query query = {0};
	struct entry *entries = NULL;
	int32_t count = 0;
	enum status status = entries_of(exporting, &query, &entries, &count, why);

	if (status != STATUS_OK)
		return status;
	return print_entries(&exporting->printer, exporting->session->yard, entries, count, why);
}

static const char *const pick_keys[] = {"id", "subject", "day", "season_year", "weight_low_g",
	"weight_high_g", "about", "none", "fruit_low", "fruit_high", "grade", "words", "note",
	NULL};

static void pick_row(struct exporting *exporting, struct rows *rows, const struct entry *entry)
{
	static const struct amount nothing = {0};
	const struct amount *weight = entry_amount(entry, FIELD_WEIGHT);
	const struct amount *fruit = entry_amount(entry, FIELD_COUNT);
	struct store *store = exporting->session->store;
	struct tree tree;
	struct spot spot;
	char label[TREE_TITLE_SIZE] = "";

	if (entry->subject.kind == SUBJECT_TREE &&
		store_tree_load(store, entry->subject.id, &tree, NULL) == STATUS_OK)
		store_tree_title(&tree, label);
	if (entry->subject.kind == SUBJECT_SPOT &&
		store_spot_load(store, entry->subject.id, &spot, NULL) == STATUS_OK)
		text_copy(label, sizeof label, spot.name);
	weight = weight != NULL ? weight : &nothing;
	fruit = fruit != NULL ? fruit : &nothing;
	rows_text(rows, entry->id);
	rows_text(rows, label);
	rows_text(rows, entry->day.text);
	rows_i64(rows, (struct maybe_i64){entry->season_year.value, entry->season_year.known});
	rows_grams(rows, weight->low);
	rows_grams(rows, weight->high);
	rows_bool(rows, weight->about);
	rows_bool(rows, weight->none || fruit->none);
	rows_decimal(rows, fruit->low.known, (double)fruit->low.value / 1000.0, 1);
	rows_decimal(rows, fruit->high.known, (double)fruit->high.value / 1000.0, 1);
	rows_text(rows, entry_detail(entry, FIELD_GRADE));
	rows_text(rows, entry->words);
	rows_text(rows, entry->note);
}

static enum status export_picks(struct exporting *exporting, struct fault *why)
{
	struct entry_query query = {.kind_given = true, .kind = KIND_PICK};
	struct entry *entries = NULL;
	int32_t count = 0;
	enum status status = entries_of(exporting, &query, &entries, &count, why);

	if (status != STATUS_OK)
		return status;
	struct rows rows = rows_begin(&exporting->printer, pick_keys);
	for (int32_t i = 0; i < count; i++)
		pick_row(exporting, &rows, &entries[i]);
	return rows_end(&rows, why);
}

static enum status export_trees(struct exporting *exporting, struct fault *why)
{
	return print_trees(&exporting->printer, exporting->session->yard, true, why);
}

static enum status export_flags(struct exporting *exporting, struct fault *why)
{
	struct review_options options = {.all = true};
	struct review review = {0};
	struct yard *yard = exporting->session->yard;
	enum status status = review_make(yard, &options, exporting->arena, &review, why);

	if (status != STATUS_OK)
		return status;
	return print_review(&exporting->printer, &review, yard, true, why);
}

static const struct {
	const char *what;
	enum status (*write)(struct exporting *exporting, struct fault *why);
} tables[] = {
	{"trees", export_trees},
	{"entries", export_entries},
	{"picks", export_picks},
	{"flags", export_flags},
};

enum status export_write(const char *path, const char *bytes, size_t length, struct fault *why)
{
	struct fault cause = {0};
	enum status status = file_write_whole(path, bytes, length, &cause);

	if (status == STATUS_OK)
		return status;
	return fault_set(why, status == STATUS_ABSENT ? STATUS_IO : status, "%s", cause.text);
}

enum status export_table(struct session *session, const struct export_options *options,
	struct arena *arena, struct fault *why)
{
	struct exporting exporting = {.session = session, .options = options, .arena = arena};
	char *bytes = NULL;
	size_t length = 0;
	enum status status = STATUS_SYNTAX;

	exporting.printer = (struct printer){.format = options->format,
		.width = 80,
		.units = session->units,
		.numbers = session->numbers};
	exporting.printer.stream = open_memstream(&bytes, &length);
	if (exporting.printer.stream == NULL)
		return fault_set(why, STATUS_IO, "no memory for the export");
	fault_set(why, STATUS_SYNTAX, "export writes trees, entries, picks or flags, not '%s'",
		options->what);
	for (size_t i = 0; i < sizeof tables / sizeof tables[0]; i++)
		if (strcmp(tables[i].what, options->what) == 0)
			status = tables[i].write(&exporting, why);
	fclose(exporting.printer.stream);
	if (status == STATUS_OK)
		status = export_write(options->path, bytes, length, why);
	file_free(&(struct file_bytes){.bytes = bytes, .length = length});
	return status;
}
