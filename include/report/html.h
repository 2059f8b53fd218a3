/* SPDX-License-Identifier: MIT */
/* html.h - one page of HTML, written element by element: the single door for escaping.
 *
 * Names of elements and attributes are words of the program; texts and values are anybody's. They
 * are cleaned as everything shown is (core/text.h: no controls, nothing that turns the direction
 * of writing) and escaped, so that no text becomes markup, wherever it stands. No script. */
#ifndef REPORT_HTML_H
#define REPORT_HTML_H

#include <stdbool.h>
#include <stdint.h>
#include <stdio.h>

#include "core/fault.h"
#include "core/memory.h"

enum { HTML_DEPTH_MAX = 24 };

struct html {
	FILE *stream;
	struct arena *arena; /* of one text */
	const char *open[HTML_DEPTH_MAX];
	int depth;
	bool in_tag; /* the start tag of the innermost is not closed yet: attributes may come */
};

/* Head and all, up to the open body. style: CSS of the program's own, put in as it is. */
struct html html_begin(FILE *stream, const char *title, const char *style);
/* Closes what is open. STATUS_IO: the stream has failed. */
enum status html_end(struct html *html, struct fault *why) MUST_CHECK;

void html_open(struct html *html, const char *tag);
void html_attribute(struct html *html, const char *name, const char *value);
void html_attribute_i32(struct html *html, const char *name, int32_t value);
void html_text(struct html *html, const char *text);
void html_close(struct html *html); /* the innermost; one that holds nothing in HTML has no end */
/* The whole of it: class and text may be NULL. */
void html_element(struct html *html, const char *tag, const char *class, const char *text);

#endif
