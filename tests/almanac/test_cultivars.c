/* SPDX-License-Identifier: MIT */
/* Cultivars and who serves whom: finding by name, whence a trait is, and the shipped rows as a
 * whole. Broken rows are in test_sheet.c. */
#include "almanac/almanac.h"
#include "almanac/cultivar.h"

#include <stdio.h>
#include <string.h>

#include "support/table.h"
#include "support/test.h"

static struct almanac *shipped; /* for the rows as published */

static int open_tables(void **state)
{
	struct almanac *almanac = NULL;
	struct fault why;
	check_ok(almanac_open("share/almanac", &almanac, &why), &why);
	*state = almanac;
	return 0;
}

static int close_tables(void **state)
{
	almanac_close(*state);
	return 0;
}

/* --- finding --- */

struct found {
	const char *species;
	const char *typed;
	const char *name; /* "" none */
};
/* clang-format off */
static const struct found FOUND[] = {
	{"apple",         "Fuji",                 "Fuji"},
	{"apple",         "  fuji ",              "Fuji"},
	{"apple",         "FUJI",                 "Fuji"},
	{"apple",         "cox",                  "Cox's Orange Pippin"},
	{"apple",         "coxs orange pippin",   "Cox's Orange Pippin"},
	{"apple",         "Cox\xE2\x80\x99s Orange Pippin", "Cox's Orange Pippin"},
	{"apple",         "Crispin",              "Mutsu"},
	{"apple",         "Stayman winesap",      "Stayman"},
	{"apple",         "Winesap",              "Winesap"},
	{"apple",         "Fu",                   ""},
	{"apple",         "",                     ""},
	{"apple",         "'- .",                 ""},
	{"apple",         "Bing",                 ""},
	{"sweet_cherry",  "bing",                 "Bing"},
	{"sweet_cherry",  "royal ann",            "Napoleon"},
	{"sweet_cherry",  "Sunburst",             "Sunburst"},
	{"mandarin",      "sunburst",             "Sunburst"},
	{"european_pear", "williams",             "Bartlett"},
	{"loquat",        "juda",                 "Yehuda"},
	{"loquat",        "SES 1",                ""},
	{"loquat",        "ses#1",                "SES #1"},
	{"persimmon",     "hana-fuyu",            "Hana Fuyu"},
	{"fig",           "Brown Turkey",         ""},
	{"fig",           "brown turkey (southeast)", "Brown Turkey (Southeast)"},
	{"hazelnut",      "halls giant",          "Hall's Giant"},
};
/* clang-format on */

static void finds_by_what_was_typed(void **state)
{
	for (size_t i = 0; i < sizeof FOUND / sizeof FOUND[0]; i++) {
		const struct species *species = almanac_species(*state, FOUND[i].species);
		const struct cultivar *row = cultivar_find(species, FOUND[i].typed);
		check_text(row == NULL ? "" : row->name, FOUND[i].name, FOUND[i].typed);
	}
}

static void lists_the_rows_of_a_kind_and_no_other(void **state)
{
	int32_t count = 0;
	const struct cultivar *rows = almanac_cultivars(*state, "quince", &count);
	check_int(count, 10, "quinces");
	for (int32_t i = 0; i < count; i++)
		check_text(rows[i].species, "quince", rows[i].name);
	rows = almanac_cultivars(*state, "lime", &count);
	assert_non_null(rows);
	check_int(count, 2, "a kind known by name only has rows too");
	assert_null(almanac_cultivars(*state, "mango", &count));
	check_int(count, 0, "none");
}

/* --- traits --- */

static void tells_whence_a_single_trait_is(void **state)
{
	const struct species *cherry = almanac_species(*state, "sweet_cherry");
	const struct cultivar *bing = cultivar_find(cherry, "Bing");
	enum known_by sure = KNOWN_COMMON_PRACTICE;
	check_text(cultivar_source(bing, "alleles", &sure), "osu-cherry-chart", "alleles");
	check_int(sure, KNOWN_READ, "read");
	check_text(cultivar_source(bing, "skin", &sure), "cultivar-memory", "skin");
	check_int(sure, KNOWN_MEMORY, "memory");
	const struct cultivar *hakko =
		cultivar_find(almanac_species(*state, "asian_pear"), "Hakko");
	check_text(cultivar_source(hakko, "self", &sure), "nsw-nashi", "the row as a whole");
	check_int(sure, KNOWN_READ, "read");
	check_text(cultivar_source(hakko, "alleles", &sure), "cultivar-memory", "all but these");
	check_int(sure, KNOWN_MEMORY, "memory");
}

