/* SPDX-License-Identifier: MIT */
/* Entries: written, read, mended, struck, listed, counted. */
#include "support/test.h"

#include "store/claim.h"
#include "support/yard.h"

#include <string.h>

struct entry_yard {
	struct log yard;
	struct arena *arena;
	const char *spot;
	const char *a;
	const char *b;
};

static void make_yard(struct entry_yard *made)
{
	log_make(&made->yard);
	made->arena = arena_new();
	yard_begin(&made->yard, "adds");
	made->spot = yard_spot(&made->yard, made->arena, "clump");
	made->a = yard_tree(&made->yard, made->arena, "A", made->spot);
	made->b = yard_tree(&made->yard, made->arena, "B", made->spot);
	yard_commit(&made->yard);
}

static void free_yard(struct entry_yard *made)
{
	arena_free(made->arena);
	log_free(&made->yard);
}

static struct entry entry_for(const char *tree_id, enum entry_kind kind, const char *day)
{
	struct entry entry = {.subject = {.kind = SUBJECT_TREE},
		.kind = kind,
		.day = yard_span(day),
		.words = "A did it",
		.note = ""};
	(void)snprintf(entry.subject.id, sizeof entry.subject.id, "%s", tree_id);
	return entry;
}

static void add(struct entry_yard *made, struct entry *entry)
{
	struct fault why;
	yard_begin(&made->yard, entry->words);
	check_ok(store_entry_add(made->yard.store, entry, &why), &why);
	yard_commit(&made->yard);
}

static struct entry load(struct entry_yard *made, const char *id)
{
	struct fault why;
	struct entry entry = {0};
	check_ok(store_entry_load(made->yard.store, id, made->arena, &entry, &why), &why);
	return entry;
}

static void check_amount(const struct amount *got, const struct amount *want)
{
	check_int(got->field, want->field, "field");
	check_int(got->dimension, want->dimension, "dimension");
	check_int(got->low.known, want->low.known, "low known");
	check_int(got->low.value, want->low.value, "low");
	check_int(got->high.known, want->high.known, "high known");
	check_int(got->high.value, want->high.value, "high");
	check_int(got->about, want->about, "about");
	check_int(got->none, want->none, "none");
	check_text(got->typed, want->typed, "typed");
	check_text(got->container, want->container, "container");
	check_int(got->containers_low.value, want->containers_low.value, "containers low");
	check_int(got->containers_high.known, want->containers_high.known, "containers high known");
}

static const struct amount_case {
	const char *name;
	struct amount amount;
} amount_cases[] = {
	{"exact_amount", {.field = FIELD_WEIGHT,
				 .dimension = DIMENSION_MASS,
				 .low = {2834952, true},
				 .high = {2834952, true},
				 .typed = "6 lb 4 oz"}},
	{"open_range", {.field = FIELD_COUNT,
			       .dimension = DIMENSION_COUNT,
			       .low = {100000, true},
			       .typed = "100+"}},
	{"about", {.field = FIELD_VOLUME,
			  .dimension = DIMENSION_VOLUME,
			  .low = {45000000, true},
			  .high = {45000000, true},
			  .about = true,
			  .typed = "~ 45 l"}},
	{"none_seen", {.field = FIELD_COUNT,
			      .dimension = DIMENSION_COUNT,
			      .low = {0, true},
			      .high = {0, true},
			      .none = true,
			      .typed = "none"}},
	{"words_only", {.field = FIELD_WEIGHT, .dimension = DIMENSION_MASS, .typed = "plenty"}},
	{"containers", {.field = FIELD_WEIGHT,
			       .dimension = DIMENSION_MASS,
			       .typed = "2 1/2 buckets",
			       .container = "green bucket",
			       .containers_low = {2500, true},
			       .containers_high = {2500, true}}},
	{"frost", {.field = FIELD_TEMPERATURE,
			  .dimension = DIMENSION_TEMPERATURE,
			  .low = {-35, true},
			  .high = {-35, true},
			  .typed = "-3.5 C"}},
	{"bare_number", {.field = FIELD_PH,
				.dimension = DIMENSION_NONE,
				.low = {6500, true},
				.high = {6500, true},
				.typed = "6.5"}},
	{"share", {.field = FIELD_SHARE_CROWN,
			  .dimension = DIMENSION_SHARE,
			  .low = {200, true},
			  .high = {250, true},
			  .typed = "20-25%"}},
	{"stage", {.field = FIELD_STAGE,
			  .dimension = DIMENSION_CODE,
			  .low = {65, true},
			  .high = {65, true},
			  .typed = "65"}},
	{"time", {.field = FIELD_DURATION,
			 .dimension = DIMENSION_DURATION,
			 .low = {5400, true},
			 .high = {5400, true},
			 .typed = "1 1/2 h"}},
	{"days", {.field = FIELD_DAYS_TO_HARVEST,
			 .dimension = DIMENSION_DAYS,
			 .low = {14, true},
			 .high = {14, true},
			 .typed = "14 days"}},
	{"flow", {.field = FIELD_FLOW,
			 .dimension = DIMENSION_FLOW,
			 .low = {2000000, true},
			 .high = {2000000, true},
			 .typed = "2 l/h"}},
	{"wind", {.field = FIELD_WIND,
			 .dimension = DIMENSION_SPEED,
			 .low = {12000, true},
			 .high = {12000, true},
			 .typed = "12 m/s"}},
	{"analysis", {.field = FIELD_ANALYSIS_N,
			     .dimension = DIMENSION_ANALYSIS,
			     .low = {10000, true},
			     .high = {10000, true},
			     .typed = "10"}},
	{"largest", {.field = FIELD_WEIGHT,
			    .dimension = DIMENSION_MASS,
			    .low = {0, true},
			    .high = {INT64_MAX, true},
			    .typed = "\xE2\x88\x9E"}},
};

