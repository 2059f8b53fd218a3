/* SPDX-License-Identifier: MIT */
/* Pests, degree-days and the year's work: each way their tables can be broken, what typed words
 * name, and the values that a second reading of the sources gave (tests/outside/pests.tsv). */
#include "almanac/pest.h"
#include "core/measure.h"
#include "core/text.h"

#include <dirent.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "support/scratch.h"
#include "support/table.h"
#include "support/test.h"

enum { FITS_MAX = 40 };

/* The tables are read once for all the tests. */
static struct almanac *shipped(void)
{
	static struct almanac *almanac;
	struct fault why;
	if (almanac == NULL)
		check_ok(almanac_open("share/almanac", &almanac, &why), &why);
	return almanac;
}

/* --- broken tables --- */

/* The first place of `from` in a shipped table is changed and the almanac opened. */
struct broken {
	const char *name;
	const char *table;
	const char *from;
	const char *to;
	enum status status;
	const char *says;
};

static void copy_table(const struct scratch *scratch, const char *name, const struct broken *broken)
{
	char path[SCRATCH_PATH_SIZE], out[SCRATCH_PATH_SIZE];
	snprintf(path, sizeof path, "share/almanac/%.100s", name);
	scratch_path(scratch, name, out);
	char *text = file_read(path, NULL);
	const char *place = strcmp(name, broken->table) == 0 ? strstr(text, broken->from) : NULL;
	if (place == NULL) {
		assert_true(strcmp(name, broken->table) != 0);
		file_write(out, text, strlen(text));
	} else {
		size_t size = strlen(text) + strlen(broken->to) + 1;
		char *changed = malloc(size);
		snprintf(changed, size, "%.*s%s%s", (int)(place - text), text, broken->to,
			place + strlen(broken->from));
		file_write(out, changed, strlen(changed));
		free(changed);
	}
	free(text);
}

static void refuses(const void *one)
{
	const struct broken *broken = one;
	struct scratch scratch = scratch_make();
	DIR *folder = opendir("share/almanac");
	assert_non_null(folder);
	for (const struct dirent *entry; (entry = readdir(folder)) != NULL;)
		if (strstr(entry->d_name, ".csv") != NULL)
			copy_table(&scratch, entry->d_name, broken);
	closedir(folder);
	struct almanac *almanac = NULL;
	struct fault why;
	check_refused(
		almanac_open(scratch.folder, &almanac, &why), broken->status, &why, broken->says);
	assert_null(almanac);
	scratch_remove(&scratch);
}

