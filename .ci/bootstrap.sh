#!/usr/bin/env bash
# Brings in what is needed and not here yet: `cli`, `build` (the app as well) or `test` (also what the
# tests drive the app with). Quick when nothing is missing. Installs Debian packages as root, and
# otherwise says which ones to install and stops.
set -euo pipefail
cd "$(dirname "$0")/.."

cli=(build-essential)
build=(pkg-config libwebkit2gtk-4.1-dev)
drive=(webkit2gtk-driver xvfb xauth dbus fonts-dejavu-core chromium poppler-utils qpdf
    zbar-tools)

case "${1:-}" in
    cli) packages=("${cli[@]}") ;;
    build) packages=("${cli[@]}" "${build[@]}") ;;
    test) packages=("${cli[@]}" "${build[@]}" "${drive[@]}") ;;
    *)
        echo "bootstrap.sh cli, build or test" >&2
        exit 2
        ;;
esac

stop() {
    printf '%s\n' "$@" >&2
    exit 2
}

command -v dpkg-query >/dev/null ||
    stop "This is no Debian; install what these packages of Debian 12 bring: ${packages[*]}"

missing=()
for package in "${packages[@]}"; do
    status=$(dpkg-query --show --showformat='${db:Status-Status}' "$package" 2>/dev/null || true)
    [ "$status" = installed ] || missing+=("$package")
done
if [ "${#missing[@]}" -gt 0 ]; then
    [ "$(id -u)" = 0 ] || stop "Packages are missing. As root:" \
        "apt-get install --no-install-recommends ${missing[*]}"
    export DEBIAN_FRONTEND=noninteractive
    apt-get update -qq
    apt-get install -qq -y --no-install-recommends "${missing[@]}"
fi

command -v cargo >/dev/null ||
    stop "There is no cargo: install Rust 1.95 or newer from rustup.rs"
[ "$1" = cli ] && exit 0

command -v npm >/dev/null || stop "There is no npm: install Node 20.19 or newer"
node -e 'const [major, minor] = process.versions.node.split(".").map(Number);
    process.exit(major > 20 || (major === 20 && minor >= 19) ? 0 : 1)' ||
    stop "Node $(node --version) is too old: 20.19 or newer"

# npm keeps what it installed beside the packages; an older one than the lock file is out of date.
if [ ! ui/node_modules/.package-lock.json -nt ui/package-lock.json ]; then
    (cd ui && npm ci --no-audit --no-fund && touch node_modules/.package-lock.json)
fi
