/* SPDX-License-Identifier: MIT */
#include "intake.h"

#include <stdio.h>
#include <string.h>

#include "core/text.h"

enum {
	KNOWN_FIRST = 256,
	TOLD_MAX = 20,     /* new ones told of in a dry run */
	REFUSED_MAX = 150, /* told of */
	PROGRESS_ROWS = 2048
};

/* --- opening --- */

static enum status read_dates(struct intake *intake, struct fault *why)
{
	const char *kept = intake->mapping.dates;

	intake->context = session_line_context(intake->session);
	intake->context.from_file = true;
	if (intake->options->dates != DATES_UNSET)
		intake->context.dates = intake->options->dates;
	else if (kept[0] != '\0')
		intake->context.dates = strcmp(kept, "dmy") == 0 ? DATES_DMY : DATES_MDY;
	const char *numbers = intake->numbers;
	if (numbers == NULL)
		return STATUS_OK;
	if (strcmp(numbers, "point") != 0 && strcmp(numbers, "comma") != 0)
		return fault_set(
			why, STATUS_SYNTAX, "--numbers is point or comma, not '%s'", numbers);
	intake->context.numbers.style =
		strcmp(numbers, "comma") == 0 ? NUMBERS_COMMA : NUMBERS_POINT;
	return STATUS_OK;
}

/* What was said of the whole file, now or when the layout was kept. */
static enum status read_settings(struct intake *intake, struct fault *why)
{
	const struct import_options *options = intake->options;
	const struct mapping *mapping = &intake->mapping;
	struct arena *arena = intake->arena;

	intake->unit = mapping_said(mapping, options->unit, "unit", arena);
	intake->length_unit = mapping_said(mapping, options->length_unit, "length-unit", arena);
	intake->species = mapping_said(mapping, options->species, "species", arena);
	intake->years = mapping_said(mapping, options->years, "years", arena);
	intake->numbers = mapping_said(mapping, options->numbers, "numbers", arena);
	const char *missing = mapping_said(mapping, options->missing, "missing", arena);
	intake->missing = missing == NULL ? "" : missing;
	return read_dates(intake, why);
}

static void keep_one(struct text_builder *lines, const char *key, const char *value)
{
	if (value != NULL && value[0] != '\0')
		text_add_format(lines, "%s=%s\n", key, value);
}

/* The other way: what a layout is to keep. */
static void keep_settings(struct intake *intake)
{
	struct mapping *mapping = &intake->mapping;
	struct text_builder lines = text_builder_in(intake->arena);

	text_add(&lines, "");
	keep_one(&lines, "unit", intake->unit);
	keep_one(&lines, "length-unit", intake->length_unit);
	keep_one(&lines, "species", intake->species);
	keep_one(&lines, "years", intake->years);
	keep_one(&lines, "missing", intake->missing);
	keep_one(&lines, "numbers", intake->numbers);
	keep_one(&lines, "encoding",
		mapping_said(mapping, intake->options->encoding, "encoding", intake->arena));
	mapping->more = lines.text;
	if (intake->options->dates != DATES_UNSET)
		text_copy(mapping->dates, sizeof mapping->dates,
			intake->options->dates == DATES_DMY ? "dmy" : "mdy");
}

enum status intake_open(struct intake *intake, struct fault *why)
{
	intake->row_arena = arena_new();
	intake->column = -1;
	enum status status = mapping_open(intake->session, intake->options, intake->what,
		intake->names, intake->arena, &intake->mapping, why);
	if (status == STATUS_OK)
		status = read_settings(intake, why);
	return status;
}

enum status intake_begin(struct intake *intake, const char *title, struct fault *why)
{
	struct store *store = intake->session->store;
	enum status status = store_act_begin(store, ACT_IMPORT, title, why);

	return status == STATUS_OK ? store_claims_open(store, &intake->claims, why) : status;
}

static void say_rest(struct intake *intake)
{
	struct import_account *account = intake->account;

	if (intake->told < account->fresh && intake->options->dry_run)
		account_say(account, intake->arena, "and %d more new",
			(int)(account->fresh - intake->told));
	if (intake->unsaid > 0)
		account_say(account, intake->arena, "and %d more refused", (int)intake->unsaid);
	if (intake->blank > 0)
		account_say(account, intake->arena,
			"%d %s%s without an amount: not recorded, and not taken for zero",
			(int)intake->blank, intake->is_sheet ? "cell" : "row",
			intake->blank == 1 ? "" : "s");
	if (intake->headings > 0)
		account_say(account, intake->arena, "the heading again, passed over: %d time%s",
			(int)intake->headings, intake->headings == 1 ? "" : "s");
}

enum status intake_close(struct intake *intake, enum status status, struct fault *why)
{
	struct session *session = intake->session;

