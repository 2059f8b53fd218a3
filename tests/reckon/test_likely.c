/* SPDX-License-Identifier: MIT */
/* Which cultivar it could be: each published row is found again by its own traits, whole, with a
 * third of them missing, or with one wrong; what looks cannot tell apart, the season does; nothing
 * excludes a row. */
#include "reckon/likely.h"

#include <string.h>

#include "almanac/almanac.h"
#include "support/test.h"

enum { LEAST_TRAITS = 4, TRIES = 3, FIRST_ONES = 3 };

static struct almanac *almanac;
static struct arena *arena;

static int open_tables(void **state)
{
	(void)state;
	struct fault why;
	check_ok(almanac_open("share/almanac", &almanac, &why), &why);
	arena = arena_new();
	return 0;
}

static int close_tables(void **state)
{
	(void)state;
	almanac_close(almanac);
	arena_free(arena);
	return 0;
}

static struct likely_kind kind_of(const char *key)
{
	struct likely_kind kind = {.key = key, .name = key};
	kind.rows = almanac_cultivars(almanac, key, &kind.count);
	assert_non_null(kind.rows);
	return kind;
}

/* --- a row told by its own traits --- */

struct told {
	struct likely_note notes[LIKELY_NOTES_MAX];
	int32_t count;
};

/* The likelier word of each trait, and the day against the reference of its kind. */
static struct told told_of(const struct likely_kind *kind, const struct cultivar *row)
{
	static const char *traits[LIKELY_TRAITS_MAX];
	static const struct cultivar *of;
	static int32_t count;
	struct told told = {.count = 0};
	if (of != kind->rows) {
		of = kind->rows;
		count = likely_traits(kind, 1, traits);
	}
	for (int32_t i = 0; i < count; i++) {
		char value[LIKELY_VALUE_SIZE];
		enum known_by sure;
		struct fault why;
		const bool order = strcmp(traits[i], LIKELY_ORDER) == 0;
		if ((order && !row->days.known) ||
			!likely_says(row, traits[i], value, sizeof value, &sure))
			continue;
		value[strcspn(value, "/")] = '\0';
		check_ok(likely_read(kind, 1, traits[i], value, &told.notes[told.count++], &why),
			&why);
	}
	return told;
}

static int32_t rank_of(
	const struct likely_kind *kind, const struct cultivar *row, const struct told *told)
{
	struct likely likely;
	arena_reset(arena);
	likely_rank(kind, 1, told->notes, told->count, arena, &likely);
	check_int(likely.count, kind->count, "every row stays a candidate");
	for (int32_t i = 0; i < likely.count; i++)
		if (likely.candidates[i].row == row)
			return likely.candidates[i].rank;
	fail_msg("%s is not among the candidates", row->name);
	return 0;
}

static void drop(struct told *told, struct dice *dice, int32_t many)
{
	for (; many > 0 && told->count > 1; many--) {
		const int64_t gone = dice_between(dice, 0, told->count - 1);
		told->notes[gone] = told->notes[told->count - 1];
		told->count--;
	}
}

/* Puts the words of another row in place of one trait's; false: no row says anything else. */
static bool mistake(struct told *told, const struct likely_kind *kind, const struct cultivar *row,
	struct dice *dice)
{
	for (int32_t tries = 0; tries < 200; tries++) {
		struct likely_note *note = &told->notes[dice_between(dice, 0, told->count - 1)];
		const struct cultivar *other = &kind->rows[dice_between(dice, 0, kind->count - 1)];
		struct likely_note wrong;
		char value[LIKELY_VALUE_SIZE];
		enum known_by sure;
		if (!likely_says(other, note->trait, value, sizeof value, &sure))
			continue;
		value[strcspn(value, "/")] = '\0';
		if (likely_read(kind, 1, note->trait, value, &wrong, NULL) != STATUS_OK ||
			likely_fits(row, &wrong) == LIKELY_FITS)
			continue;
		*note = wrong;
		return true;
	}
	return false;
}

/* Rows with at least so many traits are found: whole they share the first place, all of them; with
 * a third gone, or one wrong, they are among the first three in nine tries of ten. */
