/* SPDX-License-Identifier: MIT */
/* A file and a folder written whole while the system refuses the Nth call, for every N: what stood
 * there is as it was or all new, it is only told as done when it is new, and nothing lies beside.
 * The calls are wrapped by the linker. A write that fails is a limit on the size of files. */
#include "support/test.h"

#include <dirent.h>
#include <errno.h>
#include <fcntl.h>
#include <signal.h>
#include <stdarg.h>
#include <stdlib.h>
#include <string.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

#include "core/file.h"
#include "core/folder.h"

enum { CALLS_MAX = 60, ODD_MODE = 0640, SIZE = 20000 };

static int calls, fail_at;
static const char *failed; /* which one it was */

int __real_mkstemp(char *name);
char *__real_mkdtemp(char *name);
int __real_open(const char *path, int flags, ...);
FILE *__real_fdopen(int handle, const char *mode);
int __real_fchmod(int handle, mode_t mode);
int __real_chmod(const char *path, mode_t mode);
int __real_fflush(FILE *file);
int __real_fsync(int handle);
int __real_fclose(FILE *file);
int __real_rename(const char *from, const char *to);
int __real_renameat2(
	int from_folder, const char *from, int to_folder, const char *to, unsigned how);
int __wrap_mkstemp(char *name);
char *__wrap_mkdtemp(char *name);
int __wrap_open(const char *path, int flags, ...);
FILE *__wrap_fdopen(int handle, const char *mode);
int __wrap_fchmod(int handle, mode_t mode);
int __wrap_chmod(const char *path, mode_t mode);
int __wrap_fflush(FILE *file);
int __wrap_fsync(int handle);
int __wrap_fclose(FILE *file);
int __wrap_rename(const char *from, const char *to);
int __wrap_renameat2(
	int from_folder, const char *from, int to_folder, const char *to, unsigned how);

static bool is_refused(const char *name)
{
	if (fail_at == 0 || ++calls != fail_at)
		return false;
	failed = name;
	errno = EIO;
	return true;
}

int __wrap_mkstemp(char *name)
{
	return is_refused("mkstemp") ? -1 : __real_mkstemp(name);
}

char *__wrap_mkdtemp(char *name)
{
	return is_refused("mkdtemp") ? NULL : __real_mkdtemp(name);
}

int __wrap_open(const char *path, int flags, ...)
{
	va_list more;
	va_start(more, flags);
	const mode_t mode = (flags & O_CREAT) != 0 ? va_arg(more, mode_t) : 0;
	va_end(more);
	return is_refused("open") ? -1 : __real_open(path, flags, mode);
}

FILE *__wrap_fdopen(int handle, const char *mode)
{
	return is_refused("fdopen") ? NULL : __real_fdopen(handle, mode);
}

int __wrap_fchmod(int handle, mode_t mode)
{
	return is_refused("fchmod") ? -1 : __real_fchmod(handle, mode);
}

int __wrap_chmod(const char *path, mode_t mode)
{
	return is_refused("chmod") ? -1 : __real_chmod(path, mode);
}

int __wrap_fflush(FILE *file)
{
	return is_refused("fflush") ? -1 : __real_fflush(file);
}

int __wrap_fsync(int handle)
{
	return is_refused("fsync") ? -1 : __real_fsync(handle);
}

int __wrap_fclose(FILE *file)
{
	const bool refused = is_refused("fclose");
	const int closed = __real_fclose(file);
	errno = refused ? EIO : errno;
	return refused ? -1 : closed;
}

int __wrap_rename(const char *from, const char *to)
{
	return is_refused("rename") ? -1 : __real_rename(from, to);
}

int __wrap_renameat2(int from_folder, const char *from, int to_folder, const char *to, unsigned how)
{
	return is_refused("renameat2") ? -1
				       : __real_renameat2(from_folder, from, to_folder, to, how);
}

/* --- one file --- */

struct place {
	struct scratch scratch;
	char target[SCRATCH_PATH_SIZE]; /* a file or a folder */
	char inside[SCRATCH_PATH_SIZE]; /* the file; in the folder */
	char bytes[SIZE];
};

static enum status write_file(struct place *place, struct fault *why)
{
	return file_write_whole(place->target, place->bytes, sizeof place->bytes, why);
}

static enum status fill(struct folder_writing *writing, struct place *place, struct fault *why)
{
	FILE *out = NULL;
	enum status status = folder_begin(writing, why);
	if (status == STATUS_OK)
		status = folder_file_begin(writing, "one.csv", &out, why);
	if (status != STATUS_OK)
		return status;
	(void)fwrite(place->bytes, 1, sizeof place->bytes, out);
	status = folder_file_end(writing, "one.csv", out, why);
	return status == STATUS_OK ? folder_end(writing, why) : status;
}

