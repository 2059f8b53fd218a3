/* SPDX-License-Identifier: MIT */
/* The words of what was seen: stages, pests, weather, deaths; and of the kinds that are mostly
 * words. Stage codes: BBCH, as in Meier (ed.), Growth stages of mono- and dicotyledonous plants
 * (2018), pome, stone and citrus fruit. */
#include <stdlib.h>
#include <string.h>

#include "core/line_parts.h"

/* --- stage --- */

static const struct {
	const char *words;
	int32_t low;
	int32_t high;
} stage_words[] = {
	{"dormant dormancy", 0, 0},
	{"bud_swell buds_swelling swollen_bud swollen_buds swelling", 51, 51},
	{"bud_burst budburst bud_break budbreak green_tip buds_burst", 53, 53},
	{"mouse_ear", 54, 54},
	{"green_bud tight_cluster", 56, 56},
	{"pink pink_bud white_bud petals_showing", 57, 57},
	{"balloon balloons", 59, 59},
	{"first_flower first_flowers first_bloom first_blossom start_of_bloom bloom_starts "
	 "bloom_started bloom_begins starting_bloom early_bloom",
		60, 61},
	{"full_bloom full_flower full_blossom peak_bloom bloom_full in_full_bloom in_full_flower "
	 "in_full_blossom",
		65, 65},
	{"late_bloom bloom_fading flowers_fading petals_falling most_petals_down", 67, 67},
	{"petal_fall petals_down end_of_bloom bloom_over finished_bloom out_of_bloom "
	 "finished_flowering bloom_ended flowering_over",
		69, 69},
	{"in_bloom in_flower in_blossom bloom blooms bloomed blooming flower flowers flowered "
	 "flowering "
	 "blossom blossoms blossomed blossoming",
		60, 69},
	{"fruit_set set_fruit setting_fruit fruitlets", 71, 71},
	{"fruit_drop june_drop fruitlet_drop", 73, 73},
	{"half_size", 75, 75},
	{"colouring coloring colour_break color_break turning", 81, 81},
	{"ripening", 85, 85},
	{"ripe fit_to_pick", 87, 89},
	{"leaf_out leafing_out leaves_out first_leaves", 10, 11},
	{"leaf_fall leaves_falling", 93, 95},
};

static enum status add_code(struct line_work *work, int32_t low, int32_t high)
{
	struct quantity code = {.amount = {.dimension = DIMENSION_CODE,
					.low = known_i64(low),
					.high = known_i64(high)},
		.from = work->at};
	return line_add_amount(work, FIELD_STAGE, &code);
}

static enum status stage_code_item(struct line_work *work)
{
	const char *low = work->low + work->at;
	size_t digits = strspn(low, "0123456789");
	bool alone = low[digits] == '\0' || low[digits] == ' ' || low[digits] == ',';
	if (digits == 0 || !alone)
		return STATUS_ABSENT;
	const char *rest = low + digits + (low[digits] == ' ');
	if (plain_word_of(rest, "percent per_cent") > 0 || rest[0] == '%')
		return STATUS_ABSENT;
	if (digits > 3)
		return line_fail(work, STATUS_RANGE, work->at,
			"'%.*s' is no stage: a BBCH code has two figures, as 65, or three, as 605",
			(int)digits, low);
	work->has_number = true;
	enum status status =
		add_code(work, (int32_t)strtol(low, NULL, 10), (int32_t)strtol(low, NULL, 10));
	work->amounts[work->amount_count - 1].typed[0] = '\0';
	line_take(work, digits);
	return status;
}

static enum status stage_open_item(struct line_work *work)
{
	struct quantity share;
	if (line_scan_share(work, work->at, &share) != STATUS_OK)
		return STATUS_ABSENT;
	const char *rest = work->low + share.to + (work->low[share.to] == ' ');
	size_t used = plain_word_of(rest, "open of_flowers_open flowers_open out of_flowers bloom "
					  "in_bloom in_flower of_bloom "
					  "of_the_flowers_open");
	work->has_number = true;
	if (share.amount.high.known && share.amount.high.value > 1000)
		return line_fail(work, STATUS_RANGE, share.from,
			"'%s' is more than the whole: flowers open are at most 100 %%",
			share.amount.typed);
	enum status status = line_add_amount(work, FIELD_SHARE_OPEN, &share);
	line_take(work, (size_t)(rest - (work->low + work->at)) + used);
	return status;
}