#define BLIGHT "fire-blight,fire blight,Erwinia amylovora,disease,apple "
#define CM_2 "cm-2,codling-moth,,Michigan,50,,F,unstated,"
/* clang-format off */
static const struct broken BROKEN[] = {
	{"names_a_column_that_is_spelled_wrong", "pests.csv", "season,weather", "seasons,weather",
		STATUS_SYNTAX, "pests.csv line 1 column 11 (season)"},
	{"refuses_a_key_with_a_blank", "pests.csv", "\nfire-blight,", "\nfire blight,",
		STATUS_SYNTAX, "pests.csv line 2 column 1 (key)"},
	{"refuses_a_key_twice", "pests.csv", "\napple-scab,", "\nfire-blight,",
		STATUS_SYNTAX, "pests.csv line 3 column 1 (key): \"fire-blight\" stands in line 2 already"},
	{"refuses_a_nameless_pest", "pests.csv", "\nfire-blight,fire blight,", "\nfire-blight,,",
		STATUS_SYNTAX, "pests.csv line 2 column 2 (name): may not be blank"},
	{"refuses_an_unknown_group", "pests.csv", "amylovora,disease", "amylovora,germ",
		STATUS_SYNTAX, "(group): \"germ\" is none of: insect, mite, disease, disorder, nematode, animal"},
	{"refuses_a_host_that_is_no_kind", "pests.csv", BLIGHT, "fire-blight,fire blight,Erwinia amylovora,disease,appel ",
		STATUS_SYNTAX, "pests.csv line 2 column 5 (hosts): \"appel\" is not in species.csv"},
	{"refuses_stages_upside_down", "pests.csv", ",60,79,", ",79,60,",
		STATUS_RANGE, "pests.csv line 2 column 10 (stage_to): is smaller than stage_from"},
	{"refuses_half_a_span_of_stages", "pests.csv", ",60,79,", ",60,,",
		STATUS_SYNTAX, "(stage_to): stage_from and stage_to stand or lack together"},
	{"refuses_a_stage_of_three_digits", "pests.csv", ",60,79,", ",600,79,",
		STATUS_RANGE, "(stage_from): 600 is outside 0..99"},
	{"refuses_month_13", "pests.csv", "03..07; loquat", "03..13; loquat",
		STATUS_SYNTAX, "pests.csv line 2 column 11 (season): \"03..13\" is not MM..MM"},
	{"refuses_a_season_in_words", "pests.csv", "03..07; loquat", "spring; loquat",
		STATUS_SYNTAX, "(season): \"spring\" is not MM..MM"},
	{"refuses_a_season_of_no_kind", "pests.csv", "03..07; loquat", "03..07; lokwat",
		STATUS_SYNTAX, "(season): \"lokwat 10..05\" is not MM..MM"},
	{"refuses_a_pest_without_season", "pests.csv", ",03..07; loquat 10..05,", ",,",
		STATUS_SYNTAX, "(season): may not be blank"},
	{"refuses_cut_distances_upside_down", "pests.csv", ",6,18,in,", ",18,6,in,",
		STATUS_RANGE, "pests.csv line 2 column 15 (cut_high): is smaller than cut_low"},
	{"refuses_half_a_cut_distance", "pests.csv", ",6,18,in,", ",6,,in,",
		STATUS_SYNTAX, "(cut_high): cut_low and cut_high stand or lack together"},
	{"refuses_a_cut_distance_in_pounds", "pests.csv", ",6,18,in,", ",6,18,lb,",
		STATUS_SYNTAX, "pests.csv line 2 column 16 (cut_unit): is no length"},
	{"refuses_an_unknown_report", "pests.csv", ",some,where it is absent", ",perhaps,where it is absent",
		STATUS_SYNTAX, "(report): \"perhaps\" is none of: no, some, yes, protected"},
	{"refuses_a_report_that_says_not_where", "pests.csv", ",some,where it is absent (Australia) and in protected zones of Europe,", ",some,,",
		STATUS_SYNTAX, "pests.csv line 2 column 20 (report_where): says where"},
	{"refuses_an_alias_twice", "pests.csv", "fireblight; blight;", "fireblight; Fireblight;",
		STATUS_SYNTAX, "pests.csv line 2 column 21 (aliases): \"Fireblight\" stands there twice"},
	{"refuses_a_source_that_is_not_there", "pests.csv", "usu-apple usu-fb22", "usu-appel usu-fb22",
		STATUS_SYNTAX, "pests.csv line 2 column 22 (source): \"usu-appel\" is not in sources.csv"},
	{"refuses_read_of_no_cell", "pests.csv", ",season weather first cut worse,", ",seasons weather first cut worse,",
		STATUS_SYNTAX, "pests.csv line 2 column 23 (read): \"seasons\" names no cell"},
	{"refuses_to_have_read_a_memory", "pests.csv", ",season weather first cut worse,read", ",season weather first cut worse,memory",
		STATUS_RANGE, "pests.csv line 2 column 24 (sure): memory, exactly where \"first\" was not read"},
	{"refuses_a_total_of_an_unknown_pest", "degree_days.csv", CM_2, "cm-2,coddling-moth,,Michigan,50,,F,unstated,",
		STATUS_SYNTAX, "degree_days.csv line 3 column 2 (pest): \"coddling-moth\" is not in pests.csv"},
	{"refuses_a_base_in_inches", "degree_days.csv", CM_2, "cm-2,codling-moth,,Michigan,50,,in,unstated,",
		STATUS_SYNTAX, "degree_days.csv line 3 column 7 (base_unit): is neither F nor C"},
	{"refuses_a_cutoff_below_the_base", "degree_days.csv", CM_2, "cm-2,codling-moth,,Michigan,50,40,F,unstated,",
		STATUS_RANGE, "degree_days.csv line 3 column 6 (upper): is not above the base"},
	{"refuses_an_unknown_method", "degree_days.csv", CM_2, "cm-2,codling-moth,,Michigan,50,,F,cosine,",
		STATUS_SYNTAX, "(method): \"cosine\" is none of: average, sine"},
	{"refuses_totals_upside_down", "degree_days.csv", ",250,250,F", ",250,240,F",
		STATUS_RANGE, "degree_days.csv line 3 column 13 (high): is smaller than low"},
	{"refuses_a_total_without_unit", "degree_days.csv", ",250,250,F", ",250,250,",
		STATUS_SYNTAX, "(unit): low, high and unit stand or lack together"},
	{"refuses_a_total_without_base", "degree_days.csv", CM_2, "cm-2,codling-moth,,Michigan,,,F,unstated,",
		STATUS_SYNTAX, "degree_days.csv line 3 column 12 (low): a total needs a base and an event"},
	{"refuses_a_row_with_neither_total_nor_words", "degree_days.csv", ",250,250,F", ",,,",
		STATUS_SYNTAX, "degree_days.csv line 3 column 15 (text): neither total nor words"},
	{"refuses_a_start_on_30_february", "degree_days.csv", "no trap\",01-01", "no trap\",02-30",
		STATUS_RANGE, "(start_day)"},
	{"refuses_a_total_key_twice", "degree_days.csv", "\ncm-2,", "\ncm-1,",
		STATUS_SYNTAX, "(key): \"cm-1\" stands in line 2 already"},
	{"refuses_work_in_an_unknown_climate", "work.csv", ",dry-summer,", ",dry-sommer,",
		STATUS_SYNTAX, "work.csv line 2 column 2 (climates): \"dry-sommer\" is no climate"},
	{"refuses_work_in_no_month", "work.csv", ",01..02,", ",0..2,",
		STATUS_SYNTAX, "work.csv line 2 column 4 (months): \"0..2\" is not MM..MM"},
	{"refuses_work_without_a_task", "work.csv", ",plant bare-root trees,", ",,",
		STATUS_SYNTAX, "work.csv line 2 column 5 (task): may not be blank"},
	{"refuses_work_twice", "work.csv", "\nfrostwatch,", "\nbareroot,",
		STATUS_SYNTAX, "work.csv line 3 column 1 (key): \"bareroot\" stands in line 2 already"},
};
/* clang-format on */

