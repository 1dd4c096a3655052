#!/usr/bin/env bash
# A visit that has only just begun is never an error: next_readings says what to read first.
set -euo pipefail
curl --silent --show-error --retry 3 --fail-with-body "${ADDRESS:-http://127.0.0.1:8650}/v1/assessment" \
  --header 'Content-Type: application/json' \
  --data '{"reference": "job-1", "complaint": {"symptoms": ["hums_no_start"]}}'
echo