static enum status stage_word_item(struct line_work *work)
{
	const char *low = work->low + work->at;
	size_t longest = 0;
	size_t row = 0;
	for (size_t i = 0; i < sizeof(stage_words) / sizeof(stage_words[0]); i++) {
		size_t used = plain_word_of(low, stage_words[i].words);
		if (used > longest) {
			longest = used;
			row = i;
		}
	}
	if (longest == 0)
		return STATUS_ABSENT;
	bool has_code = false;
	bool has_word = false;
	for (int32_t i = 0; i < work->amount_count; i++)
		has_code = has_code || work->amounts[i].field == FIELD_STAGE;
	for (int32_t i = 0; i < work->detail_count; i++)
		has_word = has_word || work->details[i].field == FIELD_STAGE_WORD;
	enum status status = STATUS_OK;
	if (!has_word)
		status = line_add_detail(work, FIELD_STAGE_WORD, work->at, work->at + longest);
	if (status == STATUS_OK && !has_code)
		status = add_code(work, stage_words[row].low, stage_words[row].high);
	line_take(work, longest);
	return status;
}

enum status line_stage_item(struct line_work *work)
{
	size_t skip = plain_word_of(
		work->low + work->at, "stage stages bbch now is well just was code at");
	if (skip > 0) {
		work->at += skip;
		return STATUS_OK;
	}
	enum status status = stage_code_item(work);
	if (status == STATUS_ABSENT)
		status = stage_open_item(work);
	return status == STATUS_ABSENT ? stage_word_item(work) : status;
}

/* --- saw --- */

static const char *severity_at(const char *low, size_t *used)
{
	static const struct {
		const char *words;
		const char *severity;
	} rows[] = {
		{"trace a_trace", "trace"},
		{"light slight lightly mild", "light"},
		{"moderate medium moderately", "moderate"},
		{"heavy severe bad heavily severely badly lots", "heavy"},
	};
	for (size_t i = 0; i < sizeof(rows) / sizeof(rows[0]); i++) {
		*used = plain_word_of(low, rows[i].words);
		if (*used > 0)
			return rows[i].severity;
	}
	return NULL;
}

/* "light" closes the words, or opens them with a pest behind it: "heavy scab". */
enum status line_saw_item(struct line_work *work)
{
	size_t used = 0;
	const char *severity = severity_at(work->low + work->at, &used);
	if (severity == NULL)
		return STATUS_ABSENT;
	char next = work->low[work->at + used];
	bool closes = next == '\0' || next == ',' || next == ')';
	bool opens = work->run_count == 0 && next == ' ' && strcmp(severity, "light") != 0;
	if (!closes && !opens)
		return STATUS_ABSENT;
	line_take(work, used);
	return line_add_word(work, FIELD_SEVERITY, severity);
}

/* --- died or removed --- */

enum status line_died_item(struct line_work *work)
{
	const char *low = work->low + work->at;
	for (const char *at = low; *at != '\0'; at++) {
		if (at > work->low && at[-1] != ' ')
			continue;
		if (plain_word_of(at,
			    "in_same_hole in_the_same_hole same_hole same_spot in_the_same_spot "
			    "replaced_by replaced_with") > 0) {
			line_offer(work, "%s died @ %s", line_label(work),
				work->day_said ? work->day.text : "DAY");
			return line_fail(work, STATUS_DOUBT, (size_t)(at - work->low),
				"this closes one tree and opens another, whose crops stay apart: "
				"log "
				"'%s', then add the new one with tree add LABEL --spot",
				work->out->lines[0]);
		}
		if (plain_word_of(at, "sucker suckers branch branches limb limbs dead_wood "
				      "deadwood fruit fruits "
				      "shoot shoots leader blossom") > 0 &&
			plain_word_of(work->low + work->verb_at, "removed remove killed dead") > 0)
			return line_fail(work, STATUS_DOUBT, work->verb_at,
				"'removed' closes the whole tree: for a part of it write cut (or "
				"thinned, for fruit)");
	}
	return STATUS_ABSENT;
}

/* --- weather --- */

