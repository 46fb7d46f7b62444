/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Files, standard input and output. The only place of the program that opens anything.
 */
#ifndef RN_IO_CLI_FILES_H
#define RN_IO_CLI_FILES_H

#include "io/base/buffer.h"

/* To be called once, before anything else is opened. Standard streams that are closed are filled, so
 * that no file gets their number; a reader that closes its pipe early, or a file that grows too large,
 * is told by the exit code and not by a signal; a signal that ends the program takes a file half
 * written with it. */
void rn_files_begin(void);

/* From here on the first interrupt from the keyboard (SIGINT) ends nothing: what is handed out becomes 1, so that work
 * can be ended with an answer. The second ends the program as any other signal does. One that is ignored already stays
 * so. */
const volatile int *rn_files_catch_interrupt(void);
/* From here on the first ends the program again. */
void rn_files_release_interrupt(void);
/* Ends the program as the interrupt would have. */
void rn_files_end_by_interrupt(void);

/* Appends what is in the file ("-": standard input), at most `most` bytes and one more, so that the
 * reader can say it is too large. NULL, or a phrase that says why it could not be read. Out of
 * memory shows in the buffer's status. */
const char *rn_files_read(const char *path, size_t most, rn_buffer *buffer);

/* The same for a gear store beside the model: `href` must be the plain name of a regular file in
 * the model's folder; nothing that blocks or leads elsewhere is opened. */
const char *rn_files_read_beside(const char *model_path, const char *href, size_t most,
                                 rn_buffer *buffer);

/* Writes the whole of it under a temporary name beside `path`, then renames: an older file stays
 * whole if anything goes wrong, and a newer one has its mode. NULL path: standard output. Devices and
 * pipes are written as they are. NULL, or a phrase. */
const char *rn_files_write(const char *path, const rn_buffer *buffer);

/* Whether two paths lead to one file. */
bool rn_files_same(const char *path, const char *other);
/* Whether `path` leads to the gear store that a model names so. */
bool rn_files_is_beside(const char *model_path, const char *href, const char *path);

#endif
