# shellcheck shell=bash
# The Debian packages Propwright needs, and how to put the missing ones in place.
# Sourced by start and check, after scripts/common.sh; `root` is the top of the tree.
: "${root:?}"

# To build the program. Every one is used by a find_package, a pkg_check_modules or an #include.
# shellcheck disable=SC2034  # used by the scripts that source this file
build_packages=(
  g++ cmake ninja-build pkg-config
  libboost-dev         # Boost.Math, Boost.odeint (headers)
  libeigen3-dev        # linear algebra (headers)
  libexpected-dev      # tl::expected
  liblemon-dev         # matching of graphs
  libfmt-dev
  libudunits2-dev
  libpango1.0-dev      # brings Cairo
  libtbb-dev
  librandom123-dev
  nlohmann-json3-dev
  libsqlite3-dev libsqlitecpp-dev
  libtomlplusplus-dev
  libcli11-dev
  libcpp-httplib-dev   # brings OpenSSL, zlib and Brotli
  libqrencode-dev
  libocct-modeling-algorithms-dev libocct-data-exchange-dev  # Open CASCADE: STEP
  lib3mf-dev           # 3MF
  fontconfig
)

# The pages are built with Node 18 or newer. Debian's own does; so does any other that is on the path
# already, and then no package is asked for.
node_is_here() {
  command -v npm >/dev/null || return 1
  local major
  major=$(node -p 'process.versions.node.split(".")[0]' 2>/dev/null) || return 1
  [ "$major" -ge 18 ]
}
node_is_here || build_packages+=(nodejs npm)

# To build and run the tests as well.
# shellcheck disable=SC2034
test_packages=(
  libgtest-dev libgmock-dev librapidcheck-dev libbenchmark-dev
  libyaml-cpp-dev      # docs/openapi.yaml is checked against the answers
  chromium             # the pages are tried in it
  poppler-utils        # pdfinfo, pdftotext, pdftoppm: the packet is read back
  admesh unzip         # the forms' solids are read back
  python3-jsonschema   # the export is held against its schema
  python3-ezdxf        # the DXF files are read back
  clang                # compiles under the sanitizers, in half the time
  clang-format clang-tidy
)

# Prints those of its arguments that are not installed, one a line.
missing_packages() {
  local installed
  # dpkg-query fails when it does not know one of the names; the list it prints is right all the same.
  # shellcheck disable=SC2016  # dpkg-query's own ${...}
  installed=$(dpkg-query -W -f '${Package} ${db:Status-Status}\n' "$@" 2>/dev/null || true)
  local package
  for package in "$@"; do
    grep -qxF "$package installed" <<<"$installed" || printf '%s\n' "$package"
  done
}

# Runs apt-get as root, without a question. Only sudo itself may ask for a password, and only when
# somebody sits at a terminal.
apt_get() {
  local as_root=()
  if [ "$(id -u)" -ne 0 ]; then
    if sudo -n true 2>/dev/null; then as_root=(sudo -n); else as_root=(sudo); fi
  fi
  "${as_root[@]}" env DEBIAN_FRONTEND=noninteractive NEEDRESTART_MODE=a apt-get \
    -o DPkg::Lock::Timeout=300 -o Acquire::Retries=2 -o Dpkg::Use-Pty=0 -qq "$@" </dev/null
}

may_install() {
  [ "$(id -u)" -eq 0 ] && return 0
  command -v sudo >/dev/null || return 1
  sudo -n true 2>/dev/null || { [ -t 0 ] && [ -z "${CI:-}" ]; }
}

# One of several package sources may be out of reach without any harm to what is wanted here, so a
# failed update is no reason to stop.
update_and_install() {
  apt_get update || echo "apt-get update failed; going on with the package lists at hand"
  apt_get install -y --no-install-recommends "$@"
}

# install_missing PURPOSE PACKAGE...
install_missing() {
  local purpose=$1
  shift
  if ! command -v dpkg-query >/dev/null || ! command -v apt-get >/dev/null; then
    say "No Debian package tools here: I assume that what the build needs is installed."
    return 0
  fi
  local missing
  mapfile -t missing < <(missing_packages "$@")
  [ "${#missing[@]}" -eq 0 ] && return 0
  say "Installing ${#missing[@]} Debian packages $purpose: ${missing[*]}"
  may_install || die "I need to be root, or to have sudo, to install them. As root, run:
  apt-get install --no-install-recommends ${missing[*]}"
  mkdir -p "$root/build"
  local log="$root/build/packages.log"
  if ! update_and_install "${missing[@]}" >"$log" 2>&1; then
    say "That failed; trying once more in five seconds."
    sleep 5
    update_and_install "${missing[@]}" >"$log" 2>&1 || {
      tail -n 30 "$log" >&2
      die "The packages could not be installed; the whole story is in $log"
    }
  fi
}