	if (status == STATUS_OK) {
		keep_settings(intake);
		status = mapping_remember(
			session, intake->options, &intake->mapping, intake->what, why);
	}
	if (status == STATUS_OK && !intake->options->dry_run)
		status = store_act_commit(session->store, why);
	else if (store_in_act(session->store))
		store_act_rollback(session->store);
	store_claims_close(intake->claims);
	mapping_close(&intake->mapping);
	arena_free(intake->row_arena);
	return status;
}

/* --- rows --- */

static bool is_refusal(enum status status)
{
	return status == STATUS_SYNTAX || status == STATUS_RANGE || status == STATUS_DOUBT ||
	       status == STATUS_CONFLICT || status == STATUS_ABSENT;
}

enum status intake_settle(
	struct intake *intake, const struct csv_row *row, enum status status, struct fault *why)
{
	if (!is_refusal(status))
		return status;
	intake->account->refused++;
	if (intake->account->refused > REFUSED_MAX) {
		intake->unsaid++;
		return STATUS_OK;
	}
	mapping_where(&intake->mapping, row, intake->column, why);
	account_say(intake->account, intake->arena, "%s", why->text);
	return STATUS_OK;
}

static bool is_empty(const struct csv_row *row)
{
	for (int32_t i = 0; i < row->count; i++)
		if (row->cells[i].text[strspn(row->cells[i].text, " \t")] != '\0')
			return false;
	return true;
}

/* Sheets joined one below the other bring their heading along. */
static bool is_heading(const struct intake *intake, const struct csv_row *row)
{
	const struct csv_row *heading = &intake->mapping.heading;
	bool same = row->count == heading->count && heading->count > 1;

	for (int32_t i = 0; same && i < row->count; i++)
		same = strcmp(row->cells[i].text, heading->cells[i].text) == 0;
	return same;
}

static void tell_progress(const struct intake *intake, int32_t rows)
{
	const struct import_options *options = intake->options;
	const struct file_stream *stream = intake->mapping.stream;

	if (options->progress == NULL || stream == NULL || rows % PROGRESS_ROWS != 0)
		return;
	options->progress(
		options->progress_context, rows, file_stream_at(stream), file_stream_size(stream));
}

enum status intake_rows(struct intake *intake, intake_take take, struct fault *why)
{
	struct import_account *account = intake->account;
	struct csv_row row;
	enum status status;
	int32_t rows = 0;

	while ((status = csv_next(intake->mapping.reader, &row, why)) == STATUS_OK) {
		struct fault refusal = {0};

		tell_progress(intake, ++rows);
		if (is_heading(intake, &row)) {
			intake->headings++;
			continue;
		}
		if (is_empty(&row))
			continue;
		arena_reset(intake->row_arena);
		intake->column = -1;
		status = mapping_check_cells(&intake->mapping, &row, &refusal);
		if (status == STATUS_OK)
			status = take(intake, &row, &refusal);
		status = intake_settle(intake, &row, status, &refusal);
		if (status != STATUS_OK)
			return fault_set(why, status, "%s", refusal.text);
	}
	if (status != STATUS_END)
		return status;
	say_rest(intake);
	if (account->refused > 0)
		return fault_set(why, STATUS_SYNTAX, "%d %s%s refused; nothing was written",
			(int)account->refused, intake->is_sheet ? "cell" : "row",
			account->refused == 1 ? "" : "s");
	return STATUS_OK;
}

const char *intake_cell(struct intake *intake, const struct csv_row *row, int32_t column)
{
	size_t length;

	intake->column = column;
	const char *text = text_trim(csv_text(row, column), &length);
	return text[length] == '\0' ? text : arena_text_n(intake->row_arena, text, length);
}

const char *intake_text(struct intake *intake, const struct csv_row *row, int32_t name)
{
	if (!mapping_has(&intake->mapping, name))
		return "";
	return intake_cell(intake, row, intake->mapping.columns[name]);
}

bool intake_is_blank(const struct intake *intake, const char *text)
{
	return mapping_is_blank(text, intake->missing);
}

/* --- what cells say --- */

static struct known_tree *known_at(const struct intake *intake, const char *label)
{
	uint64_t hash = 1469598103934665603U; /* FNV-1a */

	for (const char *at = label; *at != '\0'; at++)
		hash = (hash ^ (unsigned char)*at) * 1099511628211U;
	uint64_t place = hash % (uint64_t)intake->known_size;
	while (intake->known[place].label != NULL && strcmp(intake->known[place].label, label) != 0)
		place = (place + 1) % (uint64_t)intake->known_size;
	return &intake->known[place];
}

