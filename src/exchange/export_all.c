/* SPDX-License-Identifier: MIT */
#include <string.h>

#include "core/folder.h"
#include "core/text.h"
#include "exchange/whole.h"
#include "manifest.h"
#include "table_file.h"

struct exporting {
	const struct whole_options *options;
	struct streams *streams;
	struct folder_writing writing;
	struct manifest manifest;
	struct manifest standing; /* of the export that is replaced */
	struct arena *arena;
};

/* --- may the folder be written over? --- */

static bool is_known(const char *name, const void *context)
{
	const struct exporting *exporting = context;

	return strcmp(name, manifest_name) == 0 ||
	       manifest_find(&exporting->standing, name) != NULL;
}

/* Only an empty folder, or an export of the same log with nothing else in it. */
static enum status check_standing(struct exporting *exporting, struct fault *why)
{
	const char *folder = exporting->writing.target;
	char other[NAME_SIZE];
	enum status status = STATUS_ABSENT;

	if (!exporting->writing.replaces)
		return STATUS_OK;
	status = manifest_read(folder, &exporting->standing, why);
	bool is_export = status == STATUS_OK;
	if (status != STATUS_OK && status != STATUS_ABSENT)
		return fault_set(why, STATUS_CONFLICT,
			"%s holds an export that is not whole, or of a newer program; it was left "
			"as it is: name another folder",
			folder);
	status = folder_find_other(folder, is_known, exporting, other, sizeof other, why);
	if (status == STATUS_OK && other[0] != '\0')
		status = fault_set(why, STATUS_CONFLICT,
			"%s holds '%s', which no export wrote; it was left as it is: name another "
			"folder",
			folder, other);
	if (status == STATUS_OK && is_export &&
		strcmp(exporting->standing.log_id, streams_log_id(exporting->streams)) != 0)
		status = fault_set(why, STATUS_CONFLICT,
			"%s holds the export of another log; it was left as it is: name another "
			"folder",
			folder);
	return status;
}

/* --- writing --- */

static enum status write_rows(
	struct exporting *exporting, struct table_writer *writer, struct fault *why)
{
	const struct table_value *row;
	enum status status = streams_table(exporting->streams, writer->shape, why);

	while (status == STATUS_OK) {
		status = streams_next(exporting->streams, &row, why);
		if (status == STATUS_OK)
			status = table_writer_row(writer, row, why);
		if (status == STATUS_OK && ferror(writer->out))
			break; /* folder_file_end tells of it */
	}
	table_writer_end(writer);
	return status == STATUS_END ? STATUS_OK : status;
}

static enum status digest_made(
	const struct exporting *exporting, struct manifest_file *file, struct fault *why)
{
	char path[FILE_PATH_SIZE + KEY_SIZE];

	snprintf(path, sizeof path, "%s/%s", exporting->writing.made, file->name);
	return manifest_digest(path, file->digest, why);
}

static enum status write_table(
	struct exporting *exporting, const struct table_shape *shape, struct fault *why)
{
	struct manifest_file *file = &exporting->manifest.files[exporting->manifest.count++];
	enum format format = exporting->options->format;
	FILE *out = NULL;

	snprintf(file->name, sizeof file->name, "%.24s.%s", shape->name,
		format == FORMAT_CSV ? "csv" : "json");
	enum status status = folder_file_begin(&exporting->writing, file->name, &out, why);
	if (status != STATUS_OK)
		return status;
	struct table_writer writer = table_writer_begin(format, shape, out, exporting->arena);
	status = write_rows(exporting, &writer, why);
	file->rows = writer.rows;
	enum status ended = folder_file_end(
		&exporting->writing, file->name, out, status == STATUS_OK ? why : NULL);
	if (status == STATUS_OK)
		status = ended;
	return status == STATUS_OK ? digest_made(exporting, file, why) : status;
}

static enum status write_manifest(struct exporting *exporting, struct fault *why)
{
	struct manifest *manifest = &exporting->manifest;
	FILE *out = NULL;

	manifest->format = exporting->options->format;
	manifest->schema = SCHEMA_VERSION;
	manifest->without_private = exporting->options->without_private;
	text_copy(manifest->log_id, sizeof manifest->log_id, streams_log_id(exporting->streams));
	enum status status = folder_file_begin(&exporting->writing, manifest_name, &out, why);
	if (status != STATUS_OK)
		return status;
	status = manifest_write(manifest, out, why);
	enum status ended = folder_file_end(
		&exporting->writing, manifest_name, out, status == STATUS_OK ? why : NULL);
	return status == STATUS_OK ? ended : status;
}

static enum status write_folder(struct exporting *exporting, int64_t *rows, struct fault *why)
{
	int32_t count;
	const struct table_shape *shapes = streams_shapes(exporting->streams, &count);
	enum status status = folder_look(exporting->options->folder, &exporting->writing, why);

	if (status == STATUS_OK)
		status = check_standing(exporting, why);
	if (status == STATUS_OK)
		status = folder_begin(&exporting->writing, why);
	for (int32_t i = 0; i < count && status == STATUS_OK; i++)
		status = write_table(exporting, &shapes[i], why);
	if (status == STATUS_OK)
		status = write_manifest(exporting, why);
	if (status == STATUS_OK)
		status = folder_end(&exporting->writing, why);
	folder_abandon(&exporting->writing);
	for (int32_t i = 0; i < exporting->manifest.count; i++)
		*rows += exporting->manifest.files[i].rows;
	return status;
}

enum status export_all(
	struct store *store, const struct whole_options *options, int64_t *rows, struct fault *why)
{
	struct exporting *exporting = block_new(sizeof *exporting);

	exporting->options = options;
	exporting->arena = arena_new();
	*rows = 0;
	enum status status =
		streams_open(store, options->without_private, &exporting->streams, why);
	if (status == STATUS_OK)
		status = write_folder(exporting, rows, why);
	streams_close(exporting->streams);
	arena_free(exporting->arena);
	block_free(exporting);
	return status;
}
