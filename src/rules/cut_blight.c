/* SPDX-License-Identifier: MIT */
/* blight-cut-short: diseased wood cut out too near the last sign, with tools that carry it on, or
 * in the wet. Sources differ by region: each is named. */
#include <stdio.h>
#include <string.h>

#include "core/text.h"
#include "cut_say.h"

enum { DISEASE_SEEN_DAYS = 60, ROWS_MAX = 6 };

/* A disease that is cut out, by the words growers use, and where the almanac keeps its distance. */
struct disease {
	const char *name;
	const char *const words[4];
	const char *distance;
	const char *at_rest; /* of the clean-up in winter, where sources give one of its own */
	const char *tools;
	const char *feed;
};
static const struct disease diseases[] = {
	{"Eutypa", {"eutypa", NULL}, "eutypa-cut-below", "", "canker-clean-tools", ""},
	{"silver leaf", {"silver leaf", "silverleaf", NULL}, "silver-leaf-cut-below", "", "", ""},
	{"black knot", {"knot", NULL}, "black-knot-cut-below", "", "", ""},
	{"blight", {"blight", NULL}, "blight-cut-below", "blight-cut-below-rest",
		"blight-clean-tools", "blight-feed"},
	{"canker", {"canker", "dieback", NULL}, "canker-cut-below", "", "canker-clean-tools", ""},
};

/* The distances of one disease for one kind. */
struct distances {
	const struct disease *disease;
	const struct fact_row *rows[ROWS_MAX];
	int32_t count;
	int64_t least_um;     /* of the source that asks for least */
	int64_t strictest_um; /* the low end of the one that asks for most */
	enum known_by sure;
};

/* A choice counts among the sources of the distance looked for. */
static const char *chosen_for(const struct dossier *dossier, const char *key)
{
	const struct species *species = dossier->kind.species;

	for (int32_t c = dossier->choice_count; c-- > 0;)
		for (int32_t i = 0; i < species->fact_count; i++)
			if (strcmp(dossier->choices[c].rule, "blight-cut-short") == 0 &&
				strcmp(species->facts[i].key, key) == 0 &&
				strcmp(dossier->choices[c].source, species->facts[i].source) == 0)
				return species->facts[i].source;
	return NULL;
}

static void add_row(struct distances *distances, const struct fact_row *row)
{
	int64_t low = row->low.value;

	if (distances->count == ROWS_MAX)
		return;
	distances->rows[distances->count++] = row;
	if (distances->count == 1 || low < distances->least_um)
		distances->least_um = low;
	if (distances->count == 1 || low > distances->strictest_um)
		distances->strictest_um = low;
	if (distances->count == 1 || row->sure < distances->sure)
		distances->sure = row->sure;
}

/* The place's choice alone, where one was made among these sources; rows that were read stand
 * before those that were not. */
static struct distances distances_of(const struct dossier *dossier, const char *key)
{
	const struct species *species = dossier->kind.species;
	const char *chosen = chosen_for(dossier, key);

	for (int pass = 0; pass < 3; pass++) {
		struct distances distances = {.count = 0};

		for (int32_t i = 0; i < species->fact_count; i++) {
			const struct fact_row *row = &species->facts[i];

			if (strcmp(row->key, key) == 0 && row->low.known &&
				(pass > 0 || chosen == NULL || strcmp(chosen, row->source) == 0) &&
				(pass > 1 || look_may_alarm(row->sure)))
				add_row(&distances, row);
		}
		if (distances.count > 0)
			return distances;
	}
	return (struct distances){.count = 0};
}

/* Between the last tender growth and bloom, where both are known; evergreens never rest. */
static bool is_at_rest(const struct dossier *dossier, struct date day)
{
	struct window bloom = dossier_window(dossier, WINDOW_BLOOM, day);
	struct window late = dossier_window(dossier, WINDOW_REGROWTH, day);

	return !dossier->kind.species->evergreen && bloom.known && late.known &&
	       !circle_within(circle_of_date(day), circle_of(bloom.from), circle_of(late.to));
}

