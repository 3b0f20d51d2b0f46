# SPDX-License-Identifier: MIT
# firnhaul team from outside. The closed form: a faller m_f, holders m_h on the level, braking friction mu and a lip that
# multiplies by C hold as soon as C mu m_h >= m_f (two masses and constant friction; exact).
. "$2/tests/cli/lib.sh"
cd "$root" || exit 99

# Two equal masses, C = 1: friction 1.02 holds from the start, 0.5 never does.
pair() { # STAND BRAKE
  cat >"$work/pair.yaml" <<END
firnhaul: 1
load: {mass_kg: 80}
slot: {depth_m: 20}
lip: {turn_deg: 90, friction: 0, cut_m: 0}
ground: {station_m: 4, anchor_m: 8}
team:
  people: [{mass_kg: 80, behind_m: 0}, {mass_kg: 80, behind_m: 40}]
  rope: {modulus_kN: 18, damping_s: 0.02, slack_m: 0}
  stand: $1
  brake: $2
  reaction_s: 0
  start_mps: 0
  knots: []
END
}

pair 1.5 1.5
run 0 team "$work/pair.yaml" --json -o "$work/holds.json"
says "$work/holds.json" '"arrested": true'
pair 0.5 0.5
run 1 team "$work/pair.yaml" --json -o "$work/slides.json"
says "$work/slides.json" '"arrested": false'
run 1 team "$work/pair.yaml"
says "$work/out" "NO"

# The same seed gives the same bytes, whatever the threads.
run 0 team examples/team-three.yaml --samples 1024 --seed 3 --threads 1 --json -o "$work/one.json"
run 0 team examples/team-three.yaml --samples 1024 --seed 3 --threads 2 --json -o "$work/two.json"
same "$work/one.json" "$work/two.json"
run 0 team examples/team-three.yaml --samples 1024 --seed 4 --threads 2 --json -o "$work/other.json"
cmp -s "$work/one.json" "$work/other.json" && fail "another seed gives the same samples"

# Every example says something, draws something, and keeps its words inside its figures.
for scene in examples/team-*.yaml; do
  "$program" team "$scene" --samples 1024 --width 40 >"$work/text" 2>"$work/err"
  case $? in 0 | 1) ;; *) fail "team $scene: $(cat "$work/err")" ;; esac
  "$program" team "$scene" --samples 1024 --units imperial --csv -o "$work/rows.csv" >"$work/text" 2>"$work/err"
  for figure in paths section sheet; do
    "$program" team "$scene" --samples 1024 --figure $figure --svg "$work/$figure.svg" -o "$work/text" 2>"$work/err"
    case $? in 0 | 1) ;; *) fail "team $scene --figure $figure: $(cat "$work/err")" ;; esac
    says "$work/$figure.svg" "</svg>"
  done
done
says "$work/text" "estimates"

# Ways to rope up: one recommendation with its reasons, and the picture of the trade.
run 0 team examples/team-three.yaml --choose --designs 96 --samples 1024 --svg "$work/trade.svg" -o "$work/choose.txt"
says "$work/trade.svg" "</svg>"
"$program" team examples/team-two.yaml --choose --designs 96 --samples 1024 --json -o "$work/choose.json" 2>"$work/err"
case $? in 0 | 1) ;; *) fail "team --choose --json: $(cat "$work/err")" ;; esac
"$program" team examples/team-two.yaml --choose --designs 96 --samples 1024 --csv -o "$work/choose.csv" 2>"$work/err"
case $? in 0 | 1) ;; *) fail "team --choose --csv: $(cat "$work/err")" ;; esac
if command -v node >/dev/null; then
  for json in "$work/holds.json" "$work/one.json" "$work/choose.json"; do
    node -e 'JSON.parse(require("fs").readFileSync(process.argv[1], "utf8"))' "$json" || fail "$json is no JSON"
  done
fi

# Wrong teams end with one line and status 2.
wrong() { # TEXT
  cat >"$work/wrong.yaml" <<END
firnhaul: 1
load: {mass_kg: 80}
slot: {depth_m: 20}
lip: {}
ground: {station_m: 4, anchor_m: 8}
$1
END
  run 2 team "$work/wrong.yaml"
}
wrong ""
wrong "team: {people: [{mass_kg: 80, behind_m: 0}]}"
wrong "team: {people: [{mass_kg: 80, behind_m: 0}, {mass_kg: 80, behind_m: -2}]}"
wrong "team: {people: [{mass_kg: 80, behind_m: 0}, {mass_kg: 80, behind_m: 12}], stand: -1}"
finish
