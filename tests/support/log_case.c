/* SPDX-License-Identifier: MIT */
#include "support/log_case.h"

#include <ctype.h>
#include <stdlib.h>

#include "core/text.h"
#include "rules/rule.h"

enum { LINE_TEXT_SIZE = 4000, NAME_TEXT_SIZE = 120 };

void log_case_place(enum log_place place, bool south, struct place *out)
{
	static const struct {
		enum wet_season wet;
		enum winter_kind winter;
	} seasons[] = {
		[AT_WET_WINTER] = {WET_WINTER, WINTER_MILD},
		[AT_WET_HARD] = {WET_WINTER, WINTER_HARD},
		[AT_COOL] = {WET_ALL, WINTER_FROSTY},
		[AT_CONTINENTAL] = {WET_SUMMER, WINTER_HARD},
		[AT_HUMID] = {WET_SUMMER, WINTER_MILD},
		[AT_LITTLE] = {WET_LITTLE, WINTER_MILD},
		[AT_UNSAID] = {WET_UNKNOWN, WINTER_UNKNOWN},
		[AT_NOWHERE] = {WET_UNKNOWN, WINTER_UNKNOWN},
		[AT_TROPICS] = {WET_SUMMER, WINTER_MILD},
	};
	*out = (struct place){
		.wet = seasons[place].wet,
		.winter = seasons[place].winter,
		.hemisphere = south ? HEMISPHERE_SOUTH : HEMISPHERE_NORTH,
	};
	if (place == AT_NOWHERE)
		out->hemisphere = HEMISPHERE_UNKNOWN;
	if (place == AT_TROPICS) {
		out->latitude_udeg = known_i32(south ? -9000000 : 9000000);
		out->longitude_udeg = known_i32(0);
	}
}

/* --- half a year on --- */

static bool digits_at(const char *text, int count)
{
	for (int i = 0; i < count; i++)
		if (!isdigit((unsigned char)text[i]))
			return false;
	return true;
}

/* How long the ISO day or year-month at the start of text is; 0 none. */
static int iso_length(const char *text)
{
	if (!digits_at(text, 4) || text[4] != '-' || !digits_at(text + 5, 2))
		return 0;
	return text[7] == '-' && digits_at(text + 8, 2) ? 10 : 7;
}

static void turn_day(const char *text, int length, struct text_builder *out)
{
	int year = (int)strtol(text, NULL, 10);
	int month = (int)strtol(text + 5, NULL, 10) + 6;
	int day = length == 10 ? (int)strtol(text + 8, NULL, 10) : 0;

	if (month > 12) {
		month -= 12;
		year++;
	}
	if (day > date_days_in_month(year, month))
		day = date_days_in_month(year, month);
	text_add_format(out, "%04d-%02d", year, month);
	if (length == 10)
		text_add_format(out, "-%02d", day);
}

const char *log_case_turn(const char *text, bool south, char *out, size_t size)
{
	struct text_builder turned = text_builder_fixed(out, size);
	bool in_number = false;

	text_add(&turned, "");
	while (*text != '\0') {
		int length = south && !in_number ? iso_length(text) : 0;

		in_number = isdigit((unsigned char)*text) != 0;
		if (length > 0)
			turn_day(text, length, &turned);
		else
			text_add_n(&turned, text, 1);
		text += length > 0 ? length : 1;
	}
	assert_false(turned.cut);
	return out;
}

/* --- the log --- */

static void plant(struct garden *garden, char *words)
{
	char *rest = NULL;
	const char *label = strtok_r(words, " ", &rest);
	char *kind = strtok_r(NULL, " ", &rest);
	const char *planted = strtok_r(NULL, " ", &rest);

	assert_non_null(planted);
	for (char *blank = strchr(kind, '_'); blank != NULL; blank = strchr(blank, '_'))
		*blank = ' ';
	garden_tree(garden, label, strcmp(kind, "-") == 0 ? "" : kind,
		strcmp(planted, "-") == 0 ? "" : planted, "");
}

void log_case_make(struct garden *garden, const struct log_case *one, bool south)
{
	struct place place;
	char words[LINE_TEXT_SIZE];
	char today[32];
	char *rest = NULL;

	log_case_place(one->place, south, &place);
	south = south && !one->as_written;
	garden_make_at(garden, &place, log_case_turn(one->today, south, today, sizeof today));
	log_case_turn(one->trees, south, words, sizeof words);
	for (char *tree = strtok_r(words, ";", &rest); tree != NULL;
		tree = strtok_r(NULL, ";", &rest))
		plant(garden, tree);
	log_case_turn(one->lines, south, words, sizeof words);
	for (char *line = strtok_r(words, "|", &rest); line != NULL;
		line = strtok_r(NULL, "|", &rest))
		garden_log(garden, text_trim_in_place(line));
}

