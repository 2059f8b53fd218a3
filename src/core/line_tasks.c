/* SPDX-License-Identifier: MIT */
/* The words of work done: cuts, feeds, water, sprays, and plans. */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "core/line_parts.h"

/* --- cut --- */

static size_t cut_kind_at(const char *low, enum cut_kind *found)
{
	size_t longest = 0;
	for (int kind = CUT_UNSAID + 1; kind < CUT_TOTAL; kind++) {
		size_t used = plain_word_of(low, cut_kind_row((enum cut_kind)kind)->words);
		if (used > longest) {
			longest = used;
			*found = (enum cut_kind)kind;
		}
	}
	return longest;
}

static enum cut_kind kind_so_far(const struct line_work *work)
{
	for (int32_t i = 0; i < work->detail_count; i++) {
		if (work->details[i].field == FIELD_CUT_KIND)
			return cut_kind_of_key(work->details[i].text);
	}
	return CUT_UNSAID;
}

static enum status cut_kind_item(struct line_work *work)
{
	enum cut_kind kind = CUT_UNSAID;
	size_t used = cut_kind_at(work->low + work->at, &kind);
	if (used == 0)
		return STATUS_ABSENT;
	enum cut_kind before = kind_so_far(work);
	if (before != CUT_UNSAID && before != kind)
		return line_offer_two(work, work->at, "two kinds of cut");
	const char *rest = work->low + work->at + used;
	size_t blank = *rest == ' ';
	size_t tail = plain_word_of(
		rest + blank, "cut cuts wood pruning back reduction branches shoots twigs tips");
	line_take(work, used + (tail > 0 ? blank + tail : 0));
	return before == kind ? STATUS_OK
			      : line_add_word(work, FIELD_CUT_KIND, cut_kind_row(kind)->key);
}

static enum status cut_tools_item(struct line_work *work)
{
	const char *low = work->low + work->at;
	size_t no = plain_word_of(low,
		"tools_not_cleaned tools_uncleaned dirty_tools uncleaned_tools tools_not_clean");
	size_t yes = plain_word_of(low,
		"tools_cleaned clean_tools cleaned_tools tools_clean tools_wiped tools_dipped "
		"tools_disinfected tools_sterilised tools_sterilized");
	if (no + yes == 0)
		return STATUS_ABSENT;
	line_take(work, no + yes);
	return line_add_word(work, FIELD_TOOLS_CLEANED, no > 0 ? "no" : "yes");
}

/* "12 in below the last sign"; "to 9 ft". */
static enum status cut_length_item(struct line_work *work)
{
	size_t to = plain_word_of(work->low + work->at, "to down_to");
	struct quantity from;
	size_t at = work->at + to + (to > 0);
	if (line_scan_quantity(work, at, &from) != STATUS_OK ||
		from.amount.dimension != DIMENSION_LENGTH)
		return STATUS_ABSENT;
	work->has_number = true;
	const char *rest = work->low + from.to + (work->low[from.to] == ' ');
	size_t below = plain_word_of(rest,
		"below_the_last_sign below_last_sign below_the_last_symptom below_the_sign "
		"below_it below under beneath past_it");
	if (to == 0 && below == 0)
		return line_fail(work, STATUS_DOUBT, from.from,
			"'%s' of what? write '%s below' for the distance under the last sign of "
			"disease, or 'to %s' for the height left",
			from.amount.typed, from.amount.typed, from.amount.typed);
	enum field field = to > 0 ? FIELD_HEIGHT : FIELD_BELOW_SIGN;
	enum status status = line_add_amount(work, field, &from);
	line_take(work, (size_t)(rest - (work->low + work->at)) + below);
	return status;
}

static enum status cut_reason_item(struct line_work *work)
{
	const char *low = work->low + work->at;
	size_t used = plain_word_of(low,
		"fire_blight fireblight blight canker silver_leaf brown_rot leaf_curl scab storm "
		"storm_damage wind_damage frost_damage light air access size crossing crossed "
		"rubbing "
		"power_lines lines");
	size_t lead = plain_word_of(low, "because because_of for reason");
	if (used + lead == 0)
		return STATUS_ABSENT;
	size_t from = work->at + lead;
	size_t to = work->at + used;
	if (lead > 0)
		to = line_words_end(work, from);
	enum status status = line_add_detail(work, FIELD_REASON, from, to);
	line_take(work, to - work->at);
	return status;
}

