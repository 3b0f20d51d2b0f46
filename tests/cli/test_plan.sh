# SPDX-License-Identifier: MIT
# What plan says of a rig is what check says of it: no mark YES, a question mark PERHAPS.
. "$2/tests/cli/lib.sh"
scene=$root/examples/hard-ice.yaml

run 0 plan "$scene" --rows 8
cp "$work/out" "$work/plan"
says "$work/plan" "?: at the worst figures this crew cannot pull it."
sed -n 's/^ *\([0-9][0-9]*\)\(?*\)  [0-9].*/\1\2/p' "$work/plan" >"$work/numbers"
checks=$((checks + 1))
[ "$(wc -l <"$work/numbers")" -ge 8 ] || fail "not eight rigs in the list"
while read -r number; do
  run 0 plan "$scene" --pick "${number%\?}"
  case $number in
    *\?) wanted=PERHAPS ;;
    *) wanted=YES ;;
  esac
  checks=$((checks + 1))
  sed -n 2p "$work/out" | grep -q "^$wanted " || fail "rig $number: not $wanted"
done <"$work/numbers"

# The first line of the wishes is the best ranked rig without a mark.
first=$(grep -v '?' "$work/numbers" | head -n 1)
says "$work/plan" "Even at worst  no $first: "

# The simpler rigs that are less likely stand apart under an x, behind those that work; check says no to each, and so does the exit status.
says "$work/plan" "Simpler, but less likely"
less=$(sed -n 's/^\([0-9][0-9]*\)x  .*/\1/p' "$work/plan")
[ -n "$less" ] || fail "no less likely rig"
for number in $less; do
  run 1 plan "$scene" --pick "$number"
  says "$work/err" "rig $number is one of the less likely"
  sed -n 2p "$work/out" | grep -q "^NO  This crew most likely cannot" || fail "rig $number: not NO"
done
# The next number is none, and a plan of all rigs has no such group.
run 2 plan "$scene" --pick "$((number + 1))"
run 0 plan "$scene" --json
says "$work/out" '"less_likely": ['
run 0 plan "$scene" --all
checks=$((checks + 1))
if grep -q 'less likely' "$work/out"; then fail "less likely rigs beside all rigs"; fi

# Where none works at the likely figures the answer stays no; only who asks for a less likely rig by its number gets one.
weak=$root/tests/scenes/only-less-likely.yaml
run 1 plan "$weak" --width 200
says "$work/out" "NO  No rig of this kit raises the load at the likely figures; those below might, with luck."
run 1 plan "$weak" --json
says "$work/out" '"possible": false'
run 1 plan "$weak" --yaml
says "$work/err" "no rig works"
run 1 plan "$weak" --pick 1

# Where none is sure no mark is needed: the answer has said so.
run 0 plan "$root/examples/two-person.yaml"
checks=$((checks + 1))
if grep -qE '^ *[0-9]+\?  |^Even at worst' "$work/out"; then fail "a mark although no rig is sure"; fi
# Downhill a crew pulls less back from the lip than toward it: the headline has both, and each rig its own, as check has it.
scene=$root/examples/team-four-downhill.yaml
run 0 plan "$scene" --width 200
says "$work/out" "For a short effort this crew can pull 180 N (0 to 390) back from the lip, 225 N (145 to 390) toward it."
run 0 plan "$scene" --json
cp "$work/out" "$work/plan"
for toward in back lip; do
  number=$(grep '"pull_toward"' "$work/plan" | grep -n "\"$toward\"" | head -n 1 | cut -d: -f1)
  force=$(grep '"crew_force_N"' "$work/plan" | sed -n "${number}s/.*: {/{/p")
  run 0 plan "$scene" --pick "$number" --json
  says "$work/out" "\"force_N\": ${force:-none}"
done

# A chance is never told as sure: all of the samples is over 99, none under 1. As the map of a study has it.
run 0 plan "$root/examples/two-haulers.yaml" --prefer chance --width 120
says "$work/out" "  >99  "
checks=$((checks + 1))
if grep -qE '^ *[0-9?]+  .*\)  +100  ' "$work/out"; then fail "a chance of 100"; fi
finish