static void amount_is_read_as_it_was_written(const void *one)
{
	const struct amount_case *test = one;
	struct entry_yard made;
	make_yard(&made);
	struct entry entry = entry_for(made.a, KIND_NOTE, "2024-05-12");
	entry.amounts = &test->amount;
	entry.amount_count = 1;
	add(&made, &entry);
	const struct entry got = load(&made, entry.id);
	check_int(got.amount_count, 1, "amounts");
	check_amount(&got.amounts[0], &test->amount);
	free_yard(&made);
}

static void entry_is_read_as_it_was_written(void **state)
{
	(void)state;
	struct entry_yard made;
	make_yard(&made);
	const struct amount amounts[] = {yard_amount(FIELD_WEIGHT, 5000000, 6000000, "5-6 kg"),
		yard_amount(FIELD_COUNT, 85000, 85000, "85 fruit")};
	const struct detail details[] = {
		{FIELD_GRADE, "seconds; \"bruised\""}, {FIELD_PARTIAL, "last"}};
	const struct stem_measure stems[] = {{.stem = 1,
						     .field = FIELD_GIRTH,
						     .low_um = 410000,
						     .high_um = 410000,
						     .word_given = true},
		{.stem = 2,
			.field = FIELD_DIAMETER,
			.low_um = 100000,
			.high_um = 120000,
			.about = true,
			.at_height_um = known_i64(300000)}};
	struct entry entry = entry_for(made.a, KIND_PICK, "2024-05~");
	entry.words = "A picked \xF0\x9F\x8D\x8E 5-6 kg\x1b[2J\r\n'quoted' \"twice\"";
	entry.note = "note \x07 with a bell; and more";
	entry.season_year = known_i32(2023);
	entry.amounts = amounts;
	entry.amount_count = 2;
	entry.details = details;
	entry.detail_count = 2;
	entry.stems = stems;
	entry.stem_count = 2;
	add(&made, &entry);
	log_reopen(&made.yard);
	const struct entry got = load(&made, entry.id);
	check_int(got.subject.kind, SUBJECT_TREE, "subject kind");
	check_text(got.subject.id, made.a, "subject");
	check_text(got.subject.label, "A", "label");
	check_int(got.kind, KIND_PICK, "kind");
	check_text(got.day.text, "2024-05~", "day");
	check_int(got.day.low.value.day, entry.day.low.value.day, "low");
	check_int((int64_t)strlen(got.typed_at), 20, "typed at");
	check_text(got.words, entry.words, "words");
	check_text(got.note, entry.note, "note");
	assert_false(got.planned);
	check_int(got.season_year.value, 2023, "season");
	check_int(got.amount_count, 2, "amounts");
	check_amount(&got.amounts[0], &amounts[0]);
	check_amount(&got.amounts[1], &amounts[1]);
	check_text(entry_detail(&got, FIELD_GRADE), details[0].text, "grade");
	check_text(entry_detail(&got, FIELD_PARTIAL), "last", "partial");
	check_int(got.stem_count, 2, "stems");
	check_int(got.stems[0].field, FIELD_GIRTH, "girth");
	assert_true(got.stems[0].word_given && !got.stems[0].at_height_um.known);
	check_int(got.stems[1].high_um, 120000, "high");
	assert_true(got.stems[1].about && !got.stems[1].word_given);
	check_int(got.stems[1].at_height_um.value, 300000, "at height");
	free_yard(&made);
}

