/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What every kind of mark looks like, for all pens. No green anywhere, and colour never alone: what
 * is blue is a rope, what is black a sling or steel, what is vermillion is thicker and crossed too.
 *
 * Widths that are not a force are of the series 0.13, 0.18, 0.25 ... 2 mm and the kinds of lines those of ISO 128-2:
 * outlines whole, what is drawn of another place of the same thing in long dashes and two dots (kind 05: dash 24, gap 3,
 * dot 0.5 times the width), leaders whole and narrow (from memory). Dashes alone, which are there for what is hidden,
 * stand for what is slack.
 */
#ifndef RN_IO_FIGURE_STYLE_H
#define RN_IO_FIGURE_STYLE_H

/*  role            stroke     fill       width  dash       avoid: how much a label shuns it [1] */
#define RN_ROLE_LIST(X)                                                                            \
	X(SOIL,         "#8C8273", "none",    0.18,  "",        1)                                 \
	X(GROUND,       "#5F5648", "none",    0.50,  "",        4)                                 \
	X(STEM,         "#8C8273", "#F3EEE5", 0.35,  "",        3)                                 \
	X(GHOST,        "#8A8A8A", "none",    0.25,  "6 0.75 0.13 0.75 0.13 0.75", 0.6)                               \
	X(PATH,         "#000000", "none",    0.35,  "0.5 1.5", 2)                                 \
	X(PATH_END,     "#000000", "#FFFFFF", 0.35,  "",        3)                                 \
	X(TAIL_ROPE,    "#0072B2", "#D3E6F3", 0.25,  "",        3)                                 \
	X(TAIL_SLING,   "#000000", "#E2E2E2", 0.25,  "",        3)                                 \
	X(KEEP_OUT,     "#5A5A5A", "none",    0.25,  "",        3)                                 \
	X(STRAP,        "#000000", "#ECECEC", 0.35,  "",        6)                                 \
	X(STRAP_LINE,   "#000000", "none",    0.35,  "",        6)                                 \
	X(BAND,         "#000000", "#000000", 0.18,  "",        4)                                 \
	X(ROPE,         "#0072B2", "none",    0.70,  "",        10)                                \
	X(ROPE_SLACK,   "#0072B2", "none",    0.35,  "2 1.4",   6)                                 \
	X(ROPE_OVER,    "#D55E00", "none",    2.60,  "",        10)                                \
	X(SLING,        "#000000", "none",    0.70,  "",        10)                                \
	X(SLING_SLACK,  "#000000", "none",    0.35,  "2 1.4",   6)                                 \
	X(SLING_OVER,   "#D55E00", "none",    2.60,  "",        10)                                \
	X(PROP,         "#000000", "#E9DCC6", 0.50,  "",        8)                                 \
	X(PROP_OVER,    "#D55E00", "#E9DCC6", 1.40,  "",        8)                                 \
	X(RUN,          "#FFFFFF", "#0072B2", 0.25,  "",        4)                                 \
	X(STEEL,        "#000000", "none",    0.70,  "",        8)                                 \
	X(PIN,          "#000000", "#000000", 0.18,  "",        8)                                 \
	X(POST,         "#000000", "#D6D6D6", 0.35,  "",        8)                                 \
	X(TURN,         "#0072B2", "none",    0.70,  "",        0)                                 \
	X(HAND,         "#000000", "#FFFFFF", 0.35,  "",        8)                                 \
	X(PIECE,        "#000000", "#E9DCC6", 0.50,  "",        8)                                 \
	X(GRAIN,        "#8C7A5B", "none",    0.18,  "",        0)                                 \
	X(FORCE,        "#000000", "none",    0.70,  "",        8)                                 \
	X(FORCE_HEAD,   "#000000", "#000000", 0.18,  "",        8)                                 \
	X(CLOSEST,      "#000000", "none",    0.50,  "",        5)                                 \
	X(CLOSEST_OVER, "#D55E00", "none",    1.00,  "",        5)                                 \
	X(CROSS,        "#D55E00", "none",    1.00,  "",        8)                                 \
	X(LEADER,       "#6A6A6A", "none",    0.18,  "",        2)                                 \
	X(PAPER,        "none",    "#FFFFFF", 0,     "",        0)                                 \
	X(FRAME,        "#000000", "none",    0.35,  "",        0)                                 \
	X(RULE,         "#8A8A8A", "none",    0.18,  "",        0)                                 \
	X(BAR,          "#000000", "#000000", 0.25,  "",        0)                                 \
	X(BAR_EMPTY,    "#000000", "#FFFFFF", 0.25,  "",        0)                                 \
	X(SHADE_1,      "#8A8A8A", "#F0F0F0", 0.13,  "",        0)                                 \
	X(SHADE_2,      "#8A8A8A", "#DFDFDF", 0.13,  "",        0)                                 \
	X(SHADE_3,      "#8A8A8A", "#C6C6C6", 0.13,  "",        0)                                 \
	X(SHADE_4,      "#8A8A8A", "#A8A8A8", 0.13,  "",        0)                                 \
	X(CURVE_BAND,   "#8A8A8A", "none",    1.40,  "",        0)                                 \
	X(CURVE_OVER,   "#D55E00", "none",    2.60,  "",        2)                                 \
	X(CURVE_ROPE,   "#0072B2", "none",    0.50,  "",        4)                                 \
	X(CURVE_SLING,  "#000000", "none",    0.35,  "",        4)                                 \
	X(CURVE_STEM,   "#5F5648", "none",    0.50,  "8 1.2 0.7 1.2", 4)                               \
	X(CURVE_OTHER,  "#000000", "none",    0.25,  "0.7 1.05", 4)                                 \
	X(LIMIT,        "#000000", "none",    0.50,  "",        3)

typedef enum rn_role {
#define X(name, stroke, fill, width, dash, avoid) RN_ROLE_##name,
	RN_ROLE_LIST(X)
#undef X
	RN_ROLE_COUNT
} rn_role;

typedef struct rn_style {
	const char *stroke, *fill; /* "none" or "#rrggbb" */
	double width;              /* [mm] */
	const char *dash;          /* "" = whole */
	double avoid;
} rn_style;

rn_style rn_style_of(rn_role role);

#endif
