/* SPDX-License-Identifier: MIT */
/* One fault put into a random quiet log is found by the rule it belongs to, which was silent
 * before: faults of every rule of the table, on both sides of the equator, on days that the dice
 * move. What depends on the windows of a kind is placed by its dossier; what needs weather, habits
 * or years is a script. A rule without a fault here fails the test. */
#include "support/quiet.h"

#include <ctype.h>

#include "core/text.h"

#include "support/fault_scripts.h"
#include "support/sky_case.h"

enum { LOGS_USUAL = 52, YEAR = 2026, YEARS_MOVED = 3, TEXT_MAX = 3000, SCRIPT_SHARE = 20 };

/* --- a fault on a day of the right kind --- */

static bool takes_flowers(const struct dossier *dossier, struct date day)
{
	unsigned reasons = 1U << REASON_FLOWERS | 1U << REASON_FRUIT;
	return quiet_cut_is(dossier, date_add_days(day, -1), VERDICT_AVOID, reasons) &&
	       quiet_cut_is(dossier, day, VERDICT_AVOID, reasons);
}

static bool is_wet(const struct dossier *dossier, struct date day)
{
	return quiet_cut_is(dossier, day, VERDICT_AVOID, 1U << REASON_DISEASE) &&
	       !takes_flowers(dossier, day) &&
	       !quiet_cut_is(
		       dossier, day, VERDICT_AVOID, 1U << REASON_FLOWERS | 1U << REASON_FRUIT);
}

static bool is_to_avoid_feed(const struct dossier *dossier, struct date day)
{
	return quiet_window_is_around(dossier, WINDOW_FEED_AVOID, day) &&
	       !quiet_is_good_for_feed(dossier, day);
}

static bool is_any_day(const struct dossier *dossier, struct date day)
{
	(void)dossier;
	(void)day;
	return true;
}

static bool is_set_high(const struct dossier *dossier, struct date day)
{
	const struct fact_row *deeper = species_fact(dossier->kind.species, "planting-depth");
	(void)day;
	return deeper == NULL || !deeper->low.known;
}

static bool has_tender_seeds(const struct dossier *dossier, struct date day)
{
	(void)day;
	return species_fact(dossier->kind.species, "seed-keep-moist") != NULL;
}

static bool is_near_frost(const struct dossier *dossier, struct date day)
{
	unsigned others = 1U << REASON_FLOWERS | 1U << REASON_FRUIT | 1U << REASON_DISEASE;
	return quiet_cut_is(
		       dossier, day, VERDICT_AVOID, 1U << REASON_FROST | 1U << REASON_REGROWTH) &&
	       !quiet_cut_is(dossier, day, VERDICT_AVOID, others);
}

static bool has_blight_distance(const struct dossier *dossier, struct date day)
{
	(void)day;
	return species_fact(dossier->kind.species, "blight-cut-below") != NULL;
}

/* A pot may want water every day. */
static bool is_in_the_ground(const struct dossier *dossier, struct date day)
{
	(void)day;
	return dossier->spot == NULL || dossier->spot->kind != SPOT_CONTAINER;
}

struct fault_day {
	const char *rule;
	const char *words; /* "of limit": of what the kind's share limit counts */
	bool (*fits)(const struct dossier *dossier, struct date day);
};

/* clang-format off */
static const struct fault_day FAULTS[] = {
	{ "flower-wood", "cut shape 20% of crown", takes_flowers },
	{ "cut-in-wet-season", "cut shape 10% of crown", is_wet },
	{ "cut-too-much", "cut shape 95% of limit", quiet_is_clear_around },
	{ "feed-late", "fed 1 lb 10-10-10", is_to_avoid_feed },
	{ "feed-over", "fed 70 lb 10-10-10", quiet_is_good_for_feed },
	{ "entry-odd", "girth 40 cm", is_any_day },
	{ "label-lost", "saw label gone", is_any_day },
	{ "planted-deep", "saw graft union buried", is_set_high },
	{ "seed-drying", "note took 5 seeds", has_tender_seeds },
	{ "water-daily", "watered 35 min daily", is_in_the_ground },
	{ "mulch-on-trunk", "saw mulch against the bark", is_any_day },
	{ "cut-near-frost", "cut shape 10% of crown", is_near_frost },
	{ "blight-cut-short", "cut fire blight 1 in below", has_blight_distance },
	{ "suckers-standing", "saw suckers", is_any_day },
};
/* clang-format on */
/* What a test is about: one of the two. */
struct shared {
	struct almanac *almanac;
	const struct fault_day *day;
	const struct fault_script *script;
};
enum { FAULT_COUNT = sizeof FAULTS / sizeof FAULTS[0] };

