/* SPDX-License-Identifier: MIT */
/* Whose pollen serves whom: published pairs and ways of pollination (tests/outside/partners.tsv),
 * and what is not on record, not named, in doubt or of another kind. */
#include "reckon/partner.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "support/table.h"
#include "support/test.h"

static struct almanac *almanac;

static int open_tables(void **state)
{
	(void)state;
	struct fault why;
	check_ok(almanac_open("share/almanac", &almanac, &why), &why);
	return 0;
}

static int close_tables(void **state)
{
	(void)state;
	almanac_close(almanac);
	return 0;
}

static struct partner of(const char *species, const char *cultivar)
{
	return partner_of(almanac_species(almanac, species), cultivar);
}

static struct partner_verdict ask(
	const char *giver_kind, const char *giver, const char *taker_kind, const char *taker)
{
	struct partner from = of(giver_kind, giver);
	struct partner to = of(taker_kind, taker);
	return partner_serves(&from, &to);
}

/* --- published pairs --- */

static enum partner_answer answer_of(const char *word)
{
	static const char *const words[] = {[PARTNER_NOT_KNOWN] = "unknown",
		[PARTNER_NO] = "no",
		[PARTNER_PARTLY] = "partly",
		[PARTNER_YES] = "yes"};
	for (int i = 0; i < 4; i++)
		if (strcmp(words[i], word) == 0)
			return (enum partner_answer)i;
	fail_msg("no answer: %s", word);
	return PARTNER_NOT_KNOWN;
}

static void check_extra(const struct partner_verdict *verdict, const char *extra)
{
	static const char *const words[] = {"", "apart", "meet", "harm", "days"};
	size_t at = 0;
	while (at < sizeof words / sizeof words[0] && strcmp(words[at], extra) != 0)
		at++;
	if (at == sizeof words / sizeof words[0])
		fail_msg("no word %s", extra);
	if (strcmp(extra, "apart") == 0)
		check_int(verdict->bloom, BLOOMS_APART, "two classes apart");
	if (strcmp(extra, "meet") == 0)
		check_int(verdict->bloom, BLOOMS_MEET, "the same class, or the next");
	check_int(verdict->harm, strcmp(extra, "harm") == 0, "harm");
	check_int(verdict->by_days, strcmp(extra, "days") == 0, "only the days must meet");
}

static void check_pair(const struct table_row *row)
{
	char giver_kind[KEY_SIZE];
	const char *giver = row_text(row, "giver");
	const char *colon = strchr(giver, ':');
	const char *kind = row_text(row, "kind");
	snprintf(giver_kind, sizeof giver_kind, "%.*s",
		colon == NULL ? (int)strlen(kind) : (int)(colon - giver),
		colon == NULL ? kind : giver);
	struct partner from = of(giver_kind, colon == NULL ? giver : colon + 1);
	struct partner to = of(kind, row_text(row, "receiver"));
	if (from.name[0] != '\0')
		assert_non_null(from.cultivar);
	if (to.name[0] != '\0')
		assert_non_null(to.cultivar);
	struct partner_verdict verdict = partner_serves(&from, &to);
	check_text(partner_word(verdict.answer), partner_word(answer_of(row_text(row, "expected"))),
		verdict.reason);
	assert_true(verdict.reason[0] != '\0');
	assert_non_null(almanac_source(almanac, verdict.source));
	if (strncmp(row_text(row, "source"), "from memory", 11) == 0)
		check_int(verdict.sure, KNOWN_MEMORY, "from memory, and says so");
	check_extra(&verdict, row_text(row, "extra"));
}

static void check_kind(const struct table_row *row)
{
	static const char *const models[] = {"gsi", "ssi", "groups", "letters", "days", "own",
		"parth", "wind", "clone", "table"};
	const struct species *species = almanac_species(almanac, row_text(row, "kind"));
	const char *distance = row_text(row, "expected");
	check_text(models[species->pollination->model], row_text(row, "giver"), "model");
	check_text(self_fruitful_word(species->pollination->alone), row_text(row, "receiver"),
		"alone");
	if (distance[0] == '\0')
		return;
	const struct fact_row *fact = species_fact(species, "partner-distance");
	assert_non_null(fact);
	assert_true(fact->low.known && fact->high.known);
	const int64_t foot_um = 304800;
	assert_true(fact->low.value >= strtol(distance, NULL, 10) * foot_um);
	assert_true(fact->high.value <= strtol(strchr(distance, '-') + 1, NULL, 10) * foot_um);
}

