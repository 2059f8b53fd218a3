/* SPDX-License-Identifier: MIT */
/* entry-odd: lines that are likely not what was meant. Asked once each, as notes; nothing is ever
 * refused or left out of a sum because of it. */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "core/text.h"
#include "look.h"

static bool is_own(const struct dossier *dossier, const struct entry *entry)
{
	return strcmp(entry->subject.id, dossier->tree.id) == 0;
}

/* What the line was called, and its day: "The pick of 3 May 2026". */
static const char *name_entry(const struct entry *entry, char *out, size_t size)
{
	char when[80];

	snprintf(out, size, "The %s of %s", kind_row(entry->kind)->title,
		date_span_format_plain(&entry->day, when, sizeof when));
	return out;
}

static struct flag *flag_odd(const struct dossier *dossier, const struct entry *entry,
	const char *cause, struct flags *out)
{
	struct flag *flag = flags_add(out, "entry-odd", dossier, URGENCY_NOTE);
	char key[ID_SIZE + 16];
	struct date day;

	if (entry->asked)
		look_say(&flag->action, "If it is wrong, type it anew before it is saved.");
	else
		look_say(&flag->action,
			"If it is wrong: \"entry mend %s LINE\" says it anew, \"entry strike %s\" "
			"takes it back. If it is right, set this aside.",
			entry->id, entry->id);
	flag->source = "common practice";
	text_copy(flag->basis, sizeof flag->basis, "your own entries");
	if (look_day(entry, &day))
		flag->began = known_date(day);
	proof_entry(out, flag, "", entry);
	snprintf(key, sizeof key, "%s %s", cause, entry->id);
	flag_key_set(flag, 0, key);
	return flag;
}

/* --- days: after today, before the planting, after the end --- */

static void look_ahead(const struct dossier *dossier, struct date today, struct flags *out)
{
	char name[120];
	struct date day;

	for (int32_t i = 0; i < dossier->entry_count; i++) {
		const struct entry *entry = dossier->entries[i];

		bool own = is_own(dossier, entry);
		bool shared =
			entry->subject.kind == SUBJECT_SPOT || entry->subject.kind == SUBJECT_AREA;
		if ((!own && !shared) || entry_is_forecast(entry) || !look_day(entry, &day) ||
			date_compare(day, today) <= 0)
			continue;
		struct flag *flag = flag_odd(dossier, entry, "ahead", out);
		/* one line of many trees is one question for the yard */
		text_copy(flag->fact, sizeof flag->fact, own ? entry->batch : entry->id);
		look_say(&flag->says,
			"%s is dated after today: until then nothing is worked out from it%s",
			name_entry(entry, name, sizeof name), flag->fact[0] == '\0' ? "." : "");
	}
}

/* Words may be written about a tree before it stands and after it is gone. */
static bool is_work(const struct entry *entry)
{
	return entry->kind != KIND_NOTE && entry->kind != KIND_PHOTO &&
	       entry->kind != KIND_SOIL_TEST && entry->kind != KIND_SOW &&
	       entry->kind != KIND_DIED && entry->kind != KIND_USE;
}

/* Entries outside the tree's life are one question: the day of planting may be what is wrong. */
struct outside {
	const struct entry *first;
	const struct entry *last;
	int32_t count;
};

static void outside_add(struct outside *outside, const struct entry *entry)
{
	if (outside->count++ == 0)
		outside->first = entry;
	outside->last = entry;
}

static void flag_outside(const struct dossier *dossier, const struct outside *outside,
	const char *cause, const char *what, const char *otherwise, struct flags *out)
{
	char name[120], number[32] = "";

	if (outside->count == 0)
		return;
	struct flag *flag = flag_odd(dossier, outside->last, cause, out);
	name_entry(outside->last, name, sizeof name);
	if (outside->count > 1)
		snprintf(number, sizeof number, " and %d more", outside->count - 1);
	look_say(&flag->says, "%s%s %s %s.", name, number, outside->count > 1 ? "lie" : "lies",
		what);
	if (outside->last->asked)
		look_say(&flag->action, "%s; or type it anew before it is saved.", otherwise);
	else
		look_say(&flag->action,
			"%s; or mend it (entry mend %s LINE), or take it back (entry strike %s).",
			otherwise, outside->last->id, outside->last->id);
	if (outside->first != outside->last) {
		proof_entry(out, flag, "the first", outside->first);
	}
}