static void a_trait_named_like_part_of_another_is_not_it(void **state)
{
	const struct cultivar *orange =
		cultivar_find(almanac_species(*state, "quince"), "Cooke's Jumbo");
	enum known_by sure = KNOWN_READ;
	char out[40];
	cultivar_source(orange, "size", &sure);
	check_int(sure, KNOWN_SECOND_HAND, "size");
	check_text(cultivar_source(orange, "siz", &sure), "cultivar-memory", "no such trait");
	assert_true(cultivar_more(orange, "raw", out, sizeof out));
	check_text(out, "no", "raw");
	assert_false(cultivar_more(orange, "ra", out, sizeof out));
	check_text(out, "", "none");
}

static void reads_classes_signs_and_marks(void **state)
{
	const struct cultivar *stella =
		cultivar_find(almanac_species(*state, "sweet_cherry"), "Stella");
	const struct cultivar *chelan =
		cultivar_find(almanac_species(*state, "sweet_cherry"), "Chelan");
	const struct cultivar *jonagold =
		cultivar_find(almanac_species(*state, "apple"), "Jonagold");
	check_int(stella->self, SELF_YES, "Stella");
	check_text(stella->alleles, "S3 S4'", "Stella");
	check_int(stella->days.value, 4, "after Bing");
	check_int(chelan->days.value, -12, "before Bing");
	check_text(chelan->against, "Bing", "against");
	check_int(chelan->bloom, BLOOM_EARLY_MID, "bloom");
	check_text(bloom_class_word(chelan->bloom), "early-mid", "word");
	check_int(jonagold->ploidy, PLOIDY_3X, "Jonagold");
	check_text(self_fruitful_word(jonagold->self), "no", "Jonagold alone");
	check_text(self_fruitful_word(SELF_UNKNOWN), "", "unknown");
}

/* --- the rows as a whole --- */

static void every_kind_has_cultivars_and_a_way_of_pollination(void **state)
{
	for (int32_t i = 0; i < almanac_species_count(*state); i++) {
		const struct species *species = almanac_species_at(*state, i);
		if (species->cultivar_count == 0 || species->pollination == NULL)
			print_error("%s has none\n", species->key);
		assert_true(species->cultivar_count > 0);
		assert_non_null(species->pollination);
	}
}

static void loquat_and_apple_have_what_a_key_needs(void **state)
{
	const struct species *loquat = almanac_species(*state, "loquat");
	const struct species *apple = almanac_species(*state, "apple");
	int32_t told = 0;
	assert_true(loquat->cultivar_count >= 30);
	for (int32_t i = 0; i < apple->cultivar_count; i++)
		if (apple->cultivars[i].flesh[0] != '\0' && apple->cultivars[i].skin[0] != '\0' &&
			apple->cultivars[i].days.known)
			told++;
	assert_true(told >= 40);
}

/* A row with nothing but memory behind it may not say otherwise, and every key is a source. */
static void memory_never_says_that_it_was_read(void **state)
{
	for (int32_t i = 0; i < almanac_species_count(*state); i++) {
		const struct species *species = almanac_species_at(*state, i);
		for (int32_t c = 0; c < species->cultivar_count; c++) {
			const struct cultivar *row = &species->cultivars[c];
			if (strstr(row->source, "memory") != NULL)
				check_int(row->sure, KNOWN_MEMORY, row->name);
			for (int32_t t = 0; t < row->trait_count; t++)
				if (strstr(row->traits[t].source, "memory") != NULL)
					check_int(row->traits[t].sure, KNOWN_MEMORY, row->name);
		}
		for (int32_t p = 0; p < species->pair_count; p++)
			if (strstr(species->pairs[p].source, "memory") != NULL)
				check_int(species->pairs[p].sure, KNOWN_MEMORY, species->key);
	}
}

