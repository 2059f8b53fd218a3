/* SPDX-License-Identifier: MIT */
/* Flags that the log keeps are those that are worked out anew: logs made by dice, any act after any
 * other, days that go by, some of it kept in between; printed, byte for byte. LOGS= asks for more
 * logs, SEED= for others. */
#include "support/told.h"

#include "core/text.h"
#include "report/keeper.h"
#include "report/session.h"
#include "store/kept.h"
#include "store/sql.h"

enum { LOGS_USUAL = SANITIZED ? 3 : 6, ACTS = 40, TREES = 5 };

/* %s: one of the trees; %d: a figure. A day is put behind each. */
static const char *const lines[] = {
	"%s picked %d kg",
	"%s picked %d kg, last",
	"%s picked none",
	"%s lost %d kg birds",
	"%s cut shape %d%% of crown",
	"%s cut heading 3%d%% of crown",
	"%s cut suckers",
	"%s fed %d lb 21-0-0",
	"%s fed compost",
	"%s fed fresh manure",
	"%s girth 4%d cm",
	"%s saw fire blight",
	"%s saw mummies",
	"%s saw frost damage",
	"%s bloom",
	"%s fruit set",
	"%s thinned %d fruit",
	"%s spray oil, 2%d days to harvest",
	"%s plan cut shape 10%% of crown",
	"%s leave until 2027-06-05",
	"%s note took %d seeds",
	"%s sowed %d seeds",
	"%s saw graft union buried",
	"%s mulched %d in against the trunk",
	"%s watered %d gal",
	"%s picked %d buckets",
	"spot Corner watered %d gal",
	"spot Corner picked %d kg",
	"area Slope watered 1%d gal",
	"frost -%d C",
	"heat 4%d C",
	"rain 1%d mm",
	"storm",
};
static const char *const kinds[] = {
	"loquat", "apple", "peach", "fig", "lemon", "sweet_cherry", "orange", ""};
static const char *const planted[] = {"2010", "2019-05-11", "2024-02-29", "2025", ""};

struct kept_case {
	struct garden garden;
	struct dice dice;
	struct keeper *keeper;
	int32_t trees;
	int32_t read;   /* trees of a review that were kept and good, over all looks */
	int32_t looked; /* and all trees */
};

static int64_t roll(struct kept_case *one, int64_t high)
{
	return dice_between(&one->dice, 0, high);
}

/* --- acts --- */

static void plant(struct kept_case *one)
{
	struct fault why = {0};
	struct new_tree tree = {.sure_given = false};
	char id[ID_SIZE], asked[TEXT_SIZE];
	snprintf(tree.tree.label, sizeof tree.tree.label, "T%d", one->trees++);
	snprintf(tree.species, sizeof tree.species, "%s", kinds[roll(one, 7)]);
	snprintf(tree.spot, sizeof tree.spot, "%s", roll(one, 2) == 0 ? "Corner" : tree.tree.label);
	tree.tree.over_fence = roll(one, 5) == 0;
	check_ok(date_span_parse(planted[roll(one, 4)], HEMISPHERE_NORTH, &tree.tree.planted, &why),
		&why);
	check_ok(work_tree_add(one->garden.yard, &tree, asked, id, &why), &why);
}

static const char *some_label(struct kept_case *one, char out[LABEL_SIZE])
{
	snprintf(out, LABEL_SIZE, "T%d", (int)roll(one, one->trees - 1));
	return out;
}

/* What cannot be logged (a tree that is gone, a day before the planting) is no act. */
static void enter(struct kept_case *one, const char *format, int32_t ahead)
{
	char line[200], label[LABEL_SIZE], day[DATE_SIZE];
	struct fault why = {0};
	struct text_builder words = text_builder_fixed(line, sizeof line);
	text_add(&words, "");
	for (const char *at = format; *at != '\0'; at++) {
		if (at[0] == '%' && at[1] != '%') {
			if (at[1] == 's')
				text_add(&words, some_label(one, label));
			else
				text_add_format(&words, "%d", 1 + (int)roll(one, 8));
			at++;
		} else {
			text_add_n(&words, at, 1);
			at += at[0] == '%' ? 1 : 0;
		}
	}
	text_add_format(&words, " @ %s",
		date_format(date_add_days(clock_today(&one->garden.clock), ahead), day));
	struct line_context context = yard_line_context(one->garden.yard, &one->garden.names);
	(void)!work_enter(one->garden.yard, line, &context, &one->garden.logged, &why);
}

