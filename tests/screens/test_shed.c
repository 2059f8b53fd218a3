/* SPDX-License-Identifier: MIT */
/* Products and containers on the real program: added, told otherwise, removed, each as one act. */
#include "support/stage.h"
#include "support/test.h"

#include <stdlib.h>
#include <string.h>

static void open_shed(struct stage *stage, int rows, int columns, const char *lang)
{
	const struct stage_options options = {.rows = rows, .columns = columns, .lang = lang};
	stage_open(stage, &options);
	check_int(stage_keys(stage, "S"), 1, "keys it took");
	stage_shows(stage, "Shed");
}

static void it_looks_as_it_was_kept(void **state)
{
	(void)state;
	struct stage stage;
	open_shed(&stage, 24, 80, NULL);
	(void)stage_keys(&stage, "Down Down");
	stage_shows(&stage, "> container  bucket");
	char *text = stage_text(&stage);
	check_golden(text, "tests/screens/golden/shed.screen");
	free(text);
	stage_close(&stage);
}

static void a_product_is_added_and_taken_back(void **state)
{
	(void)state;
	static const char sql[] = "SELECT count(*) FROM product WHERE struck = 0 AND name = "
				  "'blood meal' AND n_mpct = 12000 AND bag_mg > 1800000";
	struct stage stage;
	open_shed(&stage, 24, 80, NULL);
	(void)stage_keys(&stage, "n");
	stage_shows(&stage, "A new product");
	stage_type(&stage, "blood meal\t12-0-0\t4 lb");
	(void)stage_keys(&stage, "Enter");
	stage_shows(&stage, "saved, u takes it back");
	stage_shows(&stage, "blood meal: 12-0-0, bag 4 lb");
	check_int(stage_count(&stage, sql), 1, "kept");
	(void)stage_keys(&stage, "u");
	stage_lacks(&stage, "blood meal: 12");
	check_int(stage_count(&stage, sql), 0, "undone");
	stage_close(&stage);
}

static void what_is_wrong_is_said_and_nothing_is_lost(void **state)
{
	(void)state;
	struct stage stage;
	open_shed(&stage, 24, 80, NULL);
	const int before = stage_count(&stage, "SELECT count(*) FROM change_set");
	(void)stage_keys(&stage, "n");
	stage_type(&stage, "meal\t12-0");
	(void)stage_keys(&stage, "Enter");
	stage_shows(&stage, "not saved: an analysis is three numbers");
	stage_shows(&stage, "meal");
	(void)stage_keys(&stage, "Esc");
	stage_shows(&stage, "Esc once more leaves it");
	(void)stage_keys(&stage, "Esc");
	stage_shows(&stage, "What you feed and spray with");
	check_int(stage_count(&stage, "SELECT count(*) FROM change_set"), before, "acts");
	stage_close(&stage);
}

static void only_what_is_told_otherwise_is_changed(void **state)
{
	(void)state;
	struct stage stage;
	open_shed(&stage, 24, 80, NULL);
	(void)stage_keys(&stage, "Enter");
	stage_shows(&stage, "This product");
	(void)stage_keys(&stage, "Down");
	stage_type(&stage, "25 lb");
	(void)stage_keys(&stage, "Enter");
	stage_shows(&stage, "10-10-10: 10-10-10, bag 25 lb, a cup weighs 8 oz");
	check_int(stage_count(&stage, "SELECT count(*) FROM change WHERE table_name = 'product' "
				      "AND set_id = (SELECT id FROM change_set ORDER BY row DESC "
				      "LIMIT 1)"),
		1, "one field");
	(void)stage_keys(&stage, "Enter");
	(void)stage_keys(&stage, "Up");
	stage_type(&stage, "x");
	(void)stage_keys(&stage, "Enter");
	stage_shows(&stage, "not saved: entries call it 10-10-10");
	stage_close(&stage);
}

static void a_container_is_weighed_anew_and_removed(void **state)
{
	(void)state;
	struct stage stage;
	open_shed(&stage, 24, 80, NULL);
	(void)stage_keys(&stage, "c");
	stage_type(&stage, "lug\t1 bu\t\t\t");
	(void)stage_keys(&stage, "Enter");
	stage_shows(&stage, "lug");
	(void)stage_keys(&stage, "End Up");
	stage_shows(&stage, "a full one was not weighed yet");
	(void)stage_keys(&stage, "Enter");
	stage_type(&stage, "40 lb\tapple\t2024-03-01");
	(void)stage_keys(&stage, "Enter");
	stage_shows(&stage, "apple: 40 lb from 1 March 2024");
	(void)stage_keys(&stage, "x");
	stage_shows(&stage, "container lug removed");
	check_int(stage_count(&stage, "SELECT count(*) FROM container WHERE struck = 0 AND name = "
				      "'lug'"),
		0, "gone");
	(void)stage_keys(&stage, "u");
	stage_shows(&stage, "lug: holds");
	stage_close(&stage);
}

static void it_fits_60_by_15_in_ascii(void **state)
{
	(void)state;
	struct stage stage;
	open_shed(&stage, 15, 60, "C");
	stage_check(&stage, "list");
	(void)stage_keys(&stage, "c");
	stage_type(&stage, "crate");
	stage_check(&stage, "form");
	stage_shows(&stage, "since");
	stage_close(&stage);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(it_looks_as_it_was_kept),
		cmocka_unit_test(a_product_is_added_and_taken_back),
		cmocka_unit_test(what_is_wrong_is_said_and_nothing_is_lost),
		cmocka_unit_test(only_what_is_told_otherwise_is_changed),
		cmocka_unit_test(a_container_is_weighed_anew_and_removed),
		cmocka_unit_test(it_fits_60_by_15_in_ascii),
	};
	return cmocka_run_group_tests_name("shed", tests, NULL, NULL) != 0;
}