/* --- what typed words name --- */

struct words_case {
	const char *name;
	const char *species; /* NULL any */
	const char *words;
	const char *want; /* keys parted by blanks; "" none */
};
/* clang-format off */
static const struct words_case WORDS[] = {
	{"a_name_names_its_pest",            "apple", "fire blight", "fire-blight"},
	{"case_does_not_count",              "apple", "Fire BLIGHT", "fire-blight"},
	{"scab_on_apple_is_apple_scab",      "apple", "scab", "apple-scab"},
	{"scab_on_pear_is_pear_scab",        "european_pear", "scab", "pear-scab"},
	{"scab_on_loquat_is_loquat_scab",    "loquat", "scab", "loquat-scab"},
	{"scab_on_peach_is_peach_scab",      "peach", "scab", "peach-scab"},
	{"black_spot_is_scab_too",           "apple", "black spot on leaves", "apple-scab"},
	{"words_round_a_name_do_not_hide_it","apple", "two fire blight strikes on limb 3", "fire-blight"},
	{"botanical_names_count",            "apple", "Venturia inaequalis", "apple-scab"},
	{"q_fly_is_queensland_fruit_fly",    "loquat", "Q-fly stings", "qld-fruit-fly"},
	{"the_longest_name_wins",            "olive", "olive fruit fly", "olive-fruit-fly"},
	{"fruit_fly_on_peach_is_in_doubt",   "peach", "fruit fly", "carib-fruit-fly qld-fruit-fly medfly"},
	{"mummies_on_peach_are_brown_rot",   "peach", "mummies", "brown-rot"},
	{"mummies_on_walnut_are_orangeworm", "walnut", "mummies", "navel-orangeworm"},
	{"gum_on_peach",                     "peach", "gum", "gummosis"},
	{"gum_on_orange",                    "orange", "gum", "gummosis-citrus"},
	{"aphids_are_on_every_kind",         "fig", "aphids", "aphids"},
	{"one_aphid_is_aphids",              "fig", "aphid", "aphids"},
	{"woolly_aphid_is_not_aphids",       "apple", "woolly aphid on old cuts", "woolly-aphid"},
	{"a_part_of_a_word_is_no_name",      "loquat", "scabrous leaves", ""},
	{"denied_pests_are_not_seen",        "apple", "no scab", ""},
	{"not_any_pest",                     "apple", "not scab, just dirt", ""},
	{"no_more_of_it",                    "apple", "no more aphids", ""},
	{"denied_up_to_but",                 "apple", "no scab but woolly aphid", "woolly-aphid"},
	{"denied_with_all_that_follows",     "apple", "no scab, aphids or mites", ""},
	{"free_of_it",                       "apple", "free of woolly aphid", ""},
	{"unknown_words_stay_words",         "apple", "odd dents on one side", ""},
	{"nothing_names_nothing",            "apple", "", ""},
	{"of_an_unknown_kind_what_is_sure",  NULL, "codling moth", "codling-moth"},
	{"of_an_unknown_kind_scab_is_in_doubt", NULL, "scab", "apple-scab pear-scab loquat-scab peach-scab"},
	{"another_kind_has_no_such_pest",    "fig", "codling moth", ""},
	{"leaf_curl_is_peach_leaf_curl",     "peach", "leaf curl bad", "peach-leaf-curl"},
	{"root_rot_on_avocado_is_its_own",   "avocado", "root rot", "avocado-root-rot"},
	{"root_rot_on_apple_is_crown_rot",   "apple", "root rot", "crown-rot"},
	{"wilt_may_be_anything",             "avocado", "wilt", ""},
	{"scale_on_orange_is_in_doubt",      "orange", "scale", "red-scale soft-scale"},
	{"canker_on_cherry_is_bacterial",    "sweet_cherry", "canker", "bacterial-canker"},
	{"canker_on_orange_is_reported",     "orange", "canker", "citrus-canker"},
	{"curl_by_aphids_is_not_leaf_curl",  "apple", "leaf curl", ""},
};
/* clang-format on */

