/* SPDX-License-Identifier: MIT */
#include "term.h"

#include <assert.h>
#include <curses.h>
#include <errno.h>
#include <fcntl.h>
#include <poll.h>
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/ioctl.h>
#include <term.h>
#include <termios.h>
#include <unistd.h>

enum { RESTORE_SIZE = 160, ESCAPE_WAIT_MS = 50 };

/* Signal and exit handlers take no argument, so what they need stands here. Everything that a
 * handler reads was written before it was set. */
static struct {
	volatile sig_atomic_t running;
	volatile sig_atomic_t leave; /* number of the signal */
	volatile sig_atomic_t stop;
	volatile sig_atomic_t woken;
	volatile sig_atomic_t resized;
	int pipe[2];
	bool lost;
	bool pastes; /* bracketed paste can be asked for */
	bool colours;
	bool scheme_asked; /* by the environment */
	enum scheme scheme;
	SCREEN *screen;
	struct termios modes; /* as found */
	char restore[RESTORE_SIZE];
	size_t restore_length;
} terminal;

static const int leaving[] = {SIGHUP, SIGTERM, SIGINT, SIGQUIT};
static const int crashing[] = {SIGSEGV, SIGBUS, SIGFPE, SIGILL, SIGABRT};

/* --- handlers --- */

static void wake(void)
{
	const int kept = errno;
	const ssize_t written = write(terminal.pipe[1], "", 1);
	(void)written; /* full: the loop wakes all the same */
	errno = kept;
}

static void note_signal(int number)
{
	if (number == SIGTSTP)
		terminal.stop = 1;
	else if (number == SIGCONT)
		terminal.woken = 1;
	else if (number == SIGWINCH)
		terminal.resized = 1;
	else
		terminal.leave = number;
	wake();
}

static void write_restore(void)
{
	const ssize_t written = write(STDOUT_FILENO, terminal.restore, terminal.restore_length);
	(void)written;
	(void)tcsetattr(STDIN_FILENO, TCSANOW, &terminal.modes);
}

static void crash(int number)
{
	if (terminal.running)
		write_restore();
	terminal.running = 0;
	(void)raise(number); /* SA_RESETHAND put the usual end back */
}

static void set_handler(int number, void (*handler)(int), int flags)
{
	struct sigaction action = {.sa_handler = handler, .sa_flags = flags};
	(void)sigemptyset(&action.sa_mask);
	(void)sigaction(number, &action, NULL);
}

static void set_handlers(void)
{
	for (size_t i = 0; i < sizeof leaving / sizeof leaving[0]; i++) {
		struct sigaction old;
		/* what was asked to be ignored (nohup) stays so */
		if (sigaction(leaving[i], NULL, &old) == 0 && old.sa_handler != SIG_IGN)
			set_handler(leaving[i], note_signal, 0);
	}
	for (size_t i = 0; i < sizeof crashing / sizeof crashing[0]; i++)
		set_handler(crashing[i], crash, (int)(SA_RESETHAND | SA_NODEFER));
	set_handler(SIGTSTP, note_signal, 0);
	set_handler(SIGCONT, note_signal, 0);
	set_handler(SIGWINCH, note_signal, 0);
	set_handler(SIGPIPE, SIG_IGN, 0);
}

static void clear_handlers(void)
{
	for (size_t i = 0; i < sizeof leaving / sizeof leaving[0]; i++) {
		struct sigaction old;
		if (sigaction(leaving[i], NULL, &old) == 0 && old.sa_handler != SIG_IGN)
			set_handler(leaving[i], SIG_DFL, 0);
	}
	for (size_t i = 0; i < sizeof crashing / sizeof crashing[0]; i++)
		set_handler(crashing[i], SIG_DFL, 0);
	set_handler(SIGTSTP, SIG_DFL, 0);
	set_handler(SIGCONT, SIG_DFL, 0);
	set_handler(SIGWINCH, SIG_DFL, 0);
}

/* --- what the terminal can do --- */

static const char *capability(const char *name)
{
	const char *text = tigetstr(name);
	return text == NULL || text == (const char *)-1 ? "" : text;
}

/* Without the waits "$<5>" that terminfo asks for. */
static void add_restore(const char *text)
{
	while (*text != '\0' && terminal.restore_length < RESTORE_SIZE) {
		const char *end = strncmp(text, "$<", 2) == 0 ? strchr(text, '>') : NULL;
		if (end == NULL)
			terminal.restore[terminal.restore_length++] = *text++;
		else
			text = end + 1;
	}
}

static void make_restore(void)
{
	terminal.pastes = strncmp(capability("cup"), "\033[", 2) == 0;
	terminal.restore_length = 0;
	if (terminal.pastes)
		add_restore("\033[?2004l");
	add_restore(capability("sgr0"));
	add_restore(capability("rmkx"));
	add_restore(capability("cnorm"));
	add_restore(capability("rmcup"));
}