/* In winter its own distance counts, unless the place follows a source that has none. A canker of
 * a kind whose blight is told by its cankers (hazelnut) is that blight. */
static struct distances distances_for(
	const struct dossier *dossier, const struct disease *disease, struct date day)
{
	struct distances distances = {.count = 0};
	bool chosen = chosen_for(dossier, disease->distance) != NULL &&
		      chosen_for(dossier, disease->at_rest) == NULL;

	if (!chosen && is_at_rest(dossier, day))
		distances = distances_of(dossier, disease->at_rest);
	if (distances.count == 0)
		distances = distances_of(dossier, disease->distance);
	if (distances.count == 0 && strcmp(disease->name, "Eutypa") == 0)
		distances = distances_of(dossier, "canker-cut-below");
	if (distances.count == 0 && strcmp(disease->name, "canker") == 0) {
		distances = distances_of(dossier, "blight-cut-below");
		if (distances.count > 0 && strstr(distances.rows[0]->text, "canker") == NULL)
			distances.count = 0;
	}
	distances.disease = disease;
	return distances;
}

static const struct disease *disease_in(const struct entry *entry)
{
	for (size_t d = 0; d < sizeof diseases / sizeof diseases[0]; d++)
		for (const char *const *word = diseases[d].words; *word != NULL; word++)
			if (cut_says(entry, *word))
				return &diseases[d];
	return NULL;
}

/* What the cut took out: by its own words, else, of dead and diseased wood, what was seen in the
 * weeks before. */
static struct distances judged_by(
	const struct dossier *dossier, const struct entry *cut, struct date day)
{
	const struct disease *said = disease_in(cut);
	struct distances found = {.count = 0};

	if (said != NULL) {
		found = distances_for(dossier, said, day);
		if (found.count > 0 || entry_cut_kind(cut) != CUT_SANITATION)
			return found;
	}
	for (int32_t i = 0; i < dossier->entry_count; i++) {
		const struct entry *saw = dossier->entries[i];
		struct date at;

		if (entry_cut_kind(cut) != CUT_SANITATION || saw->kind != KIND_SAW ||
			!look_day(saw, &at) || date_compare(at, day) > 0 ||
			date_days_between(at, day) > DISEASE_SEEN_DAYS || disease_in(saw) == NULL)
			continue;
		struct distances seen = distances_for(dossier, disease_in(saw), day);
		if (seen.count > 0)
			found = seen;
	}
	return found;
}

/* In leaf: evergreens always; else from bloom until the weeks of tender regrowth are over. */
static bool is_growing(const struct dossier *dossier, struct date day)
{
	struct window bloom = dossier_window(dossier, WINDOW_BLOOM, day);
	struct window late = dossier_window(dossier, WINDOW_REGROWTH, day);

	if (dossier->kind.species->evergreen)
		return true;
	return bloom.known && late.known && !is_at_rest(dossier, day);
}

/* What was wrong with the cut. */
struct wrong {
	bool below_all;  /* shorter than any source says */
	bool below_some; /* shorter than one says */
	bool unsaid;     /* no distance logged */
	bool dirty;
	bool wet;
	bool growing;
};

static struct wrong wrong_with(const struct dossier *dossier, const struct entry *cut,
	const struct distances *distances, struct date day)
{
	const struct amount *below = entry_amount(cut, FIELD_BELOW_SIGN);
	const char *tools = entry_detail(cut, FIELD_TOOLS_CLEANED);
	struct wrong wrong = {.growing = is_growing(dossier, day)};

	wrong.unsaid = below == NULL || !below->low.known;
	wrong.below_all = !wrong.unsaid && below->low.value < distances->least_um;
	wrong.below_some =
		!wrong.unsaid && !wrong.below_all && below->low.value < distances->strictest_um;
	wrong.dirty = wrong.growing && strcmp(tools, "no") == 0 &&
		      species_fact(dossier->kind.species, distances->disease->tools) != NULL;
	wrong.wet = wrong.growing && cut_first_rain(dossier, day, day).known;
	return wrong;
}

