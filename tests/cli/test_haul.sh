# SPDX-License-Identifier: MIT
# firnhaul haul: text, JSON, CSV and figure of every example; the answer no where check says no, and for rigs that do not raise.
. "$2/tests/cli/lib.sh"
cd "$root" || exit 99
nos=0

for scene in examples/*.yaml examples/rigs/*.yaml; do
  grep -q '^rig:' "$scene" || continue  # some show a team on its feet
  "$program" check "$scene" --json >"$work/check.json" 2>/dev/null
  no=$?
  nos=$((nos + no))
  run $no haul "$scene"
  [ $no -eq 0 ] || says "$work/out" "NO  "
  says "$work/out" "Strokes"
  says "$work/out" "Backup knots"
  says "$work/out" "The last half metre"
  says "$work/out" "Training aid"
  run $no haul "$scene" --json
  says "$work/out" "\"answer_no\": $([ $no -eq 1 ] && echo true || echo false)"
  # How long and how often: check, haul, plan and sheet tell the same.
  for key in strokes resets time_with_rests_s time_with_rests_range_s; do
    says "$work/out" "$(grep "^  \"$key\"" "$work/check.json" | sed 's/^ *//; s/,$//')"
  done
  for key in strokes resets rope_pulled_m stretch_lost_m set_back_m time_s work_J trace; do
    says "$work/out" "\"$key\""
  done
  minutes=$(sed -n 's/^  "time_s": \([0-9.]*\),$/\1/p' "$work/out" | awk '{ step = $1 < 600 ? 30 : 60; n = int($1 / step); print (n + (n * step < $1)) * step / 60 }')
  resets=$(sed -n 's/^  "resets": \([0-9]*\),$/\1/p' "$work/out")
  run 0 sheet "$scene"
  says "$work/out" "Time: likely $minutes min"
  says "$work/out" "Reset, about $resets times"
  run $no haul "$scene" --units imperial --width 40

  # Of the first rigs that plan lists.
  "$program" plan "$scene" --json >"$work/plan.json" 2>/dev/null || continue
  for pick in 1 2 3; do
    "$program" plan "$scene" --pick $pick --yaml >"$work/rig.yaml" 2>/dev/null || break
    run 0 haul "$work/rig.yaml" --json
    for key in resets time_with_rests_s time_with_rests_range_s; do
      told=$(grep "^      \"$key\"" "$work/plan.json" | sed -n "${pick}s/^ *//p" | sed 's/,$//')
      [ -n "$told" ] || fail "plan tells no $key"
      says "$work/out" "$told"
    done
  done
done
checks=$((checks + 1))
[ $nos -gt 0 ] || fail "no example of a rig that check says no to"

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
