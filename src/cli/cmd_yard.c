/* SPDX-License-Identifier: MIT */
/* area, spot, obstacle, route */
#include <stdlib.h>
#include <string.h>

#include "acts.h"
#include "core/text.h"

enum status act_begin(struct call *call, const char *what, struct fault *why)
{
	return store_act_begin(call->session->store, ACT_WORK, what, why);
}

enum status act_end(struct call *call, enum status status, struct fault *why)
{
	if (status == STATUS_OK)
		status = store_act_commit(call->session->store, why);
	if (status != STATUS_OK)
		store_act_rollback(call->session->store);
	return status;
}

static enum status area_list(struct call *call, struct fault *why)
{
	struct area *areas = NULL;
	int32_t count = 0;
	enum status status =
		store_area_list(call->session->store, call->arena, &areas, &count, why);

	for (int32_t i = 0; status == STATUS_OK && i < count; i++)
		call_say(call, "%s", areas[i].name);
	return status;
}

static enum status area_change(struct call *call, struct fault *why)
{
	struct store *store = call->session->store;
	struct area area = {0};
	bool adds = call_word_is(call, 0, "add");
	bool renames = call_word_is(call, 0, "rename");
	enum status status;

	if (!adds) {
		status = store_area_find(store, call->words[1], &area, why);
		if (status != STATUS_OK)
			return status;
	}
	if (adds || renames) {
		status = label_check(call->words[adds ? 1 : 2], why);
		if (status != STATUS_OK)
			return status;
		text_copy(area.name, sizeof area.name, call->words[adds ? 1 : 2]);
	}
	status = act_begin(call, call_line(call, 0), why);
	if (status != STATUS_OK)
		return status;
	if (adds)
		status = store_area_add(store, &area, why);
	else if (renames)
		status = store_area_save(store, &area, why);
	else
		status = store_row_strike(store, "area", area.id, why);
	return act_end(call, status, why);
}

enum status cmd_area(struct call *call, int *exit_status, struct fault *why)
{
	(void)exit_status;
	if (call->word_count == 1 && call_word_is(call, 0, "list"))
		return area_list(call, why);
	if ((call->word_count == 2 &&
		    (call_word_is(call, 0, "add") || call_word_is(call, 0, "remove"))) ||
		(call->word_count == 3 && call_word_is(call, 0, "rename")))
		return area_change(call, why);
	return call_usage(call, why);
}

/* One word of a list; its place is the answer. */
static enum status word_in(const char *option, const char *value, const char *const *words,
	int count, int *out, struct fault *why)
{
	for (int i = 0; i < count; i++)
		if (strcmp(words[i], value) == 0) {
			*out = i;
			return STATUS_OK;
		}
	return fault_set(why, STATUS_SYNTAX, "--%s does not know '%s'", option, value);
}

static enum status read_spot_words(struct call *call, struct spot *spot, struct fault *why)
{
	static const char *const kinds[] = {"hole", "container", "off-place"};
	static const char *const soils[] = {"unknown", "sand", "loamy-sand", "sandy-loam", "loam",
		"silt-loam", "clay-loam", "clay"};
	static const char *const covers[] = {"unknown", "bare", "grass", "mulch"};
	const char *kind = call_option(call, "kind");
	const char *soil = call_option(call, "soil");
	const char *cover = call_option(call, "cover");
	const char *watering = call_option(call, "watering");
	int at = 0;
	enum status status = STATUS_OK;

	if (kind != NULL && (status = word_in("kind", kind, kinds, 3, &at, why)) == STATUS_OK)
		spot->kind = (enum spot_kind)at;
	if (status == STATUS_OK && soil != NULL &&
		(status = word_in("soil", soil, soils, 8, &at, why)) == STATUS_OK)
		spot->soil = (enum soil_texture)at;
	if (status == STATUS_OK && cover != NULL &&
		(status = word_in("cover", cover, covers, 4, &at, why)) == STATUS_OK)
		spot->cover = (enum ground_cover)at;
	if (watering != NULL)
		text_copy(spot->watering, sizeof spot->watering, watering);
	return status;
}

/* A length that may lie to the west or south of the place's zero. */
enum status read_offset(
	struct call *call, const char *option, struct maybe_i64 *out, struct fault *why)
{
	const char *value = call_option(call, option);
	bool minus = value != NULL && value[0] == '-';

	if (value == NULL)
		return STATUS_OK;
	enum status status =
		length_parse(value + (minus ? 1 : 0), &call->session->numbers, &out->value, why);
	if (status != STATUS_OK) {
		fault_prefix(why, "--%s: ", option);
		return status;
	}
	out->known = true;
	if (minus)
		out->value = -out->value;
	return STATUS_OK;
}

static enum status read_spot_figures(struct call *call, struct spot *spot, struct fault *why)
{
	const struct number_rules *numbers = &call->session->numbers;
	const char *volume = call_option(call, "volume");
	const char *offset = call_option(call, "offset");
	const char *emitters = call_option(call, "emitters");
	const char *flow = call_option(call, "flow");
	const char *efficiency = call_option(call, "efficiency");
	struct amount amount;
	enum status status = read_offset(call, "east", &spot->east_um, why);

