/* SPDX-License-Identifier: MIT */
#include "report/demo.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "core/text.h"
#include "demo_yard.h"

enum { DEMO_SEED = 20261, LAST_ACTS_DAYS = 45, STATION_DAYS = 7, WEATHER_YEARS = 4 };

struct telling {
	struct session *session;
	struct date today;
	struct date next_weather; /* the first day of the station that is not yet brought in */
};

/* Puts {-13} (a year before today's) or, with days, {+240} (days from today) in its place. */
static void fill(const char *text, struct date today, bool days, char *out, size_t size)
{
	struct text_builder filled = text_builder_fixed(out, size);

	text_add(&filled, "");
	while (*text != '\0') {
		char *end = NULL;
		char day[DATE_SIZE];

		if (*text != '{') {
			text_add_n(&filled, text++, 1);
			continue;
		}
		int32_t offset = (int32_t)strtol(text + 1, &end, 10);
		if (days)
			text_add(&filled, date_format(date_add_days(today, offset), day));
		else
			text_add_format(&filled, "%04d", date_parts(today).year + offset);
		text = end + 1;
	}
}

/* The day a line of the table is for. */
static struct date line_day(const struct demo_line *line, struct date today)
{
	struct date_parts parts = date_parts(today);
	struct month_day month_day;

	if (line->when[0] == '+' || line->when[0] == '-') {
		struct date moved = date_add_days(today, (int32_t)strtol(line->when, NULL, 10));

		parts = date_parts(moved);
		month_day = (struct month_day){(int8_t)parts.month, (int8_t)parts.day};
		return date_of_month_day(parts.year - line->years, month_day);
	}
	month_day = (struct month_day){0};
	(void)!month_day_parse(line->when, &month_day, NULL);
	return date_of_month_day(parts.year - line->years, month_day);
}

static enum status add_tree(struct telling *telling, const struct demo_tree *row, struct fault *why)
{
	struct new_tree fresh = {0};
	char planted[EDTF_SIZE], asked[TEXT_SIZE], id[ID_SIZE];
	struct tree host;
	enum status status = STATUS_OK;

	text_copy(fresh.tree.label, sizeof fresh.tree.label, row->label);
	text_copy(fresh.tree.hazard, sizeof fresh.tree.hazard, row->hazard);
	text_copy(fresh.tree.note, sizeof fresh.tree.note, row->note);
	text_copy(fresh.species, sizeof fresh.species, row->species);
	text_copy(fresh.cultivar, sizeof fresh.cultivar, row->cultivar);
	text_copy(fresh.spot, sizeof fresh.spot, row->spot);
	if (row->east_dm != 0 || row->north_dm != 0) {
		fresh.east_um = known_i64((int64_t)row->east_dm * 100000);
		fresh.north_um = known_i64((int64_t)row->north_dm * 100000);
	}
	/* the other words are what work_tree_add takes where nothing is said */
	fresh.sure_given = sure_find(row->sure, &fresh.sure) &&
			   (fresh.sure == SURE_CERTAIN || fresh.sure == SURE_CANDIDATE);
	fill(row->planted, telling->today, false, planted, sizeof planted);
	if (planted[0] != '\0')
		status = date_span_parse(planted, HEMISPHERE_NORTH, &fresh.tree.planted, why);
	if (status == STATUS_OK && row->host[0] != '\0') {
		status = store_tree_find(telling->session->store, row->host, &host, why);
		text_copy(fresh.tree.host_id, sizeof fresh.tree.host_id, host.id);
		fresh.tree.how = ORIGIN_GRAFT;
	}
	if (status == STATUS_OK)
		status = work_tree_add_in_act(telling->session->yard, &fresh, asked, id, why);
	return status;
}

/* Whence some of them came. */
static enum status tell_descents(struct telling *telling, struct fault *why)
{
	struct store *store = telling->session->store;
	enum status status = STATUS_OK;

	for (const struct demo_descent *row = demo_descents; row->label != NULL; row++) {
		struct tree tree, parent = {.id = ""};

		if (status == STATUS_OK)
			status = store_tree_find(store, row->label, &tree, why);
		if (status == STATUS_OK && row->parent[0] != '\0')
			status = store_tree_find(store, row->parent, &parent, why);
		if (status != STATUS_OK)
			break;
		tree.how = row->how;
		text_copy(tree.parent_id, sizeof tree.parent_id, parent.id);
		status = store_tree_save(store, &tree, why);
	}
	return status;
}

/* A tree without a label that could be two kinds: both stand, under one opinion. */
static enum status add_candidates(struct telling *telling, struct fault *why)
{
	char opinion[ID_SIZE];
	struct tree tree;

