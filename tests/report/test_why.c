/* SPDX-License-Identifier: MIT */
/* Why: for every rule of the table a log in which it speaks. Its flag carries a source, the entries
 * it stands on by day and words, the window it used and whose it is, the arithmetic where it tells
 * a figure; the review prints them all, as text and for machines. */
#include "support/fault_scripts.h"
#include "support/sky_case.h"
#include "support/told.h"

#include "report/rows.h"
#include "rules/rule.h"

/* A rule, its log (lines NULL: the stories of it in the fault scripts), and what its evidence
 * holds beside its entries and its window, in one of them at least. */
struct why_case {
	const char *rule;
	struct fault_script log;
	const char *has[4];
};

#define LOG(kind_, lines_, today_)                                     \
	{                                                              \
		.kinds = (kind_), .lines = (lines_), .today = (today_) \
	}

/* clang-format off */
static const struct why_case cases[] = {
	{ "flower-wood", LOG("loquat", "A1 picked 5 kg, last @ 2025-05-20|A1 picked 8 kg, last @ 2026-05-20|A1 cut shape 20% of crown @ 2026-10-05 ; the low limb", "2026-10-06"),
	  {"the cut as logged, 5 October 2026: A1 cut shape 20% of crown ; the low limb", "almanac, loquat, to avoid 1 October to 31 December 2026: ", "at risk = share of the crown 0.20 to 0.20 x loss", "E, what the tree gives: 14 lb"} },
	{ "cut-in-wet-season", LOG("apricot", "A1 cut shape 10% of crown @ 2026-12-05", "2026-12-06"), {"almanac, apricot, to avoid 1 October 2026 to 31 March 2027: Eutypa"} },
	{ "cut-too-much", LOG("apple", "A1 cut shape 30% of crown @ 2026-01-05|A1 cut shape 30% of crown @ 2026-02-01", "2026-02-02"), {"1 - (1 - 0.30) x (1 - 0.30) = 0.51, held against 0.25"} },
	{ "shape-cut-due", {0}, {"as logged, 5 February 2026: A1 cut shape", "as logged, 5 February 2025: A1 cut shape"} },
	{ "feed-due", {0}, {"as logged, 1 March 2026: A1 fed 1 lb 10-10-10", "no feed logged since 1 February 2027"} },
	{ "feed-over", LOG("apple", "A1 fed 70 lb 10-10-10 @ 2026-03-10", "2026-03-12"), {"given: 7 lb of actual N in 1 feed", "a year of age, 14 years: 1 lb 13 oz a year of actual N (Louisiana;", "to go by one of them here: own choice feed-over"} },
	{ "feed-late", LOG("orange", "A1 fed 1 lb 21-0-0 @ 2026-10-10", "2026-10-12"), {"the feed as logged, 10 October 2026: A1 fed 1 lb 21-0-0", "no feeding: 1 September to 30 November 2026, by the almanac"} },
	{ "girth-stale", {0}, {"as logged, 1 October 2024: A1 girth 64 cm", "good for feeding: 15 February to 15 April 2027, by the almanac", "after 730 days, in the 60 before"} },
	{ "girth-or-diameter", {0}, {"as logged, 1 May 2026: A1 trunk 90 cm", "over 40 + 25 x age (14 years)"} },
	{ "pick-soon", {0}, {"your first picks: 20 June 2024, 20 June 2025", "+0 days to the almanac"} },
	{ "pick-unlogged", {0}, {"harvest: 20-30 June 2026, by your picks, 2 seasons", "your first picks: 20 June 2024, 20 June 2025"} },
	{ "spray-interval", {0}, {"the pick as logged, 10 May 2026", "the spray as logged, 1 May 2026", "the day of the spray and 21 days = 22 May 2026"} },
	{ "plan-due", {0}, {"as planned, 10 June 2026: A1 plan fed 1 lb 10-10-10"} },
	{ "leave-alone", {0}, {"as logged, 1 May 2026: A1 leave until 2027-10-05"} },
	{ "facts-missing", {0}, {NULL} },
	{ "frosted-wait", {0}, {"as logged, 15 January 2027: A1 saw frost damage"} },
	{ "cut-near-frost", LOG("lemon", "A1 cut shape 10% of crown @ 2026-10-10", "2026-10-12"), {"almanac, lemon, to avoid 1 September to 30 November 2026: "} },
	{ "cut-bares-or-bleeds", {0}, {"almanac, lemon, allowed 1 June to 31 August 2026: "} },
	{ "cut-on-bad-day", {0}, {"the weather as logged, 10 February 2027: storm"} },
	{ "blight-cut-short", LOG("loquat", "A1 cut sanitation 7 in below fire blight @ 2026-06-10", "2026-06-12"), {"12 to 18 in (Florida): ", "own choice blight-cut-short "} },
	{ "renovation-pace", {0}, {"the cut as logged, 20 January 2027: A1 cut renovation 1 of 3", "held against it: 2 years at least"} },
	{ "height-pace", {0}, {"the height before as logged, 15 January 2027: A1 height 24 ft", "the height after as logged, 1 February 2027"} },
	{ "suckers-standing", LOG("apple", "A1 saw suckers @ 2026-06-10", "2026-06-12"), {"as logged, 10 June 2026: A1 saw suckers"} },
	{ "feed-after-hard-cut", {0}, {"the feed as logged, 10 March 2027", "the cut as logged, 10 February 2027"} },
	{ "thin-due", {0}, {"as logged, 3 May 2025: A1 thinned 40 fruit", "as logged, 2 May 2024: A1 thinned 60 fruit"} },
	{ "alternate-on", {0}, {"2022 26 lb, 2023 150 lb, 2024 22 lb, 2025 140 lb, 2026 24 lb", "the mean of |a - b| / (a + b)"} },
	{ "alternate-off", {0}, {"2022 26 lb, 2023 150 lb, 2024 22 lb, 2025 140 lb"} },
	{ "overbearing", {0}, {"as logged, 20 May 2026: A1 saw heavy set"} },
	{ "bloom-missing", {0}, {"as logged, 10 March 2025: A1 bloom", "bloom: 10 March to 24 April 2026, by your bloom, 2 seasons"} },
	{ "late-to-bear", {0}, {"years to the first crop: 3 to 5", "it is 8 at least"} },
	{ "yield-low", {0}, {"crops, by your picks: 2022 44 lb, 2023 53 lb, 2024 49 lb, 2025 4.4 lb"} },
	{ "manure-interval", {0}, {"the pick as logged, 20 August 2026", "the wait: 1 June 2026 + 90 days = 30 August 2026"} },
	{ "frost-in-bloom", {0}, {"the stage as logged, 20 March 2026: A1 full bloom", "one in ten dies at 27 F, nine in ten at 24 F", "minimum 25 F, of the station"} },
	{ "heat-scorch", {0}, {"almanac, limit 100 F: ", "maximum 103 F, of the station"} },
	{ "chill-short", {0}, {"0 + 17 days x 0.85 = 14, where 30 are wanted", "103 of 103 days"} },
	{ "water-short", {0}, {"as logged, 10 June 2026: A1 watered 20 gal", "of which 2.3 in before it is short", "4.7 in in 30 days of stored weather"} },
	{ "water-daily", LOG(NULL, "A1 watered 35 min daily @ 2026-05-10", "2026-05-12"), {"the watering as logged, 10 May 2026"} },
	{ "water-first-summer", {0}, {"until the weeks when growth hardens, by the almanac: 20 June to "} },
	{ "spray-in-bloom", {0}, {"the spray as logged, 26 April 2026: A1 sprayed insecticide", "the bloom as logged, 25 April 2026: A1 full bloom"} },
	{ "name-by-harvest", {0}, {"as logged, 10 July 2026: A2 picked 2 kg", "counted back from the end of the kind's harvest"} },
	{ "mulch-due", {0}, {"as logged, 16 May 2025: A1 mulched 3 in wood chip", "the middle of those days on, for 45 days: 10 May to 24 June 2026"} },
	{ "mulch-on-trunk", LOG(NULL, "A1 saw mulch against the bark @ 2026-05-10", "2026-05-12"), {"as logged, 10 May 2026"} },
	{ "entry-odd", LOG(NULL, "A1 girth 64 cm @ 2025-03-10|A1 girth 40 cm @ 2026-03-10", "2026-03-12"), {"as logged, 10 March 2026: A1 girth 40 cm", "the earlier one as logged, 10 March 2025", "thinner by more than a twentieth"} },
	{ "graft-check", {0}, {"as logged, 3 April 2026: A1 grafted Champagne", "4 to 8 weeks after grafting, by the almanac: 1-29 May 2026"} },
	{ "seed-drying", LOG("loquat", "A1 note took 5 seeds @ 2026-05-10", "2026-05-12"), {"told for 30 days", "10 May to 9 June 2026"} },
	{ "pot-small", {0}, {"as logged, 10 June 2024: A1 potted up 5 gal", "under four fifths"} },
	{ "pot-up-due", {0}, {"as logged, 10 May 2026: A1 saw roots circling"} },
	{ "planted-deep", LOG(NULL, "A1 saw graft union buried @ 2026-03-10", "2026-03-12"), {"as logged, 10 March 2026"} },
	{ "too-close", {0}, {"less than 3 years ago"} },
	{ "feed-young-hole", {0}, {"as logged, 20 May 2026: A2 fed 1 lb 10-10-10 in the planting hole"} },
	{ "feed-unknown-amount", {0}, {"as logged, 1 July 2026: A1 fed lawn food"} },
	{ "old-orchard-soil", {0}, {"as logged, 1 June 2026: A2 note this was an old orchard"} },
	{ "label-lost", LOG(NULL, "A1 saw label gone @ 2026-03-10", "2026-03-12"), {"as logged, 10 March 2026: A1 saw label gone"} },
	{ "doubt-in-name", {0}, {"as you named it: European plum or Japanese plum"} },
	{ "scout-due", {0}, {"as logged, 10 May 2025: A1 saw apple scab light", "its months here, by the almanac: 1 March to 30 June 2026"} },
	{ "sanitation-due", {0}, {"as logged, 20 July 2025: A1 saw brown rot", "its months here, by the almanac: "} },
	{ "quarantine-check", {0}, {"as logged, 10 June 2026: A1 saw citrus greening"} },
	{ "no-partner", {0}, {"alone: no, by the row of the cultivar"} },
};
/* clang-format on */
enum { CASES = sizeof cases / sizeof cases[0], TEXT_MAX = 4000 };