static void known_grow(struct intake *intake)
{
	struct known_tree *old = intake->known;
	int32_t old_size = intake->known_size;

	intake->known_size = old_size == 0 ? KNOWN_FIRST : old_size * 2;
	intake->known =
		arena_array(intake->arena, (size_t)intake->known_size, sizeof intake->known[0]);
	for (int32_t i = 0; i < old_size; i++)
		if (old[i].label != NULL)
			*known_at(intake, old[i].label) = old[i];
}

enum status intake_tree(
	struct intake *intake, const char *label, struct subject *out, struct fault *why)
{
	if (intake->known_count * 2 >= intake->known_size)
		known_grow(intake);
	struct known_tree *known = known_at(intake, label);
	if (known->label == NULL) {
		struct tree tree = {0};

		known->status = store_tree_find(intake->session->store, label, &tree, why);
		if (known->status != STATUS_OK && known->status != STATUS_ABSENT)
			return known->status;
		known->label = arena_text(intake->arena, label);
		memcpy(known->id, tree.id, ID_SIZE);
		known->title = arena_text(intake->arena, tree.label);
		intake->known_count++;
	}
	if (known->status != STATUS_OK)
		return fault_set(why, STATUS_ABSENT, "no tree '%s'", label);
	out->kind = SUBJECT_TREE;
	memcpy(out->id, known->id, ID_SIZE);
	text_copy(out->label, sizeof out->label, known->title);
	return STATUS_OK;
}

enum status intake_titled(const struct intake *intake, const char *title, char id[ID_SIZE])
{
	struct name_match found[2];
	int32_t count =
		store_name_find(intake->session->store, NAME_TREE, title, strlen(title), found, 2);

	if (count == 0 || !found[0].is_exact)
		return STATUS_ABSENT;
	memcpy(id, found[0].id, ID_SIZE);
	return STATUS_OK;
}

enum status intake_day(
	struct intake *intake, const char *text, struct date_span *out, struct fault *why)
{
	struct date day;

	if (strlen(text) == DATE_SIZE - 1 && text[4] == '-' && text[7] == '-' &&
		date_parse_iso(text, &day, NULL) == STATUS_OK) { /* nearly all of most files */
		*out = date_span_of(day);
		return STATUS_OK;
	}
	return day_read(text, &intake->context, false, out, why);
}

static bool is_bare(const char *text)
{
	return text[strspn(text, "~0123456789.,-/ ")] == '\0';
}

const char *intake_with_unit(const struct intake *intake, const char *text)
{
	if (intake->unit == NULL || text[0] == '\0' || !is_bare(text))
		return text;
	const char *const parts[] = {text, " ", intake->unit};
	return arena_join(intake->row_arena, parts, 3);
}

/* --- entries --- */

static int row_line(const struct intake *intake, const struct csv_row *row)
{
	bool in_row = intake->column >= 0 && intake->column < row->count;

	return (int)(in_row ? row->cells[intake->column].line : row->line);
}

void intake_fresh(struct intake *intake, const struct csv_row *row, const char *said)
{
	intake->account->fresh++;
	if (!intake->options->dry_run || intake->told == TOLD_MAX)
		return;
	intake->told++;
	account_say(
		intake->account, intake->arena, "line %d: new: %s", row_line(intake, row), said);
}

void intake_changed(struct intake *intake, const struct csv_row *row, const char *said)
{
	intake->account->changed++;
	account_say(intake->account, intake->arena, "line %d: changed: %s", row_line(intake, row),
		said);
}

enum status intake_known(struct intake *intake, const struct csv_row *row,
	const struct entry *entry, bool *known, struct fault *why)
{
	struct claim claim;
	enum status status =
		store_claim_same(intake->claims, entry, intake->row_arena, &claim, why);

	*known = status == STATUS_OK && claim.claimed;
	if (!*known)
		return status;
	if (entry->note == NULL || entry->note[0] == '\0' || strcmp(entry->note, claim.note) == 0) {
		intake->account->same++;
		return STATUS_OK;
	}
	struct entry mended;
	status =
		store_entry_load(intake->session->store, claim.id, intake->row_arena, &mended, why);
	if (status != STATUS_OK)
		return status;
	mended.note = entry->note;
	intake_changed(intake, row,
		arena_format(intake->row_arena, "note '%s' is now '%s'", claim.note, entry->note));
	return store_entry_save(intake->session->store, &mended, why);
}

enum status intake_entry(struct intake *intake, const struct csv_row *row, struct entry *entry,
	const char *said, struct fault *why)
{
	bool known = false;
	enum status status = intake_known(intake, row, entry, &known, why);

	if (status != STATUS_OK || known)
		return status;
	intake_fresh(intake, row, said);
	return store_entry_add(intake->session->store, entry, why);
}
