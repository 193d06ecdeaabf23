#!/usr/bin/env bash
# What takes too long for .ci/run: the old procedure explored from every start, the nearest
# states first and several starts to their end; each of its guards dropped; keys at random on
# the full screen. Needs 4 GB of memory, better 8, and about an hour. DEVELOPERS.md has the
# last run.
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/.."

say() { printf '\n== %s, %s\n' "$(date -u +%H:%M)" "$*"; }

say exploration
SAWDATUM_EXPLORE=30000 GOMEMLIMIT=8GiB go test -v -count=1 -timeout 120m -run 'TestExplore' ./model/procedure/

say guards dropped
go test -v -count=1 -timeout 60m -tags mutants -run 'TestMutants|TestAKnifeForNobody|TestGuardsListed|TestChecksAreGuards|TestGateFieldsListed' ./model/procedure/

say walks at random
go test -v -count=1 -timeout 60m -run TestRoam ./model/procedure/ -rapid.checks 2000

say keys at random
SAWDATUM_KEYS=400 go test -v -count=1 -timeout 60m -run TestAnyKeys ./wizard

say done
