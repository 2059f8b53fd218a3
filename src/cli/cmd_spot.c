/* SPDX-License-Identifier: MIT */
/* spot: planting holes and containers, and what stood in them. */
#include <stdlib.h>
#include <string.h>

#include "acts.h"
#include "core/text.h"

static const char *const spot_kinds[] = {"hole", "container", "off-place"};
static const char *const soils[] = {
	"", "sand", "loamy-sand", "sandy-loam", "loam", "silt-loam", "clay-loam", "clay"};
static const char *const covers[] = {"", "bare", "grass", "mulch"};

static enum status read_spot_words(struct call *call, struct spot *spot, struct fault *why)
{
	const char *kind = call_option(call, "kind");
	const char *soil = call_option(call, "soil");
	const char *cover = call_option(call, "cover");
	const char *watering = call_option(call, "watering");
	int at = 0;
	enum status status = STATUS_OK;

	if (kind != NULL && (status = word_in("kind", kind, spot_kinds, 3, &at, why)) == STATUS_OK)
		spot->kind = (enum spot_kind)at;
	if (status == STATUS_OK && soil != NULL &&
		(status = word_in("soil", soil, soils, 8, &at, why)) == STATUS_OK)
		spot->soil = (enum soil_texture)at;
	if (status == STATUS_OK && cover != NULL &&
		(status = word_in("cover", cover, covers, 4, &at, why)) == STATUS_OK)
		spot->cover = (enum ground_cover)at;
	if (status == STATUS_OK && watering != NULL &&
		!text_copy(spot->watering, sizeof spot->watering, watering))
		status = fault_set(why, STATUS_RANGE, "--watering is too long");
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

static enum status read_count(
	const char *option, const char *value, struct maybe_i32 *out, struct fault *why)
{
	enum { COUNT_MAX = 10000 };
	char *end = NULL;
	long count = strtol(value, &end, 10);

	if (value[0] < '0' || value[0] > '9' || *end != '\0' || count > COUNT_MAX)
		return fault_set(why, STATUS_SYNTAX, "--%s is a whole number up to %d, not '%s'",
			option, COUNT_MAX, value);
	*out = known_i32((int32_t)count);
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
		status = read_count("emitters", emitters, &spot->emitters, why);
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

/* "east 3 m, north 4 m"; what lies on the other side of the place's zero is west or south. */
static const char *say_position(const struct call *call, const struct spot *spot)
{
	char east[32], north[32];
	enum unit_system units = call->session->units;
	int64_t east_um = spot->east_um.value;
	int64_t north_um = spot->north_um.value;

	return arena_format(call->arena, "%s %s, %s %s", east_um < 0 ? "west" : "east",
		length_format(east_um < 0 ? -east_um : east_um, units, east, sizeof east),
		north_um < 0 ? "south" : "north",
		length_format(north_um < 0 ? -north_um : north_um, units, north, sizeof north));
}

/* What a spot is, line by line, where it is known. */
static void say_spot(const struct call *call, const struct spot *spot)
{
	char text[32];
	enum unit_system units = call->session->units;

	call_say(call, "%s  %s", spot->name, spot_kinds[spot->kind]);
	if (spot->east_um.known && spot->north_um.known)
		call_say(call, "  %s", say_position(call, spot));
	if (spot->volume_ul.known)
		call_say(call, "  holds %s",
			volume_format(
				spot->volume_ul.value, &call->session->numbers, text, sizeof text));
	if (spot->soil != SOIL_UNKNOWN || spot->root_depth_um.known)
		call_say(call, "  soil %s%s%s",
			spot->soil != SOIL_UNKNOWN ? soils[spot->soil] : "not known",
			spot->root_depth_um.known ? ", roots to " : "",
			spot->root_depth_um.known
				? length_format(spot->root_depth_um.value, units, text, sizeof text)
				: "");
	if (spot->cover != COVER_UNKNOWN)
		call_say(call, "  under it %s", covers[spot->cover]);
	if (spot->emitters.known && spot->flow_ulh.known)
		call_say(call, "  %d emitter%s of %s an hour", spot->emitters.value,
			spot->emitters.value == 1 ? "" : "s",
			volume_format(
				spot->flow_ulh.value, &call->session->numbers, text, sizeof text));
	if (spot->offset_decic != 0)
		call_say(call, "  runs %s %s than the place",
			temperature_gap_format(spot->offset_decic, units, text, sizeof text),
			spot->offset_decic < 0 ? "colder" : "warmer");
}

static const char *const standing_keys[] = {"spot", "tree", "from", "to", NULL};

/* Did the tree stand there on that day, as far as is known? */
static bool stood_on(const struct tree_place *place, struct date day)
{
	if (place->from.known && date_compare(place->from.value, day) > 0)
		return false;
	return !place->to.known || date_compare(place->to.value, day) > 0;
}

/* Everything that stood in a spot, oldest first; with --day what stood there then. */
static enum status spot_show(struct call *call, const struct spot *spot, struct fault *why)
{
	struct tree_place *places = NULL;
	struct rows rows;
	int32_t count = 0;
	char from[DATE_SIZE], to[DATE_SIZE];
	const char *day_text = call_option(call, "day");
	struct date_span day = {0};
	enum status status = day_text == NULL ? STATUS_OK : call_day(call, day_text, &day, why);

	if (status == STATUS_OK)
		status = store_tree_place_list(
			call->session->store, NULL, spot->id, call->arena, &places, &count, why);
	if (status != STATUS_OK)
		return status;
	if (wants_rows(call))
		rows = rows_begin(&call->printer, standing_keys);
	else
		say_spot(call, spot);
	for (int32_t i = 0; i < count; i++) {
		struct tree tree;

		if (day_text != NULL && day.low.known && !stood_on(&places[i], day.low.value))
			continue;
		status = store_tree_load(call->session->store, places[i].tree_id, &tree, why);
		if (status != STATUS_OK)
			return status;
		if (!wants_rows(call)) {
			call_say(call, "  %-10s to %-10s  %s",
				places[i].from.known ? date_format(places[i].from.value, from)
						     : "?",
				places[i].to.known ? date_format(places[i].to.value, to) : "now",
				tree.label);
			continue;
		}
		rows_text(&rows, spot->name);
		rows_text(&rows, tree.label);
		rows_date(&rows, places[i].from);
		rows_date(&rows, places[i].to);
	}
	return wants_rows(call) ? rows_end(&rows, why) : STATUS_OK;
}

static const char *const spot_keys[] = {"spot", "kind", "area", "east_um", "north_um", "volume_ul",
	"offset_decic", "soil", "root_depth_um", "cover", "watering", "emitters",
	"flow_ul_per_hour", "efficiency_permille", NULL};

static struct maybe_i64 wide(struct maybe_i32 value)
{
	return (struct maybe_i64){value.value, value.known};
}

static const char *area_name(const struct spot *spot, const struct area *areas, int32_t count)
{
	for (int32_t i = 0; i < count; i++)
		if (strcmp(areas[i].id, spot->area_id) == 0)
			return areas[i].name;
	return NULL;
}

static void spot_row(struct rows *rows, const struct spot *spot, const char *area)
{
	rows_text(rows, spot->name);
	rows_text(rows, spot_kinds[spot->kind]);
	rows_text(rows, area);
	rows_i64(rows, spot->east_um);
	rows_i64(rows, spot->north_um);
	rows_i64(rows, spot->volume_ul);
	rows_i32(rows, spot->offset_decic);
	rows_text(rows, soils[spot->soil]);
	rows_i64(rows, spot->root_depth_um);
	rows_text(rows, covers[spot->cover]);
	rows_text(rows, spot->watering);
	rows_i64(rows, wide(spot->emitters));
	rows_i64(rows, spot->flow_ulh);
	rows_i64(rows, wide(spot->efficiency_permille));
}

static enum status spot_list(struct call *call, struct fault *why)
{
	struct spot *spots = NULL;
	struct area *areas = NULL;
	struct rows rows;
	int32_t count = 0, area_count = 0;
	enum status status =
		store_spot_list(call->session->store, call->arena, &spots, &count, why);

	if (status == STATUS_OK)
		status = store_area_list(
			call->session->store, call->arena, &areas, &area_count, why);
	if (status != STATUS_OK)
		return status;
	if (wants_rows(call))
		rows = rows_begin(&call->printer, spot_keys);
	for (int32_t i = 0; i < count; i++) {
		const struct spot *spot = &spots[i];

		if (wants_rows(call))
			spot_row(&rows, spot, area_name(spot, areas, area_count));
		else if (spot->east_um.known && spot->north_um.known)
			call_say(call, "%s  %s, %s", spot->name, spot_kinds[spot->kind],
				say_position(call, spot));
		else
			call_say(call, "%s  %s", spot->name, spot_kinds[spot->kind]);
	}
	return wants_rows(call) ? rows_end(&rows, why) : STATUS_OK;
}

static enum status spot_change(struct call *call, struct spot *spot, struct fault *why)
{
	struct store *store = call->session->store;
	bool adds = call_word_is(call, 0, "add");
	bool sets = call_word_is(call, 0, "set");
	enum status status = sets ? want_option(call, why) : STATUS_OK;

	if (status == STATUS_OK)
		status = read_spot(call, spot, why);
	if (status == STATUS_OK)
		status = act_begin(call, call_line(call, 0), why);
	if (status != STATUS_OK)
		return status;
	if (adds)
		status = store_spot_add(store, spot, why);
	else if (sets)
		status = store_spot_save(store, spot, why);
	else
		status = store_row_strike(store, "spot", spot->id, why);
	status = act_end(call, status, why);
	if (status == STATUS_OK && (adds || sets))
		say_spot(call, spot);
	else if (status == STATUS_OK)
		call_say(call, "spot %s removed", spot->name);
	return status;
}

enum status cmd_spot(struct call *call, int *exit_status, struct fault *why)
{
	struct spot spot = {0};
	bool adds = call_word_is(call, 0, "add");
	enum status status;
	(void)exit_status;

	if (call->word_count == 1 && call_word_is(call, 0, "list"))
		return spot_list(call, why);
	if (call->word_count != 2 ||
		!(adds || call_word_is(call, 0, "set") || call_word_is(call, 0, "remove") ||
			call_word_is(call, 0, "show")))
		return call_usage(call, why);
	if (adds) {
		status = label_check(call->words[1], why);
		text_copy(spot.name, sizeof spot.name, call->words[1]);
	} else {
		status = store_spot_find(call->session->store, call->words[1], &spot, why);
	}
	if (status != STATUS_OK)
		return status;
	return call_word_is(call, 0, "show") ? spot_show(call, &spot, why)
					     : spot_change(call, &spot, why);
}
