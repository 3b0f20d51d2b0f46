# SPDX-License-Identifier: MIT
# What the pages show is what the program says: each line "$ command" in a console block is run, and what follows it must be
# its output. UPDATE_GOLDEN=1 writes the output in.
. "$2/tests/cli/lib.sh"
cd "$root" || exit 99
mkdir "$work/bin"
printf '#!/bin/sh\nexec "%s" "$@"\n' "$program" >"$work/bin/firnhaul"
chmod +x "$work/bin/firnhaul"
PATH=$work/bin:$PATH

page() {
  inside=no
  while IFS= read -r line; do
    case $inside:$line in
      no:'```console') inside=yes; printf '%s\n' "$line" ;;
      yes:'```') inside=no; printf '%s\n' "$line" ;;
      yes:'$ '*) printf '%s\n' "$line"; sh -c "${line#\$ }" 2>&1 </dev/null ;;
      yes:*) ;;
      *) printf '%s\n' "$line" ;;
    esac
  done <"$1" >"$work/page"
  grep -q '^\$ ' "$1" || fail "$1 shows no command"
  # A crash is no output, not even where the output is written in.
  if grep -Eq 'Segmentation fault|Aborted|core dumped|Sanitizer' "$work/page"; then
    fail "$1: a command crashed"
  elif [ "${UPDATE_GOLDEN:-}" = 1 ]; then
    cmp -s "$work/page" "$1" || cp "$work/page" "$1"
  fi
  same "$1" "$work/page"
}

for file in README.md docs/use.md docs/rescue.md examples/README.md; do
  page $file
done

# Links in them lead somewhere.
for file in README.md docs/use.md docs/rescue.md examples/README.md; do
  for link in $(grep -o '](\([^)#]*\))' $file | sed 's/](\(.*\))/\1/'); do
    case $link in http*) continue ;; esac
    checks=$((checks + 1))
    [ -e "$(dirname $file)/$link" ] || fail "$file: no $link"
  done
done
finish