static enum status write_folder(struct place *place, struct fault *why)
{
	struct folder_writing writing;
	enum status status = folder_look(place->target, &writing, why);
	if (status == STATUS_OK)
		status = fill(&writing, place, why);
	folder_abandon(&writing);
	return status;
}

static int entries(const char *folder)
{
	DIR *list = opendir(folder);
	int count = 0;
	assert_non_null(list);
	while (readdir(list) != NULL)
		count++;
	closedir(list);
	return count - 2;
}

struct way {
	const char *name;
	bool folder;
	bool stands; /* something is there before */
	enum status (*write)(struct place *place, struct fault *why);
};

static const struct way ways[] = {
	{"a_new_file", false, false, write_file},
	{"a_file_written_over", false, true, write_file},
	{"a_new_folder", true, false, write_folder},
	{"a_folder_written_over", true, true, write_folder},
};

static void lay_out(struct place *place, const struct way *way)
{
	place->scratch = scratch_make();
	(void)scratch_path(&place->scratch, "out", place->target);
	(void)scratch_path(&place->scratch, way->folder ? "out/one.csv" : "out", place->inside);
	memset(place->bytes, 'n', sizeof place->bytes);
	if (!way->stands)
		return;
	if (way->folder)
		assert_int_equal(mkdir(place->target, 0750), 0);
	file_write(place->inside, "the old words", 13);
	assert_int_equal(chmod(place->inside, ODD_MODE), 0);
}

/* True: all new. Else all old. */
static bool is_new(const struct place *place, const struct way *way)
{
	size_t length = 0;
	struct stat about;
	const bool is_there = lstat(place->target, &about) == 0;
	check_int(entries(place->scratch.folder), is_there, failed);
	if (!is_there) {
		assert_false(way->stands);
		return false;
	}
	if (way->folder)
		check_int(entries(place->target), 1, failed);
	char *bytes = file_read(place->inside, &length);
	const bool all_new =
		length == sizeof place->bytes && memcmp(bytes, place->bytes, length) == 0;
	if (!all_new)
		check_text(bytes, "the old words", failed);
	free(bytes);
	assert_int_equal(lstat(place->inside, &about), 0);
	check_int(about.st_mode & 07777, way->stands ? ODD_MODE : 0600, "mode");
	return all_new;
}

static bool try_at(const struct way *way, int n)
{
	struct place *place = calloc(1, sizeof *place);
	struct fault why = {.status = STATUS_OK};
	assert_non_null(place);
	lay_out(place, way);
	failed = NULL;
	calls = 0;
	fail_at = n;
	const enum status status = way->write(place, &why);
	fail_at = 0;
	const bool reached = failed != NULL;
	if (status != STATUS_OK)
		assert_true(why.text[0] != '\0' && strchr(why.text, '\n') == NULL);
	check_int(is_new(place, way), status == STATUS_OK, failed == NULL ? "none" : failed);
	assert_true(reached || status == STATUS_OK);
	scratch_remove(&place->scratch);
	free(place);
	return reached;
}

static void whole_whichever_call_fails(const void *one)
{
	int n = 1;
	while (n < CALLS_MAX && try_at(one, n))
		n++;
	assert_true(n > 5 && n < CALLS_MAX);
}

/* --- a write that fails --- */

static void write_with_room_for(const struct way *way, struct place *place, rlim_t room)
{
	const struct rlimit limit = {room, room};
	struct fault why = {.status = STATUS_OK};
	(void)signal(SIGXFSZ, SIG_IGN);
	if (setrlimit(RLIMIT_FSIZE, &limit) != 0)
		_exit(2);
	_exit(way->write(place, &why) == STATUS_IO && strstr(why.text, "out") != NULL ? 0 : 1);
}

static void whole_wherever_the_room_ends(const void *one)
{
	static const rlim_t rooms[] = {0, 1, 4095, 4096, 4097, SIZE - 1};
	const struct way *way = one;
	for (size_t i = 0; i < sizeof rooms / sizeof rooms[0]; i++) {
		int status = 0;
		struct place *place = calloc(1, sizeof *place);
		assert_non_null(place);
		lay_out(place, way);
		const pid_t child = fork();
		assert_true(child >= 0);
		if (child == 0)
			write_with_room_for(way, place, rooms[i]);
		check_int(waitpid(child, &status, 0), child, "wait");
		check_int(status, 0, "told");
		failed = "write";
		assert_false(is_new(place, way));
		scratch_remove(&place->scratch);
		free(place);
	}
}

int main(void)
{
	const int failures = RUN_CASES("calls", ways, whole_whichever_call_fails) +
			     RUN_CASES("room", ways, whole_wherever_the_room_ends);
	return failures != 0;
}
