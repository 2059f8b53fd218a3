/* SPDX-License-Identifier: MIT */
/* new, demo, place */
#include <stdlib.h>
#include <string.h>

#include "acts.h"
#include "core/file.h"
#include "core/text.h"
#include "report/demo.h"

static enum status read_degrees(const char *option, const char *value, double most,
	struct maybe_i32 *out, struct fault *why)
{
	char *end = NULL;
	double degrees = strtod(value, &end);

	if (end == value || *end != '\0' || strpbrk(value, "xXnN") != NULL)
		return fault_set(why, STATUS_SYNTAX,
			"--%s is degrees as a decimal number, south and west negative, not '%s'",
			option, value);
	if (!(degrees >= -most && degrees <= most))
		return fault_set(why, STATUS_RANGE, "--%s is from %g to %g, not '%s'", option,
			-most, most, value);
	*out = known_i32((int32_t)round_i64(degrees * 1e6));
	return STATUS_OK;
}

struct word_option {
	const char *name;
	const char *words[5];
	int *target;
};

static enum status read_words(struct call *call, struct place *place, struct fault *why)
{
	int hemisphere = (int)place->hemisphere, wet = (int)place->wet;
	int winter = (int)place->winter, units = (int)place->units, gallon = (int)place->gallon;
	int numbers = (int)place->numbers, dates = (int)place->dates;
	const struct word_option options[] = {
		{"hemisphere", {NULL, "north", "south"}, &hemisphere},
		{"wet", {NULL, "winter", "summer", "all", "little"}, &wet},
		{"winter", {NULL, "hard", "frosty", "mild"}, &winter},
		{"units", {NULL, "us", "si"}, &units},
		{"gallon", {NULL, "us", "imperial"}, &gallon},
		{"numbers", {NULL, "point", "comma"}, &numbers},
		{"dates", {NULL, "dmy", "mdy"}, &dates},
	};

	for (size_t i = 0; i < sizeof options / sizeof options[0]; i++) {
		const char *value = call_option(call, options[i].name);

		if (value == NULL)
			continue;
		enum status status = word_in(
			options[i].name, value, options[i].words, 5, options[i].target, why);
		if (status != STATUS_OK)
			return status;
	}
	place->hemisphere = (enum hemisphere)hemisphere;
	place->wet = (enum wet_season)wet;
	place->winter = (enum winter_kind)winter;
	place->units = (enum unit_system)units;
	place->gallon = (enum gallon)gallon;
	place->numbers = (enum number_style)numbers;
	place->dates = (enum date_order)dates;
	return STATUS_OK;
}

/* The sign of the latitude settles the hemisphere; a contradiction is asked back. */
static enum status settle_hemisphere(struct call *call, struct place *place, struct fault *why)
{
	if (!place->latitude_udeg.known || place->latitude_udeg.value == 0)
		return STATUS_OK;
	enum hemisphere by_sign =
		place->latitude_udeg.value > 0 ? HEMISPHERE_NORTH : HEMISPHERE_SOUTH;
	if (call_has(call, "hemisphere") && place->hemisphere != by_sign)
		return fault_set(why, STATUS_DOUBT,
			"latitude %.4f lies in the %s: mend --lat or --hemisphere",
			place->latitude_udeg.value / 1e6,
			by_sign == HEMISPHERE_NORTH ? "north" : "south");
	place->hemisphere = by_sign;
	return STATUS_OK;
}

static enum status read_month_day(
	const char *option, const char *value, struct month_day *out, struct fault *why)
{
	enum status status = month_day_parse(value, out, why);

	if (status != STATUS_OK)
		fault_prefix(why, "--%s: ", option);
	return status;
}

enum status call_read_place(struct call *call, struct place *place, struct fault *why)
{
	const char *name = call_option(call, "name");
	const char *lat = call_option(call, "lat");
	const char *lon = call_option(call, "lon");
	const char *last = call_option(call, "last-frost");
	const char *first = call_option(call, "first-frost");
	enum status status = read_words(call, place, why);

