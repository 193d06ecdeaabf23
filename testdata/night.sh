#!/usr/bin/env bash
# What takes too long for .ci/run: the rows gone through at random 10,000 times; keys at random
# on the full screen; racks against two independent solvers; every change of the procedure's
# code. About half an hour on two quiet cores. One at a time: a second one does not begin.
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/.."
exec 9>"${TMPDIR:-/tmp}/sawdatum-night.lock"
flock -n 9 || { echo "another night runs already" >&2; exit 1; }

began=$SECONDS
say() { printf '\n== %s, after %d s: %s\n' "$(date -u +%H:%M)" $((SECONDS - began)) "$*"; }

say rows at random
go test -v -count=1 -timeout 120m -run TestRoam ./wizard/stages -rapid.checks=10000

say keys at random
SAWDATUM_KEYS=200 go test -count=1 -timeout 60m -run TestAnyKeys ./wizard/screen

say independent solvers
SAWDATUM_RACKS=2 testdata/independent.sh

say changed code
go run ./testdata/mutate ./wizard/procedure

say done