static void enter_some(struct kept_case *one)
{
	int64_t count = sizeof lines / sizeof lines[0];
	enter(one, lines[roll(one, count - 1)], (int32_t)dice_between(&one->dice, -700, 20));
}

static void strike_or_mend(struct kept_case *one)
{
	struct fault why = {0};
	struct work_logged logged;
	struct line_context context = yard_line_context(one->garden.yard, &one->garden.names);
	const struct entry_query query = {.most = 40, .planned = -1};
	struct entry *entries;
	int32_t count;
	check_ok(store_entry_list(
			 one->garden.store, &query, one->garden.arena, &entries, &count, &why),
		&why);
	if (count == 0)
		return;
	const char *id = entries[roll(one, count - 1)].id;
	if (roll(one, 1) == 0)
		(void)!work_strike(one->garden.yard, id, &logged, &why);
	else
		(void)!work_mend(one->garden.yard, id, "T0 picked 3 kg @ 2022-05-05", &context,
			&logged, &why);
}

static void turn_back(struct kept_case *one)
{
	char what[TEXT_SIZE];
	struct fault why = {0};
	if (roll(one, 2) > 0)
		(void)!store_undo(one->garden.store, what, &why);
	else
		(void)!store_redo(one->garden.store, what, &why);
}

static void tell_weather(struct kept_case *one)
{
	struct fault why = {0};
	bool same;
	struct date first =
		date_add_days(clock_today(&one->garden.clock), -(int32_t)roll(one, 395));
	check_ok(store_act_begin(one->garden.store, ACT_IMPORT, "weather", &why), &why);
	for (int32_t i = 0; i < 20; i++) {
		struct weather_day day = {.day = date_add_days(first, i),
			.station = "hill",
			.min_decic = known_i32((int32_t)dice_between(&one->dice, -60, 100)),
			.max_decic = known_i32((int32_t)dice_between(&one->dice, 100, 380)),
			.rain_um = known_i64(roll(one, 2) * 2000)};
		day.forecast = date_compare(day.day, clock_today(&one->garden.clock)) > 0;
		check_ok(store_weather_day_put(one->garden.store, &day, &same, &why), &why);
	}
	check_ok(store_act_commit(one->garden.store, &why), &why);
}

static void settle(struct kept_case *one)
{
	struct fault why = {0};
	struct own_window window = {.window = "cut-avoid", .from = {2, 1}, .to = {4, 30}};
	snprintf(window.species, sizeof window.species, "apple");
	check_ok(store_act_begin(one->garden.store, ACT_WORK, "set", &why), &why);
	if (roll(one, 1) == 0)
		(void)!store_own_window_add(one->garden.store, &window, &why);
	one->garden.place.wet = roll(one, 1) == 0 ? WET_WINTER : WET_SUMMER;
	check_ok(store_place_save(one->garden.store, &one->garden.place, &why), &why);
	check_ok(store_act_commit(one->garden.store, &why), &why);
}

static void name_one(struct kept_case *one)
{
	char label[LABEL_SIZE], asked[TEXT_SIZE];
	struct fault why = {0};
	struct new_identity identity = {.is_change = roll(one, 1) == 0};
	struct tree tree;
	snprintf(identity.species, sizeof identity.species, "%s", kinds[roll(one, 6)]);
	if (store_tree_find(one->garden.store, some_label(one, label), &tree, &why) == STATUS_OK)
		(void)!work_identify(one->garden.yard, tree.id, &identity, asked, &why);
}

static void answer_one(struct kept_case *one)
{
	struct fault why = {0};
	struct review review;
	const struct review_options options = {.anew = true};
	check_ok(review_make(one->garden.yard, &options, one->garden.arena, &review, &why), &why);
	if (review.count == 0)
		return;
	const struct flag *flag = &review.items[roll(one, review.count - 1)].flag;
	if (roll(one, 1) == 0)
		(void)!work_put_off(one->garden.yard, flag->key,
			date_add_days(clock_today(&one->garden.clock), 20), &why);
	else
		(void)!work_rule_off(one->garden.yard, flag->rule, flag->tree_id, &why);
}