	for (const struct demo_tree *row = demo_trees; row->label != NULL; row++) {
		if (row->second[0] == '\0')
			continue;
		const char *names[] = {row->species, row->second};
		enum status status =
			store_tree_find(telling->session->store, row->label, &tree, why);

		clock_new_id(&telling->session->clock, opinion);
		for (int i = 0; status == STATUS_OK && i < 2; i++) {
			struct identity identity = {.sure = SURE_CANDIDATE};

			text_copy(identity.tree_id, sizeof identity.tree_id, tree.id);
			text_copy(identity.opinion, sizeof identity.opinion, opinion);
			text_copy(identity.name, sizeof identity.name, names[i]);
			text_copy(identity.reason, sizeof identity.reason,
				"stone fruit by leaf and gum; the label is gone");
			status = store_identity_add(telling->session->store, &identity, why);
		}
		if (status != STATUS_OK)
			return status;
	}
	return STATUS_OK;
}

/* The lemon that froze, and its successor in the same hole under the same label. */
static enum status add_dead_lemon(struct telling *telling, struct fault *why)
{
	struct new_tree fresh = {.species = "lemon", .spot = "E4"};
	char asked[TEXT_SIZE], id[ID_SIZE];
	struct date_span planted, gone;
	int32_t year = date_parts(telling->today).year;

	text_copy(fresh.tree.label, sizeof fresh.tree.label, "E4");
	planted = date_span_of(date_of_month_day(year - 9, (struct month_day){4, 12}));
	gone = date_span_of(date_of_month_day(year - 3, (struct month_day){1, 20}));
	fresh.tree.planted = planted;
	enum status status = work_tree_add_in_act(telling->session->yard, &fresh, asked, id, why);
	if (status == STATUS_OK)
		status = store_tree_close(
			telling->session->store, id, &gone, "killed to the ground by frost", why);
	fresh.tree.planted = date_span_of(date_of_month_day(year - 3, (struct month_day){5, 2}));
	text_copy(fresh.tree.note, sizeof fresh.tree.note, "where the frosted one stood");
	text_copy(fresh.cultivar, sizeof fresh.cultivar, "Meyer");
	if (status == STATUS_OK)
		status = work_tree_add_in_act(telling->session->yard, &fresh, asked, id, why);
	return status;
}

static enum status add_shed(struct telling *telling, struct fault *why)
{
	struct store *store = telling->session->store;
	struct product sulfate = {.name = "ammonium sulfate",
		.n_mpct = {21000, true},
		.p2o5_mpct = {0, true},
		.k2o_mpct = {0, true},
		.elements = "",
		.bag_mg = {22679618, true}};
	struct product ten = {.name = "10-10-10",
		.n_mpct = {10000, true},
		.p2o5_mpct = {10000, true},
		.k2o_mpct = {10000, true},
		.elements = "",
		.cup_mg = {226796, true}};
	struct container bucket = {.name = "bucket", .volume_ul = {18927059, true}};
	enum status status = store_product_add(store, &sulfate, why);

	if (status == STATUS_OK)
		status = store_product_add(store, &ten, why);
	if (status == STATUS_OK)
		status = store_container_add(store, &bucket, why);
	if (status != STATUS_OK)
		return status;
	struct container_weight weight = {.species = "apple", .weight_mg = 10886217};
	text_copy(weight.container_id, sizeof weight.container_id, bucket.id);
	return store_container_weight_add(store, &weight, why);
}

static enum status add_obstacles(struct store *store, struct fault *why)
{
	struct obstacle all[] = {
		{.name = "house",
			.kind = "house",
			.points = "0,-9000000 12000000,-9000000 12000000,-1000000 0,-1000000",
			.height_um = {5500000, true}},
		{.name = "garden wall",
			.kind = "wall",
			.points = "27000000,-1000000 27000000,24000000",
			.height_um = {1828800, true}},
		{.name = "gate", .kind = "gate", .points = "0,0"},
	};
	enum status status = STATUS_OK;

	for (size_t i = 0; status == STATUS_OK && i < sizeof all / sizeof all[0]; i++)
		status = store_obstacle_add(store, &all[i], why);
	return status;
}

static enum status set_spot(struct store *store, const struct demo_spot *row, struct fault *why)
{
	struct spot spot;
	enum status status = store_spot_find(store, row->name, &spot, why);