static void check_row(const struct table_row *row)
{
	if (strcmp(row_text(row, "what"), "pair") == 0)
		check_pair(row);
	else if (strcmp(row_text(row, "what"), "kind") == 0)
		check_kind(row);
	else
		fail_msg("no question %s", row_text(row, "what"));
}

/* --- what is not on record --- */

struct pair {
	const char *name;
	const char *giver_kind;
	const char *giver;
	const char *taker_kind;
	const char *taker;
	enum partner_answer answer;
	const char *says;
};
/* clang-format off */
static const struct pair PAIRS[] = {
	{"an_unnamed_giver_is_not_known", "sweet_cherry", "", "sweet_cherry", "Bing", PARTNER_NOT_KNOWN, "the cultivar of the giver"},
	{"an_unnamed_taker_is_not_known", "sweet_cherry", "Van", "sweet_cherry", "", PARTNER_NOT_KNOWN, "the cultivar of the taker"},
	{"a_triploid_gives_nothing_to_whomever", "apple", "Mutsu", "apple", "", PARTNER_NO, "triploid"},
	{"a_triploid_under_its_other_name", "apple", "Crispin", "apple", "Gala", PARTNER_NO, "triploid"},
	{"two_triploids_serve_nobody", "apple", "Jonagold", "apple", "Mutsu", PARTNER_NO, "triploid"},
	{"one_clone_under_two_names_is_no_partner", "apple", "Crispin", "apple", "Mutsu", PARTNER_NO, "one and the same"},
	{"williams_is_bartlett", "european_pear", "Williams", "european_pear", "Bartlett", PARTNER_PARTLY, "one and the same"},
	{"kordia_is_attika", "sweet_cherry", "Attika", "sweet_cherry", "Kordia", PARTNER_NO, "one and the same"},
	{"a_name_typed_twice_is_one_clone", "apple", "Farmhouse Red", "apple", "farmhouse red", PARTNER_NO, "one and the same"},
	{"two_names_that_no_table_has_are_two_apples", "apple", "Farmhouse Red", "apple", "Barn Yellow", PARTNER_YES, "not on record"},
	{"of_cherries_that_is_not_enough", "sweet_cherry", "Farmhouse Red", "sweet_cherry", "Bing", PARTNER_NOT_KNOWN, "not on record"},
	{"a_perhaps_triploid_is_not_known", "apple", "Arkansas Black", "apple", "Gala", PARTNER_NOT_KNOWN, "by some sources"},
	{"a_pear_without_pollen_serves_nobody", "european_pear", "Magness", "european_pear", "Bosc", PARTNER_NO, "no good pollen"},
	{"nor_a_pear_of_the_other_kind", "european_pear", "Magness", "asian_pear", "Hosui", PARTNER_NO, "no good pollen"},
	{"a_european_pear_may_serve_an_asian_one", "european_pear", "Coscia", "asian_pear", "Hosui", PARTNER_YES, "early enough"},
	{"the_other_way_is_not_known", "asian_pear", "Hosui", "european_pear", "Coscia", PARTNER_NOT_KNOWN, "no source"},
	{"a_peach_without_pollen_takes", "peach", "Redhaven", "peach", "J.H. Hale", PARTNER_YES, ""},
	{"and_does_not_give", "peach", "J.H. Hale", "peach", "Indian Free", PARTNER_NO, "no good pollen"},
	{"a_nectarine_is_a_peach", "peach", "Fantasia", "peach", "Indian Free", PARTNER_YES, ""},
	{"an_apple_is_no_pear", "apple", "Gala", "european_pear", "Bartlett", PARTNER_NO, "different kinds"},
	{"no_european_plum_serves_a_japanese_one", "european_plum", "", "japanese_plum", "", PARTNER_NO, "six sets"},
	{"nor_the_other_way", "japanese_plum", "Methley", "european_plum", "Stanley", PARTNER_NO, "six sets"},
	{"a_sweet_cherry_may_serve_a_sour_one", "sweet_cherry", "Regina", "sour_cherry", "Pandy", PARTNER_YES, "where the bloom meets"},
	{"a_sour_one_for_a_sweet_one_is_not_known", "sour_cherry", "Balaton", "sweet_cherry", "Bing", PARTNER_NOT_KNOWN, "no source"},
	{"alleles_of_one_kind_say_nothing_of_another", "apricot", "Hargrand", "sweet_cherry", "Bing", PARTNER_NO, "different kinds"},
	{"a_broken_grain_passes_everywhere", "sweet_cherry", "Stella", "sweet_cherry", "Lapins", PARTNER_YES, "S3 and S4' pass"},
	{"a_pistil_that_is_broken_lets_its_own_in", "asian_pear", "Nijisseiki", "asian_pear", "Osa Nijisseiki", PARTNER_PARTLY, "S4 passes"},
	{"its_pollen_is_ordinary", "asian_pear", "Osa Nijisseiki", "asian_pear", "Nijisseiki", PARTNER_NO, "stopped"},
	{"m_broken_pollen_passes_in_part", "apricot", "Katy", "apricot", "Goldrich", PARTNER_PARTLY, "M, is broken"},
	{"male_sterile_apricots_serve_nobody", "apricot", "Colorao", "apricot", "Bergeron", PARTNER_NO, "no good pollen"},
	{"groups_alone_settle_almonds", "almond", "Kapareil", "almond", "Nonpareil", PARTNER_YES, "different groups"},
	{"one_group_of_almonds_is_barred", "almond", "Kapareil", "almond", "Sonora", PARTNER_NO, "group SO"},
	{"a_hazel_that_may_show_either_is_not_known", "hazelnut", "Daviana", "hazelnut", "Ennis", PARTNER_NOT_KNOWN, "not on record"},
	{"one_that_shows_what_the_pistil_lacks_serves", "hazelnut", "Lewis", "hazelnut", "Barcelona", PARTNER_YES, "has none of it"},
	{"one_whose_alleles_are_both_lacking_serves_either_way", "hazelnut", "Negret", "hazelnut", "Barcelona", PARTNER_YES, "has none of it"},
	{"an_olive_of_no_group_is_not_known", "olive", "Picual", "olive", "Frantoio", PARTNER_NOT_KNOWN, "not on record"},
	{"one_letter_of_avocado_gives_little", "avocado", "Fuerte", "avocado", "Zutano", PARTNER_NO, "gives little"},
	{"another_common_fig_is_no_partner", "fig", "Mission", "fig", "Calimyrna", PARTNER_NO, ""},
	{"a_caprifig_is", "fig", "Roeding 3", "fig", "Calimyrna", PARTNER_YES, "wasp"},
	{"a_persimmon_of_female_flowers_gives_nothing", "persimmon", "Fuyu", "persimmon", "Hachiya", PARTNER_NO, "no good pollen"},
	{"chinese_chestnuts_serve_chinese_ones", "chestnut", "Qing", "chestnut", "Peach", PARTNER_YES, "another clone"},
	{"a_marron_gives_nothing", "chestnut", "Marrone di Val di Susa", "chestnut", "Silverleaf", PARTNER_NO, "no good pollen"},
};
/* clang-format on */

