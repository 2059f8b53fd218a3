/* SPDX-License-Identifier: MIT */
/* Amounts as growers write them: what is read lies in order, and can be said and added up. */
#include "support/replay.h"

#include <assert.h>
#include <string.h>

#include "core/measure.h"
#include "core/text.h"

static void check_amount(const struct amount *amount, const struct number_rules *rules)
{
	char out[128];
	struct amount_sum sum = {.low = 0};
	assert(text_is_valid(amount->typed, strlen(amount->typed)));
	if (amount->low.known && amount->high.known)
		assert(amount->low.value <= amount->high.value);
	(void)amount_format(amount, rules, out, (int)sizeof out);
	assert(text_is_valid(out, strlen(out)));
	amount_sum_add(&sum, amount);
	amount_sum_add(&sum, amount);
	(void)amount_sum_point(&sum);
}

static void read_plain(const char *text, const struct number_rules *rules)
{
	char out[64];
	int64_t value = 0;
	int32_t decic = 0;
	if (length_parse(text, rules, &value, NULL) == STATUS_OK)
		(void)length_format(value, rules->units, out, (int)sizeof out);
	if (mass_parse(text, rules, &value, NULL) == STATUS_OK)
		(void)mass_format(value, rules->units, out, (int)sizeof out);
	if (volume_parse(text, rules, &value, NULL) == STATUS_OK)
		(void)volume_format(value, rules, out, (int)sizeof out);
	if (temperature_parse(text, rules, false, &decic, NULL) == STATUS_OK)
		(void)temperature_format(decic, rules->units, out, (int)sizeof out);
	if (temperature_parse(text, rules, true, &decic, NULL) == STATUS_OK)
		(void)temperature_gap_format(decic, rules->units, out, (int)sizeof out);
}

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t length)
{
	static const char *const units[] = {NULL, "lb", "kg", "gal"};
	if (length < 2)
		return 0;
	const struct number_rules rules = {.units = (enum unit_system)(bytes[0] % 3),
		.gallon = (enum gallon)(bytes[0] / 3 % 3),
		.style = (enum number_style)(bytes[0] / 9 % 3)};
	const char *text = replay_text(bytes + 2, length - 2);
	struct amount amount = {.dimension = DIMENSION_NONE};
	struct fault why = {.status = STATUS_OK};
	size_t used = 0;
	if (amount_scan(text, &rules, &amount, &used, &why) == STATUS_OK) {
		assert(used > 0 && used <= strlen(text));
		check_amount(&amount, &rules);
	}
	const enum dimension wanted = (enum dimension)(bytes[1] % DIMENSION_TOTAL);
	if (amount_parse(text, wanted, units[bytes[1] / 16 % 4], &rules, &amount, &why) ==
		STATUS_OK)
		check_amount(&amount, &rules);
	read_plain(text, &rules);
	return 0;
}

int main(void)
{
	return replay_corpus("amount", LLVMFuzzerTestOneInput);
}
