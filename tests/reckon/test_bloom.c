/* SPDX-License-Identifier: MIT */
#include "reckon/bloom.h"

#include "make.h"

enum { SEEN = 1, DENIED = 2, SET = 4, HEAVY = 8 };

struct said {
	const char *name;
	enum entry_kind kind;
	enum field field; /* of the word; the code 60-69 stands beside it where `code` is not 0 */
	const char *word;
	const char *more; /* severity of saw, words of a stage */
	int64_t code;
	int tells;
};

/* clang-format off */
static const struct said said[] = {
	{"a_note_tells_nothing", KIND_NOTE, FIELD_WORDS, "bloom", "", 0, 0},
	{"bloom_is_seen", KIND_STAGE, FIELD_STAGE_WORD, "bloom", "", 0, SEEN},
	{"buds_are_not_bloom", KIND_STAGE, FIELD_STAGE_WORD, "flower buds", "", 0, 0},
	{"after_bloom_is_not", KIND_STAGE, FIELD_STAGE_WORD, "after bloom", "", 0, 0},
	{"code_65_is_bloom", KIND_STAGE, FIELD_STAGE_WORD, "", "", 65, SEEN},
	{"code_59_is_not", KIND_STAGE, FIELD_STAGE_WORD, "bloom", "", 59, 0},
	{"code_609_is_a_loquat_s", KIND_STAGE, FIELD_STAGE_WORD, "", "", 609, SEEN},
	{"code_610_is_not", KIND_STAGE, FIELD_STAGE_WORD, "", "", 610, 0},
	{"bloom_none_is_denied", KIND_STAGE, FIELD_STAGE_WORD, "bloom", "none", 65, DENIED},
	{"no_bloom_seen_is_denied", KIND_SAW, FIELD_SUBJECT_SEEN, "no bloom", "", 0, DENIED},
	{"flowers_seen_by_bees_are_no_denial", KIND_SAW, FIELD_SUBJECT_SEEN, "bees", "", 0, 0},
	{"fruit_set_is_set", KIND_STAGE, FIELD_STAGE_WORD, "fruit set", "", 0, SET},
	{"code_71_is_set", KIND_STAGE, FIELD_STAGE_WORD, "", "", 71, SET},
	{"set_none_is_not", KIND_STAGE, FIELD_STAGE_WORD, "fruit set", "none", 71, 0},
	{"set_heavy_is_heavy", KIND_STAGE, FIELD_STAGE_WORD, "fruit set", "heavy", 71, SET | HEAVY},
	{"saw_a_heavy_set", KIND_SAW, FIELD_SUBJECT_SEEN, "set", "heavy", 0, SET | HEAVY},
	{"saw_a_light_set", KIND_SAW, FIELD_SUBJECT_SEEN, "set", "light", 0, SET},
	{"too_many_fruit", KIND_SAW, FIELD_SUBJECT_SEEN, "too many fruit", "", 0, SET | HEAVY},
	{"heavy_scab_is_no_set", KIND_SAW, FIELD_SUBJECT_SEEN, "scab", "heavy", 0, 0},
	{"heavy_fruit_fly_is_no_set", KIND_SAW, FIELD_SUBJECT_SEEN, "fruit fly", "heavy", 0, 0},
};
/* clang-format on */

static void add_detail(
	struct entry *entry, struct detail *details, enum field field, const char *text)
{
	if (text[0] == '\0')
		return;
	details[entry->detail_count].field = field;
	snprintf(details[entry->detail_count].text, sizeof details[0].text, "%s", text);
	entry->detail_count++;
	entry->details = details;
}

static void an_entry_tells_what_it_says(void **state)
{
	const struct said *row = *state;
	struct entry *entry = make_entry(row->kind, "2026-03-10");
	static struct detail details[2];

	add_detail(entry, details, row->field, row->word);
	add_detail(entry, details, row->kind == KIND_SAW ? FIELD_SEVERITY : FIELD_WORDS, row->more);
	if (row->code != 0)
		entry = with_amount(entry, exactly(DIMENSION_CODE, FIELD_STAGE, row->code));
	check_int(bloom_is_seen(entry), (row->tells & SEEN) != 0, "seen");
	check_int(bloom_is_denied(entry), (row->tells & DENIED) != 0, "denied");
	check_int(bloom_has_set(entry), (row->tells & SET) != 0, "set");
	check_int(bloom_set_heavily(entry), (row->tells & HEAVY) != 0, "heavy");
}

static void a_share_open_is_bloom_and_none_open_is_not(void **state)
{
	struct entry *open = with_amount(make_entry(KIND_STAGE, "2026-03-10"),
		exactly(DIMENSION_SHARE, FIELD_SHARE_OPEN, 300));
	struct entry *none = with_amount(make_entry(KIND_STAGE, "2026-03-10"),
		exactly(DIMENSION_SHARE, FIELD_SHARE_OPEN, 0));

	(void)state;
	assert_true(bloom_is_seen(open));
	assert_false(bloom_is_seen(none));
}

int main(void)
{
	enum { ROWS = sizeof said / sizeof said[0] };
	struct CMUnitTest tests[ROWS];
	const struct CMUnitTest more[] = {
		cmocka_unit_test(a_share_open_is_bloom_and_none_open_is_not),
	};

	for (int i = 0; i < ROWS; i++)
		tests[i] = (struct CMUnitTest){.name = said[i].name,
			.test_func = an_entry_tells_what_it_says,
			.initial_state = (void *)(uintptr_t)&said[i]};
	int failed = cmocka_run_group_tests_name("bloom", tests, NULL, NULL);
	failed += cmocka_run_group_tests_name("shares", more, NULL, NULL);
	return failed != 0;
}
