#!/bin/sh
# The wheel as a stranger gets it: built, and installed alone into the environment named.
set -eu

where=$1
wheels=$(mktemp -d)
trap 'rm -rf "$wheels"' EXIT
.venv/bin/python -m hatchling build --target wheel --directory "$wheels" >/dev/null
sed -n 's/^\([a-z0-9-]*==[^\\]*[^\\ ]\).*/\1/p' requirements.lock >"$wheels/versions.txt"
[ -x "$where/bin/python" ] || .venv/bin/python -m venv "$where"
"$where/bin/python" -m pip --disable-pip-version-check --quiet --quiet install \
    --only-binary :all: --constraint "$wheels/versions.txt" --force-reinstall --no-deps \
    "$wheels"/nextpair-*.whl
"$where/bin/python" -m pip --disable-pip-version-check --quiet --quiet install \
    --only-binary :all: --constraint "$wheels/versions.txt" nextpair
