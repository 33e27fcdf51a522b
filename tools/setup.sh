#!/bin/sh
# Make .venv with the pinned dependencies and this project in it. Needs Python 3.11 or newer and
# nothing else: every dependency is a ready-made wheel, checked against requirements.lock.
set -eu

VENV=.venv
ENOUGH='import sys; assert sys.version_info >= (3, 11)'

fail() {
    echo "nextpair: $*" >&2
    exit 1
}

find_python() {
    for candidate in python3 python3.13 python3.12 python3.11 python; do
        if "$candidate" -c "$ENOUGH" 2>/dev/null; then
            echo "$candidate"
            return
        fi
    done
}

if ! "$VENV/bin/python" -c "$ENOUGH; import pip" 2>/dev/null; then
    python=${PYTHON:-$(find_python)}
    "$python" -c "$ENOUGH" 2>/dev/null ||
        fail "no Python 3.11 or newer found (tried: ${python:-python3, python3.13, python3.12, python3.11, python})"
    "$python" -c 'import venv, ensurepip' 2>/dev/null ||
        fail "$python cannot make a virtual environment; on Debian or Ubuntu: apt-get install python3-venv"
    echo "nextpair: making $VENV with $("$python" --version)"
    "$python" -m venv --clear "$VENV"
fi

pip="$VENV/bin/python -m pip --disable-pip-version-check --quiet --quiet"
echo "nextpair: installing the pinned dependencies (about a minute the first time)"
$pip install --require-hashes --only-binary :all: -r requirements.lock
$pip install --no-deps --no-build-isolation --editable .