static void check_kind(const char *key, int32_t least_rows)
{
	const struct likely_kind kind = kind_of(key);
	struct dice dice = dice_start();
	int32_t rows = 0, tries = 0, gone = 0, wrong = 0;
	for (int32_t i = 0; i < kind.count; i++) {
		const struct cultivar *row = &kind.rows[i];
		const struct told whole = told_of(&kind, row);
		if (whole.count < LEAST_TRAITS)
			continue;
		rows++;
		check_int(rank_of(&kind, row, &whole), 1, row->name);
		for (int32_t t = 0; t < TRIES; t++, tries++) {
			struct told told = whole;
			drop(&told, &dice, whole.count / 3);
			gone += rank_of(&kind, row, &told) <= FIRST_ONES;
			told = whole;
			assert_true(mistake(&told, &kind, row, &dice));
			wrong += rank_of(&kind, row, &told) <= FIRST_ONES;
		}
	}
	print_message("%s: %d rows, of %d tries first three: %d a third gone, %d one wrong\n", key,
		rows, tries, gone, wrong);
	assert_true(rows >= least_rows);
	assert_true(gone * 10 >= tries * 9);
	assert_true(wrong * 10 >= tries * 9);
}

static void each_loquat_is_found_by_its_own_traits(void **state)
{
	(void)state;
	check_kind("loquat", 30);
}

static void each_apple_is_found_by_its_own_traits(void **state)
{
	(void)state;
	check_kind("apple", 40);
}

static void each_row_of_every_kind_shares_first_by_its_own_traits(void **state)
{
	(void)state;
	int32_t rows = 0;
	for (int32_t k = 0; k < almanac_species_count(almanac); k++) {
		const struct species *species = almanac_species_at(almanac, k);
		if (species->cultivar_count == 0)
			continue;
		const struct likely_kind kind = kind_of(species->key);
		for (int32_t i = 0; i < kind.count; i++, rows++) {
			const struct told told = told_of(&kind, &kind.rows[i]);
			check_int(rank_of(&kind, &kind.rows[i], &told), 1, kind.rows[i].name);
		}
	}
	assert_true(rows > 500);
}

/* --- what looks cannot tell --- */

static void sweet_cherries_are_told_by_their_season(void **state)
{
	(void)state;
	const struct likely_kind kind = kind_of("sweet_cherry");
	int32_t pairs = 0, alike = 0, near = 0;
	for (int32_t i = 0; i < kind.count; i++)
		for (int32_t k = 0; k < i; k++) {
			const struct maybe_i32 days =
				likely_days_between(&kind.rows[i], &kind.rows[k]);
			pairs++;
			if (!likely_alike(&kind.rows[i], &kind.rows[k]))
				continue;
			alike++;
			near += days.known && days.value <= 14 && days.value >= -14;
		}
	print_message("%d pairs, %d alike, %d of them within a fortnight\n", pairs, alike, near);
	check_int(pairs, 1770, "pairs");
	check_int(alike, 325, "alike by looks");
	check_int(near, 240, "and ripe within a fortnight of one another");
}

static struct likely_note note_of(
	const struct likely_kind *kind, const char *trait, const char *value)
{
	struct likely_note note;
	struct fault why;
	check_ok(likely_read(kind, 1, trait, value, &note, &why), &why);
	return note;
}

/* The first rows with and without the day. */
static void a_day_parts_cherries_that_look_alike(void **state)
{
	(void)state;
	const struct likely_kind kind = kind_of("sweet_cherry");
	struct told told = {.count = 3};
	told.notes[0] = note_of(&kind, "skin", "dark red");
	told.notes[1] = note_of(&kind, "flesh", "red");
	told.notes[2] = note_of(&kind, "shape", "heart");
	struct likely likely;
	arena_reset(arena);
	likely_rank(&kind, 1, told.notes, told.count, arena, &likely);
	check_int(likely.candidates[7].rank, 1, "many share the first place by looks");
	check_text(likely.next[0].trait, LIKELY_ORDER, "its season is what to look at");
	const struct cultivar *late = NULL;
	for (int32_t i = 0; i < kind.count; i++)
		if (strcmp(kind.rows[i].name, "Staccato") == 0)
			late = &kind.rows[i];
	assert_non_null(late);
	told.notes[told.count++] = note_of(&kind, "order", "26 days after Bing");
	check_int(rank_of(&kind, late, &told), 1, "the late one");
	told.notes[told.count - 1] = note_of(&kind, "order", "10 days before Bing");
	assert_true(rank_of(&kind, late, &told) > 20);
}

