# SPDX-License-Identifier: MIT
# firnhaul lose: every example told, one step in full, the matrix; the steps that hang on one thing are named.
. "$2/tests/cli/lib.sh"
cd "$root" || exit 99

for scene in examples/*.yaml examples/rigs/*.yaml; do
  grep -q '^rig:' "$scene" || continue  # some show a team on its feet
  run 0 lose "$scene"
  says "$work/out" "hangs on one thing alone"
  says "$work/out" "Each element, at the step where it is worst"
  says "$work/out" "Training aid"
  run 0 lose "$scene" --json
  for key in stages holds elements element caught_by drop_m peak_N over; do
    says "$work/out" "\"$key\""
  done
  run 0 lose "$scene" --svg "$work/lose.svg"
  says "$work/lose.svg" "held by so many"
  says "$work/lose.svg" ">lost<"
done

# While nothing but the first line holds, its knot is everything.
run 0 lose examples/rigs/six.yaml --step 1
says "$work/out" "first line"
says "$work/out" "lost"
says "$work/out" "nothing"
run 0 lose examples/rigs/six.yaml --step 9 --units imperial
says "$work/out" "ft"
run 2 lose examples/rigs/six.yaml --step 99
says "$work/err" "accepted: a whole number from 1 to"
run 2 lose examples/rigs/six.yaml --step 0
run 0 lose examples/rigs/six.yaml --csv -o "$work/lose.csv"
empty "$work/out"
checks=$((checks + 1))
[ "$(wc -l <"$work/lose.csv")" -gt 100 ] || fail "few rows in the CSV"
run 1 lose - <<'END'
firnhaul: 1
load: {mass_kg: 80}
slot: {depth_m: 8}
lip: {}
ground: {station_m: 4, anchor_m: 6}
rig: {ropes: [{name: main, path: [{tie: load}, {edge: lip}, {run: station, on: pulley}, {hand: crew}]}]}
END
says "$work/out" "NO"
finish
