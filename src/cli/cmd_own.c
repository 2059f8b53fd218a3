/* SPDX-License-Identifier: MIT */
/* own: windows, rates and choices of the grower's own, for a tree or a kind here. */
#include <stdio.h>
#include <string.h>

#include "acts.h"
#include "core/text.h"
#include "rules/choice.h"

/* Whom it is for: a tree's label, else a kind of the almanac. */
static enum status whom(struct call *call, const char *name, char tree_id[ID_SIZE],
	char species[KEY_SIZE], struct fault *why)
{
	const struct species *found[4];
	struct tree tree;

	tree_id[0] = species[0] = '\0';
	if (call_tree(call, name, &tree, NULL) == STATUS_OK) {
		text_copy(tree_id, ID_SIZE, tree.id);
		return STATUS_OK;
	}
	int32_t count = almanac_find_species(call->session->almanac, name, found, 4);
	if (count > 1)
		return fault_set(why, STATUS_DOUBT, "'%s' could be %s or %s", name, found[0]->name,
			found[1]->name);
	if (count == 0)
		return fault_set(why, STATUS_ABSENT,
			"'%s' is neither a tree's label nor a kind of "
			"the almanac",
			name);
	text_copy(species, KEY_SIZE, found[0]->key);
	return STATUS_OK;
}

static enum status own_end(struct call *call, enum status status, struct fault *why)
{
	status = act_end(call, status, why);
	if (status == STATUS_OK)
		call_say(call, "kept: %s; 'own list' shows it with the id to remove it by",
			call_line(call, 0));
	return status;
}

static enum status own_window(struct call *call, struct fault *why)
{
	struct own_window window = {0};
	enum status status = call_want(call, 5, 5, why);

	if (status == STATUS_OK)
		status = whom(call, call->words[1], window.tree_id, window.species, why);
	if (status != STATUS_OK)
		return status;
	if (window_of_key(call->words[2]) == WINDOW_TOTAL)
		return fault_set(why, STATUS_SYNTAX,
			"'%s' is not a window: bloom, harvest, cut-clear, cut-avoid, feed-clear, "
			"feed-avoid or thinning",
			call->words[2]);
	text_copy(window.window, sizeof window.window, call->words[2]);
	status = month_day_parse(call->words[3], &window.from, why);
	if (status == STATUS_OK)
		status = month_day_parse(call->words[4], &window.to, why);
	if (status == STATUS_OK)
		status = act_begin(call, call_line(call, 0), why);
	if (status != STATUS_OK)
		return status;
	status = store_own_window_add(call->session->store, &window, why);
	if (status == STATUS_OK)
		status = yard_put_all_turns(call->session->store, call->session->almanac, why);
	return own_end(call, status, why);
}

static enum status own_rate(struct call *call, struct fault *why)
{
	struct own_rate rate = {0};
	const char *per = call_option(call, "per");
	enum status status = call_want(call, 3, 3, why);

	if (status != STATUS_OK)
		return status;
	if (per == NULL || (strcmp(per, "inch") != 0 && strcmp(per, "year-of-age") != 0 &&
				   strcmp(per, "feed") != 0 && strcmp(per, "year") != 0))
		return fault_set(
			why, STATUS_SYNTAX, "a rate wants --per inch, year-of-age, feed or year");
	text_copy(rate.per, sizeof rate.per, per);
	status = whom(call, call->words[1], rate.tree_id, rate.species, why);
	if (status == STATUS_OK)
		status =
			mass_parse(call->words[2], &call->session->numbers, &rate.nitrogen_mg, why);
	if (status == STATUS_OK)
		status = act_begin(call, call_line(call, 0), why);
	if (status != STATUS_OK)
		return status;
	return own_end(call, store_own_rate_add(call->session->store, &rate, why), why);
}

enum { SOURCES_MAX = 96 };

/* Keys of sources that have rows for a rule: of the kinds that stand here, else of all. */
struct source_keys {
	const char *keys[SOURCES_MAX];
	int32_t count;
};

static void add_sources(
	struct source_keys *sources, const char *rule, const struct species *species)
{
	int32_t count =
		rule_choice_sources(rule, species, sources->keys, sources->count, SOURCES_MAX);

	sources->count = count < SOURCES_MAX ? count : SOURCES_MAX;
}

static enum status sources_here(
	struct call *call, const char *rule, struct source_keys *sources, struct fault *why)
{
	struct identity *opinions = NULL;
	int32_t count = 0;
	enum status status = store_identity_list(
		call->session->store, NULL, call->arena, &opinions, &count, why);

