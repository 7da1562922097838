#!/usr/bin/env bash
# install-editor.sh DIR: installs the real editor's browser build (npm's code-server 4.100.3, VS Code 1.100.3) into DIR.
# Does nothing where it stands already. Takes a minute or two; needs g++, make and python3 for five small native parts.
# Install scripts that download are left out, so the workbench has no text search.
set -euo pipefail
dir=$(mkdir -p "${1:?DIR}" && cd "$1" && pwd)
# Test files run side by side: the first one installs, the others wait.
exec 9>"$dir/.lock"
flock 9
[[ -e $dir/.ready ]] && exit 0
root=$dir/node_modules/code-server
quiet=(--ignore-scripts --no-audit --no-fund --loglevel=error)
cd "$dir"
[[ -e package.json ]] || echo '{ "private": true }' >package.json
npm install code-server@4.100.3 "${quiet[@]}"
(cd "$root/lib/vscode" && npm install --omit=dev "${quiet[@]}" && ln -sfn node_modules node_modules.asar)
gyp=$(node -p "require('path').join(require('fs').realpathSync(process.execPath), '../../lib/node_modules/npm/node_modules/node-gyp/bin/node-gyp.js')")
[[ -e $gyp ]] || gyp=$(npm root -g)/npm/node_modules/node-gyp/bin/node-gyp.js
headers=()
[[ -e /usr/include/node/node.h ]] && headers=(--nodedir=/usr)
build() { node "$gyp" rebuild "${headers[@]}" "$@" >"$dir/gyp.log" 2>&1 || { tail -5 "$dir/gyp.log" >&2; exit 1; }; }
for native in @vscode/spdlog native-watchdog node-pty @vscode/deviceid @parcel/watcher; do
  (cd "$root/lib/vscode/node_modules/$native" && build)
done
(
  cd node_modules/argon2
  folder=lib/binding/napi-v3
  mkdir -p "$folder"
  build --module="$PWD/$folder/argon2.node" --module_name=argon2 --module_path="$PWD/$folder" \
    --napi_version=9 --napi_build_version=3
)
touch .ready
