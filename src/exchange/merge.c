/* SPDX-License-Identifier: MIT */
#include "exchange/merge.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "core/text.h"

struct telling {
	struct session *session;
	struct arena *arena;
	struct merge_told *told;
	int32_t room;
};

static void tell(struct telling *telling, const char *line)
{
	struct merge_told *told = telling->told;

	if (told->line_count == telling->room) {
		size_t size = sizeof told->lines[0];
		int32_t room = telling->room == 0 ? 16 : 2 * telling->room;

		told->lines = arena_grow(telling->arena, told->lines,
			(size_t)told->line_count * size, (size_t)room * size);
		telling->room = room;
	}
	told->lines[told->line_count++] = line;
}

static const char *file_name(const char *path)
{
	const char *slash = strrchr(path, '/');

	return slash == NULL || slash[1] == '\0' ? path : slash + 1;
}

static void add_count(struct text_builder *text, int64_t count, const char *one, const char *many)
{
	if (count == 0)
		return;
	text_add_format(text, "%s%lld %s", text->length > 0 ? ", " : "", (long long)count,
		count == 1 ? one : many);
}

static void tell_sums(struct telling *telling, const char *path)
{
	const struct merge_account *account = &telling->told->account;
	struct text_builder text = text_builder_in(telling->arena);

	text_add(&text, "");
	add_count(&text, account->trees, "new tree", "new trees");
	add_count(&text, account->entries, "new entry", "new entries");
	add_count(&text, account->others, "other new record", "other new records");
	add_count(&text, account->changed, "field changed", "fields changed");
	tell(telling, arena_format(telling->arena, "from %s: %lld act%s%s%s", file_name(path),
			      (long long)account->acts, account->acts == 1 ? "" : "s",
			      text.length > 0 ? "; " : "", text.text));
}

static void tell_notes(struct telling *telling, enum merge_note_kind kind, const char *heading)
{
	const struct merge_account *account = &telling->told->account;

	if (account->counts[kind] == 0)
		return;
	tell(telling, heading);
	for (int32_t i = 0; i < account->note_count; i++)
		if (account->notes[i].kind == kind)
			tell(telling, arena_format(telling->arena, "  %s", account->notes[i].text));
	if (account->counts[kind] > NOTES_EACH)
		tell(telling, arena_format(telling->arena, "  ... and %d more",
				      (int)(account->counts[kind] - NOTES_EACH)));
}

static enum status tell_clash(struct telling *telling, const struct clash *clash, struct fault *why)
{
	tell(telling, arena_format(telling->arena, "  %s", clash->title));
	for (int32_t i = -1; i < clash->side_count; i++) {
		const char *words = clash_words(telling->session, clash, i, telling->arena, why);

		if (words == NULL)
			return why->status;
		if (i < 0)
			tell(telling, arena_format(telling->arena, "     before  %s", words));
		else
			tell(telling,
				arena_format(telling->arena, "     %c  %s (%s)", (char)('a' + i),
					words, clash_whence(&clash->sides[i], telling->arena)));
	}
	return STATUS_OK;
}

static enum status tell_clashes(struct telling *telling, struct store *store, struct fault *why)
{
	struct clash *list = NULL;
	int32_t count = 0;
	enum status status = store_clash_list(store, telling->arena, &list, &count, why);

	telling->told->clash_count = count;
	if (status != STATUS_OK || count == 0)
		return status;
	tell(telling, "changed in both copies; what was before is shown until you pick:");
	for (int32_t i = 0; status == STATUS_OK && i < count && i < NOTES_EACH; i++)
		status = tell_clash(telling, &list[i], why);
	if (count > NOTES_EACH)
		tell(telling, arena_format(telling->arena, "  ... and %d more",
				      (int)(count - NOTES_EACH)));
	return status;
}

