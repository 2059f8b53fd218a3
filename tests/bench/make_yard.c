/* SPDX-License-Identifier: MIT */
/* Writes an invented yard of any size, over the acts that a grower's own lines go through:
 *     make_yard typical|large|big|TREESxYEARSxENTRIES FILE [SEED]
 * Ends on 24 November 2026. Every line is typed on the evening of its day, all of a day in one act;
 * the last weeks line by line. The same size and seed give the same log. */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "core/text.h"
#include "report/session.h"
#include "support/scratch.h"

enum { LAST_DAYS = 30, KINDS_MAX = 25, ROW_TREES = 100, SAID_SIZE = 200, UNKNOWN_EACH = 40 };
enum { PITCH_UM = 6000000, PERMILLE = 1000 };

/* Trees die by then, and the year is told. */
static const struct month_day last_day = {.month = 12, .day = 29};

struct size {
	const char *name;
	int32_t trees;
	int32_t years;
	int32_t entries;
};

struct planted { /* one tree as the story goes */
	char label[LABEL_SIZE];
	const struct species *species; /* NULL: nobody knows */
	struct date since;
	int32_t crop_g;      /* of a season */
	int32_t girth_mm;    /* at the start */
	bool bears_by_turns; /* heavy one year, light the next */
	bool is_gone;
};

struct line {
	struct date day;
	int32_t order; /* as told: what keeps lines of one day in order */
	char text[SAID_SIZE];
};

struct story {
	struct session *session;
	struct dice dice;
	struct date today;
	struct size size;
	struct planted *trees;
	struct line *lines; /* of the year in hand */
	int32_t line_count;
	int32_t line_room;
	int64_t told;
};

/* --- words --- */

static const char *const remarks[] = {"leaf curl on the north side", "the ladder stood badly",
	"wind had taken a limb by the gate", "wasps in the split ones", "sweet, a little early",
	"hail scars on the south side", "two left for the neighbour", "between two rains",
	"the drip line was loose again", "birds had been first", "cracked after the rain",
	"shaded by the hedge", "moss on the old wood", "half of it for the cider",
	"small this year, and many", "the best of the row", "label renewed",
	"mowed under it as well", "ants on the trunk", "gave a basket to the school",
	"roots showing after the storm"};
static const char *const sights[] = {"aphids", "scab", "gum", "water shoots", "split fruit",
	"codling moth", "scale", "leaf curl", "fire blight", "deer damage"};
static const char *const grades[] = {"trace", "light", "moderate", "heavy"};

static int32_t roll(struct story *story, int32_t low, int32_t high)
{
	return (int32_t)dice_between(&story->dice, low, high);
}

static const char *any_of(struct story *story, const char *const *words, size_t count)
{
	return words[dice_between(&story->dice, 0, (int64_t)count - 1)];
}
#define ANY(story, words) any_of(story, words, sizeof words / sizeof words[0])

/* --- one line of each sort --- */

struct saying {
	struct story *story;
	const struct planted *tree;
	int32_t year;
};

static void say_pick(const struct saying *saying, char *out)
{
	int32_t share = saying->tree->bears_by_turns && saying->year % 2 == 0 ? 300 : PERMILLE;
	int32_t grams = (int32_t)((int64_t)saying->tree->crop_g * share / PERMILLE *
				  roll(saying->story, 200, 500) / PERMILLE);
	int32_t pounds = grams / 454, ounces = grams % 454 / 29;
	int32_t way = roll(saying->story, 0, 19);

	if (way == 0)
		snprintf(out, SAID_SIZE, "picked %d buckets", pounds / 24 + 1);
	else if (way == 1)
		snprintf(out, SAID_SIZE, "picked %d fruit", pounds * 4 + 3);
	else if (way == 2)
		snprintf(out, SAID_SIZE, "picked about %d lb", pounds + 1);
	else if (way == 3)
		snprintf(out, SAID_SIZE, "picked %d lb %d fruit", pounds + 1, pounds * 4 + 3);
	else if (way == 4)
		snprintf(out, SAID_SIZE, "picked last %d lb", pounds + 1);
	else if (way < 10)
		snprintf(out, SAID_SIZE, "picked %d lb %d oz", pounds + 1, ounces);
	else
		snprintf(out, SAID_SIZE, "picked %d lb", pounds + 1);
}

