/* SPDX-License-Identifier: MIT */
/* A fig bears twice: what of each crop a cut puts at risk, from four seasons of picks. */
#include "support/log_case.h"

/* breba 1, 2, 3 and 4 kg, main 8, 10, 12 and 14 kg */
#define BREBAS                                                     \
	"A1 picked 1 kg @ 2023-06-15|A1 picked 2 kg @ 2024-06-20|" \
	"A1 picked 3 kg @ 2025-06-20|A1 picked 4 kg @ 2026-06-28|"
#define MAINS                                                                   \
	"A1 picked 8 kg, last @ 2023-08-15|A1 picked 10 kg, last @ 2024-08-20|" \
	"A1 picked 12 kg, last @ 2025-08-20|A1 picked 14 kg, last @ 2026-09-10|"
#define BREBAS_IN_WORDS                                                        \
	"A1 picked 1 kg breba @ 2023-07-15|A1 picked 2 kg breba @ 2024-07-20|" \
	"A1 picked 3 kg @ 2025-07-20; the breva|A1 picked 4 kg Brebas @ 2026-07-08|"
#define WHOLE                                                         \
	"A1 picked 9 kg @ season 2023|A1 picked 12 kg @ season 2024|" \
	"A1 picked 15 kg @ 2025-06-20/2025-08-20|A1 picked 18 kg @ season 2026|"
#define CUT "A1 cut shape 20% of crown @ 2027-05-10"

enum { KG = 1000000 };

struct fig_case {
	const char *name;
	const char *lines;
	int64_t breba_mg; /* the middle of its seasons; 0 none */
	int64_t main_mg;
	int32_t untold;
	const char *says; /* of the main crop, of a cut in May */
};

/* clang-format off */
static const struct fig_case cases[] = {
	{"told_by_the_day", BREBAS MAINS, 2 * KG + KG / 2, 11 * KG, 0, "of the 2027 main crop ("},
	{"told_by_words_in_july", BREBAS_IN_WORDS MAINS, 2 * KG + KG / 2, 11 * KG, 0, "of the 2027 main crop ("},
	{"only_the_main_crop_was_picked", MAINS, 0, 11 * KG, 0, "of the 2027 main crop ("},
	{"only_brebas_were_picked", BREBAS, 2 * KG + KG / 2, 0, 0, "part of the 2027 main crop, how much is not known without picks of that crop"},
	{"seasons_as_a_whole_tell_neither", WHOLE, 0, 0, 4, "your picks do not tell breba from main"},
	{"one_season_not_told_is_left_out", BREBAS MAINS "A1 picked 20 kg @ season 2026", 2 * KG, 10 * KG, 1, "your picks of 3 seasons"},
	{"the_last_of_june_and_the_first_of_july", "A1 picked 1 kg @ 2026-06-28|A1 picked 5 kg, last @ 2026-07-01", KG, 5 * KG, 0, "your picks of 1 season"},
};
/* clang-format on */

static void check_side(const struct fig_case *one, bool south)
{
	const struct log_case told = {.place = AT_WET_WINTER,
		.trees = "A1 fig 2010",
		.lines = one->lines,
		.today = "2027-05-11"};
	struct garden garden;
	char line[80];

	log_case_make(&garden, &told, south);
	const struct dossier *dossier = garden_story(&garden, "A1");
	check_int(dossier->parts[CROP_BREBA].expected.mg, one->breba_mg, "breba");
	check_int(dossier->parts[CROP_MAIN].expected.mg, one->main_mg, "main");
	check_int(dossier->parts[CROP_MAIN].untold, one->untold, "untold");
	garden_log(&garden, log_case_turn(CUT, south, line, sizeof line));
	garden_look(&garden);
	struct flags flags = log_case_flags(&garden);
	const struct flag *flag = log_case_find(&flags, "flower-wood");
	assert_non_null(flag);
	if (!south)
		check_has(flag->says, one->says, "says");
	check_int(flag->crop_at_risk_mg.known, one->main_mg > 0, "a figure");
	if (one->main_mg > 0)
		check_int(flag->crop_at_risk_mg.value, one->main_mg / 5, "a fifth of it");
	garden_free(&garden);
}

static void check_case(void **state)
{
	check_side(*state, false);
	check_side(*state, true);
}

static void a_kind_that_bears_once_has_no_parts(void **state)
{
	const struct log_case told = {.place = AT_WET_WINTER,
		.trees = "A1 apple 2010",
		.lines = BREBAS MAINS,
		.today = "2027-05-11"};
	struct garden garden;

	(void)state;
	log_case_make(&garden, &told, false);
	const struct dossier *dossier = garden_story(&garden, "A1");
	check_int(dossier->parts[CROP_BREBA].season_count, 0, "breba");
	check_int(dossier->parts[CROP_MAIN].expected.seasons, 0, "main");
	garden_free(&garden);
}

int main(void)
{
	enum { COUNT = sizeof cases / sizeof cases[0] };
	struct CMUnitTest tests[COUNT + 1];
	for (size_t i = 0; i < COUNT; i++)
		tests[i] = (struct CMUnitTest){.name = cases[i].name,
			.test_func = check_case,
			.initial_state = (void *)(uintptr_t)&cases[i]};
	tests[COUNT] = (struct CMUnitTest)cmocka_unit_test(a_kind_that_bears_once_has_no_parts);
	int failed = cmocka_run_group_tests(tests, NULL, NULL);
	return failed != 0;
}
