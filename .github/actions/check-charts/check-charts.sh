#!/usr/bin/env bash
# Checks the charts that CHARTS names (patterns of the shell); FAIL_ON and SARIF as in action.yml.
set -euo pipefail
shopt -s globstar nullglob
plagal=$(cd "$(dirname "$0")/../../.." && pwd)/dist/plagal.cjs
# Patterns are opened here on purpose; a name with a blank is reached by a pattern.
# shellcheck disable=SC2206
charts=(${CHARTS:-**/*.plagal})
if [[ ${#charts[@]} -eq 0 ]]; then
  echo "There are no charts ${CHARTS:-**/*.plagal}."
  exit 0
fi
if [[ -n ${SARIF:-} ]]; then
  node "$plagal" check --sarif "${charts[@]}" >"$SARIF" || true
fi
node "$plagal" check --fail-on "${FAIL_ON:-error}" "${charts[@]}"