/* A reference cultivar is a row of the same kind, and stands at day 0. */
static void days_count_from_a_row_of_the_table(void **state)
{
	for (int32_t i = 0; i < almanac_species_count(*state); i++) {
		const struct species *species = almanac_species_at(*state, i);
		for (int32_t c = 0; c < species->cultivar_count; c++) {
			const struct cultivar *row = &species->cultivars[c];
			if (!row->days.known || strcmp(row->against, "full bloom") == 0)
				continue;
			const struct species *plums = almanac_species(*state, "european_plum");
			const struct species *of =
				strcmp(row->against, "Stanley") == 0 ? plums : species;
			const struct cultivar *reference = cultivar_find(of, row->against);
			assert_non_null(reference);
			check_int(reference->days.value, 0, row->against);
		}
	}
}

/* A pair that holds both ways is among the pairs of both. */
static void a_pair_both_ways_is_there_twice(void **state)
{
	const struct species *pear = almanac_species(*state, "european_pear");
	int32_t seen = 0;
	for (int32_t i = 0; i < pear->pair_count; i++) {
		const struct pollen_pair *pair = &pear->pairs[i];
		seen += strcmp(pair->receiver, "Starkrimson") == 0 &&
			strcmp(pair->giver, "Flemish Beauty") == 0;
		seen += strcmp(pair->receiver, "Flemish Beauty") == 0 &&
			strcmp(pair->giver, "Starkrimson") == 0;
	}
	check_int(seen, 2, "both ways");
}

/* --- traits as published --- */

static const char *trait_of(const struct cultivar *row, const char *trait, char *days, size_t size)
{
	static const char *const ploidies[] = {"", "2x", "3x", "3x?", "4x", "6x"};
	static const char *const pollens[] = {"", "none", "poor", "good"};
	const struct {
		const char *name;
		const char *words;
	} traits[] = {
		{"flesh", row->flesh},
		{"skin", row->skin},
		{"shape", row->shape},
		{"season", row->season},
		{"self", self_fruitful_word(row->self)},
		{"bloom", bloom_class_word(row->bloom)},
		{"group", row->group},
		{"alleles", row->alleles},
		{"ploidy", ploidies[row->ploidy]},
		{"pollen", pollens[row->pollen]},
		{"type", row->type},
		{"bears", row->bears},
		{"days", days},
	};
	snprintf(days, size, "%d", row->days.known ? row->days.value : 0);
	for (size_t i = 0; i < sizeof traits / sizeof traits[0]; i++)
		if (strcmp(traits[i].name, trait) == 0)
			return traits[i].words;
	fail_msg("no trait %s", trait);
	return "";
}

static void check_trait(const struct table_row *row)
{
	static const char *const sures[] = {"read", "common-practice", "second-hand", "memory"};
	const struct species *species = almanac_species(shipped, row_text(row, "kind"));
	const char *trait = row_text(row, "trait");
	enum known_by sure = KNOWN_MEMORY;
	char days[12];
	int32_t count = 0;
	const struct cultivar *found =
		species != NULL ? cultivar_find(species, row_text(row, "cultivar")) : NULL;
	const struct cultivar *rows = almanac_cultivars(shipped, row_text(row, "kind"), &count);
	for (int32_t i = 0; found == NULL && i < count; i++)
		if (strcmp(rows[i].name, row_text(row, "cultivar")) == 0)
			found = &rows[i];
	assert_non_null(found);
	check_text(trait_of(found, trait, days, sizeof days), row_text(row, "value"), trait);
	cultivar_source(found, trait, &sure);
	check_text(sures[sure], row_text(row, "sure"), trait);
}

int main(void)
{
	struct table *table = outside_open("tests/outside/cultivars.tsv");
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(finds_by_what_was_typed),
		cmocka_unit_test(lists_the_rows_of_a_kind_and_no_other),
		cmocka_unit_test(tells_whence_a_single_trait_is),
		cmocka_unit_test(a_trait_named_like_part_of_another_is_not_it),
		cmocka_unit_test(reads_classes_signs_and_marks),
		cmocka_unit_test(every_kind_has_cultivars_and_a_way_of_pollination),
		cmocka_unit_test(loquat_and_apple_have_what_a_key_needs),
		cmocka_unit_test(memory_never_says_that_it_was_read),
		cmocka_unit_test(days_count_from_a_row_of_the_table),
		cmocka_unit_test(a_pair_both_ways_is_there_twice),
	};
	struct fault why;
	int failed = almanac_open("share/almanac", &shipped, &why) != STATUS_OK;
	failed += run_rows("cultivars as published", table, check_trait);
	failed += cmocka_run_group_tests_name("cultivars", tests, open_tables, close_tables);
	almanac_close(shipped);
	table_free(table);
	return failed != 0;
}
