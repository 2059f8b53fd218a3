/* SPDX-License-Identifier: MIT */
/* records_small.h - the small records in and out of the log: products, containers, answers, what
 * was set by hand, weather, layouts, and what stands outside history. The words add, save, strike,
 * list and find mean what store/records.h, which includes this, says. */
#ifndef STORE_RECORDS_SMALL_H
#define STORE_RECORDS_SMALL_H

#include "core/record.h"
#include "store/store.h"

/* --- products and containers --- */
enum status store_product_add(
	struct store *store, struct product *product, struct fault *why) MUST_CHECK;
enum status store_product_save(
	struct store *store, const struct product *product, struct fault *why) MUST_CHECK;
enum status store_product_list(struct store *store, struct arena *arena, struct product **out,
	int32_t *count, struct fault *why) MUST_CHECK;
enum status store_container_add(
	struct store *store, struct container *container, struct fault *why) MUST_CHECK;
enum status store_container_weight_add(
	struct store *store, struct container_weight *weight, struct fault *why) MUST_CHECK;
enum status store_container_list(struct store *store, struct arena *arena,
	struct container **containers, int32_t *count, struct container_weight **weights,
	int32_t *weight_count, struct fault *why) MUST_CHECK;

/* --- answers, own windows and rates, choices --- */
enum status store_answer_add(
	struct store *store, struct answer *answer, struct fault *why) MUST_CHECK;
enum status store_answer_list(struct store *store, struct arena *arena, struct answer **out,
	int32_t *count, struct fault *why) MUST_CHECK; /* oldest first */
enum status store_own_window_add(
	struct store *store, struct own_window *window, struct fault *why) MUST_CHECK;
enum status store_own_window_list(struct store *store, struct arena *arena, struct own_window **out,
	int32_t *count, struct fault *why) MUST_CHECK;
enum status store_own_rate_add(
	struct store *store, struct own_rate *rate, struct fault *why) MUST_CHECK;
enum status store_own_rate_list(struct store *store, struct arena *arena, struct own_rate **out,
	int32_t *count, struct fault *why) MUST_CHECK;
enum status store_choice_add(
	struct store *store, struct choice *choice, struct fault *why) MUST_CHECK;
enum status store_choice_list(struct store *store, struct arena *arena, struct choice **out,
	int32_t *count, struct fault *why) MUST_CHECK;
/* Strikes a row of any of the small tables (area spot obstacle answer own_window own_rate choice
 * product container container_weight identity layout lost_season): table is its SQL name.
 * STATUS_CONFLICT for a spot where a tree stands, and an area that has spots. */
enum status store_row_strike(
	struct store *store, const char *table, const char *id, struct fault *why) MUST_CHECK;
/* The newest change to any field of one row ("": it stands as it was made). A form reads it with
 * the record and compares it inside the act, before it saves. */
enum status store_row_newest_change(
	struct store *store, const char *id, char out[ID_SIZE], struct fault *why) MUST_CHECK;

/* --- traits --- */
enum status store_trait_add(struct store *store, struct trait *trait, struct fault *why) MUST_CHECK;
/* Of one tree, oldest first. */
enum status store_trait_list(struct store *store, const char *tree_id, struct arena *arena,
	struct trait **out, int32_t *count, struct fault *why) MUST_CHECK;

/* --- weather --- */
/* Adds, or changes the day that is there for the same station and kind; *was_same when equal. */
enum status store_weather_day_put(struct store *store, const struct weather_day *day,
	bool *was_same, struct fault *why) MUST_CHECK;
enum status store_weather_day_list(struct store *store, struct maybe_date from,
	struct maybe_date to, struct arena *arena, struct weather_day **out, int32_t *count,
	struct fault *why) MUST_CHECK;

/* The same of one hour; its day is not touched. */
enum status store_weather_hour_put(struct store *store, const struct weather_hour *hour,
	bool *was_same, struct fault *why) MUST_CHECK;
enum status store_weather_hour_list(struct store *store, struct maybe_date from,
	struct maybe_date to, struct arena *arena, struct weather_hour **out, int32_t *count,
	struct fault *why) MUST_CHECK; /* by day and hour */

/* --- plans: when planned work comes again --- */
struct plan {
	struct maybe_i32 every_days;
	struct maybe_date until;
};
/* Of one planned entry; replaces what it had, nothing known takes it back. */
enum status store_plan_put(struct store *store, const char *entry_id, const struct plan *plan,
	struct fault *why) MUST_CHECK;
enum status store_plan_find(struct store *store, const char *entry_id, struct plan *out,
	struct fault *why) MUST_CHECK; /* STATUS_ABSENT: it comes once */

/* --- layouts --- */
struct layout {
	char id[ID_SIZE];
	char name[NAME_SIZE];
	char what[KEY_SIZE];
	const char *columns;
	char units[KEY_SIZE];
	char dates[KEY_SIZE];
};
enum status store_layout_put(struct store *store, struct layout *layout,
	struct fault *why) MUST_CHECK; /* replaces one of the same name and what */
enum status store_layout_find(struct store *store, const char *what, const char *name,
	struct arena *arena, struct layout *out, struct fault *why) MUST_CHECK;

/* --- what stands outside history --- */
enum status store_draft_save(struct store *store, const char *screen, const char *body,
	struct fault *why) MUST_CHECK; /* body "" removes it; waits one second at most */
enum status store_draft_load(struct store *store, const char *screen, struct arena *arena,
	const char **body, struct fault *why) MUST_CHECK; /* STATUS_ABSENT: none */
/* The key that was saved last of those that begin so. STATUS_ABSENT: none. */
enum status store_draft_find(struct store *store, const char *prefix, struct arena *arena,
	const char **screen, struct fault *why) MUST_CHECK;
enum status store_walk_put(
	struct store *store, const char *key, const char *value, struct fault *why) MUST_CHECK;
enum status store_walk_get(struct store *store, const char *key, struct arena *arena,
	const char **value, struct fault *why) MUST_CHECK;

/* Entries that stand, done or seen, of the acts typed at this stamp or later (of the newest 2,000
 * acts): what a day's walk has given so far. */
enum status store_walk_logged(
	struct store *store, const char *since, int32_t *count, struct fault *why) MUST_CHECK;

struct season_turn {
	struct subject subject;     /* tree or spot */
	struct maybe_date from, to; /* to: not included */
	struct month_day turn;
	bool years_add;
	bool crosses;
};
/* Replaces the rows of each subject named (all of one together in the list), in the act that moved
 * them, or, outside any act, in a transaction of its own. */
enum status store_season_turn_put(struct store *store, const struct season_turn *turns,
	int32_t count, struct fault *why) MUST_CHECK;
/* Those of one subject, oldest first. */
enum status store_season_turn_list(struct store *store, const struct subject *subject,
	struct arena *arena, struct season_turn **out, int32_t *count,
	struct fault *why) MUST_CHECK;
/* All entries whose words hold the text (FTS5 words, all must occur), newest first. */
enum status store_find(struct store *store, const char *text, int32_t most, struct arena *arena,
	struct entry **out, int32_t *count, struct fault *why) MUST_CHECK;

#endif
