#!/usr/bin/env bash
# Whether the TypeScript that is checked in is what the core's types give now.
set -euo pipefail
writer=${1:?the program that writes the types}
fresh=$(mktemp -d)
trap 'rm -r "$fresh"' EXIT

"$writer" "$fresh"
if ! diff -r "$fresh" ui/src/lib/generated; then
    echo "ui/src/lib/generated is not up to date: run \`make types\`" >&2
    exit 1
fi