enum status line_cut_item(struct line_work *work)
{
	enum status (*const readers[])(struct line_work *) = {
		cut_tools_item, cut_kind_item, cut_length_item, cut_reason_item};
	for (size_t i = 0; i < sizeof(readers) / sizeof(readers[0]); i++) {
		enum status status = readers[i](work);
		if (status != STATUS_ABSENT)
			return status;
	}
	size_t lead = plain_word_of(work->low + work->at, "out back off away down some all");
	work->at += lead;
	return lead > 0 ? STATUS_OK : STATUS_ABSENT;
}

/* --- feed --- */

/* One figure of an analysis, 0 to 100, in thousandths of a percent. */
static size_t analysis_figure(const char *low, int64_t *mpct)
{
	size_t length = strspn(low, "0123456789");
	if (low[length] == '.' && plain_is_digit(low[length + 1]))
		length += 1 + strspn(low + length + 1, "0123456789");
	if (length == 0 || length > 6)
		return 0;
	char figure[8] = "";
	memcpy(figure, low, length);
	*mpct = round_i64(strtod(figure, NULL) * 1000);
	return length;
}

static enum status feed_analysis_item(struct line_work *work)
{
	const enum field fields[3] = {FIELD_ANALYSIS_N, FIELD_ANALYSIS_P2O5, FIELD_ANALYSIS_K2O};
	const char *low = work->low + work->at;
	int64_t mpct[3] = {0};
	size_t used = 0;
	for (int i = 0; i < 3; i++) {
		size_t length = analysis_figure(low + used, &mpct[i]);
		used += length;
		if (length == 0 || (i < 2 && low[used] != '-' && low[used] != '/'))
			return STATUS_ABSENT;
		used += i < 2;
	}
	if (plain_is_letter(low[used]) || low[used] == '-' || low[used] == '/')
		return STATUS_ABSENT;
	if (mpct[0] + mpct[1] + mpct[2] > 100000)
		return line_fail(work, STATUS_RANGE, work->at,
			"'%.*s' adds up to more than 100 %%: an analysis is N-P2O5-K2O in percent",
			(int)used, work->text + work->at);
	work->has_number = true;
	for (int i = 0; i < 3; i++) {
		struct quantity one = {.amount = {.dimension = DIMENSION_ANALYSIS,
					       .low = known_i64(mpct[i]),
					       .high = known_i64(mpct[i])},
			.from = work->at};
		enum status status = line_add_amount(work, fields[i], &one);
		if (status != STATUS_OK)
			return status;
	}
	line_take(work, used);
	return STATUS_OK;
}

/* "1 lb N": the nutrient. */
static enum status feed_nitrogen_item(struct line_work *work)
{
	struct quantity from;
	if (line_scan_quantity(work, work->at, &from) != STATUS_OK ||
		from.amount.dimension != DIMENSION_MASS)
		return STATUS_ABSENT;
	const char *rest = work->low + from.to + (work->low[from.to] == ' ');
	size_t used = plain_word_of(rest,
		"n of_n nitrogen of_nitrogen actual_n actual_nitrogen of_actual_n "
		"of_actual_nitrogen");
	if (used == 0)
		return STATUS_ABSENT;
	work->has_number = true;
	enum status status = line_add_amount(work, FIELD_NITROGEN, &from);
	line_take(work, (size_t)(rest - (work->low + work->at)) + used);
	return status;
}

/* "few handfuls", "3 shovels": words, never a weight. */
static enum status feed_measure_item(struct line_work *work)
{
	static const char nouns[] =
		"handful handfuls scoop scoops shovel shovels shovelful shovelfuls spadeful "
		"spadefuls forkful forkfuls sprinkle sprinkling pinch dash barrowload barrowloads";
	const char *low = work->low + work->at;
	size_t lead = plain_word_of(low, "a_few few some a several a_couple_of");
	size_t at = lead > 0 ? lead + (low[lead] == ' ') : 0;
	struct quantity count;
	if (lead == 0 && line_scan_quantity(work, work->at, &count) == STATUS_OK &&
		count.notes.unit == NULL)
		at = count.to - work->at + (work->low[count.to] == ' ');
	size_t noun = plain_word_of(low + at, nouns);
	if (noun == 0)
		return STATUS_ABSENT;
	enum status status = line_add_detail(work, FIELD_WORDS, work->at, work->at + at + noun);
	line_take(work, at + noun);
	return status;
}

