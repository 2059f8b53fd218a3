/* SPDX-License-Identifier: MIT */
/* What two copies changed both, settled: by a side, or by what the grower types, which is read as
 * the form of that field reads it. */
#include "exchange/merge.h"

#include <string.h>

#include "core/text.h"
#include "dossier/work.h"

static bool names_seasons(const struct clash *clash)
{
	static const char *const tables[] = {
		"place", "tree", "identity", "tree_spot", "own_window"};

	for (int32_t i = 0; i < clash->field_count; i++)
		for (size_t k = 0; k < sizeof tables / sizeof tables[0]; k++)
			if (strcmp(clash->fields[i].table, tables[k]) == 0)
				return true;
	return false;
}

static enum status begin(struct session *session, const struct clash *clash, const char *words,
	char said[TEXT_SIZE], struct fault *why)
{
	struct text_builder text = text_builder_fixed(said, TEXT_SIZE);

	text_add_format(&text, "kept for %.150s: %.200s", clash->title, words);
	return store_act_begin(session->store, ACT_WORK, said, why);
}

static enum status end(
	struct session *session, const struct clash *clash, enum status status, struct fault *why)
{
	if (status == STATUS_OK && names_seasons(clash))
		status = yard_put_all_turns(session->store, session->almanac, why);
	if (status == STATUS_OK)
		return store_act_commit(session->store, why);
	store_act_rollback(session->store);
	return status;
}

enum status merge_keep(struct session *session, const struct clash *clash, int32_t side,
	char said[TEXT_SIZE], struct fault *why)
{
	struct arena *arena = arena_new();
	const char *words = clash_words(session, clash, side, arena, why);
	enum status status = words == NULL ? why->status : begin(session, clash, words, said, why);

	arena_free(arena);
	if (status != STATUS_OK)
		return status;
	return end(session, clash, store_clash_keep(session->store, clash, side, why), why);
}

/* --- a value of one's own --- */

static enum status read_amount(struct session *session, const char *unit, const char *text,
	int64_t *out, struct fault *why)
{
	struct amount amount;
	const bool is_share = strcmp(unit, "_permille") == 0;
	enum status status = amount_parse(text, is_share ? DIMENSION_SHARE : DIMENSION_ANALYSIS,
		"%", &session->numbers, &amount, why);

	if (status != STATUS_OK)
		return status;
	const struct maybe_i64 point = amount_point(&amount);
	if (!point.known)
		return fault_set(why, STATUS_RANGE, "'%.60s' is not one figure", text);
	*out = point.value;
	return STATUS_OK;
}

/* STATUS_ABSENT, without a reason: no figure with a unit. */
static enum status read_figure(struct session *session, const char *field, const char *text,
	int64_t *out, struct fault *why)
{
	const char *unit = clash_field_unit(field);
	const struct number_rules *rules = &session->numbers;
	int32_t decic = 0;
	enum status status = STATUS_ABSENT;

	if (strcmp(unit, "_um") == 0)
		return length_parse(text, rules, out, why);
	if (strcmp(unit, "_mg") == 0)
		return mass_parse(text, rules, out, why);
	if (strcmp(unit, "_ul") == 0)
		return volume_parse(text, rules, out, why);
	if (strcmp(unit, "_permille") == 0 || strcmp(unit, "_mpct") == 0)
		return read_amount(session, unit, text, out, why);
	if (strcmp(unit, "_decic") == 0) {
		status = temperature_parse(
			text, rules, strcmp(field, "offset_decic") == 0, &decic, why);
		*out = decic;
	}
	return status;
}

/* The id of what is named. */
static enum status read_named(struct session *session, const struct clash_field *field,
	const char *text, char out[ID_SIZE], struct fault *why)
{
	struct tree tree = {.id = ""};
	struct spot spot = {.id = ""};
	struct area area = {.id = ""};
	const char *found = tree.id;
	enum status status = STATUS_OK;

	if (strcmp(field->field, "spot_id") == 0) {
		found = spot.id;
		status = store_spot_find(session->store, text, &spot, why);
	} else if (strcmp(field->field, "area_id") == 0) {
		found = area.id;
		status = store_area_find(session->store, text, &area, why);
	} else {
		status = store_tree_find(session->store, text, &tree, why);
	}
	if (status == STATUS_OK && strcmp(found, field->row_id) == 0)
		return fault_set(why, STATUS_RANGE, "a tree does not come from itself");
	(void)text_copy(out, ID_SIZE, found);
	return status;
}

static bool is_day(const char *field)
{
	static const char *const days[] = {"planted", "gone", "day", "from_day", "to_day"};

	for (size_t i = 0; i < sizeof days / sizeof days[0]; i++)
		if (strcmp(days[i], field) == 0)
			return true;
	return false;
}

static enum status read_day(struct session *session, const struct clash_field *field,
	const char *text, struct arena *arena, struct clash_own *out, struct fault *why)
{
	const struct line_context context = session_line_context(session);
	enum status status = planting_read(text, &context, &out->day, why);

	if (status != STATUS_OK)
		return status;
	if (strchr(field->field, '_') != NULL && !date_span_is_exact(&out->day))
		return fault_set(why, STATUS_RANGE, "'%.60s' is not one day", text);
	out->text = arena_text(arena, out->day.text);
	return STATUS_OK;
}

/* Nothing: NULL where the column may hold that, as one of the sides or what was before shows. */
static const char *nothing_of(const struct clash *clash, const struct clash_field *field)
{
	bool may = field->before == NULL || clash_field_unit(field->field)[0] != '\0';

	for (int32_t i = 0; i < clash->side_count; i++)
		may = may || field->values[i] == NULL;
	return may ? NULL : "";
}

