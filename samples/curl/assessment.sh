#!/usr/bin/env bash
# The whole job: post a visit document and get holds, findings, causes and next steps.
#   samples/curl/assessment.sh [visit.json]
set -euo pipefail
here=$(cd "$(dirname "$0")" && pwd)
curl --silent --show-error --retry 3 --fail-with-body "${ADDRESS:-http://127.0.0.1:8650}/v1/assessment" \
  --header 'Content-Type: application/json' \
  --data "@${1:-$here/../visits/weak-capacitor.json}"
echo
