#!/bin/sh
# Makes .venv from uv.lock, starting from nothing but python3 (3.11 or newer).
# First a private copy of uv into .tools, then every locked package into .venv.
# Safe to run again: what is already right is left alone. `tools/setup.sh lock` renews uv.lock first.
set -eu
cd "$(dirname "$0")/.."
python=${PYTHON:-python3}
uv_wanted="uv>=0.9,<1"

"$python" -c 'import sys; sys.exit(sys.version_info < (3, 11))' || {
    echo "setup: $("$python" --version 2>&1) found; spreadwright needs Python 3.11 or newer." >&2
    echo "setup: install a newer python3, or name one: make setup PYTHON=python3.12" >&2
    exit 1
}

# ---- uv, by the first of four roads that works -----------------------------------------------
find_uv() {
    uv=
    for place in .tools/venv/bin/uv .tools/lib/bin/uv; do
        if [ -x "$place" ] && "$place" --version >/dev/null 2>&1; then uv=$place; return 0; fi
    done
    return 1
}
by_venv() {
    # Debian splits venv's other half (ensurepip) into a package of its own: ask before trying.
    "$1" -c 'import ensurepip, venv' 2>/dev/null || return 1
    rm -rf .tools/venv
    "$1" -m venv .tools/venv && .tools/venv/bin/python -m pip install --quiet "$uv_wanted"
}
by_pip() {
    "$1" -m pip --version >/dev/null 2>&1 || return 1
    rm -rf .tools/lib
    "$1" -m pip install --quiet --target .tools/lib "$uv_wanted"
}
by_apt() {
    [ "$(id -u)" = 0 ] && command -v apt-get >/dev/null 2>&1 || return 1
    export DEBIAN_FRONTEND=noninteractive
    apt-get install -y -qq python3-venv >/dev/null 2>&1 ||
        { apt-get update -qq && apt-get install -y -qq python3-venv >/dev/null; } || return 1
    by_venv "$python" || by_venv /usr/bin/python3
}
if ! find_uv; then
    mkdir -p .tools
    echo "setup: fetching uv" >&2
    by_venv "$python" || by_pip "$python" || by_apt || true
    find_uv || {
        echo "setup: could not install uv: this python3 has neither venv nor pip." >&2
        echo "setup: install python3-venv (Debian: apt-get install python3-venv), then make setup" >&2
        exit 1
    }
fi

# ---- the locked packages ---------------------------------------------------------------------
export UV_PYTHON_DOWNLOADS=never UV_NO_PROGRESS=1
# Trust whom this machine trusts, not only the list inside uv: some networks have a certificate of their own.
if [ -e /etc/ssl/certs/ca-certificates.crt ] || [ -e /etc/ssl/cert.pem ]; then
    export UV_SYSTEM_CERTS=1
fi
if [ -n "${PIP_CERT:-}" ]; then export SSL_CERT_FILE="${SSL_CERT_FILE:-$PIP_CERT}"; fi

if [ "${1:-}" = lock ]; then "$uv" lock; fi

# A lock names files by their public address. Where packages come from an index of one's own, the
# same versions and hashes are asked of that index instead.
index=${UV_DEFAULT_INDEX:-${PIP_INDEX_URL:-$("$python" -m pip config get global.index-url 2>/dev/null || true)}}
if [ -z "$index" ]; then
    "$uv" sync --quiet --frozen --python "$python"
else
    export UV_DEFAULT_INDEX="$index"
    wanted=.tools/requirements.txt
    "$uv" export --quiet --frozen --no-emit-project --output-file "$wanted"
    [ -x .venv/bin/python ] || "$uv" venv --quiet --python "$python" .venv
    "$uv" pip sync --quiet --python .venv/bin/python --require-hashes "$wanted"
    "$uv" pip install --quiet --python .venv/bin/python --no-deps --editable .
fi
touch .venv/.made
