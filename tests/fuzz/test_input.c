/* SPDX-License-Identifier: MIT */
/* What a terminal may send, and lines being edited by it: the reader comes to an end, keeps no
 * half character, and the line is valid text with its cursor between clusters after each key. */
#include "support/replay.h"

#include <assert.h>
#include <curses.h>
#include <poll.h>
#include <string.h>
#include <sys/ioctl.h>
#include <unistd.h>

#include "core/edit.h"
#include "core/text.h"
#include "screens/input.h"

enum { BYTES_MAX = 4096, LIMIT = 40, CELLS = 20 };

static int feed = -1; /* into our standard input */

/* In the stead of the system's: bytes wait, or none will ever come. So no test waits for them. */
/* NOLINTNEXTLINE(readability-inconsistent-declaration-parameter-name) */
int poll(struct pollfd *files, nfds_t count, int milliseconds)
{
	int waiting = 0;
	(void)milliseconds;
	for (nfds_t i = 0; i < count; i++) {
		int bytes = 0;
		const bool here = ioctl(files[i].fd, FIONREAD, &bytes) == 0 && bytes > 0;
		files[i].revents = here ? files[i].events : 0;
		waiting += here;
	}
	return waiting;
}

static void make(void)
{
	int ends[2];
	FILE *nothing = fopen("/dev/null", "w");
	assert(nothing != NULL && pipe(ends) == 0);
	assert(dup2(ends[0], STDIN_FILENO) == STDIN_FILENO);
	(void)close(ends[0]);
	feed = ends[1];
	assert(newterm("xterm-256color", nothing, stdin) != NULL);
	(void)keypad(stdscr, TRUE);
	(void)nodelay(stdscr, TRUE);
	(void)set_escdelay(1);
	input_teach();
}

static void check_line(struct edit *edit)
{
	char out[TEXT_FIT_SIZE(CELLS)];
	assert(edit->length == strlen(edit->text));
	assert(text_is_valid(edit->text, edit->length));
	assert(text_count_characters(edit->text) <= LIMIT);
	assert(edit->cursor <= edit->length);
	const struct edit_view view = edit_show(edit, CELLS, TEXT_PLAIN, out, sizeof out);
	assert(view.cursor >= 0 && view.cursor < CELLS && view.from <= view.to);
	assert(text_width(out) == CELLS);
}

static void type(struct edit *edit, const struct input *input)
{
	static const struct {
		uint32_t key;
		enum edit_act act;
	} acts[] = {{KEYS_LEFT, EDIT_LEFT}, {KEYS_RIGHT, EDIT_RIGHT}, {KEYS_HOME, EDIT_HOME},
		{KEYS_END, EDIT_END}, {KEYS_WORD_LEFT, EDIT_WORD_LEFT},
		{KEYS_WORD_RIGHT, EDIT_WORD_RIGHT}, {KEYS_BACKSPACE, EDIT_DELETE_BACK},
		{KEYS_DELETE, EDIT_DELETE}, {KEYS_UP, EDIT_UNDO}, {KEYS_TAB, EDIT_KILL_WORD},
		{KEYS_DOWN, EDIT_KILL_TO_END}, {KEYS_BACK_TAB, EDIT_KILL_LINE}};
	char letter[5] = "";
	if (input->key == KEYS_PASTE)
		(void)edit_insert(edit, input->pasted);
	if (input->key < KEYS_FROM) {
		letter[text_encode(input->key, letter)] = '\0';
		(void)edit_insert(edit, letter);
	}
	for (size_t i = 0; i < sizeof acts / sizeof acts[0]; i++) {
		if (acts[i].key == input->key)
			(void)edit_do(edit, acts[i].act);
	}
}

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t length)
{
	static struct input_reader reader;
	static struct edit edit;
	if (feed < 0)
		make();
	const size_t sent = length < BYTES_MAX ? length : BYTES_MAX;
	assert(write(feed, bytes, sent) == (ssize_t)sent);
	edit_start(&edit, LIMIT);
	for (size_t read = 0; input_waits(&reader); read++) {
		const struct input input = input_read(&reader);
		assert(read <= sent * 2);
		assert(input.key != KEYS_PASTE || strlen(input.pasted) < PASTE_SIZE);
		type(&edit, &input);
		check_line(&edit);
	}
	return 0;
}

int main(void)
{
	return replay_corpus("input", LLVMFuzzerTestOneInput);
}
