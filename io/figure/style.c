/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/figure/style.h"

rn_style rn_style_of(rn_role role)
{
	static const rn_style table[] = {
#define X(name, stroke, fill, width, dash, avoid) {stroke, fill, width, dash, avoid},
		RN_ROLE_LIST(X)
#undef X
	};
	return table[role];
}
