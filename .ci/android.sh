#!/usr/bin/env bash
# What can be checked of the phone's app without an Android SDK. `android.sh project`: whether the
# committed Android project is what the Tauri CLI makes today and our own recorded edits, no more;
# `record`: writes those edits down; `depends`: no desktop library on Android; `types`: the type-check
# of the whole app for Android, where Debian has a compiler and sources for it.
set -euo pipefail
cd "$(dirname "$0")/.."

project=src-tauri/gen/android
edits=.ci/android-edits.diff
target=aarch64-linux-android
scratch=$(mktemp -d)
trap 'rm -r "$scratch"' EXIT

# The project as the CLI makes it, in $scratch/made. An NDK that only says its number is enough for it;
# what is copied is what Git knows, so that nothing built comes along.
generate() {
    local sdk=$scratch/sdk copy=$scratch/copy ndk=29.0.13846066
    mkdir -p "$sdk/ndk/$ndk" "$copy"
    printf 'Pkg.Desc = Android NDK\nPkg.Revision = %s\n' "$ndk" >"$sdk/ndk/$ndk/source.properties"
    git ls-files -z --cached --others --exclude-standard -- . ":!$project" ':!fixtures' |
        tar --null --files-from=- --create | tar --extract --directory "$copy"
    ln -s "$PWD/ui/node_modules" "$copy/ui/node_modules"
    (
        cd "$copy/ui"
        export ANDROID_HOME=$sdk
        npm run --silent tauri -- android init --ci --skip-targets-install
        npm run --silent tauri -- icon src-tauri/icons/launcher.json --output "$scratch/icons"
    ) >"$scratch/log" 2>&1 || {
        cat "$scratch/log" >&2
        exit 1
    }
    cp -r "$scratch/icons/android/." "$copy/$project/app/src/main/res/"
    mkdir "$scratch/made" "$scratch/kept"
    cp -r "$copy/$project/." "$scratch/made/"
    find "$scratch/made" -type d -empty -delete
}

# Our edits: what differs from what the CLI makes, and the names of the files that are ours alone. Files
# that the project itself ignores are left out.
edited() {
    git ls-files -z --cached --others --exclude-standard -- "$project" |
        tar --null --files-from=- --create |
        tar --extract --directory "$scratch/kept" --strip-components=3
    # Without the times, and the names of two folders that are of no interest.
    (cd "$scratch" && diff --recursive --unified made kept || true) |
        sed -E -e '/^diff /d' -e 's/^(---|\+\+\+) (made|kept)\/([^\t]+)\t.*/\1 \3/' \
            -e 's/^Only in made\/?/Not kept: /' -e 's/^Only in kept\/?/Our own: /'
}

count() {
    grep --count --extended-regexp '^(---|Our own:|Not kept:)' "$edits"
}

record() {
    generate
    edited >"$edits"
    echo "$edits: $(count) places where we differ from what the CLI makes"
}

check_project() {
    generate
    edited >"$scratch/edits"
    if ! diff --unified --label "$edits" --label 'what differs now' "$edits" "$scratch/edits"; then
        echo "$project is not what the Tauri CLI makes with the recorded edits. Take over what the CLI" \
            "makes anew, or write a new edit down with '.ci/android.sh record' and its reason in" \
            "DEVELOPERS.md" >&2
        exit 1
    fi
    echo "$project: as generated, with the $(count) recorded edits"
}

check_depends() {
    local found
    found=$(cargo tree --locked --package fairfall-app --target "$target" --edges normal --prefix none |
        awk '{ print $1 }' | sort -u |
        grep -E '^(gtk|gdk|glib|gio|cairo|pango|soup|webkit2gtk|javascriptcore|rfd|muda|tray-icon|x11|wayland|zbus|ashpd|objc2?|block2|core-foundation|core-graphics|cocoa|windows|winapi|webview2)' || true)
    if [ -n "$found" ]; then
        printf 'On Android the app leans on what only a desktop has:\n%s\n' "$found" >&2
        exit 1
    fi
    echo 'the app leans on no desktop library on Android'
}

# rustc-web is Debian's compiler for the browsers; it comes with the sources of the same release.
check_types() {
    local packages=(rustc-web rust-web-src) version
    local skip='the type-check for Android is SKIPPED:'
    if ! command -v apt-cache >/dev/null; then
        echo "$skip this is no Debian"
        return
    fi
    candidate() { apt-cache policy "$1" | awk '$1 == "Candidate:" { print $2 }'; }
    installed() { dpkg-query --show --showformat='${Version}' "$1" 2>/dev/null || true; }
    if [ -z "$(installed "${packages[0]}")" ] || [ -z "$(installed "${packages[1]}")" ]; then
        if [ "$(id -u)" != 0 ]; then
            echo "$skip not installed: ${packages[*]}"
            return
        fi
        apt-get update -qq
        version=$(candidate "${packages[0]}")
        if [ -z "$version" ] || [ "$version" = '(none)' ] || [ "$version" != "$(candidate "${packages[1]}")" ]; then
            echo "$skip Debian has no matching pair of ${packages[*]} here"
            return
        fi
        DEBIAN_FRONTEND=noninteractive apt-get install -qq -y --no-install-recommends "${packages[@]}"
    fi
    version=$(installed "${packages[0]}")
    if [ "$version" != "$(installed "${packages[1]}")" ]; then
        echo "$skip ${packages[*]} are of two releases"
        return
    fi
    # An older compiler cannot read this workspace; that is Debian's, not ours.
    local wanted=1.95
    if dpkg --compare-versions "$version" lt "$wanted"; then
        echo "$skip Debian's compiler is $version, and $wanted is needed"
        return
    fi
    # There is no C compiler for Android. The feature that brings SQLite's C along is left off; the few
    # lines of assembler that Typst's deep recursion needs (psm) go to `true`, for nothing is linked.
    export CC_aarch64_linux_android=true AR_aarch64_linux_android=true
    RUSTC=/usr/bin/rustc RUSTC_BOOTSTRAP=1 cargo check --locked --package fairfall-app --lib \
        --no-default-features --features custom-protocol \
        -Zbuild-std=std,panic_abort --target "$target" \
        --target-dir "${CARGO_TARGET_DIR:-target}/android-check"
    echo "the whole app passes the type-check for $target with Debian's rustc $version"
}

case "${1:-}" in
    record) record ;;
    project) check_project ;;
    depends) check_depends ;;
    types) check_types ;;
    *)
        echo 'android.sh project, record, depends or types' >&2
        exit 2
        ;;
esac