static void every_kind_is_read_as_it_was_written(void **state)
{
	(void)state;
	struct entry_yard made;
	make_yard(&made);
	for (int kind = 0; kind < KIND_TOTAL; kind++) {
		struct entry entry = entry_for(made.a, (enum entry_kind)kind, "2024-05-12");
		add(&made, &entry);
		check_int(load(&made, entry.id).kind, kind, kind_row((enum entry_kind)kind)->key);
	}
	free_yard(&made);
}

/* --- limits --- */

static char *letters(struct arena *arena, int count)
{
	char *text = arena_alloc(arena, (size_t)count + 1);
	memset(text, 'w', (size_t)count);
	return text;
}

static const struct limit_case {
	const char *name;
	int words, note, amounts, details, stems;
	const char *says; /* NULL: taken */
} limit_cases[] = {
	{"words_of_4400_characters_are_kept", 4400, 0, 0, 0, 0, NULL},
	{"words_of_4401_characters_are_refused", 4401, 0, 0, 0, 0, "4401 characters"},
	{"note_of_4000_characters_is_kept", 1, 4000, 0, 0, 0, NULL},
	{"note_of_4001_characters_is_refused", 1, 4001, 0, 0, 0, "4001 characters"},
	{"twelve_of_each_part_are_kept", 1, 0, AMOUNTS_MAX, DETAILS_MAX, STEMS_MAX, NULL},
	{"thirteenth_amount_is_refused", 1, 0, AMOUNTS_MAX + 1, 0, 0, "13 amounts"},
	{"thirteenth_detail_is_refused", 1, 0, 0, DETAILS_MAX + 1, 0, "13 words"},
	{"thirteenth_stem_is_refused", 1, 0, 0, 0, STEMS_MAX + 1, "13 stems"},
};

static void limits_hold(const void *one)
{
	const struct limit_case *test = one;
	struct entry_yard made;
	make_yard(&made);
	struct fault why;
	struct amount amounts[AMOUNTS_MAX + 1];
	struct detail details[DETAILS_MAX + 1];
	struct stem_measure stems[STEMS_MAX + 1];
	for (int i = 0; i < AMOUNTS_MAX + 1; i++) {
		amounts[i] = yard_amount(FIELD_COUNT, i, i, "");
		details[i] = (struct detail){.field = FIELD_REASON, .text = "dead"};
		stems[i] = (struct stem_measure){
			.stem = i + 1, .field = FIELD_GIRTH, .low_um = 1, .high_um = 1};
	}
	struct entry entry = entry_for(made.a, KIND_NOTE, "2024-05-12");
	entry.words = letters(made.arena, test->words);
	entry.note = letters(made.arena, test->note);
	entry.amounts = amounts;
	entry.amount_count = test->amounts;
	entry.details = details;
	entry.detail_count = test->details;
	entry.stems = stems;
	entry.stem_count = test->stems;
	yard_begin(&made.yard, "adds");
	enum status status = store_entry_add(made.yard.store, &entry, &why);
	if (test->says == NULL) {
		check_ok(status, &why);
		yard_commit(&made.yard);
		const struct entry got = load(&made, entry.id);
		check_text(got.words, entry.words, "words");
		check_text(got.note, entry.note, "note");
		check_int(got.amount_count + got.detail_count + got.stem_count,
			test->amounts + test->details + test->stems, "parts");
	} else {
		check_refused(status, STATUS_RANGE, &why, test->says);
		store_act_rollback(made.yard.store);
		check_int(log_count(&made.yard, "entry"), 0, "entries");
	}
	free_yard(&made);
}

