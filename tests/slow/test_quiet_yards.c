/* SPDX-License-Identifier: MIT */
/* How much a yard of sixty trees hears in which nothing is wrong. Years of work are done there by
 * kind, as who keeps so many does it, inside the windows of the almanac; then the review is looked
 * at on days that the dice choose, and its lines are counted as they are printed.
 *
 * Slow because each yard is written line by line. LOGS= asks for more of them, a fiftieth of its
 * number; SHOW= prints the longest reviews. */
#include "support/quiet.h"

#include "almanac/pest.h"
#include "report/print.h"

enum {
	YARDS_USUAL = 8,
	LOGS_A_YARD = 50,
	TREES = 60,
	KINDS_MOST = 8,
	FIRST_YEAR = 2020,
	YEARS = 4,
	LOOKS = 8, /* days of the last year on which the review is asked for */
	WORKS_MAX = 400,
	REVIEWS_MAX = 4000,
	SHOWN = 3,
	LINES_MEDIAN_MOST = 12,
	LINES_MOST = 30, /* in a week when each of eight kinds is to be cut and fed */
};

/* What this grower does and writes down. */
struct habits {
	bool cuts, feeds, blooms, thins, picks, mulches, waters, scouts;
};

struct work {
	struct date day;
	enum quiet_right right;
	char line[QUIET_LINE_SIZE]; /* "": the review is asked for */
	int32_t from, count;        /* the trees it is for */
};

struct group {
	const struct species *species;
	char first[LABEL_SIZE]; /* the label of its first tree; they run on from there */
	int32_t from, count;
};

struct yard_life {
	struct quiet quiet;
	struct habits habits;
	struct group groups[KINDS_MOST];
	int32_t group_count;
	struct work works[WORKS_MAX];
	int32_t work_count;
};

struct heard {
	int32_t lines[REVIEWS_MAX];
	int32_t count;
	char *longest[SHOWN];
	int32_t longest_lines[SHOWN];
	int64_t acts;
	int64_t by_rule[QUIET_RULES_MAX];
};

static bool one_in(struct yard_life *life, int64_t count)
{
	return dice_between(&life->quiet.dice, 1, count) == 1;
}

/* --- the yard --- */

static void label_of(int32_t number, char out[LABEL_SIZE])
{
	snprintf(out, LABEL_SIZE, "%c%d", 'A' + (int)(number / 10), (int)(number % 10 + 1));
}

static void plant_group(struct yard_life *life, int32_t from, int32_t count)
{
	struct quiet *quiet = &life->quiet;
	struct group *group = &life->groups[life->group_count];
	int32_t kinds = almanac_species_count(quiet->garden.almanac);

	*group = (struct group){.species = quiet->species, .from = from, .count = count};
	if (life->group_count > 0)
		group->species = almanac_species_at(
			quiet->garden.almanac, (int32_t)dice_between(&quiet->dice, 0, kinds - 1));
	for (int32_t i = 0; i < life->group_count; i++)
		if (life->groups[i].species == group->species)
			group->species = NULL;
	if (group->species == NULL)
		return;
	label_of(from, group->first);
	for (int32_t i = from; i < from + count; i++) {
		char label[LABEL_SIZE], planted[16];

		label_of(i, label);
		snprintf(planted, sizeof planted, "%d",
			(int)dice_between(&quiet->dice, FIRST_YEAR - 30, FIRST_YEAR - 3));
		if (i > 0) /* A1 stands */
			garden_tree(&quiet->garden, label, group->species->key, planted, "");
	}
	life->group_count++;
}

static void plant(struct yard_life *life)
{
	int32_t kinds = (int32_t)dice_between(&life->quiet.dice, 3, KINDS_MOST);

	for (int32_t from = 0; from < TREES && life->group_count < kinds;) {
		int32_t rest = TREES - from;
		int32_t before = life->group_count;
		int32_t count = before == kinds - 1
					? rest
					: (int32_t)dice_between(&life->quiet.dice, 1, rest / 2 + 1);

		plant_group(life, from, count);
		from += life->group_count > before ? count : 0;
	}
}

