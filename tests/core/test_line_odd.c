/* SPDX-License-Identifier: MIT */
/* Entry lines spoiled at random: bytes and words lost, doubled, swapped, put in. Whatever comes of
 * them, the words stay, a refusal says why and where, and what is read can be said again.
 * SEED=n repeats a run. */
#include <string.h>

#include "core/line.h"
#include "core/text.h"
#include "support/names.h"
#include "support/scratch.h"
#include "support/test.h"

enum { LINES_TRIED = 20000, ODD_SIZE = 600 };

static const char *const sources[] = {
	"A3 picked 6 lb 4 oz 85 fruit @ 12 may ; hot",
	"A3: cut shape 20% of crown, tools cleaned, 12 in below @ yesterday",
	"fig by gate, fed 1 1/2 kg 10-10-10 @ 2026-05-12",
	"T picked 3 bags + two 5-gal buckets, 47 lb on the food bank's scale",
	"T plan fed every 4-6 wks Feb to mid-Apr, then Oct to Xmas",
	"T picked 37 lb today (bathroom scales), 70+ so far, 2/3 picked",
	"T stems 5\", 6\" and 8\" at 1 ft",
	"A3 girth 41 cm",
	"A3 sprayed sulfur, phi 7 days, rei 12 h",
	"A3 saw 10% of leaves with scab heavy",
	"all in north row watered 100 gal total",
	"frost \xE2\x88\x92"
	"2\xC2\xB0"
	"C last night",
	"T died 2019, Bosc in same hole",
	"T picked good crop 2013, 2014, 2015",
	"A3 leave until 2027-10 ; hard cut",
	"T picked 24 4-gal buckets (100 gal)",
	"A3 bloom 30% open",
	"\"fig wall\" picked 10 lb / 4.5 kg",
	"T watered 30 gal x4/wk",
	"T picked 75 lb off 2 trees, 57 from the little one",
	"A3 plan cut limb 1 of 3 @ feb 2027",
	"T moved from pot to NE corner, 2021",
	"N\xC3\xADspero picked 1\xC2\xBD bu pears @ season 2025/26",
};

static const char *const splinters[] = {" ", ",", ";", "@", "\"", "(", ")", "-", "/", "%", "+", "~",
	" and ", " of ", " to ", " 5 ", " lb ", " in ", "99999999999", "0x1", "1e9", "\xC2\xBD",
	"\xC2\xA0", "\xF0\x9F\x8D\x8B", "\xFF", "\x01", "\n", "'", "st 4", " half a ", " a couple ",
	" every ", " until ", " plan ", " all ", "spot ", " picked ", " cut ", " @ ", "10-10-10",
	" x4", "/wk", " at ", " below ", "\xCC\x81", "\xE2\x80\xAE", "2013", " round ", ".", ":"};

static struct dice dice;

static uint64_t roll(uint64_t sides)
{
	return dice_roll(&dice) % sides;
}

static void cut_out(char *line, size_t length)
{
	size_t from = roll(length + 1);
	size_t count = roll(6) + 1;
	count = from + count > length ? length - from : count;
	memmove(line + from, line + from + count, length - from - count + 1);
}

static void put_in(char *line, size_t length, const char *what, size_t count)
{
	if (length + count >= ODD_SIZE)
		return;
	size_t at = roll(length + 1);
	memmove(line + at + count, line + at, length - at + 1);
	memcpy(line + at, what, count);
}

static void spoil(char line[ODD_SIZE])
{
	char piece[40];
	size_t length = strlen(line);
	const char *splinter = splinters[roll(sizeof(splinters) / sizeof(splinters[0]))];
	const char *other = sources[roll(sizeof(sources) / sizeof(sources[0]))];
	size_t from = roll(strlen(other));
	switch (roll(4)) {
	case 0:
		cut_out(line, length);
		break;
	case 1:
		put_in(line, length, splinter, strlen(splinter));
		break;
	case 2:
		(void)snprintf(piece, sizeof(piece), "%.*s", (int)roll(30), other + from);
		put_in(line, length, piece, strlen(piece));
		break;
	default:
		if (length > 0)
			line[roll(length)] = (char)(roll(255) + 1);
		break;
	}
}

static struct line_context odd_context(void)
{
	struct line_context context = fixture_context();
	context.label = roll(3) == 0 ? "A3" : NULL;
	context.numbers.units = (enum unit_system)roll(3);
	context.numbers.gallon = (enum gallon)roll(3);
	context.numbers.style = (enum number_style)roll(3);
	context.dates = (enum date_order)roll(3);
	context.hemisphere = (enum hemisphere)roll(3);
	context.short_labels = roll(2) == 0;
	context.from_file = roll(4) == 0;
	return context;
}