/* --- words --- */

static void words_fit_are_near_or_differ(void **state)
{
	(void)state;
	static const struct {
		const char *noted, *cell;
		enum likely_fit fit;
	} cases[] = {
		{"white", "white", LIKELY_FITS},
		{"cream", "white/cream", LIKELY_FITS},
		{"red/cream", "yellow/cream", LIKELY_FITS},
		{"yellow", "light-yellow", LIKELY_NEAR},
		{"deep-yellow", "yellow-orange", LIKELY_NEAR},
		{"golden", "yellow", LIKELY_NEAR},
		{"cream", "white", LIKELY_NEAR},
		{"deep-yellow", "deep-orange", LIKELY_NEAR},
		{"white", "orange", LIKELY_DIFFERS},
		{"pale-green", "pale-red", LIKELY_DIFFERS},
		{"flat-round", "round", LIKELY_NEAR},
		{"small", "medium", LIKELY_NEAR},
		{"small", "large", LIKELY_DIFFERS},
		{"free", "cling", LIKELY_DIFFERS},
		{"3", "2-4", LIKELY_FITS},
		{"2-4", "3", LIKELY_FITS},
		{"2-4", "3-5", LIKELY_NEAR},
		{"5", "4", LIKELY_NEAR},
		{"6", "1-2", LIKELY_DIFFERS},
		{"few", "1-2", LIKELY_NOT_KNOWN},
		{"mar", "feb-apr", LIKELY_FITS},
		{"jan", "nov-feb", LIKELY_FITS},
		{"mar", "nov-feb", LIKELY_NEAR},
		{"jul", "nov-feb", LIKELY_DIFFERS},
		{"jul", "all-year", LIKELY_FITS},
		{"early", "feb-apr", LIKELY_NOT_KNOWN},
		{"early-mid", "mid", LIKELY_NEAR},
		{"white", "", LIKELY_NOT_KNOWN},
	};
	for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
		struct cultivar row = {.type = "", .flesh = cases[i].cell, .more = ""};
		struct likely_note note = {.trait = "flesh"};
		(void)snprintf(note.value, sizeof note.value, "%s", cases[i].noted);
		check_int(likely_fits(&row, &note), cases[i].fit, cases[i].noted);
	}
}

static void months_turn_by_half_a_year(void **state)
{
	(void)state;
	char out[80];
	check_text(likely_turn_season("feb-apr", out, sizeof out), "aug-oct", "months");
	check_text(likely_turn_season("nov-feb/jul", out, sizeof out), "may-aug/jan", "two");
	check_text(likely_turn_season("early/all-year", out, sizeof out), "early/all-year",
		"classes stay");
}

/* --- orders --- */

static void an_order_compares_with_a_known_one(void **state)
{
	(void)state;
	const struct likely_kind kind = kind_of("loquat");
	struct likely_note note = note_of(&kind, "order", "after Mogi");
	const struct cultivar early = {.season = "very-early", .against = "", .more = ""};
	const struct cultivar late = {.season = "late", .against = "", .more = ""};
	const struct cultivar unknown = {.season = "", .against = "", .more = ""};
	check_int(note.side, 1, "after");
	assert_false(note.days.known);
	check_int(likely_fits(&late, &note), LIKELY_FITS, "a late one");
	check_int(likely_fits(&early, &note), LIKELY_DIFFERS, "an early one");
	check_int(likely_fits(&unknown, &note), LIKELY_NOT_KNOWN, "one of no known season");
	note = note_of(&kind, "ripens", "late");
	check_text(note.trait, "season", "by another name");
	const struct likely_kind plums = kind_of("japanese_plum");
	note = note_of(&plums, "order", "30 days before Stanley");
	assert_null(note.against);
	check_text(note.reference, "Stanley", "of another kind");
}