/* A newer terminal than terminfo knows calls itself something like one that it does know. */
static const char *likely_name(const char *name)
{
	static const char *const signs[] = {"xterm", "256color", "tmux", "screen", "direct"};
	for (size_t i = 0; i < sizeof signs / sizeof signs[0]; i++) {
		if (strstr(name, signs[i]) != NULL)
			return "xterm-256color";
	}
	return NULL;
}

static enum status check_terminal(const char **name, struct fault *why)
{
	if (!isatty(STDIN_FILENO) || !isatty(STDOUT_FILENO))
		return fault_set(why, STATUS_SYNTAX,
			"no terminal to show the screens on; boughbook --help lists the commands, "
			"which need none");
	*name = getenv("TERM");
	if (*name == NULL || **name == '\0')
		return fault_set(why, STATUS_SYNTAX,
			"no terminal to show the screens on: TERM is not set; set it to what this "
			"terminal is, TERM=xterm-256color or TERM=vt100");
	int found = 0;
	if (setupterm(*name, STDOUT_FILENO, &found) != OK) {
		const char *likely = likely_name(*name);
		if (likely == NULL || setupterm(likely, STDOUT_FILENO, &found) != OK)
			return fault_set(why, STATUS_SYNTAX,
				"no terminal to show the screens on: the terminal '%.60s' is not "
				"known here; try TERM=xterm-256color or TERM=vt100",
				*name);
		*name = likely;
	}
	make_restore();
	const bool places = capability("cup")[0] != '\0';
	(void)del_curterm(cur_term); /* newterm reads its own */
	if (!places)
		return fault_set(why, STATUS_SYNTAX,
			"no terminal to show the screens on: on '%.60s' nothing can be put at its "
			"place; boughbook --help lists the commands, which need no such terminal",
			*name);
	return STATUS_OK;
}

/* --- colours --- */

/* What is asked for by name beats NO_COLOR; a terminal without colours has none to give. */
static void start_colours(void)
{
	const char *asked = getenv("BOUGHBOOK_COLOURS");
	const char *refused = getenv("NO_COLOR");
	enum scheme scheme = asked == NULL ? SCHEME_TOTAL : scheme_find(asked);
	terminal.colours = has_colors() && start_color() == OK && COLORS >= 8 &&
			   use_default_colors() == OK; /* else its own ground is not known */
	terminal.scheme_asked = scheme < SCHEME_TOTAL || (refused != NULL && refused[0] != '\0');
	if (scheme == SCHEME_TOTAL)
		scheme = terminal.scheme_asked ? SCHEME_NONE : SCHEME_OWN;
	(void)term_set_scheme(scheme);
}

bool term_set_scheme(enum scheme scheme)
{
	terminal.scheme = terminal.colours ? scheme : SCHEME_NONE;
	for (int i = 0; terminal.colours && i < STYLE_TOTAL; i++) {
		const struct look look = colours_look(scheme, (enum style)i);
		(void)init_pair((short)(i + 1), look.colour, look.ground);
	}
	bkgdset(' ' | (chtype)(term_attributes(STYLE_PLAIN) & A_COLOR));
	(void)clearok(stdscr, TRUE);
	return terminal.scheme == scheme;
}

enum scheme term_scheme(void)
{
	return terminal.scheme;
}

bool term_scheme_is_asked(void)
{
	return terminal.scheme_asked;
}

unsigned term_attributes(enum style style)
{
	const struct look look = colours_look(terminal.scheme, style);
	chtype attributes = look.attributes;
	if (terminal.colours && (look.colour >= 0 || look.ground >= 0))
		attributes |= (chtype)COLOR_PAIR(style + 1);
	return (unsigned)attributes;
}

/* --- size --- */

static void take_size(void)
{
	struct winsize size = {.ws_row = 0};
	if (ioctl(STDOUT_FILENO, TIOCGWINSZ, &size) != 0)
		return;
	if (size.ws_row == 0 || size.ws_col == 0) /* not told: what a terminal always had */
		size = (struct winsize){.ws_row = 24, .ws_col = 80};
	if (size.ws_row != LINES || size.ws_col != COLS)
		(void)resize_term(size.ws_row, size.ws_col);
	(void)clearok(stdscr, TRUE);
}

/* --- start and end --- */

static void ask_pastes(bool on)
{
	if (!terminal.pastes || terminal.lost)
		return;
	(void)putp(on ? "\033[?2004h" : "\033[?2004l");
	(void)fflush(stdout);
}