static void go_on(struct kept_case *one)
{
	one->garden.clock.pinned = known_date(date_add_days(
		clock_today(&one->garden.clock), (int32_t)dice_between(&one->dice, 1, 25)));
}

static void act(struct kept_case *one)
{
	switch (roll(one, 15)) {
	case 0:
		strike_or_mend(one);
		break;
	case 1:
		turn_back(one);
		break;
	case 2:
		tell_weather(one);
		break;
	case 3:
		if (roll(one, 2) == 0)
			settle(one);
		break;
	case 4:
		name_one(one);
		break;
	case 5:
		answer_one(one);
		break;
	case 6:
		enter(one, roll(one, 3) == 0 ? "%s died" : "%s grafted Champagne", 0);
		break;
	case 7:
	case 8:
	case 9:
		go_on(one);
		break;
	default:
		enter_some(one);
		break;
	}
	garden_look(&one->garden);
}

/* --- what is printed --- */

static const char *print(struct kept_case *one, struct review_options options, enum format format)
{
	struct fault why = {0};
	struct review review;
	struct told_page page;
	told_page_open(&page, &one->garden);
	page.printer.format = format;
	check_ok(review_make(one->garden.yard, &options, one->garden.arena, &review, &why), &why);
	check_ok(print_review(&page.printer, &review, one->garden.yard, options.all, &why), &why);
	return told_page_close(&page, &one->garden);
}

static void check_options(struct kept_case *one, struct review_options options, const char *label)
{
	const enum format formats[] = {FORMAT_TEXT, FORMAT_JSON};
	char day[DATE_SIZE];
	for (size_t i = 0; i < 2; i++) {
		options.anew = false;
		const char *kept = print(one, options, formats[i]);
		options.anew = true;
		const char *anew = print(one, options, formats[i]);
		if (strcmp(kept, anew) != 0)
			print_error("on %s, %s\n",
				date_format(clock_today(&one->garden.clock), day), dice_remark());
		check_text(kept, anew, label);
	}
}

static void count_row(void *context, const struct kept_row *row)
{
	int32_t *count = context;
	*count += row->flags != NULL;
}

/* How much of it was not worked out anew. */
static void count_kept(struct kept_case *one)
{
	char digest[KEPT_DIGEST_SIZE] = "";
	struct fault why = {0};
	struct kept_state state;
	char(*ids)[ID_SIZE];
	int32_t count = 0;
	sqlite3_stmt *statement = NULL;
	check_ok(sql_prepare(one->garden.store, "SELECT digest FROM kept_flag WHERE tree_id = ''",
			 &statement, &why),
		&why);
	if (sqlite3_step(statement) == SQLITE_ROW)
		column_copy(statement, 0, digest, sizeof digest);
	sqlite3_finalize(statement);
	digest[strcspn(digest, ":")] = '\0';
	check_ok(
		store_kept_state(one->garden.store, digest, one->garden.arena, &state, &why), &why);
	check_ok(store_kept_each(one->garden.store, &state, clock_today(&one->garden.clock),
			 count_row, &one->read, &why),
		&why);
	check_ok(store_kept_trees(one->garden.store, one->garden.arena, &ids, &count, &why), &why);
	one->looked += count;
}

/* Nobody sees whether the notes that are told by their number were listed. */
static void check_counted(struct kept_case *one)
{
	const char *listed = print(one, (struct review_options){.anew = true}, FORMAT_TEXT);
	struct review_options counted = {.notes_enough = REVIEW_NOTES_SHOWN + 1};
	check_text(print(one, counted, FORMAT_TEXT), listed, "notes counted");
	counted.anew = true;
	check_text(print(one, counted, FORMAT_TEXT), listed, "notes counted anew");
}

