/* SPDX-License-Identifier: MIT */
/* Whole tables out of a log and into a new one, and flat JSON read. */
#include "support/test.h"

#include <string.h>

#include "store/json.h"
#include "store/stream.h"

#include "support/log.h"

/* --- JSON --- */

/* "name=value name=value" of an object, or "!why". */
static const char *shown(const char *text, char out[512])
{
	struct json_reader *reader = NULL;
	struct fault why = {0};
	struct table_value value;
	const char *name;
	size_t length = 0;

	out[0] = '\0';
	check_ok(json_open(&reader, &why), &why);
	enum status status = json_object(reader, text, strlen(text), &why);
	while (status == STATUS_OK) {
		status = json_next(reader, &name, &value, &why);
		if (status != STATUS_OK)
			break;
		length += (size_t)snprintf(
			out + length, 512 - length, "%s%s=", length > 0 ? " " : "", name);
		if (value.type == VALUE_INTEGER)
			length += (size_t)snprintf(
				out + length, 512 - length, "%lld", (long long)value.integer);
		else
			length += (size_t)snprintf(out + length, 512 - length, "%s",
				value.type == VALUE_NULL ? "null" : value.text);
	}
	if (status != STATUS_END)
		snprintf(out, 512, "!%s", why.text);
	json_close(reader);
	return out;
}

static void an_object_is_read_name_by_name(void **state)
{
	static const struct {
		const char *text, *want;
	} cases[] = {
		{"{}", ""},
		{" {\"a\": 1, \"b\": \"x\", \"c\": null}", "a=1 b=x c=null"},
		{"{\"a\": -9223372036854775808, \"b\": 9223372036854775807}",
			"a=-9223372036854775808 b=9223372036854775807"},
		{"{\"a\": \"q\\\"\\\\\\n\\u0007\\ud83c\\udf33\"}", "a=q\"\\\n\a\xf0\x9f\x8c\xb3"},
		{"{\"a\": 1, \"a\": 2}", "a=1 a=2"},
		{"{\"a\": 9223372036854775808}", "!it is a number too large"},
		{"{\"a\": 1.5}", "!it is neither text, whole number nor null"},
		{"{\"a\": true}", "!it is neither text, whole number nor null"},
		{"{\"a\": {}}", "!it is neither text, whole number nor null"},
		{"{\"a\": 1", "!it is no JSON"},
		{"{\"a\" 1}", "!it is no JSON"},
		{"[1]", "!it is no JSON object"},
		{"", "!it is no JSON object"},
		{"{\"a\": \"\xff\"}", "!it is not UTF-8"},
	};
	char out[512];
	(void)state;

	for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++)
		check_text(shown(cases[i].text, out), cases[i].want, cases[i].text);
}

/* --- streams --- */

static const struct table_shape *shape_named(const struct streams *streams, const char *name)
{
	int32_t count;
	const struct table_shape *shapes = streams_shapes(streams, &count);

	for (int32_t i = 0; i < count; i++)
		if (strcmp(shapes[i].name, name) == 0)
			return &shapes[i];
	return NULL;
}

static void caches_and_row_numbers_stay(void **state)
{
	static const char *const kept[] = {
		"season_turn", "draft", "walk", "kept_flag", "word_index"};
	struct log yard;
	struct streams *streams = NULL;
	struct fault why = {0};
	(void)state;

	log_make(&yard);
	check_ok(streams_open(yard.store, false, &streams, &why), &why);
	for (size_t i = 0; i < sizeof kept / sizeof kept[0]; i++)
		assert_null(shape_named(streams, kept[i]));
	const struct table_shape *area = shape_named(streams, "area");
	assert_non_null(area);
	check_text(area->columns[0].name, "id", "found by");
	check_int(area->count, 5, "columns");
	assert_true(area->columns[2].is_integer && !area->columns[2].may_be_null);
	check_text(shape_named(streams, "meta")->columns[0].name, "key", "found by");
	streams_close(streams);
	streams_close(NULL);
	log_free(&yard);
}

static void a_log_is_empty_until_something_is_recorded(void **state)
{
	struct log yard;
	struct streams *streams = NULL;
	struct fault why = {0};
	bool empty = false;
	(void)state;

	log_make(&yard);
	check_ok(streams_open(yard.store, false, &streams, &why), &why);
	check_ok(streams_is_empty(streams, &empty, &why), &why);
	assert_true(empty);
	streams_close(streams);
	log_area_act(&yard, "Orchard");
	char id[ID_SIZE];
	memcpy(id, yard.id, sizeof id);
	check_ok(streams_open(yard.store, false, &streams, &why), &why);
	check_ok(streams_is_empty(streams, &empty, &why), &why);
	assert_false(empty);
	const struct table_value key = {.type = VALUE_TEXT, .text = id, .length = strlen(id)};
	const struct table_value absent = {.type = VALUE_TEXT, .text = "no", .length = 2};
	const struct table_value *row = NULL;
	check_ok(streams_table(streams, shape_named(streams, "area"), &why), &why);
	check_ok(streams_find(streams, &key, &row, &why), &why);
	check_text(row[3].text, "Orchard", "name");
	check_int(streams_find(streams, &absent, &row, &why), STATUS_ABSENT, "no such row");
	check_ok(streams_next(streams, &row, &why), &why);
	check_text(row[0].text, id, "id");
	check_int(streams_next(streams, &row, &why), STATUS_END, "one row");
	streams_close(streams);
	log_free(&yard);
}

/* --- filling --- */

static enum status put_nothing(struct filler *filler, void *context, struct fault *why)
{
	(void)filler;
	(void)context;
	(void)why;
	return STATUS_OK;
}

static void hear(void *context, const char *table, int64_t number, const char *column)
{
	(void)context;
	fail_msg("%s %lld %s", table, (long long)number, column);
}

static void a_log_without_a_place_is_not_made(void **state)
{
	struct log yard;
	struct fault why = {0};
	char path[SCRATCH_PATH_SIZE];
	const struct filling_from from = {.fill = put_nothing, .dangling = hear};
	(void)state;

	log_make(&yard);
	scratch_path(&yard.scratch, "fresh.bough", path);
	check_refused(store_create_from(path, &yard.clock, SCHEMA_VERSION, &from, &why),
		STATUS_RANGE, &why, "there is no place among the rows");
	assert_false(file_exists(path));
	check_refused(store_create_from(yard.path, &yard.clock, SCHEMA_VERSION, &from, &why),
		STATUS_CONFLICT, &why, "is there already");
	log_free(&yard);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(an_object_is_read_name_by_name),
		cmocka_unit_test(caches_and_row_numbers_stay),
		cmocka_unit_test(a_log_is_empty_until_something_is_recorded),
		cmocka_unit_test(a_log_without_a_place_is_not_made),
	};
	int failed = cmocka_run_group_tests_name("streams", tests, NULL, NULL);

	return failed != 0;
}
