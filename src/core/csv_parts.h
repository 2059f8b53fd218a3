/* SPDX-License-Identifier: MIT */
/* csv_parts.h - what the reader and the writer of CSV both go by. */
#ifndef CORE_CSV_PARTS_H
#define CORE_CSV_PARTS_H

#include "core/csv.h"

#define CSV_BYTE_ORDER_MARK "\xEF\xBB\xBF"

/* Does a spreadsheet take a cell that starts like this for something to work out? */
bool csv_would_run(const char *text);

#endif
