# Shared by app/start and tests/run, which set $top to the top of the tree. POSIX sh; messages go to standard error.

say() {
  printf 'nearpoint: %s\n' "$*" >&2
}

# install_packages PURPOSE...: installs what is missing of the packages listed for these purposes in app/packages.txt.
install_packages() {
  if ! command -v dpkg-query >/dev/null 2>&1; then
    say "this is not Debian; install by hand what app/packages.txt lists"
    return 0
  fi
  missing=
  for purpose in "$@"; do
    for package in $(sed -n "s/^$purpose //p" "$top/app/packages.txt"); do
      state=$(dpkg-query -W -f '${db:Status-Abbrev}' "$package" 2>/dev/null || true)
      case $state in
        ii*) ;;
        *) missing="$missing $package" ;;
      esac
    done
  done
  if [ -z "$missing" ]; then
    say "all packages are there"
    return 0
  fi
  as_root=
  if [ "$(id -u)" -ne 0 ]; then
    if ! command -v sudo >/dev/null 2>&1; then
      say "these packages are missing and only root can install them:$missing"
      return 1
    fi
    as_root=sudo
  fi
  say "installing$missing"
  $as_root apt-get update -q >&2
  # shellcheck disable=SC2086  # a list of words
  $as_root env DEBIAN_FRONTEND=noninteractive apt-get install -y -q --no-install-recommends $missing >&2
}

# configure_and_build OPTION...: the preset "release" in build/.
configure_and_build() {
  log=$top/build/configure.log
  mkdir -p "$top/build"
  if ! (cd "$top" && cmake --preset release "$@") >"$log" 2>&1; then
    cat "$log" >&2
    say "the build could not be configured; the reason stands above"
    return 1
  fi
  say "building in build/ (some minutes the first time)"
  cmake --build "$top/build" >&2
}
