/* SPDX-License-Identifier: MIT */
#include "support/first_yard.h"

#include "report/print.h"

enum { LAST_YEAR = 2026 };

/* The kinds of the yard, in the order of the almanac from one of them on. */
static const char *kind_by_dice(const struct almanac *almanac, const struct first_yard *one,
	int32_t first, struct dice *dice)
{
	static const char *const doubtful[] = {"plum", "cherry", "pear", ""};
	int32_t count = almanac_species_count(almanac);
	int32_t kinds = one->kinds > 0 && one->kinds < count ? one->kinds : count;

	if (one->in_doubt && dice_between(dice, 0, 2) == 0)
		return doubtful[dice_between(dice, 0, 3)];
	int32_t at = first + (int32_t)dice_between(dice, 0, kinds - 1) * (count / kinds);
	return almanac_species_at(almanac, at % count)->key;
}

static void make(struct garden *garden, const struct first_yard *one)
{
	struct place place;
	struct fault why = {0};

	log_case_place(one->climate, one->south, &place);
	garden_make_at(garden, &place, "2026-11-24");
	garden->place.units = one->units;
	check_ok(store_act_begin(garden->store, ACT_WORK, "units", &why), &why);
	check_ok(store_place_save(garden->store, &garden->place, &why), &why);
	check_ok(store_act_commit(garden->store, &why), &why);
	garden_look(garden);
}

void first_yard_type_in(struct garden *garden, const struct first_yard *one, struct dice *dice)
{
	make(garden, one);
	int32_t last = almanac_species_count(garden->almanac) - 1;
	int32_t first = (int32_t)dice_between(dice, 0, last);

	for (int i = 0; i < FIRST_YARD_TREES; i++) {
		char label[8], year[8] = "";

		snprintf(label, sizeof label, "%c%d", 'A' + i / 10, i % 10 + 1);
		if (!one->years_unknown || dice_between(dice, 0, 2) > 0)
			snprintf(year, sizeof year, "%d",
				(int)dice_between(dice, one->first_year, LAST_YEAR));
		garden_tree(
			garden, label, kind_by_dice(garden->almanac, one, first, dice), year, "");
	}
}

static void print_items(const struct review *review)
{
	for (int32_t i = 0; i < review->count; i++)
		print_error("%s %s %s: %s\n", urgency_key(review->items[i].flag.urgency),
			review->items[i].flag.rule, review->items[i].flag.label,
			review->items[i].flag.says);
}

static int32_t printed_lines(struct garden *garden, const struct review *review)
{
	struct fault why = {0};
	FILE *stream = tmpfile();
	int32_t count = 0;

	assert_non_null(stream);
	const struct printer printer = {
		.stream = stream, .format = FORMAT_TEXT, .width = 80, .units = garden->place.units};
	check_ok(print_review(&printer, review, garden->yard, false, &why), &why);
	rewind(stream);
	for (int byte = fgetc(stream); byte != EOF; byte = fgetc(stream))
		count += byte == '\n';
	fclose(stream);
	return count;
}

int32_t first_yard_check(struct garden *garden, struct date today)
{
	const struct review_options options = {.all = false};
	struct review review = {.count = 0};
	struct fault why = {0};
	char iso[DATE_SIZE];

	garden_today(garden, date_format(today, iso));
	check_ok(review_make(garden->yard, &options, garden->arena, &review, &why), &why);
	if (review.open > 0 || review.count > FIRST_YARD_LINES) {
		print_error("%s: %s\n", iso, dice_remark());
		print_items(&review);
	}
	check_int(review.open, 0, "what asks for work");
	/* by itself, before the notes are folded to one line */
	assert_in_range(review.count, 0, FIRST_YARD_LINES);
	int32_t lines = printed_lines(garden, &review);
	assert_in_range(lines, 1, FIRST_YARD_LINES);
	return lines;
}