static void look_before_planting(const struct dossier *dossier, struct flags *out)
{
	const struct date_span *planted = &dossier->tree.planted;
	struct outside outside = {0};
	char when[80], what[120], otherwise[240];

	for (int32_t i = 0; planted->low.known && i < dossier->entry_count; i++) {
		const struct entry *entry = dossier->entries[i];

		if (is_own(dossier, entry) && is_work(entry) && entry->day.high.known &&
			date_compare(entry->day.high.value, planted->low.value) < 0)
			outside_add(&outside, entry);
	}
	date_span_format_plain(planted, when, sizeof when);
	snprintf(what, sizeof what, "before its planting (%s)", when);
	snprintf(otherwise, sizeof otherwise,
		"Was it planted earlier (tree set %.80s --planted DAY), or was that another tree "
		"in "
		"this place",
		dossier->tree.label);
	flag_outside(dossier, &outside, "before", what, otherwise, out);
}

static void look_after_end(const struct dossier *dossier, struct flags *out)
{
	const struct date_span *gone = &dossier->tree.gone;
	struct maybe_date end = gone->high.known ? gone->high : gone->low;
	struct outside outside = {0};
	char when[80], what[120];

	for (int32_t i = 0; end.known && i < dossier->entry_count; i++) {
		const struct entry *entry = dossier->entries[i];

		if (is_own(dossier, entry) && is_work(entry) && entry->day.low.known &&
			date_compare(entry->day.low.value, end.value) > 0)
			outside_add(&outside, entry);
	}
	date_span_format_plain(gone, when, sizeof when);
	snprintf(what, sizeof what, "after the tree was gone (%s)", when);
	flag_outside(dossier, &outside, "after", what, "Was it another tree of that name", out);
}

/* --- ten times the usual --- */

enum {
	USUAL_LEAST = 3,      /* earlier amounts, or there is no usual */
	USUAL_MOST = 15,      /* the newest of them */
	USUAL_DAYS = 3 * 365, /* trees grow: older ones say nothing */
	TIMES_USUAL = 10,
	TIMES_MOST = 3, /* nor just more than the most of them: small first picks are usual */
};

static const enum field figures[] = {
	FIELD_WEIGHT,
	FIELD_COUNT,
	FIELD_VOLUME,
	FIELD_PRODUCT_MASS,
	FIELD_PRODUCT_VOLUME,
	FIELD_NITROGEN,
	FIELD_DURATION,
};

static bool has_usual(enum entry_kind kind)
{
	return kind == KIND_PICK || kind == KIND_FEED || kind == KIND_WATER;
}

static int64_t figure_of(const struct entry *entry, enum field field)
{
	const struct amount *amount = entry_amount(entry, field);
	struct maybe_i64 point = {0};

	if (amount != NULL && !amount->none)
		point = amount_point(amount);
	return point.known ? point.value : 0;
}

static bool is_alike(const struct entry *a, const struct entry *b)
{
	return text_same(entry_detail(a, FIELD_PRODUCT), entry_detail(b, FIELD_PRODUCT)) &&
	       text_same(entry_detail(a, FIELD_PER), entry_detail(b, FIELD_PER));
}

static int compare_figures(const void *left, const void *right)
{
	int64_t a = *(const int64_t *)left;
	int64_t b = *(const int64_t *)right;

	return a < b ? -1 : a > b;
}

/* The figures of the same kind of work before this one, small to large. Returns how many; 0 as soon
 * as one is larger than `most`. */
static int32_t earlier_figures(const struct dossier *dossier, int32_t index, enum field field,
	struct date day, int64_t most, int64_t out[USUAL_MOST])
{
	const struct entry *entry = dossier->entries[index];
	int32_t count = 0;
	struct date at;

	for (int32_t i = index; i-- > 0 && count < USUAL_MOST;) {
		const struct entry *other = dossier->entries[i];

		if (!look_day(other, &at) || date_days_between(at, day) > USUAL_DAYS)
			break;
		if (other->kind != entry->kind)
			continue;
		int64_t figure = figure_of(other, field);
		if (figure <= 0 || !is_own(dossier, other) || !is_alike(entry, other))
			continue;
		if (figure > most)
			return 0;
		out[count++] = figure;
	}
	if (count > 1)
		qsort(out, (size_t)count, sizeof out[0], compare_figures);
	return count;
}

static const char *say_figure(
	const struct dossier *dossier, enum field field, int64_t value, char *out, int size)
{
	const struct place *place = dossier->place;
	const struct number_rules rules = {place->units, place->gallon, place->numbers};
	enum dimension dimension = field_row(field)->dimension;

	if (dimension == DIMENSION_MASS)
		return mass_format(value, place->units, out, size);
	if (dimension == DIMENSION_VOLUME)
		return volume_format(value, &rules, out, size);
	if (dimension == DIMENSION_DURATION)
		snprintf(out, (size_t)size, "%lld min", (long long)(value / 60));
	else
		snprintf(out, (size_t)size, "%lld fruit", (long long)(value / 1000));
	return out;
}

