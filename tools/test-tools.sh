#!/bin/sh
# Makes sure the programs some tests drive are there: installs them with apt when it may, else says what is missing.
# One per line: the command, then the Debian package that brings it. Empty lines and # lines are passed over.
set -eu
wanted='
pdftotext poppler-utils
zbarimg zbar-tools
chromium chromium
pg_ctl postgresql
'
missing=
packages=
for folder in /usr/lib/postgresql/*/bin; do # Debian keeps a server's programs off the PATH
    PATH="$PATH:$folder"
done
while read -r command package; do
    case "$command" in ''|'#'*) continue ;; esac
    command -v "$command" >/dev/null 2>&1 && continue
    missing="$missing $command"
    packages="$packages $package"
done <<LIST
$wanted
LIST
[ -n "$missing" ] || exit 0

if [ "$(id -u)" = 0 ] && command -v apt-get >/dev/null 2>&1; then
    export DEBIAN_FRONTEND=noninteractive
    # shellcheck disable=SC2086  # a list of packages, on purpose
    apt-get install -y -qq --no-install-recommends $packages >/dev/null 2>&1 ||
        { apt-get update -qq && apt-get install -y -qq --no-install-recommends $packages >/dev/null; }
else
    echo "test-tools: missing:$missing. Some tests need them: apt-get install$packages" >&2
fi