static void names(const void *one)
{
	const struct words_case *row = one;
	const struct pest_row *fits[FITS_MAX];
	char got[400] = "";
	int32_t count = almanac_find_pests(shipped(), row->species, row->words, fits, FITS_MAX);
	for (int32_t i = 0; i < count; i++) {
		size_t used = strlen(got);
		snprintf(got + used, sizeof got - used, "%s%s", i > 0 ? " " : "", fits[i]->key);
	}
	check_text(got, row->want, row->words);
	const struct pest_row *only = almanac_pest_named(shipped(), row->species, row->words);
	assert_true((only != NULL) == (count == 1));
}

/* --- the tables as a whole --- */

static void has_all_that_was_gathered(void **state)
{
	(void)state;
	int32_t pests = 0, degrees = 0, work = 0;
	(void)almanac_pest_list(shipped(), &pests);
	(void)almanac_degrees(shipped(), &degrees);
	(void)almanac_work(shipped(), &work);
	assert_true(pests >= 156 && degrees >= 68 && work >= 80);
	assert_null(almanac_pest(shipped(), "dragon"));
}

static void kinds_have_pests_of_their_own_first(void **state)
{
	(void)state;
	int32_t kinds = 0;
	for (int32_t i = 0; i < almanac_species_count(shipped()); i++) {
		const char *key = almanac_species_at(shipped(), i)->key;
		const struct pest_row *rows[200];
		int32_t count = almanac_pests(shipped(), key, rows, 200);
		assert_true(count > 20 && count <= 200);
		kinds += strcmp(rows[0]->hosts, "all") != 0;
		assert_string_equal(rows[count - 1]->hosts, "all");
		check_int(almanac_pests(shipped(), key, NULL, 0), count, key);
	}
	assert_true(kinds >= 26);
}