/* Inches were published: in metres a whole centimetre says as much. */
static int64_t as_told(int64_t length_um, enum unit_system units)
{
	enum { CENTIMETRE_UM = 10000 };
	bool inches = units == UNITS_US;

	return inches ? length_um : (length_um + CENTIMETRE_UM / 2) / CENTIMETRE_UM * CENTIMETRE_UM;
}

/* "8 to 12 in (California), 12 in (New York)" */
static void say_distances(
	const struct dossier *dossier, const struct distances *distances, char *out, size_t size)
{
	enum unit_system units = dossier->place->units;
	struct text_builder words = text_builder_fixed(out, size);

	text_add(&words, "");
	for (int32_t i = 0; i < distances->count; i++) {
		const struct fact_row *row = distances->rows[i];
		char low[32], high[32];
		bool span = row->high.known && row->high.value > row->low.value;
		bool from_memory = !look_may_alarm(row->sure);

		length_format(as_told(row->low.value, units), units, low, sizeof low);
		if (span && strrchr(low, ' ') != NULL)
			*strrchr(low, ' ') = '\0';
		text_add_format(&words, "%s%s%s%s", i > 0 ? ", " : "", low, span ? " to " : "",
			span ? length_format(
				       as_told(row->high.value, units), units, high, sizeof high)
			     : "");
		if (row->said_by->region[0] != '\0' || from_memory)
			text_add_format(&words, " (%s%s%s)", row->said_by->region,
				row->said_by->region[0] != '\0' && from_memory ? ", " : "",
				from_memory ? "from memory" : "");
	}
}

static void say_wrong(const struct dossier *dossier, const struct entry *cut,
	const struct distances *distances, const struct wrong *wrong, struct flag *flag)
{
	const struct amount *below = entry_amount(cut, FIELD_BELOW_SIGN);
	struct text_builder says = text_builder_fixed(flag->says, sizeof flag->says);
	char name[CUT_NAME_SIZE], far[200], done[32];

	say_distances(dossier, distances, far, sizeof far);
	text_add_format(
		&says, "The %s for %s", cut_name(cut, name, sizeof name), distances->disease->name);
	if (wrong->unsaid)
		text_add_format(
			&says, ": how far below the last sign is not said; cut %s below", far);
	else
		text_add_format(&says, " %s %s below the last sign; %s",
			cut->asked ? "would go" : "went",
			below->typed[0] != '\0' ? below->typed
						: length_format(below->low.value,
							  dossier->place->units, done, sizeof done),
			wrong->below_all
				? (distances->count > 1 ? "sources say " : "the advice is ")
			: wrong->below_some ? "sources differ: "
					    : "far enough");
	if (wrong->below_all || wrong->below_some)
		text_add(&says, far);
	text_add(&says, wrong->dirty ? "; tools were not cleaned while the tree grows" : "");
	text_add(&says, wrong->wet ? "; and rain carries it into the wounds" : "");
	text_add(&says, ".");
}

/* clang-format off */
static const char *const strong_cleaner[] = {"bleach", "Of bleach: never mix anything else in; alcohol is kinder to tools. "};
/* clang-format on */

static void say_what_to_do(const struct dossier *dossier, const struct entry *cut,
	const struct distances *distances, const struct wrong *wrong, struct flag *flag)
{
	const struct disease *disease = distances->disease;
	struct text_builder action = text_builder_fixed(flag->action, sizeof flag->action);

	text_add(&action, !wrong->below_all ? ""
			  : cut->asked      ? "Cut further down, on a dry day. "
					    : "Cut again, further down, on a dry day. ");
	if (wrong->below_some)
		text_add(&action,
			"Look again in two weeks. Say whose distance you follow (own choice "
			"blight-cut-short SOURCE). ");
	bool tools = wrong->dirty || wrong->growing;
	bool by_hand = tools && species_fact(dossier->kind.species, disease->feed) != NULL;

	if (tools)
		text_add_format(&action, "Wipe the blade with 70 %% alcohol before each cut%s. ",
			by_hand ? ", or break soft shoots off by hand" : "");
	if (look_tells(cut, strong_cleaner[0]))
		text_add(&action, strong_cleaner[1]);
	text_add(&action, strcmp(disease->name, "black knot") == 0
				  ? "Burn or bag the knots, where burning is allowed."
				  : "Bag, bin or, where it is allowed, burn what came off, none of "
				    "it on the compost.");
	text_add(&action, by_hand ? " Give no nitrogen meanwhile." : "");
}

