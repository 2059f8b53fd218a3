/* SPDX-License-Identifier: MIT */
/* What is looked at once the whole line is read: unknown words, what a kind cannot do without,
 * unlikely sizes, the day, and the draft entry itself. */
#include <stdio.h>
#include <string.h>

#include "core/day_parts.h"
#include "core/line_parts.h"
#include "core/manure.h"

/* More than this off one tree in one line is asked: 2,000 kg. */
static const int64_t pick_asked_mg = 2000000000;

static struct amount *amount_of(struct line_work *work, enum field field)
{
	for (int32_t i = 0; i < work->amount_count; i++) {
		if (work->amounts[i].field == (int32_t)field)
			return &work->amounts[i];
	}
	return NULL;
}

static struct detail *detail_of(struct line_work *work, enum field field)
{
	for (int32_t i = 0; i < work->detail_count; i++) {
		if (work->details[i].field == field)
			return &work->details[i];
	}
	return NULL;
}

/* --- unknown words --- */

/* A product of the log is kept under its own name. */
static const char *known_name(struct line_work *work, size_t from, size_t to)
{
	struct name_match match;
	if (work->kind != KIND_FEED && work->kind != KIND_SPRAY)
		return NULL;
	if (line_find(work, NAME_PRODUCT, from, to, &match, 1) < 1 || !match.is_exact)
		return NULL;
	return arena_text(work->arena, match.label);
}

static enum status join_runs(struct line_work *work, enum field field)
{
	struct detail *old = detail_of(work, field);
	int32_t first = work->detail_count;
	for (int32_t i = 0; i < work->run_count; i++) {
		const struct word_run *run = &work->runs[i];
		const char *known = known_name(work, run->from, run->to);
		enum status status = known != NULL
					     ? line_add_word(work, field, known)
					     : line_add_detail(work, field, run->from, run->to);
		if (status != STATUS_OK)
			return status;
		struct detail *into = old != NULL ? old : &work->details[first];
		if (into == &work->details[work->detail_count - 1])
			continue;
		const char *more = work->details[--work->detail_count].text;
		const char *both = arena_format(
			work->arena, "%s%s%s", into->text, old != NULL ? ", " : " ", more);
		if (!text_copy(into->text, sizeof(into->text), both))
			return line_fail(work, STATUS_RANGE, run->from,
				"the %s is longer than %d bytes: put the rest after ';'",
				field_row(field)->label, TEXT_SIZE - 1);
	}
	return STATUS_OK;
}

static enum status place_words(struct line_work *work)
{
	if (work->run_count == 0)
		return STATUS_OK;
	const struct word_run *run = &work->runs[0];
	const char *text = work->text + run->from;
	const size_t length = run->to - run->from;
	const int shown = (int)text_whole(text, length < 60 ? length : 60);
	if (work->row->free_field != FIELD_NONE)
		return join_runs(work, work->row->free_field);
	if (work->has_number)
		return line_fail(work, STATUS_SYNTAX, run->from,
			"not understood: '%.*s'; after ; it is a note", shown, text);
	line_remark(work, "'%.*s' is kept in words: no amount is known", shown, text);
	return join_runs(work, FIELD_WORDS);
}

/* --- picks --- */

static void drop_amount(struct line_work *work, int32_t index)
{
	for (int32_t i = index; i + 1 < work->amount_count; i++) {
		work->amounts[i] = work->amounts[i + 1];
		work->units[i] = work->units[i + 1];
		work->amount_at[i] = work->amount_at[i + 1];
	}
	work->amount_count--;
}

/* Weighed beats counted in containers: those go to the words. */
static enum status weighed_beats(struct line_work *work)
{
	bool weighed = false;
	for (int32_t i = 0; i < work->amount_count; i++) {
		const struct amount *amount = &work->amounts[i];
		weighed =
			weighed || (amount->field == FIELD_WEIGHT && amount->container[0] == '\0');
	}
	struct text_builder words = text_builder_in(work->arena);
	for (int32_t i = 0; weighed && i < work->amount_count;) {
		const struct amount *amount = &work->amounts[i];
		if (amount->container[0] == '\0') {
			i++;
			continue;
		}
		if (words.length > 0)
			text_add(&words, " + ");
		text_add(&words, amount->typed);
		drop_amount(work, i);
	}
	if (words.length == 0)
		return STATUS_OK;
	line_remark(work, "weighed beats counted: '%s' is kept in words", words.text);
	return line_add_word(work, FIELD_WORDS, words.text);
}

