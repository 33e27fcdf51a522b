#!/bin/sh
# The wheel as a stranger gets it, installed alone into the environment named: the one that
# `make release` left in dist/, where no source is newer than it, else one that is built now.
set -eu

where=$1
wheels=$(mktemp -d)
trap 'rm -rf "$wheels"' EXIT
if [ -f dist/SHA256SUMS ] && [ -z "$(find src pyproject.toml -newer dist/SHA256SUMS -type f \
    ! -name '*.pyc' -print -quit)" ]; then
    (cd dist && sha256sum --check --quiet SHA256SUMS)
    cp dist/nextpair-*.whl "$wheels"
else
    .venv/bin/python -m hatchling build --target wheel --directory "$wheels" >/dev/null
fi
sed -n 's/^\([a-z0-9-]*==[^\\]*[^\\ ]\).*/\1/p' requirements.lock >"$wheels/versions.txt"
[ -x "$where/bin/python" ] || .venv/bin/python -m venv "$where"
"$where/bin/python" -m pip --disable-pip-version-check --quiet --quiet install \
    --only-binary :all: --constraint "$wheels/versions.txt" --force-reinstall --no-deps \
    "$wheels"/nextpair-*.whl
"$where/bin/python" -m pip --disable-pip-version-check --quiet --quiet install \
    --only-binary :all: --constraint "$wheels/versions.txt" nextpair
