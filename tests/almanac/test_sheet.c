/* SPDX-License-Identifier: MIT */
/* Reading the tables: each way one can be broken, and the digest of all. */
#include "almanac/almanac.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "support/scratch.h"
#include "support/table.h"
#include "support/test.h"

static const char *const TABLES[] = {"sources.csv", "species.csv", "names.csv", "cuts.csv",
	"windows.csv", "feeding.csv", "facts.csv", "stages.csv", "cultivars.csv", "pollination.csv",
	"pollen.csv", "pests.csv", "degree_days.csv", "work.csv"};
enum { TABLE_TOTAL = sizeof TABLES / sizeof TABLES[0] };

static struct almanac *open_shipped(void)
{
	struct almanac *almanac = NULL;
	struct fault why;
	check_ok(almanac_open("share/almanac", &almanac, &why), &why);
	return almanac;
}

/* --- broken tables --- */

/* Text of a shipped table is changed once (the first place) and the almanac opened. */
struct broken {
	const char *name;
	const char *table;
	const char *from;
	const char *to;
	enum status status;
	const char *says;
};

static void write_changed(const struct scratch *scratch, const char *table, const char *text,
	const struct broken *broken)
{
	char path[SCRATCH_PATH_SIZE];
	scratch_path(scratch, table, path);
	if (strcmp(table, broken->table) != 0) {
		file_write(path, text, strlen(text));
		return;
	}
	const char *place = strstr(text, broken->from);
	assert_non_null(place);
	size_t size = strlen(text) + strlen(broken->to) + 1;
	char *changed = malloc(size);
	snprintf(changed, size, "%.*s%s%s", (int)(place - text), text, broken->to,
		place + strlen(broken->from));
	file_write(path, changed, strlen(changed));
	free(changed);
}

static struct scratch almanac_broken(const struct broken *broken)
{
	struct scratch scratch = scratch_make();
	for (int i = 0; i < TABLE_TOTAL; i++) {
		char path[SCRATCH_PATH_SIZE];
		snprintf(path, sizeof path, "share/almanac/%s", TABLES[i]);
		char *text = file_read(path, NULL);
		write_changed(&scratch, TABLES[i], text, broken);
		free(text);
	}
	return scratch;
}

static void refuses(const void *one)
{
	const struct broken *broken = one;
	struct scratch scratch = almanac_broken(broken);
	struct almanac *almanac = NULL;
	struct fault why;
	enum status status = almanac_open(scratch.folder, &almanac, &why);
	check_refused(status, broken->status, &why, broken->says);
	assert_null(almanac);
	scratch_remove(&scratch);
}