static void say_cut(const struct saying *saying, char *out)
{
	static const char *const sorts[] = {
		"shape", "thinning", "heading", "renovation", "shape", "thinning"};
	int32_t way = roll(saying->story, 0, 9);

	if (way == 0)
		snprintf(out, SAID_SIZE, "cut sucker");
	else if (way == 1)
		snprintf(out, SAID_SIZE, "cut sanitation, tools cleaned");
	else
		snprintf(out, SAID_SIZE, "cut %s %d%% of crown", ANY(saying->story, sorts),
			roll(saying->story, 1, 6) * 5);
}

static void say_feed(const struct saying *saying, char *out)
{
	if (roll(saying->story, 0, 3) == 0)
		snprintf(out, SAID_SIZE, "fed %d oz 10-10-10", roll(saying->story, 4, 14));
	else
		snprintf(out, SAID_SIZE, "fed %d lb ammonium sulfate", roll(saying->story, 1, 3));
}

static void say_water(const struct saying *saying, char *out)
{
	snprintf(out, SAID_SIZE, "watered %d gal", roll(saying->story, 1, 12) * 5);
}

static void say_bloom(const struct saying *saying, char *out)
{
	if (roll(saying->story, 0, 1) == 0)
		snprintf(out, SAID_SIZE, "bloom");
	else
		snprintf(out, SAID_SIZE, "bloom %d%% open", roll(saying->story, 1, 9) * 10);
}

static void say_measure(const struct saying *saying, char *out)
{
	int32_t age = saying->year - date_parts(saying->tree->since).year;

	if (roll(saying->story, 0, 2) == 0)
		snprintf(out, SAID_SIZE, "height %d ft, spread %d ft", roll(saying->story, 5, 15),
			roll(saying->story, 5, 15));
	else
		snprintf(out, SAID_SIZE, "girth %d cm",
			(saying->tree->girth_mm + age * 15) / 10 + 1);
}

static void say_saw(const struct saying *saying, char *out)
{
	snprintf(out, SAID_SIZE, "saw %s %s", ANY(saying->story, sights),
		ANY(saying->story, grades));
}

static void say_mulch(const struct saying *saying, char *out)
{
	snprintf(out, SAID_SIZE, "mulch %d in deep", roll(saying->story, 2, 5));
}

static void say_thin(const struct saying *saying, char *out)
{
	snprintf(out, SAID_SIZE, "thinned %d fruit", roll(saying->story, 20, 200));
}

static void say_note(const struct saying *saying, char *out)
{
	snprintf(out, SAID_SIZE, "note %s", ANY(saying->story, remarks));
}

static void say_died(const struct saying *saying, char *out)
{
	(void)saying;
	snprintf(out, SAID_SIZE, "died");
}

/* How often each sort comes among PERMILLE lines, and when: in a window of the kind, or, where it
 * has none or the kind is not known, between two days of the year. */