	if (status == STATUS_OK)
		status = read_offset(call, "north", &spot->north_um, why);
	if (status == STATUS_OK)
		status = read_offset(call, "root-depth", &spot->root_depth_um, why);
	if (status == STATUS_OK && volume != NULL) {
		status = volume_parse(volume, numbers, &spot->volume_ul.value, why);
		spot->volume_ul.known = status == STATUS_OK;
	}
	if (status == STATUS_OK && offset != NULL)
		status = temperature_parse(offset, numbers, true, &spot->offset_decic, why);
	if (status == STATUS_OK && emitters != NULL)
		spot->emitters = known_i32((int32_t)strtol(emitters, NULL, 10));
	if (status == STATUS_OK && flow != NULL) {
		status = amount_parse(flow, DIMENSION_FLOW, NULL, numbers, &amount, why);
		if (status == STATUS_OK)
			spot->flow_ulh = amount.low;
	}
	if (status == STATUS_OK && efficiency != NULL) {
		status = amount_parse(efficiency, DIMENSION_SHARE, "%", numbers, &amount, why);
		if (status == STATUS_OK)
			spot->efficiency_permille = known_i32((int32_t)amount.low.value);
	}
	return status;
}

static enum status read_spot(struct call *call, struct spot *spot, struct fault *why)
{
	const char *area_name = call_option(call, "area");
	struct area area;
	enum status status = read_spot_words(call, spot, why);

	if (status == STATUS_OK)
		status = read_spot_figures(call, spot, why);
	if (status == STATUS_OK && area_name != NULL) {
		status = store_area_find(call->session->store, area_name, &area, why);
		if (status == STATUS_OK)
			text_copy(spot->area_id, sizeof spot->area_id, area.id);
	}
	return status;
}

/* Everything that stood in a spot, oldest first. */
static enum status spot_show(struct call *call, const struct spot *spot, struct fault *why)
{
	struct tree_place *places = NULL;
	int32_t count = 0;
	char from[DATE_SIZE], to[DATE_SIZE];
	enum status status = store_tree_place_list(
		call->session->store, NULL, spot->id, call->arena, &places, &count, why);

	call_say(call, "%s", spot->name);
	for (int32_t i = 0; status == STATUS_OK && i < count; i++) {
		struct tree tree;

		status = store_tree_load(call->session->store, places[i].tree_id, &tree, why);
		if (status != STATUS_OK)
			break;
		call_say(call, "  %-10s to %-10s  %s",
			places[i].from.known ? date_format(places[i].from.value, from) : "?",
			places[i].to.known ? date_format(places[i].to.value, to) : "now",
			tree.label);
	}
	return status;
}

static enum status spot_list(struct call *call, struct fault *why)
{
	struct spot *spots = NULL;
	int32_t count = 0;
	char east[32], north[32];
	enum unit_system units = call->session->units;
	enum status status =
		store_spot_list(call->session->store, call->arena, &spots, &count, why);

	for (int32_t i = 0; status == STATUS_OK && i < count; i++) {
		if (spots[i].east_um.known && spots[i].north_um.known)
			call_say(call, "%s  east %s north %s", spots[i].name,
				length_format(spots[i].east_um.value, units, east, sizeof east),
				length_format(spots[i].north_um.value, units, north, sizeof north));
		else
			call_say(call, "%s", spots[i].name);
	}
	return status;
}

enum status cmd_spot(struct call *call, int *exit_status, struct fault *why)
{
	struct store *store = call->session->store;
	struct spot spot = {0};
	bool adds = call_word_is(call, 0, "add");
	bool sets = call_word_is(call, 0, "set");
	bool removes = call_word_is(call, 0, "remove");
	enum status status;
	(void)exit_status;

	if (call->word_count == 1 && call_word_is(call, 0, "list"))
		return spot_list(call, why);
	if (call->word_count != 2 || !(adds || sets || removes || call_word_is(call, 0, "show")))
		return call_usage(call, why);
	if (adds) {
		status = label_check(call->words[1], why);
		text_copy(spot.name, sizeof spot.name, call->words[1]);
	} else {
		status = store_spot_find(store, call->words[1], &spot, why);
	}
	if (status != STATUS_OK)
		return status;
	if (call_word_is(call, 0, "show"))
		return spot_show(call, &spot, why);
	status = read_spot(call, &spot, why);
	if (status == STATUS_OK)
		status = act_begin(call, call_line(call, 0), why);
	if (status != STATUS_OK)
		return status;
	if (adds)
		status = store_spot_add(store, &spot, why);
	else if (sets)
		status = store_spot_save(store, &spot, why);
	else
		status = store_row_strike(store, "spot", spot.id, why);
	return act_end(call, status, why);
}