static void check_reading(const struct reading *reading, const struct number_rules *rules)
{
	char out[200];
	const struct entry *draft = &reading->draft;
	if (reading->is_day_line)
		return;
	assert_true(reading->said[0] != '\0');
	assert_true(text_is_valid(reading->said, strlen(reading->said)));
	assert_true(text_is_valid(reading->remarks, strlen(reading->remarks)));
	assert_true((int)draft->kind >= 0 && draft->kind < KIND_TOTAL);
	entry_format(draft, rules, out, sizeof(out));
	for (int32_t i = 0; i < draft->amount_count; i++) {
		const struct amount *amount = &draft->amounts[i];
		assert_true(amount->field > FIELD_NONE && amount->field < FIELD_TOTAL);
		check_int(amount->dimension, field_row((enum field)amount->field)->dimension,
			amount->typed);
		if (amount->low.known && amount->high.known &&
			amount->low.value > amount->high.value)
			fail_msg("'%s': %lld above %lld", draft->words,
				(long long)amount->low.value, (long long)amount->high.value);
		assert_true(amount->dimension == DIMENSION_TEMPERATURE || amount->low.value >= 0);
	}
	for (int32_t i = 0; i < draft->detail_count; i++)
		assert_true(draft->details[i].text[0] != '\0');
	for (int32_t i = 0; i < draft->stem_count; i++)
		assert_true(draft->stems[i].low_um >= 0 &&
			    draft->stems[i].low_um <= draft->stems[i].high_um);
}

static void spoiled_lines_lose_no_word(void **state)
{
	(void)state;
	dice = dice_start();
	struct arena *arena = arena_new();
	int32_t read = 0;
	for (int i = 0; i < LINES_TRIED; i++) {
		char line[ODD_SIZE];
		text_copy(line, sizeof(line), sources[roll(sizeof(sources) / sizeof(sources[0]))]);
		for (uint64_t times = roll(4); times > 0; times--)
			spoil(line);
		struct line_context context = odd_context();
		struct reading *reading = arena_alloc(arena, sizeof(*reading));
		struct fault why = {0};
		size_t column = 0;
		enum status status = line_read(line, &context, arena, reading, &column, &why);
		check_text(reading->draft.words, line, "the words as typed");
		if (status == STATUS_OK) {
			read++;
			check_reading(reading, &context.numbers);
		} else {
			assert_true(why.text[0] != '\0');
			assert_true(column <= strlen(line));
			check_int(why.status, status, why.text);
		}
		arena_reset(arena);
	}
	assert_in_range(read, LINES_TRIED / 10, LINES_TRIED);
	arena_free(arena);
}

/* Where all of a reading is sound, the raw words of its free field are the line's own. */
static void free_words_are_the_raw_ones(void **state)
{
	(void)state;
	struct line_context context = fixture_context();
	struct arena *arena = arena_new();
	struct reading *reading = arena_alloc(arena, sizeof(*reading));
	struct fault why = {0};
	check_ok(line_read("A3 saw  pou\xCC\x82"
			   "x de San\xC2\xA0Jos\xC3\xA9, \xE2\x80\x9Cscale\xE2\x80\x9D light",
			 &context, arena, reading, NULL, &why),
		&why);
	check_text(entry_detail(&reading->draft, FIELD_SUBJECT_SEEN),
		"pou\xCC\x82"
		"x de San\xC2\xA0Jos\xC3\xA9, \xE2\x80\x9Cscale\xE2\x80\x9D",
		"as typed");
	arena_free(arena);
}

/* Wherever the cut falls, it never falls inside a character: 0 to 3 letters before those of two,
 * three and four bytes. */
static void a_remark_quotes_whole_characters(void **state)
{
	(void)state;
	static const char *const signs[] = {"\xC3\xA9", "\xE4\xB8\x96", "\xF0\x9F\x8D\x8B"};
	struct line_context context = fixture_context();
	struct arena *arena = arena_new();
	struct reading *reading = arena_alloc(arena, sizeof(*reading));
	for (int i = 0; i < 12; i++) {
		char line[ODD_SIZE] = "A3 picked from the ";
		struct fault why = {0};
		strcat(line, &"xxx"[i % 4]);
		for (int times = 0; times < 40; times++)
			strcat(line, signs[i / 4]);
		check_ok(line_read(line, &context, arena, reading, NULL, &why), &why);
		check_has(reading->remarks, "is kept in words", line);
		assert_true(text_is_valid(reading->remarks, strlen(reading->remarks)));
	}
	arena_free(arena);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(spoiled_lines_lose_no_word),
		cmocka_unit_test(free_words_are_the_raw_ones),
		cmocka_unit_test(a_remark_quotes_whole_characters),
	};
	return cmocka_run_group_tests_name("odd lines", tests, NULL, NULL) != 0;
}
