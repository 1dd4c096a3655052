#!/usr/bin/env bash
# Saturation temperatures of a blend: bubble and dew are kept apart.
set -euo pipefail
curl --silent --show-error --retry 3 --fail-with-body "${ADDRESS:-http://127.0.0.1:8650}/v1/saturation" \
  --header 'Content-Type: application/json' \
  --data '{"refrigerant": "R-454B", "points": [{"pressure": 110}, {"pressure": 360}]}'
echo
