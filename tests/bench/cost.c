/* SPDX-License-Identifier: MIT */
/* Runs a command; the last line of stderr is what it cost: seconds by the clock, of processor, most
 * kilobytes resident. Leaves with its status.
 *     cost COMMAND WORD...
 * Started from here and not from a large program, whose memory would count as its own. */
#include <stdio.h>
#include <stdlib.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <time.h>
#include <unistd.h>

enum { LIMIT_S = 600, NOT_RUN = 127, BY_SIGNAL = 128 };

static double now_s(void)
{
	struct timespec now;
	clock_gettime(CLOCK_MONOTONIC, &now);
	return (double)now.tv_sec + (double)now.tv_nsec / 1e9;
}

static double seconds(struct timeval time)
{
	return (double)time.tv_sec + (double)time.tv_usec / 1e6;
}

static void become(char **words)
{
	const struct rlimit bound = {.rlim_cur = LIMIT_S, .rlim_max = LIMIT_S};
	(void)setrlimit(RLIMIT_CPU, &bound);
	(void)execvp(words[0], words);
	perror(words[0]);
	_exit(NOT_RUN);
}

int main(int count, char **words)
{
	const double began = now_s();
	const pid_t child = count > 1 ? fork() : -1;
	struct rusage used;
	int status;
	if (child == 0)
		become(words + 1);
	if (child < 0 || waitpid(child, &status, 0) != child ||
		getrusage(RUSAGE_CHILDREN, &used) != 0)
		return NOT_RUN;
	(void)fprintf(stderr, "\n%.6f %.6f %ld\n", now_s() - began,
		seconds(used.ru_utime) + seconds(used.ru_stime), used.ru_maxrss);
	return WIFEXITED(status) ? WEXITSTATUS(status) : BY_SIGNAL + WTERMSIG(status);
}
