#!/bin/sh
# Works a list of couplings out over HTTP with curl: client.sh http://127.0.0.1:8080 list.csv rows.ndjson
set -eu
server=$1 list=$2 rows=$3

# A list in, a list out, with the results behind it.
curl -sS --fail-with-body -H 'Content-Type: text/csv' -H 'Accept: text/csv' --data-binary "@$list" "$server/v1/jobs"

# A stream: -T sends while answers are read, --data-binary would send everything first.
curl -sS --fail-with-body -X POST -H 'Content-Type: application/x-ndjson' -T "$rows" "$server/v1/jobs"