/* clang-format off */
static const struct sort {
	int32_t share;
	enum window_kind window; /* WINDOW_TOTAL: none */
	struct month_day from, to;
	void (*say)(const struct saying *saying, char *out);
} sorts[] = {
	{ 500, WINDOW_HARVEST,    { 8,  1 }, { 10, 20 }, say_pick },
	{ 100, WINDOW_CUT_CLEAR,  { 1, 10 }, {  3, 10 }, say_cut },
	{  90, WINDOW_FEED_CLEAR, { 2, 10 }, {  4, 20 }, say_feed },
	{ 100, WINDOW_TOTAL,      { 6,  1 }, {  9, 25 }, say_water },
	{  70, WINDOW_BLOOM,      { 3,  5 }, {  4, 20 }, say_bloom },
	{  40, WINDOW_TOTAL,      { 1,  5 }, {  2, 20 }, say_measure },
	{  40, WINDOW_TOTAL,      { 4, 10 }, {  9, 10 }, say_saw },
	{  15, WINDOW_TOTAL,      { 3,  1 }, { 11, 10 }, say_mulch },
	{  20, WINDOW_THINNING,   { 5,  5 }, {  6, 20 }, say_thin },
	{  24, WINDOW_TOTAL,      { 1,  2 }, { 12, 28 }, say_note },
	{   1, WINDOW_TOTAL,      { 1, 10 }, {  3, 30 }, say_died },
};
/* clang-format on */

/* --- a year --- */

/* Both ends of a span that crosses New Year fall into the year in hand. */
static struct date day_between(
	struct story *story, int32_t year, struct month_day from, struct month_day to)
{
	struct date first = date_of_month_day(year, from);
	struct date last = date_of_month_day(year, to);

	if (date_compare(last, first) < 0)
		last = date_of_month_day(year + 1, to);
	struct date day = date_add_days(first, roll(story, 0, date_days_between(first, last)));
	if (roll(story, 0, 19) == 0) /* out of its time, as work is */
		day = date_add_days(day, roll(story, -40, 40));
	struct date_parts parts = date_parts(day);
	return date_of_month_day(year, (struct month_day){(int8_t)parts.month, (int8_t)parts.day});
}

static struct date day_of(
	struct story *story, const struct planted *tree, const struct sort *sort, int32_t year)
{
	struct session *session = story->session;
	struct window window = {.known = false};

	if (tree->species != NULL && sort->window != WINDOW_TOTAL) {
		struct window_facts facts = {.species = tree->species,
			.climate = yard_climate(session->yard),
			.place = yard_place(session->yard)};
		window = window_resolve(&facts, sort->window,
			date_of_month_day(year, (struct month_day){.month = 1, .day = 1}));
	}
	if (!window.known || window.all_year)
		return day_between(story, year, sort->from, sort->to);
	return day_between(story, year, window.from, window.to);
}

static const struct sort *any_sort(struct story *story)
{
	int32_t at = roll(story, 0, PERMILLE - 1);
	const struct sort *sort = sorts;

	while (at >= sort->share)
		at -= (sort++)->share;
	return sort;
}

static void keep_line(struct story *story, const struct line *line)
{
	if (story->line_count == story->line_room) {
		story->line_room = story->line_room == 0 ? 1024 : story->line_room * 2;
		story->lines = block_resize(
			story->lines, (size_t)story->line_room * sizeof story->lines[0]);
	}
	story->lines[story->line_count++] = *line;
}

/* A line about a tree, unless it was not there yet or the day is still to come. */
static void plan_line(struct story *story, struct planted *tree, int32_t year)
{
	const struct sort *sort = any_sort(story);
	struct saying saying = {story, tree, year};
	struct line line = {.day = day_of(story, tree, sort, year), .order = story->line_count};
	char words[SAID_SIZE];

	sort->say(&saying, words);
	if (sort->say == say_died) /* so that nothing is told of a tree that is gone */
		line.day = date_of_month_day(year, last_day);
	if (date_compare(line.day, tree->since) < 0 || date_compare(line.day, story->today) > 0)
		return;
	tree->is_gone = sort->say == say_died;
	struct text_builder text = text_builder_fixed(line.text, sizeof line.text);
	text_add_format(&text, "%s %s", tree->label, words);
	if (roll(story, 0, 7) == 0)
		text_add_format(&text, " ; %s", ANY(story, remarks));
	keep_line(story, &line);
}

static int by_day(const void *left, const void *right)
{
	const struct line *a = left;
	const struct line *b = right;
	int32_t order = date_compare(a->day, b->day);

	return order != 0 ? order : a->order - b->order;
}

