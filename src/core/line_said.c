/* SPDX-License-Identifier: MIT */
/* An entry said again in plain words. */
#include <stdio.h>
#include <string.h>

#include "core/line_parts.h"

enum { PIECE_SIZE = 480 };

/* One figure without its typed form, so that "20%" and "a fifth" read alike. */
static const char *worked_out(
	const struct amount *amount, const struct number_rules *rules, char *out, int size)
{
	struct amount plain = *amount;
	plain.typed[0] = '\0';
	return amount_format(&plain, rules, out, size);
}

/* What a bare count is of. */
static const char *pieces_of(enum entry_kind kind)
{
	return kind == KIND_GRAFT   ? "grafts"
	       : kind == KIND_SOW   ? "seeds"
	       : kind == KIND_PLANT ? "plants"
				    : "fruit";
}

static const char *as_typed(const struct amount *amount, enum entry_kind kind,
	const struct number_rules *rules, char *out, int size)
{
	amount_format(amount, rules, out, size);
	bool no_unit =
		strpbrk(out, "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ\"'") == NULL;
	if (amount->dimension == DIMENSION_COUNT && no_unit && amount->field == FIELD_COUNT) {
		size_t length = strlen(out);
		(void)snprintf(out + length, (size_t)size - length, " %s", pieces_of(kind));
	}
	return out;
}

static void analysis_piece(const struct entry *entry, char *out, size_t size)
{
	const enum field fields[3] = {FIELD_ANALYSIS_N, FIELD_ANALYSIS_P2O5, FIELD_ANALYSIS_K2O};
	out[0] = '\0';
	for (int i = 0; i < 3; i++) {
		const struct amount *one = entry_amount(entry, fields[i]);
		if (one == NULL)
			return;
		char figure[32];
		(void)snprintf(figure, sizeof(figure), "%s%.10g", i > 0 ? "-" : "",
			(double)one->low.value / 1000);
		strncat(out, figure, size - strlen(out) - 1);
	}
}

/* The weight of N in a weighed product of known analysis: "1.05 lb N". */
static void nitrogen_piece(
	const struct entry *entry, const struct number_rules *rules, char *out, size_t size)
{
	const struct amount *mass = entry_amount(entry, FIELD_PRODUCT_MASS);
	const struct amount *share = entry_amount(entry, FIELD_ANALYSIS_N);
	out[0] = '\0';
	if (mass == NULL || share == NULL || !mass->low.known || !mass->high.known ||
		mass->low.value != mass->high.value)
		return;
	double mg = (double)mass->low.value * (double)share->low.value / 100000;
	bool us = rules->units == UNITS_US || strstr(mass->typed, "lb") != NULL ||
		  strstr(mass->typed, "oz") != NULL || strstr(mass->typed, "pound") != NULL;
	if (us)
		(void)snprintf(out, size, " (%.3g lb N)", mg / 453592.37);
	else
		(void)snprintf(out, size, " (%.3g %s N)", mg < 1e6 ? mg / 1e3 : mg / 1e6,
			mg < 1e6 ? "g" : "kg");
}

static bool has_product_amount(const struct entry *entry)
{
	return entry_amount(entry, FIELD_PRODUCT_MASS) != NULL ||
	       entry_amount(entry, FIELD_PRODUCT_VOLUME) != NULL;
}

/* Product and analysis are said together: "of 21-0-0 sulfate of ammonia (1.05 lb N)". */
static void product_piece(
	const struct entry *entry, const struct number_rules *rules, char *out, size_t size)
{
	char analysis[64];
	char nitrogen[48];
	const char *product = entry_detail(entry, FIELD_PRODUCT);
	analysis_piece(entry, analysis, sizeof(analysis));
	nitrogen_piece(entry, rules, nitrogen, sizeof(nitrogen));
	bool amount = has_product_amount(entry);
	(void)snprintf(out, size, "%s%s%s%s%s",
		amount && (analysis[0] != '\0' || product[0] != '\0') ? "of " : "", analysis,
		analysis[0] != '\0' && product[0] != '\0' ? " " : "", product, nitrogen);
}