static const struct {
	const char *verbs;
	const char *weather;
} weather_verbs[] = {
	{"frost frosts frosted froze freeze", "frost"},
	{"rain rained rainfall", "rain"},
	{"hail hailed", "hail"},
	{"wind windy", "wind"},
	{"storm storms stormed", "storm"},
	{"heat heatwave", "heat"},
	{"snow snowed", "snow"},
};

static enum status weather_verb_item(struct line_work *work)
{
	const char *low = work->low + work->at;
	if (plain_word(low, "weather") > 0) {
		line_take(work, strlen("weather"));
		return STATUS_OK;
	}
	for (size_t i = 0; i < sizeof(weather_verbs) / sizeof(weather_verbs[0]); i++) {
		size_t used = plain_word_of(low, weather_verbs[i].verbs);
		if (used == 0)
			continue;
		bool known = false;
		for (int32_t j = 0; j < work->detail_count; j++)
			known = known || (work->details[j].field == FIELD_WEATHER &&
						 strcmp(work->details[j].text,
							 weather_verbs[i].weather) == 0);
		line_take(work, used);
		return known ? STATUS_OK
			     : line_add_word(work, FIELD_WEATHER, weather_verbs[i].weather);
	}
	return STATUS_ABSENT;
}

/* A figure that may be degrees: which scale? The place's units tell, or it is asked. */
static enum status add_degrees(struct line_work *work, double low, double high, size_t used)
{
	enum unit_system units = work->context->numbers.units;
	if (units == UNITS_UNSET)
		return line_fail(work, STATUS_DOUBT, work->at,
			low == high ? "%.10g F or %.10g C? write the letter behind it"
				    : "%.10g to %.10g, F or C? write the letter behind it",
			low, high);
	const struct unit *unit = unit_named(units == UNITS_US ? "F" : "C");
	struct quantity degrees = {.amount = {.dimension = DIMENSION_TEMPERATURE,
					   .low = known_i64(unit_to_base(unit, low, false)),
					   .high = known_i64(unit_to_base(unit, high, false))},
		.notes = {.unit = unit},
		.from = work->at};
	text_copy(degrees.amount.typed, sizeof(degrees.amount.typed),
		arena_format(work->arena, "%.*s %s", (int)used, work->text + work->at, unit->name));
	work->has_number = true;
	enum status status = line_add_amount(work, FIELD_TEMPERATURE, &degrees);
	line_take(work, used);
	return status;
}

/* "mid 20s": 24 to 26. */
static enum status weather_tens_item(struct line_work *work)
{
	const char *low = work->low + work->at;
	size_t part = plain_word_of(low, "low mid high upper lower");
	size_t blank = part > 0 && (low[part] == ' ' || low[part] == '-');
	size_t digits = strspn(low + part + blank, "0123456789");
	const char *tens = low + part + blank;
	if (part == 0 || digits != 2 || tens[1] != '0' || tens[2] != 's' ||
		plain_is_letter(tens[3]))
		return STATUS_ABSENT;
	double base = strtod(tens, NULL);
	double from = low[0] == 'm' ? 4 : low[0] == 'l' ? 1 : 7;
	return add_degrees(work, base + from, base + from + 2, part + blank + 3);
}

/* A bare figure behind frost or heat. */
static enum status weather_degrees_item(struct line_work *work)
{
	const char *low = work->low + work->at;
	size_t minus = low[0] == '-';
	struct quantity from;
	if (!plain_is_digit(low[minus]) ||
		line_scan_quantity(work, work->at + minus, &from) != STATUS_OK ||
		from.notes.unit != NULL || !from.amount.high.known)
		return STATUS_ABSENT;
	if (from.notes.high > 200)
		return STATUS_ABSENT;
	if (minus > 0)
		return add_degrees(work, -from.notes.high, -from.notes.low, from.to - work->at);
	return add_degrees(work, from.notes.low, from.notes.high, from.to - work->at);
}

enum status line_weather_item(struct line_work *work)
{
	enum status status = weather_verb_item(work);
	if (status == STATUS_ABSENT)
		status = weather_tens_item(work);
	bool warm = work->detail_count == 0 || (strcmp(work->details[0].text, "rain") != 0 &&
						       strcmp(work->details[0].text, "snow") != 0 &&
						       strcmp(work->details[0].text, "hail") != 0 &&
						       strcmp(work->details[0].text, "wind") != 0);
	return status == STATUS_ABSENT && warm ? weather_degrees_item(work) : status;
}

