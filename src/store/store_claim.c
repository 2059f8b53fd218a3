/* SPDX-License-Identifier: MIT */
/* Claimed entries are bits by the place of their rows: a million take 125 kB. */
#include "entry_parts.h"
#include "entry_row.h"
#include "statements.h"

#include <inttypes.h>
#include <string.h>

#include "store/claim.h"

enum { CLAIM_LAST, CLAIM_SAME, CLAIM_MADE };

#define OF_ENTRY                                                                              \
	"e.struck = 0 AND e.subject_id = ?1 AND e.subject_kind = ?2 AND e.day_low IS ?3 AND " \
	"e.kind = ?4 AND e.day = ?5 AND e.planned = ?6 AND e.season_year IS ?7 AND "          \
	"e.row BETWEEN ?8 AND ?9"

const struct statement claim_statements[] = {
	[CLAIM_LAST] = {"claim.last", "SELECT ifnull(max(row), 0) FROM entry"},
	[CLAIM_SAME] = {"claim.same", "SELECT e.row, e.id FROM entry e WHERE " OF_ENTRY
				      " AND e.words = ?10 ORDER BY e.row"},
	[CLAIM_MADE] = {"claim.made",
		"SELECT e.row, e.id FROM entry e JOIN change_set c ON c.id = e.made AND "
		"c.kind = 'import' AND c.what = ?10 WHERE " OF_ENTRY " ORDER BY e.row"},
	{NULL, NULL},
};

struct claims {
	struct store *store;
	int64_t last; /* row of the log as it was */
	unsigned char *bits;
	/* of the last search: a run of equal rows goes on where it stopped */
	char *run;
	size_t run_size;
	int64_t run_row;
};

enum status store_claims_open(struct store *store, struct claims **out, struct fault *why)
{
	sqlite3_stmt *statement = NULL;
	int64_t last = 0;
	enum status status = sql_get(store, &claim_statements[CLAIM_LAST], &statement, why);

	*out = NULL;
	if (status == STATUS_OK)
		status = rows_number(store, statement, &last, why);
	if (status != STATUS_OK)
		return status;
	struct claims *claims = block_new(sizeof *claims);
	claims->store = store;
	claims->last = last;
	claims->bits = block_new((size_t)last / 8 + 1);
	*out = claims;
	return STATUS_OK;
}

void store_claims_close(struct claims *claims)
{
	if (claims == NULL)
		return;
	block_free(claims->bits);
	block_free(claims->run);
	block_free(claims);
}

static bool is_claimed(const struct claims *claims, int64_t row)
{
	return (claims->bits[row / 8] >> (row % 8) & 1) != 0;
}

/* Each amount of one has its like in the other. */
static bool amounts_same(const struct entry *a, const struct entry *b)
{
	bool used[AMOUNTS_MAX] = {false};

	if (a->amount_count != b->amount_count || b->amount_count > AMOUNTS_MAX)
		return false;
	for (int32_t i = 0; i < a->amount_count; i++) {
		int32_t j = 0;
		while (j < b->amount_count &&
			(used[j] || !entry_amount_same(&a->amounts[i], &b->amounts[j])))
			j++;
		if (j == b->amount_count)
			return false;
		used[j] = true;
	}
	return true;
}

static bool fields_are_same(const struct entry *a, const struct entry *b)
{
	bool same = a->amount_count == b->amount_count;

	for (int32_t i = 0; same && i < a->amount_count; i++)
		same = entry_amount(b, (enum field)a->amounts[i].field) != NULL;
	return same;
}

static void bind_entry(
	const struct claims *claims, sqlite3_stmt *statement, const struct entry *entry)
{
	bind_text(statement, 1, entry->subject.id);
	bind_text(statement, 2, subject_words[entry->subject.kind]);
	bind_maybe_date(statement, 3, entry->day.low);
	bind_text(statement, 4, kind_row(entry->kind)->key);
	bind_text(statement, 5, entry->day.text);
	bind_i64(statement, 6, entry->planned);
	bind_maybe_i32(statement, 7, entry->season_year);
	bind_i64(statement, 8, 1);
	bind_i64(statement, 9, claims->last);
}

