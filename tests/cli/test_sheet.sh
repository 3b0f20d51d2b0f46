# SPDX-License-Identifier: MIT
# firnhaul sheet: pages of the right size, text that can be selected and is all there, nothing half-written; and every rig
# that would be unsafe to build is refused with exit 1 and its step.
. "$2/tests/cli/lib.sh"
cd "$root" || exit 99
six=examples/rigs/six.yaml

# ---- what comes out
for scene in examples/*.yaml examples/rigs/*.yaml; do
  grep -q '^rig:' "$scene" || continue  # some show a team on its feet
  run 0 sheet "$scene" -o "$work/sheet.txt"
  says "$work/sheet.txt" "Call for rescue first"
  says "$work/sheet.txt" "Step 1: "
  says "$work/sheet.txt" "Training aid"
done
run 0 sheet $six --html "$work/sheet.html" -o "$work/sheet.txt"
says "$work/sheet.html" "<!DOCTYPE html>"
says_not "$work/sheet.html" "<script"
run 0 sheet $six --html -
same "$work/out" "$work/sheet.html"
run 0 sheet $six --json
says "$work/out" '"stages"'
run 0 sheet $six --svg "$work/one.svg" --page 4 -o "$work/sheet.txt"
says "$work/one.svg" "4 of "
run 0 sheet $six --units imperial -o "$work/feet.txt"
says "$work/feet.txt" " ft"

# ---- PDF, by structure
pdf() { # PAPER SIZE
  run 0 sheet $six --paper "$1" --pdf "$work/$1.pdf" -o "$work/sheet.txt"
  pdfinfo "$work/$1.pdf" >"$work/info"
  says "$work/info" "$2"
  pages=$(sed -n 's/^Pages: *//p' "$work/info")
  pdftotext -layout "$work/$1.pdf" "$work/$1.txt"
  checks=$((checks + 3))
  [ "$(grep -c 'Training aid' "$work/$1.txt")" -eq "$pages" ] || fail "$1: not every page has the caution"
  [ "$(grep -Eo '[0-9]+ of '"$pages" "$work/$1.txt" | wc -l)" -eq "$pages" ] || fail "$1: not every page has its number"
  # Fonts embedded, text mapped to Unicode.
  pdffonts "$work/$1.pdf" | awk 'NR > 2 { n++; if ($(NF-4) != "yes" || $(NF-2) != "yes") bad = 1 } END { exit !(n > 0 && !bad) }' ||
    fail "$1: a font is not embedded or not Unicode"
}
if command -v pdftotext >/dev/null 2>&1 && run 0 sheet $six --pdf "$work/try.pdf" -o "$work/sheet.txt"; then
  pdf a6 "297.638 x 419.528 pts"
  pdf a4 "595.276 x 841.89 pts (A4)"
  # All words of the sheet can be selected on the cards.
  tr -cs 'A-Za-z' '\n' <"$work/sheet.txt" | sort -u >"$work/words"
  tr -cs 'A-Za-z' '\n' <"$work/a6.txt" | sort -u >"$work/seen"
  checks=$((checks + 1))
  missing=$(comm -23 "$work/words" "$work/seen" | tr '\n' ' ')
  [ -z "$missing" ] || fail "not on the cards: $missing"
  SOURCE_DATE_EPOCH=1000000000 "$program" sheet $six --pdf "$work/again1.pdf" -o "$work/sheet.txt"
  SOURCE_DATE_EPOCH=1000000000 "$program" sheet $six --pdf "$work/again2.pdf" -o "$work/sheet.txt"
  same "$work/again1.pdf" "$work/again2.pdf"
fi

# ---- refused
refused() { # WORDS: scene in $work/bad.yaml
  rm -f "$work/no.pdf" "$work/no.html" "$work/no.svg"
  run 1 sheet "$work/bad.yaml" --pdf "$work/no.pdf" --html "$work/no.html" --svg "$work/no.svg"
  says "$work/err" "no sheet"
  says "$work/err" "step "
  says "$work/err" "$1"
  empty "$work/out"
  absent "$work/no.pdf"
  absent "$work/no.html"
  absent "$work/no.svg"
}
sed 's/{run: station, on: toothed-capture}/{run: station, on: pulley}/' examples/rigs/three.yaml >"$work/bad.yaml"
refused "no capture in the rig"
says "$work/err" "leaves the load unheld"
sed 's/on: toothed-capture/on: toothed-capture, reversed: true/' examples/rigs/three.yaml >"$work/bad.yaml"
refused "wrong way round"
sed 's/length_m: 60/length_m: 35/' $six >"$work/bad.yaml"
refused "shorter than the raise"
sed 's/at_m: 1.2/at_m: 0.3/' examples/rigs/three.yaml >"$work/bad.yaml"
refused "nearest safe place"
sed 's/name: main, length_m: 60/name: main, length_m: 16/; s/at_m: 1.8/at_m: 3.5/' examples/rigs/nine-two-ropes.yaml >"$work/bad.yaml"
refused "beyond the rope's reach"
# JSON says why as well.
run 1 sheet "$work/bad.yaml" --json
says "$work/out" '"refused": true'

# A rig whose first pull would have to let the load go: the hand's rope is the only line, and nothing catches it.
cat >"$work/bad.yaml" <<'END'
firnhaul: 1
load: {mass_kg: 80}
slot: {depth_m: 8}
lip: {friction: 0.05}
ground: {station_m: 4, anchor_m: 6}
rig: {ropes: [{name: main, path: [{tie: load}, {edge: lip}, {run: station, on: pulley}, {hand: crew, toward: lip}]}]}
END
refused "no capture"

# ---- wrong use
run 2 sheet $six --page 2
says "$work/err" "--page says which"
run 2 sheet $six --page 999 --svg "$work/none.svg"
says "$work/err" "accepted: a whole number from 1 to"
absent "$work/none.svg"
run 2 sheet $six --paper a5
says "$work/err" "a6|a4"
run 2 sheet $six --html - --pdf -
cp $six "$work/own.yaml"
run 2 sheet "$work/own.yaml" --html "$work/own.yaml"
same "$work/own.yaml" $six
sed '/^rig:/,$d' examples/rigs/three.yaml >"$work/bare.yaml"
run 2 sheet "$work/bare.yaml"
says "$work/err" "rig is missing"

# ---- one who does not answer is told nothing, and a backup that takes over at once has no 0.00 m
sed 's/^load:.*/load: {mass_kg: 80, responds: silent}/' $six >"$work/silent.yaml"
run 0 sheet "$work/silent.yaml" -o "$work/silent.txt"
for word in 'Talk' 'talk' 'Climb out' 'Move the legs' 'Legs:' 'person answers' 'call down'; do
  says_not "$work/silent.txt" "$word"
done
says "$work/silent.txt" "look at the person"
says_not "$work/silent.txt" "after 0.00"
says "$work/silent.txt" "Backed up at once by"
run 3 sheet $six --pdf /nonexistent/x.pdf
finish
