# SPDX-License-Identifier: MIT
# What a user reads, word for word. A change here is a change on the screen: look at the diff, then
# UPDATE_GOLDEN=1 sh tests/cli/test_golden.sh PROGRAM ROOT. The numbers are judged elsewhere, against sources.
. "$2/tests/cli/lib.sh"
gold=$root/tests/golden/cli
cd "$root" || exit 99

golden() {
  name=$1
  wanted=$2
  shift 2
  run "$wanted" "$@"
  # How many rigs a search built on its way is its own affair; that it says so is checked with the figures.
  cat "$work/out" "$work/err" | sed '/^Search: /,/^$/d' >"$work/both"
  if [ "${UPDATE_GOLDEN:-}" = 1 ] && [ "$got" -eq "$wanted" ]; then
    cp "$work/both" "$gold/$name"
  else
    same "$gold/$name" "$work/both"
  fi
}

golden help.txt 0 --help
golden help-check.txt 0 check --help
golden help-plan.txt 0 help plan
golden check-six.txt 0 check examples/rigs/six.yaml --lower
golden check-two-person-40.txt 0 check examples/two-person.yaml --width 40
golden check-soft-snow-imperial.txt 1 check examples/soft-snow.yaml --units imperial
golden check-angle.txt 0 check examples/rigs/three.yaml --angle 30
golden check-drop-loop.csv 0 check examples/rigs/drop-loop.yaml --csv
golden check-direct.json 0 check examples/rigs/direct.yaml --json
golden plan-two-person.txt 0 plan examples/two-person.yaml
golden plan-soft-snow.txt 1 plan examples/soft-snow.yaml
golden plan-two-haulers.csv 0 plan examples/two-haulers.yaml --csv
golden help-sheet.txt 0 sheet --help
golden haul-six.txt 0 haul examples/rigs/six.yaml
golden haul-soft-snow-imperial.txt 1 haul examples/soft-snow.yaml --units imperial
golden haul-two-person-why.txt 0 haul examples/two-person.yaml --why
golden lose-two-person-chance-step-23.txt 0 lose examples/two-person.yaml --chance --step 23
golden help-haul.txt 0 help haul
golden help-lose.txt 0 help lose
golden lose-three.txt 0 lose examples/rigs/three.yaml
golden lose-six-step-9.txt 0 lose examples/rigs/six.yaml --step 9
golden rope-two-person.txt 0 rope examples/two-person.yaml
golden sheet-six.txt 0 sheet examples/rigs/six.yaml
golden sheet-two-haulers-40.txt 0 sheet examples/two-haulers.yaml --width 40
golden gear-carabiner.txt 0 gear carabiner
golden gear-prusik-imperial.txt 0 gear prusik --units imperial
golden keys-100.txt 0 keys --width 100
golden bash.txt 0 help --bash
golden zsh.txt 0 help --zsh
golden man.scd 0 help --man-source
golden error-option.txt 2 check examples/two-person.yaml --colour
finish