static enum status tell_all(struct telling *telling, struct store *store,
	const struct merge_options *options, struct fault *why)
{
	if (telling->told->account.acts == 0) {
		tell(telling,
			arena_format(telling->arena, "%s holds nothing that is not here already",
				file_name(options->path)));
		return STATUS_OK;
	}
	tell_sums(telling, options->path);
	enum status status = tell_clashes(telling, store, why);

	tell_notes(telling, MERGE_NOTE_KEPT,
		"struck in one copy, changed in the other: these stand, strike them again if "
		"need be:");
	tell_notes(telling, MERGE_NOTE_LABEL, "the same label or name more than once, all kept:");
	tell_notes(telling, MERGE_NOTE_DOUBLE,
		"likely typed in both copies, both kept: strike one of each pair:");
	tell_notes(telling, MERGE_NOTE_APART, "said in both copies, both kept:");
	return status;
}

/* --- merging --- */

static enum status merge_into(struct store *store, const struct almanac *almanac,
	struct telling *telling, const struct merge_options *options, struct fault *why)
{
	char what[TEXT_SIZE];

	(void)snprintf(what, sizeof what, "merge %.300s", file_name(options->path));
	enum status status = store_act_begin(store, ACT_MERGE, what, why);
	if (status != STATUS_OK)
		return status;
	status = store_merge(store, options->path, options->unrelated, telling->arena,
		&telling->told->account, why);
	/* seasons are named by what trees are and where they stand; a trial needs no names */
	if (status == STATUS_OK && !options->dry_run && telling->told->account.acts > 0)
		status = yard_put_all_turns(store, almanac, why);
	/* told before it is saved: what cannot be told is not to be there either */
	if (status == STATUS_OK)
		status = tell_all(telling, store, options, why);
	if (status == STATUS_OK)
		status = store_act_commit(store, why);
	if (status != STATUS_OK && store_in_act(store))
		store_act_rollback(store);
	return status;
}

static enum status merge_on_trial(
	struct telling *telling, const struct merge_options *options, struct fault *why)
{
	struct store *trial = NULL;
	struct session *session = telling->session;
	struct store *own = session->store;
	enum status status = store_trial_open(own, &session->clock, &trial, why);

	if (status != STATUS_OK)
		return status;
	session->store = trial; /* names of rows are those of the copy */
	status = merge_into(trial, session->almanac, telling, options, why);
	session->store = own;
	store_trial_close(trial);
	return status;
}

enum status merge_log(struct session *session, const struct merge_options *options,
	struct arena *arena, struct merge_told *out, struct fault *why)
{
	struct telling telling = {.session = session, .arena = arena, .told = out};

	*out = (struct merge_told){.line_count = 0};
	if (options->dry_run)
		return merge_on_trial(&telling, options, why);
	return merge_into(session->store, session->almanac, &telling, options, why);
}

/* --- clashes in words --- */

/* clang-format off */
static const struct {
	const char *field;
	const char *name;
} names[] = {
	{"gone_reason", "why gone"}, {"host_id", "grafted on"}, {"parent_id", "parent"},
	{"over_fence", "over the fence"}, {"is_private", "private"}, {"words", "line"},
	{"subject_id", "of"}, {"season_year", "season"}, {"to_day", "until"}, {"from_day", "from"},
	{"n_mpct", "nitrogen"}, {"p2o5_mpct", "phosphate"}, {"k2o_mpct", "potash"},
	{"flow_ulh", "flow"}, {"typed", ""}, {"value", ""}, {"low_um", ""},
};
static const char *const units[] = {"_um", "_mg", "_ul", "_udeg", "_decic", "_permille", "_mpct", "_id"};
static const char *const yes_or_no[] = {"over_fence", "is_private", "planned", "about", "none"};
/* clang-format on */

const char *clash_field_unit(const char *field)
{
	for (size_t i = 0; i < sizeof units / sizeof units[0]; i++) {
		size_t length = strlen(field), unit = strlen(units[i]);

		if (length > unit && strcmp(field + length - unit, units[i]) == 0)
			return field + length - unit;
	}
	return "";
}

