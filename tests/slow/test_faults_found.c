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

enum {
	LOGS_USUAL = SANITIZED ? 26 : 52,
	YEAR = 2026,
	YEARS_MOVED = 3,
	TEXT_MAX = 3000,
	SCRIPT_SHARE = 20
};

/* --- a fault on a day of the right kind --- */

struct fault_day {
	const char *rule;
	const char *words; /* "of limit": of what the kind's share limit counts */
	bool (*fits)(const struct fault_day *fault, const struct dossier *dossier, struct date day);
	enum cut_kind cut;
};

enum { OF_CROP = 1U << REASON_FLOWERS | 1U << REASON_FRUIT };

static bool is_to_avoid(const struct fault_day *fault, const struct dossier *dossier,
	struct date day, unsigned reasons)
{
	return quiet_cut_is(dossier, fault->cut, day, VERDICT_AVOID, reasons);
}

static bool takes_flowers(
	const struct fault_day *fault, const struct dossier *dossier, struct date day)
{
	return is_to_avoid(fault, dossier, date_add_days(day, -1), OF_CROP) &&
	       is_to_avoid(fault, dossier, day, OF_CROP);
}

/* Past the years in which a tree is formed, and watered as it likes. */
static bool is_grown(const struct dossier *dossier)
{
	return dossier->age_low_years.known && dossier->age_low_years.value >= 4;
}

static bool is_clear(const struct fault_day *fault, const struct dossier *dossier, struct date day)
{
	return is_grown(dossier) && quiet_is_clear_around(dossier, fault->cut, day);
}

static bool is_wet(const struct fault_day *fault, const struct dossier *dossier, struct date day)
{
	return is_to_avoid(fault, dossier, day, 1U << REASON_DISEASE) &&
	       !is_to_avoid(fault, dossier, day, OF_CROP);
}

static bool is_to_avoid_feed(
	const struct fault_day *fault, const struct dossier *dossier, struct date day)
{
	(void)fault;
	return quiet_window_is_around(dossier, WINDOW_FEED_AVOID, day) &&
	       !quiet_is_good_for_feed(dossier, day);
}

static bool is_good_for_feed(
	const struct fault_day *fault, const struct dossier *dossier, struct date day)
{
	(void)fault;
	return quiet_is_good_for_feed(dossier, day);
}

static bool is_any_day(
	const struct fault_day *fault, const struct dossier *dossier, struct date day)
{
	(void)fault;
	(void)dossier;
	(void)day;
	return true;
}

static bool was_measured(
	const struct fault_day *fault, const struct dossier *dossier, struct date day)
{
	(void)fault;
	(void)day;
	return dossier->reading_count > 0;
}

static bool is_set_high(
	const struct fault_day *fault, const struct dossier *dossier, struct date day)
{
	const struct fact_row *deeper = species_fact(dossier->kind.species, "planting-depth");
	(void)fault;
	(void)day;
	return deeper == NULL || !deeper->low.known;
}

static bool has_tender_seeds(
	const struct fault_day *fault, const struct dossier *dossier, struct date day)
{
	(void)fault;
	(void)day;
	return species_fact(dossier->kind.species, "seed-keep-moist") != NULL;
}

static bool is_near_frost(
	const struct fault_day *fault, const struct dossier *dossier, struct date day)
{
	unsigned others = OF_CROP | 1U << REASON_DISEASE;
	return is_to_avoid(fault, dossier, day, 1U << REASON_FROST | 1U << REASON_REGROWTH) &&
	       !is_to_avoid(fault, dossier, day, others);
}

static bool has_blight_distance(
	const struct fault_day *fault, const struct dossier *dossier, struct date day)
{
	(void)fault;
	(void)day;
	return species_fact(dossier->kind.species, "blight-cut-below") != NULL;
}