/* --- what the rules say --- */

struct looking {
	struct flags flags;
	struct date today;
};

static enum status look_at_tree(void *owner, const struct dossier *dossier, struct fault *why)
{
	struct looking *looking = owner;

	(void)why;
	rules_look(dossier, looking->today, &looking->flags);
	/* the dossier lives only for the visit: what flags point at must not be of it */
	for (int32_t i = 0; i < looking->flags.count; i++)
		looking->flags.items[i].source =
			arena_text(looking->flags.arena, looking->flags.items[i].source);
	return STATUS_OK;
}

struct flags log_case_flags(struct garden *garden)
{
	struct fault why = {0};
	struct looking looking = {.flags.arena = garden->arena, .today = yard_today(garden->yard)};
	const struct yard_visitor visitor = {.owner = &looking, .visit = look_at_tree};

	check_ok(yard_each(garden->yard, true, &visitor, &why), &why);
	flags_sort(&looking.flags);
	return looking.flags;
}

struct flags log_case_try(struct garden *garden, const char *label, const char *line)
{
	struct fault why = {0};
	struct line_context context = yard_line_context(garden->yard, &garden->names);
	struct reading reading = {.line_count = 0};
	struct flags flags = {.arena = garden->arena};
	struct tree tree = garden_find(garden, label);
	const struct dossier *dossier = NULL;

	check_ok(line_read(line, &context, garden->arena, &reading, NULL, &why), &why);
	struct entry entry = reading.draft;
	entry.asked = true;
	snprintf(entry.typed_at, sizeof entry.typed_at, "9999"); /* the last of its day */
	snprintf(entry.id, sizeof entry.id, "tried");
	entry.subject.kind = SUBJECT_TREE;
	snprintf(entry.subject.id, sizeof entry.subject.id, "%s", tree.id);
	struct date day = yard_today(garden->yard);
	if (entry.day.low.known && date_compare(entry.day.low.value, day) > 0)
		day = entry.day.low.value;
	check_ok(yard_dossier_with_in(
			 garden->yard, tree.id, &entry, day, garden->arena, &dossier, &why),
		&why);
	rules_look(dossier, day, &flags);
	flags_sort(&flags);
	return flags;
}

const struct flag *log_case_find(const struct flags *flags, const char *rule)
{
	for (int32_t i = 0; i < flags->count; i++)
		if (strcmp(flags->items[i].rule, rule) == 0)
			return &flags->items[i];
	return NULL;
}

int32_t log_case_count(const struct flags *flags, const char *rule)
{
	int32_t count = 0;

	for (int32_t i = 0; i < flags->count; i++)
		count += strcmp(flags->items[i].rule, rule) == 0;
	return count;
}

/* --- words --- */

static bool ends_as_a_sentence(const char *text)
{
	size_t length = strlen(text);

	return length == 0 || strchr(".!?", text[length - 1]) != NULL;
}

void log_case_check_words(const struct flag *flag)
{
	const struct rule *rule = rule_find(flag->rule);

	assert_non_null(rule);
	check_int(flag->urgency >= rule->max_urgency, true, flag->says);
	check_int(
		flag->says[0] != '\0' && strlen(flag->says) < FLAG_SAYS_SIZE - 1, true, flag->says);
	check_int(strlen(flag->action) < FLAG_SAYS_SIZE - 1, true, flag->action);
	if (flag->fact[0] != '\0')
		return; /* "girth not known: 2 trees" */
	check_int(ends_as_a_sentence(flag->says), true, flag->says);
	check_int(ends_as_a_sentence(flag->action), true, flag->action);
	check_int(flag->says[0] >= 'a' && flag->says[0] <= 'z', false, flag->says);
	check_int(flag->action[0] >= 'a' && flag->action[0] <= 'z', false, flag->action);
	check_int(strstr(flag->says, "  ") == NULL, true, flag->says);
	check_int(strstr(flag->action, "..") == NULL, true, flag->action);
}

/* --- why --- */

bool log_case_proves(const struct flag *flag, const char *words)
{
	for (int32_t i = 0; i < flag->evidence_count; i++)
		if (strstr(flag->evidence[i], words) != NULL)
			return true;
	return false;
}

static bool tells(const struct flag *flag, const char *words)
{
	return strstr(flag->says, words) != NULL || strstr(flag->action, words) != NULL ||
	       log_case_proves(flag, words);
}

