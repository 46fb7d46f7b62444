/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The terms of one rope in the equations of equilibrium.
 *
 *     R(x, T) = sum over spans  T E_i u_i (at its end) - T E_i u_i (at its start)  - loads   = 0
 *     S(x, T) = sum t_i f(T E_i) + sum r_j bend_j G(a_j, k_j) - L0                           = 0
 *
 * T is the tension of the first span, E_i the share of span i, f(T) = 1/(1 + T/EA) the unstretched
 * length of a unit of stretched rope, a = T_in/EA, k = ln(T_out/T_in), and G the mean of
 * 1/(1 + a e^{k s}) over an arc:  G = 1 - ln((1 + a e^k)/(1 + a))/k,  k -> 0: 1/(1 + a).
 * Without friction R is the gradient of the energy 1/2 EA/L0 (L - L0)^2 - F . x.
 */
#ifndef RN_STATICS_EQUATIONS_H
#define RN_STATICS_EQUATIONS_H

#include "solver/statics/network.h"

/* Arrays run over the two coordinates of each stop of the rope. */
typedef struct rn_terms {
	double *residual;         /* R of this rope [N] */
	double *by_tension;       /* dR/dT [-] */
	double *stretch_by_place; /* dS/dx [-] */
	double *matrix;           /* dR/dx at given T, row after row [N/m] */
	double *log_share;        /* scratch: d ln E / dx of the span at hand [1/m] */
	double *log_share_last;   /* scratch: the same of the last span */
	double stretch;           /* S [m] */
	double stretch_by_tension; /* dS/dT [m/N] */
} rn_terms;

/* Room for the ropes of this network. Errors: MEMORY. */
rn_status rn_terms_create(rn_arena *arena, const rn_network *network, rn_terms *terms_out) RN_MUST_CHECK;

/* All terms at the places last measured and at `rope->tension`. */
void rn_terms_compute(const rn_network *network, const rn_rope *rope, rn_terms *terms);

/* How far two bodies are apart, negative where they overlap [m], and the direction from the first
 * to the second. `exists` is false where one of them is no body now. */
typedef struct rn_gap {
	bool exists;
	double gap, distance;
	rn_vec2 direction;
} rn_gap;
rn_gap rn_contact_gap(const rn_network *network, const rn_contact *contact);

/* Energy of stretch, pulls, contacts and loads at the places last measured, without friction [J]. */
double rn_network_energy(const rn_network *network);

#endif