static void every_pest_shows_in_some_month(void **state)
{
	(void)state;
	int32_t count = 0;
	const struct pest_row *rows = almanac_pest_list(shipped(), &count);
	for (int32_t i = 0; i < count; i++) {
		for (int32_t k = 0; k < almanac_species_count(shipped()); k++) {
			const char *key = almanac_species_at(shipped(), k)->key;
			bool shows = false;
			for (int32_t month = 1; month <= 12; month++)
				shows = shows || pest_shows_in(&rows[i], key, month);
			if (pest_is_on(&rows[i], key) && !shows)
				fail_msg("%s never shows on %s", rows[i].key, key);
		}
	}
}

/* The label is the law: no product and no rate stands in a first response. */
static void first_responses_name_no_product_and_no_rate(void **state)
{
	(void)state;
	static const char *const words[] = {"spray", "copper spray", "fixed copper", "sulfur",
		"sulphur", " oil ", "insecticide", "fungicide", "spinosad", " ppm", "ml per",
		"per gallon", "per litre", "kaolin", "neem", "streptomycin", "Bt "};
	int32_t count = 0;
	const struct pest_row *rows = almanac_pest_list(shipped(), &count);
	for (int32_t i = 0; i < count; i++)
		for (size_t k = 0; k < sizeof words / sizeof words[0]; k++)
			if (strstr(rows[i].first, words[k]) != NULL)
				fail_msg("%s: %s", rows[i].key, words[k]);
}

static const char *const MONTHS[] = {"January", "February", "April", "July", "August", "September",
	"October", "November", "December", "March ", " May ", " June "};
enum { WORK_MONTHS = 9 /* not the June drop */, ALL_MONTHS = 12 };

/* The words are read on both sides of the equator. */
static void words_for_growers_speak_of_seasons(void **state)
{
	(void)state;
	int32_t count = 0;
	const struct pest_row *rows = almanac_pest_list(shipped(), &count);
	for (int32_t i = 0; i < count; i++)
		for (size_t k = 0; k < ALL_MONTHS; k++)
			if (strstr(rows[i].first, MONTHS[k]) != NULL ||
				strstr(rows[i].stage, MONTHS[k]) != NULL)
				fail_msg("%s: %s", rows[i].key, MONTHS[k]);
}

static void work_speaks_of_seasons_too(void **state)
{
	(void)state;
	int32_t count = 0;
	const struct work_row *rows = almanac_work(shipped(), &count);
	for (int32_t i = 0; i < count; i++)
		for (size_t k = 0; k < WORK_MONTHS; k++)
			if (strstr(rows[i].task, MONTHS[k]) != NULL ||
				strstr(rows[i].when, MONTHS[k]) != NULL ||
				strstr(rows[i].condition, MONTHS[k]) != NULL)
				fail_msg("%s: %s", rows[i].key, MONTHS[k]);
}