	for (int32_t i = 0; status == STATUS_OK && i < count; i++) {
		const struct species *species =
			opinions[i].is_cultivar
				? NULL
				: almanac_species(call->session->almanac, opinions[i].name);

		if (species != NULL)
			add_sources(sources, rule, species);
	}
	return status;
}

/* Refuses a source that has no row for the rule, and names those that have one. */
static enum status check_source(struct call *call, const struct choice *choice, struct fault *why)
{
	const struct almanac *almanac = call->session->almanac;
	struct source_keys all = {.count = 0}, here = {.count = 0};
	char line[FAULT_TEXT_SIZE - 160];
	struct text_builder words = text_builder_fixed(line, sizeof line);

	for (int32_t i = 0; i < almanac_species_count(almanac); i++)
		add_sources(&all, choice->rule, almanac_species_at(almanac, i));
	for (int32_t i = 0; i < all.count; i++)
		if (strcmp(all.keys[i], choice->source) == 0)
			return STATUS_OK;
	enum status status = sources_here(call, choice->rule, &here, why);
	if (status != STATUS_OK)
		return status;
	const struct source_keys *named = here.count > 0 ? &here : &all;
	text_add(&words, "");
	for (int32_t i = 0; i < named->count; i++)
		if (strlen(line) + strlen(named->keys[i]) + 3 < sizeof line)
			text_add_format(&words, "%s%s", i > 0 ? ", " : "", named->keys[i]);
	return fault_set(why, STATUS_ABSENT, "'%s' has no row that %s could go by; %s: %s",
		choice->source, choice->rule, here.count > 0 ? "for the kinds here" : "these have",
		line);
}

static enum status own_choice(struct call *call, struct fault *why)
{
	struct choice choice = {0};
	char rules[160];
	enum status status = call_want(call, 3, 3, why);

	if (status != STATUS_OK)
		return status;
	if (rule_find(call->words[1]) == NULL)
		return fault_set(why, STATUS_ABSENT, "no rule '%s'; 'boughbook rules' lists them",
			call->words[1]);
	if (!rule_takes_choice(call->words[1]))
		return fault_set(why, STATUS_RANGE,
			"sources do not differ on %s; a choice is for: %s", call->words[1],
			rule_choice_rules(rules, sizeof rules));
	text_copy(choice.rule, sizeof choice.rule, call->words[1]);
	text_copy(choice.source, sizeof choice.source, call->words[2]);
	status = check_source(call, &choice, why);
	if (status == STATUS_OK)
		status = act_begin(call, call_line(call, 0), why);
	if (status != STATUS_OK)
		return status;
	return own_end(call, store_choice_add(call->session->store, &choice, why), why);
}

/* What everything of the grower's own is, for list and remove. */
struct owned {
	struct own_window *windows;
	struct own_rate *rates;
	struct choice *choices;
	int32_t window_count, rate_count, choice_count;
};

static enum status load_owned(struct call *call, struct owned *owned, struct fault *why)
{
	struct store *store = call->session->store;
	enum status status = store_own_window_list(
		store, call->arena, &owned->windows, &owned->window_count, why);

	if (status == STATUS_OK)
		status = store_own_rate_list(
			store, call->arena, &owned->rates, &owned->rate_count, why);
	if (status == STATUS_OK)
		status = store_choice_list(
			store, call->arena, &owned->choices, &owned->choice_count, why);
	return status;
}

static const char *whose(struct call *call, const char *tree_id, const char *species)
{
	struct tree tree;

	if (tree_id[0] != '\0' &&
		store_tree_load(call->session->store, tree_id, &tree, NULL) == STATUS_OK)
		return arena_text(call->arena, tree.label);
	return species;
}

static const char *const own_keys[] = {"id", "what", "subject", "window", "from", "to",
	"nitrogen_g", "per", "rule", "source", NULL};

struct own_row {
	const char *id, *what, *subject, *window, *per, *rule, *source;
	char from[8], to[8];
	struct maybe_i64 nitrogen_mg;
};

static void put_own_row(struct rows *rows, const struct own_row *row)
{
	rows_text(rows, row->id);
	rows_text(rows, row->what);
	rows_text(rows, row->subject);
	rows_text(rows, row->window);
	rows_text(rows, row->from);
	rows_text(rows, row->to);
	rows_grams(rows, row->nitrogen_mg);
	rows_text(rows, row->per);
	rows_text(rows, row->rule);
	rows_text(rows, row->source);
}

static enum status own_rows(struct call *call, const struct owned *owned, struct fault *why)
{
	struct rows rows = rows_begin(&call->printer, own_keys);