/* --- its log --- */

static enum log_place first_place(const struct fault_script *script)
{
	unsigned place = 0;

	while (script->places != 0 && (script->places & (1U << place)) == 0)
		place++;
	return (enum log_place)place;
}

/* The trees that come along: label, kind ("K" that of A1), planted, a spot where one is said. */
static void plant_others(struct garden *garden, const char *trees, const char *kind)
{
	char text[TEXT_MAX];
	char *rest = NULL;

	snprintf(text, sizeof text, "%s", trees);
	for (char *tree = strtok_r(text, ";", &rest); tree != NULL;
		tree = strtok_r(NULL, ";", &rest)) {
		char label[20], own[40], planted[20], spot[20] = "";

		if (sscanf(tree, " %19s %39s %19s %19s", label, own, planted, spot) < 3)
			fail_msg("no tree: %s", tree);
		garden_tree(garden, label,
			strcmp(own, "K") == 0   ? kind
			: strcmp(own, "-") == 0 ? ""
						: own,
			planted, spot);
	}
}

static void make(struct garden *garden, const struct fault_script *script)
{
	char kind[40] = "apple", text[TEXT_MAX];
	char *rest = NULL;

	if (script->kinds != NULL)
		snprintf(
			kind, sizeof kind, "%.*s", (int)strcspn(script->kinds, "|"), script->kinds);
	const struct sky_case sky = {.place = first_place(script),
		.kind = kind,
		.planted = "2012-01-01",
		.spot = script->spot != NULL ? script->spot : "",
		.weather = script->weather != NULL ? script->weather : "",
		.lines = "",
		.today = script->today};
	sky_case_make(garden, &sky, false);
	if (script->trees != NULL)
		plant_others(garden, script->trees, kind);
	if (script->cultivar != NULL)
		garden_identify(garden, "A2", "", script->cultivar, "");
	snprintf(text, sizeof text, "%s", script->lines);
	for (char *line = strtok_r(text, "|", &rest); line != NULL;
		line = strtok_r(NULL, "|", &rest))
		garden_log(garden, line);
}