/* The next entry of the statement that is not claimed yet. STATUS_END when there is none. */
static enum status next_free(struct claims *claims, sqlite3_stmt *statement, struct arena *arena,
	int64_t *row, struct entry *entry, struct fault *why)
{
	char id[ID_SIZE];
	enum status status;

	do {
		status = sql_step(claims->store, statement, why);
		if (status != STATUS_OK)
			return status;
		*row = sqlite3_column_int64(statement, 0);
	} while (is_claimed(claims, *row));
	column_copy(statement, 1, id, sizeof id);
	return store_entry_load(claims->store, id, arena, entry, why);
}

static void take(struct claims *claims, int64_t row, const struct entry *entry, struct claim *out)
{
	claims->bits[row / 8] = (unsigned char)(claims->bits[row / 8] | 1 << row % 8);
	out->claimed = true;
	memcpy(out->id, entry->id, ID_SIZE);
	out->words = entry->words;
	out->note = entry->note;
}

/* Where the search starts: behind the last one claimed by an equal row just before. */
static int64_t run_from(struct claims *claims, const struct entry *entry, struct arena *arena)
{
	const char *run = arena_format(arena, "%s %s %d %d %s", entry->subject.id, entry->day.text,
		(int)entry->kind, entry->season_year.known ? entry->season_year.value : 0,
		entry->words);
	size_t size = strlen(run) + 1;

	if (claims->run != NULL && strcmp(claims->run, run) == 0)
		return claims->run_row + 1;
	if (claims->run == NULL || size > claims->run_size) {
		claims->run = block_resize(claims->run, size);
		claims->run_size = size;
	}
	memcpy(claims->run, run, size);
	return 1;
}

enum status store_claim_same(struct claims *claims, const struct entry *entry, struct arena *arena,
	struct claim *out, struct fault *why)
{
	sqlite3_stmt *statement = NULL;
	struct entry found = {0};
	int64_t row = 0;

	*out = (struct claim){.claimed = false};
	if (claims->last == 0)
		return STATUS_OK;
	enum status status = sql_get(claims->store, &claim_statements[CLAIM_SAME], &statement, why);
	if (status != STATUS_OK)
		return status;
	bind_entry(claims, statement, entry);
	bind_i64(statement, 8, run_from(claims, entry, arena));
	bind_text(statement, 10, entry->words == NULL ? "" : entry->words);
	claims->run_row = claims->last; /* when nothing is found, nothing more will be */
	while ((status = next_free(claims, statement, arena, &row, &found, why)) == STATUS_OK) {
		if (!amounts_same(entry, &found))
			continue;
		claims->run_row = row;
		take(claims, row, &found, out);
		break;
	}
	sql_done(statement);
	return status == STATUS_END ? STATUS_OK : status;
}

enum status store_claim_made(struct claims *claims, const struct entry *entry, const char *what,
	struct arena *arena, struct claim *out, struct fault *why)
{
	sqlite3_stmt *statement = NULL;
	struct entry found = {0}, only = {0};
	int64_t row = 0, only_row = 0;
	int32_t count = 0;

	*out = (struct claim){.claimed = false};
	if (claims->last == 0)
		return STATUS_OK;
	enum status status = sql_get(claims->store, &claim_statements[CLAIM_MADE], &statement, why);
	if (status != STATUS_OK)
		return status;
	bind_entry(claims, statement, entry);
	bind_text(statement, 10, what);
	while ((status = next_free(claims, statement, arena, &row, &found, why)) == STATUS_OK) {
		if (!fields_are_same(entry, &found))
			continue;
		only = found;
		only_row = row;
		count++;
	}
	sql_done(statement);
	if (status != STATUS_END)
		return status;
	if (count > 1)
		return fault_set(why, STATUS_DOUBT,
			"the log has %d such entries of an earlier import: mend the one that is "
			"meant (entry mend)",
			(int)count);
	if (count == 1)
		take(claims, only_row, &only, out);
	return STATUS_OK;
}
