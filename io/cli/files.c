/* SPDX-License-Identifier: GPL-3.0-or-later */
#define _POSIX_C_SOURCE 200809L
#include "io/cli/files.h"

#include <errno.h>
#include <fcntl.h>
#include <signal.h>
#include <stdio.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

/* ---- signals ------------------------------------------------------------------------------- */

enum { PATH_ROOM = 4096 };

/* The state the whole process shares, because a signal handler can be given nothing: the file being
 * written, and whether it is there, written with signals held back; and whether work is to end. */
static char temporary[PATH_ROOM];
static volatile sig_atomic_t temporary_there;
static volatile int interrupted;

static const int ending[] = {SIGHUP, SIGINT, SIGTERM, SIGXCPU};
enum { ENDING_COUNT = sizeof ending / sizeof *ending };

/* Takes the half written file away, then ends as the signal would have ended the program. */
static void on_ending(int number)
{
	if (temporary_there)
		unlink(temporary);
	signal(number, SIG_DFL);
	raise(number);
}

/* What reads it may be another thread. */
static void on_interrupt(int number)
{
	__atomic_store_n(&interrupted, 1, __ATOMIC_RELAXED);
	signal(number, on_ending);
}

static void handle(int number, void (*handler)(int number))
{
	struct sigaction now, before;
	memset(&now, 0, sizeof now);
	now.sa_handler = handler;
	sigemptyset(&now.sa_mask);
	if (sigaction(number, NULL, &before) == 0 && before.sa_handler != SIG_IGN)
		sigaction(number, &now, NULL);
}

const volatile int *rn_files_catch_interrupt(void)
{
	handle(SIGINT, on_interrupt);
	return &interrupted;
}

void rn_files_release_interrupt(void)
{
	handle(SIGINT, on_ending);
}

void rn_files_end_by_interrupt(void)
{
	on_ending(SIGINT);
}

static void hold_signals(bool hold)
{
	sigset_t set;
	sigemptyset(&set);
	for (int i = 0; i < ENDING_COUNT; i++)
		sigaddset(&set, ending[i]);
	sigprocmask(hold ? SIG_BLOCK : SIG_UNBLOCK, &set, NULL);
}

/* A signal that is ignored already (nohup) stays so. */
static void catch_signals(void)
{
	for (int i = 0; i < ENDING_COUNT; i++)
		handle(ending[i], on_ending);
	signal(SIGPIPE, SIG_IGN);
	signal(SIGXFSZ, SIG_IGN);
}

/* Opened the wrong way round: to write to a closed output is still the error it was. */
static void fill_closed_streams(void)
{
	for (int file = STDIN_FILENO; file <= STDERR_FILENO; file++)
		if (fcntl(file, F_GETFD) < 0 && errno == EBADF)
			(void)!open("/dev/null", file == STDIN_FILENO ? O_WRONLY : O_RDONLY);
}

void rn_files_begin(void)
{
	fill_closed_streams();
	catch_signals();
}

/* ---- reading ------------------------------------------------------------------------------- */

static const char *read_all(int file, size_t most, rn_buffer *buffer)
{
	char block[16384];
	size_t start = buffer->size;
	while (buffer->size - start <= most) {
		size_t want = most + 1 - (buffer->size - start);
		ssize_t got = read(file, block, want < sizeof block ? want : sizeof block);
		if (got < 0 && errno == EINTR)
			continue;
		if (got < 0)
			return strerror(errno);
		if (got == 0 || rn_buffer_status(buffer) != RN_OK)
			return NULL;
		rn_buffer_add(buffer, block, (size_t)got);
	}
	return NULL;
}

/* Nothing but a regular file is read: a pipe could block for ever, a folder has no bytes. */
static const char *read_regular(int file, size_t most, rn_buffer *buffer)
{
	struct stat about;
	if (file < 0)
		return strerror(errno);
	const char *why = fstat(file, &about) != 0    ? strerror(errno)
	                  : S_ISDIR(about.st_mode)    ? "it is a folder"
	                  : !S_ISREG(about.st_mode)   ? "it is not a regular file"
	                                              : read_all(file, most, buffer);
	close(file);
	return why;
}

const char *rn_files_read(const char *path, size_t most, rn_buffer *buffer)
{
	if (strcmp(path, "-") == 0)
		return read_all(STDIN_FILENO, most, buffer);
	return read_regular(open(path, O_RDONLY | O_NONBLOCK | O_CLOEXEC), most, buffer);
}

static bool is_plain_name(const char *href)
{
	return href[0] != '\0' && href[0] != '.' && !strchr(href, '/') && !strchr(href, '\\');
}