static bool find_day(struct quiet *quiet, const struct fault_day *fault, struct date *day)
{
	quiet_set_today(quiet, date_of_month_day(YEAR, (struct month_day){1, 1}));
	const struct dossier *dossier = garden_story(&quiet->garden, "A1");
	for (int32_t i = 0; i < QUIET_TRIES; i++) {
		*day = quiet_day_of(quiet, YEAR);
		if (fault->fits(dossier, *day))
			return true;
	}
	return false;
}

static bool rule_speaks(struct quiet *quiet, const char *rule)
{
	struct flags flags = log_case_flags(&quiet->garden);
	return log_case_find(&flags, rule) != NULL;
}

static void fail_unseen(
	const struct quiet *quiet, const char *rule, const char *words, struct date day)
{
	char iso[DATE_SIZE], name[120];

	print_error("%s: \"%s\" on %s is not seen by %s %s\n", quiet_name(quiet, name, sizeof name),
		words, date_format(day, iso), rule, dice_remark());
	fail();
}

static void say_words(
	const struct quiet *quiet, const struct fault_day *fault, char *out, size_t size)
{
	static const char limit[] = "limit";
	int length = (int)strlen(fault->words);
	bool of_limit = strstr(fault->words, limit) != NULL;
	if (of_limit)
		length -= (int)strlen(limit);
	snprintf(out, size, "A1 %.*s%s", length, fault->words,
		!of_limit                         ? ""
		: quiet->species->limit_is_shoots ? "shoots"
						  : "crown");
}

/* What became of the faults of a rule. */
struct found {
	int32_t put;
	int32_t spoke; /* logs passed over: the rule had something to say before */
};

static void put_on_day(struct quiet *quiet, const struct fault_day *fault, struct found *found)
{
	struct quiet_event event;

	if (!find_day(quiet, fault, &event.day))
		return;
	quiet_set_today(quiet, event.day);
	if (rule_speaks(quiet, fault->rule)) {
		found->spoke++;
		return;
	}
	say_words(quiet, fault, event.line, sizeof event.line);
	quiet_log(quiet, &event);
	if (!rule_speaks(quiet, fault->rule))
		fail_unseen(quiet, fault->rule, event.line, event.day);
	found->put++;
}

static void print_found(const char *rule, const struct found *found)
{
	print_message("%s: %d put in, all found", rule, (int)found->put);
	if (found->spoke > 0)
		print_message("; %d logs passed over", (int)found->spoke);
	print_message("\n");
	assert_true(found->put > 0);
	assert_true(found->put > found->spoke);
}

static void a_fault_on_a_day_is_found(void **state)
{
	const struct shared *shared = *state;
	struct found found = {.put = 0};
	struct quiet_wish wish = {.first_year = YEAR - 1, .almanac = shared->almanac};

	for (int32_t number = 0; number < quiet_logs_asked(LOGS_USUAL) / 2; number++) {
		struct quiet quiet;

		wish.number = number;
		quiet_begin(&quiet, &wish);
		quiet_live_year(&quiet, YEAR - 1);
		put_on_day(&quiet, shared->day, &found);
		quiet_end(&quiet);
	}
	print_found(shared->day->rule, &found);
}

/* --- a fault that is a story --- */