bool clash_field_is_flag(const char *field)
{
	for (size_t i = 0; i < sizeof yes_or_no / sizeof yes_or_no[0]; i++)
		if (strcmp(yes_or_no[i], field) == 0)
			return true;
	return false;
}

static const char *plain_name(const char *field, struct arena *arena)
{
	for (size_t i = 0; i < sizeof names / sizeof names[0]; i++)
		if (strcmp(names[i].field, field) == 0)
			return names[i].name;
	char *name = arena_text_n(arena, field, strlen(field) - strlen(clash_field_unit(field)));
	for (char *at = name; *at != '\0'; at++)
		*at = *at == '_' ? ' ' : *at;
	return name;
}

const char *clash_field_name(const struct clash_field *field, struct arena *arena)
{
	const char *name = plain_name(field->field, arena);

	if (field->part[0] == '\0')
		return name[0] == '\0' ? field->field : name;
	return name[0] == '\0' ? field->part : arena_format(arena, "%s, %s", field->part, name);
}

static int64_t number_of(const char *value)
{
	return strtoll(value, NULL, 10);
}

/* A figure as people read it; NULL: it is none. */
static const char *figure_words(const struct session *session, const struct clash_field *field,
	const char *value, struct arena *arena)
{
	char *room = arena_alloc(arena, 32);
	const char *unit = clash_field_unit(field->field);
	int64_t number = number_of(value);

	if (strcmp(field->field, "struck") == 0)
		return number == 0 ? "stands" : "struck";
	if (clash_field_is_flag(field->field))
		return number == 0 ? "no" : "yes";
	if (strcmp(unit, "_um") == 0)
		return length_format(number, session->units, room, 32);
	if (strcmp(unit, "_mg") == 0)
		return mass_format(number, session->units, room, 32);
	if (strcmp(unit, "_ul") == 0)
		return volume_format(number, &session->numbers, room, 32);
	if (strcmp(unit, "_udeg") == 0)
		return arena_format(arena, "%.6f", (double)number / 1e6);
	if (strcmp(unit, "_permille") == 0)
		return arena_format(arena, "%.1f %%", (double)number / 10.0);
	if (strcmp(unit, "_mpct") == 0)
		return arena_format(arena, "%.3f %%", (double)number / 1000.0);
	if (strcmp(unit, "_decic") == 0 && strcmp(field->field, "offset_decic") != 0)
		return temperature_format((int32_t)number, session->units, room, 32);
	return NULL;
}

const char *clash_value_words(struct session *session, const struct clash_field *field,
	const char *value, struct arena *arena, struct fault *why)
{
	char name[TEXT_SIZE];

	if (value == NULL || value[0] == '\0')
		return "nothing";
	if (strcmp(clash_field_unit(field->field), "_id") == 0) {
		if (store_row_name(session->store, value, name, why) != STATUS_OK)
			return NULL;
		return arena_text(arena, name);
	}
	const char *figure = figure_words(session, field, value, arena);
	return figure != NULL ? figure : value;
}

const char *clash_words(struct session *session, const struct clash *clash, int32_t side,
	struct arena *arena, struct fault *why)
{
	struct text_builder text = text_builder_in(arena);

	text_add(&text, "");
	for (int32_t i = 0; i < clash->field_count; i++) {
		const struct clash_field *field = &clash->fields[i];
		const char *value = clash_value_words(
			session, field, side < 0 ? field->before : field->values[side], arena, why);

		if (value == NULL)
			return NULL;
		text_add_format(&text, "%s%s: %s", i == 0 ? "" : "; ",
			clash_field_name(field, arena), value);
	}
	return text.text;
}

const char *clash_whence(const struct clash_side *side, struct arena *arena)
{
	if (side->is_own)
		return arena_format(arena, "typed %.10s here", side->typed_at);
	if (side->device[0] == '\0')
		return arena_format(arena, "typed %.10s in another copy", side->typed_at);
	return arena_format(
		arena, "typed %.10s in another copy, on %s", side->typed_at, side->device);
}
