/* SPDX-License-Identifier: MIT */
#include <string.h>

#include "core/text.h"
#include "kept.h"
#include "report/review.h"

struct keeper {
	struct arena *arena; /* of the rows that wait */
	struct kept_row *rows;
	int32_t count;
	int32_t capacity;
	char through[ID_SIZE]; /* the act after which they were worked out */
	/* what the log lacks, listed once for a reading of the log */
	struct arena *lacking;
	struct kept_row *missing;
	int32_t missing_count;
	int32_t missing_at; /* the next to be worked out */
	char listed_at[ID_SIZE];
	struct date listed_on;
};

enum { WRITE_AT = 512 };

struct keeper *keeper_new(void)
{
	struct keeper *keeper = block_new(sizeof *keeper);
	keeper->arena = arena_new();
	keeper->lacking = arena_new();
	return keeper;
}

void keeper_free(struct keeper *keeper)
{
	if (keeper != NULL) {
		arena_free(keeper->arena);
		arena_free(keeper->lacking);
	}
	block_free(keeper);
}

int32_t keeper_waiting(const struct keeper *keeper)
{
	return keeper == NULL ? 0 : keeper->count;
}

static void forget(struct keeper *keeper)
{
	arena_reset(keeper->arena);
	keeper->rows = NULL;
	keeper->count = keeper->capacity = 0;
}

/* What was worked out from an older reading of the log gives way to the newer. */
void keeper_add(struct keeper *keeper, struct yard *yard, const struct kept_row *row)
{
	if (strcmp(keeper->through, yard_read_at(yard)) != 0)
		forget(keeper);
	(void)text_copy(keeper->through, sizeof keeper->through, yard_read_at(yard));
	if (keeper->count == keeper->capacity) {
		int32_t capacity = keeper->capacity == 0 ? 64 : keeper->capacity * 2;
		size_t size = sizeof *keeper->rows;
		keeper->rows = arena_grow(keeper->arena, keeper->rows, (size_t)keeper->count * size,
			(size_t)capacity * size);
		keeper->capacity = capacity;
	}
	struct kept_row *kept = &keeper->rows[keeper->count++];
	*kept = *row;
	kept->flags = arena_text(keeper->arena, row->flags);
}

void keeper_write(struct keeper *keeper, struct yard *yard)
{
	char digest[KEPT_DIGEST_SIZE];
	struct fault why;
	const struct kept_batch batch = {.digest = kept_digest(yard, digest),
		.through = keeper->count > 0 ? keeper->through : yard_read_at(yard),
		.today = yard_today(yard),
		.rows = keeper->rows,
		.count = keeper->count};
	(void)!store_kept_write(yard_store(yard), &batch, &why);
	forget(keeper);
}

static bool is_listed(const struct keeper *keeper, const struct yard *yard)
{
	return strcmp(keeper->listed_at, yard_read_at(yard)) == 0 &&
	       date_compare(keeper->listed_on, yard_today(yard)) == 0;
}

/* Rows that acts since bear on are dropped first: then what lacks can be told by what is there. */
static enum status list_missing(struct keeper *keeper, struct yard *yard, struct fault *why)
{
	char digest[KEPT_DIGEST_SIZE];
	struct kept_state state;
	keeper_write(keeper, yard);
	arena_reset(keeper->lacking);
	keeper->missing_at = keeper->missing_count = 0;
	(void)text_copy(keeper->listed_at, sizeof keeper->listed_at, yard_read_at(yard));
	keeper->listed_on = yard_today(yard);
	enum status status = store_kept_state(
		yard_store(yard), kept_digest(yard, digest), keeper->lacking, &state, why);
	return status == STATUS_OK
		       ? store_kept_missing(yard_store(yard), &state, yard_today(yard),
				 keeper->lacking, &keeper->missing, &keeper->missing_count, why)
		       : status;
}

static enum status work_out(struct keeper *keeper, struct yard *yard, const char *tree_id,
	struct arena *arena, struct fault *why)
{
	struct review review;
	const struct review_options options = {.tree_id = tree_id, .keeper = keeper};
	arena_reset(arena);
	return review_make(yard, &options, arena, &review, why);
}

/* All of it is one look at the log. */
bool keeper_fill(struct keeper *keeper, struct yard *yard, double seconds)
{
	const double until_s = clock_monotonic_s() + seconds;
	struct fault why;
	enum status status = is_listed(keeper, yard) ? STATUS_OK : list_missing(keeper, yard, &why);
	struct arena *arena = arena_new();
	bool one_look = store_look_begin(yard_store(yard));
	while (status == STATUS_OK && keeper->missing_at < keeper->missing_count &&
		clock_monotonic_s() < until_s) {
		const char *tree_id = keeper->missing[keeper->missing_at++].tree_id;
		status = work_out(keeper, yard, tree_id, arena, &why);
	}
	arena_free(arena);
	if (one_look)
		store_look_end(yard_store(yard));
	if (status != STATUS_OK)
		keeper->missing_at = keeper->missing_count;
	const bool more = keeper->missing_at < keeper->missing_count;
	if (keeper->count >= WRITE_AT || (!more && keeper->count > 0))
		keeper_write(keeper, yard);
	return more;
}