static void work_answers_pests_of_its_own_kinds(void **state)
{
	(void)state;
	int32_t work_count = 0, pest_count = 0, answers = 0;
	const struct work_row *work = almanac_work(shipped(), &work_count);
	const struct pest_row *pests = almanac_pest_list(shipped(), &pest_count);
	for (int32_t i = 0; i < work_count; i++)
		for (int32_t k = 0; k < pest_count; k++) {
			bool shared = false;
			for (int32_t n = 0; n < almanac_species_count(shipped()); n++) {
				const char *key = almanac_species_at(shipped(), n)->key;
				shared = shared ||
					 (work_is_on(&work[i], key) && pest_is_on(&pests[k], key));
			}
			if (work_answers(&work[i], pests[k].key) && !shared)
				fail_msg("%s: %s", work[i].key, pests[k].key);
			answers += work_answers(&work[i], pests[k].key);
		}
	assert_true(answers >= 25);
}

static void what_must_be_reported_says_so_first(void **state)
{
	(void)state;
	int32_t count = 0;
	const struct pest_row *rows = almanac_pest_list(shipped(), &count);
	int32_t reported = 0;
	for (int32_t i = 0; i < count; i++)
		reported += rows[i].report == REPORT_YES;
	assert_true(reported >= 15);
	check_text(pest_first_source(almanac_pest(shipped(), "hlb")), "ours", "from memory");
	check_text(pest_first_source(almanac_pest(shipped(), "apple-scab")), "uc-vossen-calendar",
		"read");
}

static void work_is_shown_where_it_belongs(void **state)
{
	(void)state;
	int32_t count = 0;
	const struct work_row *rows = almanac_work(shipped(), &count);
	const struct work_row *guards = NULL;
	for (int32_t i = 0; i < count; i++)
		if (strcmp(rows[i].key, "guards") == 0)
			guards = &rows[i];
	assert_non_null(guards);
	assert_true(work_is_for(guards, "apple", CLIMATE_CONTINENTAL));
	assert_false(work_is_for(guards, "apple", CLIMATE_DRY_SUMMER));
	assert_false(work_is_for(guards, "apple", CLIMATE_ANY));
}

/* --- the second reading --- */

static int64_t um_of(const char *value)
{
	static const struct number_rules point = {
		.units = UNITS_US, .gallon = GALLON_US, .style = NUMBERS_POINT};
	struct fault why = {0};
	int64_t um = 0;
	check_ok(length_parse(value, &point, &um, &why), &why);
	return um;
}

static void check_shows(const struct pest_row *pest, const char *value, bool want)
{
	char species[32];
	snprintf(species, sizeof species, "%.*s", (int)strcspn(value, " "), value);
	assert_true(pest_is_on(pest, species));
	check_int(pest_shows_in(pest, species, (int32_t)strtol(value + strlen(species), NULL, 10)),
		want, value);
}

static void check_words(const struct pest_row *pest, const char *what, const char *value)
{
	const char *const cells[][2] = {{"first", pest->first}, {"signs", pest->signs},
		{"stage", pest->stage}, {"worse", pest->worse}, {"weather", pest->weather}};
	size_t at = 0;
	while (at < sizeof cells / sizeof cells[0] && strcmp(cells[at][0], what) != 0)
		at++;
	assert_true(at < sizeof cells / sizeof cells[0]);
	check_has(cells[at][1], value, pest->key);
}

static void check_pest(const char *key, const char *what, const char *value)
{
	static const char *const reports[] = {"no", "some", "yes", "protected"};
	const struct pest_row *pest = almanac_pest(shipped(), key);
	assert_non_null(pest);
	if (strcmp(what, "scientific") == 0)
		check_text(pest->scientific, value, key);
	else if (strcmp(what, "host") == 0)
		assert_true(pest_is_on(pest, value));
	else if (strcmp(what, "no-host") == 0)
		assert_false(pest_is_on(pest, value));
	else if (strcmp(what, "shows") == 0 || strcmp(what, "hides") == 0)
		check_shows(pest, value, what[0] == 's');
	else if (strcmp(what, "cut-low") == 0)
		check_int(pest->cut_low_um.value, um_of(value), key);
	else if (strcmp(what, "cut-high") == 0)
		check_int(pest->cut_high_um.value, um_of(value), key);
	else if (strcmp(what, "report") == 0)
		check_text(reports[pest->report], value, key);
	else
		check_words(pest, what, value);
}