/* Containers that the log does not know yet. */
static void remark_containers(struct line_work *work)
{
	const struct line_names *names = &work->context->names;
	for (int32_t i = 0; i < work->amount_count; i++) {
		const struct amount *amount = &work->amounts[i];
		struct name_match match;
		const char *name = amount->container;
		if (name[0] == '\0' || amount->low.known)
			continue;
		if (names->find != NULL && names->find(names->owner, NAME_CONTAINER, name,
						   strlen(name), &match, 1) > 0)
			continue;
		line_remark(work,
			"what a '%.60s' holds is not known: kept, and left out of totals until "
			"container add tells",
			name);
	}
}

static enum status check_pick(struct line_work *work)
{
	enum status status = weighed_beats(work);
	if (status == STATUS_OK)
		status = line_name_kind(work);
	if (status != STATUS_OK)
		return status;
	const struct amount *weight = amount_of(work, FIELD_WEIGHT);
	if (amount_of(work, FIELD_SHARE) != NULL && detail_of(work, FIELD_PARTIAL) == NULL) {
		status = line_add_word(work, FIELD_PARTIAL, "partial");
		if (status != STATUS_OK)
			return status;
	}
	bool tree = work->out->batch == BATCH_ONE &&
		    work->out->draft.subject.kind == SUBJECT_TREE && !work->out->is_total;
	if (weight != NULL && tree && !work->is_sure && weight->low.value > pick_asked_mg)
		return line_fail(work, STATUS_DOUBT, work->verb_at,
			"'%s' off one tree? no tree of a yard bears so much (2,000 kg, 4,400 lb): "
			"if "
			"it is right, write sure behind it",
			weight->typed);
	return STATUS_OK;
}

/* --- the other kinds --- */

static void remark_feed(struct line_work *work)
{
	const struct amount *volume = amount_of(work, FIELD_PRODUCT_VOLUME);
	const struct detail *product = detail_of(work, FIELD_PRODUCT);
	if (volume != NULL && volume->low.known && strstr(volume->typed, "cup") != NULL) {
		char about[32];
		double cups = (double)volume->low.value / (3785411.784 / 16);
		mass_format_rough(round_i64(cups * 226796), UNITS_US, about, sizeof(about));
		line_remark(work,
			"about %s if a cup of it weighs half a pound (common practice); product "
			"set "
			"NAME --cup tells what it weighs",
			about);
	}
	if (volume != NULL && strchr(volume->typed, 't') != NULL &&
		(strstr(volume->typed, "tbs") != NULL || strstr(volume->typed, "tablesp") != NULL))
		line_remark(work, "a tablespoon is taken as 15 ml; in Australia it is 20");
	if (product == NULL)
		return;
	switch (manure_of_words(product->text)) {
	case MANURE_RAW:
		line_remark(work, "raw manure: fruit that touches the ground is counted "
				  "from this day");
		break;
	case MANURE_UNSAID:
		line_remark(work, "raw or composted? say so: the days to a harvest hang on it");
		break;
	case MANURE_COMPOSTED:
	case MANURE_NONE:
		break;
	}
}

static void remark_water(struct line_work *work)
{
	const struct amount *time = amount_of(work, FIELD_DURATION);
	const struct amount *emitters = amount_of(work, FIELD_EMITTERS);
	const struct amount *flow = amount_of(work, FIELD_FLOW);
	const struct amount *depth = amount_of(work, FIELD_DEPTH);
	if (depth != NULL && depth->high.known) {
		double gallons = (double)depth->low.value * 9290.304 / 3785411.784;
		line_remark(work, "%s is %.3g l on a square metre, %.*f gal on 100 square feet",
			depth->typed, (double)depth->low.value / 1000, gallons < 10, gallons);
	}
	if (time == NULL || amount_of(work, FIELD_VOLUME) != NULL)
		return;
	if (emitters == NULL || flow == NULL) {
		line_remark(work,
			"'%s' is a time, not an amount: no volume until emitters and flow are "
			"known",
			time->typed);
		return;
	}
	char volume[32];
	double litres = (double)time->low.value / 3600 * (double)emitters->low.value / 1000 *
			(double)flow->low.value;
	if (litres > AMOUNT_BASE_MAX)
		return;
	volume_format(round_i64(litres), &work->context->numbers, volume, sizeof(volume));
	line_remark(work, "%s x %s x %s = %s", emitters->typed, flow->typed, time->typed, volume);
}

