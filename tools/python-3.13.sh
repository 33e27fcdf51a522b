#!/bin/sh
# The wheel on Python 3.13: a Debian 13 of its own in build/python-3.13 (on Debian, as root, some
# 40 s), the wheel installed there alone with the pinned versions, tried out, and its sheet held
# against the one of .venv's Python. PYTHON313 names an interpreter to take instead.
set -eu

root=build/python-3.13
mkdir -p build
say() { echo "nextpair: $*" >&2; }

.venv/bin/python tools/release.py
sh tools/installed.sh build/installed
.venv/bin/python tools/smoke.py "$PWD/build/installed/bin/nextpair" build/sheet-here.json

sed -n 's/^\([a-z0-9-]*==[^\\]*[^\\ ]\).*/\1/p' requirements.lock >build/versions.txt
if [ -n "${PYTHON313:-}" ]; then
    "$PYTHON313" -m venv --clear build/alone-3.13
    build/alone-3.13/bin/python -m pip --disable-pip-version-check --quiet install \
        --only-binary :all: --constraint build/versions.txt dist/nextpair-*.whl
    build/alone-3.13/bin/python tools/smoke.py "$PWD/build/alone-3.13/bin/nextpair" build/sheet-3.13.json
else
    if [ ! -x "$root/usr/bin/python3.13" ]; then
        if [ "$(id -u)" != 0 ] || ! command -v apt-get >/dev/null; then
            say "needs Python 3.13: name one by PYTHON313, or run it on Debian as root"
            exit 1
        fi
        command -v debootstrap >/dev/null || {
            apt-get update -qq
            apt-get install -y -qq --no-install-recommends debootstrap >/dev/null
        }
        mirror=$(cat /etc/apt/sources.list /etc/apt/sources.list.d/debian.sources 2>/dev/null |
            sed -n 's/^URIs: *\([^ ]*\).*/\1/p;s/^deb \(\[[^]]*\] \)\{0,1\}\([^ ]*\) .*/\2/p' | head -n 1)
        [ -n "$mirror" ] || { say "no Debian mirror is named under /etc/apt"; exit 1; }
        rm -rf "$root"
        debootstrap --variant=minbase --include=python3,python3-venv,ca-certificates trixie \
            "$root" "$mirror" >build/python-3.13.log 2>&1 ||
            { say "no Python 3.13 could be had from this machine's mirror: build/python-3.13.log"; exit 1; }
    fi
    # Installed by this machine's pip, by its own settings, for the other Python: no network there.
    rm -rf "$root/nextpair" && mkdir "$root/nextpair"
    .venv/bin/python -m pip --disable-pip-version-check --quiet install --only-binary :all: \
        --python-version 3.13 --implementation cp --platform manylinux_2_28_x86_64 \
        --platform manylinux_2_27_x86_64 --platform manylinux_2_17_x86_64 --platform manylinux2014_x86_64 \
        --constraint build/versions.txt --target "$root/nextpair/packages" dist/nextpair-*.whl
    cp tools/smoke.py "$root/nextpair/smoke.py"
    printf '#!/bin/sh\nPYTHONPATH=/nextpair/packages exec python3.13 -c "from nextpair.cli.main import run; run()" "$@"\n' \
        >"$root/nextpair/program"
    chmod 755 "$root/nextpair/program"
    mkdir -p "$root/proc" && { [ -e "$root/proc/cpuinfo" ] || mount -t proc proc "$root/proc"; }
    trap 'umount "$root/proc" 2>/dev/null || true' EXIT
    chroot "$root" python3.13 /nextpair/smoke.py /nextpair/program /nextpair/sheet.json
    cp "$root/nextpair/sheet.json" build/sheet-3.13.json
fi
.venv/bin/python tools/same_sheet.py build/sheet-here.json build/sheet-3.13.json