static enum status read_value(struct session *session, const struct clash *clash,
	const struct clash_field *field, const char *text, struct arena *arena,
	struct clash_own *out, struct fault *why)
{
	char id[ID_SIZE] = "";
	int64_t figure = 0;

	*out = (struct clash_own){.text = nothing_of(clash, field)};
	if (strcmp(field->field, "struck") == 0 ||
		strcmp(clash_field_unit(field->field), "_udeg") == 0)
		return fault_set(why, STATUS_RANGE, "there is nothing else to keep of it: %s",
			"say a letter, or before");
	if (text[0] == '\0' || strcmp(text, "nothing") == 0)
		return STATUS_OK;
	if (is_day(field->field))
		return read_day(session, field, text, arena, out, why);
	if (clash_field_is_flag(field->field)) {
		out->text = strcmp(text, "yes") == 0 ? "1" : "0";
		return out->text[0] == '1' || strcmp(text, "no") == 0
			       ? STATUS_OK
			       : fault_set(why, STATUS_SYNTAX, "'%.60s': yes or no", text);
	}
	if (strcmp(clash_field_unit(field->field), "_id") == 0) {
		enum status status = read_named(session, field, text, id, why);
		out->text = arena_text(arena, id);
		return status;
	}
	if (strcmp(field->table, "tree") == 0 && strcmp(field->field, "label") == 0) {
		out->text = arena_text(arena, text);
		return label_check(text, why);
	}
	enum status status = read_figure(session, field->field, text, &figure, why);
	if (status == STATUS_OK || status == STATUS_ABSENT)
		out->text = status == STATUS_OK ? arena_format(arena, "%lld", (long long)figure)
						: arena_text(arena, text);
	return status == STATUS_ABSENT ? STATUS_OK : status;
}

/* Behind "NAME:" where the text begins with the name of a field; NULL it does not. */
static const char *behind_name(
	const struct clash_field *field, const char *text, struct arena *arena)
{
	const char *name = clash_field_name(field, arena);
	const size_t length = strlen(name);

	return strncmp(text, name, length) == 0 && text[length] == ':' ? text + length + 1 : NULL;
}

static const struct clash_field *field_at(
	const struct clash *clash, const char *text, const char **value, struct arena *arena)
{
	for (int32_t i = 0; i < clash->field_count; i++) {
		*value = behind_name(&clash->fields[i], text, arena);
		if (*value != NULL)
			return &clash->fields[i];
	}
	return NULL;
}

/* A value goes on to the next "; NAME:". */
static const char *value_end(const struct clash *clash, const char *text, struct arena *arena)
{
	const char *value = NULL;

	for (; *text != '\0'; text++)
		if (*text == ';' &&
			field_at(clash, text + 1 + strspn(text + 1, " "), &value, arena))
			break;
	return text;
}

static enum status put_field(struct session *session, const struct clash *clash,
	const struct clash_field *field, char *text, struct arena *arena, struct fault *why)
{
	struct clash_own own;
	const char *trimmed = text_trim_in_place(text);
	enum status status = read_value(session, clash, field, trimmed, arena, &own, why);

	if (status == STATUS_OK)
		status = store_clash_put(session->store, field, &own, why);
	if (status == STATUS_RANGE && strstr(why->text, "constraint") != NULL)
		return fault_set(why, STATUS_RANGE, "'%.80s' is nothing that %s can be", trimmed,
			clash_field_name(field, arena));
	return status;
}

static enum status put_fields(struct session *session, const struct clash *clash, const char *text,
	struct arena *arena, struct fault *why)
{
	const char *at = text;
	enum status status = STATUS_OK;

	while (*at != '\0' && status == STATUS_OK) {
		const char *value = NULL;
		const struct clash_field *field = field_at(clash, at, &value, arena);
		if (field == NULL && clash->field_count == 1) {
			field = &clash->fields[0];
			value = at;
		}
		if (field == NULL)
			return fault_set(why, STATUS_SYNTAX,
				"say of which, as in '%s: ...': several fields are open",
				clash_field_name(&clash->fields[0], arena));
		const char *end_of_value = value_end(clash, value, arena);
		status = put_field(session, clash, field,
			arena_text_n(arena, value, (size_t)(end_of_value - value)), arena, why);
		at = end_of_value + (*end_of_value == ';');
		at += strspn(at, " ");
	}
	return status;
}

/* First all of it as it was before both: what the line says then is an edit like any other. */
static enum status put_line(
	struct session *session, const struct clash *clash, const char *line, struct fault *why)
{
	const struct line_context context = session_line_context(session);
	struct work_logged logged;
	enum status status = STATUS_OK;

	for (int32_t i = 0; i < clash->field_count; i++)
		if (strcmp(clash->fields[i].field, "struck") == 0)
			return fault_set(
				why, STATUS_RANGE, "struck in one copy: say a letter, or before");
	status = store_clash_keep(session->store, clash, -1, why);
	return status == STATUS_OK
		       ? work_mend_in_act(session->yard, clash->owner, line, &context, &logged, why)
		       : status;
}

enum status merge_keep_own(struct session *session, const struct clash *clash, const char *text,
	char said[TEXT_SIZE], struct fault *why)
{
	struct arena *arena = arena_new();
	char *own = arena_text(arena, text);

	(void)text_trim_in_place(own);
	enum status status =
		own[0] == '\0' ? fault_set(why, STATUS_SYNTAX, "say the value; nothing clears it")
			       : begin(session, clash, own, said, why);
	if (status == STATUS_OK) {
		status = strcmp(clash->owner_table, "entry") == 0
				 ? put_line(session, clash, own, why)
				 : put_fields(session, clash, own, arena, why);
		status = end(session, clash, status, why);
	}
	arena_free(arena);
	return status;
}
