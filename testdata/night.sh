#!/usr/bin/env bash
# What takes too long for .ci/run: the rows gone through at random 10,000 times; all records;
# keys at random on the full screen; racks against two independent solvers. About twenty minutes
# on two quiet cores. One at a time: a second one does not begin. A part that fails does not
# keep the others from running.
set -uo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/.."
exec 9>"${TMPDIR:-/tmp}/sawdatum-night.lock"
flock -n 9 || { echo "another night runs already" >&2; exit 1; }

failed=()
part() {
  local what=$1 began=$SECONDS
  printf '\n== %s: %s\n' "$(date -u +%H:%M)" "$what"
  "${@:2}" || failed+=("$what")
  printf '== %s took %d s\n' "$what" $((SECONDS - began))
}

part "rows at random" go test -v -count=1 -timeout 120m -run TestRoam ./wizard/stages -rapid.checks=10000
part "records whole" env SAWDATUM_RECORDS=1 go test -v -count=1 -run TestEverySequence ./solver
part "keys at random" env SAWDATUM_KEYS=200 go test -count=1 -timeout 60m -run TestAnyKeys ./wizard/screen
part "independent solvers" env SAWDATUM_RACKS=2 testdata/independent.sh

if ((${#failed[@]})); then
  printf '\n== failed: %s\n' "${failed[@]}"
  exit 1
fi
printf '\n== done, nothing failed\n'