static void choose_habits(struct yard_life *life)
{
	life->habits = (struct habits){.cuts = !one_in(life, 5),
		.feeds = !one_in(life, 4),
		.blooms = one_in(life, 2),
		.thins = one_in(life, 2),
		.picks = !one_in(life, 4),
		.mulches = one_in(life, 2),
		.waters = one_in(life, 2),
		.scouts = !one_in(life, 3)};
}

/* --- a year --- */

static void add_work(struct yard_life *life, struct date day, const struct group *group,
	enum quiet_right right, const char *line)
{
	assert_true(life->work_count < WORKS_MAX);
	struct work *work = &life->works[life->work_count++];
	*work = (struct work){.day = day, .right = right};
	snprintf(work->line, sizeof work->line, "%s", line);
	if (group != NULL) {
		work->from = group->from;
		work->count = group->count;
	}
}

static bool is_right(const struct dossier *dossier, enum quiet_right right, struct date day)
{
	switch (right) {
	case QUIET_CUT:
		return quiet_is_clear_around(dossier, CUT_SHAPE, day);
	case QUIET_FEED:
		return quiet_is_good_for_feed(dossier, day);
	case QUIET_ANY_DAY:
		break;
	}
	return true;
}

/* One line for all trees of a kind, on a day that is right for its first. */
static void plan_kind(struct yard_life *life, const struct group *group, int32_t year,
	enum quiet_right right, const char *what)
{
	const struct dossier *dossier = garden_story(&life->quiet.garden, group->first);
	char line[QUIET_LINE_SIZE];

	snprintf(line, sizeof line, "all %s %s", group->species->key, what);
	for (int32_t i = 0; i < QUIET_TRIES; i++) {
		struct date day = quiet_day_of(&life->quiet, year);

		if (!is_right(dossier, right, day))
			continue;
		add_work(life, day, group, right, line);
		return;
	}
}

static void plan_in(struct yard_life *life, const struct group *group, int32_t year,
	enum window_kind kind, const char *what)
{
	const struct dossier *dossier = garden_story(&life->quiet.garden, group->first);
	char line[QUIET_LINE_SIZE];

	snprintf(line, sizeof line, "all %s %s", group->species->key, what);
	for (int32_t i = 0; i < QUIET_TRIES; i++) {
		struct date day = quiet_day_of(&life->quiet, year);

		if (!quiet_window_is_around(dossier, kind, day))
			continue;
		add_work(life, day, group, QUIET_ANY_DAY, line);
		return;
	}
}

/* Some of the trees of a kind, each by itself. */
static void plan_trees(struct yard_life *life, const struct group *group, int32_t year)
{
	const struct dossier *dossier = garden_story(&life->quiet.garden, group->first);
	char line[QUIET_LINE_SIZE], label[LABEL_SIZE];

	for (int32_t i = 0; i < group->count; i++) {
		struct date day = quiet_day_of(&life->quiet, year);

		label_of(group->from + i, label);
		if (life->habits.picks && quiet_window_is_around(dossier, WINDOW_HARVEST, day)) {
			snprintf(line, sizeof line, "%.9s picked %d kg", label,
				(int)dice_between(&life->quiet.dice, 5, 20));
			add_work(life, day, group, QUIET_ANY_DAY, line);
		}
		if (life->habits.scouts && group->species->pest_count > 0 && one_in(life, 15)) {
			int64_t last = group->species->pest_count - 1;
			int64_t pest = dice_between(&life->quiet.dice, 0, last > 7 ? 7 : last);

			snprintf(line, sizeof line, "%.9s saw %.40s light", label,
				group->species->pests[pest]->name);
			add_work(life, day, group, QUIET_ANY_DAY, line);
		}
	}
}

static int compare_works(const void *left, const void *right)
{
	const struct work *a = left;
	const struct work *b = right;
	return date_compare(a->day, b->day);
}

