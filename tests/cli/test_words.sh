# SPDX-License-Identifier: MIT
# Is anything still English in another language? The words of the table tell: one that the English column has and the other
# does not have must not be in what is said. Names that a scene gives, its title and the keys of sources are left out.
. "$2/tests/cli/lib.sh"
cd "$root" || exit 99

# One word a line, small; keys of sources as a whole.
words() {
  tr 'A-Z' 'a-z' | tr -cs 'a-z0-9\200-\377-' '\n'
}

column() {
  awk -v want="$1" '
    /^[WT]\("/ { c = 0 }
    /^([WT]\(|  )"/ { c++; if (c == want) { sub(/^([WT]\(|  )"/, ""); sub(/"[,)]$/, ""); gsub(/%[0-9.*]*l*[sdu]/, " "); gsub(/\\n/, " "); print } }
  ' src/tables/words.def | words | tr -s '-' '\n' | sort -u
}

# Beyond the table: what any English sentence has.
usual="the of and is are with from not this that it be was which what when because would could should have has been they their there
than only into each every both other left right back down over under about between through wide wrong given missing unknown needs main block"

column 1 >"$work/en"
for word in $usual; do echo "$word"; done | sort -u - "$work/en" -o "$work/en"
"$program" gear --json | sed -n 's/.*"source": "\(.*\)".*/\1/p' | sort -u | grep . >"$work/sources"
[ "$(wc -l <"$work/sources")" -gt 20 ] || fail "no sources in the catalogue"
for language in de fr it; do
  case $language in de) n=2 ;; fr) n=3 ;; *) n=4 ;; esac
  column $n >"$work/own"
  [ $language != de ] || { cp "$work/own" "$work/two" && { cat "$work/two"; echo block; } | sort -u >"$work/own"; }  # a word of both languages
  comm -23 "$work/en" "$work/own" | awk 'length($0) > 1' >"$work/english-$language"
  checks=$((checks + 1))
  [ "$(wc -l <"$work/english-$language")" -gt 500 ] || fail "$language: hardly any words to look for"
done

# Every phrase that the sources put over on one line has a row.
grep -ohE 'fhi_say\([^,"()]*, "([^"\\]|\\.)*"\)' src/*.c cli/*.c | sed 's/^[^"]*//; s/)$//' | grep -v '\\x' | sort -u >"$work/used"
sed -n 's/^[WT](\(".*"\),$/\1/p' src/tables/words.def | sort -u >"$work/rows"
checks=$((checks + 1))
[ "$(wc -l <"$work/used")" -gt 300 ] || fail "hardly any phrases in the sources"
comm -23 "$work/used" "$work/rows" >"$work/left"
checks=$((checks + 1))
[ ! -s "$work/left" ] || fail "without a row: $(cat "$work/left")"

# Titles and names of one's own; those that the program itself gives (tables/given.def) have words in every language.
names_of() {
  {
    sed -n 's/^title: *//p' "$1"
    grep -oE '(name|body|rope|run|hand|of): *[A-Za-z0-9-]+' "$1" | sed 's/.*: *//' | grep -vxE 'load|station|anchor|crew|lip|main|block-[0-9]+'
  } | words | tr -s '-' '\n' | sort -u
}

# looks LANGUAGE SCENE: $work/said holds what was said
looks() {
  checks=$((checks + 1))
  names_of "$2" >"$work/names"
  words <"$work/said" | grep -vxF -f "$work/sources" | tr -s '-' '\n' | sort -u | comm -12 - "$work/english-$1" | comm -23 - "$work/names" >"$work/left"
  [ ! -s "$work/left" ] || fail "$2 in $1: $(tr '\n' ' ' <"$work/left")"
  checks=$((checks + 1))
  [ "$(wc -w <"$work/said")" -gt 100 ] || fail "$2 in $1: hardly anything said"
  : >"$work/said"
}

# A scene without what the command needs says nothing.
say() {
  "$program" "$@" >>"$work/said" 2>/dev/null
}

figure() {
  "$program" "$@" --svg - 2>/dev/null |
    sed -n -e 's/.*aria-label="\([^"]*\)".*/\1/p' -e 's/.*<text[^>]*>\([^<]*\)<.*/\1/p' -e 's/.*<title>\([^<]*\)<.*/\1/p' >>"$work/said"
}

: >"$work/said"
turn=0
for scene in $(grep -l '^rig:' examples/*.yaml examples/rigs/*.yaml); do
  turn=$((turn + 1))
  case $((turn % 3)) in 0) language=de ;; 1) language=fr ;; *) language=it ;; esac
  for command in check haul lose sheet; do
    say $command "$scene" --language $language
    figure $command "$scene" --language $language
  done
  say rope "$scene" --language $language
  figure rope "$scene" --language $language
  figure check "$scene" --language $language --figure plan-view
  figure check "$scene" --language $language --figure angle
  looks $language "$scene"
done
for language in de fr it; do
  for scene in examples/anchors/*.yaml examples/two-person.yaml; do
    say anchor "$scene" --language $language
    figure anchor "$scene" --language $language
    looks $language "$scene"
  done
  scene=examples/soft-snow.yaml
  say plan $scene --language $language --units imperial
  figure plan $scene --language $language
  say plan $scene --language $language --chance --samples 1024
  say check $scene --language $language --why --samples 1024 --lower --angle 20
  figure check $scene --language $language --figure chance --samples 1024
  say haul $scene --language $language --why --samples 1024
  figure haul $scene --language $language --why --samples 1024
  say lose $scene --language $language --chance --samples 256
  say lose $scene --language $language --step 4
  looks $language $scene
  scene=examples/team-three.yaml
  say rope $scene --language $language
  figure rope $scene --language $language
  say team $scene --language $language --samples 100
  say team $scene --language $language --choose --designs 10 --samples 20
  figure team $scene --language $language --figure section --samples 20
  figure team $scene --language $language --figure sheet --samples 20
  figure team $scene --language $language --figure trade --choose --designs 10 --samples 20
  looks $language $scene
done
finish