/* "0,0 12,0" in the length unit given, as "east,north east,north" in micrometres. */
static enum status read_points(struct call *call, const char *points, const char *unit,
	const char **out, struct fault *why)
{
	struct text_builder built = text_builder_in(call->arena);
	double um = strcmp(unit, "ft") == 0 ? 304800.0 : 1e6;
	const char *at = points;
	int count = 0;

	while (*at != '\0') {
		char *end = NULL;
		double east = strtod(at, &end);

		if (end == at || *end != ',')
			return fault_set(why, STATUS_SYNTAX,
				"--points wants \"east,north east,north ...\", not '%s'", at);
		at = end + 1;
		double north = strtod(at, &end);
		if (end == at || (*end != ' ' && *end != '\0'))
			return fault_set(why, STATUS_SYNTAX,
				"--points wants \"east,north east,north ...\", not '%s'", at);
		if (!(east > -1e5 && east < 1e5 && north > -1e5 && north < 1e5))
			return fault_set(why, STATUS_RANGE, "a point over 100,000 away");
		at = end + strspn(end, " ");
		text_add_format(&built, "%s%lld,%lld", count++ > 0 ? " " : "",
			(long long)round_i64(east * um), (long long)round_i64(north * um));
	}
	*out = built.text;
	return count > 0 ? STATUS_OK
			 : fault_set(why, STATUS_SYNTAX, "--points wants one point or more");
}

static enum status obstacle_add(struct call *call, struct fault *why)
{
	struct obstacle obstacle = {0};
	const char *kind = call_option(call, "kind");
	const char *points = call_option(call, "points");
	const char *unit = call_option(call, "length-unit");
	static const char *const kinds[] = {"wall", "house", "gate", "line"};
	static const char *const length_units[] = {"m", "ft"};
	int at = 0;

	if (kind == NULL || points == NULL)
		return call_usage(call, why);
	if (unit == NULL)
		unit = call->session->numbers.units == UNITS_US ? "ft" : "m";
	enum status status = word_in("kind", kind, kinds, 4, &at, why);
	if (status == STATUS_OK)
		status = word_in("length-unit", unit, length_units, 2, &at, why);
	if (status == STATUS_OK)
		status = read_points(call, points, unit, &obstacle.points, why);
	if (status == STATUS_OK)
		status = read_offset(call, "height", &obstacle.height_um, why);
	if (status == STATUS_OK)
		status = label_check(call->words[1], why);
	if (status == STATUS_OK)
		status = act_begin(call, call_line(call, 0), why);
	if (status != STATUS_OK)
		return status;
	text_copy(obstacle.name, sizeof obstacle.name, call->words[1]);
	text_copy(obstacle.kind, sizeof obstacle.kind, kind);
	return act_end(call, store_obstacle_add(call->session->store, &obstacle, why), why);
}

enum status cmd_obstacle(struct call *call, int *exit_status, struct fault *why)
{
	struct obstacle *obstacles = NULL;
	int32_t count = 0;
	bool removes = call_word_is(call, 0, "remove");
	(void)exit_status;

	if (call->word_count == 2 && call_word_is(call, 0, "add"))
		return obstacle_add(call, why);
	if (!(call->word_count == 1 && call_word_is(call, 0, "list")) &&
		!(call->word_count == 2 && removes))
		return call_usage(call, why);
	enum status status =
		store_obstacle_list(call->session->store, call->arena, &obstacles, &count, why);
	for (int32_t i = 0; status == STATUS_OK && i < count; i++) {
		if (!removes)
			call_say(call, "%s  %s", obstacles[i].name, obstacles[i].kind);
		else if (text_same(obstacles[i].name, call->words[1])) {
			status = act_begin(call, call_line(call, 0), why);
			if (status != STATUS_OK)
				return status;
			return act_end(call,
				store_row_strike(
					call->session->store, "obstacle", obstacles[i].id, why),
				why);
		}
	}
	if (status == STATUS_OK && removes)
		return fault_set(why, STATUS_ABSENT, "no obstacle '%s'", call->words[1]);
	return status;
}

static enum status route_show(struct call *call, struct fault *why)
{
	char(*ids)[ID_SIZE] = NULL;
	int32_t count = 0;
	enum status status = store_route_list(call->session->store, call->arena, &ids, &count, why);

	for (int32_t i = 0; status == STATUS_OK && i < count; i++) {
		struct spot spot;

		status = store_spot_load(call->session->store, ids[i], &spot, why);
		if (status == STATUS_OK)
			call_say(call, "%d  %s", i + 1, spot.name);
	}
	if (status == STATUS_OK && count == 0)
		call_say(call, "no route set: the walk goes by label");
	return status;
}

enum status cmd_route(struct call *call, int *exit_status, struct fault *why)
{
	const char *ids[WORDS_MAX];
	(void)exit_status;

	if (call->word_count == 1 && call_word_is(call, 0, "show"))
		return route_show(call, why);
	if (call->word_count < 2 || !call_word_is(call, 0, "set"))
		return call_usage(call, why);
	for (int32_t i = 1; i < call->word_count; i++) {
		struct spot spot;
		enum status status =
			store_spot_find(call->session->store, call->words[i], &spot, why);
		if (status != STATUS_OK)
			return status;
		ids[i - 1] = arena_text(call->arena, spot.id);
	}
	enum status status = act_begin(call, "route set", why);
	if (status != STATUS_OK)
		return status;
	return act_end(
		call, store_route_set(call->session->store, ids, call->word_count - 1, why), why);
}
