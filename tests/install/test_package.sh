#!/bin/sh
# SPDX-License-Identifier: MIT
# What a user installs, as an install and as a .deb: complete, usable by a stranger's program, and nothing but fh_* in sight.
# usage: test_package.sh BUILD SOURCE
set -eu
build=$1
source=$2
tmp=$(mktemp -d)
trap 'rm -rf "$tmp"' EXIT
root=$tmp/root
CC=${CC:-gcc}

fail() {
  printf 'FAIL: %s\n' "$*" >&2
  exit 1
}

present() {
  for file in "$@"; do
    [ -s "$file" ] || fail "missing: $file"
  done
}

# ---- install
cmake --install "$build" --prefix "$root" >"$tmp/install.log" || fail "$(cat "$tmp/install.log")"
present "$root/bin/firnhaul" "$root/include/firnhaul.h" "$root/lib/libfirnhaul.a" "$root/lib/libfirnhaul.so" \
  "$root/lib/pkgconfig/firnhaul.pc" "$root/share/man/man1/firnhaul.1.gz" \
  "$root/share/bash-completion/completions/firnhaul" "$root/share/zsh/site-functions/_firnhaul" \
  "$root/share/doc/firnhaul/copyright" "$root/share/doc/firnhaul/README.md" "$root/share/doc/firnhaul/examples/README.md"

# ---- the library, found through pkg-config, shared and static
export PKG_CONFIG_PATH="$root/lib/pkgconfig"
version=$(sed -n 's/^#define FH_VERSION "\(.*\)"/\1/p' "$source/include/firnhaul.h")
[ "$(pkg-config --modversion firnhaul)" = "$version" ] || fail "pkg-config has another version than the header"
example=$source/examples/api/three_to_one.c
warn='-std=c17 -Wall -Wextra -Wpedantic -Werror'
# shellcheck disable=SC2046,SC2086 # flags are words
$CC $warn "$example" $(pkg-config --cflags --libs firnhaul) -o "$tmp/shared"
# shellcheck disable=SC2046,SC2086
$CC $warn "$example" $(pkg-config --cflags firnhaul) "$root/lib/libfirnhaul.a" -lm -o "$tmp/static"
LD_LIBRARY_PATH="$root/lib" "$tmp/shared" >"$tmp/shared.txt"
"$tmp/static" >"$tmp/static.txt"
cmp "$tmp/shared.txt" "$tmp/static.txt" || fail "shared and static library answer differently"
grep -q '^Pull [1-9][0-9]* N, from [1-9][0-9]* to [1-9][0-9]*; advantage [12]\.[0-9] of an ideal 3\.$' "$tmp/static.txt" || fail "the example says: $(cat "$tmp/static.txt")"

# ---- each header serves by itself, also C++ (any compiler that is there; without one this tests C alone, and says so)
cxx=$(command -v g++ || command -v clang++-14 || command -v clang-14 || :)
[ -n "$cxx" ] || echo "no C++ compiler here: the headers were not tried as C++"
for header in "$root"/include/firnhaul*.h; do
  name=$(basename "$header")
  printf '#include <%s>\nint main(void) { return fh_status_text(FH_OK) == 0; }\n' "$name" >"$tmp/header.c"
  # shellcheck disable=SC2086
  $CC $warn -I "$root/include" -fsyntax-only "$tmp/header.c" || fail "$name does not serve by itself"
  [ -z "$cxx" ] || "$cxx" -x c++ -std=c++17 -Wall -Wextra -Wpedantic -Werror -I "$root/include" -fsyntax-only "$tmp/header.c" || fail "$name is no C++"
done

# ---- only fh_* leaves the shared library, and all that the headers declare is there
nm -D --defined-only "$root/lib/libfirnhaul.so" | awk '{print $3}' | sort >"$tmp/symbols"
! grep -v '^fh_' "$tmp/symbols" || fail "the shared library shows more than fh_*"
sed -n 's/^[a-z].*[ *]\(fh_[a-z_]*\)(.*;.*/\1/p' "$root"/include/firnhaul*.h | sort -u >"$tmp/declared"
[ "$(wc -l <"$tmp/declared")" -ge 50 ] || fail "the headers' functions could not be read"
missing=$(comm -13 "$tmp/symbols" "$tmp/declared")
[ -z "$missing" ] || fail "declared and not there: $missing"

# ---- nothing that serves tests alone, no GPL library by our own hand
ldd "$root/bin/firnhaul" >"$tmp/ldd"
! grep -E 'glpk|gsl|lapack|mujoco|cmocka' "$tmp/ldd" || fail "the program links to a test library"

# ---- program, manual, completion
"$root/bin/firnhaul" version | grep -q "$version" || fail "the program tells another version"
MANROFFSEQ='' MANWIDTH=80 man --warnings -l "$root/share/man/man1/firnhaul.1.gz" >"$tmp/man.txt" 2>"$tmp/man.err" || fail "man: $(cat "$tmp/man.err")"
[ ! -s "$tmp/man.err" ] || fail "the manual has warnings: $(cat "$tmp/man.err")"
grep -q 'firnhaul' "$tmp/man.txt" || fail "the manual is empty"
bash -n "$root/share/bash-completion/completions/firnhaul" || fail "the bash completion does not parse"

# ---- .deb
(cd "$build" && cpack -G DEB -B "$tmp/deb") >"$tmp/cpack.log" 2>&1 || fail "cpack: $(cat "$tmp/cpack.log")"
deb=$(ls "$tmp"/deb/*.deb)
dpkg-deb -I "$deb" >"$tmp/info"
for name in libyaml-0 librsvg2 libcairo2 libc6 fonts-dejavu-core; do
  grep -q "^ Depends:.*$name" "$tmp/info" || fail "the .deb does not depend on $name: $(cat "$tmp/info")"
done
dpkg-deb -x "$deb" "$tmp/unpacked"
present "$tmp/unpacked/usr/bin/firnhaul" "$tmp/unpacked/usr/include/firnhaul.h" "$tmp/unpacked/usr/lib/libfirnhaul.so" \
  "$tmp/unpacked/usr/share/man/man1/firnhaul.1.gz" "$tmp/unpacked/usr/share/doc/firnhaul/copyright"
dpkg-deb -c "$deb" | awk '{print $2}' | sort -u >"$tmp/owners"
[ "$(cat "$tmp/owners")" = root/root ] || fail "files of the .deb do not belong to root"
grep -q ldconfig "$tmp/info" || dpkg-deb --ctrl-tarfile "$deb" | tar -tf - | grep -Eq 'triggers|postinst' || fail "the .deb never calls ldconfig"
status=0
"$tmp/unpacked/usr/bin/firnhaul" check "$source/examples/two-person.yaml" >"$tmp/check.txt" || status=$?
[ "$status" -le 1 ] && [ -s "$tmp/check.txt" ] || fail "the packaged program fails: status $status"
printf 'installed %s files, packaged %s bytes\n' "$(find "$root" -type f | wc -l)" "$(wc -c <"$deb")"