/* --- what it must carry --- */

/* The first of what is wanted that its evidence lacks; "" nothing. */
static const char *lacks(const struct why_case *one, const struct flag *flag)
{
	for (size_t i = 0; i < 4 && one->has[i] != NULL; i++)
		if (!log_case_proves(flag, one->has[i]))
			return one->has[i];
	return "";
}

/* As JSON writes it. */
static const char *quoted(const char *text, char *out, size_t size)
{
	struct text_builder words = text_builder_fixed(out, size);

	text_add(&words, "");
	for (; *text != '\0'; text++)
		text_add_format(&words, *text == '"' || *text == '\\' ? "\\%c" : "%c", *text);
	return out;
}

static const char *review_as(struct garden *garden, enum format format)
{
	struct fault why = {0};
	struct review review = {.count = 0};
	const struct review_options options = {.all = true};
	struct told_page page;

	told_page_open(&page, garden);
	page.printer.format = format;
	check_ok(review_make(garden->yard, &options, garden->arena, &review, &why), &why);
	check_ok(print_review(&page.printer, &review, garden->yard, true, &why), &why);
	return told_page_close(&page, garden);
}

static void check_printed(struct garden *garden, const struct flag *flag)
{
	const char *source = source_title(garden->almanac, flag->source);
	const char *text = review_as(garden, FORMAT_TEXT);
	const char *json = review_as(garden, FORMAT_JSON);
	char words[2 * FLAG_SAYS_SIZE];

	check_has(text, source, flag->rule);
	check_has(json, quoted(source, words, sizeof words), flag->rule);
	for (int32_t i = 0; i < flag->evidence_count; i++) {
		check_has(text, flag->evidence[i], flag->rule);
		check_has(json, quoted(flag->evidence[i], words, sizeof words), flag->rule);
	}
	if (flag->window_from.known && flag->window_to.known)
		check_has(text, flag->basis, flag->rule);
}

