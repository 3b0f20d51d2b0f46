# SPDX-License-Identifier: MIT
# The figures and tables of the docs that lay published measurements over the model are what their scripts make of the program.
# UPDATE_GOLDEN=1 writes them anew.
. "$2/tests/cli/lib.sh"
cd "$root" || exit 99

# between FILE NAME: what stands between the two marks
between() {
  sed -n "/<!-- $2: /,/<!-- end of $2 -->/p" "$1" | sed '1d;$d'
}

# put FILE NAME TEXT: the text goes between the marks
put() {
  awk -v name="$2" -v text="$3" '
    index($0, "<!-- end of " name " -->") { inside = 0 }
    !inside { print }
    index($0, "<!-- " name ": ") { inside = 1; while ((getline line < text) > 0) print line }' "$1" >"$work/page" && cat "$work/page" >"$1"
}

for pair in pulls:docs/anchor.md slides:docs/team.md; do
  name=${pair%%:*}
  page=${pair#*:}
  sh docs/figures/$name.sh "$program" --svg >"$work/$name.svg" || fail "$name.sh --svg failed"
  sh docs/figures/$name.sh "$program" --markdown >"$work/$name.md" || fail "$name.sh --markdown failed"
  [ "${UPDATE_GOLDEN:-}" != 1 ] || { cat "$work/$name.svg" >docs/figures/$name.svg; put "$page" "$name" "$work/$name.md"; }
  same "$work/$name.svg" docs/figures/$name.svg
  between "$page" "$name" >"$work/$name.page"
  same "$work/$name.md" "$work/$name.page"
  says "$work/$name.page" '|---|'
  says "docs/figures/$name.svg" '<title>'
done
finish
