/* SPDX-License-Identifier: MIT */
#include "exchange/export.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "core/file.h"
#include "core/text.h"
#include "export_parts.h"

static enum status export_flags(struct exporting *exporting, struct fault *why)
{
	struct review_options options = {.all = true};
	struct review review = {0};
	struct yard *yard = exporting->session->yard;
	enum status status = review_make(yard, &options, exporting->arena, &review, why);

	if (status != STATUS_OK)
		return status;
	return print_review(&exporting->printer, &review, yard, true, why);
}

static const struct table {
	const char *what;
	enum status (*write)(struct exporting *exporting, struct fault *why);
} tables[] = {
	{"trees", export_trees},
	{"entries", export_entries},
	{"picks", export_picks},
	{"flags", export_flags},
};

bool export_keeps_back(const struct exporting *exporting, const struct tree *tree)
{
	enum { GRAFTS_DEEP = 8 };
	struct store *store = exporting->session->store;
	struct tree at = *tree;
	bool is_private = tree->is_private;

	for (int deep = 0; exporting->without_private && !is_private && deep < GRAFTS_DEEP;
		deep++) {
		char host[ID_SIZE];

		memcpy(host, at.host_id, ID_SIZE);
		if (host[0] == '\0' || store_tree_load(store, host, &at, NULL) != STATUS_OK)
			break;
		is_private = at.is_private;
	}
	return exporting->without_private && is_private;
}

/* A folder that is not there is a failure of the file, not of the words. */
static enum status file_fault(enum status status, const struct fault *cause, struct fault *why)
{
	return fault_set(why, status == STATUS_ABSENT ? STATUS_IO : status, "%s", cause->text);
}

enum status export_write(const char *path, const char *bytes, size_t length, struct fault *why)
{
	struct fault cause = {0};
	enum status status = file_write_whole(path, bytes, length, &cause);

	return status == STATUS_OK ? status : file_fault(status, &cause, why);
}

/* NULL: no table is called so. */
static const struct table *find_table(const char *what)
{
	for (size_t i = 0; i < sizeof tables / sizeof tables[0]; i++)
		if (strcmp(tables[i].what, what) == 0)
			return &tables[i];
	return NULL;
}

enum status export_table(struct session *session, const struct export_options *options,
	struct arena *arena, struct fault *why)
{
	struct exporting exporting = {
		.session = session, .arena = arena, .without_private = options->without_private};
	struct file_writing writing;
	struct fault cause = {0};

	const struct table *table = find_table(options->what);
	if (table == NULL)
		return fault_set(why, STATUS_SYNTAX,
			"export writes trees, entries, picks or flags, not '%s'", options->what);
	if (options->without_private && strcmp(options->what, "flags") == 0)
		return fault_set(why, STATUS_SYNTAX,
			"--without-private is for trees, entries, picks and papers");
	enum status status = file_write_begin(options->path, &writing, &cause);
	if (status == STATUS_OK) {
		exporting.printer = (struct printer){.format = options->format,
			.stream = writing.stream,
			.width = 80,
			.units = session->units,
			.numbers = session->numbers};
		store_leave_out_private(session->store, options->without_private);
		status = table->write(&exporting, &cause);
		store_leave_out_private(session->store, false);
		if (ferror(writing.stream))
			status = STATUS_OK; /* file_write_end tells of it, and of which file */
		status = file_write_end(&writing, status, &cause);
	}
	return status == STATUS_OK ? status : file_fault(status, &cause, why);
}