static void answers(const void *one)
{
	const struct pair *pair = one;
	struct partner_verdict verdict =
		ask(pair->giver_kind, pair->giver, pair->taker_kind, pair->taker);
	check_text(partner_word(verdict.answer), partner_word(pair->answer), verdict.reason);
	check_has(verdict.reason, pair->says, pair->name);
}

static void nothing_known_gives_no_answer(void **state)
{
	(void)state;
	struct partner nobody = {.name = ""};
	struct partner bing = of("sweet_cherry", "Bing");
	check_int(partner_serves(&nobody, &bing).answer, PARTNER_NOT_KNOWN, "giver of no kind");
	check_int(partner_serves(&bing, &nobody).answer, PARTNER_NOT_KNOWN, "taker of no kind");
	check_int(partner_bloom(&bing, &nobody), BLOOMS_NOT_KNOWN, "bloom");
}

static void a_crab_apple_serves_an_apple_and_no_cherry(void **state)
{
	(void)state;
	struct partner crab = {.outside = "crabapple", .name = ""};
	struct partner gala = of("apple", "Gala");
	struct partner bing = of("sweet_cherry", "Bing");
	check_int(partner_serves(&crab, &gala).answer, PARTNER_YES, "apple");
	check_int(partner_serves(&crab, &bing).answer, PARTNER_NO, "cherry");
}