	if (status != STATUS_OK)
		return status;
	spot.soil = row->soil;
	spot.cover = row->cover;
	spot.offset_decic = row->offset_decic;
	if (row->watering[0] != '\0') {
		text_copy(spot.watering, sizeof spot.watering, row->watering);
		spot.emitters = known_i32(row->emitters);
		spot.flow_ulh = known_i64(row->flow_ulh);
		spot.efficiency_permille = known_i32(row->efficiency_permille);
	}
	if (strcmp(row->name, "terrace pot") == 0) {
		spot.kind = SPOT_CONTAINER;
		spot.volume_ul = known_i64(75708236); /* 20 gallons */
	}
	return store_spot_save(store, &spot, why);
}

/* Soil, water and what else is on the plan: points in micrometres. */
static enum status add_ground(struct telling *telling, struct fault *why)
{
	struct store *store = telling->session->store;
	enum status status = add_obstacles(store, why);

	for (const struct demo_spot *row = demo_spots; status == STATUS_OK && row->name; row++)
		status = set_spot(store, row, why);
	return status;
}

static enum status add_windows(struct telling *telling, struct fault *why)
{
	for (const struct demo_window *row = demo_windows; row->label != NULL; row++) {
		struct own_window window = {0};
		struct tree tree;
		struct date_parts from = date_parts(date_add_days(telling->today, row->from));
		struct date_parts to = date_parts(date_add_days(telling->today, row->to));
		enum status status =
			store_tree_find(telling->session->store, row->label, &tree, why);

		if (status != STATUS_OK)
			return status;
		text_copy(window.tree_id, sizeof window.tree_id, tree.id);
		text_copy(window.window, sizeof window.window, row->window);
		window.from = (struct month_day){(int8_t)from.month, (int8_t)from.day};
		window.to = (struct month_day){(int8_t)to.month, (int8_t)to.day};
		status = store_own_window_add(telling->session->store, &window, why);
		if (status != STATUS_OK)
			return status;
	}
	return STATUS_OK;
}

static enum status add_traits(struct telling *telling, struct fault *why)
{
	for (const struct demo_trait *row = demo_traits; row->label != NULL; row++) {
		struct trait trait = {.day = known_date(telling->today)};
		struct tree tree;
		enum status status =
			store_tree_find(telling->session->store, row->label, &tree, why);

		text_copy(trait.tree_id, sizeof trait.tree_id, tree.id);
		text_copy(trait.name, sizeof trait.name, row->name);
		text_copy(trait.value, sizeof trait.value, row->value);
		if (status == STATUS_OK)
			status = store_trait_add(telling->session->store, &trait, why);
		if (status != STATUS_OK)
			return status;
	}
	return STATUS_OK;
}

static enum status set_the_scene(struct telling *telling, struct fault *why)
{
	struct session *session = telling->session;
	enum status status = store_act_begin(session->store, ACT_WORK, "the yard as found", why);

	for (const struct demo_tree *row = demo_trees; status == STATUS_OK && row->label; row++)
		status = add_tree(telling, row, why);
	if (status == STATUS_OK)
		status = add_candidates(telling, why);
	if (status == STATUS_OK)
		status = tell_descents(telling, why);
	if (status == STATUS_OK)
		status = add_dead_lemon(telling, why);
	if (status == STATUS_OK)
		status = add_shed(telling, why);
	if (status == STATUS_OK)
		status = add_ground(telling, why);
	if (status == STATUS_OK)
		status = add_windows(telling, why);
	if (status == STATUS_OK)
		status = add_traits(telling, why);
	if (status == STATUS_OK)
		status = yard_put_all_turns(session->store, session->almanac, why);
	if (status == STATUS_OK)
		status = store_act_commit(session->store, why);
	return status == STATUS_OK ? session_refresh(session, why) : status;
}

/* One line, logged on the evening of its day; its act is named by what it says. */
static enum status tell_line(struct telling *telling, const struct demo_line *row, struct date day,
	struct arena *arena, struct fault *why)
{
	struct session *session = telling->session;
	struct line_context context = session_line_context(session);
	struct reading reading = {0};
	struct work_logged logged;
	char line[400];

	fill(row->line, telling->today, true, line, sizeof line);
	clock_move(&session->clock, day);
	context.today = day;
	enum status status = line_read(line, &context, arena, &reading, NULL, why);
	if (status == STATUS_OK && !store_in_act(session->store))
		status = store_act_begin(session->store, ACT_WORK, reading.said, why);
	if (status == STATUS_OK)
		status = work_log_in_act(session->yard, &reading, &logged, why);
	if (status != STATUS_OK)
		fault_prefix(why, "\"%s\": ", line);
	return status;
}

struct dated {
	const struct demo_line *line;
	struct date day;
	int32_t place;
};

