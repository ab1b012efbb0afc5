#!/usr/bin/env bash
# Builds three.min.js from the registry's package, as pinned: build.sh [where to write it].
set -euo pipefail
here=$(cd "$(dirname "$0")" && pwd)
out=$(realpath -m "${1:-$here/three.min.js}")
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
cp "$here"/entry.js "$here"/package.json "$here"/package-lock.json "$work"
cd "$work"
npm ci --ignore-scripts --no-audit --no-fund --silent
npx --no-install esbuild entry.js --bundle --minify --format=iife --global-name=THREE \
  --target=es2020 --legal-comments=none --log-level=warning --outfile="$out"
cmp --silent node_modules/three/LICENSE "$here/LICENSE" || {
  echo "the library's licence is not the one shipped as LICENSE" >&2
  exit 1
}
