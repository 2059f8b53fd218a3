/* SPDX-License-Identifier: MIT */
#include "manifest.h"

#include <errno.h>
#include <inttypes.h>
#include <stdlib.h>
#include <string.h>

#include "core/memory.h"
#include "core/text.h"

const char manifest_name[] = "manifest.sha256";
static const char first_line[] = "# boughbook export, format ";
static const char digest_line[] = "# sha256 ";
static const char *const format_names[] = {[FORMAT_CSV] = "csv", [FORMAT_JSON] = "json"};

/* --- writing --- */

static void write_lines(const struct manifest *manifest, FILE *out)
{
	fprintf(out, "%s%d\n", first_line, MANIFEST_FORMAT);
	fprintf(out, "# schema %d\n# files %s\n# log %s\n", (int)manifest->schema,
		format_names[manifest->format], manifest->log_id);
	if (manifest->without_private)
		fputs("# without-private yes\n", out);
	for (int32_t i = 0; i < manifest->count; i++) {
		const struct manifest_file *file = &manifest->files[i];

		fprintf(out, "# rows %" PRId64 "\n%s  %s\n", file->rows, file->digest, file->name);
	}
}

enum status manifest_write(const struct manifest *manifest, FILE *out, struct fault *why)
{
	char *bytes = NULL;
	size_t length = 0;
	char text[SHA256_TEXT_SIZE];
	struct sha256 digest = sha256_start();
	FILE *lines = open_memstream(&bytes, &length);

	if (lines != NULL)
		write_lines(manifest, lines);
	if (lines == NULL || fclose(lines) != 0) {
		block_free(bytes);
		return fault_set(why, STATUS_IO, "no memory for %s", manifest_name);
	}
	sha256_add(&digest, bytes, length);
	fwrite(bytes, 1, length, out);
	fprintf(out, "%s%s\n", digest_line, sha256_end(&digest, text));
	block_free(bytes);
	return STATUS_OK;
}

/* --- reading --- */

struct listing {
	struct manifest *out;
	const char *path;
	int64_t rows; /* of the file named next */
};

static enum status not_whole(const struct listing *listing, struct fault *why)
{
	return fault_set(why, STATUS_DAMAGED,
		"%s is not as it was written: the folder was copied by halves or changed",
		listing->path);
}

/* Cuts the last line off when it is the digest of all before it. */
static bool is_whole(char *bytes, size_t length)
{
	char want[SHA256_TEXT_SIZE];
	struct sha256 digest = sha256_start();
	size_t line = sizeof digest_line - 1 + SHA256_TEXT_SIZE; /* a line end for the NUL */

	if (length < line || strlen(bytes) != length)
		return false;
	char *last = bytes + length - line;
	sha256_add(&digest, bytes, length - line);
	sha256_end(&digest, want);
	if (strncmp(last, digest_line, sizeof digest_line - 1) != 0 || last[line - 1] != '\n' ||
		strncmp(last + sizeof digest_line - 1, want, SHA256_TEXT_SIZE - 1) != 0)
		return false;
	last[0] = '\0';
	return true;
}

static bool read_number(const char *text, int64_t most, int64_t *out)
{
	char *end;

	errno = 0;
	*out = strtoll(text, &end, 10);
	return errno == 0 && end > text && *end == '\0' && *out >= 0 && *out <= most;
}

/* A line "# NAME VALUE" below the first. */
static bool read_fact(struct listing *listing, const char *name, const char *value)
{
	struct manifest *out = listing->out;
	int64_t number = 0;

	if (strcmp(name, "schema") == 0 && read_number(value, INT32_MAX, &number)) {
		out->schema = (int32_t)number;
		return true;
	}
	if (strcmp(name, "rows") == 0)
		return read_number(value, INT64_MAX, &listing->rows);
	if (strcmp(name, "log") == 0)
		return text_copy(out->log_id, sizeof out->log_id, value);
	if (strcmp(name, "without-private") == 0) {
		out->without_private = true;
		return true;
	}
	if (strcmp(name, "files") == 0)
		for (int format = FORMAT_CSV; format <= FORMAT_JSON; format++)
			if (strcmp(value, format_names[format]) == 0) {
				out->format = (enum format)format;
				return true;
			}
	return false;
}

