/* SPDX-License-Identifier: MIT */
/* Entries typed at speed into the walk while the program is killed at any moment: none is lost
 * that the screen had shown as saved. Slow because it starts and kills many times; KILL_ROUNDS=
 * in the environment asks for more. */
#include "support/stage.h"
#include "support/test.h"

#include <signal.h>
#include <stdlib.h>
#include <string.h>

enum { ROUNDS = 30, ENTRIES = 200 };

/* The number behind "kill" that the line of messages says was saved; -1 none. */
static int shown_as_saved(const struct stage *stage)
{
	static char row[VT_ROW_SIZE];
	const struct vt *vt = stage->pty->screen;
	(void)vt_row(vt, vt->rows - 2, row);
	if (strncmp(row, "saved", 5) != 0)
		return -1;
	const char *mark = strstr(row, "kill");
	return mark == NULL ? -1 : atoi(mark + 4);
}

/* Types until all are typed or the moment has come; returns the last one shown as saved. */
static int type_at_speed(struct stage *stage, struct dice *dice, int moment)
{
	int shown = -1;
	char line[64];
	for (int i = 0; i < moment; i++) {
		(void)snprintf(line, sizeof line, "note kill%03d\r", i);
		pty_send(stage->pty, line);
		(void)pty_read_quiet(stage->pty, (int)dice_between(dice, 0, 4), 20);
		const int now = shown_as_saved(stage);
		shown = now > shown ? now : shown;
	}
	return shown;
}

static int kept_count(const struct stage *stage, int upto)
{
	char sql[200];
	(void)snprintf(sql, sizeof sql,
		"SELECT count(DISTINCT words) FROM entry WHERE struck = 0 AND words LIKE "
		"'%%note kill%%' AND substr(words, -3) <= '%03d'",
		upto);
	return stage_count(stage, sql);
}

static void check_log(const struct stage *stage, int shown, int typed)
{
	char *sound = stage_sql(stage, "PRAGMA quick_check");
	check_text(sound, "ok\n", "log");
	free(sound);
	check_int(kept_count(stage, shown), shown + 1, "shown as saved and kept");
	const int kept = kept_count(stage, 999);
	assert_in_range(kept, shown + 1, typed);
	check_int(stage_count(stage,
			  "SELECT count(*) FROM entry WHERE words LIKE '%note kill%' AND made NOT "
			  "IN (SELECT id FROM change_set)"),
		0, "half saved");
}

static void killed_at_any_moment_nothing_shown_as_saved_is_lost(void **state)
{
	(void)state;
	struct dice dice = dice_start();
	const char *asked = getenv("KILL_ROUNDS");
	const int rounds = asked != NULL ? atoi(asked) : ROUNDS;
	int most = -1;
	for (int i = 0; i < rounds; i++) {
		struct stage stage;
		const struct stage_options options = {.rows = 24, .columns = 80};
		stage_open(&stage, &options);
		(void)stage_keys(&stage, "w");
		stage_shows(&stage, "of 22");
		const int moment = (int)dice_between(&dice, 1, ENTRIES);
		const int shown = type_at_speed(&stage, &dice, moment);
		most = shown > most ? shown : most;
		assert_int_equal(kill(stage.pty->child, SIGKILL), 0);
		check_int(pty_expect_end(stage.pty, STAGE_WAIT_MS), 128 + SIGKILL, "killed");
		const int last = shown_as_saved(&stage); /* what was on its way to the screen */
		check_log(&stage, last > shown ? last : shown, moment);
		(void)pty_close(stage.pty);
		stage_start(&stage); /* and it opens without a question */
		stage_shows(&stage, "its year now");
		stage_close(&stage);
	}
	assert_true(most > 10); /* else nothing was ever shown, and nothing was tested */
}

static void all_typed_at_speed_are_kept_in_the_end(void **state)
{
	(void)state;
	struct stage stage;
	struct dice dice = dice_start();
	const struct stage_options options = {.rows = 24, .columns = 80};
	stage_open(&stage, &options);
	(void)stage_keys(&stage, "w");
	stage_shows(&stage, "of 22");
	(void)type_at_speed(&stage, &dice, ENTRIES);
	pty_expect(stage.pty, "kill199", STAGE_WAIT_MS);
	stage_quiet(&stage);
	check_log(&stage, ENTRIES - 1, ENTRIES);
	stage_close(&stage);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(killed_at_any_moment_nothing_shown_as_saved_is_lost),
		cmocka_unit_test(all_typed_at_speed_are_kept_in_the_end),
	};
	return cmocka_run_group_tests_name("killing the screens", tests, NULL, NULL) != 0;
}
