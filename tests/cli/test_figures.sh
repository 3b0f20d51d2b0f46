# SPDX-License-Identifier: MIT
# Figures come out where they are asked for, in each form, and the same every time. What they show is judged with the drawing.
. "$2/tests/cli/lib.sh"
cd "$root" || exit 99
rig=examples/two-person.yaml

starts() {
  checks=$((checks + 1))
  head -c 200 "$1" | LC_ALL=C grep -aq "$2" || fail "$1 does not start like $2"
}

for figure in section plan-view angle; do
  run 0 check $rig --figure $figure --svg "$work/$figure.svg" --png "$work/$figure.png" --pdf "$work/$figure.pdf"
  says "$work/out" "Training aid"
  starts "$work/$figure.svg" '<svg'
  starts "$work/$figure.png" 'PNG'
  starts "$work/$figure.pdf" '%PDF'
  # Standard output instead of a file: the same bytes, and no report between them.
  run 0 check $rig --figure $figure --svg -
  same "$work/out" "$work/$figure.svg"
  run 0 check $rig --figure $figure --pdf -
  same "$work/out" "$work/$figure.pdf"
done
run 0 check $rig --svg -
same "$work/out" "$work/section.svg"
run 0 plan $rig --svg "$work/plans.svg" --png "$work/plans.png" --pdf "$work/plans.pdf" -o "$work/plans.txt"
empty "$work/out"
starts "$work/plans.svg" '<svg'
starts "$work/plans.png" 'PNG'
starts "$work/plans.pdf" '%PDF'
says "$work/plans.txt" "Search: "
run 0 plan $rig --figure plans --svg -
same "$work/out" "$work/plans.svg"

# The anchor's figure names what the scene hangs on, also where the scene only says the kind.
run 0 anchor examples/hard-ice.yaml --svg "$work/ice.svg" -o "$work/ice.txt"
says "$work/ice.svg" "1 ice screw holds"
says "$work/ice.txt" "1 ice screw"

# A figure of one plan: the one picked, or the first.
run 0 plan $rig --pick 2 --svg "$work/pick.svg"
starts "$work/pick.svg" '<svg'
run 0 plan $rig --figure section --svg "$work/first.svg" -o "$work/first.txt"
run 0 plan $rig --pick 1 --svg -
same "$work/out" "$work/first.svg"

# A figure and a report side by side.
run 0 check $rig --svg - -o "$work/report.txt"
same "$work/out" "$work/section.svg"
run 0 check $rig
same "$work/out" "$work/report.txt"
run 0 check $rig --json -o "$work/report.json" --svg "$work/again.svg"
same "$work/again.svg" "$work/section.svg"
says "$work/report.json" '"hand_force_N"'

# The pull's angle and the units change the figure.
run 0 check $rig --figure plan-view --angle 30 --svg "$work/turned.svg"
checks=$((checks + 2))
cmp -s "$work/turned.svg" "$work/plan-view.svg" && fail "--angle changes nothing in the plan view"
run 0 check $rig --units imperial --svg "$work/feet.svg"
cmp -s "$work/feet.svg" "$work/section.svg" && fail "--units changes nothing in the section"

# A rig that does not work: the answer is no, whether there is a figure or not.
sed 's/{hand: crew}/{loose: true}/' examples/rigs/three.yaml >"$work/no-hand.yaml"
"$program" check "$work/no-hand.yaml" --svg "$work/none.svg" >"$work/out" 2>"$work/err"
status=$?
checks=$((checks + 1))
[ $status -eq 1 ] || [ $status -eq 2 ] || fail "exit $status without a hand"
finish
