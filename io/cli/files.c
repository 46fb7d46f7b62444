/* SPDX-License-Identifier: GPL-3.0-or-later */
#define _POSIX_C_SOURCE 200809L
#include "io/cli/files.h"

#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

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
	char folder[4096];
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
static int open_temporary(const char *path, char *temporary, size_t size)
{
	for (int i = 0; i < 100; i++) {
		int length = snprintf(temporary, size, "%s.%ld-%d.part", path, (long)getpid(), i);
		if (length < 0 || (size_t)length >= size) {
			errno = ENAMETOOLONG;
			return -1;
		}
		int file = open(temporary, O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, 0666);
		if (file >= 0 || errno != EEXIST)
			return file;
	}
	return -1;
}

static const char *finish(int file, const char *temporary, const char *path)
{
	if (fsync(file) != 0 && errno != EINVAL)
		return strerror(errno);
	if (rename(temporary, path) != 0)
		return strerror(errno);
	return NULL;
}

static const char *write_regular(const char *path, const rn_buffer *buffer)
{
	char temporary[4096];
	int file = open_temporary(path, temporary, sizeof temporary);
	if (file < 0)
		return strerror(errno);
	const char *why = write_all(file, buffer);
	if (!why)
		why = finish(file, temporary, path);
	close(file);
	if (why)
		unlink(temporary);
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
