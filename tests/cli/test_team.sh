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

# Ways to rope up: on snow that is not known three hold too seldom, and nothing is recommended; on soft snow one is, with its reasons.
run 1 team examples/team-three.yaml --choose --designs 96 --samples 256 -o "$work/choose.txt"
says "$work/choose.txt" "None recommended"
says "$work/choose.txt" "too short"
sed 's/^team:/team:\n  snow: soft/' examples/team-six.yaml >"$work/soft.yaml"
run 0 team "$work/soft.yaml" --choose --designs 96 --samples 1024 --svg "$work/trade.svg" -o "$work/choose.txt"
says "$work/trade.svg" "</svg>"
# The same bytes, whoever takes which way to rope up.
for threads in 1 2 5; do
  run 1 team examples/team-three.yaml --choose --designs 48 --samples 256 --threads $threads --json -o "$work/choose-$threads.json"
  same "$work/choose-1.json" "$work/choose-$threads.json"
done
"$program" team examples/team-two.yaml --choose --designs 96 --samples 1024 --json -o "$work/choose.json" 2>"$work/err"
case $? in 0 | 1) ;; *) fail "team --choose --json: $(cat "$work/err")" ;; esac
"$program" team examples/team-two.yaml --choose --designs 96 --samples 1024 --csv -o "$work/choose.csv" 2>"$work/err"
case $? in 0 | 1) ;; *) fail "team --choose --csv: $(cat "$work/err")" ;; esac
if command -v node >/dev/null; then
  for json in "$work/holds.json" "$work/one.json" "$work/choose.json"; do
    node -e 'JSON.parse(require("fs").readFileSync(process.argv[1], "utf8"))' "$json" || fail "$json is no JSON"
  done
fi

# Two to six people of one scene all run, forward and choosing.
for people in 2 3 4 5 6; do
  {
    printf 'firnhaul: 1\nload: {mass_kg: 80}\nslot: {depth_m: 10}\nlip: {}\nground: {station_m: 4}\n'
    printf 'ropes: [{name: main, length_m: 60, kind: half}]\nkit: [{item: carabiner, count: 12}, {item: pulley, count: 2}, {item: prusik, count: 6}]\n'
    printf 'team:\n  people: [{mass_kg: 80, behind_m: 0}'
    behind=0
    for i in $(seq 2 $people); do
      behind=$((behind + 8))
      printf ', {mass_kg: 75, behind_m: %d}' $behind
    done
    printf ']\n  knots: {first_m: 3, apart_m: 1, count: 3, catch_N: [200, 1500], plough_m: [0, 0.3]}\n'
  } >"$work/$people.yaml"
  "$program" team "$work/$people.yaml" --samples 256 --json -o "$work/$people.json" 2>"$work/err"
  case $? in 0 | 1) ;; *) fail "a team of $people: $(cat "$work/err")" ;; esac
  checks=$((checks + 1))
  [ "$(grep -o '"lip_margin_m"' "$work/$people.json" | wc -l)" -ge 1 ] || fail "a team of $people has no margin"
  "$program" team "$work/$people.yaml" --choose --designs 48 --samples 64 --csv -o "$work/$people.csv" 2>"$work/err"
  case $? in 0 | 1) ;; *) fail "choosing for $people: $(cat "$work/err")" ;; esac
  says "$work/$people.csv" "$people,main,"
done

# A knot that ploughs holds more often than one that gives way at once: the energy it takes is catch times plough.
sed 's/plough_m: .0, 0.3./plough_m: 0/' "$work/2.yaml" >"$work/brief.yaml"
sed 's/plough_m: .0, 0.3./plough_m: 0.9/' "$work/2.yaml" >"$work/long.yaml"
held() { # FILE
  "$program" team "$1" --samples 512 --json 2>"$work/err" | tr ',' '\n' | sed -n 's/.*"nobody_else_in": *//p' | head -1
}
checks=$((checks + 1))
awk -v a="$(held "$work/brief.yaml")" -v b="$(held "$work/long.yaml")" 'BEGIN { exit !(a != "" && b > a + 0.05) }' || fail "ploughing does not help"

