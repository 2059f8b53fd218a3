/* SPDX-License-Identifier: MIT */
#include <stdio.h>
#include <string.h>

#include "core/text.h"
#include "mapping.h"
#include "reckon/season.h"

enum { TREE, DAY, YEAR, SEASON, AMOUNT, COUNT, GRADE, NOTE };
static const char *const names[] = {
	"tree", "day", "year", "season", "amount", "count", "grade", "note", NULL};

/* Equal rows of the file are told apart by how many came before: the k-th is in the log already
 * when the log holds k of them. */
struct seen_pick {
	const char *key; /* NULL: free */
	int32_t times;
};

struct importing {
	struct session *session;
	const struct import_options *options;
	struct arena *arena;     /* of the whole import */
	struct arena *row_arena; /* of one row */
	struct mapping mapping;
	struct import_account *account;
	struct seen_pick *seen;
	int32_t seen_size;
	int32_t seen_count;
	int32_t blank; /* rows without an amount: not recorded */
};

static uint64_t hash_text(const char *text)
{
	uint64_t hash = 1469598103934665603U; /* FNV-1a */

	for (; *text != '\0'; text++)
		hash = (hash ^ (unsigned char)*text) * 1099511628211U;
	return hash;
}

static struct seen_pick *seen_at(const struct importing *importing, const char *key)
{
	uint64_t place = hash_text(key) % (uint64_t)importing->seen_size;

	while (importing->seen[place].key != NULL && strcmp(importing->seen[place].key, key) != 0)
		place = (place + 1) % (uint64_t)importing->seen_size;
	return &importing->seen[place];
}

static void seen_grow(struct importing *importing)
{
	struct seen_pick *old = importing->seen;
	int32_t old_size = importing->seen_size;

	importing->seen_size = old_size == 0 ? 4096 : old_size * 2;
	importing->seen = arena_array(
		importing->arena, (size_t)importing->seen_size, sizeof importing->seen[0]);
	for (int32_t i = 0; i < old_size; i++)
		if (old[i].key != NULL)
			*seen_at(importing, old[i].key) = old[i];
}

/* How many times this row has come, this one counted. */
static int32_t times_seen(struct importing *importing, const char *key)
{
	if (importing->seen_count * 2 >= importing->seen_size)
		seen_grow(importing);
	struct seen_pick *seen = seen_at(importing, key);
	if (seen->key == NULL) {
		seen->key = arena_text(importing->arena, key);
		importing->seen_count++;
	}
	return ++seen->times;
}

/* "1915/16" as the span of its two years, "1921" as that year; both say the season outright. */
static enum status read_season(const char *text, struct entry *entry, struct fault *why)
{
	char span[EDTF_SIZE];
	int32_t year = 0;
	enum status status = season_parse(text, &year, why);

	if (status != STATUS_OK)
		return status;
	entry->season_year = known_i32(year);
	if (strchr(text, '/') != NULL)
		snprintf(span, sizeof span, "%04d/%04d", year, year + 1);
	else
		snprintf(span, sizeof span, "%04d", year);
	return date_span_parse(span, HEMISPHERE_UNKNOWN, &entry->day, why);
}

static enum status read_when(struct importing *importing, const struct csv_row *row,
	struct entry *entry, struct fault *why)
{
	const struct import_options *options = importing->options;
	struct line_context context = session_line_context(importing->session);
	const char *day = mapping_text(&importing->mapping, row, DAY);
	const char *season = mapping_text(&importing->mapping, row, SEASON);

	if (options->dates != DATES_UNSET)
		context.dates = options->dates;
	context.from_file = true;
	if (day[0] == '\0' && options->day != NULL)
		day = options->day;
	if (season[0] == '\0')
		season = mapping_text(&importing->mapping, row, YEAR);
	if (season[0] == '\0' && options->season != NULL)
		season = options->season;
	if (day[0] == '\0' && season[0] == '\0')
		return fault_set(why, STATUS_SYNTAX,
			"no day, year or season: map day=, year= or season=, or say --season");
	enum status status = STATUS_OK;
	if (season[0] != '\0')
		status = read_season(season, entry, why);
	if (status == STATUS_OK && day[0] != '\0')
		status = day_read(day, &context, false, &entry->day, why);
	return status;
}

static enum status read_tree(struct importing *importing, const struct csv_row *row,
	struct entry *entry, struct fault *why)
{
	const char *label = mapping_text(&importing->mapping, row, TREE);
	struct tree tree;
	enum status status = store_tree_find(importing->session->store, label, &tree, why);

	if (status == STATUS_ABSENT)
		return fault_set(why, STATUS_ABSENT, "no tree '%s'", label);
	if (status != STATUS_OK)
		return status;
	entry->subject.kind = SUBJECT_TREE;
	text_copy(entry->subject.id, sizeof entry->subject.id, tree.id);
	return STATUS_OK;
}

static bool is_bare(const char *text)
{
	return text[strspn(text, "0123456789.,-/ ")] == '\0';
}

/* A bare amount with the unit given for the file, so that it is shown as that again. */
static const char *with_unit(const struct importing *importing, const char *text)
{
	const char *unit = importing->options->unit;

	if (unit == NULL || text[0] == '\0' || !is_bare(text))
		return text;
	return arena_format(importing->row_arena, "%s %s", text, unit);
}

static enum status read_amounts(struct importing *importing, const struct csv_row *row,
	struct entry *entry, struct fault *why)
{
	struct amount *amounts = arena_array(importing->row_arena, 2, sizeof(struct amount));
	const char *weight = with_unit(importing, mapping_text(&importing->mapping, row, AMOUNT));
	const char *count = mapping_text(&importing->mapping, row, COUNT);
	const struct number_rules *numbers = &importing->session->numbers;
	enum status status = STATUS_OK;