/* What its flag of this log lacks. */
static const char *says_why(const struct why_case *one, const struct fault_script *script)
{
	struct garden garden;

	make(&garden, script);
	struct flags flags = log_case_flags(&garden);
	const struct flag *flag = log_case_find(&flags, one->rule);
	if (flag == NULL)
		fail_msg("%s does not speak", one->rule);
	log_case_check_why(&garden, flag);
	/* a question about what is not known stands on nothing that was logged */
	check_int(flag->evidence_count > 0, strcmp(one->rule, "facts-missing") != 0, one->rule);
	check_printed(&garden, flag);
	const char *missing = lacks(one, flag);
	garden_free(&garden);
	return missing;
}

/* In its own log, or in each story of it that there is; what is wanted stands in one of them. */
static void a_rule_says_why(void **state)
{
	const struct why_case *one = *state;
	const char *missing = one->log.lines != NULL ? says_why(one, &one->log) : "no story";

	for (int32_t i = 0; one->log.lines == NULL && i < fault_script_count(); i++)
		if (strcmp(fault_scripts()[i].rule, one->rule) == 0) {
			const char *here = says_why(one, &fault_scripts()[i]);

			missing = missing[0] == '\0' ? missing : here;
		}
	check_text(missing, "", one->rule);
}

static void every_rule_has_a_log_in_which_it_says_why(void **state)
{
	(void)state;
	for (const struct rule *rule = rule_table(); rule->id != NULL; rule++) {
		int32_t found = 0;

		for (int i = 0; i < CASES; i++)
			found += strcmp(cases[i].rule, rule->id) == 0;
		check_int(found, 1, rule->id);
	}
}

int main(void)
{
	struct CMUnitTest tests[CASES + 1] = {
		cmocka_unit_test(every_rule_has_a_log_in_which_it_says_why)};

	for (size_t i = 0; i < CASES; i++)
		tests[1 + i] = (struct CMUnitTest){.name = cases[i].rule,
			.test_func = a_rule_says_why,
			.initial_state = (void *)(uintptr_t)&cases[i]};
	int failed = cmocka_run_group_tests(tests, NULL, NULL);
	return failed != 0;
}
