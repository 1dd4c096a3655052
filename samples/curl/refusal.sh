#!/usr/bin/env bash
# What a refusal looks like: a problem document (RFC 9457) that points at each wrong reading; here a text for a number.
set -euo pipefail
curl --silent --show-error --retry 3 "${ADDRESS:-http://127.0.0.1:8650}/v1/saturation" \
  --header 'Content-Type: application/json' \
  --data '{"refrigerant": "R-410A", "points": [{"pressure": "118"}, {"presure": 118}]}'
