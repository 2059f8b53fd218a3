/* SPDX-License-Identifier: MIT */
/* area, obstacle, route; and what the acts of several commands share. */
#include <stdlib.h>
#include <string.h>

#include "acts.h"
#include "core/text.h"

enum status act_begin(struct call *call, const char *what, struct fault *why)
{
	const char *named = arena_format(call->arena, "%s %s", call->command->name, what);

	return store_act_begin(call->session->store, ACT_WORK, named, why);
}

enum status act_end(struct call *call, enum status status, struct fault *why)
{
	if (status == STATUS_OK)
		status = store_act_commit(call->session->store, why);
	if (status != STATUS_OK)
		store_act_rollback(call->session->store);
	return status;
}

enum status word_in(const char *option, const char *value, const char *const *words, int count,
	int *out, struct fault *why)
{
	char known[160];
	struct text_builder list = text_builder_fixed(known, sizeof known);

	text_add(&list, "");
	for (int i = 0; i < count; i++) {
		if (words[i] == NULL || words[i][0] == '\0')
			continue;
		if (strcmp(words[i], value) == 0) {
			*out = i;
			return STATUS_OK;
		}
		text_add_format(&list, "%s%s", list.length > 0 ? ", " : "", words[i]);
	}
	return fault_set(why, STATUS_SYNTAX, "--%s is one of %s, not '%s'", option, known, value);
}

bool wants_rows(const struct call *call)
{
	return call->format != FORMAT_TEXT;
}

enum status want_option(const struct call *call, struct fault *why)
{
	return call_has_own(call) ? STATUS_OK : call_usage(call, why);
}

static const char *const area_keys[] = {"area", NULL};

static enum status area_list(struct call *call, struct fault *why)
{
	struct area *areas = NULL;
	struct rows rows;
	int32_t count = 0;
	enum status status =
		store_area_list(call->session->store, call->arena, &areas, &count, why);

	if (status != STATUS_OK)
		return status;
	if (wants_rows(call))
		rows = rows_begin(&call->printer, area_keys);
	for (int32_t i = 0; i < count; i++) {
		if (wants_rows(call))
			rows_text(&rows, areas[i].name);
		else
			call_say(call, "%s", areas[i].name);
	}
	return wants_rows(call) ? rows_end(&rows, why) : STATUS_OK;
}

static enum status area_change(struct call *call, struct fault *why)
{
	struct store *store = call->session->store;
	struct area area = {0};
	const char *old = call->words[1];
	const char *name = call->words[call->word_count - 1];
	bool adds = call_word_is(call, 0, "add");
	bool renames = call_word_is(call, 0, "rename");
	enum status status = STATUS_OK;

	if (!adds)
		status = store_area_find(store, old, &area, why);
	if (status == STATUS_OK && (adds || renames)) {
		status = label_check(name, why);
		text_copy(area.name, sizeof area.name, name);
	}
	if (status == STATUS_OK)
		status = act_begin(call, call_line(call, 0), why);
	if (status != STATUS_OK)
		return status;
	if (adds)
		status = store_area_add(store, &area, why);
	else if (renames)
		status = store_area_save(store, &area, why);
	else
		status = store_row_strike(store, "area", area.id, why);
	status = act_end(call, status, why);
	if (status == STATUS_OK)
		call_say(call, "area %s %s%s", old,
			adds      ? "added"
			: renames ? "is now called "
				  : "removed",
			renames ? name : "");
	return status;
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
	status = act_end(call, store_obstacle_add(call->session->store, &obstacle, why), why);
	if (status == STATUS_OK)
		call_say(call, "%s %s added", kind, obstacle.name);
	return status;
}

static const char *const obstacle_keys[] = {"obstacle", "kind", "points_um", "height_um", NULL};

static enum status obstacle_list(
	struct call *call, const struct obstacle *obstacles, int32_t count, struct fault *why)
{
	struct rows rows;
	char height[32];

	if (wants_rows(call))
		rows = rows_begin(&call->printer, obstacle_keys);
	for (int32_t i = 0; i < count; i++) {
		const struct obstacle *obstacle = &obstacles[i];

		if (!wants_rows(call)) {
			call_say(call, "%s  %s%s%s", obstacle->name, obstacle->kind,
				obstacle->height_um.known ? ", high " : "",
				obstacle->height_um.known
					? length_format(obstacle->height_um.value,
						  call->session->units, height, sizeof height)
					: "");
			continue;
		}
		rows_text(&rows, obstacle->name);
		rows_text(&rows, obstacle->kind);
		rows_text(&rows, obstacle->points);
		rows_i64(&rows, obstacle->height_um);
	}
	return wants_rows(call) ? rows_end(&rows, why) : STATUS_OK;
}

static enum status obstacle_remove(
	struct call *call, const struct obstacle *obstacles, int32_t count, struct fault *why)
{
	for (int32_t i = 0; i < count; i++) {
		if (!text_same(obstacles[i].name, call->words[1]))
			continue;
		enum status status = act_begin(call, call_line(call, 0), why);
		if (status != STATUS_OK)
			return status;
		status = act_end(call,
			store_row_strike(call->session->store, "obstacle", obstacles[i].id, why),
			why);
		if (status == STATUS_OK)
			call_say(call, "%s %s removed", obstacles[i].kind, obstacles[i].name);
		return status;
	}
	return fault_set(
		why, STATUS_ABSENT, "no obstacle '%s'; 'obstacle list' shows them", call->words[1]);
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
	if (status != STATUS_OK)
		return status;
	return removes ? obstacle_remove(call, obstacles, count, why)
		       : obstacle_list(call, obstacles, count, why);
}

static const char *const route_keys[] = {"stop", "spot", NULL};

static enum status route_show(struct call *call, struct fault *why)
{
	char(*ids)[ID_SIZE] = NULL;
	struct rows rows;
	int32_t count = 0;
	enum status status = store_route_list(call->session->store, call->arena, &ids, &count, why);

	if (status == STATUS_OK && wants_rows(call))
		rows = rows_begin(&call->printer, route_keys);
	for (int32_t i = 0; status == STATUS_OK && i < count; i++) {
		struct spot spot;

		status = store_spot_load(call->session->store, ids[i], &spot, why);
		if (status != STATUS_OK)
			break;
		if (!wants_rows(call)) {
			call_say(call, "%d  %s", i + 1, spot.name);
			continue;
		}
		rows_i32(&rows, i + 1);
		rows_text(&rows, spot.name);
	}
	if (status != STATUS_OK)
		return status;
	if (wants_rows(call))
		return rows_end(&rows, why);
	if (count == 0)
		call_say(call, "no route set: the walk goes by label");
	return STATUS_OK;
}

static enum status route_auto(struct call *call, struct fault *why)
{
	char said[FAULT_TEXT_SIZE];
	const enum status status = work_route_auto(call->session->yard, said, why);

	if (status != STATUS_OK)
		return status;
	if (!wants_rows(call))
		call_say(call, "%s", said);
	return route_show(call, why);
}

enum status cmd_route(struct call *call, int *exit_status, struct fault *why)
{
	const char *ids[WORDS_MAX];
	(void)exit_status;

	if (call->word_count == 1 && call_word_is(call, 0, "show"))
		return route_show(call, why);
	if (call->word_count == 1 && call_word_is(call, 0, "auto"))
		return route_auto(call, why);
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
	enum status status = act_begin(call, call_line(call, 0), why);
	if (status != STATUS_OK)
		return status;
	status = act_end(
		call, store_route_set(call->session->store, ids, call->word_count - 1, why), why);
	return status == STATUS_OK ? route_show(call, why) : status;
}
