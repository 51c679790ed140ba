# shellcheck shell=bash
# What start and check share: plain speech, and one way to configure and build.
# The sourcing script has set `root` to the top of the tree.
: "${root:?}"

say() { printf '%s\n' "$*"; }

die() {
  printf '%s\n' "$*" >&2
  exit 1
}

# As many compilers at once as there are processors, but no more than one for each GB of free
# memory: the largest files need about that with the sanitizers on.
build_jobs() {
  local processors memory_GB
  processors=$(nproc)
  memory_GB=$(awk '/^MemAvailable:/ { print int($2 / 1048576) }' /proc/meminfo 2>/dev/null || true)
  [ -n "$memory_GB" ] || memory_GB=$processors
  [ "$memory_GB" -ge 1 ] || memory_GB=1
  if [ "$processors" -lt "$memory_GB" ]; then echo "$processors"; else echo "$memory_GB"; fi
}

# The compiler cache to build with, or nothing: it helps when it is there and works (it needs a
# folder it may write to), and is never relied on.
compiler_cache() {
  if [ -n "${CMAKE_CXX_COMPILER_LAUNCHER+set}" ]; then
    printf '%s' "$CMAKE_CXX_COMPILER_LAUNCHER"
    return
  fi
  command -v ccache >/dev/null || return 0
  local probe="$root/build/compiler_cache_probe"
  printf 'int probe;\n' >"$probe.cpp"
  if (cd "$root/build" && ccache c++ -c "$probe.cpp" -o "$probe.o") >/dev/null 2>&1; then
    command -v ccache
  fi
}

# configure PRESET OPTION... writes build/PRESET; silent unless it fails.
configure() {
  local preset=$1
  shift
  local folder="$root/build/$preset" log="$root/build/configure-$preset.log" cached
  mkdir -p "$root/build"
  # A tree that was moved or copied cannot reuse its old build folder.
  if [ -f "$folder/CMakeCache.txt" ]; then
    cached=$(sed -n 's/^CMAKE_HOME_DIRECTORY:INTERNAL=//p' "$folder/CMakeCache.txt")
    if [ "$cached" != "$root" ]; then
      say "build/$preset belongs to another place ($cached): starting it afresh."
      rm -rf "$folder"
    fi
  fi
  # Setting the launcher each time forgets one that has gone.
  if ! (cd "$root" && cmake --preset "$preset" \
    "-DCMAKE_CXX_COMPILER_LAUNCHER=$(compiler_cache)" "$@") >"$log" 2>&1; then
    cat "$log" >&2
    say "Configuring build/$preset failed; the lines above are from $log" >&2
    return 1
  fi
}

# build PRESET TARGET... builds in build/PRESET.
build() {
  local preset=$1
  shift
  cmake --build "$root/build/$preset" --parallel "$(build_jobs)" --target "$@"
}