/* By its day, and by what was typed up to the day or the note. */
static void check_entry_told(struct garden *garden, const struct flag *flag, const char *id)
{
	struct fault why = {0};
	struct entry entry;
	char day[80], words[LINE_TEXT_SIZE];

	if (strcmp(id, "tried") == 0)
		return;
	check_ok(store_entry_load(garden->store, id, garden->arena, &entry, &why), &why);
	date_span_format_plain(&entry.day, day, sizeof day);
	snprintf(words, sizeof words, "%s", entry.words);
	words[strcspn(words, ";")] = '\0';
	char *at = strstr(words, " @ ");
	if (at != NULL)
		*at = '\0';
	text_trim_in_place(words);
	for (int32_t i = 0; i < flag->evidence_count; i++)
		if (strstr(flag->evidence[i], day) != NULL &&
			strstr(flag->evidence[i], words) != NULL)
			return;
	fail_msg("%s: no evidence names \"%s\" of %s", flag->rule, words, day);
}

/* "1 to 30 May 2026", or its two days. */
static void check_window_told(const struct flag *flag)
{
	const char *const whose[] = {
		"almanac", "your ", "you ", "set by hand", "stored weather", "logged"};
	const struct date_span span =
		date_span_between(flag->window_from.value, flag->window_to.value);
	char words[80], from[24], to[24];
	bool known = false;

	for (size_t i = 0; i < sizeof whose / sizeof whose[0]; i++)
		known = known || strstr(flag->basis, whose[i]) != NULL;
	if (!known)
		fail_msg("%s: whose window it is: \"%s\"", flag->rule, flag->basis);
	if (tells(flag, date_span_format_plain(&span, words, sizeof words)))
		return;
	if (!tells(flag, date_format_plain(flag->window_from.value, from, sizeof from)) ||
		!tells(flag, date_format_plain(flag->window_to.value, to, sizeof to)))
		fail_msg("%s does not tell its window, %s", flag->rule, words);
}

void log_case_check_why(struct garden *garden, const struct flag *flag)
{
	check_int(flag->source != NULL && flag->source[0] != '\0', true, flag->rule);
	for (int32_t i = 0; i < flag->entry_count; i++)
		check_entry_told(garden, flag, flag->entries[i]);
	if (flag->window_from.known && flag->window_to.known)
		check_window_told(flag);
}

/* --- cases --- */

struct sided {
	char name[NAME_TEXT_SIZE];
	const struct log_case *one;
	bool south;
};

static void check_case(struct garden *garden, const struct log_case *one)
{
	struct flags flags = log_case_flags(garden);
	char got[200];
	struct text_builder urgencies = text_builder_fixed(got, sizeof got);

	text_add(&urgencies, "");
	for (int32_t i = 0; i < flags.count; i++) {
		const struct flag *flag = &flags.items[i];

		log_case_check_words(flag);
		log_case_check_why(garden, flag);
		if (strcmp(flag->rule, one->rule) == 0)
			text_add_format(&urgencies, "%s%s", got[0] != '\0' ? " " : "",
				urgency_key(flag->urgency));
	}
	check_text(got, one->want, one->rule);
	const struct flag *first = log_case_find(&flags, one->rule);
	for (size_t i = 0; i < 3 && one->says[i] != NULL; i++) {
		char both[2 * FLAG_SAYS_SIZE];

		snprintf(both, sizeof both, "%s %s", first->says, first->action);
		check_has(both, one->says[i], one->rule);
	}
}

static void run_sided(void **state)
{
	const struct sided *sided = *state;
	struct garden garden;

	log_case_make(&garden, sided->one, sided->south);
	check_case(&garden, sided->one);
	garden_free(&garden);
}

int log_cases(const char *group, const struct log_case *cases, size_t count)
{
	struct sided *sided = calloc(2 * count, sizeof *sided);
	struct CMUnitTest *tests = calloc(2 * count, sizeof *tests);
	size_t made = 0;

	for (size_t i = 0; sided != NULL && tests != NULL && i < 2 * count; i++) {
		const struct log_case *one = &cases[i / 2];

		if (i % 2 == 1 && one->once)
			continue;
		sided[made] = (struct sided){.one = one, .south = i % 2 == 1};
		snprintf(sided[made].name, sizeof sided[made].name, "%s%s", one->name,
			sided[made].south ? "_in_the_south" : "");
		tests[made] = (struct CMUnitTest){.name = sided[made].name,
			.test_func = run_sided,
			.initial_state = &sided[made]};
		made++;
	}
	int failed = _cmocka_run_group_tests(group, tests, made, NULL, NULL);
	free(tests);
	free(sided);
	return failed;
}
