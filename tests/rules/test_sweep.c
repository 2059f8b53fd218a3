/* SPDX-License-Identifier: MIT */
/* What the rules say of a shape cut on every day of the year: every kind, every climate, both
 * sides of the equator. tests/rules/sweep.txt is the whole of it, to be read by a grower. */
#include <string.h>

#include "rules/look.h"

#include "core/text.h"
#include "support/test.h"

enum { MONTHS = 12, DAYS_MIRRORED = 28 }; /* later days are clamped in the south */

static const char *const KINDS[] = {
	"loquat", "apple", "peach", "apricot", "fig", "lemon", "orange"};
enum { KIND_COUNT = sizeof KINDS / sizeof KINDS[0] };

static const struct {
	enum climate climate;
	const char *name;
} CLIMATES[] = {{CLIMATE_DRY_SUMMER, "dry summer"}, {CLIMATE_LITTLE_RAIN, "little rain"},
	{CLIMATE_COOL_MARITIME, "cool, wet"}, {CLIMATE_CONTINENTAL, "hard winter"},
	{CLIMATE_HUMID_MILD, "humid, mild"}, {CLIMATE_ANY, "not known"}};
enum { CLIMATE_COUNT = sizeof CLIMATES / sizeof CLIMATES[0] };

static const struct place NORTH = {
	.hemisphere = HEMISPHERE_NORTH, .latitude_udeg = {38000000, true}};
static const struct place SOUTH = {
	.hemisphere = HEMISPHERE_SOUTH, .latitude_udeg = {-38000000, true}};

static struct almanac *almanac;

/* Gravest first: what the crop loses, then what the tree does. */
static const struct {
	enum cut_reason reason;
	char letter;
} REASONS[] = {{REASON_FLOWERS, 'F'}, {REASON_FRUIT, 'H'}, {REASON_DISEASE, 'D'},
	{REASON_FROST, 'f'}, {REASON_SUN, 's'}, {REASON_BLEEDING, 'b'}, {REASON_REGROWTH, 'r'}};

static char verdict_of(const struct dossier *dossier, int32_t month, int32_t day)
{
	struct date date = date_of_month_day(2026, (struct month_day){(int8_t)month, (int8_t)day});
	for (size_t i = 0; i < sizeof REASONS / sizeof REASONS[0]; i++) {
		struct verdict_here here = look_verdict(
			dossier, dossier->kind.species, CUT_SHAPE, date, 1U << REASONS[i].reason);
		if (here.known && here.verdict == VERDICT_AVOID)
			return REASONS[i].letter;
	}
	struct verdict_here here = look_verdict(dossier, dossier->kind.species, CUT_SHAPE, date, 0);
	return !here.known ? '.' : here.verdict == VERDICT_CLEAR ? 'c' : 'a';
}

static struct dossier tree_at(const char *kind, enum climate climate, const struct place *place)
{
	struct dossier dossier = {.place = place, .climate = climate};
	dossier.kind.species = almanac_species(almanac, kind);
	assert_non_null(dossier.kind.species);
	dossier.season_rule = season_rule_for(dossier.kind.species, climate, place, NULL, 0, "");
	return dossier;
}

/* Two letters a month: its 8th and its 23rd. */
static void strip(
	struct text_builder *out, const char *kind, enum climate climate, const struct place *place)
{
	struct dossier dossier = tree_at(kind, climate, place);
	for (int32_t month = 1; month <= MONTHS; month++)
		text_add_format(out, " %c%c", verdict_of(&dossier, month, 8),
			verdict_of(&dossier, month, 23));
}

static int32_t month_days(int32_t month)
{
	struct month_day next = {(int8_t)(month % MONTHS + 1), 1};
	struct date first = date_of_month_day(month == MONTHS ? 2027 : 2026, next);
	return date_parts(date_add_days(first, -1)).day;
}

/* Every day on which the letter changes, and the letter from that day on. */
static void spans(
	struct text_builder *out, const char *kind, enum climate climate, const struct place *place)
{
	struct dossier dossier = tree_at(kind, climate, place);
	char before = '\0';
	for (int32_t month = 1; month <= MONTHS; month++)
		for (int32_t day = 1; day <= month_days(month); day++) {
			char letter = verdict_of(&dossier, month, day);
			if (letter != before)
				text_add_format(out, " %02d-%02d %c", month, day, letter);
			before = letter;
		}
}

