/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * How the inputs of a model are collected: for the reader, which has the trees.
 */
#ifndef RN_IO_XML_COLLECT_H
#define RN_IO_XML_COLLECT_H

#include "io/base/pool.h"
#include "io/xml/inputs.h"
#include "io/xml/tree.h"

/* Of trees whose names have been checked. What is collected lives in `pool`. Errors: MEMORY. */
rn_status rn_inputs_collect(rn_pool *pool, rn_tree_element *const *roots, int root_count,
                            rn_inputs *inputs_out) RN_MUST_CHECK;

#endif