/* "bloom 30% open" is stage 63; half or more is 65. */
static enum status settle_stage(struct line_work *work)
{
	const struct amount *open = amount_of(work, FIELD_SHARE_OPEN);
	/* The letter b alone is bloom. */
	if (work->verb_length == 1 && work->amount_count + work->detail_count == 0) {
		work->amounts[work->amount_count++] = (struct amount){.dimension = DIMENSION_CODE,
			.field = FIELD_STAGE,
			.low = known_i64(60),
			.high = known_i64(69)};
		return line_add_word(work, FIELD_STAGE_WORD, "bloom");
	}
	struct amount *stage = amount_of(work, FIELD_STAGE);
	if (open == NULL)
		return stage == NULL && work->detail_count == 0
			       ? line_fail(work, STATUS_SYNTAX, work->end,
					 "which stage? write a BBCH code, as stage 65, or words: "
					 "bud "
					 "burst, pink bud, bloom, full bloom, petal fall, fruit "
					 "set")
			       : STATUS_OK;
	bool by_words = stage != NULL && stage->low.value == 60 && stage->high.value == 69;
	if (stage != NULL && !by_words)
		return STATUS_OK;
	if (stage == NULL && work->amount_count == AMOUNTS_MAX)
		return STATUS_OK;
	if (stage == NULL)
		stage = &work->amounts[work->amount_count++];
	int64_t low = open->low.value / 100;
	int64_t high = (open->high.known ? open->high.value : 1000) / 100;
	*stage = (struct amount){.dimension = DIMENSION_CODE,
		.field = FIELD_STAGE,
		.low = known_i64(60 + (low > 5 ? 5 : low)),
		.high = known_i64(60 + (high > 5 ? 5 : high)),
		.about = open->about};
	return STATUS_OK;
}

static enum status need(struct line_work *work, bool is_there, const char *what)
{
	if (is_there)
		return STATUS_OK;
	return line_fail(work, STATUS_SYNTAX, work->end, "%s, as: %s", what, work->row->example);
}

/* A tree taken out did not die: the verb is kept as the cause. */
static enum status keep_removal(struct line_work *work)
{
	size_t used = plain_word_of(work->low + work->verb_at, "removed remove felled killed gone");
	if (used == 0 || detail_of(work, FIELD_CAUSE) != NULL)
		return STATUS_OK;
	return line_add_detail(work, FIELD_CAUSE, work->verb_at, work->verb_at + used);
}

/* clang-format off */
static const char *const caution[] = {"bleach", "bleach: never mix anything else in, the gas can kill; alcohol is kinder to tools"};
/* clang-format on */

/* Does the text hold the word whole, in any case? */
static bool names_whole(const char *text, const char *word)
{
	size_t length = strlen(word);

	for (size_t at = 0; text[at] != '\0'; at++) {
		bool starts = at == 0 || !plain_is_letter(text[at - 1]);

		if (starts && text_starts(text + at, word) && !plain_is_letter(text[at + length]))
			return true;
	}
	return false;
}

/* The usual caution, at the moment when the work can hurt someone. */
static void remark_care(struct line_work *work)
{
	if (work->kind == KIND_PLANT || work->kind == KIND_MOVE)
		line_remark(work, "before you dig, ask the local service about buried lines");
	if (work->kind == KIND_GRAFT)
		line_remark(
			work, "wood from or for elsewhere may be under quarantine: check first");
	if (work->kind == KIND_SPRAY)
		line_remark(work, "the product's label is the law");
	if (work->kind == KIND_PROTECT &&
		(strstr(work->low, "lamp") != NULL || strstr(work->low, "heater") != NULL))
		line_remark(work, "a lamp or heater under cloth can set it alight: keep it clear, "
				  "never leave it alone");
	if (names_whole(work->low, caution[0]) || names_whole(work->note, caution[0]))
		line_remark(work, "%s", caution[1]);
}

static enum status check_kind(struct line_work *work)
{
	switch (work->kind) {
	case KIND_PICK:
		return check_pick(work);
	case KIND_FEED:
		remark_feed(work);
		return STATUS_OK;
	case KIND_WATER:
		remark_water(work);
		return STATUS_OK;
	case KIND_STAGE:
		return settle_stage(work);
	case KIND_MEASURE:
		return need(work,
			work->stem_count > 0 || work->detail_count > 0 ||
				amount_of(work, FIELD_UNION) != NULL,
			"no figure: write what was measured with its unit");
	case KIND_SAW:
		return need(work, detail_of(work, FIELD_SUBJECT_SEEN) != NULL,
			"saw what? write the pest, disease or damage");
	case KIND_LEAVE:
		return need(work, detail_of(work, FIELD_UNTIL) != NULL,
			"leave until when? write until and a day or month");
	case KIND_PHOTO:
		return need(work, work->detail_count > 0, "which file? write the picture's name");
	case KIND_NOTE:
		return need(work, work->detail_count > 0 || work->note[0] != '\0',
			"the note is empty: write its words");
	case KIND_MOVE:
		return need(work, work->detail_count > 0, "moved where? write the place");
	case KIND_WEATHER:
		return need(work, work->detail_count + work->amount_count > 0,
			"what weather? write frost, rain, hail, wind, storm, heat or snow");
	case KIND_DIED:
		return keep_removal(work);
	case KIND_USE:
		return line_finish_use(work);
	case KIND_CUT:
	case KIND_LOSS:
	case KIND_MULCH:
	case KIND_SPRAY:
	case KIND_THIN:
	case KIND_PLANT:
	case KIND_GRAFT:
	case KIND_SOW:
	case KIND_POT_UP:
	case KIND_PROTECT:
	case KIND_SOIL_TEST:
	case KIND_TOTAL:
		break;
	}
	return STATUS_OK;
}