/* The trees that stand share the entries of the year, with one more as the dice fall. */
static void plan_year(struct story *story, int32_t year)
{
	int32_t standing = 0;

	for (int32_t i = 0; i < story->size.trees; i++)
		standing += date_parts(story->trees[i].since).year <= year;
	int64_t each = (int64_t)story->size.entries * PERMILLE / story->size.years /
		       (standing + !standing);
	story->line_count = 0;
	for (int32_t i = 0; i < story->size.trees; i++) {
		struct planted *tree = &story->trees[i];
		int64_t count = each / PERMILLE + (roll(story, 0, PERMILLE - 1) < each % PERMILLE);
		if (date_parts(tree->since).year > year)
			continue;
		for (int64_t at = 0; at < count && !tree->is_gone; at++)
			plan_line(story, tree, year);
	}
	qsort(story->lines, (size_t)story->line_count, sizeof story->lines[0], by_day);
}

/* --- onto the log --- */

static enum status tell_line(
	struct story *story, const struct line *line, struct arena *arena, struct fault *why)
{
	struct session *session = story->session;
	struct line_context context = session_line_context(session);
	struct reading reading = {0};
	struct work_logged logged;

	context.today = line->day;
	enum status status = line_read(line->text, &context, arena, &reading, NULL, why);
	if (status == STATUS_OK && !store_in_act(session->store))
		status = store_act_begin(session->store, ACT_WORK, reading.said, why);
	if (status == STATUS_OK)
		status = work_log_in_act(session->yard, &reading, &logged, why);
	if (status != STATUS_OK)
		fault_prefix(why, "\"%s\": ", line->text);
	arena_reset(arena);
	return status;
}

static enum status tell_year(struct story *story, struct arena *arena, struct fault *why)
{
	struct store *store = story->session->store;
	enum status status = STATUS_OK;

	for (int32_t i = 0; status == STATUS_OK && i < story->line_count; i++) {
		const struct line *line = &story->lines[i];
		bool ends = i + 1 == story->line_count ||
			    date_compare(line[0].day, line[1].day) != 0 ||
			    date_days_between(line->day, story->today) <= LAST_DAYS;
		clock_move(&story->session->clock, line->day);
		status = tell_line(story, line, arena, why);
		if (status == STATUS_OK && ends)
			status = store_act_commit(store, why);
	}
	story->told += story->line_count;
	return status;
}

static enum status add_tree(struct story *story, struct planted *tree, struct fault *why)
{
	static const char *const sure[] = {"certain", "certain", "certain", "suspected"};
	struct new_tree fresh = {0};
	char asked[TEXT_SIZE], id[ID_SIZE];
	int32_t at = (int32_t)(tree - story->trees);
	int32_t count = 0;

	text_copy(fresh.tree.label, sizeof fresh.tree.label, tree->label);
	text_copy(fresh.spot, sizeof fresh.spot, tree->label);
	fresh.tree.planted = date_span_of(tree->since);
	fresh.east_um = known_i64((int64_t)(at % ROW_TREES) * PITCH_UM);
	fresh.north_um = known_i64((int64_t)(at / ROW_TREES) * PITCH_UM);
	if (tree->species != NULL) {
		const struct cultivar *cultivars =
			almanac_cultivars(story->session->almanac, tree->species->key, &count);

		text_copy(fresh.species, sizeof fresh.species, tree->species->key);
		if (count > 0 && roll(story, 0, 1) == 0)
			text_copy(fresh.cultivar, sizeof fresh.cultivar,
				cultivars[roll(story, 0, count - 1)].name);
		fresh.sure_given = sure_find(ANY(story, sure), &fresh.sure);
	}
	return work_tree_add_in_act(story->session->yard, &fresh, asked, id, why);
}