static void set_modes(void)
{
	(void)raw(); /* Ctrl-S, Ctrl-V, Ctrl-Z and Ctrl-C come as keys */
	(void)noecho();
	(void)nonl();
	(void)intrflush(stdscr, FALSE);
	(void)keypad(stdscr, TRUE);
	(void)nodelay(stdscr, TRUE);
	(void)meta(stdscr, TRUE);
	(void)leaveok(stdscr, FALSE);
	(void)curs_set(1);
}

enum status term_start(struct fault *why)
{
	const char *name = NULL;
	enum status status = check_terminal(&name, why);
	if (status != STATUS_OK)
		return status;
	if (pipe(terminal.pipe) != 0 || fcntl(terminal.pipe[0], F_SETFL, O_NONBLOCK) != 0 ||
		fcntl(terminal.pipe[1], F_SETFL, O_NONBLOCK) != 0 ||
		fcntl(terminal.pipe[0], F_SETFD, FD_CLOEXEC) != 0 ||
		fcntl(terminal.pipe[1], F_SETFD, FD_CLOEXEC) != 0 ||
		tcgetattr(STDIN_FILENO, &terminal.modes) != 0)
		return fault_set(
			why, STATUS_IO, "the terminal could not be set up: %s", strerror(errno));
	set_handlers(); /* before curses, which leaves handlers alone that are set */
	use_env(FALSE); /* LINES and COLUMNS of the environment never change */
	use_tioctl(TRUE);
	if (getenv("ESCDELAY") == NULL)
		(void)set_escdelay(ESCAPE_WAIT_MS);
	terminal.screen = newterm(name, stdout, stdin);
	if (terminal.screen == NULL) {
		clear_handlers();
		return fault_set(why, STATUS_SYNTAX,
			"no terminal to show the screens on: '%.60s' could not be started", name);
	}
	terminal.running = 1;
	(void)atexit(term_end);
	set_modes();
	start_colours();
	take_size();
	ask_pastes(true);
	return STATUS_OK;
}

void term_end(void)
{
	if (!terminal.running)
		return;
	terminal.running = 0;
	ask_pastes(false);
	(void)endwin();
	if (terminal.lost)
		(void)tcsetattr(STDIN_FILENO, TCSANOW, &terminal.modes);
	clear_handlers();
	delscreen(terminal.screen);
	terminal.screen = NULL;
	(void)close(terminal.pipe[0]);
	(void)close(terminal.pipe[1]);
}

void term_die(int signal_number)
{
	term_end();
	set_handler(signal_number, SIG_DFL, 0);
	(void)raise(signal_number);
}

void term_suspend(void)
{
	terminal.stop = 0;
	ask_pastes(false);
	(void)endwin();
	set_handler(SIGTSTP, SIG_DFL, 0);
	(void)raise(SIGTSTP);
	/* somebody brought us back; the terminal's modes are the shell's now */
	set_handler(SIGTSTP, note_signal, 0);
	terminal.woken = 0;
	(void)reset_prog_mode();
	set_modes();
	take_size();
	ask_pastes(true);
	(void)refresh();
}

/* --- waiting --- */

int term_signal(void)
{
	return terminal.leave;
}

bool term_is_lost(void)
{
	return terminal.lost;
}

void term_set_lost(void)
{
	terminal.lost = true;
}

static bool take_flag(volatile sig_atomic_t *flag)
{
	const bool was_set = *flag != 0;
	*flag = 0;
	return was_set;
}

static bool take_event(enum term_event *event)
{
	if (terminal.leave != 0 || terminal.lost) {
		*event = TERM_LEAVE;
	} else if (take_flag(&terminal.stop)) {
		*event = TERM_STOP;
	} else if (take_flag(&terminal.resized)) {
		take_size();
		*event = TERM_RESIZED;
	} else if (take_flag(&terminal.woken)) {
		(void)reset_prog_mode();
		take_size();
		ask_pastes(true);
		*event = TERM_WOKEN;
	} else {
		return false;
	}
	return true;
}

enum term_event term_wait(int milliseconds)
{
	enum term_event event = TERM_TIME;
	struct pollfd files[] = {
		{.fd = STDIN_FILENO, .events = POLLIN}, {.fd = terminal.pipe[0], .events = POLLIN}};
	char bytes[64];
	if (take_event(&event))
		return event;
	(void)poll(files, 2, milliseconds);
	while (read(terminal.pipe[0], bytes, sizeof bytes) > 0)
		continue;
	if (take_event(&event))
		return event;
	if ((files[0].revents & POLLIN) != 0)
		return TERM_KEYS;
	if ((files[0].revents & (POLLHUP | POLLERR | POLLNVAL)) != 0) {
		terminal.lost = true;
		return TERM_LEAVE;
	}
	return TERM_TIME;
}

bool term_wait_keys(int milliseconds)
{
	struct pollfd file = {.fd = STDIN_FILENO, .events = POLLIN};
	return poll(&file, 1, milliseconds) > 0 && (file.revents & POLLIN) != 0;
}
