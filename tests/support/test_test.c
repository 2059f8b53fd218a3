/* SPDX-License-Identifier: MIT */
#include "support/test.h"

#include <math.h>

static void equal_values_pass(void **state)
{
	(void)state;
	struct fault why = {.status = STATUS_RANGE, .text = "girth 3 mm is outside 10..6000 mm"};
	check_int(-3, -3, "negative");
	check_close(0.1 + 0.2, 0.3, 1e-12, "sum");
	check_text("fig", "fig", "text");
	check_has("fig by gate", "by", "part");
	check_ok(STATUS_OK, &why);
	check_refused(STATUS_RANGE, STATUS_RANGE, &why, "10..6000");
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(equal_values_pass),
	};
	return cmocka_run_group_tests_name("test", tests, NULL, NULL) != 0;
}
