/* SPDX-License-Identifier: MIT */
/* What a key costs on each screen: bytes to the terminal and processor time, on the real program
 * in a pty. Prints figures, judges nothing. BOUGHBOOK_LOG= names a log other than the demo yard;
 * KEYS= how many keys of each (100). */
#include "support/stage.h"
#include "support/test.h"

#include <stdlib.h>
#include <string.h>
#include <time.h>

static const struct {
	const char *screen;
	const char *way;  /* the keys that lead there from the yard */
	const char *keys; /* typed in turn */
} rows[] = {
	{"yard", "", "Down"},
	{"yard, a screenful", "", "PageDown"},
	{"year", "Y", "Down"},
	{"year, a screenful", "Y", "PageDown"},
	{"tree", "Enter", "Down"},
	{"walk, next tree", "w", "Down"},
	{"walk, a letter", "w", "a"},
	{"review", "r", "Down"},
	{"season", "s", "Down"},
	{"weather", "W", "Down"},
	{"help", "?", "Down"},
};

static double now_s(void)
{
	struct timespec now;
	clock_gettime(CLOCK_MONOTONIC, &now);
	return (double)now.tv_sec + (double)now.tv_nsec / 1e9;
}

static struct pty *start(const char *log)
{
	const char *const arguments[] = {"--log", log, "--today", "2026-11-24", NULL};
	const struct pty_options options = {.rows = 24, .columns = 80};
	double began = now_s();
	struct pty *pty = pty_open_program(&options, arguments);
	pty_expect(pty, "its year now", 120000);
	static bool told;
	if (!told)
		print_message("first paint: %.1f ms, %.1f ms of processor, %zu bytes\n",
			(now_s() - began) * 1e3, pty_processor_s(pty) * 1e3, pty->received);
	told = true;
	(void)pty_read_quiet(pty, 60, 10000);
	return pty;
}

static void measure(const char *log, size_t row, int count)
{
	struct pty *pty = start(log);
	if (rows[row].way[0] != '\0')
		(void)pty_send_keys(pty, rows[row].way);
	(void)pty_read_quiet(pty, 100, 20000);
	size_t bytes = pty->received, most = 0;
	double processor = pty_processor_s(pty);
	for (int i = 0; i < count; i++) {
		size_t before = pty->received;
		(void)pty_send_keys(pty, rows[row].keys);
		(void)pty_read_quiet(pty, 15, 5000);
		most = pty->received - before > most ? pty->received - before : most;
	}
	print_message("%-20s %-9s %8.3f ms %8zu bytes, %6zu at most\n", rows[row].screen,
		rows[row].keys, (pty_processor_s(pty) - processor) * 1e3 / count,
		(pty->received - bytes) / (size_t)count, most);
	(void)pty_close(pty);
}

int main(void)
{
	const char *log = getenv("BOUGHBOOK_LOG");
	const char *wanted = getenv("KEYS");
	struct scratch scratch = scratch_make();
	char demo[SCRATCH_PATH_SIZE];
	int count = wanted != NULL ? atoi(wanted) : 100;
	if (log == NULL) {
		(void)scratch_path(&scratch, "demo.bough", demo);
		stage_make_demo(demo);
		log = demo;
	}
	print_message("%s, 80x24, %d keys each\n", log == demo ? "the demo yard" : log, count);
	for (size_t row = 0; row < sizeof rows / sizeof rows[0]; row++)
		measure(log, row, count < 1 ? 1 : count);
	scratch_remove(&scratch);
	return 0;
}