/* --- day and season --- */

static enum status take_season(struct line_work *work)
{
	bool crop = work->kind == KIND_PICK || work->kind == KIND_LOSS || work->kind == KIND_USE;
	if (work->context->season != NULL && !work->season.known) {
		struct date_span unused;
		const char *text = arena_format(work->arena, "season %s", work->context->season);
		enum status status = day_read_named(
			text, work->context, false, &unused, &work->season, work->why);
		if (status != STATUS_OK)
			return status;
	}
	/* A pick with only a year goes to that season, as said. */
	if (crop && !work->season.known && strlen(work->day.text) == 4 &&
		strspn(work->day.text, "0123456789") == 4)
		work->season = known_i32(date_parts(work->day.low.value).year);
	return STATUS_OK;
}

/* Weather of a day to come that says what it is. */
static bool says_forecast(struct line_work *work)
{
	const struct detail *words = detail_of(work, FIELD_WORDS);
	const struct entry entry = {
		.kind = work->kind, .details = words, .detail_count = words != NULL};

	return entry_is_forecast(&entry);
}

static enum status check_day(struct line_work *work)
{
	const struct date_span *day = &work->day;
	char words[80];
	date_span_format_plain(day, words, sizeof(words));
	if (work->planted.known && day->high.known &&
		date_compare(day->high.value, work->planted.value) < 0) {
		char planted[32];
		date_format_plain(work->planted.value, planted, sizeof(planted));
		return line_fail(work, STATUS_DOUBT, work->day_from,
			"%s is before '%s' was planted (%s): a tree that stood there before is "
			"written with its years, as \"%s (2011-2019)\"",
			words, work->out->draft.subject.label, planted,
			work->out->draft.subject.label);
	}
	if (!work->planned && !says_forecast(work) && day->low.known &&
		date_compare(day->low.value, work->context->today) > 0)
		line_remark(work, "%s is after today: kept, and flagged", words);
	return STATUS_OK;
}

static enum status take_day(struct line_work *work)
{
	const struct line_context *context = work->context;
	work->out->day_given = work->day_said;
	if (!work->day_said && work->planned && amount_of(work, FIELD_EVERY) == NULL)
		return line_fail(work, STATUS_SYNTAX, work->end,
			"planned for when? write '@ feb 2027', or 'every 6 weeks'");
	if (!work->day_said && context->from_file && context->file_day.known)
		work->day = date_span_of(context->file_day.value);
	else if (!work->day_said)
		work->day = date_span_of(context->today);
	enum status status = take_season(work);
	return status == STATUS_OK ? check_day(work) : status;
}

/* --- the draft --- */

static const char *whole_note(struct line_work *work)
{
	size_t length = strlen(work->note);
	while (length > 0 && strchr(" \t\r\n", work->note[length - 1]) != NULL)
		length--;
	const char *note = arena_text_n(work->arena, work->note, length);
	if (work->asides.length == 0)
		return note;
	return arena_format(
		work->arena, "%s%s(%s)", note, length > 0 ? " " : "", work->asides.text);
}

static void fill_draft(struct line_work *work)
{
	struct entry *draft = &work->out->draft;
	struct amount *amounts =
		arena_array(work->arena, (size_t)work->amount_count + 1, sizeof(*amounts));
	struct detail *details =
		arena_array(work->arena, (size_t)work->detail_count + 1, sizeof(*details));
	struct stem_measure *stems =
		arena_array(work->arena, (size_t)work->stem_count + 1, sizeof(*stems));
	memcpy(amounts, work->amounts, (size_t)work->amount_count * sizeof(*amounts));
	memcpy(details, work->details, (size_t)work->detail_count * sizeof(*details));
	memcpy(stems, work->stems, (size_t)work->stem_count * sizeof(*stems));
	draft->day = work->day;
	draft->note = whole_note(work);
	draft->planned = work->planned;
	draft->season_year = work->season;
	draft->amounts = amounts;
	draft->amount_count = work->amount_count;
	draft->details = details;
	draft->detail_count = work->detail_count;
	draft->stems = stems;
	draft->stem_count = work->stem_count;
}

enum status line_finish(struct line_work *work)
{
	enum status status = place_words(work);
	if (status == STATUS_OK)
		status = check_kind(work);
	if (status == STATUS_OK) {
		remark_containers(work);
		remark_care(work);
	}
	if (status == STATUS_OK)
		status = take_day(work);
	if (status == STATUS_OK)
		fill_draft(work);
	return status;
}
