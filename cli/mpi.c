// SPDX-License-Identifier: MIT
// The only calls to MPI. Rows are merged bit by bit, so that no arithmetic depends on the number of processes.
#include "mpi.h"

#ifdef FH_MPI
#include <limits.h>
#include <mpi.h>

cli_team cli_mpi_begin(void) {
  cli_team t = {0, 1};
  int begun = 0;
  (void)MPI_Initialized(&begun);
  if (begun == 0) {
    (void)MPI_Init(NULL, NULL);
  }
  (void)MPI_Comm_rank(MPI_COMM_WORLD, &t.rank);
  (void)MPI_Comm_size(MPI_COMM_WORLD, &t.size);
  return t;
}

void cli_mpi_end(void) {
  (void)MPI_Finalize();
}

void cli_mpi_merge(void *bytes, size_t count) {
  unsigned char *at = bytes;
  int rank = 0;
  (void)MPI_Comm_rank(MPI_COMM_WORLD, &rank);
  while (count > 0) {
    int n = count > INT_MAX / 2 ? INT_MAX / 2 : (int)count;
    (void)MPI_Reduce(rank == 0 ? MPI_IN_PLACE : at, at, n, MPI_UNSIGNED_CHAR, MPI_BOR, 0, MPI_COMM_WORLD);
    at += n;
    count -= (size_t)n;
  }
}

int cli_mpi_worst(int mine) {
  int worst = mine;
  (void)MPI_Allreduce(&mine, &worst, 1, MPI_INT, MPI_MAX, MPI_COMM_WORLD);
  return worst;
}

double cli_mpi_first(double mine) {
  (void)MPI_Bcast(&mine, 1, MPI_DOUBLE, 0, MPI_COMM_WORLD);
  return mine;
}

#else

cli_team cli_mpi_begin(void) {
  return (cli_team){0, 1};
}

void cli_mpi_end(void) {
}

void cli_mpi_merge(void *bytes, size_t count) {
  (void)bytes;
  (void)count;
}

int cli_mpi_worst(int mine) {
  return mine;
}

double cli_mpi_first(double mine) {
  return mine;
}
#endif