static void check_kept(struct kept_case *one)
{
	char label[LABEL_SIZE];
	struct fault why = {0};
	struct tree tree;
	count_kept(one);
	check_options(one, (struct review_options){.all = false}, "the yard");
	check_counted(one);
	check_options(one, (struct review_options){.all = true}, "the yard, all");
	if (store_tree_find(one->garden.store, some_label(one, label), &tree, &why) == STATUS_OK)
		check_options(one, (struct review_options){.tree_id = tree.id, .all = true}, label);
	const enum unit_system units = yard_told_in(one->garden.yard);
	yard_tell_in(one->garden.yard, units == UNITS_US ? UNITS_SI : UNITS_US);
	check_options(one, (struct review_options){.all = true}, "the yard, in other units");
	yard_tell_in(one->garden.yard, units);
}

/* A spot where several trees come to stand, in an area: work told of either is theirs. */
static void lay_out(struct kept_case *one)
{
	struct fault why = {0};
	struct area area = {.name = "Slope"};
	struct spot spot = {.name = "Corner", .kind = SPOT_HOLE};
	check_ok(store_act_begin(one->garden.store, ACT_WORK, "ground", &why), &why);
	check_ok(store_area_add(one->garden.store, &area, &why), &why);
	memcpy(spot.area_id, area.id, sizeof spot.area_id);
	check_ok(store_spot_add(one->garden.store, &spot, &why), &why);
	check_ok(store_act_commit(one->garden.store, &why), &why);
	garden_look(&one->garden);
}

static void live(struct kept_case *one, bool south)
{
	struct fault why = {0};
	struct place place;
	log_case_place((enum log_place)roll(one, AT_TROPICS), south, &place);
	garden_make_at(&one->garden, &place, south ? "2025-07-01" : "2026-01-01");
	lay_out(one);
	while (one->trees < TREES) {
		plant(one);
		garden_look(&one->garden);
	}
	for (int i = 0; i < 30; i++) {
		enter_some(one);
		garden_look(&one->garden);
	}
	for (int i = 0; i < ACTS; i++) {
		if (roll(one, 2) == 0)
			while (keeper_fill(one->keeper, one->garden.yard, 1))
				continue;
		act(one);
		if (roll(one, 39) == 0)
			plant(one);
		garden_look(&one->garden);
		check_kept(one);
	}
	check_ok(sql_exec(one->garden.store, "DELETE FROM kept_flag", &why), &why);
	check_kept(one);
}

static void what_is_kept_is_what_is_worked_out(void **state)
{
	(void)state;
	const char *asked = getenv("LOGS");
	int logs = asked != NULL ? atoi(asked) : LOGS_USUAL;
	struct kept_case one = {.dice = dice_start()};
	for (int i = 0; i < logs; i++) {
		one.keeper = keeper_new();
		one.trees = 0;
		live(&one, i % 2 == 1);
		keeper_free(one.keeper);
		garden_free(&one.garden);
	}
	print_message("%d logs: of %d trees looked at %d were kept\n", logs, (int)one.looked,
		(int)one.read);
	assert_true(one.read > one.looked / 5); /* else it would prove little */
	assert_true(one.read < one.looked);
}

/* --- what is read, and who writes --- */

static int64_t rows_kept(struct garden *garden)
{
	struct fault why = {0};
	int64_t count = -1;
	check_ok(sql_one_integer(garden->store,
			 "SELECT count(*) FROM kept_flag WHERE tree_id <> ''", &count, &why),
		&why);
	return count;
}

static void told_two(struct garden *garden)
{
	told(garden, AT_WET_WINTER, "A1 apple 2012; A2 peach 2012",
		"A1 cut shape 40% of crown @ 2026-07-20|A2 picked 3 kg @ 2026-07-01", "2026-07-29");
}

static void fill(struct garden *garden)
{
	struct keeper *keeper = keeper_new();
	while (keeper_fill(keeper, garden->yard, 1))
		continue;
	keeper_free(keeper);
}