/* "; short by 3 to 9 in": the cut as logged against one row. */
static void say_short_by(const struct dossier *dossier, const struct entry *cut,
	const struct fact_row *row, char *out, size_t size)
{
	const struct amount *below = entry_amount(cut, FIELD_BELOW_SIGN);
	enum unit_system units = dossier->place->units;
	struct text_builder words = text_builder_fixed(out, size);
	char least[32], most[32];

	text_add(&words, "");
	if (below == NULL || !below->low.known)
		return;
	int64_t top = row->high.known ? row->high.value : row->low.value;
	int64_t most_um = top - below->low.value;
	int64_t least_um =
		row->low.value - (below->high.known ? below->high.value : below->low.value);
	if (least_um <= 0)
		return;
	length_format(as_told(least_um, units), units, least, sizeof least);
	length_format(as_told(most_um, units), units, most, sizeof most);
	if (least_um == most_um) {
		text_add_format(&words, "; short by %s", most);
		return;
	}
	least[strcspn(least, " ")] = '\0';
	text_add_format(&words, "; short by %s to %s", least, most);
}

/* What is said of tools and of feeding while it is about, with whose word it is. */
static void tell_care(const struct dossier *dossier, const struct disease *disease,
	struct flags *out, struct flag *flag)
{
	const struct species *species = dossier->kind.species;

	for (int32_t i = 0; i < species->fact_count; i++) {
		const struct fact_row *row = &species->facts[i];
		bool tools = strcmp(row->key, disease->tools) == 0;

		if (tools || strcmp(row->key, disease->feed) == 0)
			flag_evidence(out, flag, "%s: %s; %s", tools ? "tools" : "feeding",
				row->text, row->said_by->title);
	}
}

/* The rows of one key as evidence, their sources added to a list; how many there are. */
static int32_t tell_rows(const struct dossier *dossier, const struct entry *cut, const char *key,
	struct text_builder *sources, struct flags *out, struct flag *flag)
{
	const struct species *species = dossier->kind.species;
	char far[200], less[80];
	int32_t count = 0;

	for (int32_t i = 0; i < species->fact_count; i++) {
		const struct fact_row *row = &species->facts[i];
		const struct distances one = {.rows = {row}, .count = 1};

		if (strcmp(row->key, key) != 0 || !row->low.known)
			continue;
		say_distances(dossier, &one, far, sizeof far);
		say_short_by(dossier, cut, row, less, sizeof less);
		flag_evidence(out, flag, "%s: %s%s; %s", far, row->text, less, row->said_by->title);
		text_add_format(sources, "%s%s", count++ > 0 ? " or " : "", row->source);
	}
	return count;
}

/* Every distance published for it, whose it is, and how to say whose counts here. In winter those
 * of the other months stand behind its own: some name no month. */
static void tell_distances(const struct dossier *dossier, const struct entry *cut,
	const struct distances *distances, struct flags *out, struct flag *flag)
{
	const char *key = distances->rows[0]->key;
	const char *distance = distances->disease->distance;
	const char *chosen = chosen_for(dossier, key);
	char line[200];
	struct text_builder sources = text_builder_fixed(line, sizeof line);

	text_add(&sources, "");
	int32_t count = tell_rows(dossier, cut, key, &sources, out, flag);
	if (strcmp(key, distances->disease->at_rest) == 0) {
		line[0] = '\0';
		sources = text_builder_fixed(line, sizeof line);
		text_add(&sources, "");
		count = tell_rows(dossier, cut, distance, &sources, out, flag);
	}
	if (chosen != NULL)
		flag_evidence(out, flag,
			"this place follows %s (own choice): own list shows it with the id to "
			"remove it by",
			chosen);
	else if (count > 1)
		flag_evidence(out, flag,
			"to go by one of them here: own choice blight-cut-short %s", line);
}

