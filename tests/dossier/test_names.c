/* SPDX-License-Identifier: MIT */
/* The names of kinds as a line may say them, and the context a line is read in. */
#include "support/garden.h"

struct name_case {
	const char *name;
	const char *text;
	const char *key; /* of the one kind; "" none */
};

/* clang-format off */
static const struct name_case cases[] = {
	{"a_key", "fig", "fig"},
	{"a_plural", "figs", "fig"},
	{"a_plural_in_es", "peaches", "peach"},
	{"capitals", "Apples", "apple"},
	{"a_botanical_name", "Eriobotrya japonica", "loquat"},
	{"another_common_name", "nispero", "loquat"},
	{"plural_with_two_words", "sweet oranges", "orange"},
	{"not_a_kind", "gates", ""},
	{"a_lone_ending", "s", ""},
	{"a_lone_ies", "ies", ""},
	{"nothing", "", ""},
	{"longer_than_any_name",
		"figfigfigfigfigfigfigfigfigfigfigfigfigfigfigfigfigfigfigfigfigfigfigfigfigfigfigfig"
		"figfigfigfigfigfigfigfigfigfigfigfigfigfigfigfigfigfigfigfigfigfigfigfigfigfigfigfigs", ""},
};
/* clang-format on */

static void run_case(const void *one)
{
	const struct name_case *name_case = one;
	struct fault why = {0};
	struct line_names_owner owner = {.store = NULL};
	struct almanac *almanac = NULL;
	struct name_match match[4];
	check_ok(almanac_open("share/almanac", &almanac, &why), &why);
	owner.almanac = almanac;
	struct line_names names = yard_names(&owner);
	int32_t count = names.find(
		names.owner, NAME_KIND, name_case->text, strlen(name_case->text), match, 4);
	check_int(count, name_case->key[0] != '\0' ? 1 : 0, "kinds");
	if (count == 1) {
		check_text(match[0].id, name_case->key, "key");
		assert_true(match[0].is_exact);
	}
	almanac_close(almanac);
}

static void a_line_is_read_by_the_places_own_settings(void **state)
{
	(void)state;
	struct garden garden;
	const struct place place = {.hemisphere = HEMISPHERE_SOUTH, .dates = DATES_DMY};
	garden_make_at(&garden, &place, "2026-06-20");
	struct line_context context = yard_line_context(garden.yard, &garden.names);
	check_int(context.hemisphere, HEMISPHERE_SOUTH, "hemisphere");
	check_int(context.dates, DATES_DMY, "date order");
	check_int(context.numbers.units, UNITS_US, "units");
	check_int(context.today.day, garden_day("2026-06-20").day, "today");
	assert_false(context.from_file);
	garden_tree(&garden, "fig by gate", "fig", "", "");
	struct name_match match[2];
	int32_t count = context.names.find(
		context.names.owner, NAME_TREE, "FIG BY GATE", strlen("FIG BY GATE"), match, 2);
	check_int(count, 1, "the log's own names, in any case");
	check_text(match[0].label, "fig by gate", "label");
	garden_free(&garden);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(a_line_is_read_by_the_places_own_settings),
	};
	int failed = RUN_CASES("names of kinds", cases, run_case);
	failed += cmocka_run_group_tests_name("context", tests, NULL, NULL);
	return failed != 0;
}
