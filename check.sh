#!/usr/bin/env bash
# Runs every test of Unspool. As root it first installs the Debian packages that
# the tests hold Unspool against; otherwise it lists those that are missing.
#   ./check.sh          every test
#   ./check.sh --race   the same under the race detector, slower
#   ./check.sh --fuzz   besides, half a minute of each fuzz target
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")"

# What each is for: nodejs runs a reader of bar codes; zint, zbar-tools, python3-zbar, python3-zxing-cpp draw and
# read bar codes; python3-pil, python3-numpy, python3-skimage (the photograph of
# an astronaut, public domain) and imagemagick handle pictures; ghostscript
# separates pages; colord-data has the CIE tables; chromium prints and lays out
# the report and opens the bench; poppler-utils measures what it printed; fonts-noto-cjk has the
# scripts that are not bundled; libraqm0 shapes text, librsvg2-2 and libcairo2
# draw SVG. gcc is for the race detector.
packages=(nodejs zint zbar-tools python3-zbar python3-zxing-cpp python3-pil python3-numpy python3-skimage
  imagemagick ghostscript colord-data chromium poppler-utils fonts-noto-cjk
  libraqm0 librsvg2-2 libcairo2 gcc libc6-dev)

missing=()
for p in "${packages[@]}"; do
  [ "$(dpkg-query -W -f '${db:Status-Status}' "$p" 2>/dev/null)" = installed ] || missing+=("$p")
done
if [ "${#missing[@]}" -gt 0 ]; then
  if [ "$(id -u)" -ne 0 ]; then
    echo "check.sh: these Debian packages are missing; install them, or run this as root:" >&2
    echo "  apt-get install --no-install-recommends ${missing[*]}" >&2
    exit 2
  fi
  echo "installing ${missing[*]}"
  export DEBIAN_FRONTEND=noninteractive
  apt-get update -qq
  apt-get install -y -qq --no-install-recommends "${missing[@]}" >/dev/null
fi

command -v go >/dev/null || { echo "check.sh: go is missing; Unspool needs Go 1.26 or newer" >&2; exit 2; }

unformatted=$(gofmt -l .)
if [ -n "$unformatted" ]; then echo "check.sh: not formatted: $unformatted" >&2; exit 1; fi
go vet ./...

flags=()
for arg in "$@"; do
  case "$arg" in
    --race) flags+=(-race) ;;
    --fuzz) ;;
    *) echo "check.sh: unknown option $arg" >&2; exit 2 ;;
  esac
done
go test -timeout 40m "${flags[@]}" ./...

if [[ " $* " == *" --fuzz "* ]]; then
  go list -f '{{.ImportPath}} {{.Dir}}' ./... | while read -r pkg dir; do
    grep -hoE '^func (Fuzz[A-Za-z0-9_]*)' "$dir"/*_test.go 2>/dev/null | awk '{print $2}' | while read -r target; do
      go test "$pkg" -run '^$' -fuzz "^$target\$" -fuzztime 30s
    done
  done
fi