static void plan_year(struct yard_life *life, int32_t year)
{
	const struct habits *habits = &life->habits;

	life->work_count = 0;
	quiet_set_today(&life->quiet, date_of_month_day(year, (struct month_day){1, 1}));
	for (int32_t i = 0; i < life->group_count; i++) {
		const struct group *group = &life->groups[i];

		if (habits->cuts)
			plan_kind(life, group, year, QUIET_CUT,
				group->species->limit_is_shoots ? "cut shape 10% of shoots"
								: "cut shape 5% of crown");
		if (habits->feeds)
			plan_kind(life, group, year, QUIET_FEED, "fed 250 g 10-10-10");
		if (habits->blooms)
			plan_in(life, group, year, WINDOW_BLOOM, "bloom");
		if (habits->thins)
			plan_in(life, group, year, WINDOW_THINNING, "thinned 30 fruit");
		if (habits->mulches && one_in(life, 2))
			plan_kind(life, group, year, QUIET_ANY_DAY, "mulched 8 cm");
		if (habits->waters)
			plan_kind(life, group, year, QUIET_ANY_DAY, "watered 40 l");
		plan_trees(life, group, year);
	}
	for (int32_t i = 0; year == FIRST_YEAR + YEARS - 1 && i < LOOKS; i++)
		add_work(life, quiet_day_of(&life->quiet, year), NULL, QUIET_ANY_DAY, "");
	qsort(life->works, (size_t)life->work_count, sizeof life->works[0], compare_works);
}

/* --- the review --- */

/* What the one line of notes stands for. */
static void print_notes(FILE *stream, const struct review *review)
{
	for (int32_t i = 0; i < review->count; i++) {
		const struct review_item *item = &review->items[i];

		if (item->group > 0 && item->flag.urgency == URGENCY_NOTE)
			fprintf(stream, "  - %s +%d (%s) %s\n", item->flag.label,
				(int)item->group - 1, item->flag.rule, item->flag.says);
	}
}

/* As it is printed; free() it. */
static char *print_of(struct garden *garden, const struct review *review, int32_t *lines)
{
	struct fault why = {0};
	FILE *stream = tmpfile();
	const struct printer printer = {
		.stream = stream, .format = FORMAT_TEXT, .width = 80, .units = garden->place.units};

	assert_non_null(stream);
	check_ok(print_review(&printer, review, garden->yard, false, &why), &why);
	long printed = ftell(stream);
	print_notes(stream, review);
	long length = ftell(stream);
	assert_true(length >= 0);
	char *text = calloc(1, (size_t)length + 1);
	assert_non_null(text);
	rewind(stream);
	check_int((int64_t)fread(text, 1, (size_t)length, stream), length, "read back");
	fclose(stream);
	*lines = 0;
	for (const char *at = text; at < text + printed; at++)
		*lines += *at == '\n';
	return text;
}

/* Keeps the text if it is among the longest, else frees it. */
static void keep_longest(struct heard *heard, char *text, int32_t lines)
{
	for (int32_t i = 0; i < SHOWN; i++) {
		if (heard->longest[i] != NULL && heard->longest_lines[i] >= lines)
			continue;
		char *other = heard->longest[i];
		int32_t other_lines = heard->longest_lines[i];
		heard->longest[i] = text;
		heard->longest_lines[i] = lines;
		text = other;
		lines = other_lines;
	}
	free(text);
}

static void hear(struct yard_life *life, struct heard *heard)
{
	struct garden *garden = &life->quiet.garden;
	const struct review_options options = {.all = false};
	struct review review = {.count = 0};
	struct fault why = {0};
	int32_t lines;

	check_ok(review_make(garden->yard, &options, garden->arena, &review, &why), &why);
	for (int32_t i = 0; i < review.count; i++) {
		const struct flag *flag = &review.items[i].flag;

		if (flag->urgency == URGENCY_ACT) {
			print_error("%s: %s: %s %s\n", flag->label, flag->rule, flag->says,
				dice_remark());
			heard->acts++;
		}
		heard->by_rule[rule_find(flag->rule) - rule_table()] += review.items[i].group > 0;
	}
	char *text = print_of(garden, &review, &lines);
	assert_true(heard->count < REVIEWS_MAX);
	heard->lines[heard->count++] = lines;
	keep_longest(heard, text, lines);
}

