/* SPDX-License-Identifier: MIT */
/* A session: log, almanac and yard opened together, and season names that follow an undo. */
#include "support/garden.h"

#include "report/session.h"

static int garden_setup(void **state)
{
	struct garden *garden = calloc(1, sizeof *garden);
	if (garden == NULL)
		return -1;
	garden_make(garden, "2026-06-20");
	garden_tree(garden, "A1", "apple", "2010", "hole");
	garden_log(garden, "A1 picked 5 lb @ 2024-01-20");
	store_close(garden->store); /* one log, one opener */
	garden->store = NULL;
	*state = garden;
	return 0;
}

static int garden_teardown(void **state)
{
	garden_free(*state);
	free(*state);
	return 0;
}

static struct session *session_of(const struct garden *garden, bool read_only)
{
	struct fault why = {0};
	struct session *session = NULL;
	const struct session_options options = {.path = garden->path,
		.almanac = "share/almanac",
		.clock = clock_seeded(garden_day("2026-06-21"), 9),
		.read_only = read_only};
	check_ok(session_open(&options, &session, &why), &why);
	return session;
}

static void check_seasons(const struct garden *garden, const char *want, const char *label)
{
	char *names = garden_sql(garden, "SELECT season FROM yield_by_season");
	check_text(names, want, label);
	free(names);
}

static void identify(struct session *session, const char *species)
{
	struct fault why = {0};
	struct tree tree;
	char asked[TEXT_SIZE];
	struct new_identity identity = {.is_change = false};
	snprintf(identity.species, sizeof identity.species, "%s", species);
	check_ok(store_tree_find(session->store, "A1", &tree, &why), &why);
	check_ok(work_identify(session->yard, tree.id, &identity, asked, &why), &why);
	check_ok(session_refresh(session, &why), &why);
}

static void names_of_seasons_follow_undo_and_redo(void **state)
{
	struct garden *garden = *state;
	struct fault why = {0};
	char what[TEXT_SIZE];
	struct session *session = session_of(garden, false);
	check_seasons(garden, "2023\n", "an apple");
	identify(session, "orange");
	check_seasons(garden, "2023/24\n", "an orange");
	check_ok(store_undo(session->store, what, &why), &why);
	check_seasons(garden, "2023\n", "undone");
	check_ok(store_redo(session->store, what, &why), &why);
	check_seasons(garden, "2023/24\n", "done again");
	session_close(session);
}

static void names_of_seasons_follow_an_undone_place(void **state)
{
	struct garden *garden = *state;
	struct fault why = {0};
	char what[TEXT_SIZE];
	struct session *session = session_of(garden, false);
	identify(session, "peach");
	struct place place = *yard_place(session->yard);
	place.hemisphere = HEMISPHERE_SOUTH;
	check_ok(store_act_begin(session->store, ACT_WORK, "place set", &why), &why);
	check_ok(store_place_save(session->store, &place, &why), &why);
	check_ok(yard_put_all_turns(session->store, session->almanac, &why), &why);
	check_ok(store_act_commit(session->store, &why), &why);
	check_seasons(garden, "2023/24\n", "in the south");
	check_ok(store_undo(session->store, what, &why), &why);
	check_seasons(garden, "2024\n", "in the north again");
	session_close(session);
}

static void another_almanac_names_all_anew_on_the_first_opening(void **state)
{
	struct garden *garden = *state;
	session_close(session_of(garden, false));
	const char *arguments[] = {"sqlite3", garden->path,
		"DELETE FROM season_turn; UPDATE walk SET value = 'older' WHERE key = "
		"'season-turns'",
		NULL};
	struct spawned spawned = command_run(NULL, arguments);
	check_int(spawned.status, 0, spawned.err);
	spawned_free(&spawned);
	check_seasons(garden, "2024\n", "as SQL names it without help");
	session_close(session_of(garden, true));
	check_seasons(garden, "2024\n", "looking changes nothing");
	session_close(session_of(garden, false));
	check_seasons(garden, "2023\n", "writing puts it right");
}

static void looking_leaves_the_bytes_of_the_log(void **state)
{
	struct garden *garden = *state;
	size_t length;
	size_t length_after;
	char *before = file_read(garden->path, &length);
	struct session *session = session_of(garden, true);
	assert_true(store_is_read_only(session->store));
	session_close(session);
	char *after = file_read(garden->path, &length_after);
	check_int((int64_t)length_after, (int64_t)length, "length");
	assert_memory_equal(before, after, length);
	free(before);
	free(after);
}

static void a_log_or_an_almanac_that_is_not_there_is_one_sentence(void **state)
{
	struct garden *garden = *state;
	struct fault why = {0};
	struct session *session = NULL;
	char path[SCRATCH_PATH_SIZE];
	struct session_options options = {
		.path = scratch_path(&garden->scratch, "none.bough", path),
		.almanac = "share/almanac",
		.clock = clock_pinned(garden_day("2026-06-21"))};
	check_refused(session_open(&options, &session, &why), STATUS_ABSENT, &why, "none.bough");
	assert_false(file_exists(path));
	options.path = garden->path;
	options.almanac = garden->scratch.folder;
	check_refused(session_open(&options, &session, &why), STATUS_ABSENT, &why,
		garden->scratch.folder);
	assert_null(session);
}

static void units_follow_the_place_unless_given(void **state)
{
	struct garden *garden = *state;
	struct fault why = {0};
	struct session *session = session_of(garden, false);
	check_int(session->numbers.units, UNITS_US, "the place's");
	struct place place = *yard_place(session->yard);
	place.units = UNITS_SI;
	check_ok(store_act_begin(session->store, ACT_WORK, "place set", &why), &why);
	check_ok(store_place_save(session->store, &place, &why), &why);
	check_ok(store_act_commit(session->store, &why), &why);
	check_ok(session_refresh(session, &why), &why);
	check_int(session->units, UNITS_SI, "the place's, changed");
	session_close(session);
	const struct session_options options = {.path = garden->path,
		.almanac = "share/almanac",
		.clock = clock_pinned(garden_day("2026-06-21")),
		.units = UNITS_US};
	check_ok(session_open(&options, &session, &why), &why);
	check_int(session->numbers.units, UNITS_US, "as given");
	session_close(session);
}

#define FACT(name) cmocka_unit_test_setup_teardown(name, garden_setup, garden_teardown)

int main(void)
{
	const struct CMUnitTest tests[] = {
		FACT(names_of_seasons_follow_undo_and_redo),
		FACT(names_of_seasons_follow_an_undone_place),
		FACT(another_almanac_names_all_anew_on_the_first_opening),
		FACT(looking_leaves_the_bytes_of_the_log),
		FACT(a_log_or_an_almanac_that_is_not_there_is_one_sentence),
		FACT(units_follow_the_place_unless_given),
	};
	return cmocka_run_group_tests_name("a session", tests, NULL, NULL) != 0;
}