static void stage_piece(
	const struct entry *entry, const struct amount *stage, char *out, size_t size)
{
	char code[32];
	const char *word = entry_detail(entry, FIELD_STAGE_WORD);
	if (stage->high.known && stage->high.value != stage->low.value)
		(void)snprintf(code, sizeof(code), "%lld to %lld", (long long)stage->low.value,
			(long long)stage->high.value);
	else
		(void)snprintf(code, sizeof(code), "%lld", (long long)stage->low.value);
	if (word[0] != '\0')
		(void)snprintf(out, size, "%s (%s)", code, word);
	else
		(void)snprintf(out, size, "%s", code);
}

/* What stands around a figure. */
static const struct {
	enum field field;
	const char *before;
	const char *after;
} frames[] = {
	{FIELD_SHARE_CROWN, "", " of the crown"},
	{FIELD_SHARE_SHOOTS, "", " of the shoots"},
	{FIELD_SHARE_OPEN, "", " open"},
	{FIELD_SHARE_LEFT, "", " left"},
	{FIELD_BELOW_SIGN, "", " below the last sign"},
	{FIELD_NITROGEN, "", " N"},
	{FIELD_GIRTH, "girth ", ""},
	{FIELD_DIAMETER, "diameter ", ""},
	{FIELD_HEIGHT, "height ", ""},
	{FIELD_SPREAD, "spread ", ""},
	{FIELD_SHOOT, "shoots ", ""},
	{FIELD_AT_HEIGHT, "at ", ""},
	{FIELD_UNION, "graft union ", ""},
	{FIELD_EMITTERS, "", " emitters"},
	{FIELD_FLOW, "", " each"},
	{FIELD_REENTRY, "re-entry ", ""},
	{FIELD_DAYS_TO_HARVEST, "", " to harvest"},
	{FIELD_PART, "part ", ""},
	{FIELD_PARTS, "of ", ""},
	{FIELD_EVERY, "every ", ""},
	{FIELD_PH, "pH ", ""},
	{FIELD_UNTIL, "until ", ""},
	{FIELD_BATCH, "batch ", ""},
	{FIELD_OUT_OF, "from the ", ""},
	{FIELD_PLACE_TO, "to ", ""},
	{FIELD_REASON, "for ", ""},
};

static const char *frame(enum field field, bool is_after)
{
	for (size_t i = 0; i < sizeof(frames) / sizeof(frames[0]); i++) {
		if (frames[i].field == field)
			return is_after ? frames[i].after : frames[i].before;
	}
	return "";
}

/* What leads a figure in; the second of several stems needs no lead. */
static const char *measured_as(const struct entry *entry, const struct amount *amount)
{
	enum field field = (enum field)amount->field;
	if (field == FIELD_HEIGHT && entry->kind == KIND_CUT)
		return "down to ";
	const struct amount *first = entry_amount(entry, field);
	if (entry->kind == KIND_MEASURE && first != NULL && first != amount)
		return "";
	for (int32_t i = 0; i < entry->stem_count && field == FIELD_DIAMETER; i++) {
		if (entry->stems[i].field == field && !entry->stems[i].word_given)
			return "trunk ";
	}
	return frame(field, false);
}

static void amount_piece(const struct entry *entry, const struct amount *amount,
	const struct number_rules *rules, char *out, size_t size)
{
	char figure[TYPED_SIZE + 40];
	enum field field = (enum field)amount->field;
	bool share = amount->dimension == DIMENSION_SHARE;
	if (field == FIELD_STAGE) {
		stage_piece(entry, amount, out, size);
		return;
	}
	if (share || field == FIELD_EMITTERS || field == FIELD_DAYS_TO_HARVEST)
		worked_out(amount, rules, figure, sizeof(figure));
	else
		as_typed(amount, entry->kind, rules, figure, sizeof(figure));
	const char *before = measured_as(entry, amount);
	const char *after = field != FIELD_TOOK       ? frame(field, true)
			    : entry->kind == KIND_SOW ? " came up"
						      : " took";
	(void)snprintf(out, size, "%s%s%s", before, figure, after);
}

