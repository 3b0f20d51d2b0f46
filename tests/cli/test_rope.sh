# SPDX-License-Identifier: MIT
# firnhaul rope: the taught rule of twice the spacing, by hand: 50 m, two people, both ends alike, no knots: 10 m
# (Plattner & Wuertl, Spaltenrettung: each member's spare is twice the spacing; s + 2 * 2 s = 50).
. "$2/tests/cli/lib.sh"
cd "$root" || exit 99

team() { # SPACING LENGTH
  cat >"$work/team.yaml" <<END
firnhaul: 1
load: {mass_kg: 80}
slot: {depth_m: 8}
lip: {}
ground: {station_m: 0.3, anchor_m: 0.5}
ropes: [{name: main, length_m: $2}]
team:
  people: [{mass_kg: 85, behind_m: 0}, {mass_kg: 75, behind_m: $1}]
END
}

team 10 50
run 0 rope "$work/team.yaml"
says "$work/out" "Drop loop    needs 20.0 m, has 20.0 m: enough"
says "$work/out" "Left         40.0 m"
says "$work/out" "Drop loop    10.0 m"
says "$work/out" "16.7 m when only the first one can fall"
team 13 50
run 1 rope "$work/team.yaml" --svg "$work/rope.svg" --png "$work/rope.png" --pdf "$work/rope.pdf"
says "$work/out" "Drop loop    needs 26.0 m, has 18.5 m: 7.5 m missing"
says "$work/rope.svg" "7.5 m MISSING"
says "$work/rope.svg" "13 m"
# 20 m apart on 30 m: 5 m at each end is not enough for anything.
team 20 30
run 1 rope "$work/team.yaml"
says "$work/out" "NO"
# Wider than the rope is long.
team 30 25
run 1 rope "$work/team.yaml" --svg "$work/short.svg"
says "$work/out" "too short"
says "$work/short.svg" "5 m MISSING"
team 10 50
run 0 rope "$work/team.yaml" --json
says "$work/out" '"widest'
run 0 rope "$work/team.yaml" --csv
says "$work/out" "widest_loop_m,10"
run 0 rope "$work/team.yaml" --units imperial
says "$work/out" "164 ft"
# No team: no spacing to judge; no length: nothing to work on.
run 0 rope examples/rigs/six.yaml --svg "$work/none.svg"
says "$work/out" "names no team"
says "$work/none.svg" "widest spacing"
sed 's/length_m: 60, //' examples/rigs/six.yaml >"$work/nolength.yaml"
run 2 rope "$work/nolength.yaml"
says "$work/err" "no rope of the scene states its length"
one_line "$work/err"
finish