/* "1.5 lb per year of age" is a rule; "now and then" leaves the day unknown. */
static enum status feed_vague_item(struct line_work *work)
{
	const char *low = work->low + work->at;
	size_t rule = plain_word_of(low,
		"per_yr_of_age per_year_of_age a_year_of_age per_inch an_inch per_inch_of_trunk "
		"per_cm");
	if (rule > 0)
		return line_fail(work, STATUS_DOUBT, work->at,
			"'%.*s' is a rule, not what was fed: it needs the tree's age or trunk. "
			"Write "
			"the amount that went on, as fed 3 lb 10-10-10; own rate keeps the rule, "
			"one "
			"cap at a time",
			(int)rule, work->text + work->at);
	size_t vague = plain_word_of(low,
		"now_and_then now_and_again from_time_to_time sometimes occasionally off_and_on");
	if (vague == 0)
		return STATUS_ABSENT;
	enum status status = line_add_detail(work, FIELD_WORDS, work->at, work->at + vague);
	if (!work->day_said) {
		work->day = (struct date_span){.text = ""};
		work->day_said = true;
		line_remark(work, "the days are not known");
	}
	line_take(work, vague);
	return status;
}

enum status line_feed_item(struct line_work *work)
{
	enum status (*const readers[])(struct line_work *) = {
		feed_analysis_item, feed_nitrogen_item, feed_measure_item, feed_vague_item};
	for (size_t i = 0; i < sizeof(readers) / sizeof(readers[0]); i++) {
		enum status status = readers[i](work);
		if (status != STATUS_ABSENT)
			return status;
	}
	return STATUS_ABSENT;
}

/* --- water --- */

static enum status water_times_item(struct line_work *work)
{
	const char *low = work->low + work->at;
	size_t digits = low[0] == 'x' ? strspn(low + 1, "0123456789") : 0;
	if (digits == 0 || digits > 2 || work->amount_count == 0)
		return STATUS_ABSENT;
	struct amount *last = &work->amounts[work->amount_count - 1];
	long times = strtol(low + 1, NULL, 10);
	double most = (double)last->high.value * (double)times;
	if (times < 1 || last->containers_low.known || most > AMOUNT_BASE_MAX ||
		strstr(last->typed, " x") != NULL)
		return STATUS_ABSENT;
	last->low.value *= times;
	last->high.value *= times;
	char typed[TYPED_SIZE + 16];
	(void)snprintf(typed, sizeof(typed), "%s x%ld", last->typed, times);
	if (strlen(typed) < sizeof(last->typed))
		memcpy(last->typed, typed, strlen(typed) + 1);
	line_take(work, 1 + digits);
	return STATUS_OK;
}

static enum status water_rate_item(struct line_work *work)
{
	const char *low = work->low + work->at;
	size_t slash = low[0] == '/';
	size_t week = slash ? plain_word_of(low + 1, "wk week w")
			    : plain_word_of(low, "a_week per_week weekly a_wk per_wk each_week "
						 "every_week");
	size_t day = slash ? plain_word_of(low + 1, "day d")
			   : plain_word_of(low, "a_day per_day daily every_day each_day");
	if (week + day == 0)
		return STATUS_ABSENT;
	line_take(work, slash + week + day);
	char amount[TYPED_SIZE] = "the amount";
	struct number_rules rules = work->context->numbers;
	/* what was given comes first: emitters and flow are no rate */
	if (work->amount_count > 0) {
		struct amount worked = work->amounts[0];
		if (strstr(worked.typed, " x") != NULL)
			worked.typed[0] = '\0';
		if (work->units[0] != NULL && work->units[0]->system == UNITS_US)
			rules.units = UNITS_US;
		amount_format(&worked, &rules, amount, sizeof(amount));
	}
	line_remark(work, "%s is a rate a %s: kept as said; a day's watering is logged on its day",
		amount, week > 0 ? "week" : "day");
	return line_add_word(work, FIELD_PER, week > 0 ? "week" : "day");
}