static void a_seedless_mandarin_with_a_giver_is_a_harm(void **state)
{
	(void)state;
	struct partner_verdict nova = ask("mandarin", "Dancy", "mandarin", "Nova");
	check_int(nova.answer, PARTNER_YES, nova.reason);
	assert_true(nova.harm);
	struct partner_verdict minneola = ask("mandarin", "Dancy", "mandarin", "Minneola");
	check_int(minneola.answer, PARTNER_YES, minneola.reason);
	assert_false(minneola.harm); /* it has seeds anyway */
	struct partner_verdict tango = ask("mandarin", "Dancy", "mandarin", "Tango");
	assert_false(tango.harm); /* it never has any */
}

static void a_self_fertile_giver_is_as_sure_as_that_it_is_one(void **state)
{
	(void)state;
	struct partner_verdict verdict = ask("sweet_cherry", "Stella", "sweet_cherry", "Bing");
	check_int(verdict.sure, KNOWN_READ, verdict.reason);
	check_text(verdict.source, "osu-cherry-chart", "the chart");
	verdict = ask("sweet_cherry", "Stella", "sweet_cherry", "Lapins");
	check_int(verdict.sure, KNOWN_MEMORY, "in full: by the second alleles");
}

static void another_citrus_may_serve(void **state)
{
	(void)state;
	struct partner lime = {.outside = "lime", .name = ""};
	struct partner minneola = of("mandarin", "Minneola");
	check_int(partner_serves(&lime, &minneola).answer, PARTNER_NOT_KNOWN, "lime");
}

/* --- alone --- */

static void alone_is_told_by_the_cultivar_before_the_kind(void **state)
{
	(void)state;
	bool of_kind = false;
	const char *source = NULL;
	enum known_by sure = KNOWN_READ;
	struct partner stella = of("sweet_cherry", "Stella");
	struct partner unnamed = of("sweet_cherry", "");
	struct partner barn = of("sweet_cherry", "Barn Red");
	struct partner nobody = {.name = ""};
	check_int(partner_alone(&stella, &of_kind, &source, &sure), SELF_YES, "Stella");
	assert_false(of_kind);
	check_text(source, "osu-cherry-chart", "source");
	check_int(partner_alone(&unnamed, &of_kind, &source, &sure), SELF_NO, "no cultivar");
	assert_true(of_kind);
	check_int(partner_alone(&barn, &of_kind, &source, &sure), SELF_NO, "not in the table");
	assert_true(of_kind);
	check_int(partner_alone(&nobody, &of_kind, &source, &sure), SELF_UNKNOWN, "no kind");
}

/* --- bloom --- */

static struct window_span span(int month_from, int day_from, int month_to, int day_to)
{
	struct month_day from = {.month = (int8_t)month_from, .day = (int8_t)day_from};
	struct month_day to = {.month = (int8_t)month_to, .day = (int8_t)day_to};
	return (struct window_span){
		.from = date_of_month_day(2026, from), .to = date_of_month_day(2026, to)};
}

static void days_in_common_count_both_ends(void **state)
{
	(void)state;
	check_int(partner_overlap_days(span(4, 1, 4, 10), span(4, 5, 4, 20)), 6, "in part");
	check_int(partner_overlap_days(span(4, 5, 4, 20), span(4, 1, 4, 10)), 6, "turned round");
	check_int(partner_overlap_days(span(4, 1, 4, 10), span(4, 10, 4, 20)), 1, "one day");
	check_int(partner_overlap_days(span(4, 1, 4, 10), span(4, 11, 4, 20)), 0, "the day after");
	check_int(partner_overlap_days(span(4, 1, 4, 30), span(4, 11, 4, 12)), 2, "inside");
	check_int(partner_overlap_days(span(4, 1, 4, 10), span(9, 1, 9, 9)), 0, "far apart");
}

