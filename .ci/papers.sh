#!/usr/bin/env bash
# Looks at the papers of a demo folder with other people's tools: sound, readable, with text.
set -euo pipefail
demo=${1:?the folder of the demo}

# Poppler takes one entry of a tagged PDF for a slip (MarkInfo's Suspects is a boolean: ISO 32000-1,
# 14.7.1); what else it says is shown.
quietly() {
    "$@" 2> >(grep -v 'Suspects object is wrong type' >&2 || true)
}

count=0
for paper in "$demo"/papers/*.pdf; do
    [ -f "$paper" ] || break
    qpdf --check "$paper" >/dev/null
    pages=$(quietly pdfinfo "$paper" | awk '$1 == "Pages:" { print $2 }')
    [ "$pages" -gt 0 ]
    words=$(quietly pdftotext "$paper" - | wc -w)
    [ "$words" -gt 50 ]
    case "$paper" in
        */completion-record-*) quietly pdfdetach -list "$paper" | grep -q 'diary\.jsonl' ;;
    esac
    echo "$paper: sound, $pages pages, $words words"
    count=$((count + 1))
done

named=$(grep -c '"file"' "$demo/demo.json")
if [ "$count" -eq 0 ] || [ "$count" -ne "$named" ]; then
    echo "demo.json names $named papers and $count are there" >&2
    exit 1
fi
