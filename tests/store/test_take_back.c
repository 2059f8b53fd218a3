/* SPDX-License-Identifier: MIT */
/* One act picked among others is taken back, it alone; what something else rests on is not. */
#include "store/store.h"

#include <stdlib.h>
#include <string.h>

#include "support/garden.h"

static void set_named(struct garden *garden, const char *kind, const char *what, char id[ID_SIZE])
{
	struct arena *arena = arena_new();
	struct fault why = {.status = STATUS_OK};
	struct change_row *acts = NULL;
	int32_t count = 0;
	id[0] = '\0';
	check_ok(store_history(garden->store, NULL, 0, arena, &acts, &count, &why), &why);
	for (int32_t i = 0; i < count && id[0] == '\0'; i++)
		if (strcmp(acts[i].kind, kind) == 0 && strstr(acts[i].what, what) != NULL)
			memcpy(id, acts[i].set_id, ID_SIZE);
	check_int((int64_t)strlen(id), ID_SIZE - 1, what);
	arena_free(arena);
}

static enum status take_back(
	struct garden *garden, const char *kind, const char *what, struct fault *why)
{
	char id[ID_SIZE], said[TEXT_SIZE];
	set_named(garden, kind, what, id);
	const enum status status = store_undo_set(garden->store, id, said, why);
	if (status == STATUS_OK)
		check_has(said, what, "it tells what");
	return status;
}

static int32_t entries(struct garden *garden, const char *text)
{
	struct arena *arena = arena_new();
	struct fault why = {.status = STATUS_OK};
	struct entry *found = NULL;
	int32_t count = 0;
	check_ok(store_find(garden->store, text, 0, arena, &found, &count, &why), &why);
	arena_free(arena);
	return count;
}

static void make_yard(struct garden *garden)
{
	garden_make(garden, "2026-11-24");
	(void)garden_tree(garden, "A1", "apple", "2015", "");
	(void)garden_log(garden, "A1 picked 3 lb");
	(void)garden_log(garden, "A1 saw aphids");
}

static void one_of_the_middle_goes_alone_and_comes_back(void **state)
{
	(void)state;
	struct garden garden;
	struct fault why = {.status = STATUS_OK};
	make_yard(&garden);
	check_ok(take_back(&garden, "act", "picked 3 lb", &why), &why);
	check_int(entries(&garden, "picked"), 0, "the pick is gone");
	check_int(entries(&garden, "aphids"), 1, "what came later stands");
	check_ok(take_back(&garden, "undo", "picked 3 lb", &why), &why);
	check_int(entries(&garden, "picked"), 1, "its taking back was taken back");
	garden_free(&garden);
}

static void it_goes_once(void **state)
{
	(void)state;
	struct garden garden;
	struct fault why = {.status = STATUS_OK};
	make_yard(&garden);
	check_ok(take_back(&garden, "act", "aphids", &why), &why);
	check_refused(
		take_back(&garden, "act", "aphids", &why), STATUS_END, &why, "it was already");
	garden_free(&garden);
}

static void the_beginning_of_the_log_stays(void **state)
{
	(void)state;
	struct garden garden;
	struct fault why = {.status = STATUS_OK};
	make_yard(&garden);
	check_refused(take_back(&garden, "act", "began the log", &why), STATUS_END, &why, "began");
	garden_free(&garden);
}

static void what_something_rests_on_stays(void **state)
{
	(void)state;
	struct garden garden;
	struct fault why = {.status = STATUS_OK};
	make_yard(&garden);
	check_refused(take_back(&garden, "act", "tree A1 added", &why), STATUS_CONFLICT, &why,
		"\"tree A1 added\" cannot be undone: \"");
	check_int(entries(&garden, "picked"), 1, "nothing was touched");
	check_ok(take_back(&garden, "act", "picked 3 lb", &why), &why);
	check_ok(take_back(&garden, "act", "aphids", &why), &why);
	check_ok(take_back(&garden, "act", "tree A1 added", &why), &why);
	garden_free(&garden);
}

/* An entry comes back to its tree, not before the tree does. */
static void what_rests_on_what_was_undone_stays_away(void **state)
{
	(void)state;
	struct garden garden;
	struct fault why = {.status = STATUS_OK};
	make_yard(&garden);
	check_ok(take_back(&garden, "act", "picked 3 lb", &why), &why);
	check_ok(take_back(&garden, "act", "aphids", &why), &why);
	check_ok(take_back(&garden, "act", "tree A1 added", &why), &why);
	check_refused(take_back(&garden, "undo", "picked 3 lb", &why), STATUS_CONFLICT, &why,
		"\"tree A1 added\", which it rests on, was undone");
	check_ok(take_back(&garden, "undo", "tree A1 added", &why), &why);
	check_ok(take_back(&garden, "undo", "picked 3 lb", &why), &why);
	check_int(entries(&garden, "picked"), 1, "the pick");
	garden_free(&garden);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(one_of_the_middle_goes_alone_and_comes_back),
		cmocka_unit_test(it_goes_once),
		cmocka_unit_test(the_beginning_of_the_log_stays),
		cmocka_unit_test(what_something_rests_on_stays),
		cmocka_unit_test(what_rests_on_what_was_undone_stays_away),
	};
	return cmocka_run_group_tests_name("take back", tests, NULL, NULL) != 0;
}