/* A pot may want water every day, and a young tree. */
static bool is_in_the_ground(
	const struct fault_day *fault, const struct dossier *dossier, struct date day)
{
	(void)fault;
	(void)day;
	return is_grown(dossier) &&
	       (dossier->spot == NULL || dossier->spot->kind != SPOT_CONTAINER);
}

/* clang-format off */
static const struct fault_day FAULTS[] = {
	{ "flower-wood", "cut shape 20% of crown", takes_flowers, CUT_SHAPE },
	{ "flower-wood", "cut heading 20% of crown", takes_flowers, CUT_HEADING },
	{ "flower-wood", "cut thinning 20% of crown", takes_flowers, CUT_THINNING },
	{ "flower-wood", "cut height 20% of crown", takes_flowers, CUT_HEIGHT },
	{ "flower-wood", "cut renovation 20% of crown", takes_flowers, CUT_RENOVATION },
	{ "cut-in-wet-season", "cut shape 10% of crown", is_wet, CUT_SHAPE },
	{ "cut-in-wet-season", "cut thinning 10% of crown", is_wet, CUT_THINNING },
	{ "cut-too-much", "cut shape 95% of limit", is_clear, CUT_SHAPE },
	{ "feed-late", "fed 1 lb 10-10-10", is_to_avoid_feed, CUT_UNSAID },
	{ "feed-over", "fed 70 lb 10-10-10", is_good_for_feed, CUT_UNSAID },
	{ "entry-odd", "girth 5 cm", was_measured, CUT_UNSAID },
	{ "label-lost", "saw label gone", is_any_day, CUT_UNSAID },
	{ "planted-deep", "saw graft union buried", is_set_high, CUT_UNSAID },
	{ "seed-drying", "note took 5 seeds", has_tender_seeds, CUT_UNSAID },
	{ "water-daily", "watered 35 min daily", is_in_the_ground, CUT_UNSAID },
	{ "mulch-on-trunk", "saw mulch against the bark", is_any_day, CUT_UNSAID },
	{ "cut-near-frost", "cut shape 10% of crown", is_near_frost, CUT_SHAPE },
	{ "cut-near-frost", "cut heading 10% of crown", is_near_frost, CUT_HEADING },
	{ "blight-cut-short", "cut fire blight 1 in below", has_blight_distance, CUT_UNSAID },
	{ "suckers-standing", "saw suckers", is_any_day, CUT_UNSAID },
};
/* clang-format on */
enum { FAULT_COUNT = sizeof FAULTS / sizeof FAULTS[0], KINDS_MAX = 60 };

/* What became of a fault. */
struct found {
	int32_t put;            /* each of them found, or the test has failed */
	int32_t spoke;          /* logs passed over: the rule had something to say before */
	enum urgency highest;   /* it was told as */
	bool sides[2];          /* put in north, south of the equator */
	bool kinds[KINDS_MAX];  /* of trees */
	int32_t other_acts;     /* harm told beside it by other rules */
	const char *other_rule; /* the last of them */
};

/* What a test is about: one of the two. */
struct shared {
	struct almanac *almanac;
	const struct fault_day *day;
	const struct fault_script *script;
	struct found found;
};

static const char *rule_of(const struct shared *shared)
{
	return shared->day != NULL ? shared->day->rule : shared->script->rule;
}

