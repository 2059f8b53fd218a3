/* SPDX-License-Identifier: MIT */
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "core/folder.h"
#include "core/text.h"
#include "exchange/whole.h"
#include "manifest.h"
#include "mapping.h"
#include "table_file.h"

struct importing {
	const struct whole_options *options;
	const char *path; /* of the log */
	struct clock *clock;
	struct manifest manifest;
	struct whole_account *account;
	struct import_account said; /* the lines of refusals */
	struct arena *arena;
	const struct table_shape *shapes; /* of the log that is made */
	int32_t shape_count;
	struct streams *streams; /* of the log that stands there */
	const struct table_shape *shape;
};

static void refuse(struct importing *importing, const char *where, const char *why)
{
	importing->said.refused++;
	account_say(&importing->said, importing->arena, "%s: %s", where, why);
}

static const char *file_name(const struct importing *importing, const char *table)
{
	return arena_format(importing->arena, "%s.%s", table,
		importing->manifest.format == FORMAT_CSV ? "csv" : "json");
}

static const char *file_path(const struct importing *importing, const char *name)
{
	return arena_format(importing->arena, "%s/%s", importing->options->folder, name);
}

/* --- is the folder whole? --- */

static enum status check_files(struct importing *importing, struct fault *why)
{
	char digest[SHA256_TEXT_SIZE];

	for (int32_t i = 0; i < importing->manifest.count; i++) {
		const struct manifest_file *file = &importing->manifest.files[i];
		struct fault cause = {0};
		enum status status =
			manifest_digest(file_path(importing, file->name), digest, &cause);

		if (status == STATUS_ABSENT)
			refuse(importing, file->name, "it is not in the folder");
		else if (status != STATUS_OK)
			return fault_set(why, status, "%s", cause.text);
		else if (strcmp(digest, file->digest) != 0)
			refuse(importing, file->name,
				"it is not as it was written: cut short, or changed");
	}
	if (importing->said.refused > 0)
		return fault_set(why, STATUS_DAMAGED,
			"%s is not whole: %d of its files; copy it again",
			importing->options->folder, (int)importing->said.refused);
	return STATUS_OK;
}

static enum status open_folder(struct importing *importing, struct fault *why)
{
	const char *folder = importing->options->folder;
	struct manifest *manifest = &importing->manifest;
	enum status status = manifest_read(folder, manifest, why);

	if (status == STATUS_ABSENT)
		return fault_set(why, STATUS_IO,
			"%s is no folder that 'export all' wrote: it has no %s", folder,
			manifest_name);
	if (status != STATUS_OK)
		return status;
	if (manifest->schema < 1 || manifest->schema > SCHEMA_VERSION)
		return fault_set(why, STATUS_DAMAGED,
			"%s is of schema %d, and this program knows schemas up to %d: a newer one "
			"reads it",
			folder, (int)manifest->schema, SCHEMA_VERSION);
	for (int32_t i = 0; i < manifest->count; i++)
		importing->account->rows += manifest->files[i].rows;
	return check_files(importing, why);
}

/* --- the rows of the files --- */

/* What is done with them: begin a table, take a row. STATUS_RANGE of a row refuses it. */
struct taker {
	enum status (*begin)(void *context, const struct table_shape *shape, struct fault *why);
	enum status (*take)(
		void *context, const struct table_value *row, int32_t *column, struct fault *why);
	void *context;
};

static void refuse_row(struct importing *importing, const struct table_reader *reader,
	int32_t column, const struct fault *cause)
{
	const char *name = file_name(importing, reader->shape->name);
	const char *where = arena_format(importing->arena, "%s line %d%s%s", name,
		(int)reader->line_number, column >= 0 ? ", " : "",
		column >= 0 ? reader->shape->columns[column].name : "");

	refuse(importing, where, cause->text);
}

/* A refused row is told and the next one looked at; whatever else ends the reading. */
static enum status read_rows(struct importing *importing, struct table_reader *reader,
	const struct taker *taker, int64_t *rows, struct fault *why)
{
	const struct table_value *row;
	enum status status = STATUS_OK;

	while (status == STATUS_OK) {
		struct fault cause = {0};
		int32_t column = -1;

		status = table_reader_next(reader, &row, &column, &cause);
		if (status == STATUS_END)
			return STATUS_OK;
		bool refused = status == STATUS_SYNTAX;
		if (status == STATUS_OK) {
			status = taker->take(taker->context, row, &column, &cause);
			refused = status == STATUS_RANGE;
		}
		*rows += 1;
		if (!refused && status != STATUS_OK)
			return fault_set(why, status, "%s", cause.text);
		if (refused)
			refuse_row(importing, reader, column, &cause);
		status = STATUS_OK;
	}
	return status;
}