static void flag_short(const struct dossier *dossier, const struct entry *cut,
	const struct distances *distances, const struct wrong *wrong, struct date today,
	struct flags *out)
{
	struct date day = {0};

	(void)look_day(cut, &day);
	bool harm = wrong->below_all || wrong->dirty || wrong->wet;
	struct flag *flag = flags_add(out, "blight-cut-short", dossier,
		harm ? look_harm_urgency(day, today, distances->sure) : URGENCY_NOTE);
	say_wrong(dossier, cut, distances, wrong, flag);
	say_what_to_do(dossier, cut, distances, wrong, flag);
	flag->began = known_date(day);
	flag->source = distances->rows[0]->source;
	snprintf(flag->basis, sizeof flag->basis, "almanac");
	flag->settles = KIND_CUT;
	snprintf(flag->fills, sizeof flag->fills, "%s cut sanitation ", dossier->tree.label);
	proof_entry(out, flag, "the cut", cut);
	tell_distances(dossier, cut, distances, out, flag);
	if (wrong->growing)
		tell_care(dossier, distances->disease, out, flag);
	flag_key_set(flag, look_work_year(dossier, day), cut->id);
}

const char *cut_below_words(const struct dossier *dossier, const struct entry *seen,
	struct date day, char *out, size_t size)
{
	const struct disease *disease = disease_in(seen);
	struct distances distances = {.count = 0};

	text_copy(out, size, "");
	if (disease != NULL)
		distances = distances_for(dossier, disease, day);
	if (distances.count > 0)
		say_distances(dossier, &distances, out, size);
	return out;
}

/* Cut again since, as far down as all sources say: that settles it. */
static bool is_mended(const struct dossier *dossier, const struct entry *cut,
	const struct distances *distances, struct date day)
{
	for (int32_t i = 0; i < dossier->entry_count; i++) {
		const struct entry *later = dossier->entries[i];
		const struct amount *below = entry_amount(later, FIELD_BELOW_SIGN);
		struct date at;

		if (later != cut && later->kind == KIND_CUT && below != NULL && below->low.known &&
			look_day(later, &at) && date_compare(at, day) >= 0 &&
			below->low.value >= distances->strictest_um)
			return true;
	}
	return false;
}

static void look_at_cut(const struct dossier *dossier, const struct entry *cut, struct date today,
	struct flags *out)
{
	struct date day;

	if (cut->kind != KIND_CUT || entry_cut_kind(cut) == CUT_SUCKER || !look_day(cut, &day) ||
		date_compare(day, today) > 0 || date_days_between(day, today) > BLIGHT_CUT_DAYS ||
		(dossier->host != NULL && strcmp(cut->subject.id, dossier->tree.id) != 0))
		return;
	struct distances distances = judged_by(dossier, cut, day);
	if (distances.count == 0 || is_mended(dossier, cut, &distances, day))
		return;
	struct wrong wrong = wrong_with(dossier, cut, &distances, day);
	bool asks = wrong.unsaid && date_days_between(day, today) <= ACT_DAYS;
	if (wrong.below_all || wrong.below_some || wrong.dirty || wrong.wet || asks)
		flag_short(dossier, cut, &distances, &wrong, today, out);
}

void rule_blight_cut_short(const struct dossier *dossier, struct date today, struct flags *out)
{
	if (dossier->kind.species == NULL)
		return;
	for (int32_t i = 0; i < dossier->entry_count; i++)
		look_at_cut(dossier, dossier->entries[i], today, out);
}
