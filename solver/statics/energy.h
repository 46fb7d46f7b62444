/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Where the work on a rigging goes. Unlike rn_network_energy, which is what is made least without friction,
 * everything here holds with rope that runs, whose tension differs from span to span.
 *
 *     e(T)    = integral of T d eps       stored in a metre of unstretched rope at T
 *     psi*(T) = T (1 + eps(T)) - e(T)     what a metre of it takes along when it leaves at T
 *
 * On EA alone e = T^2/2EA and psi* = T + T^2/2EA.
 */
#ifndef RN_STATICS_ENERGY_H
#define RN_STATICS_ENERGY_H

#include "solver/statics/network.h"

/* What is stored at the places last measured [J]. */
typedef struct rn_stored {
	double ropes;  /* stretch of lines and slings, bars pushed together */
	double stems;  /* bending */
	double bodies; /* treads pressed on each other */
	double raised; /* heights of all weights but the guided piece, work of steady forces on them */
	double hands;  /* gone out to hands that pull with a given force, and into turns that slip */
} rn_stored;

rn_stored rn_network_stored(const rn_network *network);
double rn_stored_sum(const rn_stored *stored);

/* Unstretched rope in a rope, what runs on beyond the drawing too [m]. */
double rn_rope_content(const rn_network *network, const rn_rope *rope);

/* One term of the heat of friction, a db. A state of the network has the same terms in the same order; the heat
 * between two states is the integral of all a db. b of an `is_angle` is known up to whole turns.
 *
 * A point:  a = psi*(T_after) - psi*(T_before),  b = -(unstretched rope before it).
 * A tread:  with xi from 0 to 1 along the arc, B the unstretched rope before xi, beta where xi is seen from the
 *           centre, s the side: rope slides past beta with - (dB - r s/(1 + eps) dbeta), so
 *           heat = - sum over Gauss's points of w T'(xi) [(1 + eps) dB - r s dbeta]. */
typedef struct rn_heat_term {
	double a, b;
	bool is_angle;
	int stop;       /* of the network */
} rn_heat_term;

enum { RN_HEAT_TERMS_OF_STOP = 12 };

/* Room for RN_HEAT_TERMS_OF_STOP of each stop. Returns how many there are, the same in every state. */
int rn_network_heat_terms(const rn_network *network, rn_heat_term *terms_out);

#endif