static void entry_of_nothing_known_is_refused(void **state)
{
	(void)state;
	struct entry_yard made;
	make_yard(&made);
	struct fault why;
	struct entry entry = entry_for("00000000000000000000000000", KIND_NOTE, "2024-05-12");
	yard_begin(&made.yard, "adds");
	check_refused(store_entry_add(made.yard.store, &entry, &why), STATUS_ABSENT, &why, "tree");
	entry.subject.kind = SUBJECT_PLACE;
	check_refused(store_entry_add(made.yard.store, &entry, &why), STATUS_RANGE, &why, "place");
	entry.subject.id[0] = '\0';
	check_ok(store_entry_add(made.yard.store, &entry, &why), &why);
	yard_commit(&made.yard);
	check_text(load(&made, entry.id).subject.label, "", "label");
	free_yard(&made);
}

/* --- mending and striking --- */

static void mended_entry_keeps_what_stayed(void **state)
{
	(void)state;
	struct entry_yard made;
	make_yard(&made);
	struct fault why;
	struct amount amounts[] = {yard_amount(FIELD_WEIGHT, 5000000, 5000000, "5 kg"),
		yard_amount(FIELD_COUNT, 85000, 85000, "85")};
	const struct detail grade = {FIELD_GRADE, "firsts"};
	struct entry entry = entry_for(made.a, KIND_PICK, "2024-05-12");
	entry.amounts = amounts;
	entry.amount_count = 2;
	add(&made, &entry);
	amounts[0] = yard_amount(FIELD_WEIGHT, 6000000, 6000000, "6 kg");
	entry.amount_count = 1; /* the count went */
	entry.details = &grade;
	entry.detail_count = 1;
	entry.words = "A picked 6 kg firsts";
	yard_begin(&made.yard, "mends");
	check_ok(store_entry_save(made.yard.store, &entry, &why), &why);
	yard_commit(&made.yard);
	struct entry got = load(&made, entry.id);
	check_text(got.words, entry.words, "words");
	check_int(got.amount_count, 1, "amounts");
	check_amount(&got.amounts[0], &amounts[0]);
	check_text(entry_detail(&got, FIELD_GRADE), "firsts", "grade");
	check_int(log_count(&made.yard, "amount"), 2, "amount rows: changed in place, one struck");
	check_int(log_count(&made.yard, "change"), 1 + 3 + 1,
		"words; low, high and typed of the weight; the count struck");
	char what[TEXT_SIZE];
	check_ok(store_undo(made.yard.store, what, &why), &why);
	got = load(&made, entry.id);
	check_int(got.amount_count, 2, "amounts");
	check_text(got.amounts[0].typed, "5 kg", "weight");
	check_int(got.detail_count, 0, "details");
	free_yard(&made);
}

static void mending_with_nothing_new_writes_nothing(void **state)
{
	(void)state;
	struct entry_yard made;
	make_yard(&made);
	struct fault why;
	yard_begin(&made.yard, "adds");
	const char *id = yard_pick(&made.yard, made.arena, made.a, "2024-05-12", 4000000);
	yard_commit(&made.yard);
	const struct entry entry = load(&made, id);
	const int64_t sets = log_count(&made.yard, "change_set");
	yard_begin(&made.yard, "mends");
	check_ok(store_entry_save(made.yard.store, &entry, &why), &why);
	yard_commit(&made.yard);
	check_int(log_count(&made.yard, "change_set"), sets, "sets");
	free_yard(&made);
}

static void words_of_a_newer_program_are_left_alone(void **state)
{
	(void)state;
	struct entry_yard made;
	make_yard(&made);
	struct fault why;
	yard_begin(&made.yard, "adds");
	const char *id = yard_pick(&made.yard, made.arena, made.a, "2024-05-12", 4000000);
	yard_commit(&made.yard);
	log_exec(&made.yard,
		"INSERT INTO detail (id, made, entry_id, field, value) SELECT "
		"'00000000000000000000000009', made, id, 'moon-phase', 'waning' FROM entry");
	struct entry entry = load(&made, id);
	check_int(entry.detail_count, 0, "details");
	entry.note = "mended";
	yard_begin(&made.yard, "mends");
	check_ok(store_entry_save(made.yard.store, &entry, &why), &why);
	yard_commit(&made.yard);
	check_int(log_one(&made.yard, "SELECT struck FROM detail"), 0, "still stands");
	free_yard(&made);
}

