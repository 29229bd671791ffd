#!/usr/bin/env bash
# Looks at the papers of a demo folder with other people's tools: sound, readable, with text.
set -euo pipefail
demo=${1:?the demo's folder}

count=0
for paper in "$demo"/papers/*.pdf; do
    [ -f "$paper" ] || break
    qpdf --check "$paper" >/dev/null
    pages=$(pdfinfo "$paper" | awk '$1 == "Pages:" { print $2 }')
    [ "$pages" -gt 0 ]
    words=$(pdftotext "$paper" - | wc -w)
    [ "$words" -gt 50 ]
    echo "$paper: sound, $pages pages, $words words"
    count=$((count + 1))
done

named=$(grep -c '"file"' "$demo/demo.json")
if [ "$count" -eq 0 ] || [ "$count" -ne "$named" ]; then
    echo "demo.json names $named papers and $count are there" >&2
    exit 1
fi
