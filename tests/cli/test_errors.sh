# SPDX-License-Identifier: MIT
# Wrong use: exit 2, one line on standard error that says what is wrong and what is accepted, nothing on standard output.
. "$2/tests/cli/lib.sh"
scene=$root/examples/two-person.yaml
rig=$root/examples/rigs/three.yaml

refused() {
  text=$1
  shift
  run 2 "$@"
  empty "$work/out"
  one_line "$work/err"
  says "$work/err" "$text"
  says "$work/err" "accepted:"
}

refused "no command"
refused "unknown command 'chekc'" chekc
refused "unknown option '--jsno'" check "$rig" --jsno
refused "an argument is missing after 'check'" check
refused "one argument too many" check "$rig" "$rig"
refused "a value is missing after '--svg'" check "$rig" --svg
refused "--units does not take 'roman'" check "$rig" --units roman
refused "--width does not take '5'" check "$rig" --width 5
refused "--angle does not take '100'" check "$rig" --angle 100
refused "--contacts does not take '10'" plan "$scene" --contacts 10
refused "--prefer does not take 'luck'" plan "$scene" --prefer luck
refused "--pick does not take '0'" plan "$scene" --pick 0
refused "--pick does not take '900'" plan "$scene" --pick 900
refused "--angle and --lower are for one rig" plan "$scene" --angle 30
refused "--angle and --lower are for one rig" plan "$scene" --json --lower
run 1 plan "$root/examples/soft-snow.yaml" --pick 1
one_line "$work/err"
empty "$work/out"
refused "--figure does not take 'cartoon'" check "$rig" --figure cartoon --svg x.svg
refused "--figure says which, not where" check "$rig" --figure section
refused "one rig makes no figure 'plans'" check "$rig" --figure plans --svg x.svg
refused "two forms at once" check "$rig" --json --csv
refused "two forms at once" keys --markdown --schema
refused "two forms at once" help --bash --zsh
refused "two things for standard output" check "$rig" --svg - --png -
refused "two things for standard output" check "$rig" --json --svg -
refused "standard input was asked for twice" check - --gear -
refused "no item 'spoon'" gear spoon
refused "no help on 'spoon'" help spoon
refused "this command takes no argument 'x'" version x

# Nothing that was read is written over, and no output by another.
cp "$rig" "$work/mine.yaml"
ln -s mine.yaml "$work/link.yaml"
cp "$root/fuzz/corpus/gear/like.yaml" "$work/own.yaml"
refused "write over the scene '$work/mine.yaml'" check "$work/mine.yaml" -o "$work/mine.yaml"
refused "write over the scene" check "$work/mine.yaml" --svg "$work/link.yaml"
refused "write over the scene" plan "$work/link.yaml" --json -o "$work/mine.yaml"
refused "write over the gear" check "$work/mine.yaml" --gear "$work/own.yaml" --png "$work/own.yaml"
refused "two things for one file" check "$rig" -o "$work/x.txt" --svg "$work/x.txt"
same "$rig" "$work/mine.yaml"
run 0 check "$work/mine.yaml" --yaml -o "$work/mine.yaml"
run 0 check "$work/mine.yaml" -o /dev/null --svg /dev/null

# A scene without a rig has nothing to check; the place is named.
sed '/^rig:/,$d' "$scene" >"$work/no-rig.yaml"
refused "$work/no-rig.yaml:1:1: rig is missing" check "$work/no-rig.yaml"

# Errors in files carry file, line, column, key and what is accepted.
printf 'firnhaul: 1\nload: {mass_kg: 92}\nslot: {depht_m: 11}\n' >"$work/typo.yaml"
refused "$work/typo.yaml:3:" check "$work/typo.yaml"
says "$work/err" "depht_m"
printf 'firnhaul: 1\nload: {mass_kg: heavy}\n' >"$work/type.yaml"
refused "$work/type.yaml:2:" plan "$work/type.yaml"
says "$work/err" "load.mass_kg"
printf 'firnhaul: 1\nload: {mass_kg: 92\n' >"$work/open.yaml"
"$program" check - <"$work/open.yaml" >"$work/out" 2>"$work/err"
got=$?
checks=$((checks + 1))
[ $got -eq 2 ] || fail "exit $got from a broken scene on standard input"
one_line "$work/err"
empty "$work/out"
refused "$work/missing.yaml" check "$work/missing.yaml"
refused "$work" check "$work"
: >"$work/empty.yaml"
refused "$work/empty.yaml" check "$work/empty.yaml"
printf 'firnhaul_gear: 1\nitems: 7\n' >"$work/gear.yaml"
refused "$work/gear.yaml:2:" check "$rig" --gear "$work/gear.yaml"

# Nothing is written when the input is wrong.
refused "typo.yaml" check "$work/typo.yaml" --svg "$work/x.svg" --png "$work/x.png" -o "$work/x.txt"
absent "$work/x.svg"
absent "$work/x.png"
absent "$work/x.txt"

# A file's bytes never reach the terminal as commands.
printf 'firnhaul: 1\n"\\e[2J\\e]0;owned\\a": 1\n' >"$work/hostile.yaml"
run 2 check "$work/hostile.yaml"
checks=$((checks + 1))
if LC_ALL=C grep -q "$(printf '\033')" "$work/err"; then fail "an escape went to the terminal"; fi
one_line "$work/err"
finish
