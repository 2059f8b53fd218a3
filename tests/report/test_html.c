/* SPDX-License-Identifier: MIT */
/* The one door for escaping: no text becomes markup, wherever it stands. */
#include "report/html.h"

#include <stdlib.h>
#include <string.h>

#include "core/file.h"

#include "support/test.h"

struct page {
	char *bytes;
	size_t length;
	FILE *stream;
	struct html html;
};

static void begin(struct page *page, const char *title)
{
	page->stream = open_memstream(&page->bytes, &page->length);
	assert_non_null(page->stream);
	page->html = html_begin(page->stream, title, "p { margin: 0; }\n");
}

static void end(struct page *page)
{
	struct fault why = {0};

	check_ok(html_end(&page->html, &why), &why);
	fclose(page->stream);
}

static void a_page_has_its_head(void **state)
{
	struct page page;
	(void)state;

	begin(&page, "Hill yard");
	end(&page);
	check_text(page.bytes,
		"<!DOCTYPE html>\n"
		"<html lang=\"en\">\n<head>\n<meta charset=\"UTF-8\">\n"
		"<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">"
		"<title>Hill yard</title>\n"
		"<style>\np { margin: 0; }\n</style></head>\n<body></body></html>\n",
		"head");
	free(page.bytes);
}

struct escape_case {
	const char *text;
	const char *want;
};

static const struct escape_case escapes[] = {
	{"plain", "plain"},
	{"</script><script>alert(1)</script>",
		"&lt;/script&gt;&lt;script&gt;alert(1)&lt;/script&gt;"},
	{"a & b &amp; c", "a &amp; b &amp;amp; c"},
	{"\" onload='x'", "&quot; onload=&#39;x&#39;"},
	{"--><!-- ]]>", "--&gt;&lt;!-- ]]&gt;"},
	{"two\nlines\tand", "two lines and"},
	{"esc \033[31m", "esc \xe2\x90\x9b[31m"},
	{"turn \xe2\x80\xae back", "turn \xef\xbf\xbd back"},
	{"bad \xff byte", "bad \xef\xbf\xbd byte"},
	{"N\xc3\xadspero", "N\xc3\xadspero"},
	{"", ""},
};

static void text_is_escaped_in_elements_and_attributes(void **state)
{
	(void)state;
	for (size_t i = 0; i < sizeof escapes / sizeof escapes[0]; i++) {
		struct page page;
		char want[400];

		begin(&page, escapes[i].text);
		html_open(&page.html, "p");
		html_attribute(&page.html, "class", escapes[i].text);
		html_text(&page.html, escapes[i].text);
		end(&page);
		snprintf(want, sizeof want, "<p class=\"%s\">%s</p>", escapes[i].want,
			escapes[i].want);
		check_has(page.bytes, want, escapes[i].text);
		snprintf(want, sizeof want, "<title>%s</title>", escapes[i].want);
		check_has(page.bytes, want, escapes[i].text);
		free(page.bytes);
	}
}

/* Each single byte, and each pair with '<': nothing but the tags written stands in the page. */
static void no_byte_opens_a_tag(void **state)
{
	(void)state;
	for (int byte = 1; byte < 256; byte++) {
		struct page page;
		char text[] = {'<', (char)byte, '/', '<', 'x', '>', (char)byte, '\0'};
		int opened = 0;

		begin(&page, "t");
		const long before = ftell(page.stream);
		html_element(&page.html, "p", NULL, text);
		fflush(page.stream);
		for (const char *at = page.bytes + before; *at != '\0'; at++)
			opened += *at == '<';
		check_int(opened, 2, "<p> and </p>");
		end(&page);
		free(page.bytes);
	}
}

static void what_is_open_is_closed_in_turn(void **state)
{
	struct page page;
	(void)state;

	begin(&page, "t");
	html_open(&page.html, "table");
	html_open(&page.html, "tr");
	html_element(&page.html, "td", "figures", "1");
	html_open(&page.html, "td");
	html_open(&page.html, "br");
	html_close(&page.html);
	end(&page);
	check_has(page.bytes,
		"<tr><td class=\"figures\">1</td><td>\n<br></td></tr></table></body></html>",
		"ends");
	free(page.bytes);
}

static void a_full_disk_is_told(void **state)
{
	struct fault why = {0};
	FILE *full = fopen("/dev/full", "w");
	(void)state;

	if (full == NULL)
		skip();
	struct html html = html_begin(full, "t", "");
	check_refused(html_end(&html, &why), STATUS_IO, &why, "could not be written");
	fclose(full);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(a_page_has_its_head),
		cmocka_unit_test(text_is_escaped_in_elements_and_attributes),
		cmocka_unit_test(no_byte_opens_a_tag),
		cmocka_unit_test(what_is_open_is_closed_in_turn),
		cmocka_unit_test(a_full_disk_is_told),
	};
	return cmocka_run_group_tests(tests, NULL, NULL) != 0;
}