/* Where one went, another of the kind is planted by the end of the year, under its label. */
static enum status replant(struct story *story, int32_t year, struct fault *why)
{
	struct store *store = story->session->store;
	enum status status = store_act_begin(store, ACT_WORK, "planted anew", why);

	for (int32_t i = 0; status == STATUS_OK && i < story->size.trees; i++) {
		struct planted *tree = &story->trees[i];
		if (!tree->is_gone)
			continue;
		tree->is_gone = false;
		tree->since = date_add_days(date_of_month_day(year, last_day), 1);
		tree->girth_mm = 30;
		status = add_tree(story, tree, why);
	}
	return status == STATUS_OK ? store_act_commit(store, why) : status;
}

static enum status tell_weather(struct story *story, int32_t year, struct fault *why)
{
	struct store *store = story->session->store;
	struct date day = date_of_month_day(year, (struct month_day){.month = 1, .day = 1});
	bool was_same;
	enum status status = store_act_begin(store, ACT_IMPORT, "import weather", why);

	for (; status == STATUS_OK && date_parts(day).year == year &&
		date_compare(day, story->today) < 0;
		day.day++) {
		int32_t of_year = abs(date_parts(day).month * 30 + date_parts(day).day - 210);
		int32_t low = 130 - of_year * 2 / 3 + roll(story, -60, 60);
		struct weather_day weather = {.day = day,
			.station = "ridge",
			.min_decic = known_i32(low),
			.max_decic = known_i32(low + roll(story, 20, 160)),
			.rain_um =
				known_i64(roll(story, 0, 2) != 0 ? 0 : roll(story, 1, 200) * 100)};
		status = store_weather_day_put(store, &weather, &was_same, why);
	}
	return status == STATUS_OK ? store_act_commit(store, why) : status;
}

/* --- the yard as found --- */

static void choose_trees(struct story *story)
{
	const struct almanac *almanac = story->session->almanac;
	int32_t kinds = almanac_species_count(almanac);
	int32_t first = date_parts(story->today).year - story->size.years + 1;

	if (kinds > KINDS_MAX)
		kinds = KINDS_MAX;
	story->trees = block_new((size_t)story->size.trees * sizeof story->trees[0]);
	for (int32_t i = 0; i < story->size.trees; i++) {
		struct planted *tree = &story->trees[i];
		bool was_there = roll(story, 0, 9) < 6;
		int32_t year = was_there ? first - roll(story, 1, 20)
					 : first + roll(story, 0, story->size.years - 1);

		snprintf(tree->label, sizeof tree->label, "R%d-%02d", i / ROW_TREES + 1,
			i % ROW_TREES + 1);
		tree->species = i % UNKNOWN_EACH == UNKNOWN_EACH - 1
					? NULL
					: almanac_species_at(almanac, roll(story, 0, kinds - 1));
		tree->since = date_of_month_day(year, (struct month_day){.month = 2, .day = 10});
		tree->crop_g = roll(story, 4, 90) * 1000;
		tree->girth_mm = was_there ? roll(story, 150, 900) : 30;
		tree->bears_by_turns = roll(story, 0, 4) == 0;
	}
}

static enum status add_shed(struct store *store, struct fault *why)
{
	struct product sulfate = {.name = "ammonium sulfate",
		.n_mpct = {21000, true},
		.elements = "",
		.bag_mg = {22679618, true}};
	struct product ten = {.name = "10-10-10",
		.n_mpct = {10000, true},
		.p2o5_mpct = {10000, true},
		.k2o_mpct = {10000, true},
		.elements = ""};
	struct container bucket = {.name = "bucket", .volume_ul = {18927059, true}};
	struct container_weight weight = {.weight_mg = 10886217};
	enum status status = store_product_add(store, &sulfate, why);

	if (status == STATUS_OK)
		status = store_product_add(store, &ten, why);
	if (status == STATUS_OK)
		status = store_container_add(store, &bucket, why);
	text_copy(weight.container_id, sizeof weight.container_id, bucket.id);
	return status == STATUS_OK ? store_container_weight_add(store, &weight, why) : status;
}

