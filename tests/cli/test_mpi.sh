#!/bin/sh
# SPDX-License-Identifier: MIT
# A study under mpirun: the same bytes for any number of processes and threads; a process that is killed leaves the journal, and the
# same command goes on with it to the same bytes. Needs a program with MPI beside this one (FIRNHAUL_MPI), else it is skipped.
set -eu
program=$1
root=$2
[ -n "${FIRNHAUL_MPI:-}" ] && [ -n "${FIRNHAUL_MPIRUN:-}" ] && [ -r /proc/self/environ ] || exit 77
cd "$root"
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT INT TERM
failed=0
export OMPI_ALLOW_RUN_AS_ROOT=1 OMPI_ALLOW_RUN_AS_ROOT_CONFIRM=1 OMPI_MCA_rmaps_base_oversubscribe=1 OMPI_MCA_mpi_yield_when_idle=1
export TMPDIR="$work"

bad() {
  printf 'FAILED: %s\n' "$*" >&2
  failed=$((failed + 1))
}

study() {
  "$FIRNHAUL_MPIRUN" -n "$1" "$FIRNHAUL_MPI" study "$2" --threads "$3" -o "$4" >"$work/out" 2>"$work/err" </dev/null
}

# --- any number of processes and threads
"$program" study examples/studies/sampled.yaml --threads 1 -o "$work/one"
for n in 1 2 4; do
  study $n examples/studies/sampled.yaml 1 "$work/$n" || bad "mpirun -n $n failed: $(cat "$work/err")"
  cmp "$work/one" "$work/$n" || bad "mpirun -n $n gave other bytes"
done
study 2 examples/studies/sampled.yaml 2 "$work/two" || bad "mpirun -n 2 with two threads failed: $(cat "$work/err")"
cmp "$work/one" "$work/two" || bad "mpirun -n 2 with two threads gave other bytes"

# --- one process is killed
cat >"$work/grid.yaml" <<END
firnhaul_study: 1
scene: $root/examples/two-person.yaml
samples: 262144
vary:
  - {key: lip.friction, from: 0.05, to: 0.5, steps: 8}
  - {key: load.mass_kg, from: 60, to: 120, steps: 8}
END
"$program" study "$work/grid.yaml" -o "$work/whole.csv"

# The process of a rank, found by what mpirun tells each of them: it alone has this journal's path and that rank.
process_of() {
  for p in $(grep -lzxF "$work/killed.csv" /proc/[0-9]*/cmdline 2>/dev/null); do
    if grep -qzxF "OMPI_COMM_WORLD_RANK=$1" "${p%/cmdline}/environ" 2>/dev/null; then
      p=${p%/cmdline}
      printf '%s\n' "${p#/proc/}"
      return
    fi
  done
}

# kill_one PROCESSES RANK: no clock; the journal's third line is waited for.
kill_one() {
  rm -f "$work/killed.csv" "$work/killed.csv.part"
  "$FIRNHAUL_MPIRUN" -n "$1" "$FIRNHAUL_MPI" study "$work/grid.yaml" --threads 1 -o "$work/killed.csv" >"$work/out" 2>"$work/err" </dev/null &
  job=$!
  while kill -0 $job 2>/dev/null && [ "$(cat "$work/killed.csv.part" 2>/dev/null | wc -l)" -lt 3 ]; do :; done
  victim=$(process_of "$2")
  [ -n "$victim" ] && kill -9 "$victim" || bad "rank $2 of $1 was not there to be killed: $(cat "$work/err")"
  status=0
  wait $job || status=$?
  [ "$status" != 0 ] || bad "a killed process went unnoticed"
  [ -e "$work/killed.csv" ] && bad "half a table was put in place"
  [ "$(wc -l <"$work/killed.csv.part")" -ge 3 ] || bad "the journal is gone"
  study "$1" "$work/grid.yaml" 1 "$work/killed.csv" || bad "going on failed: $(cat "$work/err")"
  grep -q 'going on after' "$work/err" || bad "it did not go on: $(cat "$work/err")"
  cmp "$work/whole.csv" "$work/killed.csv" || bad "rank $2 of $1 killed: another result"
  [ -e "$work/killed.csv.part" ] && bad "a journal was left behind"
  return 0
}
kill_one 2 1
kill_one 4 3
kill_one 2 0

[ "$failed" = 0 ] || exit 1