static enum status read_file(struct importing *importing, const struct table_shape *shape,
	const struct taker *taker, struct fault *why)
{
	const char *name = file_name(importing, shape->name);
	const struct manifest_file *file = manifest_find(&importing->manifest, name);
	struct table_reader reader;
	struct fault cause = {0};
	int64_t rows = 0;

	if (file == NULL) /* of an older schema: no rows */
		return STATUS_OK;
	enum status status = table_reader_open(
		file_path(importing, name), importing->manifest.format, shape, &reader, &cause);
	if (status == STATUS_OK)
		status = read_rows(importing, &reader, taker, &rows, &cause);
	table_reader_close(&reader);
	if (status == STATUS_SYNTAX || status == STATUS_RANGE) {
		refuse(importing, name, cause.text);
		return STATUS_OK;
	}
	if (status != STATUS_OK)
		return fault_set(why, status, "%s: %s", name, cause.text);
	if (rows != file->rows)
		refuse(importing, name,
			arena_format(importing->arena, "%lld rows, and %s says %lld",
				(long long)rows, manifest_name, (long long)file->rows));
	return STATUS_OK;
}

static enum status read_files(struct importing *importing, const struct table_shape *shapes,
	int32_t count, const struct taker *taker, struct fault *why)
{
	int32_t found = 0;
	enum status status = STATUS_OK;

	for (int32_t i = 0; i < count; i++)
		found += manifest_find(&importing->manifest,
				 file_name(importing, shapes[i].name)) != NULL;
	if (found != importing->manifest.count)
		return fault_set(why, STATUS_SYNTAX, "%s lists a file that is no table of a log",
			manifest_name);
	for (int32_t i = 0; i < count && status == STATUS_OK; i++) {
		status = taker->begin(taker->context, &shapes[i], why);
		if (status == STATUS_OK)
			status = read_file(importing, &shapes[i], taker, why);
	}
	if (status == STATUS_OK && importing->said.refused > 0)
		return fault_set(why, STATUS_SYNTAX, "%d refused; nothing was written",
			(int)importing->said.refused);
	return status;
}

/* --- into a new log --- */

static enum status begin_filling(void *context, const struct table_shape *shape, struct fault *why)
{
	return filler_table(context, shape, why);
}

static enum status put_row(
	void *context, const struct table_value *row, int32_t *column, struct fault *why)
{
	return filler_row(context, row, column, why);
}

static enum status fill(struct filler *filler, void *context, struct fault *why)
{
	struct importing *importing = context;
	const struct taker taker = {.begin = begin_filling, .take = put_row, .context = filler};
	int32_t count;

	importing->shapes = filler_shapes(filler, &count);
	importing->shape_count = count;
	return read_files(importing, importing->shapes, count, &taker, why);
}

/* Where the row of that number begins in its file; 0 when it cannot be told. */
static int32_t line_of(const struct importing *importing, const char *table, int64_t number)
{
	const struct table_shape *shape = importing->shapes;
	struct table_reader reader;
	const struct table_value *row;
	int32_t line = 0, column;

	while (strcmp(shape->name, table) != 0)
		shape++; /* the log has only these */
	enum status status = table_reader_open(file_path(importing, file_name(importing, table)),
		importing->manifest.format, shape, &reader, NULL);
	for (int64_t at = 0; at < number && status == STATUS_OK; at++)
		status = table_reader_next(&reader, &row, &column, NULL);
	if (status == STATUS_OK)
		line = reader.line_number;
	table_reader_close(&reader);
	return line;
}

static void tell_dangling(void *context, const char *table, int64_t number, const char *column)
{
	struct importing *importing = context;

	refuse(importing,
		arena_format(importing->arena, "%s line %d, %s", file_name(importing, table),
			(int)line_of(importing, table, number), column),
		"it names a row that is not there");
}

