/* SPDX-License-Identifier: MIT */
#include "reckon/frost.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "core/text.h"

/* --- the table of a kind --- */

/* Where a stage of the printed tables lies on the BBCH scale of pome and stone fruit: our reading
 * of the words, earliest first. The next stage's first code ends it. */
static const struct {
	const char *key;
	int32_t code;
} places[] = {
	{"first-swelling", 51},
	{"swollen-bud", 51},
	{"silver-tip", 51},
	{"scales-separate", 51},
	{"side-white", 52},
	{"side-green", 52},
	{"calyx-green", 53},
	{"tips-separate", 53},
	{"tip-green", 53},
	{"green-tip", 53},
	{"blossom-buds-exposed", 53},
	{"half-inch-green", 54},
	{"calyx-red", 55},
	{"tight-cluster", 55},
	{"open-cluster", 56},
	{"first-pink", 57},
	{"first-white", 57},
	{"full-pink", 59},
	{"full-white", 59},
	{"first-bloom", 60},
	{"full-bloom", 63},
	{"petal-fall", 68},
	{"post-bloom", 68},
	{"in-the-shuck", 71},
	{"green-fruit", 73},
};

enum { LAST_CODE = 74 }; /* later fruit is not what the tables were made for */

static const struct fact_row *fact_of(
	const struct species *species, const char *what, const char *stage)
{
	char key[2 * KEY_SIZE];

	snprintf(key, sizeof key, "kill-%s-%s", what, stage);
	return species_fact(species, key);
}

static struct maybe_i32 figure(const struct fact_row *row)
{
	return row != NULL && row->low.known ? known_i32((int32_t)row->low.value)
					     : (struct maybe_i32){0};
}

static bool read_stage(const struct species *species, const char *key, struct frost_stage *out)
{
	const struct fact_row *ten = fact_of(species, "10", key);
	const struct fact_row *ninety = fact_of(species, "90", key);
	const struct fact_row *half = fact_of(species, "half", key);
	const struct fact_row *row = ten != NULL ? ten : half;

	if (row == NULL)
		return false;
	*out = (struct frost_stage){.ten_decic = figure(ten),
		.ninety_decic = figure(ninety),
		.half_decic = figure(half),
		.source = row->source,
		.sure = row->sure};
	if (ninety != NULL && ninety->sure > out->sure)
		out->sure = ninety->sure;
	text_copy(out->key, sizeof out->key, key);
	text_copy(out->name, sizeof out->name, key);
	for (char *at = out->name; *at != '\0'; at++)
		if (*at == '-')
			*at = ' ';
	return true;
}

int32_t frost_stages(const struct species *species, struct frost_stage out[FROST_STAGES_MAX])
{
	int32_t count = 0;

	for (size_t i = 0; i < sizeof places / sizeof places[0] && count < FROST_STAGES_MAX; i++) {
		if (!read_stage(species, places[i].key, &out[count]))
			continue;
		out[count].code_from = places[i].code;
		out[count].code_to = LAST_CODE;
		if (count > 0)
			out[count - 1].code_to = places[i].code - 1;
		count++;
	}
	return count;
}

const struct frost_stage *frost_stage_at(
	const struct frost_stage *stages, int32_t count, int32_t code)
{
	for (int32_t i = 0; i < count; i++)
		if (code >= stages[i].code_from && code <= stages[i].code_to)
			return &stages[i];
	return NULL;
}

const struct frost_stage *frost_stage_in_bloom(
	const struct frost_stage *stages, int32_t count, double share)
{
	return frost_stage_at(stages, count, share < 1.0 / 3 ? 60 : 65);
}

/* --- loss --- */

static double clamp(double value, double low, double high)
{
	return value < low ? low : value > high ? high : value;
}

enum status frost_loss_at(const struct frost_points *points, double temperature,
	struct frost_loss *out, struct fault *why)
{
	double ten = points->ten;
	double ninety = points->ninety;

	if (!isfinite(temperature) || !isfinite(ten) || (points->has_ninety && !isfinite(ninety)))
		return fault_set(why, STATUS_RANGE, "a temperature is not a number");
	if (points->has_ninety && ninety > ten)
		return fault_set(why, STATUS_RANGE,
			"90 %% killed at %g is warmer than 10 %% killed at %g", ninety, ten);
	bool is_above = temperature > ten;
	bool is_below = points->has_ninety && temperature <= ninety;
	*out = (struct frost_loss){.band = FROST_BETWEEN, .low = 0.1, .high = 0.9};
	if (is_above) {
		out->band = FROST_ABOVE;
		out->low = 0;
		out->high = 0.1;
	} else if (is_below) {
		out->band = FROST_BELOW;
		out->low = 0.9;
		out->high = 1;
	} else if (!points->has_ninety) {
		out->band = FROST_UNTOLD;
		out->high = 1;
	}
	if (points->has_ninety && ten > ninety) {
		double middle = (ten + ninety) / 2;

		out->has_point = true;
		out->linear = clamp(0.1 + 0.8 * (ten - temperature) / (ten - ninety), 0, 1);
		out->logistic = 1 / (1 + exp(log(81) * (temperature - middle) / (ten - ninety)));
	}
	return STATUS_OK;
}

enum status frost_loss_of_stage(
	const struct frost_stage *stage, int32_t decic, struct frost_loss *out, struct fault *why)
{
	if (!stage->ten_decic.known)
		return fault_set(why, STATUS_ABSENT, "no 10 %% temperature is published for %s",
			stage->name);
	const struct frost_points points = {.ten = stage->ten_decic.value,
		.ninety = stage->ninety_decic.value,
		.has_ninety = stage->ninety_decic.known};
	return frost_loss_at(&points, decic, out, why);
}