	if (status == STATUS_OK && name != NULL &&
		!text_copy(place->name, sizeof place->name, name))
		status = fault_set(why, STATUS_RANGE, "the name is too long");
	if (status == STATUS_OK && lat != NULL)
		status = read_degrees("lat", lat, 90.0, &place->latitude_udeg, why);
	if (status == STATUS_OK && lon != NULL)
		status = read_degrees("lon", lon, 180.0, &place->longitude_udeg, why);
	if (status == STATUS_OK && last != NULL)
		status = read_month_day("last-frost", last, &place->last_frost, why);
	if (status == STATUS_OK && first != NULL)
		status = read_month_day("first-frost", first, &place->first_frost, why);
	if (status == STATUS_OK)
		status = settle_hemisphere(call, place, why);
	if (status == STATUS_OK && place->name[strspn(place->name, " \t")] == '\0')
		status =
			fault_set(why, STATUS_SYNTAX, "a place wants a name: --name \"Hill yard\"");
	return status;
}

/* The path of the log the call is about. */
static enum status log_path(const struct call *call, char out[FILE_PATH_SIZE], struct fault *why)
{
	if (call->log == NULL)
		return file_default_log_path(out, why);
	if (!text_copy(out, FILE_PATH_SIZE, call->log))
		return fault_set(why, STATUS_RANGE, "the path of the log is too long");
	return STATUS_OK;
}

/* Opens the new log once, so that what is kept with it is there from the start. */
static enum status first_opening(struct call *call, const char *path, struct fault *why)
{
	struct session_options options = {.path = path,
		.almanac = call->almanac,
		.clock = call->today.known ? clock_pinned(call->today.value) : clock_system()};

	return session_open(&options, &call->session, why);
}

enum status cmd_new(struct call *call, int *exit_status, struct fault *why)
{
	struct place place = {0};
	struct store *store = NULL;
	char path[FILE_PATH_SIZE];
	struct clock clock = call->today.known ? clock_pinned(call->today.value) : clock_system();
	struct store_options options = {.clock = &clock};
	(void)exit_status;
	enum status status = call_want(call, 0, 0, why);

	if (status == STATUS_OK)
		status = call_read_place(call, &place, why);
	if (status == STATUS_OK)
		status = log_path(call, path, why);
	if (status == STATUS_OK && call->log == NULL)
		status = file_make_folders(path, why);
	if (status == STATUS_OK)
		status = call_file_fault(store_create(path, &options, &place, &store, why), why);
	if (status != STATUS_OK)
		return status;
	store_close(store);
	status = first_opening(call, path, why);
	if (status != STATUS_OK)
		return status;
	call_say(call, "%s: a new log for %s", path, place.name);
	if (place.hemisphere == HEMISPHERE_UNKNOWN)
		call_say(call,
			"North or south of the equator is not known yet: no date is given until "
			"it is (boughbook place set --hemisphere north|south, or --lat)");
	return STATUS_OK;
}

enum status cmd_demo(struct call *call, int *exit_status, struct fault *why)
{
	char said[TEXT_SIZE];
	struct clock clock = call->today.known ? clock_pinned(call->today.value) : clock_system();
	(void)exit_status;
	enum status status = call_want(call, 1, 1, why);

	if (status == STATUS_OK)
		status = call_file_fault(
			demo_write(call->words[0], call->almanac, clock_today(&clock), said, why),
			why);
	if (status == STATUS_OK)
		call_say(call, "%s", said);
	return status;
}

/* The place's units and numbers are now those of the answer too. */
static void set_display(struct call *call)
{
	call->printer.units = call->session->units;
	call->printer.numbers = call->session->numbers;
}

enum status cmd_place(struct call *call, int *exit_status, struct fault *why)
{
	struct session *session = call->session;
	struct place place;
	(void)exit_status;
	enum status status = call_want(call, 1, 1, why);

	if (status != STATUS_OK)
		return status;
	if (call_word_is(call, 0, "show"))
		return print_place(&call->printer, session->yard, why);
	if (!call_word_is(call, 0, "set"))
		return call_usage(call, why);
	place = *yard_place(session->yard);
	status = want_option(call, why);
	if (status == STATUS_OK)
		status = call_read_place(call, &place, why);
	if (status == STATUS_OK)
		status = act_begin(call, call_line(call, 0), why);
	if (status != STATUS_OK)
		return status;
	status = store_place_save(session->store, &place, why);
	if (status == STATUS_OK)
		status = yard_put_all_turns(session->store, session->almanac, why);
	status = act_end(call, status, why);
	if (status == STATUS_OK)
		status = session_refresh(session, why);
	if (status != STATUS_OK)
		return status;
	set_display(call);
	return print_place(&call->printer, session->yard, why);
}