static bool look_at_figure(const struct dossier *dossier, int32_t index, enum field field,
	struct date day, struct flags *out)
{
	const struct entry *entry = dossier->entries[index];
	int64_t earlier[USUAL_MOST];
	char name[120], now[32], usual[32];
	int64_t figure = figure_of(entry, field);
	if (figure <= 0)
		return false;
	int32_t count = earlier_figures(dossier, index, field, day, figure / TIMES_MOST, earlier);
	if (count < USUAL_LEAST || figure / TIMES_USUAL < earlier[count / 2])
		return false;
	struct flag *flag = flag_odd(dossier, entry, "usual", out);
	look_say(&flag->says, "%s says %s; usual for this tree is %s. Is a unit or a point wrong?",
		name_entry(entry, name, sizeof name),
		say_figure(dossier, field, figure, now, sizeof now),
		say_figure(dossier, field, earlier[count / 2], usual, sizeof usual));
	flag_evidence(out, flag, "asked from ten times the middle of %d earlier ones, 3 years back",
		count);
	return true;
}

static void look_at_figures(const struct dossier *dossier, struct flags *out)
{
	struct date day;

	for (int32_t i = 0; i < dossier->entry_count; i++) {
		const struct entry *entry = dossier->entries[i];

		if (!has_usual(entry->kind) || !is_own(dossier, entry) || !look_day(entry, &day))
			continue;
		for (size_t f = 0; f < sizeof figures / sizeof figures[0]; f++)
			if (look_at_figure(dossier, i, figures[f], day, out))
				break;
	}
}

/* --- a trunk that shrank --- */

static const struct entry *entry_of_id(const struct dossier *dossier, const char *id)
{
	for (int32_t i = 0; i < dossier->entry_count; i++)
		if (strcmp(dossier->entries[i]->id, id) == 0)
			return dossier->entries[i];
	return NULL;
}

static int32_t trunks_in(const struct entry *entry)
{
	int32_t count = 0;

	for (int32_t i = 0; i < entry->stem_count; i++)
		count += entry->stems[i].stem > 0 ? 1 : 0;
	return count;
}

/* The same stem at the same height, with the same tool. */
static bool compares(const struct trunk_reading *old, const struct trunk_reading *new)
{
	return old->stem == new->stem && old->from_girth == new->from_girth &&
	       old->at_height_um.known == new->at_height_um.known &&
	       (!old->at_height_um.known || old->at_height_um.value == new->at_height_um.value) &&
	       date_compare(old->day, new->day) < 0;
}

/* A tape laid a little higher, a knot: a twentieth, and at least 5 mm across (common practice). */
static bool is_smaller(int64_t old_um, int64_t new_um)
{
	return new_um < old_um - old_um / 20 && new_um < old_um - 5000;
}

/* Twice as thick and more than 5 cm thicker a year, which no fruit tree grows (ours). */
static bool is_far_thicker(const struct trunk_reading *old, const struct trunk_reading *new)
{
	const double years = date_days_between(old->day, new->day) / 365.25;

	return new->diameter_um > 2 * old->diameter_um &&
	       (double)(new->diameter_um - old->diameter_um) > 50000 * (years > 1 ? years : 1);
}

static void look_at_reading(const struct dossier *dossier, int32_t index, struct flags *out)
{
	const struct trunk_reading *now = &dossier->readings[index];
	const struct trunk_reading *before = NULL;
	char name[120], when[24], old_text[32], new_text[32];

	for (int32_t i = index; i-- > 0 && before == NULL;)
		if (compares(&dossier->readings[i], now))
			before = &dossier->readings[i];
	if (before == NULL)
		return;
	const bool thicker = is_far_thicker(before, now);
	if (!thicker && !is_smaller(before->diameter_um, now->diameter_um))
		return;
	const struct entry *entry = entry_of_id(dossier, now->entry_id);
	const struct entry *old = entry_of_id(dossier, before->entry_id);
	/* a figure without a word that is large for its tree is asked by girth-or-diameter */
	if (entry == NULL || old == NULL || trunks_in(entry) != trunks_in(old) ||
		!before->word_given)
		return;
	struct flag *flag = flag_odd(dossier, entry, thicker ? "thicker" : "smaller", out);
	length_format(before->diameter_um, dossier->place->units, old_text, sizeof old_text);
	length_format(now->diameter_um, dossier->place->units, new_text, sizeof new_text);
	look_say(&flag->says,
		"%s makes the trunk %s than on %s: %s across after %s. Same height, same unit, "
		"round or across?",
		name_entry(entry, name, sizeof name), thicker ? "far thicker" : "thinner",
		date_format_plain(before->day, when, sizeof when), new_text, old_text);
	proof_entry(out, flag, "the earlier one", old);
	flag_evidence(out, flag, "asked when it is %s",
		thicker ? "twice as thick, and grew more than 5 cm across a year"
			: "thinner by more than a twentieth");
}

