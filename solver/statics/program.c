/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "solver/statics/program.h"

#include <glpk.h>
#include <math.h>
#include <setjmp.h>

/* GLPK tells every error, running out of memory first of all, to a function that may not return. */
static void leave(void *back)
{
	longjmp(*(jmp_buf *)back, 1);
}

/* It would print the error first, even with its terminal switched off. */
static int keep_silent(void *nothing, const char *text)
{
	(void)nothing;
	(void)text;
	return 1;
}

/* What GLPK allocates for us goes with its environment, whichever way this ends. */
static void fill(glp_prob *problem, const rn_program *p)
{
	int *index = glp_alloc(p->rows + 1, sizeof *index);
	double *value = glp_alloc(p->rows + 1, sizeof *value);
	if (p->rows > 0)
		glp_add_rows(problem, p->rows);
	glp_add_cols(problem, p->columns);
	for (int i = 0; i < p->rows; i++)
		glp_set_row_bnds(problem, i + 1, GLP_FX, p->right[i], p->right[i]);
	for (int k = 0; k < p->columns; k++) {
		int count = 0;
		for (int i = 0; i < p->rows; i++) {
			double entry = p->matrix[(size_t)i * (size_t)p->columns + (size_t)k];
			if (entry == 0)
				continue;
			index[++count] = i + 1;
			value[count] = entry;
		}
		glp_set_mat_col(problem, k + 1, count, index, value);
		glp_set_col_bnds(problem, k + 1, p->is_free[k] ? GLP_FR : GLP_LO, 0, 0);
	}
	glp_free(index);
	glp_free(value);
}

/* One end of an extent. False if there is neither an end nor none. */
static bool seek(glp_prob *problem, int direction, double *value_out, bool *open_out)
{
	glp_smcp options;
	glp_init_smcp(&options);
	options.msg_lev = GLP_MSG_OFF;
	glp_set_obj_dir(problem, direction);
	if (glp_simplex(problem, &options) != 0)
		return false;
	int status = glp_get_status(problem);
	*open_out = status == GLP_UNBND;
	*value_out = status == GLP_OPT ? glp_get_obj_val(problem) : 0;
	return status == GLP_OPT || status == GLP_UNBND;
}

static void find_all(glp_prob *problem, const rn_program *p, rn_extent *extents)
{
	fill(problem, p);
	glp_std_basis(problem);
	for (int k = 0; k < p->columns; k++) {
		rn_extent *e = &extents[k];
		glp_set_obj_coef(problem, k + 1, 1);
		e->found = seek(problem, GLP_MIN, &e->least, &e->open_below) &&
		           seek(problem, GLP_MAX, &e->most, &e->open_above);
		if (!p->is_free[k]) { /* it stops a rounding short of its bounds */
			e->least = fmax(e->least, 0);
			e->most = fmax(e->most, 0);
		}
		glp_set_obj_coef(problem, k + 1, 0);
	}
}

rn_status rn_program_extents(const rn_program *program, rn_extent *extents)
{
	jmp_buf back;
	/* 0: made now, 1: the host has one, which then stays; else there is none and no memory for it */
	volatile int before = glp_init_env();
	if (before > 1)
		return RN_STATUS_MEMORY;
	if (setjmp(back)) {
		/* unusable after an error, the host's problems in it too: it goes as a whole */
		glp_free_env();
		return RN_STATUS_MEMORY;
	}
	glp_error_hook(leave, &back);
	glp_term_hook(keep_silent, NULL);
	glp_prob *problem = glp_create_prob();
	find_all(problem, program, extents);
	glp_delete_prob(problem);
	glp_term_hook(NULL, NULL);
	glp_error_hook(NULL, NULL);
	if (before == 0)
		glp_free_env();
	return RN_OK;
}