static int open_folder_of(const char *model_path)
{
	char folder[PATH_ROOM];
	const char *slash = strrchr(model_path, '/');
	size_t size = slash ? (size_t)(slash - model_path) + 1 : 0;
	if (strcmp(model_path, "-") == 0 || size == 0)
		return open(".", O_RDONLY | O_DIRECTORY | O_CLOEXEC);
	if (size >= sizeof folder) {
		errno = ENAMETOOLONG;
		return -1;
	}
	memcpy(folder, model_path, size);
	folder[size] = '\0';
	return open(folder, O_RDONLY | O_DIRECTORY | O_CLOEXEC);
}

const char *rn_files_read_beside(const char *model_path, const char *href, size_t most,
                                 rn_buffer *buffer)
{
	if (!is_plain_name(href))
		return "a store is named by the plain name of a file in the model's own folder";
	int folder = open_folder_of(model_path);
	if (folder < 0)
		return strerror(errno);
	int file = openat(folder, href, O_RDONLY | O_NONBLOCK | O_NOFOLLOW | O_CLOEXEC);
	const char *why = file < 0 && errno == ELOOP ? "it is a link" : NULL;
	if (!why)
		why = read_regular(file, most, buffer);
	close(folder);
	return why;
}

/* ---- writing ------------------------------------------------------------------------------- */

static const char *write_all(int file, const rn_buffer *buffer)
{
	for (size_t done = 0; done < buffer->size;) {
		ssize_t wrote = write(file, buffer->bytes + done, buffer->size - done);
		if (wrote < 0 && errno == EINTR)
			continue;
		if (wrote < 0)
			return strerror(errno);
		done += (size_t)wrote;
	}
	return NULL;
}

/* A name beside the target that nobody else has: tried in turn, never over an existing file. */
static int open_temporary(const char *path)
{
	for (int i = 0; i < 100; i++) {
		int length = snprintf(temporary, sizeof temporary, "%s.%ld-%d.part", path,
		                      (long)getpid(), i);
		if (length < 0 || (size_t)length >= sizeof temporary) {
			errno = ENAMETOOLONG;
			return -1;
		}
		hold_signals(true);
		int file = open(temporary, O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, 0666);
		int error = errno;
		temporary_there = file >= 0;
		hold_signals(false);
		errno = error;
		if (file >= 0 || errno != EEXIST)
			return file;
	}
	return -1;
}

/* The name counts only once the folder is on the disk as well; where a folder cannot be synchronised
 * nothing more can be done. */
static void sync_folder(const char *path)
{
	int folder = open_folder_of(path);
	if (folder < 0)
		return;
	(void)fsync(folder);
	close(folder);
}

static const char *finish(int file, const char *path)
{
	struct stat about;
	if (stat(path, &about) == 0 && fchmod(file, about.st_mode & 0777) != 0)
		return strerror(errno);
	if (fsync(file) != 0 && errno != EINVAL)
		return strerror(errno);
	if (rename(temporary, path) != 0)
		return strerror(errno);
	sync_folder(path);
	return NULL;
}

static const char *write_regular(const char *path, const rn_buffer *buffer)
{
	int file = open_temporary(path);
	if (file < 0)
		return strerror(errno);
	const char *why = write_all(file, buffer);
	if (!why)
		why = finish(file, path);
	close(file);
	if (why)
		unlink(temporary);
	temporary_there = 0;
	return why;
}

static const char *write_as_is(const char *path, const rn_buffer *buffer)
{
	int file = open(path, O_WRONLY | O_CLOEXEC);
	if (file < 0)
		return strerror(errno);
	const char *why = write_all(file, buffer);
	if (close(file) != 0 && !why)
		why = strerror(errno);
	return why;
}

const char *rn_files_write(const char *path, const rn_buffer *buffer)
{
	struct stat about;
	if (!path || strcmp(path, "-") == 0)
		return write_all(STDOUT_FILENO, buffer);
	if (stat(path, &about) == 0 && S_ISDIR(about.st_mode))
		return "it is a folder";
	if (stat(path, &about) == 0 && !S_ISREG(about.st_mode))
		return write_as_is(path, buffer);
	return write_regular(path, buffer);
}

bool rn_files_same(const char *path, const char *other)
{
	struct stat a, b;
	return stat(path, &a) == 0 && stat(other, &b) == 0 && a.st_dev == b.st_dev &&
	       a.st_ino == b.st_ino;
}

bool rn_files_is_beside(const char *model_path, const char *href, const char *path)
{
	struct stat a, b;
	int folder = open_folder_of(model_path);
	bool same = folder >= 0 && fstatat(folder, href, &a, 0) == 0 && stat(path, &b) == 0 && a.st_dev == b.st_dev &&
	            a.st_ino == b.st_ino;
	if (folder >= 0)
		close(folder);
	return same;
}