/* A name that leads out of the folder is none. */
static bool is_file_name(const char *name)
{
	return name[0] != '\0' && name[0] != '.' && strchr(name, '/') == NULL &&
	       strlen(name) < KEY_SIZE;
}

static bool read_line(struct listing *listing, char *line)
{
	struct manifest *out = listing->out;

	if (strncmp(line, "# ", 2) == 0) {
		char *value = strchr(line + 2, ' ');

		if (value == NULL)
			return false;
		*value = '\0';
		return read_fact(listing, line + 2, value + 1);
	}
	size_t digits = SHA256_TEXT_SIZE - 1;
	if (strspn(line, "0123456789abcdef") != digits || strncmp(line + digits, "  ", 2) != 0 ||
		!is_file_name(line + digits + 2) || out->count == MANIFEST_FILES_MAX)
		return false;
	struct manifest_file *file = &out->files[out->count++];
	text_copy(file->name, sizeof file->name, line + digits + 2);
	text_copy_n(file->digest, sizeof file->digest, line, digits);
	file->rows = listing->rows;
	return true;
}

static enum status read_lines(
	struct listing *listing, char *bytes, size_t length, struct fault *why)
{
	int64_t format = 0;
	char *next = NULL;

	if (strncmp(bytes, first_line, sizeof first_line - 1) != 0)
		return fault_set(why, STATUS_DAMAGED, "%s is not of an export of this program",
			listing->path);
	if (!is_whole(bytes, length))
		return not_whole(listing, why);
	char *line = strtok_r(bytes, "\n", &next);
	if (!read_number(line + sizeof first_line - 1, INT32_MAX, &format))
		return not_whole(listing, why);
	if (format != MANIFEST_FORMAT)
		return fault_set(why, STATUS_RANGE,
			"%s is of format %d; this program knows format %d: a newer one reads it",
			listing->path, (int)format, MANIFEST_FORMAT);
	for (line = strtok_r(NULL, "\n", &next); line != NULL; line = strtok_r(NULL, "\n", &next))
		if (!read_line(listing, line))
			return not_whole(listing, why);
	return STATUS_OK;
}

enum status manifest_read(const char *folder, struct manifest *out, struct fault *why)
{
	char path[FILE_PATH_SIZE];
	struct file_bytes file;
	struct listing listing = {.out = out, .path = path};

	*out = (struct manifest){.format = FORMAT_CSV};
	if (snprintf(path, sizeof path, "%s/%s", folder, manifest_name) >= FILE_PATH_SIZE)
		return fault_set(why, STATUS_RANGE, "the path of the folder is too long");
	enum status status = file_read_whole(path, MANIFEST_SIZE_MAX, &file, why);
	if (status != STATUS_OK)
		return status;
	status = read_lines(&listing, file.bytes, file.length, why);
	file_free(&file);
	return status;
}

const struct manifest_file *manifest_find(const struct manifest *manifest, const char *name)
{
	for (int32_t i = 0; i < manifest->count; i++)
		if (strcmp(manifest->files[i].name, name) == 0)
			return &manifest->files[i];
	return NULL;
}

enum status manifest_digest(const char *path, char out[SHA256_TEXT_SIZE], struct fault *why)
{
	enum { PART = 65536 };
	struct sha256 digest = sha256_start();
	FILE *in = fopen(path, "rb");
	size_t got;

	if (in == NULL)
		return fault_set(why, errno == ENOENT ? STATUS_ABSENT : STATUS_IO, "%s: %s", path,
			strerror(errno));
	unsigned char *part = block_new(PART);
	while ((got = fread(part, 1, PART, in)) > 0)
		sha256_add(&digest, part, got);
	bool failed = ferror(in) != 0;
	fclose(in);
	block_free(part);
	sha256_end(&digest, out);
	return failed ? fault_set(why, STATUS_IO, "%s could not be read", path) : STATUS_OK;
}