static bool is_iso(const char *text)
{
	for (int i = 0; i < 10; i++)
		if (i == 4 || i == 7 ? text[i] != '-' : !isdigit((unsigned char)text[i]))
			return false;
	return true;
}

/* Each ISO day moved by years and days, then half a year in the south. */
static const char *move_days(
	const char *text, int32_t years, int32_t days, bool south, char *out, size_t size)
{
	char moved[TEXT_MAX], iso[DATE_SIZE];
	struct text_builder words = text_builder_fixed(moved, sizeof moved);

	text_add(&words, "");
	while (*text != '\0') {
		if (is_iso(text)) {
			int year = (int)strtol(text, NULL, 10);
			struct month_day on = {(int8_t)strtol(text + 5, NULL, 10),
				(int8_t)strtol(text + 8, NULL, 10)};
			struct date day = date_of_month_day(year + years, on);
			text_add(&words, date_format(date_add_days(day, days), iso));
			text += 10;
		} else {
			text_add_n(&words, text++, 1);
		}
	}
	assert_false(words.cut);
	return log_case_turn(moved, south, out, size);
}

/* The year before the first that a story tells of. */
static int32_t year_before(const struct fault_script *script)
{
	const char *texts[] = {script->lines, script->trees, script->weather, script->today};
	int32_t first = YEAR;

	for (size_t i = 0; i < sizeof texts / sizeof texts[0]; i++)
		for (const char *at = texts[i]; at != NULL && *at != '\0'; at++)
			if (is_iso(at) && strtol(at, NULL, 10) < first)
				first = (int32_t)strtol(at, NULL, 10);
	return first - 1;
}

/* One of the kinds named, by the dice. */
static const char *kind_of(
	const struct fault_script *script, int32_t number, char *out, size_t size)
{
	int32_t count = 1, wanted;
	const char *at = script->kinds;

	if (at == NULL)
		return NULL;
	for (const char *bar = at; *bar != '\0'; bar++)
		count += *bar == '|';
	for (wanted = number / 2 % count; wanted > 0; wanted--)
		at = strchr(at, '|') + 1;
	snprintf(out, size, "%.*s", (int)strcspn(at, "|"), at);
	return out;
}

/* "A2 apple 2024-01-01": label, kind ("K" that of the log, "-" unknown), planted, and "plot" where
 * it stands where A1 does. */
static void add_trees(struct quiet *quiet, char *trees)
{
	char *rest = NULL;

	for (char *tree = strtok_r(trees, ";", &rest); tree != NULL;
		tree = strtok_r(NULL, ";", &rest)) {
		char label[20], kind[40], planted[20], spot[20] = "";

		if (sscanf(tree, " %19s %39s %19s %19s", label, kind, planted, spot) < 3)
			fail_msg("no tree: %s", tree);
		garden_tree(&quiet->garden, label,
			strcmp(kind, "K") == 0   ? quiet->species->key
			: strcmp(kind, "-") == 0 ? ""
						 : kind,
			planted, spot);
	}
}

static void put_story(struct quiet *quiet, const struct fault_script *script, int32_t years)
{
	char text[TEXT_MAX];
	char *rest = NULL;
	int32_t days = (int32_t)dice_between(&quiet->dice, -script->days, script->days);

	move_days(script->today, years, days, quiet->south, text, sizeof text);
	quiet_set_today(quiet, garden_day(text));
	if (script->trees != NULL) {
		move_days(script->trees, years, days, quiet->south, text, sizeof text);
		add_trees(quiet, text);
	}
	if (script->cultivar != NULL)
		garden_identify(&quiet->garden, "A2", "", script->cultivar, "");
	if (script->weather != NULL) {
		/* turned for the south by the one who stores it */
		move_days(script->weather, years, days, false, text, sizeof text);
		sky_case_weather(&quiet->garden, text, quiet->south);
		garden_look(&quiet->garden);
	}
	move_days(script->lines, years, days, quiet->south, text, sizeof text);
	for (char *line = strtok_r(text, "|", &rest); line != NULL;
		line = strtok_r(NULL, "|", &rest))
		garden_log(&quiet->garden, line);
}