static enum status set_the_scene(struct story *story, struct fault *why)
{
	struct session *session = story->session;
	enum status status = store_act_begin(session->store, ACT_WORK, "the yard as found", why);

	choose_trees(story);
	if (status == STATUS_OK)
		status = add_shed(session->store, why);
	for (int32_t i = 0; status == STATUS_OK && i < story->size.trees; i++)
		status = add_tree(story, &story->trees[i], why);
	if (status == STATUS_OK)
		status = store_act_commit(session->store, why);
	return status == STATUS_OK ? session_refresh(session, why) : status;
}

static enum status tell(struct story *story, struct fault *why)
{
	struct arena *arena = arena_new();
	int32_t last = date_parts(story->today).year;
	enum status status = set_the_scene(story, why);

	for (int32_t year = last - story->size.years + 1; status == STATUS_OK && year <= last;
		year++) {
		plan_year(story, year);
		status = tell_year(story, arena, why);
		if (status == STATUS_OK)
			status = tell_weather(story, year, why);
		if (status == STATUS_OK)
			status = replant(story, year, why);
	}
	arena_free(arena);
	block_free(story->lines);
	block_free(story->trees);
	return status;
}

static enum status write_log(const char *path, struct story *story, struct fault *why)
{
	struct place place = {.name = "Larch Bottom",
		.latitude_udeg = {38430000, true},
		.longitude_udeg = {-122870000, true},
		.hemisphere = HEMISPHERE_NORTH,
		.wet = WET_WINTER,
		.winter = WINTER_FROSTY,
		.last_frost = {4, 5},
		.first_frost = {11, 20},
		.units = UNITS_US,
		.gallon = GALLON_US,
		.numbers = NUMBERS_POINT,
		.dates = DATES_MDY};
	struct date start = date_of_month_day(
		date_parts(story->today).year - story->size.years, (struct month_day){12, 1});
	struct session_options options = {
		.path = path, .clock = clock_seeded(start, story->dice.state)};
	struct store_options store_options = {.clock = &options.clock};
	struct store *store = NULL;
	enum status status = store_create(path, &store_options, &place, &store, why);

	store_close(store);
	if (status == STATUS_OK)
		status = session_open(&options, &story->session, why);
	if (status == STATUS_OK)
		status = tell(story, why);
	session_close(story->session);
	return status;
}

static bool size_find(const char *word, struct size *out)
{
	static const struct size sizes[] = {{"typical", 60, 15, 20000}, {"large", 1000, 20, 200000},
		{"big", 10000, 40, 1000000}};

	for (size_t i = 0; i < sizeof sizes / sizeof sizes[0]; i++)
		if (strcmp(sizes[i].name, word) == 0) {
			*out = sizes[i];
			return true;
		}
	*out = (struct size){.name = word};
	return sscanf(word, "%dx%dx%d", &out->trees, &out->years, &out->entries) == 3 &&
	       out->trees > 0 && out->years > 0 && out->entries > 0;
}

int main(int count, char **words)
{
	struct story story = {.dice = {.state = 20267}};
	struct fault why = {.text = ""};

	if (count < 3 || !size_find(words[1], &story.size)) {
		fputs("make_yard typical|large|big|TREESxYEARSxENTRIES FILE [SEED]\n", stderr);
		return 2;
	}
	if (count > 3)
		story.dice.state = strtoull(words[3], NULL, 10);
	story.today = date_of_month_day(2026, (struct month_day){.month = 11, .day = 24});
	if (write_log(words[2], &story, &why) != STATUS_OK) {
		fprintf(stderr, "make_yard: %s\n", why.text);
		return 1;
	}
	printf("%s: %s, %d trees, %d years, %lld entries\n", words[2], story.size.name,
		story.size.trees, story.size.years, (long long)story.told);
	return 0;
}