static void one_class_off_still_meets(void **state)
{
	(void)state;
	struct partner early = of("sweet_cherry", "Samba");
	struct partner early_mid = of("sweet_cherry", "Lapins");
	struct partner mid = of("sweet_cherry", "Bing");
	struct partner other = of("apple", "Gala");
	check_int(partner_bloom(&early, &early), BLOOMS_MEET, "same");
	check_int(partner_bloom(&early, &early_mid), BLOOMS_MEET, "next");
	check_int(partner_bloom(&early, &mid), BLOOMS_APART, "two off");
	check_int(partner_bloom(&mid, &other), BLOOMS_NOT_KNOWN, "classes of two kinds");
}

/* --- suggesting --- */

static void what_is_suggested_serves_and_blooms_with_it(void **state)
{
	(void)state;
	const struct cultivar *out[4];
	struct partner bing = of("sweet_cherry", "Bing");
	struct partner unnamed = of("sweet_cherry", "");
	int32_t count = partner_suggest(&bing, out, 4);
	assert_true(count > 0);
	for (int32_t i = 0; i < count; i++) {
		struct partner giver = of("sweet_cherry", out[i]->name);
		struct partner_verdict verdict = partner_serves(&giver, &bing);
		check_int(verdict.answer, PARTNER_YES, out[i]->name);
		check_int(verdict.bloom, BLOOMS_MEET, out[i]->name);
	}
	check_int(partner_suggest(&unnamed, out, 4), 0, "for a cultivar not known: none");
}

static void nothing_that_spoils_is_suggested(void **state)
{
	(void)state;
	const struct cultivar *out[8];
	struct partner colossal = of("chestnut", "Colossal");
	int32_t count = partner_suggest(&colossal, out, 8);
	assert_true(count > 0);
	for (int32_t i = 0; i < count; i++)
		assert_string_not_equal(out[i]->type, "mollissima");
}

/* --- properties --- */

/* Over every pair of every kind: an answer has words, a source that is there, and where two carry
 * the same alleles with no mark neither serves the other. */
static void every_pair_has_words_and_a_source(void **state)
{
	(void)state;
	for (int32_t s = 0; s < almanac_species_count(almanac); s++) {
		const struct species *species = almanac_species_at(almanac, s);
		for (int32_t i = 0; i < species->cultivar_count; i++) {
			struct partner giver = of(species->key, species->cultivars[i].name);
			for (int32_t j = 0; j < species->cultivar_count; j++) {
				struct partner taker = of(species->key, species->cultivars[j].name);
				struct partner_verdict verdict = partner_serves(&giver, &taker);
				assert_true(verdict.reason[0] != '\0');
				assert_non_null(almanac_source(almanac, verdict.source));
				check_int(verdict.same, i == j, verdict.reason);
				assert_int_equal(partner_bloom(&giver, &taker),
					partner_bloom(&taker, &giver));
			}
		}
	}
}

int main(void)
{
	struct table *table = outside_open("tests/outside/partners.tsv");
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(nothing_known_gives_no_answer),
		cmocka_unit_test(a_crab_apple_serves_an_apple_and_no_cherry),
		cmocka_unit_test(a_seedless_mandarin_with_a_giver_is_a_harm),
		cmocka_unit_test(a_self_fertile_giver_is_as_sure_as_that_it_is_one),
		cmocka_unit_test(another_citrus_may_serve),
		cmocka_unit_test(alone_is_told_by_the_cultivar_before_the_kind),
		cmocka_unit_test(days_in_common_count_both_ends),
		cmocka_unit_test(one_class_off_still_meets),
		cmocka_unit_test(what_is_suggested_serves_and_blooms_with_it),
		cmocka_unit_test(nothing_that_spoils_is_suggested),
		cmocka_unit_test(every_pair_has_words_and_a_source),
	};
	open_tables(NULL);
	int failed = run_rows("partners as published", table, check_row);
	failed += RUN_CASES("partners, what is not on record", PAIRS, answers);
	failed += cmocka_run_group_tests_name("partner", tests, NULL, NULL);
	table_free(table);
	close_tables(NULL);
	return failed != 0;
}