static void tell_story(const struct fault_script *script, struct almanac *almanac, int32_t number,
	struct found *found)
{
	struct quiet quiet;
	char kind[40], today[40];
	struct quiet_wish wish = {.number = number,
		.kind = kind_of(script, number, kind, sizeof kind),
		.places = script->places,
		.spot = script->spot,
		.plain = true,
		.almanac = almanac};
	int32_t years = number / 2 % (YEARS_MOVED + 1);

	wish.first_year = year_before(script) + years;
	quiet_begin(&quiet, &wish);
	quiet_live_year(&quiet, wish.first_year);
	move_days(script->today, years, 0, quiet.south, today, sizeof today);
	quiet_set_today(&quiet, garden_day(today));
	if (rule_speaks(&quiet, script->rule)) {
		found->spoke++;
	} else {
		put_story(&quiet, script, years);
		if (!rule_speaks(&quiet, script->rule))
			fail_unseen(
				&quiet, script->rule, script->lines, yard_today(quiet.garden.yard));
		found->put++;
	}
	quiet_end(&quiet);
}

static void a_fault_of_a_story_is_found(void **state)
{
	const struct shared *shared = *state;
	struct found found = {.put = 0};
	int32_t stories = quiet_logs_asked(LOGS_USUAL) / SCRIPT_SHARE * 2;

	for (int32_t number = 0; number < (stories < 8 ? 8 : stories); number++)
		tell_story(shared->script, shared->almanac, number, &found);
	print_found(shared->script->rule, &found);
}

/* --- all rules --- */

static bool has_fault(const char *rule)
{
	for (int i = 0; i < FAULT_COUNT; i++)
		if (strcmp(FAULTS[i].rule, rule) == 0)
			return true;
	for (int32_t i = 0; i < fault_script_count(); i++)
		if (strcmp(fault_scripts()[i].rule, rule) == 0)
			return true;
	return false;
}

static void every_rule_has_a_fault_it_must_find(void **state)
{
	int32_t without = 0;

	(void)state;
	for (const struct rule *rule = rule_table(); rule->id != NULL; rule++) {
		if (has_fault(rule->id))
			continue;
		print_error("no fault is put into a quiet log for %s\n", rule->id);
		without++;
	}
	check_int(without, 0, "rules without a fault");
	for (int i = 0; i < FAULT_COUNT; i++)
		assert_non_null(rule_find(FAULTS[i].rule));
	for (int32_t i = 0; i < fault_script_count(); i++)
		assert_non_null(rule_find(fault_scripts()[i].rule));
}

enum { TESTS_MAX = 160 };

int main(void)
{
	static struct shared shared[TESTS_MAX];
	static struct CMUnitTest tests[TESTS_MAX];
	const struct CMUnitTest all[] = {cmocka_unit_test(every_rule_has_a_fault_it_must_find)};
	const int32_t count = FAULT_COUNT + fault_script_count();
	struct almanac *almanac = NULL;
	struct fault why = {0};

	if (count > TESTS_MAX || almanac_open("share/almanac", &almanac, &why) != STATUS_OK)
		return 1;
	for (int32_t i = 0; i < count; i++) {
		bool on_day = i < FAULT_COUNT;

		shared[i].almanac = almanac;
		shared[i].day = on_day ? &FAULTS[i] : NULL;
		shared[i].script = on_day ? NULL : &fault_scripts()[i - FAULT_COUNT];
		tests[i] = (struct CMUnitTest){
			.name = on_day ? FAULTS[i].rule : shared[i].script->rule,
			.test_func =
				on_day ? a_fault_on_a_day_is_found : a_fault_of_a_story_is_found,
			.initial_state = &shared[i]};
	}
	int failed = cmocka_run_group_tests_name("faults", all, NULL, NULL);
	failed += _cmocka_run_group_tests("faults in quiet logs", tests, (size_t)count, NULL, NULL);
	almanac_close(almanac);
	return failed != 0;
}
