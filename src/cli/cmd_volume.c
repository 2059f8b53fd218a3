/* SPDX-License-Identifier: MIT */
/* volume: mulch over a ring, what a pot holds, planting holes. */
#include <stdio.h>
#include <string.h>

#include "acts.h"
#include "core/text.h"
#include "report/volumes.h"

static void set_figure(struct volume_figure *figure, int64_t value, const char *from)
{
	figure->known = true;
	figure->value = value;
	(void)text_copy(figure->from, sizeof figure->from, from);
}

static enum status read_length(
	const struct call *call, const char *option, struct volume_figure *out, struct fault *why)
{
	const char *value = call_option(call, option);
	int64_t length_um = 0;

	if (value == NULL)
		return STATUS_OK;
	enum status status = length_parse(value, &call->printer.numbers, &length_um, why);
	if (status != STATUS_OK)
		fault_prefix(why, "--%s: ", option);
	else
		set_figure(out, length_um, "given");
	return status;
}

static enum status read_area(const struct call *call, struct volume_figure *out, struct fault *why)
{
	const char *value = call_option(call, "area");
	struct amount amount;

	if (value == NULL)
		return STATUS_OK;
	enum status status =
		amount_parse(value, DIMENSION_AREA, NULL, &call->printer.numbers, &amount, why);
	if (status != STATUS_OK)
		return status;
	if (!amount.low.known || !amount.high.known || amount.low.value != amount.high.value)
		return fault_set(why, STATUS_SYNTAX, "--area is one area, not '%s'", value);
	set_figure(out, amount.low.value, "given");
	return STATUS_OK;
}

static enum status read_bag(const struct call *call, struct volume_figure *out, struct fault *why)
{
	const char *value = call_option(call, "bag");
	int64_t volume_ul = 0;

	if (value == NULL)
		return STATUS_OK;
	enum status status = volume_parse(value, &call->printer.numbers, &volume_ul, why);
	if (status != STATUS_OK)
		fault_prefix(why, "--bag: ");
	else
		set_figure(out, volume_ul, "given");
	return status;
}

static enum status read_figures(const struct call *call, struct volume_ask *ask, struct fault *why)
{
	const struct {
		const char *option;
		struct volume_figure *out;
	} lengths[] = {{"across", &ask->across}, {"bottom", &ask->bottom}, {"depth", &ask->depth},
		{"trunk", &ask->trunk}, {"gap", &ask->gap}, {"ball", &ask->ball},
		{"ball-bottom", &ask->ball_bottom}, {"ball-depth", &ask->ball_depth}};
	enum status status = read_area(call, &ask->area, why);

	if (status == STATUS_OK)
		status = read_bag(call, &ask->bag, why);
	for (size_t i = 0; status == STATUS_OK && i < sizeof lengths / sizeof lengths[0]; i++)
		status = read_length(call, lengths[i].option, lengths[i].out, why);
	return status;
}

/* Options that the thing asked for has no use for are a slip. */
static enum status check_options(const struct call *call, enum volume_what what, struct fault *why)
{
	static const struct {
		const char *option;
		unsigned of; /* bits of enum volume_what */
	} uses[] = {{"bottom", 1U << VOLUME_POT}, {"trunk", 1U << VOLUME_MULCH},
		{"gap", 1U << VOLUME_MULCH}, {"area", 1U << VOLUME_MULCH},
		{"ball", 1U << VOLUME_HOLE}, {"ball-bottom", 1U << VOLUME_HOLE},
		{"ball-depth", 1U << VOLUME_HOLE}};

	for (size_t i = 0; i < sizeof uses / sizeof uses[0]; i++)
		if (call_has(call, uses[i].option) && (uses[i].of & 1U << what) == 0)
			return fault_set(why, STATUS_SYNTAX, "--%s is not for volume %s",
				uses[i].option, call->words[0]);
	if (call_has(call, "area") && (call_has(call, "across") || call_has(call, "gap")))
		return fault_set(why, STATUS_SYNTAX,
			"--area is a bed, --across and --gap are a ring: say one of them");
	return STATUS_OK;
}