#define APPLE_LEAF ",pome,deciduous,"
#define FIRST_CUT "loquat,,,thinning,06-16,harvest,07-15,calendar,clear,none,all,,,"
#define FIRST_WINDOW "loquat,,flower-wood,07-16,09-30,calendar,no,"
#define PER_INCH ",pound-per-inch,,product,,1,lb,inch,unstated,"
/* clang-format off */
static const struct broken BROKEN[] = {
	{"refuses_a_cultivar_of_an_unknown_kind", "cultivars.csv", "loquat,Advance,", "quokka,Advance,",
		STATUS_SYNTAX, "cultivars.csv line 2 column 1 (species): \"quokka\" is neither"},
	{"refuses_a_cultivar_without_name", "cultivars.csv", "loquat,Advance,", "loquat,,",
		STATUS_SYNTAX, "cultivars.csv line 2 column 2 (cultivar): may not be blank"},
	{"refuses_a_cultivar_twice", "cultivars.csv", "loquat,Champagne,", "loquat,ad-vance,",
		STATUS_SYNTAX, "cultivars.csv line 3 column 2 (cultivar): \"ad-vance\" names another"},
	{"refuses_an_alias_of_another", "cultivars.csv", "loquat,Thales,Placentia,", "loquat,Thales,Advance,",
		STATUS_SYNTAX, "cultivars.csv line 4 column 3 (aliases): \"Advance\" names another"},
	{"refuses_kinds_that_stand_apart", "cultivars.csv", "loquat,Champagne,", "apple,Champagne,",
		STATUS_SYNTAX, "cultivars.csv line 4 column 1 (species): the rows of loquat"},
	{"refuses_a_trait_with_capitals", "cultivars.csv", "loquat,Advance,,,white,", "loquat,Advance,,,White,",
		STATUS_SYNTAX, "cultivars.csv line 2 column 5 (flesh)"},
	{"refuses_a_trait_with_an_end_open", "cultivars.csv", "loquat,Advance,,,white,", "loquat,Advance,,,white/,",
		STATUS_SYNTAX, "cultivars.csv line 2 column 5 (flesh)"},
	{"refuses_days_from_nothing", "cultivars.csv", "mid,,,partly,", "mid,5,,partly,",
		STATUS_SYNTAX, "cultivars.csv line 2 column 11 (against)"},
	{"refuses_days_that_are_words", "cultivars.csv", "mid,,,partly,", "mid,soon,Tanaka,partly,",
		STATUS_SYNTAX, "cultivars.csv line 2 column 10 (days)"},
	{"refuses_days_beyond_a_year", "cultivars.csv", "mid,,,partly,", "mid,400,Tanaka,partly,",
		STATUS_RANGE, "cultivars.csv line 2 column 10 (days)"},
	{"refuses_an_unknown_self", "cultivars.csv", "mid,,,partly,", "mid,,,maybe,",
		STATUS_SYNTAX, "cultivars.csv line 2 column 12 (self)"},
	{"refuses_an_allele_without_s", "cultivars.csv", "S3 S6*", "S3 6",
		STATUS_SYNTAX, "(alleles): \"6\" is no allele"},
	{"refuses_a_trait_that_the_row_lacks", "cultivars.csv", "self: cultivar-memory memory", "russet: cultivar-memory memory",
		STATUS_SYNTAX, "cultivars.csv line 2 column 22 (traits): \"russet\" is no trait"},
	{"refuses_a_trait_of_no_source", "cultivars.csv", "self: cultivar-memory memory", "self: hearsay memory",
		STATUS_SYNTAX, "cultivars.csv line 2 column 22 (traits): \"hearsay\" is not in sources.csv"},
	{"refuses_an_unknown_model", "pollination.csv", ",gsi,", ",guess,",
		STATUS_SYNTAX, "pollination.csv line 2 column 3 (model)"},
	{"refuses_a_kind_pollinated_twice", "pollination.csv", "\neuropean_pear,", "\napple,",
		STATUS_SYNTAX, "pollination.csv line 3 column 1 (species): \"apple\" stands there twice"},
	{"refuses_a_pair_with_an_unknown_cultivar", "pollen.csv", "sweet_cherry,Rainier,", "sweet_cherry,Rainer,",
		STATUS_SYNTAX, "pollen.csv line 2 column 4 (giver): \"Rainer\" is neither"},
	{"refuses_a_pair_of_an_unknown_type", "pollen.csv", "type:mollissima", "type:chinese",
		STATUS_SYNTAX, "(giver): \"type:chinese\" is neither"},
	{"refuses_an_answer_that_is_none", "pollen.csv", "no,partly,no,half", "no,half,no,half",
		STATUS_SYNTAX, "pollen.csv line 2 column 6 (answer)"},
	{"refuses_a_giver_by_name_as_receiver", "pollen.csv", "crabapple,,no,", "crabapple,,yes,",
		STATUS_SYNTAX, "(both): crabapple is known by name only"},
	{"names_a_header_that_is_spelled_wrong", "cuts.csv", "loss_low", "loss_lo",
		STATUS_SYNTAX, "cuts.csv line 1 column 12 (loss_low)"},
	{"names_a_column_too_many", "stages.csv", "source,sure", "source,sure,note",
		STATUS_SYNTAX, "stages.csv line 1: a column \"note\" is not known"},
	{"names_a_column_that_is_missing", "stages.csv", ",source,sure", ",source",
		STATUS_SYNTAX, "stages.csv line 1 column 5 (sure)"},
	{"counts_the_cells_of_a_row", "windows.csv", FIRST_WINDOW, "loquat,,flower-wood,07-16,",
		STATUS_SYNTAX, "windows.csv line 2: 7 cells, not 10"},
	{"refuses_a_quote_left_open", "stages.csv", "loquat,809,fit", "loquat,809,\"fit",
		STATUS_SYNTAX, ", column 12: a quote"}, /* in the last row of the table */
	{"refuses_bytes_that_are_not_utf8", "stages.csv", "pome,75,half", "pome,75,\xFF" "half",
		STATUS_SYNTAX, "UTF-8"},
	{"refuses_a_source_that_is_not_there", "windows.csv", "taiwan-1994,read", "tai-wan,read",
		STATUS_SYNTAX, "windows.csv line 2 column 9 (source): \"tai-wan\" is not in sources.csv"},
	{"refuses_a_blank_source", "windows.csv", "taiwan-1994,read", ",read",
		STATUS_SYNTAX, "windows.csv line 2 column 9 (source): may not be blank"},
	{"refuses_an_unknown_word_for_sure", "windows.csv", "taiwan-1994,read", "taiwan-1994,surely",
		STATUS_SYNTAX, "(sure): \"surely\" is none of: read, common-practice, second-hand, memory"},
	{"refuses_a_source_twice", "sources.csv", "common-practice,", "ours,",
		STATUS_SYNTAX, "sources.csv line 3 column 1 (source): \"ours\" stands there twice"},
	{"refuses_a_source_without_title", "sources.csv", "common-practice,Common practice", "common-practice,,Common practice",
		STATUS_SYNTAX, "sources.csv line 3"},
	{"refuses_a_kind_twice", "species.csv", "\napple,", "\nloquat,",
		STATUS_SYNTAX, "species.csv line 3 column 1 (species): \"loquat\" stands there twice"},
	{"refuses_a_key_with_capitals", "species.csv", "\napple,", "\nApple,",
		STATUS_SYNTAX, "species.csv line 3 column 1 (species): \"Apple\" is not a key"},
	{"refuses_an_eppo_code_of_four", "species.csv", ",MABSD,", ",MABS,",
		STATUS_SYNTAX, "(eppo)"},
	{"refuses_a_leaf_that_is_neither", "species.csv", APPLE_LEAF, ",pome,conifer,",
		STATUS_SYNTAX, "species.csv line 3 column 6 (leaf): \"conifer\" is none of: deciduous, evergreen"},
	{"refuses_a_flag_that_is_neither", "species.csv", APPLE_LEAF "yes", APPLE_LEAF "perhaps",
		STATUS_SYNTAX, "(pruned_yearly): \"perhaps\" is none of: no, yes"},
	{"refuses_a_share_above_the_whole", "species.csv", ",25,crown", ",250,crown",
		STATUS_RANGE, "(share_limit_percent): 250 is outside 1..100"},
	{"refuses_stages_that_are_not_there", "species.csv", APPLE_LEAF, ",palm,deciduous,",
		STATUS_RANGE, "no stages \"palm\", which apple goes by"},
	{"refuses_harvests_that_disagree", "species.csv", APPLE_LEAF "yes,no", APPLE_LEAF "yes,yes",
		STATUS_RANGE, "the harvest of apple and harvest_all_year"},
	{"refuses_a_cut_of_an_unknown_kind_of_tree", "cuts.csv", FIRST_CUT, "quokka" FIRST_CUT,
		STATUS_SYNTAX, "cuts.csv line 2 column 1 (species): \"quokkaloquat\" is not in species.csv"},
	{"refuses_rows_for_sanitation", "cuts.csv", "loquat,,,thinning", "loquat,,,sanitation",
		STATUS_SYNTAX, "cuts.csv line 2 column 4 (kind): \"sanitation\" is none of"},
	{"refuses_31_june", "cuts.csv", "thinning,06-16,", "thinning,06-31,",
		STATUS_RANGE, "cuts.csv line 2 column 5 (from)"},
	{"refuses_a_day_without_month", "cuts.csv", "thinning,06-16,", "thinning,16,",
		STATUS_SYNTAX, "cuts.csv line 2 column 5 (from)"},
	{"refuses_an_unknown_climate", "cuts.csv", "loquat,,,thinning", "loquat,,polar,thinning",
		STATUS_SYNTAX, "(climate): \"polar\" is none of: blank, dry-summer"},
	{"refuses_an_unknown_anchor", "cuts.csv", "06-16,harvest", "06-16,anchor",
		STATUS_SYNTAX, "(from_anchor): \"anchor\" is none of: calendar, bloom, harvest"},
	{"refuses_an_unknown_verdict", "cuts.csv", "calendar,clear,none", "calendar,maybe,none",
		STATUS_SYNTAX, "(verdict): \"maybe\" is none of: clear, allowed, avoid"},
	{"refuses_avoid_without_reason", "cuts.csv", "calendar,clear,none", "calendar,avoid,none",
		STATUS_SYNTAX, "(reason): a cut to avoid wants a reason"},
	{"refuses_a_loss_above_one", "cuts.csv", "clear,none,all,,,", "clear,none,all,0,1.5,",
		STATUS_RANGE, "cuts.csv line 2 column 13 (loss_high): 1.5 is outside 0..1"},
	{"refuses_a_loss_in_words", "cuts.csv", "clear,none,all,,,", "clear,none,all,little,1,",
		STATUS_SYNTAX, "cuts.csv line 2 column 12 (loss_low): \"little\" is not a plain number"},
	{"refuses_half_a_loss", "cuts.csv", "clear,none,all,,,", "clear,none,all,0.5,,",
		STATUS_SYNTAX, "stand together or not at all"},
	{"refuses_a_loss_upside_down", "cuts.csv", "clear,none,all,,,", "clear,none,all,0.6,0.5,",
		STATUS_RANGE, "(loss_high): is smaller than loss_low"},
	{"refuses_a_day_both_clear_and_avoid", "cuts.csv", "loquat,,,shape,06-16,harvest,07-15", "loquat,,,shape,06-16,harvest,08-16",
		STATUS_RANGE, "one day cannot be both clear and to be avoided"},
	{"refuses_an_unknown_window", "windows.csv", FIRST_WINDOW, "loquat,,flowering,07-16,09-30,calendar,no,",
		STATUS_SYNTAX, "(window): \"flowering\" is no window"},
	{"refuses_cut_windows_in_windows", "windows.csv", FIRST_WINDOW, "loquat,,cut-clear,07-16,09-30,calendar,no,",
		STATUS_SYNTAX, "windows for cutting are made from cuts.csv"},
	{"refuses_all_year_of_part_of_it", "windows.csv", FIRST_WINDOW, "loquat,,flower-wood,07-16,09-30,calendar,yes,",
		STATUS_RANGE, "all_year and 01-01..12-31"},
	{"refuses_two_harvests_of_one_climate", "windows.csv", "apple,,fruit", "apple,,harvest",
		STATUS_SYNTAX, "(window): a second row beside line"},
	{"refuses_a_day_good_and_bad_for_feeding", "windows.csv", "loquat,,feed-avoid,07-01", "loquat,,feed-avoid,06-30",
		STATUS_RANGE, "one day cannot be both good and bad for feeding"},
	{"refuses_a_rate_of_nothing", "feeding.csv", PER_INCH, ",pound-per-inch,,product,,0,lb,inch,unstated,",
		STATUS_RANGE, "feeding.csv line 2 column 6 (rate): should be above 0"},
	{"refuses_a_rate_in_feet", "feeding.csv", PER_INCH, ",pound-per-inch,,product,,1,ft,inch,unstated,",
		STATUS_SYNTAX, "(rate_unit): should be g, kg, oz or lb"},
	{"refuses_a_rate_without_unit", "feeding.csv", PER_INCH, ",pound-per-inch,,product,,1,,inch,unstated,",
		STATUS_SYNTAX, "(rate_unit): may not be blank here"},
	{"refuses_a_range_that_falls", "feeding.csv", "0.4,lb,tree,year,,,,,,,,4,0.55,", "0.4,lb,tree,year,,,,,,,,4,0.3,",
		STATUS_RANGE, "(rate_to): is not above the rate"},
	{"refuses_a_cap_that_falls", "feeding.csv", ",1,10,\"10-10-10, a half", ",1,7,\"10-10-10, a half",
		STATUS_RANGE, "(cap_to): is not above the cap"},
	{"refuses_a_negative_rate", "feeding.csv", PER_INCH, ",pound-per-inch,,product,,-1,lb,inch,unstated,",
		STATUS_SYNTAX, "(rate): \"-1\" is not a plain number"},
	{"refuses_an_unknown_basis", "feeding.csv", PER_INCH, ",pound-per-inch,,product,,1,lb,leaf,unstated,",
		STATUS_SYNTAX, "(per): \"leaf\" is none of: inch, year-of-age, tree, feed"},
	{"refuses_a_rule_twice", "feeding.csv", ",oz-per-year-utah,", ",pound-per-inch,",
		STATUS_SYNTAX, "(rule): \"pound-per-inch\" stands in line 2 already"},
	{"refuses_a_cap_without_owner", "feeding.csv", "8,oz,usu-fertilizing,", "8,oz,,",
		STATUS_SYNTAX, "(cap_source): may not be blank"},
	{"refuses_an_owner_without_cap", "feeding.csv", "8,oz,usu-fertilizing,", ",,usu-fertilizing,",
		STATUS_SYNTAX, "(cap_source): stands without a cap"},
	{"refuses_a_height_in_pounds", "feeding.csv", ",2,ft,", ",2,lb,",
		STATUS_SYNTAX, "(measured_unit): should be in, ft, cm or m"},
	{"refuses_ages_upside_down", "feeding.csv", ",0,4,", ",5,4,",
		STATUS_RANGE, "(age_to): is smaller than age_from"},
	{"refuses_a_fact_that_says_nothing", "facts.csv", ",root,,,,shallow: do not dig or hoe under it,", ",root,,,,,",
		STATUS_SYNTAX, "(text): neither figure nor words"},
	{"refuses_a_fact_upside_down", "facts.csv", "loquat,fruit-weight,30,40,g", "loquat,fruit-weight,50,40,g",
		STATUS_RANGE, "(high): is smaller than low"},
	{"refuses_a_fact_twice_from_one_source", "facts.csv", "loquat,yield-ordinary,", "loquat,spacing,",
		STATUS_SYNTAX, "stands in line"},
	{"refuses_half_a_year", "facts.csv", "years-to-crop,2,3,years", "years-to-crop,2.5,3,years",
		STATUS_RANGE, "2.5 years should be a whole number"},
	{"refuses_stages_that_do_not_rise", "stages.csv", "pome,52,", "pome,50,",
		STATUS_RANGE, "stages.csv line 3 column 2 (code): 50 should be above that of line 2"},
	{"refuses_a_stage_without_code", "stages.csv", "pome,52,", "pome,,",
		STATUS_SYNTAX, "(code): may not be blank"},
	{"refuses_a_name_twice", "names.csv", "loquats,", "Loquat tree,",
		STATUS_SYNTAX, "names.csv line 3 column 1 (name): \"Loquat tree\" stands in line 2 already"},
	{"refuses_a_blank_name", "names.csv", "loquats,", ",",
		STATUS_SYNTAX, "names.csv line 3 column 1 (name): may not be blank"},
	{"refuses_a_name_without_source", "names.csv", "loquats,loquat,en,,common-practice,", "loquats,loquat,en,,,",
		STATUS_SYNTAX, "names.csv line 3 column 5 (source): may not be blank"},
	{"refuses_a_name_of_an_unknown_source", "names.csv", "loquats,loquat,en,,common-practice,", "loquats,loquat,en,,hearsay,",
		STATUS_SYNTAX, "names.csv line 3 column 5 (source): \"hearsay\" is not in sources.csv"},
	{"refuses_a_name_that_is_surely_sure", "names.csv", "loquats,loquat,en,,common-practice,common-practice", "loquats,loquat,en,,common-practice,surely",
		STATUS_SYNTAX, "names.csv line 3 column 6 (sure): \"surely\" is none of"},
	{"refuses_names_without_the_column_of_sources", "names.csv", "name,species,language,note,source,sure", "name,species,language,note,sure,source",
		STATUS_SYNTAX, "names.csv line 1 column 5"},
};
/* clang-format on */