/* Letters of all 365 days, for telling climates apart. */
static void days_of(const char *kind, enum climate climate, char out[366])
{
	struct dossier dossier = tree_at(kind, climate, &NORTH);
	int32_t at = 0;
	for (int32_t month = 1; month <= MONTHS; month++)
		for (int32_t day = 1; day <= month_days(month); day++)
			out[at++] = verdict_of(&dossier, month, day);
	out[at] = '\0';
}

/* One strip for all climates that say the same on every day. */
static void sweep_kind(struct text_builder *out, const char *kind)
{
	char days[CLIMATE_COUNT][366];
	bool told[CLIMATE_COUNT] = {false};

	text_add_format(out, "\n%-15s J  F  M  A  M  J  J  A  S  O  N  D   ", kind);
	text_add(out, " J  F  M  A  M  J  J  A  S  O  N  D   south\n");
	for (int32_t at = 0; at < CLIMATE_COUNT; at++)
		days_of(kind, CLIMATES[at].climate, days[at]);
	for (int32_t at = 0; at < CLIMATE_COUNT; at++) {
		char room[256] = "";
		struct text_builder same = text_builder_fixed(room, sizeof room);
		int32_t alike = 1;
		if (told[at])
			continue;
		for (int32_t other = at + 1; other < CLIMATE_COUNT; other++)
			if (strcmp(days[at], days[other]) == 0) {
				told[other] = true;
				alike++;
				text_add_format(&same, "; %s", CLIMATES[other].name);
			}
		bool everywhere = alike == CLIMATE_COUNT;
		text_add_format(out, "%-15s", everywhere ? "everywhere" : CLIMATES[at].name);
		strip(out, kind, CLIMATES[at].climate, &NORTH);
		text_add(out, "  ");
		strip(out, kind, CLIMATES[at].climate, &SOUTH);
		text_add_format(out, "%s%s\n  from:", !everywhere && alike > 1 ? "  also" : "",
			!everywhere && alike > 1 ? room + 1 : "");
		spans(out, kind, CLIMATES[at].climate, &NORTH);
		text_add(out, "\n");
	}
}

static void sweep_reads_as_it_did(void **state)
{
	(void)state;
	static char room[65536];
	struct text_builder out = text_builder_fixed(room, sizeof room);
	text_add(&out,
		"A shape cut on the 8th and the 23rd of each month; below, each month-day of "
		"the north on which the verdict changes\n"
		"c clear   a allowed, with its words   . no rule\n"
		"avoid:  F takes flowers   H takes hanging fruit   D disease   f frost"
		"   s sun   b bleeding   r tender "
		"regrowth\n");
	for (int32_t kind = 0; kind < almanac_species_count(almanac); kind++)
		sweep_kind(&out, almanac_species_at(almanac, kind)->key);
	check_golden(room, "tests/rules/sweep.txt");
}

static void south_is_north_half_a_year_on(void **state)
{
	(void)state;
	int32_t kinds = almanac_species_count(almanac);
	for (int32_t at = 0; at < kinds * CLIMATE_COUNT; at++) {
		const char *kind = almanac_species_at(almanac, at / CLIMATE_COUNT)->key;
		enum climate climate = CLIMATES[at % CLIMATE_COUNT].climate;
		struct dossier north = tree_at(kind, climate, &NORTH);
		struct dossier south = tree_at(kind, climate, &SOUTH);
		for (int32_t month = 1; month <= MONTHS; month++)
			for (int32_t day = 1; day <= DAYS_MIRRORED; day++)
				check_int(verdict_of(&south, (month + 5) % MONTHS + 1, day),
					verdict_of(&north, month, day), kind);
	}
}

/* Where nothing changes after the 28th in the north, nothing does in the south, however long the
 * month is there. */
