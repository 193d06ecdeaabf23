#!/usr/bin/env bash
# What takes too long for .ci/run: the rows gone through at random 20,000 times; keys at random
# on the full screen; stacks and rack plans against two independent solvers. About an hour.
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/.."

say() { printf '\n== %s, %s\n' "$(date -u +%H:%M)" "$*"; }

say rows at random
go test -v -count=1 -timeout 120m -run TestRoam ./wizard/stages -rapid.checks=20000

say keys at random
SAWDATUM_KEYS=400 go test -v -count=1 -timeout 60m -run TestAnyKeys ./wizard/screen

say independent solvers
testdata/independent.sh

say done