static enum status water_emitters_item(struct line_work *work)
{
	struct quantity count;
	if (line_scan_quantity(work, work->at, &count) != STATUS_OK || count.notes.unit != NULL)
		return STATUS_ABSENT;
	const char *rest = work->low + count.to + (work->low[count.to] == ' ');
	size_t noun = plain_word_of(rest, "emitters emitter drippers dripper heads sprinklers");
	if (noun == 0)
		return STATUS_ABSENT;
	work->has_number = true;
	count.amount.dimension = DIMENSION_COUNT;
	enum status status = line_add_amount(work, FIELD_EMITTERS, &count);
	line_take(work, (size_t)(rest - (work->low + work->at)) + noun);
	return status;
}

enum status line_water_item(struct line_work *work)
{
	size_t method = plain_word_of(work->low + work->at,
		"drip dripline soaker soaker_hose hose sprinkler basin flood furrow by_hand "
		"watering_can spray_stake olla bag");
	if (method > 0) {
		enum status status =
			line_add_detail(work, FIELD_METHOD, work->at, work->at + method);
		line_take(work, method);
		return status;
	}
	enum status status = water_times_item(work);
	if (status == STATUS_ABSENT)
		status = water_rate_item(work);
	return status == STATUS_ABSENT ? water_emitters_item(work) : status;
}

/* --- spray --- */

/* A span behind a cue ("phi 7 days") or before one ("7 days to harvest"). */
static bool spray_span(struct line_work *work, const char *cues, const char *tails,
	struct quantity *out, size_t *used)
{
	const char *low = work->low + work->at;
	size_t cue = plain_word_of(low, cues);
	size_t blank = cue > 0 ? strspn(low + cue, " :") : 0;
	if (line_scan_quantity(work, work->at + cue + blank, out) != STATUS_OK)
		return false;
	*used = out->to - work->at;
	if (cue > 0)
		return true;
	const char *rest =
		work->low + out->to + (work->low[out->to] == ' ' || work->low[out->to] == '-');
	size_t tail = plain_word_of(rest, tails);
	*used = (size_t)(rest - low) + tail;
	return tail > 0;
}

static enum status spray_harvest_item(struct line_work *work)
{
	struct quantity from;
	size_t used = 0;
	if (!spray_span(work, "phi days_to_harvest harvest_interval withholding",
		    "to_harvest phi before_harvest days_to_harvest day_phi harvest_interval", &from,
		    &used))
		return STATUS_ABSENT;
	if (from.notes.unit == NULL && from.amount.high.known) {
		from.amount.dimension = DIMENSION_DAYS;
		from.amount.low.value /= 1000;
		from.amount.high.value /= 1000;
	}
	if (from.amount.dimension != DIMENSION_DAYS)
		return line_fail(work, STATUS_SYNTAX, from.from,
			"'%s' is no span of days: write 7 days to harvest", from.amount.typed);
	work->has_number = true;
	enum status status = line_add_amount(work, FIELD_DAYS_TO_HARVEST, &from);
	line_take(work, used);
	return status;
}

static enum status spray_reentry_item(struct line_work *work)
{
	struct quantity from;
	size_t used = 0;
	if (!spray_span(
		    work, "re-entry reentry rei", "re-entry reentry rei to_re-entry", &from, &used))
		return STATUS_ABSENT;
	if (from.amount.dimension == DIMENSION_DAYS && from.amount.low.value <= 3660 &&
		from.amount.high.value <= 3660) {
		from.amount.dimension = DIMENSION_DURATION;
		from.amount.low.value *= 86400;
		from.amount.high.value *= 86400;
	}
	if (from.amount.dimension != DIMENSION_DURATION)
		return line_fail(work, STATUS_SYNTAX, from.from,
			"'%s' is no time: write re-entry 12 h", from.amount.typed);
	work->has_number = true;
	enum status status = line_add_amount(work, FIELD_REENTRY, &from);
	line_take(work, used);
	return status;
}