static void the_last_days_of_a_month_are_not_lost_in_the_south(void **state)
{
	(void)state;
	int32_t kinds = almanac_species_count(almanac);
	for (int32_t at = 0; at < kinds * CLIMATE_COUNT; at++) {
		const char *kind = almanac_species_at(almanac, at / CLIMATE_COUNT)->key;
		enum climate climate = CLIMATES[at % CLIMATE_COUNT].climate;
		struct dossier north = tree_at(kind, climate, &NORTH);
		struct dossier south = tree_at(kind, climate, &SOUTH);
		for (int32_t month = 1; month <= MONTHS; month++) {
			int32_t there = (month + 5) % MONTHS + 1;
			char letter = verdict_of(&north, month, DAYS_MIRRORED);
			bool changes = false;
			for (int32_t day = DAYS_MIRRORED; day <= month_days(month); day++)
				changes = changes || verdict_of(&north, month, day) != letter;
			for (int32_t day = DAYS_MIRRORED; !changes && day <= month_days(there);
				day++)
				check_int(verdict_of(&south, there, day), letter, kind);
		}
	}
}

/* Every day of the months from..to, in every climate (CLIMATE_TOTAL) or in one, has one of these
 * letters. */
static void every_day_is(
	const char *kind, enum climate climate, int32_t from, int32_t to, const char *letters)
{
	for (int32_t at = 0; at < CLIMATE_COUNT; at++) {
		if (climate != CLIMATE_TOTAL && CLIMATES[at].climate != climate)
			continue;
		struct dossier tree = tree_at(kind, CLIMATES[at].climate, &NORTH);
		for (int32_t month = from;; month = month % MONTHS + 1) {
			for (int32_t day = 1; day <= DAYS_MIRRORED; day++) {
				char letter = verdict_of(&tree, month, day);
				if (strchr(letters, letter) == NULL)
					print_error("%s, %s: %c on day %d of month %d\n", kind,
						CLIMATES[at].name, letter, day, month);
				assert_non_null(strchr(letters, letter));
			}
			if (month == to)
				break;
		}
	}
}

static void loquat_is_left_from_bloom_to_the_last_fruit(void **state)
{
	(void)state;
	every_day_is("loquat", CLIMATE_TOTAL, 9, 12, "F");
	every_day_is("loquat", CLIMATE_TOTAL, 1, 5, "H");
}

static void apricot_is_left_in_wet_winters(void **state)
{
	(void)state;
	every_day_is("apricot", CLIMATE_DRY_SUMMER, 10, 3, "D");
	every_day_is("apricot", CLIMATE_COOL_MARITIME, 9, 5, "D");
}

static void autumn_is_clear_for_nothing(void **state)
{
	(void)state;
	for (int32_t kind = 0; kind < KIND_COUNT; kind++)
		every_day_is(KINDS[kind], CLIMATE_TOTAL, 9, 11, ".aFHDfr");
}

static void apple_is_clear_at_the_end_of_winter_everywhere(void **state)
{
	(void)state;
	every_day_is("apple", CLIMATE_TOTAL, 2, 2, "c");
}

static void where_the_climate_is_not_known_stone_fruit_is_clear_on_no_day(void **state)
{
	(void)state;
	every_day_is("apricot", CLIMATE_ANY, 1, 12, ".aFHDfr");
	every_day_is("peach", CLIMATE_ANY, 1, 12, ".aFHDfr");
}

static int open_shipped(void **state)
{
	(void)state;
	struct fault why;
	return almanac_open("share/almanac", &almanac, &why) == STATUS_OK ? 0 : 1;
}

static int close_shipped(void **state)
{
	(void)state;
	almanac_close(almanac);
	return 0;
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(sweep_reads_as_it_did),
		cmocka_unit_test(south_is_north_half_a_year_on),
		cmocka_unit_test(the_last_days_of_a_month_are_not_lost_in_the_south),
		cmocka_unit_test(loquat_is_left_from_bloom_to_the_last_fruit),
		cmocka_unit_test(apricot_is_left_in_wet_winters),
		cmocka_unit_test(autumn_is_clear_for_nothing),
		cmocka_unit_test(apple_is_clear_at_the_end_of_winter_everywhere),
		cmocka_unit_test(where_the_climate_is_not_known_stone_fruit_is_clear_on_no_day),
	};
	return cmocka_run_group_tests_name("sweep", tests, open_shipped, close_shipped);
}