static void a_review_reads_what_is_kept_until_an_entry_bears_on_it(void **state)
{
	(void)state;
	struct garden garden;
	struct fault why = {0};
	told_two(&garden);
	fill(&garden);
	check_int(rows_kept(&garden), 2, "trees kept");
	assert_non_null(strstr(told_review(&garden, true), "A1"));
	check_ok(
		sql_exec(garden.store, "UPDATE kept_flag SET flags = '' WHERE tree_id <> ''", &why),
		&why);
	check_lacks(told_review(&garden, true), "A1", "nothing is worked out");
	garden_log(&garden, "A1 picked 2 kg @ 2026-07-28");
	assert_non_null(strstr(told_review(&garden, true), "A1"));
	check_int(rows_kept(&garden), 2, "and nothing written");
	garden_free(&garden);
}

static void what_is_damaged_is_worked_out_anew(void **state)
{
	(void)state;
	static const char *const bad[] = {"x", "26 ", "-1 x", "99999999999999999999 ", "3 abc0 1 ",
		"3 abc2 0 ", "3 abc0 99999999 ", "3 abc0 1 9 no-such", "3 abc0 1 999 ",
		"3 abc0 1 0 0 0 1 0 0 99 1 2 3 ", "3 abc0 1 0 0 0 1 0 0 4 1 2 345 ",
		"3 abc0 1 0 0 0 1 0 0 0 "};
	struct garden garden;
	told_two(&garden);
	const char *whole = told_review(&garden, true);
	fill(&garden);
	for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++) {
		struct fault why = {0};
		sqlite3_stmt *statement = NULL;
		check_ok(sql_prepare(garden.store,
				 "UPDATE kept_flag SET flags = ?1 WHERE tree_id <> ''", &statement,
				 &why),
			&why);
		bind_text(statement, 1, bad[i]);
		check_int(sqlite3_step(statement), SQLITE_DONE, bad[i]);
		sqlite3_finalize(statement);
		check_text(told_review(&garden, true), whole, bad[i]);
	}
	garden_free(&garden);
}

static void only_what_bears_on_a_tree_makes_it_be_worked_out_anew(void **state)
{
	(void)state;
	static const struct {
		const char *line;
		int left; /* of two trees whose flags stay good */
	} cases[] = {
		{"A2 picked 1 kg @ 2026-07-27", 1},
		{"A2 sowed 3 seeds @ 2026-07-27", 0},
		{"A2 picked 1 kg @ 2025-07-27", 0}, /* before the first of the yard */
		{"frost -2 C @ 2026-07-27", 0},
		{"A2 died @ 2026-07-27", 0},
	};
	for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
		struct garden garden;
		struct fault why = {0};
		struct kept_touched touched;
		char since[ID_SIZE];
		told_two(&garden);
		check_ok(store_last_change(garden.store, since, &why), &why);
		garden_log(&garden, cases[i].line);
		check_ok(store_kept_touched(garden.store, since, garden.arena, &touched, &why),
			&why);
		int left = 0;
		left += !kept_is_touched(&touched, garden_find(&garden, "A1").id);
		left += strstr(cases[i].line, "died") == NULL &&
			!kept_is_touched(&touched, garden_find(&garden, "A2").id);
		check_int(left, cases[i].left, cases[i].line);
		garden_free(&garden);
	}
}

static void flags_are_written_for_the_real_day_of_a_log_that_may_be_written(void **state)
{
	(void)state;
	struct garden garden;
	struct fault why = {0};
	told_two(&garden);
	for (int i = 0; i < 3; i++) {
		struct session *session = NULL;
		const struct session_options options = {.path = garden.path,
			.almanac = "share/almanac",
			.clock = i == 0 ? clock_pinned(garden_day("2026-07-29")) : clock_system(),
			.read_only = i == 1};
		check_ok(session_open(&options, &session, &why), &why);
		session_keep_flags(session);
		check_int(session->keeper != NULL, i == 2, "may be written");
		session_close(session);
	}
	garden_free(&garden);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(what_is_kept_is_what_is_worked_out),
		cmocka_unit_test(a_review_reads_what_is_kept_until_an_entry_bears_on_it),
		cmocka_unit_test(what_is_damaged_is_worked_out_anew),
		cmocka_unit_test(only_what_bears_on_a_tree_makes_it_be_worked_out_anew),
		cmocka_unit_test(flags_are_written_for_the_real_day_of_a_log_that_may_be_written),
	};
	return cmocka_run_group_tests_name("kept flags", tests, NULL, NULL) != 0;
}