static void look_at_readings(const struct dossier *dossier, struct date today, struct flags *out)
{
	for (int32_t i = 0; i < dossier->reading_count; i++)
		if (date_compare(dossier->readings[i].day, today) <= 0)
			look_at_reading(dossier, i, out);
}

/* --- the same line twice on one day --- */

static bool same_amounts(const struct entry *a, const struct entry *b)
{
	bool same = a->amount_count == b->amount_count;

	for (int32_t i = 0; same && i < a->amount_count; i++) {
		const struct amount *one = &a->amounts[i];
		const struct amount *other = &b->amounts[i];

		same = one->field == other->field && one->none == other->none &&
		       one->low.known == other->low.known && one->low.value == other->low.value &&
		       one->high.known == other->high.known &&
		       one->high.value == other->high.value &&
		       strcmp(one->container, other->container) == 0 &&
		       one->containers_low.value == other->containers_low.value;
	}
	return same;
}

static bool same_words(const struct entry *a, const struct entry *b)
{
	bool same = a->detail_count == b->detail_count && a->stem_count == b->stem_count &&
		    strcmp(a->note == NULL ? "" : a->note, b->note == NULL ? "" : b->note) == 0;

	for (int32_t i = 0; same && i < a->detail_count; i++)
		same = a->details[i].field == b->details[i].field &&
		       strcmp(a->details[i].text, b->details[i].text) == 0;
	for (int32_t i = 0; same && i < a->stem_count; i++)
		same = a->stems[i].stem == b->stems[i].stem &&
		       a->stems[i].field == b->stems[i].field &&
		       a->stems[i].low_um == b->stems[i].low_um &&
		       a->stems[i].high_um == b->stems[i].high_um;
	return same;
}

static bool is_twin(const struct dossier *dossier, const struct entry *a, const struct entry *b)
{
	return a->kind == b->kind && is_own(dossier, a) && is_own(dossier, b) &&
	       date_span_is_exact(&b->day) && same_amounts(a, b) && same_words(a, b);
}

static void flag_twins(const struct dossier *dossier, const struct entry *first,
	const struct entry *last, int32_t count, struct flags *out)
{
	char name[120];
	struct flag *flag = flag_odd(dossier, last, "twice", out);

	name_entry(last, name, sizeof name);
	/* a batch logged twice is one question for the yard */
	text_copy(flag->fact, sizeof flag->fact, last->batch);
	look_say(&flag->says, "%s stands %d times, all alike%s", name, count,
		flag->fact[0] == '\0' ? "." : "");
	proof_entry(out, flag, "the other", first);
}

static bool has_twin_before(const struct dossier *dossier, int32_t index, struct date day)
{
	struct date at;

	for (int32_t i = index; i-- > 0;) {
		if (!look_day(dossier->entries[i], &at) || date_compare(at, day) != 0)
			return false;
		if (is_twin(dossier, dossier->entries[i], dossier->entries[index]))
			return true;
	}
	return false;
}

static void look_at_twins(const struct dossier *dossier, struct flags *out)
{
	for (int32_t i = 0; i + 1 < dossier->entry_count; i++) {
		const struct entry *first = dossier->entries[i];
		const struct entry *last = first;
		int32_t count = 1;
		struct date day, at;

		if (!date_span_is_exact(&first->day) || !look_day(first, &day) ||
			has_twin_before(dossier, i, day))
			continue;
		for (int32_t k = i + 1; k < dossier->entry_count; k++) {
			if (!look_day(dossier->entries[k], &at) || date_compare(at, day) != 0)
				break;
			if (!is_twin(dossier, first, dossier->entries[k]))
				continue;
			last = dossier->entries[k];
			count++;
		}
		if (count > 1)
			flag_twins(dossier, first, last, count, out);
	}
}

void rule_entry_odd(const struct dossier *dossier, struct date today, struct flags *out)
{
	look_ahead(dossier, today, out);
	look_before_planting(dossier, out);
	look_after_end(dossier, out);
	look_at_figures(dossier, out);
	look_at_readings(dossier, today, out);
	look_at_twins(dossier, out);
}