# A choice that is killed leaves the old file as it was and nothing half-written beside it. It is killed once its progress shows, so that
# nothing sleeps; a terminal is needed to see it.
if command -v script >/dev/null; then
  for signal in INT TERM KILL; do
    mkdir "$work/$signal"
    echo old >"$work/$signal/choice.json"
    mkfifo "$work/tty.$signal"
    # The program takes the number of the shell, which it leaves behind; minutes of falls, so that it cannot be done before.
    TERM=xterm script -qefc "echo \$\$ >$work/pid.$signal; exec $program team examples/team-six.yaml --choose --samples 100000 --json -o $work/$signal/choice.json" \
      /dev/null </dev/null >"$work/tty.$signal" 2>/dev/null &
    dd if="$work/tty.$signal" bs=1 count=10 2>/dev/null >"$work/seen" &
    reader=$!
    wait $reader
    kill -$signal "$(cat "$work/pid.$signal")"
    wait
    says "$work/seen" "searching"
    checks=$((checks + 2))
    [ "$(cat "$work/$signal/choice.json")" = old ] || fail "killed by $signal, it wrote over the old file"
    [ "$(ls "$work/$signal")" = choice.json ] || fail "killed by $signal, it left $(ls "$work/$signal")"
  done
else
  echo "no script(1): no choice was killed"
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
  one_line "$work/err"
  says "$work/err" ", accepted: "
  says "$work/err" "$2"
  run 2 team "$work/wrong.yaml" --choose
}
two="people: [{mass_kg: 80, behind_m: 0}, {mass_kg: 80, behind_m: 12}]"
wrong "" "wrong.yaml:1:1: team: the scene has no team"
wrong "team: {people: [{mass_kg: 80, behind_m: 0}]}" "wrong.yaml:6:16: team.people: too few entries"
wrong "team: {people: [{mass_kg: 80, behind_m: 0}, {mass_kg: 80, behind_m: -2}]}" "wrong.yaml:6:69: team.people[1].behind_m"
wrong "team: {people: [{mass_kg: 80, behind_m: 1}, {mass_kg: 80, behind_m: 12}]}" "team.people[0].behind_m: distances count from the first one"
wrong "team: {people: [{mass_kg: 80, behind_m: 0}, {mass_kg: 80, behind_m: [-1, 12]}]}" "wrong.yaml:6:70: team.people[1].behind_m"
wrong "team: {$two, stand: -1}" "team.stand: out of range: -1"
wrong "ropes: [{name: main, length_m: 20}]
team: {people: [{mass_kg: 80, behind_m: 0}, {mass_kg: 80, behind_m: 25}]}" "wrong.yaml:7:69: team.people[1].behind_m"
wrong "team: {$two, knots: {first_m: 2, apart_m: 0.2, count: 3, catch_N: 500}}" "team.knots.apart_m: the knots stand closer than a knot is long"
wrong "team: {$two, knots: {first_m: 10, apart_m: 2, count: 3, catch_N: 500}}" "team.knots: the last knot would sit"
wrong "team: {$two, knots: {first_m: 2, apart_m: 1, count: 3, catch_N: 500, plough_m: -0.1}}" "team.knots.plough_m: out of range: -0.1"
wrong "team: {$two, knots: {first_m: 2, apart_m: 1, count: 3, catch_N: 500, plough_mm: 100}}" "team.knots.plough_mm"
sed 's/station_m: 4,/station_m: 4, slope_deg: 35,/' "$work/wrong.yaml" | sed 's/, knots.*/}/' >"$work/steep.yaml"
run 2 team "$work/steep.yaml"
one_line "$work/err"
says "$work/err" "steep.yaml:5:35: ground.slope_deg: too steep to stand on"
finish