static bool find_day(struct quiet *quiet, const struct fault_day *fault, struct date *day)
{
	quiet_set_today(quiet, date_of_month_day(YEAR, (struct month_day){1, 1}));
	const struct dossier *dossier = garden_story(&quiet->garden, "A1");
	for (int32_t i = 0; i < QUIET_TRIES; i++) {
		*day = quiet_day_of(quiet, YEAR);
		if (fault->fits(fault, dossier, *day))
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

static int32_t kind_number(const struct almanac *almanac, const struct species *species)
{
	int32_t number = 0;

	while (almanac_species_at(almanac, number) != species)
		number++;
	assert_true(number < KINDS_MAX);
	return number;
}

/* The fault is in: does its rule speak, how loud, and who else? */
static void see_found(struct quiet *quiet, const char *rule, const char *words, struct date day,
	struct found *found)
{
	struct flags flags = log_case_flags(&quiet->garden);

	if (log_case_find(&flags, rule) == NULL)
		fail_unseen(quiet, rule, words, day);
	for (int32_t i = 0; i < flags.count; i++) {
		const struct flag *flag = &flags.items[i];
		bool own = strcmp(flag->rule, rule) == 0;

		if (own && flag->urgency < found->highest)
			found->highest = flag->urgency;
		if (own || flag->urgency != URGENCY_ACT)
			continue;
		found->other_acts++;
		found->other_rule = flag->rule;
	}
	found->put++;
	found->sides[quiet->south] = true;
	found->kinds[kind_number(quiet->garden.almanac, quiet->species)] = true;
}

static void put_on_day(struct quiet *quiet, const struct fault_day *fault, struct found *found)
{
	struct quiet_event event;

	if (!find_day(quiet, fault, &event.day))
		return;
	quiet_set_today(quiet, event.day);
	/* what only asks for work is silent while the tree is to be left alone */
	bool rests = rule_find(fault->rule)->rests && rule_speaks(quiet, "leave-alone");
	if (rests || rule_speaks(quiet, fault->rule)) {
		found->spoke++;
		return;
	}
	say_words(quiet, fault, event.line, sizeof event.line);
	quiet_log(quiet, &event);
	see_found(quiet, fault->rule, event.line, event.day, found);
}

static void check_found(const struct found *found)
{
	assert_true(found->put > 0);
	assert_true(found->put > found->spoke);
}

static void a_fault_on_a_day_is_found(void **state)
{
	struct shared *shared = *state;
	struct quiet_wish wish = {.first_year = YEAR - 1, .almanac = shared->almanac};

	shared->found.highest = URGENCY_LEAVE;
	for (int32_t number = 0; number < quiet_logs_asked(LOGS_USUAL) / 2; number++) {
		struct quiet quiet;

		wish.number = number;
		quiet_begin(&quiet, &wish);
		quiet_live_year(&quiet, YEAR - 1);
		check_int(quiet.told.acts, 0, "harm before the fault");
		put_on_day(&quiet, shared->day, &shared->found);
		quiet_end(&quiet);
	}
	check_found(&shared->found);
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
	check_int(quiet.told.acts, 0, "harm before the fault");
	move_days(script->today, years, 0, quiet.south, today, sizeof today);
	quiet_set_today(&quiet, garden_day(today));
	if (rule_speaks(&quiet, script->rule)) {
		found->spoke++;
	} else {
		put_story(&quiet, script, years);
		see_found(
			&quiet, script->rule, script->lines, yard_today(quiet.garden.yard), found);
	}
	quiet_end(&quiet);
}

static void a_fault_of_a_story_is_found(void **state)
{
	struct shared *shared = *state;
	int32_t stories = quiet_logs_asked(LOGS_USUAL) / SCRIPT_SHARE * 2;

	shared->found.highest = URGENCY_LEAVE;
	for (int32_t number = 0; number < (stories < 8 ? 8 : stories); number++)
		tell_story(shared->script, shared->almanac, number, &shared->found);
	check_found(&shared->found);
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
static struct shared shared_by_test[TESTS_MAX];

static int32_t test_count(void)
{
	return FAULT_COUNT + fault_script_count();
}

/* All faults of a rule in one. */
static struct found found_of(const char *rule)
{
	struct found all = {.highest = URGENCY_LEAVE};

	for (int32_t i = 0; i < test_count(); i++) {
		const struct found *one = &shared_by_test[i].found;

		if (strcmp(rule_of(&shared_by_test[i]), rule) != 0)
			continue;
		all.put += one->put;
		all.spoke += one->spoke;
		all.highest = one->highest < all.highest ? one->highest : all.highest;
		all.other_acts += one->other_acts;
		all.other_rule = one->other_acts > 0 ? one->other_rule : all.other_rule;
		for (int side = 0; side < 2; side++)
			all.sides[side] = all.sides[side] || one->sides[side];
		for (int32_t kind = 0; kind < KINDS_MAX; kind++)
			all.kinds[kind] = all.kinds[kind] || one->kinds[kind];
	}
	return all;
}

static void print_found(const struct rule *rule, const struct found *found)
{
	int32_t kinds = 0;

	for (int32_t i = 0; i < KINDS_MAX; i++)
		kinds += found->kinds[i];
	print_message("   %-20s %5d put in and found, %2d kinds, as %s", rule->id, (int)found->put,
		(int)kinds, urgency_key(found->highest));
	if (found->spoke > 0)
		print_message("; %d logs passed over", (int)found->spoke);
	if (found->other_acts > 0)
		print_message(
			"; act beside it: %d (%s)", (int)found->other_acts, found->other_rule);
	print_message("\n");
}

/* Rules that may act, if only the almanac had a row for it that was read. */
static const char *const held_back[] = {
	"leave-alone",         /* its one row is second-hand */
	"cut-bares-or-bleeds", /* rows that say avoid are second-hand or memory */
};

static bool is_held_back(const char *rule)
{
	for (size_t i = 0; i < sizeof held_back / sizeof held_back[0]; i++)
		if (strcmp(held_back[i], rule) == 0)
			return true;
	return false;
}

/* On both sides of the equator, and at least once as loud as the rule may be. */
static void each_rule_was_as_loud_as_it_may_be(void **state)
{
	int32_t put = 0, rules = 0;

	(void)state;
	for (const struct rule *rule = rule_table(); rule->id != NULL; rule++) {
		struct found found = found_of(rule->id);

		print_found(rule, &found);
		put += found.put;
		rules++;
	}
	print_message("%d faults of %d rules put in, all found\n", (int)put, (int)rules);
	for (const struct rule *rule = rule_table(); rule->id != NULL; rule++) {
		struct found found = found_of(rule->id);

		check_int(found.sides[0] && found.sides[1], true, rule->id);
		if (!is_held_back(rule->id))
			check_text(urgency_key(found.highest), urgency_key(rule->max_urgency),
				rule->id);
	}
}

int main(void)
{
	static struct CMUnitTest tests[TESTS_MAX];
	const struct CMUnitTest all[] = {cmocka_unit_test(every_rule_has_a_fault_it_must_find)};
	const struct CMUnitTest last[] = {cmocka_unit_test(each_rule_was_as_loud_as_it_may_be)};
	const int32_t count = test_count();
	struct almanac *almanac = NULL;
	struct fault why = {0};

	if (count > TESTS_MAX || almanac_open("share/almanac", &almanac, &why) != STATUS_OK)
		return 1;
	for (int32_t i = 0; i < count; i++) {
		bool on_day = i < FAULT_COUNT;
		struct shared *shared = &shared_by_test[i];

		shared->almanac = almanac;
		shared->day = on_day ? &FAULTS[i] : NULL;
		shared->script = on_day ? NULL : &fault_scripts()[i - FAULT_COUNT];
		tests[i] = (struct CMUnitTest){.name = rule_of(shared),
			.test_func =
				on_day ? a_fault_on_a_day_is_found : a_fault_of_a_story_is_found,
			.initial_state = shared};
	}
	int failed = cmocka_run_group_tests_name("faults", all, NULL, NULL);
	failed += _cmocka_run_group_tests("faults in quiet logs", tests, (size_t)count, NULL, NULL);
	if (!SANITIZED) /* half as many logs are too few to be as loud */
		failed += cmocka_run_group_tests_name("what was found", last, NULL, NULL);
	almanac_close(almanac);
	return failed != 0;
}