/* --- kinds that are mostly words --- */

static enum status whole_rest(struct line_work *work, enum field field)
{
	size_t end = work->end;
	const char *const days[] = {" today", " yesterday", " last night"};
	for (int i = 0; i < 3 && field == FIELD_WORDS; i++) {
		size_t length = strlen(days[i]);
		if (end > work->at + length &&
			strncmp(work->low + end - length, days[i], length) == 0 && !work->day_said)
			end -= length;
	}
	enum status status = line_add_detail(work, field, work->at, end);
	line_take(work, end - work->at);
	return status;
}

static enum status soil_item(struct line_work *work)
{
	const char *low = work->low + work->at;
	size_t ph = plain_word(low, "ph");
	if (plain_word_of(low, "test tested") > 0) {
		work->at += strspn(low, "abcdefghijklmnopqrstuvwxyz");
		return STATUS_OK;
	}
	if (ph == 0)
		return STATUS_ABSENT;
	struct quantity from;
	size_t at = work->at + ph + strspn(low + ph, " :=");
	if (line_scan_quantity(work, at, &from) != STATUS_OK || from.notes.unit != NULL)
		return STATUS_ABSENT;
	if (from.amount.high.known && from.amount.high.value > 14000)
		return line_fail(
			work, STATUS_RANGE, at, "pH %s is outside 0..14", from.amount.typed);
	enum status status = line_add_amount(work, FIELD_PH, &from);
	line_take(work, from.to - work->at);
	return status;
}

static size_t method_at(enum entry_kind kind, const char *low)
{
	if (kind == KIND_GRAFT)
		return plain_word_of(low, "whip whip_and_tongue cleft bark chip chip_bud t-bud bud "
					  "bridge saddle side "
					  "veneer approach budded");
	if (kind == KIND_PLANT)
		return plain_word_of(low, "bare_root bareroot bare-root container "
					  "balled_and_burlapped balled from_pot "
					  "from_a_pot potted too_deep deep deeply too_low "
					  "union_buried graft_buried flare_buried");
	return 0;
}

/* Words that only lead to the others. */
static size_t lead_at(enum entry_kind kind, const char *low)
{
	if (kind == KIND_POT_UP)
		return plain_word_of(low, "up on into to pot pots a");
	if (kind == KIND_LEAVE)
		return plain_word_of(low, "alone it be");
	if (kind == KIND_MOVE)
		return plain_word_of(low, "to into the");
	return 0;
}

/* "from pot to NE corner": where it stood goes to the words. */
static enum status from_item(struct line_work *work)
{
	size_t from = plain_word(work->low + work->at, "from");
	if (work->kind != KIND_MOVE || from == 0)
		return STATUS_ABSENT;
	const char *to = strstr(work->low + work->at, " to ");
	size_t end = to == NULL ? work->at + strcspn(work->low + work->at, ",")
				: (size_t)(to - work->low);
	enum status status = line_add_detail(work, FIELD_WORDS, work->at, end);
	line_take(work, end - work->at);
	return status;
}

enum status line_words_item(struct line_work *work)
{
	const char *low = work->low + work->at;
	if (work->kind == KIND_NOTE || work->kind == KIND_PHOTO)
		return whole_rest(work, work->row->free_field);
	if (work->kind == KIND_THIN)
		return line_thin_item(work);
	enum status status = work->kind == KIND_SOIL_TEST ? soil_item(work) : from_item(work);
	if (work->kind == KIND_GRAFT || work->kind == KIND_SOW)
		status = line_raise_item(work);
	if (status != STATUS_ABSENT)
		return status;
	size_t lead = work->run_open ? 0 : lead_at(work->kind, low);
	if (lead > 0) {
		work->at += lead;
		return STATUS_OK;
	}
	size_t method = method_at(work->kind, low);
	if (method == 0)
		return STATUS_ABSENT;
	status = line_add_detail(work, FIELD_METHOD, work->at, work->at + method);
	line_take(work, method);
	return status;
}
