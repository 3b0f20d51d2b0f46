// SPDX-License-Identifier: MIT
// Several processes on one study, when this program was built with MPI (-DFH_MPI=ON) and started by mpirun; else one.
#ifndef CLI_MPI_H
#define CLI_MPI_H

#include <stdbool.h>
#include <stddef.h>

typedef struct cli_team {
  int rank, size;
} cli_team;

cli_team cli_mpi_begin(void);
void cli_mpi_end(void);
/// Puts together what each rank has worked out: bytes that others worked out are zero here. The whole then stands on rank 0.
void cli_mpi_merge(void *bytes, size_t count);
/// The largest of all ranks' numbers, on every rank: errors and wishes to stop.
int cli_mpi_worst(int mine);
/// Rank 0's number, on every rank.
double cli_mpi_first(double mine);

#endif