static void what_is_no_trait_or_no_word_is_refused(void **state)
{
	(void)state;
	const struct likely_kind kind = kind_of("loquat");
	struct likely_note note;
	struct fault why;
	check_refused(likely_read(&kind, 1, "flash", "white", &note, &why), STATUS_SYNTAX, &why,
		"flesh skin shape seeds peel");
	check_refused(likely_read(&kind, 1, "flesh", "blu", &note, &why), STATUS_SYNTAX, &why,
		"rows say white");
	check_refused(likely_read(&kind, 1, "order", "after Nobody", &note, &why), STATUS_SYNTAX,
		&why, "no 'Nobody'");
	check_refused(likely_read(&kind, 1, "order", "late", &note, &why), STATUS_SYNTAX, &why,
		"12 days before NAME");
	check_refused(likely_read(&kind, 1, "order", "400 days after Mogi", &note, &why),
		STATUS_RANGE, &why, "0..365");
	check_refused(likely_read(&kind, 1, "weight", "20 g", &note, &why), STATUS_SYNTAX, &why,
		"no trait");
}

/* --- doubt --- */

/* What is known from memory speaks against a row by half, and neither is left out. */
static void memory_ranks_and_never_excludes(void **state)
{
	(void)state;
	const struct cultivar rows[] = {
		{.name = "read",
			.type = "",
			.flesh = "red",
			.against = "",
			.more = "",
			.source = "s",
			.sure = KNOWN_READ},
		{.name = "told",
			.type = "",
			.flesh = "red",
			.against = "",
			.more = "",
			.source = "s",
			.sure = KNOWN_SECOND_HAND},
		{.name = "bare",
			.type = "",
			.flesh = "",
			.against = "",
			.more = "",
			.source = "s",
			.sure = KNOWN_READ},
		{.name = "fits",
			.type = "",
			.flesh = "white",
			.against = "",
			.more = "",
			.source = "s",
			.sure = KNOWN_MEMORY},
	};
	const struct likely_kind kind = {.rows = rows, .count = 4};
	const struct likely_note note = {.trait = "flesh", .value = "white"};
	struct likely likely;
	arena_reset(arena);
	likely_rank(&kind, 1, &note, 1, arena, &likely);
	static const char *const order[] = {"fits", "bare", "told", "read"};
	check_int(likely.count, 4, "all stay");
	for (int i = 0; i < 4; i++) {
		check_text(likely.candidates[i].row->name, order[i], "place");
		check_int(likely.candidates[i].rank, i + 1, order[i]);
	}
	check_int(likely.candidates[0].surest, KNOWN_MEMORY, "said to be from memory");
}

static void nothing_noted_leaves_all_beside_one_another(void **state)
{
	(void)state;
	const struct likely_kind kind = kind_of("loquat");
	struct likely likely;
	arena_reset(arena);
	likely_rank(&kind, 1, NULL, 0, arena, &likely);
	for (int32_t i = 0; i < likely.count; i++)
		check_int(likely.candidates[i].rank, 1, likely.candidates[i].row->name);
	assert_true(likely.next_count > 0);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(each_loquat_is_found_by_its_own_traits),
		cmocka_unit_test(each_apple_is_found_by_its_own_traits),
		cmocka_unit_test(each_row_of_every_kind_shares_first_by_its_own_traits),
		cmocka_unit_test(sweet_cherries_are_told_by_their_season),
		cmocka_unit_test(a_day_parts_cherries_that_look_alike),
		cmocka_unit_test(words_fit_are_near_or_differ),
		cmocka_unit_test(months_turn_by_half_a_year),
		cmocka_unit_test(an_order_compares_with_a_known_one),
		cmocka_unit_test(what_is_no_trait_or_no_word_is_refused),
		cmocka_unit_test(memory_ranks_and_never_excludes),
		cmocka_unit_test(nothing_noted_leaves_all_beside_one_another),
	};
	int failed = cmocka_run_group_tests(tests, open_tables, close_tables);
	return failed != 0;
}