static void struck_entry_is_gone_until_undone(void **state)
{
	(void)state;
	struct entry_yard made;
	make_yard(&made);
	struct fault why;
	struct entry got;
	struct entry *found = NULL;
	int32_t count = 0;
	char what[TEXT_SIZE];
	yard_begin(&made.yard, "adds");
	const char *id = yard_pick(&made.yard, made.arena, made.a, "2024-05-12", 4000000);
	yard_commit(&made.yard);
	yard_begin(&made.yard, "strikes");
	check_ok(store_entry_strike(made.yard.store, id, &why), &why);
	check_refused(store_entry_strike(made.yard.store, id, &why), STATUS_ABSENT, &why, "entry");
	yard_commit(&made.yard);
	check_refused(store_entry_load(made.yard.store, id, made.arena, &got, &why), STATUS_ABSENT,
		&why, id);
	check_ok(store_find(made.yard.store, "basket", 0, made.arena, &found, &count, &why), &why);
	check_int(count, 0, "found");
	check_ok(store_undo(made.yard.store, what, &why), &why);
	check_int(load(&made, id).amount_count, 1, "amounts");
	check_ok(store_find(made.yard.store, "basket", 0, made.arena, &found, &count, &why), &why);
	check_int(count, 1, "found again");
	check_int(log_count(&made.yard, "entry"), 1, "nothing is deleted");
	free_yard(&made);
}

/* --- lists --- */

static const struct list_case {
	const char *name;
	const char *subject; /* a, b, spot, place; NULL any */
	const char *kind;
	const char *from, *to;
	int planned;
	bool newest_first;
	int32_t most;
	const char *batch;
	const char *want; /* the words of each, in order */
} list_cases[] = {
	{"all_by_day", NULL, NULL, "", "", -1, false, 0, NULL, "u 1 2 3 4 5 6 "},
	{"newest_first", NULL, NULL, "", "", -1, true, 0, NULL, "6 5 4 3 2 1 u "},
	{"newest_three", NULL, NULL, "", "", -1, true, 3, NULL, "6 5 4 "},
	{"of_one_tree", "a", NULL, "", "", -1, false, 0, NULL, "u 1 3 6 "},
	{"of_the_spot", "spot", NULL, "", "", -1, false, 0, NULL, "4 "},
	{"of_the_place", "place", NULL, "", "", -1, false, 0, NULL, "5 "},
	{"of_one_kind", NULL, "pick", "", "", -1, false, 0, NULL, "1 2 4 "},
	{"of_one_tree_and_kind", "a", "pick", "", "", -1, false, 0, NULL, "1 "},
	{"done_only", NULL, NULL, "", "", 0, false, 0, NULL, "u 1 2 3 4 5 "},
	{"planned_only", NULL, NULL, "", "", 1, false, 0, NULL, "6 "},
	{"span_of_days_has_both_ends", NULL, NULL, "2024-02-02", "2024-04-04", -1, false, 0, NULL,
		"2 3 4 5 "},
	{"from_a_day_on", NULL, NULL, "2024-04-04", "", -1, false, 0, NULL, "4 5 6 "},
	{"up_to_a_day", "a", NULL, "", "2024-03-03", -1, true, 0, NULL, "3 1 "},
	{"kind_in_a_span_of_days", NULL, "pick", "2024-02-01", "2024-12-31", -1, false, 0, NULL,
		"2 4 "},
	{"of_one_batch", NULL, NULL, "", "", -1, false, 0, "000000000000000000000BATCH", "1 2 "},
};

static void fill_list(struct entry_yard *made)
{
	const struct {
		const char *words, *tree, *day;
		enum entry_kind kind;
		bool planned;
	} rows[] = {
		{"3", made->a, "2024-03-03", KIND_CUT, false},
		{"1", made->a, "2024-01-01", KIND_PICK, false},
		{"2", made->b, "2024-02-02", KIND_PICK, false},
		{"4", made->spot, "2024-04-04", KIND_PICK, false},
		{"5", "", "2024-04-04", KIND_WEATHER, false},
		{"6", made->a, "2025-02-01", KIND_CUT, true},
		{"u", made->a, "", KIND_NOTE, false},
	};
	for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
		struct entry entry = entry_for(rows[i].tree, rows[i].kind, rows[i].day);
		entry.words = rows[i].words;
		entry.planned = rows[i].planned;
		if (rows[i].tree == made->spot)
			entry.subject.kind = SUBJECT_SPOT;
		if (rows[i].tree[0] == '\0')
			entry.subject.kind = SUBJECT_PLACE;
		if (rows[i].words[0] == '1' || rows[i].words[0] == '2')
			(void)snprintf(entry.batch, sizeof entry.batch, "%s",
				"000000000000000000000BATCH");
		add(made, &entry);
	}
}

