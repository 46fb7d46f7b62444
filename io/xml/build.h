/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Checked trees become a model. One short function per element; every reference is resolved, every
 * value is in SI, so what is left to say is only which number of which object a value is.
 */
#ifndef RN_IO_XML_BUILD_H
#define RN_IO_XML_BUILD_H

#include "io/xml/tree.h"

/* The root of the model's file, then those of its gear files. Objects are added kind by kind, each
 * kind in the order of the files. A number set in a case that its object does not have is a
 * finding.
 * Errors: MEMORY, LIMIT. */
rn_status rn_build_model(rn_model *model, rn_findings *findings, rn_tree_element *const *roots,
			 int root_count) RN_MUST_CHECK;

#endif
