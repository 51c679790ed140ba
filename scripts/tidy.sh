#!/usr/bin/env bash
# Reads every source file of src/ with clang-tidy, as build/release compiles it: joined, two dozen at a
# time. What was clean is not read again until it, a header, the rules or the way it is compiled
# change.
set -euo pipefail

root=$(cd -- "$(dirname -- "$(readlink -f -- "${BASH_SOURCE[0]}")")/.." && pwd -P)
cd "$root"
[ -f build/release/compile_commands.json ] || {
  echo "build/release/compile_commands.json is missing: run cmake --preset release first" >&2
  exit 1
}

stamps=build/tidy
mkdir -p "$stamps"
# Everything but the file itself that its verdict depends on.
common=$({
  find src \( -name '*.h' -o -name CMakeLists.txt \) -print0 | sort -z | xargs -0 sha256sum
  sha256sum .clang-tidy cmake/*.cmake CMakePresets.json
  clang-tidy --version
} | sha256sum | cut -c1-64)
export stamps common

tidy_one() {
  local unit=$1 key stamp output
  key=$({
    echo "$common"
    sha256sum "$unit"
    # The sources that a joined unit includes.
    sed -n 's/^#include "\(.*\)"$/\1/p' "$unit" | grep '\.cpp$' | xargs -r sha256sum
  } | sha256sum | cut -c1-64)
  stamp="$stamps/${unit//\//_}"
  [ -f "$stamp" ] && [ "$(cat "$stamp")" = "$key" ] && return 0
  # GCC knows warnings that Clang does not, and the other way round; the compiler's warnings are the
  # build's business.
  if output=$(clang-tidy --quiet -p build/release --config-file=.clang-tidy --extra-arg=-Wno-error \
    --extra-arg=-Wno-unknown-warning-option "$unit" 2>&1); then
    echo "$key" >"$stamp"
  else
    printf '%s\n' "$output"
    return 1
  fi
}
export -f tidy_one

# What is compiled for src/, but for the tables of embedded files.
mapfile -t units < <(sed -n 's/^ *"file": "\(.*\)",\{0,1\}$/\1/p' build/release/compile_commands.json |
  grep -E "^$root/(build/release/)?src/.*\.(cpp|cxx)$" | grep -v /embedded_table.cpp$ | sort -u)
[ "${#units[@]}" -gt 0 ] || {
  echo "build/release/compile_commands.json names no source of src/" >&2
  exit 1
}

# shellcheck disable=SC2016  # expanded by the inner shell
printf '%s\0' "${units[@]}" | xargs -0 -n 1 -P "$(nproc)" bash -c 'tidy_one "$1"' tidy_one