static void say_temperature(struct maybe_i64 decic, bool celsius, char *out, size_t size)
{
	double degrees = (double)decic.value / 10;
	out[0] = '\0';
	if (decic.known)
		/* whole degrees of Fahrenheit: bases are kept to a tenth of Celsius */
		snprintf(out, size, "%.*g %s", celsius ? 4 : 2,
			celsius ? degrees : degrees * 9 / 5 + 32, celsius ? "C" : "F");
}

/* "base; upper; method; low[; start day]". */
static void check_degrees(const char *key, const char *value)
{
	static const char *const methods[] = {"average", "sine", "sine-horizontal", "sine-vertical",
		"laboratory", "days", "unstated", "none"};
	int32_t count = 0;
	const struct degree_row *rows = almanac_degrees(shipped(), &count);
	const struct degree_row *row = NULL;
	for (int32_t i = 0; i < count; i++)
		if (strcmp(rows[i].key, key) == 0)
			row = &rows[i];
	assert_non_null(row);
	char base[24], upper[24], got[120], day[12] = "";
	bool celsius = value[strcspn(value, "FC")] == 'C';
	say_temperature(row->base_decic, celsius, base, sizeof base);
	say_temperature(row->upper_decic, celsius, upper, sizeof upper);
	if (row->start_day.month > 0)
		snprintf(day, sizeof day, "; %02d-%02d", row->start_day.month % 100,
			row->start_day.day % 100);
	snprintf(got, sizeof got, "%s; %s; %s; %g %s%s", base, row->no_upper ? "none" : upper,
		methods[row->method], row->low.value / 10.0, row->fahrenheit ? "F" : "C", day);
	check_text(got, value, key);
}

static void check_months(const char *key, const char *value)
{
	int32_t count = 0;
	char got[24] = "no such work";
	const struct work_row *rows = almanac_work(shipped(), &count);
	for (int32_t i = 0; i < count; i++)
		if (strcmp(rows[i].key, key) == 0)
			snprintf(got, sizeof got, "%d %d", rows[i].from_month, rows[i].to_month);
	check_text(got, value, key);
}

static void agrees(const struct table_row *row)
{
	const char *what = row_text(row, "what");
	if (strcmp(what, "degree") == 0)
		check_degrees(row_text(row, "row"), row_text(row, "value"));
	else if (strcmp(what, "months") == 0)
		check_months(row_text(row, "row"), row_text(row, "value"));
	else
		check_pest(row_text(row, "row"), what, row_text(row, "value"));
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(has_all_that_was_gathered),
		cmocka_unit_test(kinds_have_pests_of_their_own_first),
		cmocka_unit_test(every_pest_shows_in_some_month),
		cmocka_unit_test(first_responses_name_no_product_and_no_rate),
		cmocka_unit_test(words_for_growers_speak_of_seasons),
		cmocka_unit_test(work_speaks_of_seasons_too),
		cmocka_unit_test(work_answers_pests_of_its_own_kinds),
		cmocka_unit_test(what_must_be_reported_says_so_first),
		cmocka_unit_test(work_is_shown_where_it_belongs),
	};
	int failed = cmocka_run_group_tests_name("almanac pests", tests, NULL, NULL);
	failed += RUN_CASES("almanac pests broken", BROKEN, refuses);
	failed += RUN_CASES("almanac pests words", WORDS, names);
	struct table *table = outside_open("tests/outside/pests.tsv");
	failed += run_rows("almanac pests outside", table, agrees);
	table_free(table);
	almanac_close(shipped());
	return failed != 0;
}
