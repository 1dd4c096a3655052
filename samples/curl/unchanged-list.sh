#!/usr/bin/env bash
# Code lists carry an ETag: ask once, keep the list, and ask later whether it is still good (304).
set -euo pipefail
address="${ADDRESS:-http://127.0.0.1:8650}"
etag=$(curl --silent --show-error --retry 3 --fail --output /dev/null --write-out '%header{etag}' "$address/v1/causes")
curl --silent --show-error --retry 3 --output /dev/null --write-out '%{http_code}\n' --header "If-None-Match: $etag" "$address/v1/causes"
