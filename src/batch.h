// SPDX-License-Identifier: MIT
// The pull of one rig for very many samples of friction. Implements model.md, sections 4 and 12.
//
// The equations of a rig have the same shape for every sample, so they are eliminated once, symbolically: what is left is a
// list of additions, products and quotients without any branch, run over blocks of samples side by side.
#ifndef FHI_BATCH_H
#define FHI_BATCH_H

#include "force.h"

enum {
  FHI_LANES = 64,           ///< samples side by side; a register is then eight cache lines
  FHI_MAX_REGISTERS = 512,
  FHI_MAX_OPS = 1024,
};

typedef enum fhi_op_kind { FHI_OP_MUL, FHI_OP_DIV, FHI_OP_ADD, FHI_OP_SUB } fhi_op_kind;

/// to = a op b
typedef struct fhi_op {
  int16_t kind, to, a, b;
} fhi_op;

typedef struct fhi_batch {
  fhi_op ops[FHI_MAX_OPS];
  double constant[FHI_MAX_REGISTERS];   ///< registers that start with a number; NaN for the others
  int inputs;                           ///< registers 0..inputs-1: the tension ratio of each contact
  int registers, op_count;
  int result;                           ///< register with the hand's pull over the weight
  int strand[FH_MAX_STRANDS];           ///< fhi_batch_compile_all: register with each strand's tension over the weight, -1: none
  int flops;                            ///< operations on doubles a sample
} fhi_batch;

/// Compiles a motion that is not coupled, for raising. @param factor [1] typical ratios: they choose the pivots
/// @return false when the rig has no single answer or is too large
bool fhi_batch_compile(const fhi_model *model, const fhi_motion *motion, const double *factor, fhi_batch *batch);

/// The same with every strand's tension. Strands behind a resting contact: the most that friction there allows.
bool fhi_batch_compile_all(const fhi_model *model, const fhi_motion *motion, const double *factor, fhi_batch *batch);

/// For callers that fill the input registers themselves: constants once, then any number of blocks of FHI_LANES samples.
/// @param registers FHI_LANES * FHI_MAX_REGISTERS doubles, register by register
void fhi_batch_begin(const fhi_batch *batch, double *registers);
void fhi_batch_block(const fhi_batch *batch, double *registers);

/// Runs n samples. @param factors inputs x n, contact by contact: factors[c * n + i] [1], 1 or more
/// @param pull n: the hand's pull over the weight [1]  @param scratch FHI_LANES * FHI_MAX_REGISTERS doubles
void fhi_batch_run(const fhi_batch *batch, const double *factors, size_t n, double *pull, double *scratch);

#endif