	if (weight[0] != '\0' && is_bare(weight))
		return fault_set(why, STATUS_DOUBT,
			"'%s' of what? say --unit lb or kg, or write the unit in the file", weight);

	entry->amounts = amounts;
	if (weight[0] != '\0') {
		struct amount *amount = &amounts[entry->amount_count++];

		status = amount_parse(weight, DIMENSION_MASS, NULL, numbers, amount, why);
		amount->field = FIELD_WEIGHT;
	}
	if (status == STATUS_OK && count[0] != '\0') {
		struct amount *amount = &amounts[entry->amount_count++];

		status = amount_parse(count, DIMENSION_COUNT, "fruit", numbers, amount, why);
		amount->field = FIELD_COUNT;
	}
	return status;
}

static void read_words(struct importing *importing, const struct csv_row *row, struct entry *entry)
{
	const struct mapping *mapping = &importing->mapping;
	const char *grade = mapping_text(mapping, row, GRADE);
	const char *weight = with_unit(importing, mapping_text(mapping, row, AMOUNT));
	const char *count = mapping_text(mapping, row, COUNT);
	struct text_builder words = text_builder_in(importing->row_arena);

	text_add(&words, "picked");
	if (weight[0] != '\0')
		text_add_format(&words, " %s", weight);
	if (count[0] != '\0')
		text_add_format(&words, " %s fruit", count);
	if (grade[0] != '\0') {
		struct detail *detail = arena_alloc(importing->row_arena, sizeof *detail);

		text_add_format(&words, " %s", grade);
		detail->field = FIELD_GRADE;
		text_copy(detail->text, sizeof detail->text, grade);
		entry->details = detail;
		entry->detail_count = 1;
	}
	entry->words = words.text;
	entry->note = arena_text(importing->row_arena, mapping_text(mapping, row, NOTE));
}

static enum status take_row(
	struct importing *importing, const struct csv_row *row, struct fault *why)
{
	struct entry entry = {.kind = KIND_PICK};
	int32_t in_log = 0;
	enum status status = read_tree(importing, row, &entry, why);

	if (status == STATUS_OK)
		status = read_when(importing, row, &entry, why);
	if (status == STATUS_OK)
		status = read_amounts(importing, row, &entry, why);
	if (status != STATUS_OK)
		return status;
	if (entry.amount_count == 0) {
		importing->blank++;
		return STATUS_OK;
	}
	read_words(importing, row, &entry);
	clock_stamp(&importing->session->clock, entry.typed_at);
	const char *key = arena_format(importing->row_arena, "%s|%s|%d|%s|%s", entry.subject.id,
		entry.day.text, entry.season_year.known ? entry.season_year.value : 0, entry.words,
		entry.note);
	int32_t times = times_seen(importing, key);
	status = store_entry_count_same(importing->session->store, &entry, &in_log, why);
	if (status != STATUS_OK)
		return status;
	if (in_log >= times) {
		importing->account->same++;
		return STATUS_OK;
	}
	importing->account->fresh++;
	return store_entry_add(importing->session->store, &entry, why);
}

static bool is_refusal(enum status status)
{
	return status == STATUS_SYNTAX || status == STATUS_RANGE || status == STATUS_DOUBT ||
	       status == STATUS_ABSENT;
}

static enum status take_rows(struct importing *importing, struct fault *why)
{
	struct import_account *account = importing->account;
	struct csv_row row;
	enum status status;

	while ((status = csv_next(importing->mapping.reader, &row, why)) == STATUS_OK) {
		struct fault refusal = {0};

		arena_reset(importing->row_arena);
		status = take_row(importing, &row, &refusal);
		if (is_refusal(status)) {
			account->refused++;
			account_say(
				account, importing->arena, "line %d: %s", row.line, refusal.text);
		} else if (status != STATUS_OK) {
			return fault_set(why, status, "%s", refusal.text);
		}
	}
	if (status != STATUS_END)
		return status;
	if (importing->blank > 0)
		account_say(account, importing->arena,
			"%d rows without an amount: not recorded, and not taken for zero",
			importing->blank);
	if (account->refused > 0)
		return fault_set(why, STATUS_SYNTAX, "%d rows refused; nothing was written",
			account->refused);
	return STATUS_OK;
}

enum status import_picks(struct session *session, const struct import_options *options,
	struct arena *arena, struct import_account *account, struct fault *why)
{
	struct importing importing = {.session = session,
		.options = options,
		.arena = arena,
		.row_arena = arena_new(),
		.account = account};
	enum status status =
		mapping_open(session, options, "picks", names, arena, &importing.mapping, why);

	if (status == STATUS_OK && !mapping_has(&importing.mapping, TREE))
		status = fault_set(why, STATUS_SYNTAX,
			"which column holds the tree's label? --columns tree=COLUMN,...");
	if (status == STATUS_OK)
		status = store_act_begin(session->store, ACT_IMPORT, "import picks", why);
	if (status == STATUS_OK)
		status = take_rows(&importing, why);
	if (status == STATUS_OK)
		status = mapping_remember(session, options, &importing.mapping, "picks", why);
	if (status == STATUS_OK && !options->dry_run)
		status = store_act_commit(session->store, why);
	else if (store_in_act(session->store))
		store_act_rollback(session->store);
	mapping_close(&importing.mapping);
	arena_free(importing.row_arena);
	return status;
}