static void reads_line_ends_and_marks_of_other_systems(void **state)
{
	(void)state;
	struct broken marked = {.table = "stages.csv",
		.from = "stages,code,words,source,sure\n",
		.to = "\xEF\xBB\xBFstages,code,words,source,sure\r\n\r\n"};
	struct scratch scratch = almanac_broken(&marked);
	struct almanac *almanac = NULL;
	struct fault why;
	check_ok(almanac_open(scratch.folder, &almanac, &why), &why);
	assert_non_null(species_stage(almanac_species(almanac, "apple"), 51));
	almanac_close(almanac);
	scratch_remove(&scratch);
}

static void says_where_no_almanac_is(void **state)
{
	(void)state;
	struct scratch scratch = scratch_make();
	struct almanac *almanac = NULL;
	struct fault why;
	check_refused(
		almanac_open(scratch.folder, &almanac, &why), STATUS_ABSENT, &why, "sources.csv");
	scratch_remove(&scratch);
	almanac_close(NULL);
}

static void digest_changes_with_any_byte(void **state)
{
	(void)state;
	struct broken same = {.table = "stages.csv", .from = "stages", .to = "stages"};
	struct broken other = {.table = "stages.csv", .from = "half size", .to = "Half size"};
	struct almanac *shipped = open_shipped();
	struct scratch first = almanac_broken(&same);
	struct scratch second = almanac_broken(&other);
	struct almanac *copy = NULL;
	struct almanac *changed = NULL;
	struct fault why;
	check_ok(almanac_open(first.folder, &copy, &why), &why);
	check_ok(almanac_open(second.folder, &changed, &why), &why);
	assert_int_equal(strlen(almanac_digest(shipped)), 16);
	assert_string_equal(almanac_digest(shipped), almanac_digest(copy));
	assert_string_not_equal(almanac_digest(shipped), almanac_digest(changed));
	almanac_close(shipped);
	almanac_close(copy);
	almanac_close(changed);
	scratch_remove(&first);
	scratch_remove(&second);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(reads_line_ends_and_marks_of_other_systems),
		cmocka_unit_test(says_where_no_almanac_is),
		cmocka_unit_test(digest_changes_with_any_byte),
	};
	int failed = cmocka_run_group_tests_name("almanac sheets", tests, NULL, NULL);
	failed += RUN_CASES("almanac broken sheets", BROKEN, refuses);
	return failed != 0;
}
