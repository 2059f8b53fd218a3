/* SPDX-License-Identifier: MIT */
/* export_parts.h - the tables of an export, each written row by row. */
#ifndef EXCHANGE_EXPORT_PARTS_H
#define EXCHANGE_EXPORT_PARTS_H

#include "exchange/export.h"
#include "report/rows.h"

struct exporting {
	struct session *session;
	struct arena *arena;
	struct printer printer;
	bool without_private;
};

/* Is the tree to stay behind: marked private, or a graft on one that is? */
bool export_keeps_back(const struct exporting *exporting, const struct tree *tree);

enum status export_trees(struct exporting *exporting, struct fault *why) MUST_CHECK;
enum status export_entries(struct exporting *exporting, struct fault *why) MUST_CHECK;
enum status export_picks(struct exporting *exporting, struct fault *why) MUST_CHECK;

#endif
