#!/bin/sh
# Install what a suite needs beside Python, on Debian and as root; elsewhere say what is missing.
set -eu

case "$1" in
postgres) found=$(ls /usr/lib/postgresql/*/bin/initdb 2>/dev/null | tail -n 1) packages=postgresql ;;
chromium) found=$(command -v chromium || true) packages="chromium fonts-dejavu-core" ;;
node) found=$(command -v npm || true) packages="nodejs npm" ;;
*) echo "needs.sh: postgres, chromium or node, not $1" >&2; exit 2 ;;
esac
if [ -z "$found" ]; then
    if [ "$(id -u)" != 0 ] || ! command -v apt-get >/dev/null; then
        echo "nextpair: install first: $packages" >&2
        exit 1
    fi
    apt-get update -qq
    apt-get install -y -qq --no-install-recommends $packages >/dev/null
fi
if [ "$1" = node ] && ! node -e 'process.exit(process.versions.node.split(".")[0] >= 20 ? 0 : 1)'; then
    echo "nextpair: the pages are built with Node 20 or newer, found $(node --version)" >&2
    exit 1
fi
