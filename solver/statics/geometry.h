/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A rope round its treads. Between two stops with centres apart by d, radii r and sides s:
 *
 *     rho = s_i r_i - s_j r_j        t = sqrt(|d|^2 - rho^2)
 *     phi = atan2(d) + asin(rho/|d|) u = (cos phi, sin phi), n its left normal
 *     bend_j = s_j (phi_out - phi_in)
 *     L = sum t + sum r bend
 *
 * (so that n . d = -rho and u . d = t: the centre of a tread lies s r to the left of the rope).
 * Derivatives: dphi = n . dd / t, dt = d . dd / t.
 * A span of no length has its direction smoothed: t = sqrt(|d|^2 + eps^2), u = d/t.
 */
#ifndef RN_STATICS_GEOMETRY_H
#define RN_STATICS_GEOMETRY_H

#include "solver/statics/network.h"

/* First bends of a rope at the present places: s (phi_out - phi_in) put into (-pi/2, 3 pi/2]. */
void rn_rope_lay(rn_network *network, rn_rope *rope);

/* Spans, length, friction ratios at the present places. Bends of a taut rope go to the branch nearest
 * to the one they had. Forks and posts it would have to push are `lifted`. False if two treads overlap
 * so far that no tangent exists. */
bool rn_rope_measure(rn_network *network, rn_rope *rope);

#endif
