/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The signs that stand for nodes. Treads are drawn to scale; where the scale makes them too small
 * to see, a sign of fixed size on paper stands round them.
 */
#ifndef RN_IO_FIGURE_SYMBOLS_H
#define RN_IO_FIGURE_SYMBOLS_H

#include "io/figure/drawing.h"

/* What lies under the ropes, and what lies over them. */
void rn_symbols_under(rn_drawing *drawing, int node);
void rn_symbols_over(rn_drawing *drawing, int node);

/* Half the size of a node's sign on paper [mm]: labels keep this far away. */
double rn_symbols_reach(const rn_drawing *drawing, int node);

/* The band of a sling round a stem, the hatched side to keep out of, the arrow of an outer force,
 * the head that shows which way a rope runs. */
void rn_symbols_keep_out(rn_drawing *drawing, const double centre[2], double inner, double toward);
void rn_symbols_arrow(rn_scene *scene, const double tail[2], const double tip[2]);
void rn_symbols_run(rn_scene *scene, const double at[2], double heading, double stroke);

#endif