static const char *subject_of(const struct entry_yard *made, const char *word)
{
	if (word == NULL)
		return NULL;
	if (strcmp(word, "place") == 0)
		return "";
	return strcmp(word, "a") == 0 ? made->a : made->spot;
}

static void entries_are_listed(const void *one)
{
	const struct list_case *test = one;
	struct entry_yard made;
	struct fault why;
	char got[64] = "";
	struct entry *entries = NULL;
	int32_t count = 0;
	make_yard(&made);
	fill_list(&made);
	const struct entry_query query = {.subject_id = subject_of(&made, test->subject),
		.kind_given = test->kind != NULL,
		.kind = test->kind != NULL ? kind_of_key(test->kind) : KIND_CUT,
		.from = yard_maybe_day(test->from),
		.to = yard_maybe_day(test->to),
		.planned = test->planned,
		.newest_first = test->newest_first,
		.most = test->most,
		.batch = test->batch};
	check_ok(store_entry_list(made.yard.store, &query, made.arena, &entries, &count, &why),
		&why);
	for (int32_t i = 0; i < count; i++)
		(void)snprintf(
			got + strlen(got), sizeof got - strlen(got), "%s ", entries[i].words);
	check_text(got, test->want, "words");
	free_yard(&made);
}

static void parts_of_a_long_list_belong_to_their_entries(void **state)
{
	(void)state;
	enum { MANY = 700 }; /* more than are read at a time */
	struct entry_yard made;
	struct fault why;
	struct entry *entries = NULL;
	int32_t count = 0;
	make_yard(&made);
	yard_begin(&made.yard, "adds");
	for (int i = 0; i < MANY; i++) {
		struct amount amounts[3];
		for (int j = 0; j < i % 4 && j < 3; j++)
			amounts[j] = yard_amount(FIELD_COUNT, i, i, "");
		struct entry entry = entry_for(made.a, KIND_PICK, "2024-05-12");
		entry.amounts = amounts;
		entry.amount_count = i % 4;
		check_ok(store_entry_add(made.yard.store, &entry, &why), &why);
	}
	yard_commit(&made.yard);
	const struct entry_query query = {.planned = -1};
	check_ok(store_entry_list(made.yard.store, &query, made.arena, &entries, &count, &why),
		&why);
	check_int(count, MANY, "entries");
	for (int i = 0; i < MANY; i++) {
		check_int(entries[i].amount_count, i % 4, "amounts");
		for (int j = 0; j < i % 4; j++)
			check_int(entries[i].amounts[j].low.value, i, "amount");
	}
	free_yard(&made);
}

/* --- the same entry again --- */

/* How often a file with this entry, and nothing else, finds it in the log. */
static int32_t claimed_times(struct entry_yard *made, const struct entry *entry)
{
	struct claims *claims = NULL;
	struct claim claim = {.claimed = true};
	struct fault why;
	int32_t times = 0;
	check_ok(store_claims_open(made->yard.store, &claims, &why), &why);
	while (claim.claimed) {
		check_ok(store_claim_same(claims, entry, made->arena, &claim, &why), &why);
		times += claim.claimed;
	}
	store_claims_close(claims);
	return times;
}

static void same_entry_is_claimed_as_often_as_it_stands(void **state)
{
	(void)state;
	struct entry_yard made;
	make_yard(&made);
	struct amount amounts[] = {yard_amount(FIELD_WEIGHT, 5000000, 5000000, "5 kg"),
		yard_amount(FIELD_COUNT, 85000, 85000, "85")};
	struct entry entry = entry_for(made.a, KIND_PICK, "2024-05");
	entry.amounts = amounts;
	entry.amount_count = 2;
	check_int(claimed_times(&made, &entry), 0, "before");
	add(&made, &entry);
	entry.id[0] = '\0';
	add(&made, &entry);
	const struct amount turned[] = {amounts[1], amounts[0]};
	entry.amounts = turned;
	check_int(claimed_times(&made, &entry), 2, "in any order");
	entry.amount_count = 1;
	check_int(claimed_times(&made, &entry), 0, "fewer amounts");
	entry.amount_count = 2;
	entry.season_year = known_i32(2024);
	check_int(claimed_times(&made, &entry), 0, "another season");
	entry.season_year.known = false;
	entry.day = yard_span("2024-05~");
	check_int(claimed_times(&made, &entry), 0, "another day");
	entry.day = yard_span("2024-05");
	amounts[0].about = true;
	entry.amounts = amounts;
	check_int(claimed_times(&made, &entry), 0, "about");
	free_yard(&made);
}