static void word_piece(const struct detail *detail, char *out, size_t size)
{
	const char *text = detail->text;
	struct date_span span;
	char words[80];
	switch ((int)detail->field) {
	case FIELD_CUT_KIND:
		text = cut_kind_row(cut_kind_of_key(text))->title;
		break;
	case FIELD_TOOLS_CLEANED:
		text = strcmp(text, "yes") == 0 ? "tools cleaned" : "tools not cleaned";
		break;
	case FIELD_PARTIAL:
		text = strcmp(text, "last") == 0 ? "the last pick" : "part of the crop";
		break;
	case FIELD_PER:
		text = strcmp(text, "total") == 0  ? "in total"
		       : strcmp(text, "tree") == 0 ? "each"
		       : strcmp(text, "week") == 0 ? "a week"
		       : strcmp(text, "day") == 0  ? "a day"
						   : text;
		break;
	case FIELD_BECAME:
		text = use_kind_row(use_kind_of_key(text))->title;
		break;
	case FIELD_UNTIL:
		if (date_span_parse(text, HEMISPHERE_NORTH, &span, NULL) == STATUS_OK)
			text = date_span_format_plain(&span, words, sizeof(words));
		break;
	default:
		break;
	}
	const char *before = frame(detail->field, false);
	if (strncmp(text, before, strlen(before)) == 0)
		before = "";
	(void)snprintf(out, size, "%s%s", before, text);
}

/* Fields that another piece has said already. */
static bool is_said_elsewhere(const struct entry *entry, enum field field)
{
	if (entry->kind == KIND_FEED &&
		(field == FIELD_ANALYSIS_P2O5 || field == FIELD_ANALYSIS_K2O))
		return true;
	if (field == FIELD_STAGE_WORD)
		return entry_amount(entry, FIELD_STAGE) != NULL;
	if (field == FIELD_PRODUCT)
		return entry->kind == KIND_FEED && entry_amount(entry, FIELD_ANALYSIS_N) != NULL;
	return false;
}

/* How the first piece hangs on the verb, and each piece on the one before. */
static const char *joint(const struct entry *entry, enum field field, bool is_first)
{
	bool tail = field == FIELD_PARTS || field == FIELD_AT_HEIGHT || field == FIELD_PER;
	bool of = entry->kind == KIND_FEED && has_product_amount(entry) &&
		  (field == FIELD_ANALYSIS_N || field == FIELD_PRODUCT);
	bool figure = entry->kind == KIND_WEATHER && !field_row(field)->is_word;
	if (!is_first)
		return tail || of || figure ? " " : ", ";
	if (entry->kind == KIND_CUT || entry->kind == KIND_DIED || field == FIELD_PARTIAL)
		return ", ";
	if (entry->kind == KIND_NOTE)
		return ": ";
	if (entry->kind == KIND_PROTECT && field == FIELD_METHOD)
		return " with ";
	return entry->kind == KIND_WEATHER ? "" : " ";
}

struct sentence {
	const struct entry *entry;
	const struct number_rules *rules;
	struct text_builder out;
	bool has_piece;
};

static void add_piece(struct sentence *sentence, enum field field, const char *piece)
{
	if (piece[0] == '\0')
		return;
	text_add(&sentence->out, joint(sentence->entry, field, !sentence->has_piece));
	text_add(&sentence->out, piece);
	sentence->has_piece = true;
}

static void add_field(struct sentence *sentence, enum field field)
{
	const struct entry *entry = sentence->entry;
	char piece[PIECE_SIZE];
	if (is_said_elsewhere(entry, field))
		return;
	bool analysis = field == FIELD_ANALYSIS_N && entry_amount(entry, field) != NULL;
	if (entry->kind == KIND_FEED && (analysis || field == FIELD_PRODUCT)) {
		product_piece(entry, sentence->rules, piece, sizeof(piece));
		add_piece(sentence, field, piece);
		return;
	}
	for (int32_t i = 0; i < entry->amount_count; i++) {
		if (entry->amounts[i].field != (int32_t)field)
			continue;
		amount_piece(entry, &entry->amounts[i], sentence->rules, piece, sizeof(piece));
		add_piece(sentence, field, piece);
	}
	for (int32_t i = 0; i < entry->detail_count; i++) {
		if (entry->details[i].field != field)
			continue;
		word_piece(&entry->details[i], piece, sizeof(piece));
		add_piece(sentence, field, piece);
	}
}

