# SPDX-License-Identifier: MIT
# firnhaul haul: text, JSON, CSV and figure of every example; the answer no for rigs that do not raise.
. "$2/tests/cli/lib.sh"
cd "$root" || exit 99

for scene in examples/*.yaml examples/rigs/*.yaml; do
  grep -q '^rig:' "$scene" || continue  # some show a team on its feet
  run 0 haul "$scene"
  says "$work/out" "Strokes"
  says "$work/out" "Backup knots"
  says "$work/out" "The last half metre"
  says "$work/out" "Training aid"
  run 0 haul "$scene" --json
  for key in strokes resets rope_pulled_m stretch_lost_m set_back_m time_s work_J trace; do
    says "$work/out" "\"$key\""
  done
  run 0 haul "$scene" --units imperial --width 40
done

# The trace: one row a phase, time never runs backwards, the load ends at the lip.
run 0 haul examples/rigs/six.yaml --csv -o "$work/trace.csv" --svg "$work/haul.svg" --png "$work/haul.png" --pdf "$work/haul.pdf"
empty "$work/out"
checks=$((checks + 1))
awk -F, 'NR == 1 { for (i = 1; i <= NF; i++) { sub(/\r/, "", $i); at[$i] = i }; next }
  { t = $at["time_s"] + 0; if (t < last) bad = 1; last = t; h = $at["height_m"] + 0; n++ }
  END { exit !(n > 20 && !bad && h > 7.9 && h < 8.1) }' "$work/trace.csv" || fail "the trace is not in order or does not end at the lip (8 m)"
says "$work/haul.svg" "height gained"
says "$work/haul.svg" "what the capture holds"
run 0 haul examples/rigs/six.yaml --svg -
same "$work/out" "$work/haul.svg"

# No hand, no capture, a locked rig: done, and the answer is no; a scene without a rig is wrong input.
sed 's/on: toothed-capture/on: toothed-capture, reversed: true/' examples/rigs/three.yaml >"$work/reversed.yaml"
run 1 haul "$work/reversed.yaml"
says "$work/out" "NO"
sed '/^rig:/,$d' examples/rigs/three.yaml >"$work/bare.yaml"
run 2 haul "$work/bare.yaml"
says "$work/err" "rig is missing"
one_line "$work/err"
run 2 haul examples/rigs/three.yaml --step 3
run 2 haul examples/rigs/three.yaml --json --csv
finish