	for (int32_t i = 0; i < owned->window_count; i++) {
		const struct own_window *window = &owned->windows[i];
		struct own_row row = {.id = window->id,
			.what = "window",
			.subject = whose(call, window->tree_id, window->species),
			.window = window->window};

		snprintf(row.from, sizeof row.from, "%02d-%02d", window->from.month % 100,
			window->from.day % 100);
		snprintf(row.to, sizeof row.to, "%02d-%02d", window->to.month % 100,
			window->to.day % 100);
		put_own_row(&rows, &row);
	}
	for (int32_t i = 0; i < owned->rate_count; i++) {
		const struct own_rate *rate = &owned->rates[i];
		struct own_row row = {.id = rate->id,
			.what = "rate",
			.subject = whose(call, rate->tree_id, rate->species),
			.nitrogen_mg = known_i64(rate->nitrogen_mg),
			.per = rate->per};

		put_own_row(&rows, &row);
	}
	for (int32_t i = 0; i < owned->choice_count; i++) {
		struct own_row row = {.id = owned->choices[i].id,
			.what = "choice",
			.rule = owned->choices[i].rule,
			.source = owned->choices[i].source};

		put_own_row(&rows, &row);
	}
	return rows_end(&rows, why);
}

static enum status own_list(struct call *call, const struct owned *owned)
{
	char mass[32];

	for (int32_t i = 0; i < owned->window_count; i++) {
		const struct own_window *window = &owned->windows[i];

		call_say(call, "%s  window %s %s %02d-%02d %02d-%02d", window->id,
			whose(call, window->tree_id, window->species), window->window,
			window->from.month, window->from.day, window->to.month, window->to.day);
	}
	for (int32_t i = 0; i < owned->rate_count; i++) {
		const struct own_rate *rate = &owned->rates[i];

		call_say(call, "%s  rate %s %s of N per %s", rate->id,
			whose(call, rate->tree_id, rate->species),
			mass_format(rate->nitrogen_mg, call->session->units, mass, sizeof mass),
			rate->per);
	}
	for (int32_t i = 0; i < owned->choice_count; i++) {
		const struct choice *choice = &owned->choices[i];
		const char *title = source_title(call->session->almanac, choice->source);

		call_say(call, "%s  choice %s: %s%s%s", choice->id, choice->rule, choice->source,
			title != choice->source ? ", " : "", title != choice->source ? title : "");
	}
	return STATUS_OK;
}

static const char *table_of(const struct owned *owned, const char *id)
{
	for (int32_t i = 0; i < owned->window_count; i++)
		if (strcmp(owned->windows[i].id, id) == 0)
			return "own_window";
	for (int32_t i = 0; i < owned->rate_count; i++)
		if (strcmp(owned->rates[i].id, id) == 0)
			return "own_rate";
	for (int32_t i = 0; i < owned->choice_count; i++)
		if (strcmp(owned->choices[i].id, id) == 0)
			return "choice";
	return NULL;
}

static enum status own_remove(struct call *call, const struct owned *owned, struct fault *why)
{
	const char *table = table_of(owned, call->words[1]);

	if (table == NULL)
		return fault_set(why, STATUS_ABSENT,
			"nothing of your own has the id '%s'; 'own list' shows them",
			call->words[1]);
	enum status status = act_begin(call, call_line(call, 0), why);
	if (status != STATUS_OK)
		return status;
	status = store_row_strike(call->session->store, table, call->words[1], why);
	if (status == STATUS_OK && strcmp(table, "own_window") == 0)
		status = yard_put_all_turns(call->session->store, call->session->almanac, why);
	status = act_end(call, status, why);
	if (status == STATUS_OK)
		call_say(call, "removed: %s", call->words[1]);
	return status;
}

enum status cmd_own(struct call *call, int *exit_status, struct fault *why)
{
	struct owned owned = {0};
	(void)exit_status;

	if (call_word_is(call, 0, "window"))
		return own_window(call, why);
	if (call_word_is(call, 0, "rate"))
		return own_rate(call, why);
	if (call_word_is(call, 0, "choice"))
		return own_choice(call, why);
	enum status status = load_owned(call, &owned, why);
	if (status != STATUS_OK)
		return status;
	if (call->word_count == 1 && call_word_is(call, 0, "list"))
		return wants_rows(call) ? own_rows(call, &owned, why) : own_list(call, &owned);
	if (call->word_count == 2 && call_word_is(call, 0, "remove"))
		return own_remove(call, &owned, why);
	return call_usage(call, why);
}