static void what_an_import_wrote_itself_is_not_found_by_it(void **state)
{
	(void)state;
	struct entry_yard made;
	struct claims *claims = NULL;
	struct claim claim;
	struct fault why;
	make_yard(&made);
	struct entry entry = entry_for(made.a, KIND_PICK, "2024-05");
	add(&made, &entry);
	check_ok(store_claims_open(made.yard.store, &claims, &why), &why);
	entry.id[0] = '\0';
	add(&made, &entry);
	check_ok(store_claim_same(claims, &entry, made.arena, &claim, &why), &why);
	check_int(claim.claimed, 1, "the one before");
	check_ok(store_claim_same(claims, &entry, made.arena, &claim, &why), &why);
	check_int(claim.claimed, 0, "the one since");
	store_claims_close(claims);
	free_yard(&made);
}

/* --- finding words --- */

static const struct find_case {
	const char *name;
	const char *text;
	const char *want;
} find_cases[] = {
	{"word_in_any_case", "APHIDS", "2 "},
	{"beginning_of_a_word", "aphid", "2 "},
	{"newest_first", "leaves", "3 2 "},
	{"all_words_must_occur", "leaves curl", "3 "},
	{"accents_may_be_left_out", "nispero", "1 "},
	{"signs_are_not_orders", "leaves\" OR \"aphids", ""},
	{"only_signs_find_nothing", "*** \"", ""},
	{"column_names_are_words", "table_name:entry", ""},
	{"nothing_finds_nothing", "  ", ""},
	{"label_is_not_an_entry", "B", ""},
	{"note_is_searched", "quietly", "1 "},
};

static void words_are_found(const void *one)
{
	const struct find_case *test = one;
	struct entry_yard made;
	struct fault why;
	char got[64] = "";
	struct entry *entries = NULL;
	int32_t count = 0;
	make_yard(&made);
	const char *const words[] = {
		"1 looked at the N\xC3\xADspero", "2 saw aphids on leaves", "3 leaves curled up"};
	const char *const days[] = {"2024-01-01", "2024-02-02", "2024-03-03"};
	for (int i = 0; i < 3; i++) {
		struct entry entry = entry_for(made.a, KIND_SAW, days[i]);
		entry.words = words[i];
		entry.note = i == 0 ? "quietly" : "";
		add(&made, &entry);
	}
	check_ok(store_find(made.yard.store, test->text, 0, made.arena, &entries, &count, &why),
		&why);
	for (int32_t i = 0; i < count; i++)
		(void)snprintf(
			got + strlen(got), sizeof got - strlen(got), "%.1s ", entries[i].words);
	check_text(got, test->want, "words");
	free_yard(&made);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(entry_is_read_as_it_was_written),
		cmocka_unit_test(every_kind_is_read_as_it_was_written),
		cmocka_unit_test(entry_of_nothing_known_is_refused),
		cmocka_unit_test(mended_entry_keeps_what_stayed),
		cmocka_unit_test(mending_with_nothing_new_writes_nothing),
		cmocka_unit_test(words_of_a_newer_program_are_left_alone),
		cmocka_unit_test(struck_entry_is_gone_until_undone),
		cmocka_unit_test(parts_of_a_long_list_belong_to_their_entries),
		cmocka_unit_test(same_entry_is_claimed_as_often_as_it_stands),
		cmocka_unit_test(what_an_import_wrote_itself_is_not_found_by_it),
	};
	const int failed = cmocka_run_group_tests_name("entry", tests, NULL, NULL) +
			   RUN_CASES("amounts", amount_cases, amount_is_read_as_it_was_written) +
			   RUN_CASES("limits", limit_cases, limits_hold) +
			   RUN_CASES("lists", list_cases, entries_are_listed) +
			   RUN_CASES("words", find_cases, words_are_found);
	return failed != 0;
}