static enum status make_log(struct importing *importing, const char *path, struct fault *why)
{
	const struct filling_from from = {.fill = fill,
		.dangling = tell_dangling,
		.context = importing,
		.try_only = importing->options->dry_run};
	enum status status =
		store_create_from(path, importing->clock, importing->manifest.schema, &from, why);

	importing->account->made = status == STATUS_OK || status == STATUS_END;
	if (status == STATUS_RANGE)
		return fault_set(why, STATUS_SYNTAX, "%s; nothing was written",
			why == NULL ? "" : arena_text(importing->arena, why->text));
	return status == STATUS_END ? STATUS_OK : status;
}

/* The empty log that stands there is kept beside, as a restore does. */
static enum status replace_empty(struct importing *importing, struct fault *why)
{
	struct whole_account *account = importing->account;
	const char *made = arena_format(importing->arena, "%s.import-%08x", importing->path,
		(unsigned)(clock_random(importing->clock) & 0xffffffffU));
	enum status status = make_log(importing, made, why);

	if (status != STATUS_OK || importing->options->dry_run)
		return status;
	status = store_backup_restore(
		importing->path, made, importing->clock, account->kept, sizeof account->kept, why);
	(void)unlink(made);
	account->made = status == STATUS_OK;
	return status;
}

/* --- beside a log that stands there --- */

static enum status begin_comparing(
	void *context, const struct table_shape *shape, struct fault *why)
{
	struct importing *importing = context;

	importing->shape = shape;
	return streams_table(importing->streams, shape, why);
}

static bool same_value(const struct table_value *one, const struct table_value *other)
{
	return one->type == other->type && one->integer == other->integer &&
	       one->length == other->length && memcmp(one->text, other->text, one->length) == 0;
}

static enum status compare_row(
	void *context, const struct table_value *row, int32_t *column, struct fault *why)
{
	struct importing *importing = context;
	const struct table_value *there;
	enum status status = streams_find(importing->streams, &row[0], &there, why);

	(void)column;
	if (status == STATUS_ABSENT) {
		importing->account->missing++;
		return STATUS_OK;
	}
	for (int32_t i = 0; i < importing->shape->count && status == STATUS_OK; i++)
		if (!same_value(&row[i], &there[i])) {
			importing->account->changed++;
			return STATUS_OK;
		}
	return status;
}

static enum status compare(struct importing *importing, bool *empty, struct fault *why)
{
	const struct taker taker = {
		.begin = begin_comparing, .take = compare_row, .context = importing};
	int32_t count;
	const struct table_shape *shapes = streams_shapes(importing->streams, &count);
	enum status status = streams_is_empty(importing->streams, empty, why);

	return status == STATUS_OK ? read_files(importing, shapes, count, &taker, why) : status;
}

static enum status beside_log(struct importing *importing, struct fault *why)
{
	const struct store_options options = {.clock = importing->clock, .read_only = true};
	struct store *store = NULL;
	bool empty = false;
	enum status status = store_open(importing->path, &options, &store, why);

	if (status == STATUS_OK)
		status = streams_open(store, false, &importing->streams, why);
	if (status == STATUS_OK)
		status = compare(importing, &empty, why);
	streams_close(importing->streams);
	store_close(store);
	if (status != STATUS_OK || importing->account->missing == 0)
		return status;
	if (empty)
		return replace_empty(importing, why);
	return fault_set(why, STATUS_CONFLICT,
		"%s has other records: of %lld rows of the folder %lld are not in it; bring the "
		"folder into a new log (--log FILE), then join the two with merge",
		importing->path, (long long)importing->account->rows,
		(long long)importing->account->missing);
}

enum status import_all(const char *path, struct clock *clock, const struct whole_options *options,
	struct arena *arena, struct whole_account *account, struct fault *why)
{
	struct importing *importing = block_new(sizeof *importing);
	struct stat facts;

	*importing = (struct importing){.options = options,
		.path = path,
		.clock = clock,
		.account = account,
		.arena = arena};
	enum status status = open_folder(importing, why);
	if (status == STATUS_OK)
		status = lstat(path, &facts) == 0 ? beside_log(importing, why)
						  : make_log(importing, path, why);
	account->lines = importing->said.lines;
	account->line_count = importing->said.line_count;
	block_free(importing);
	return status;
}
