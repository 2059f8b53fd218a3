/* SPDX-License-Identifier: MIT */
/* weather */
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
	options.forecast = place == 1;
	options.station = call_option(call, "station");
	if (units != NULL)
		options.units = strcmp(units, "us") == 0 ? UNITS_US : UNITS_SI;
	status = import_weather(call->session, &options, call->arena, &account, why);
	say_account(call, &options, &account, status);
	return status;
}

enum status cmd_weather(struct call *call, int *exit_status, struct fault *why)
{
	(void)exit_status;
	if (call_word_is(call, 0, "import"))
		return weather_import(call, why);
	return call_usage(call, why);
}