/* Spread, trunk and what the almanac has for the kind, where nothing else is given. */
static enum status take_tree(struct call *call, struct volume_ask *ask, struct fault *why)
{
	const struct dossier *dossier = NULL;
	struct maybe_date on = {.known = false};
	struct tree tree;
	char from[160], when[24];
	enum status status = call_tree(call, call_line(call, 1), &tree, why);

	if (status == STATUS_OK)
		status = yard_dossier(call->session->yard, tree.id, &dossier, why);
	if (status != STATUS_OK)
		return status;
	const struct stem_measure *spread =
		dossier_spread(dossier, yard_today(call->session->yard), &on);
	const struct species *species = dossier->kind.species;
	const struct fact_row *gap = species != NULL ? species_fact(species, "mulch-gap") : NULL;

	(void)text_copy(ask->tree, sizeof ask->tree, tree.label);
	ask->depth_told = species != NULL ? species_fact(species, "mulch-depth") : NULL;
	if (!ask->across.known && spread != NULL) {
		snprintf(from, sizeof from, "its crown, measured %s",
			date_format_plain(on.value, when, sizeof when));
		set_figure(&ask->across, (spread->low_um + spread->high_um) / 2, from);
	}
	if (!ask->trunk.known && dossier->trunk.known) {
		snprintf(from, sizeof from, "measured %s",
			date_format_plain(dossier->trunk.day, when, sizeof when));
		set_figure(&ask->trunk, dossier->trunk.diameter_um, from);
	}
	if (!ask->gap.known && !ask->area.known && gap != NULL && gap->low.known) {
		snprintf(from, sizeof from, "not said: %s",
			gap->sure == KNOWN_COMMON_PRACTICE
				? "common practice"
				: source_title(call->session->almanac, gap->source));
		set_figure(&ask->gap, gap->low.value, from);
	}
	return STATUS_OK;
}

/* The log says the place's units, and is needed only where a tree is named. */
static enum status open_log(struct call *call, bool needed, struct fault *why)
{
	struct session_options options = {.path = call->log,
		.almanac = call->almanac,
		.clock = call->today.known ? clock_pinned(call->today.value) : clock_system(),
		.units = call->units,
		.read_only = true};
	enum status status = session_open(&options, &call->session, needed ? why : NULL);

	if (status != STATUS_OK)
		return needed ? call_file_fault(status, why) : STATUS_OK;
	call->printer.units = call->session->units;
	call->printer.numbers = call->session->numbers;
	return STATUS_OK;
}

enum status cmd_volume(struct call *call, int *exit_status, struct fault *why)
{
	struct volume_ask ask = {.tree = ""};
	(void)exit_status;
	enum status status = call_want(call, 1, WORDS_MAX, why);

	if (status == STATUS_OK && call_word_is(call, 0, "pot"))
		ask.what = VOLUME_POT;
	else if (status == STATUS_OK && call_word_is(call, 0, "hole"))
		ask.what = VOLUME_HOLE;
	else if (status == STATUS_OK && !call_word_is(call, 0, "mulch"))
		return call_usage(call, why);
	if (status != STATUS_OK)
		return status;
	bool of_tree = call->word_count > 1;
	if (of_tree && ask.what != VOLUME_MULCH)
		return call_usage(call, why);
	status = open_log(call, of_tree, why);
	if (status == STATUS_OK)
		status = check_options(call, ask.what, why);
	if (status == STATUS_OK)
		status = read_figures(call, &ask, why);
	if (status == STATUS_OK && of_tree)
		status = take_tree(call, &ask, why);
	if (status == STATUS_OK)
		status = print_volume(&call->printer, &ask, why);
	return status;
}