static bool is_listed(const struct kind_row *row, enum field field)
{
	for (int i = 0; i < KIND_FIELDS_MAX && row->fields[i] != FIELD_NONE; i++) {
		if (row->fields[i] == field)
			return true;
	}
	return false;
}

/* A figure of `measure` rows that came without its amounts, as from another program. */
static void add_stems(struct sentence *sentence)
{
	const struct entry *entry = sentence->entry;
	for (int32_t i = 0; i < entry->stem_count && entry->amount_count == 0; i++) {
		const struct stem_measure *stem = &entry->stems[i];
		struct amount amount = {.dimension = DIMENSION_LENGTH,
			.field = (int32_t)stem->field,
			.low = known_i64(stem->low_um),
			.high = known_i64(stem->high_um),
			.about = stem->about};
		char piece[PIECE_SIZE];
		amount_piece(entry, &amount, sentence->rules, piece, sizeof(piece));
		add_piece(sentence, stem->field, piece);
	}
}

const char *entry_format(
	const struct entry *entry, const struct number_rules *rules, char *out, int size)
{
	const struct kind_row *row = kind_row(entry->kind);
	struct sentence sentence = {.entry = entry, .rules = rules};
	sentence.out = text_builder_fixed(out, (size_t)size);
	bool weather = entry->kind == KIND_WEATHER && entry_detail(entry, FIELD_WEATHER)[0] != '\0';
	if (!weather)
		text_add(&sentence.out, row->past);
	for (int i = 0; i < KIND_FIELDS_MAX && row->fields[i] != FIELD_NONE; i++)
		add_field(&sentence, row->fields[i]);
	add_stems(&sentence);
	for (int field = FIELD_NONE + 1; field < FIELD_TOTAL; field++) {
		if (!is_listed(row, (enum field)field))
			add_field(&sentence, (enum field)field);
	}
	if (entry->kind == KIND_PICK && !sentence.has_piece)
		text_add(&sentence.out, ", not weighed");
	return out;
}

/* "season 2014/15" in place of the two calendar years. */
static void say_season(struct line_work *work, struct text_builder *out)
{
	int year = (int)work->season.value;
	if (strchr(work->day.text, '/') != NULL)
		text_add_format(out, "season %d/%02d", year, (year + 1) % 100);
	else
		text_add_format(out, "season %d", year);
}

static void say_day(struct line_work *work, struct text_builder *out)
{
	char words[80];
	const struct date_span *day = &work->day;
	bool exact = date_span_is_exact(day);
	bool today = exact && date_compare(day->low.value, work->context->today) == 0;
	date_span_format_plain(day, words, sizeof(words));
	if (work->season.known && !exact) {
		say_season(work, out);
		return;
	}
	if (today && !work->planned)
		text_add_format(out, "today (%s)", words);
	else
		text_add(out, words);
	if (work->season.known)
		text_add_format(out, ", season %d", (int)work->season.value);
}

void line_say(struct line_work *work)
{
	struct reading *reading = work->out;
	struct text_builder out = text_builder_fixed(reading->said, sizeof(reading->said));
	char words[sizeof(reading->said)];
	entry_format(&reading->draft, &work->context->numbers, words, sizeof(words));
	text_add_format(&out, "%s: %s%s", line_label(work), work->planned ? "plan: " : "", words);
	bool each = reading->batch != BATCH_ONE && !reading->is_total &&
		    entry_detail(&reading->draft, FIELD_PER)[0] == '\0' &&
		    reading->draft.amount_count > 0;
	text_add(&out, each ? " each, " : ", ");
	say_day(work, &out);
}