static int by_day(const void *left, const void *right)
{
	const struct dated *a = left;
	const struct dated *b = right;
	int32_t order = date_compare(a->day, b->day);

	if (order != 0)
		return order;
	return a->place < b->place ? -1 : 1;
}

/* Lines in the order they happened; what lies ahead of today is left out. */
static int32_t sort_lines(struct date today, struct arena *arena, struct dated **out)
{
	int32_t count = 0;

	while (demo_lines[count].line != NULL)
		count++;
	*out = arena_array(arena, (size_t)count, sizeof **out);
	int32_t kept = 0;
	for (int32_t i = 0; i < count; i++) {
		struct date day = line_day(&demo_lines[i], today);

		if (date_compare(day, today) <= 0)
			(*out)[kept++] = (struct dated){&demo_lines[i], day, i};
	}
	qsort(*out, (size_t)kept, sizeof **out, by_day);
	return kept;
}

/* Days of the station up to one, all of an act. */
static enum status bring_weather(struct telling *telling, struct date last, struct fault *why)
{
	struct store *store = telling->session->store;
	struct weather_day day;
	bool was_same;
	enum status status = store_act_begin(store, ACT_IMPORT, "import weather", why);

	for (; status == STATUS_OK && date_compare(telling->next_weather, last) <= 0;
		telling->next_weather.day++)
		if (demo_weather_of_day(telling->next_weather, telling->today, &day))
			status = store_weather_day_put(store, &day, &was_same, why);
	return status == STATUS_OK ? store_act_commit(store, why) : status;
}

/* Old seasons are typed up a year at a time; the last weeks line by line, so that undo has
 * something to take back. */
static bool ends_act(const struct dated *lines, int32_t count, int32_t at, struct date today)
{
	if (at + 1 == count)
		return true;
	if (date_days_between(lines[at + 1].day, today) <= LAST_ACTS_DAYS)
		return true;
	return date_parts(lines[at].day).year != date_parts(lines[at + 1].day).year;
}

/* The station is read about once a week, and before the last line, which is of today. */
static bool brings_weather(const struct telling *telling, struct date day)
{
	return date_days_between(day, telling->today) <= LAST_ACTS_DAYS &&
	       (date_days_between(telling->next_weather, day) > STATION_DAYS ||
		       date_compare(day, telling->today) == 0);
}

static enum status tell(struct telling *telling, int32_t *entries, struct fault *why)
{
	struct arena *arena = arena_new();
	struct store *store = telling->session->store;
	struct dated *lines = NULL;
	int32_t count = sort_lines(telling->today, arena, &lines);
	enum status status = STATUS_OK;

	for (int32_t i = 0; status == STATUS_OK && i < count; i++) {
		if (!store_in_act(store) && brings_weather(telling, lines[i].day)) {
			clock_move(&telling->session->clock, lines[i].day);
			status = bring_weather(telling, date_add_days(lines[i].day, -1), why);
		}
		if (status == STATUS_OK)
			status = tell_line(telling, lines[i].line, lines[i].day, arena, why);
		if (status == STATUS_OK && ends_act(lines, count, i, telling->today))
			status = store_act_commit(store, why);
		++*entries;
	}
	if (status != STATUS_OK)
		store_act_rollback(store);
	arena_free(arena);
	return status;
}

static struct place tern_hollow(void)
{
	return (struct place){.name = "Tern Hollow",
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
}

enum status demo_write(const char *path, const char *almanac, struct date today,
	char said[TEXT_SIZE], struct fault *why)
{
	struct date start = date_add_days(today, -7 * 366);
	struct session_options options = {
		.path = path, .almanac = almanac, .clock = clock_seeded(start, DEMO_SEED)};
	struct store_options store_options = {.clock = &options.clock};
	struct place place = tern_hollow();
	struct telling telling = {.today = today,
		.next_weather = date_of_month_day(date_parts(today).year - WEATHER_YEARS,
			(struct month_day){.month = 11, .day = 1})};
	struct store *store = NULL;
	int32_t entries = 0;
	enum status status = store_create(path, &store_options, &place, &store, why);

	if (status != STATUS_OK)
		return status;
	store_close(store);
	status = session_open(&options, &telling.session, why);
	if (status == STATUS_OK)
		status = set_the_scene(&telling, why);
	if (status == STATUS_OK)
		status = tell(&telling, &entries, why);
	session_close(telling.session);
	if (status != STATUS_OK) {
		remove(path);
		return status;
	}
	snprintf(said, TEXT_SIZE, "%s: %s, an invented yard, %d lines of six seasons", path,
		place.name, entries);
	return STATUS_OK;
}
