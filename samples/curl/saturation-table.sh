#!/usr/bin/env bash
# A pressure-temperature table as CSV, for printing.
set -euo pipefail
curl --silent --show-error --retry 3 --fail-with-body --get "${ADDRESS:-http://127.0.0.1:8650}/v1/refrigerants/${1:-R-410A}/saturation-table" \
  --header 'Accept: text/csv' \
  --data-urlencode lowest=30 --data-urlencode highest=60 --data-urlencode step=5
