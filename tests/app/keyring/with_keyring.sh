#!/bin/sh
# with_keyring.sh DBUS_RUN_SESSION GNOME_KEYRING_DAEMON PROGRAM: runs the program beside a keyring that was made for it and that
# goes with it. Nothing of the user's own is touched.
set -eu
home=$(mktemp -d)
trap 'rm -rf "$home"' EXIT
mkdir -m 700 "$home/run"
unset DISPLAY WAYLAND_DISPLAY
HOME=$home XDG_RUNTIME_DIR=$home/run XDG_DATA_HOME=$home/data XDG_CONFIG_HOME=$home/config NEARPOINT_KEYRING_RUNS=1 \
  "$1" -- sh -c 'printf word | "$1" --unlock --components=secrets >/dev/null && exec "$2"' sh "$2" "$3"
