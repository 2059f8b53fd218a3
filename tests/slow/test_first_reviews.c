/* SPDX-License-Identifier: MIT */
/* The first review of yards only just typed in, on every day of a year: any mixture of kinds, old
 * and young, in doubt or not, on both sides of the equator and in every place.
 *
 * Slow because each of a year's days is looked at. LOGS= asks for more yards, a fiftieth of its
 * number; SEED= for others. */
#include "support/first_yard.h"

enum { YARDS_USUAL = SANITIZED ? 3 : 6, LOGS_A_YARD = 50, DAYS = 366, PLACES = AT_TROPICS + 1 };

static void choose(struct first_yard *one, int32_t number, struct dice *dice)
{
	one->south = number % 2 == 1;
	one->climate = (enum log_place)((number / 2) % PLACES);
	one->units = dice_between(dice, 0, 1) == 0 ? UNITS_US : UNITS_SI;
	one->in_doubt = dice_between(dice, 0, 3) == 0;
	one->years_unknown = dice_between(dice, 0, 3) == 0;
	one->kinds = dice_between(dice, 0, 1) == 0 ? 0 : (int32_t)dice_between(dice, 1, 8);
	one->first_year = dice_between(dice, 0, 1) == 0 ? 2024 : 1970;
}

static void a_first_review_is_short_on_every_day(void **state)
{
	(void)state;
	const char *asked = getenv("LOGS");
	int32_t yards = asked != NULL ? atoi(asked) / LOGS_A_YARD : YARDS_USUAL;
	struct dice dice = dice_start();
	struct first_yard one = {.climate = AT_TROPICS};
	int64_t sum = 0;
	int32_t most = 0;

	yards = yards < 1 ? 1 : yards;
	for (int32_t number = 0; number < yards; number++) {
		struct garden garden;

		choose(&one, number, &dice);
		first_yard_type_in(&garden, &one, &dice);
		for (int32_t day = 0; day < DAYS; day++) {
			int32_t lines = first_yard_check(
				&garden, date_add_days(garden_day("2026-11-24"), day));

			sum += lines;
			most = lines > most ? lines : most;
		}
		garden_free(&garden);
	}
	print_message("%d yards on %d days each: %.1f lines, %d at most\n", (int)yards, DAYS,
		(double)sum / (yards * DAYS), (int)most);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(a_first_review_is_short_on_every_day),
	};
	return cmocka_run_group_tests_name("first reviews", tests, NULL, NULL) != 0;
}
