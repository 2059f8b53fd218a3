/* SPDX-License-Identifier: MIT */
#include "report/html.h"

#include <assert.h>
#include <string.h>

#include "core/text.h"

/* Elements that hold nothing and have no end tag. */
static const char *const void_tags[] = {"meta", "br", "hr", "col"};

static bool is_void(const char *tag)
{
	for (size_t i = 0; i < sizeof void_tags / sizeof void_tags[0]; i++)
		if (strcmp(void_tags[i], tag) == 0)
			return true;
	return false;
}

/* The one place where a text of anybody's goes into the page. */
static void put_escaped(struct html *html, const char *text)
{
	const char *clean = text_clean_whole(html->arena, text, TEXT_PLAIN);

	for (; *clean != '\0'; clean++) {
		switch (*clean) {
		case '&':
			fputs("&amp;", html->stream);
			break;
		case '<':
			fputs("&lt;", html->stream);
			break;
		case '>':
			fputs("&gt;", html->stream);
			break;
		case '"':
			fputs("&quot;", html->stream);
			break;
		case '\'':
			fputs("&#39;", html->stream);
			break;
		default:
			fputc(*clean, html->stream);
		}
	}
	arena_reset(html->arena);
}

static void end_tag_start(struct html *html)
{
	if (html->in_tag)
		fputc('>', html->stream);
	html->in_tag = false;
}

struct html html_begin(FILE *stream, const char *title, const char *style)
{
	struct html html = {.stream = stream, .arena = arena_new()};

	fputs("<!DOCTYPE html>\n", stream);
	html_open(&html, "html");
	html_attribute(&html, "lang", "en");
	html_open(&html, "head");
	html_open(&html, "meta");
	html_attribute(&html, "charset", "UTF-8");
	html_close(&html);
	html_open(&html, "meta");
	html_attribute(&html, "name", "viewport");
	html_attribute(&html, "content", "width=device-width, initial-scale=1");
	html_close(&html);
	html_element(&html, "title", NULL, title);
	html_open(&html, "style");
	end_tag_start(&html);
	fprintf(stream, "\n%s", style);
	html_close(&html);
	html_close(&html);
	html_open(&html, "body");
	return html;
}

enum status html_end(struct html *html, struct fault *why)
{
	while (html->depth > 0)
		html_close(html);
	fputc('\n', html->stream);
	arena_free(html->arena);
	html->arena = NULL;
	if (fflush(html->stream) != 0 || ferror(html->stream))
		return fault_set(why, STATUS_IO, "the page could not be written");
	return STATUS_OK;
}

/* What stands by itself begins on a line of its own. */
static bool begins_line(const char *tag)
{
	static const char *const inline_tags[] = {"span", "strong", "b", "title", "td", "th"};

	for (size_t i = 0; i < sizeof inline_tags / sizeof inline_tags[0]; i++)
		if (strcmp(inline_tags[i], tag) == 0)
			return false;
	return true;
}

void html_open(struct html *html, const char *tag)
{
	assert(html->depth < HTML_DEPTH_MAX);
	end_tag_start(html);
	fprintf(html->stream, "%s<%s", html->depth > 0 && begins_line(tag) ? "\n" : "", tag);
	html->open[html->depth++] = tag;
	html->in_tag = true;
}

void html_attribute(struct html *html, const char *name, const char *value)
{
	assert(html->in_tag);
	fprintf(html->stream, " %s=\"", name);
	put_escaped(html, value);
	fputc('"', html->stream);
}

void html_attribute_i32(struct html *html, const char *name, int32_t value)
{
	char text[16];

	snprintf(text, sizeof text, "%d", (int)value);
	html_attribute(html, name, text);
}

void html_text(struct html *html, const char *text)
{
	end_tag_start(html);
	put_escaped(html, text);
}

void html_close(struct html *html)
{
	assert(html->depth > 0);
	const char *tag = html->open[--html->depth];

	end_tag_start(html);
	if (!is_void(tag))
		fprintf(html->stream, "</%s>", tag);
}

void html_element(struct html *html, const char *tag, const char *class, const char *text)
{
	html_open(html, tag);
	if (class != NULL)
		html_attribute(html, "class", class);
	if (text != NULL)
		html_text(html, text);
	html_close(html);
}
