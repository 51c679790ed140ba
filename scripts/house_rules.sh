#!/usr/bin/env bash
# The rules of the house that no compiler checks (docs/architecture.md). Prints one line for each
# breach and fails if there is any. Needs nothing but the shell, find, grep and awk.
set -euo pipefail

cd "$(dirname -- "$(readlink -f -- "${BASH_SOURCE[0]}")")/.."
export LC_ALL=C.UTF-8
breaches=0

breach() {
  printf '%s\n' "$*"
  breaches=$((breaches + 1))
}

# breach_each RULE reads breaches from standard input, one a line.
breach_each() {
  local line
  while IFS= read -r line; do breach "$line: $1"; done
}

# All the text of the project, this script excepted because it spells out what it forbids.
all_text() {
  find . \( -path ./build -o -path ./packet -o -path ./.git -o -path ./.cache -o -path ./web/node_modules \
    -o -path ./web/dist -o -path ./web/generated \) -prune -o -type f \
    ! -name '*.ttf' ! -name '*.png' ! -path ./scripts/house_rules.sh -print0
}

# A file has one subject. About 300 lines is usual, 500 a smell, 600 too long.
check_lengths() {
  local file lines
  while IFS= read -r -d '' file; do
    lines=$(wc -l <"$file")
    if [ "$lines" -gt 600 ]; then
      breach "$file: $lines lines, more than 600: split it by subject"
    elif [ "$lines" -gt 500 ]; then
      printf '%s\n' "$file: note: $lines lines; a file past 500 usually holds two subjects"
    fi
  done < <(find src tests bench \( -name '*.h' -o -name '*.cpp' \) -print0 | sort -z)
}

check_words() {
  breach_each "unfinished business is finished or left out" \
    < <(all_text | xargs -0 grep -nwE 'TODO|FIXME|XXX|HACK|TBD' || true)
  breach_each "no path of one machine, none outside the tree" \
    < <(all_text | xargs -0 grep -nE '(^|[^A-Za-z0-9_.])/(work|root|home|Users|mnt)/|\.\./shared|shared/reference' || true)
}

# The first line of a table says where its numbers come from.
check_sources() {
  local file
  while IFS= read -r -d '' file; do
    head -n 1 "$file" | grep -qE '^# .{20,}' ||
      breach "$file: the first line must be '# ' and the source of the numbers"
  done < <(find data tests/published/data -name '*.csv' -print0 | sort -z)
}

# Every module has tests, and they are part of the build.
check_tests() {
  local module
  for module in src/*/; do
    module=$(basename "$module")
    if [ ! -f "tests/$module/CMakeLists.txt" ] || ! compgen -G "tests/$module/*_test.cpp" >/dev/null; then
      breach "src/$module: has no tests in tests/$module"
    elif ! grep -qwE "(foreach|add_subdirectory).*\b$module" tests/CMakeLists.txt; then
      breach "tests/$module: is not named in tests/CMakeLists.txt, so it never runs"
    fi
  done
}

# Compute modules take values and give values: no files, clocks, threads, environment, printing.
# (sheet writes drawings and desk is the program; predict spreads its samples with TBB.)
check_purity() {
  local module
  for module in base units air section rotor form rubber spar bench flight brief predict; do
    [ -d "src/$module" ] || continue
    breach_each "a compute module touches no files, clocks, threads or streams" \
      < <(grep -rnE '#include <(fstream|iostream|cstdio|filesystem|chrono|ctime|thread|random)>|\b(getenv|printf|std::rand)\(' \
        "src/$module" --include='*.h' --include='*.cpp' || true)
  done
}

# Links from one page of the handbook to another file must lead somewhere.
check_links() {
  local page link
  while IFS= read -r -d '' page; do
    while IFS= read -r link; do
      link=${link%%#*}
      case $link in '' | http://* | https://* | mailto:*) continue ;; esac
      [ -e "$(dirname "$page")/$link" ] || breach "$page: the link to $link leads nowhere"
    done < <(grep -oE '\]\([^)]+\)' "$page" | sed 's/^](//; s/)$//' || true)
  done < <(find . -maxdepth 1 -name '*.md' -print0 && find docs examples -name '*.md' -print0)
}

check_lengths
check_words
check_sources
check_tests
check_purity
check_links

if [ "$breaches" -gt 0 ]; then
  printf '%s\n' "$breaches breaches of the house rules"
  exit 1
fi
