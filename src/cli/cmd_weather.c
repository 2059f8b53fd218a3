/* SPDX-License-Identifier: MIT */
/* weather */
#include <stdlib.h>
#include <string.h>

#include "acts.h"

static enum status weather_import(struct call *call, struct fault *why)
{
	static const char *const kinds[] = {"observed", "forecast"};
	struct import_options options = {0};
	struct import_account account = {0};
	const char *units = call_option(call, "units");
	const char *kind = call_option(call, "kind");
	int place = 0;
	enum status status = call_want(call, 2, 2, why);

	if (status == STATUS_OK)
		status = read_import(call, &options, why);
	if (status == STATUS_OK && kind != NULL)
		status = word_in("kind", kind, kinds, 2, &place, why);
	if (status != STATUS_OK)
		return status;
	options.kind = kind;
	options.station = call_option(call, "station");
	options.numbers = call_option(call, "numbers");
	options.column_units = call_option(call, "column-units");
	options.missing = call_option(call, "missing");
	if (units != NULL)
		options.units = strcmp(units, "us") == 0 ? UNITS_US : UNITS_SI;
	status = import_weather(call->session, &options, call->arena, &account, why);
	say_account(call, &options, &account, status);
	return status;
}

static const char *const parts[] = {[WEATHER_ALL] = "all",
	[WEATHER_DAYS] = "days",
	[WEATHER_YEARS] = "years",
	[WEATHER_CHILL] = "chill",
	[WEATHER_WARMTH] = "warmth",
	[WEATHER_HARVEST] = "harvest",
	[WEATHER_FROST] = "frost"};

static enum status read_day(
	struct call *call, const char *option, struct maybe_date *out, struct fault *why)
{
	const char *text = call_option(call, option);
	enum status status = STATUS_OK;

	if (text == NULL)
		return STATUS_OK;
	status = date_parse_iso(text, &out->value, why);
	out->known = status == STATUS_OK;
	if (status != STATUS_OK)
		fault_prefix(why, "--%s: ", option);
	return status;
}

static enum status read_ask(struct call *call, struct weather_ask *ask, struct fault *why)
{
	enum { DAYS_MAX = 36500 };
	const char *season = call_option(call, "season");
	const char *days = call_option(call, "days");
	enum status status = read_day(call, "from", &ask->from, why);

	if (status == STATUS_OK)
		status = read_day(call, "to", &ask->to, why);
	if (status == STATUS_OK && season != NULL)
		status = season_parse(season, &ask->season.value, why);
	ask->season.known = season != NULL;
	if (status == STATUS_OK && days != NULL) {
		char *end = NULL;
		long count = strtol(days, &end, 10);

		if (*end != '\0' || end == days || count < 1 || count > DAYS_MAX)
			return fault_set(why, STATUS_RANGE,
				"--days is a number from 1 to %d, not '%s'", DAYS_MAX, days);
		ask->days = known_i32((int32_t)count);
	}
	int given = (season != NULL) + (days != NULL) + (ask->from.known || ask->to.known);
	if (status == STATUS_OK && given > 1)
		return fault_set(
			why, STATUS_SYNTAX, "give one of --season, --days, and --from with --to");
	return status;
}

/* Rows are those of one part; people read all of it at once. */
static enum status weather_print(struct call *call, const struct weather_report *report,
	enum weather_part part, struct fault *why)
{
	struct yard *yard = call->session->yard;
	bool all = part == WEATHER_ALL && !wants_rows(call);
	bool of_trees = part == WEATHER_HARVEST || part == WEATHER_FROST;
	struct weather_warmth warmth;
	struct weather_trees trees;
	enum status status = STATUS_OK;

	if (!of_trees && part != WEATHER_WARMTH)
		status = print_weather(&call->printer, report, part, yard, why);
	if (status == STATUS_OK && (part == WEATHER_WARMTH || all))
		status = weather_warmth_make(yard, report, call->arena, &warmth, why);
	if (status == STATUS_OK && (part == WEATHER_WARMTH || all))
		status = print_weather_warmth(&call->printer, &warmth, part, yard, why);
	if (status == STATUS_OK && (of_trees || all))
		status = weather_trees_make(yard, report, call->arena, &trees, why);
	if (status == STATUS_OK && (of_trees || all))
		status = print_weather_trees(&call->printer, &trees, part, yard, why);
	return status;
}

static enum status weather_show(struct call *call, struct fault *why)
{
	struct weather_ask ask = {0};
	struct weather_report report;
	struct yard *yard = call->session->yard;
	int place = WEATHER_ALL;
	enum status status = call_want(call, 1, 2, why);

	if (status == STATUS_OK && call->word_count == 2)
		status = word_in("part", call->words[1], parts, WEATHER_PARTS, &place, why);
	if (status == STATUS_OK)
		status = read_ask(call, &ask, why);
	if (status == STATUS_OK)
		status = weather_report_make(yard, &ask, call->arena, &report, why);
	if (status == STATUS_OK)
		status = weather_print(call, &report, (enum weather_part)place, why);
	return status;
}

enum status cmd_weather(struct call *call, int *exit_status, struct fault *why)
{
	(void)exit_status;
	if (call_word_is(call, 0, "import"))
		return weather_import(call, why);
	if (call_word_is(call, 0, "show"))
		return weather_show(call, why);
	return call_usage(call, why);
}
