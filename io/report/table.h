/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A table of rows with one cell for each case. A cell has a mark, a number, a share of its limit
 * and words; numbers stand with their points below each other. What is wider than a line is broken
 * into blocks of cases, one below the other.
 *
 *     name way          lowering                       raising
 *     s1   top to b1    *6.31  84.1 % of 7.50           5.20  69.4 % of 7.50
 *     top  anchor        6.54  down and right, 31 deg   5.44  straight down
 */
#ifndef RN_IO_REPORT_TABLE_H
#define RN_IO_REPORT_TABLE_H

#include "io/base/buffer.h"
#include "io/base/pool.h"

typedef struct rn_table_cell {
	const char *number, *share, *words; /* never NULL */
	bool marked;
} rn_table_cell;

typedef struct rn_table_row {
	const char *name, *way;
	rn_table_cell *cells; /* one per column */
} rn_table_row;

typedef struct rn_table {
	rn_pool pool; /* everything in the table lives in it */
	const char *title; /* above the names */
	const char **heads; /* one per column */
	rn_table_row *rows;
	size_t row_count, row_capacity;
	int column_count;
} rn_table;

rn_table rn_table_make(const rn_allocator *allocator, int column_count);
void rn_table_release(rn_table *table);
/* Errors: MEMORY if anything was lost on the way. */
rn_status rn_table_status(const rn_table *table);

/* What stands over a column; `head` is kept as it is. Nothing when memory has ended. */
void rn_table_head(rn_table *table, int column, const char *head);
/* A new row with empty cells; NULL when memory ends. It moves when the next row is added. */
rn_table_row *rn_table_add_row(rn_table *table, const char *name, const char *way);
/* A copy of what is in `text`, which is emptied; "" when memory ends. */
const char *rn_table_keep(rn_table *table, rn_buffer *text);

void rn_table_print(rn_buffer *buffer, const rn_table *table);

#endif