/* On each of its trees: one may have its fruit on yet, where the first is picked. */
static bool is_right_for_all(struct yard_life *life, const struct work *work)
{
	char label[LABEL_SIZE];

	for (int32_t i = work->from; i < work->from + work->count; i++) {
		label_of(i, label);
		if (!is_right(garden_story(&life->quiet.garden, label), work->right, work->day))
			return false;
	}
	return true;
}

static void live_year(struct yard_life *life, int32_t year, struct heard *heard)
{
	char line[QUIET_LINE_SIZE + 20], iso[DATE_SIZE];

	plan_year(life, year);
	for (int32_t i = 0; i < life->work_count; i++) {
		const struct work *work = &life->works[i];

		quiet_set_today(&life->quiet, work->day);
		if (work->line[0] == '\0') {
			hear(life, heard);
			continue;
		}
		if (work->right != QUIET_ANY_DAY && !is_right_for_all(life, work))
			continue;
		snprintf(line, sizeof line, "%s @ %s", work->line, date_format(work->day, iso));
		garden_log(&life->quiet.garden, line);
	}
}

/* --- what was heard --- */

static int compare_lines(const void *left, const void *right)
{
	return *(const int32_t *)left - *(const int32_t *)right;
}

static void print_heard(const struct heard *heard, int32_t yards, int32_t median, int32_t most)
{
	print_message("%d yards of %d trees, %d reviews: %d lines in the middle, %d at most, "
		      "%d false acts\n",
		(int)yards, TREES, (int)heard->count, (int)median, (int)most, (int)heard->acts);
	for (int32_t i = 0; rule_table()[i].id != NULL; i++)
		if (heard->by_rule[i] > 0)
			print_message("   %-20s %.2f lines a review\n", rule_table()[i].id,
				(double)heard->by_rule[i] / heard->count);
	for (int32_t i = 0; getenv("SHOW") != NULL && i < SHOWN; i++)
		if (heard->longest[i] != NULL)
			printf("\n%s", heard->longest[i]); /* longer than cmocka prints */
}

static void a_quiet_yard_hears_little(void **state)
{
	(void)state;
	static struct heard heard;
	static struct yard_life life;
	struct quiet_wish wish = {
		.first_year = FIRST_YEAR, .plain = true, .almanac = garden_almanac()};
	int32_t yards = quiet_logs_asked(YARDS_USUAL * LOGS_A_YARD) / LOGS_A_YARD;

	yards = yards < 1 ? 1 : yards;
	for (wish.number = 0; wish.number < yards; wish.number++) {
		life = (struct yard_life){.group_count = 0};
		quiet_begin(&life.quiet, &wish);
		choose_habits(&life);
		plant(&life);
		for (int32_t year = FIRST_YEAR; year < FIRST_YEAR + YEARS; year++)
			live_year(&life, year, &heard);
		quiet_end(&life.quiet);
	}
	qsort(heard.lines, (size_t)heard.count, sizeof heard.lines[0], compare_lines);
	int32_t median = heard.lines[heard.count / 2], most = heard.lines[heard.count - 1];
	print_heard(&heard, yards, median, most);
	for (int32_t i = 0; i < SHOWN; i++)
		free(heard.longest[i]);
	check_int(heard.acts, 0, "false acts");
	assert_true(median <= LINES_MEDIAN_MOST);
	assert_true(most <= LINES_MOST);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(a_quiet_yard_hears_little),
	};
	return cmocka_run_group_tests_name("quiet yards", tests, NULL, NULL) != 0;
}