enum status line_spray_item(struct line_work *work)
{
	enum status status = spray_harvest_item(work);
	if (status == STATUS_ABSENT)
		status = spray_reentry_item(work);
	size_t lead = plain_word_of(work->low + work->at, "for against");
	if (status != STATUS_ABSENT || lead == 0)
		return status;
	size_t from = work->at + lead;
	size_t to = from;
	while (work->low[to] != '\0' && strchr(",0123456789", work->low[to]) == NULL &&
		(work->low[to] != ' ' ||
			plain_word_of(work->low + to + 1, "phi rei re-entry reentry") == 0))
		to++;
	status = line_add_detail(work, FIELD_SUBJECT_SEEN, from, to);
	line_take(work, to - work->at);
	return status;
}

/* --- plans, and leave until --- */

static enum status plan_every(struct line_work *work, size_t used)
{
	struct quantity span;
	size_t at = work->at + used + strspn(work->low + work->at + used, " ");
	/* "every week" is every 1 week. */
	size_t unit = plain_word_of(work->low + at, "day week month");
	enum status status = STATUS_OK;
	if (unit > 0) {
		int64_t days = work->low[at] == 'd' ? 1 : work->low[at] == 'w' ? 7 : 30;
		span = (struct quantity){.amount = {.dimension = DIMENSION_DAYS,
						 .low = known_i64(days),
						 .high = known_i64(days)},
			.to = at + unit};
	} else {
		status = line_scan_quantity(work, at, &span);
	}
	if (status != STATUS_OK || span.amount.dimension != DIMENSION_DAYS ||
		span.amount.low.value < 1 || span.amount.low.value > 3660 ||
		!span.amount.high.known || span.amount.high.value > 3660)
		return line_fail(work, STATUS_SYNTAX, work->at,
			"'every' wants a span of 1 to 3660 days, as every 3 weeks or every 4-6 "
			"weeks");
	if (!work->planned)
		return line_fail(work, STATUS_SYNTAX, work->at,
			"'every' is for work that is planned: put plan before the verb, as A3 plan "
			"fed every 6 weeks");
	work->has_number = true;
	text_copy_n(span.amount.typed, sizeof(span.amount.typed), work->text + at, span.to - at);
	status = line_add_amount(work, FIELD_EVERY, &span);
	line_take(work, span.to - work->at);
	const char *rest = work->low + work->at + strspn(work->low + work->at, " ,");
	size_t from = plain_word_of(rest, "from between in");
	rest += from + (from > 0);
	bool window = plain_word_of(rest,
			      "january jan february feb march mar april apr may june jun july jul "
			      "august aug september sept sep october oct november nov december dec "
			      "early mid late spring summer autumn fall winter") > 0;
	if (status != STATUS_OK || !window)
		return status;
	status = line_add_detail(work, FIELD_WINDOW, (size_t)(rest - work->low), work->end);
	line_take(work, work->end - work->at);
	return status;
}

static enum status plan_until(struct line_work *work, size_t used)
{
	size_t from = work->at + used + strspn(work->low + work->at + used, " ");
	size_t to = from + strcspn(work->low + from, ",");
	char *text = arena_text_n(work->arena, work->text + from, to - from);
	struct date_span until;
	enum status status = day_read(text, work->context, true, &until, work->why);
	work->failed_at = from;
	if (status == STATUS_OK)
		status = line_add_word(work, FIELD_UNTIL, until.text);
	line_take(work, to - work->at);
	return status;
}

enum status line_plan_item(struct line_work *work)
{
	const char *low = work->low + work->at;
	size_t every = plain_word(low, "every");
	size_t until = plain_word_of(low, "until till");
	bool follows = every > 0 && plain_word_of(low, "every_tree every_day every_week") > 0 &&
		       !work->planned;
	if (every > 0 && !follows && !(work->kind == KIND_NOTE || work->kind == KIND_SAW))
		return plan_every(work, every);
	if (until > 0 && (work->kind == KIND_LEAVE || work->planned))
		return plan_until(work, until);
	return STATUS_ABSENT;
}
