# SPDX-License-Identifier: MIT
# Help, manual page and completions come from one table: each option of each command's --help stands in all of them.
. "$2/tests/cli/lib.sh"

run 0 --help
cp "$work/out" "$work/program"
run 0 help
same "$work/program" "$work/out"
says "$work/out" "Training aid. It does not replace instruction"
run 0 --version
cp "$work/out" "$work/version"
run 0 version
same "$work/version" "$work/out"
version=$(sed -n 's/^#define FH_VERSION "\(.*\)"/\1/p' "$root/include/firnhaul.h")
says "$work/out" "firnhaul $version"

"$program" help --man-source >"$work/man.scd" || fail "no manual page"
"$program" help --bash >"$work/bash" || fail "no bash completion"
"$program" help --zsh >"$work/zsh" || fail "no zsh completion"
sed 's/\\//g' "$work/man.scd" >"$work/man.plain"

commands=$(sed -n '/^command /,/^$/s/^\([a-z]*\) .*/\1/p' "$work/program" | grep -v '^command$')
says "$work/program" "check FILE"
for command in $commands; do
  run 0 "$command" --help
  cp "$work/out" "$work/help"
  run 0 help "$command"
  same "$work/help" "$work/out"
  says "$work/help" "Exit status"
  says "$work/help" "Examples"
  says "$work/man.plain" "firnhaul $command"
  says "$work/zsh" "    $command)"
  says "$work/bash" "    $command)"
  options=$(sed -n 's/^\(-., \)\{0,1\}\(--[a-z-]*\).*/\2/p' "$work/help")
  [ -n "$options" ] || fail "no options in the help of $command"
  sed -n "/^## $command\( \|\$\)/,/^\(## \|# \)[^$command]/p" "$work/man.plain" >"$work/man.command"
  sed -n "/^    $command)/,/;;/p" "$work/bash" >"$work/bash.command"
  sed -n "/^    $command)/,/;;/p" "$work/zsh" >"$work/zsh.command"
  for option in $options; do
    says "$work/man.command" "*$option*"
    says "$work/bash.command" "$option"
    says "$work/zsh.command" "$option"
  done
done

# No line of any help is wider than asked for.
for width in 40 80 132; do
  for command in $commands; do
    run 0 help "$command" --width $width
    wide=$(awk -v w=$width 'length($0) > w' "$work/out" | head -1)
    checks=$((checks + 1))
    [ -z "$wide" ] || fail "wider than $width: $wide"
  done
done

# The manual page is well-formed, and says the same when it is rendered.
if command -v scdoc >/dev/null; then
  checks=$((checks + 1))
  SOURCE_DATE_EPOCH=0 scdoc <"$work/man.scd" >"$work/man.1" 2>"$work/err" || fail "scdoc refuses the page: $(cat "$work/err")"
  says "$work/man.1" 'CAUTIONS'
else
  echo "no scdoc: the manual page was not rendered"
fi

# bash offers commands, options, values, items and files.
if command -v bash >/dev/null; then
  complete() {
    bash --norc -c '
      . "$1"; shift
      COMP_WORDS=(firnhaul "$@"); COMP_CWORD=$#
      _firnhaul
      printf "%s\n" "${COMPREPLY[@]}"' - "$work/bash" "$@" >"$work/out" 2>"$work/err"
    empty "$work/err"
  }
  complete ch
  says "$work/out" check
  says_not "$work/out" plan
  complete check --un
  says "$work/out" --units
  complete check --units ''
  says "$work/out" imperial
  complete gear caba
  says_not "$work/out" check
  complete gear carab
  says "$work/out" carabiner
  complete help ge
  says "$work/out" gear
  (cd "$root" && complete check exam && says "$work/out" examples)
  bash -n "$work/bash" || fail "bash completion has a syntax error"
else
  echo "no bash: its completion was not tried"
fi
if command -v zsh >/dev/null; then
  checks=$((checks + 1))
  zsh -n "$work/zsh" || fail "zsh completion has a syntax error"
fi
finish
