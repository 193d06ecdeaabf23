#!/usr/bin/env bash
# Solves 21 seeded racks of 12 blades and 12 rings with this program, GLPK and CBC in
# one run: the same optimum is asserted, the times are printed. Needs glpsol and cbc
# (Debian: glpk-utils, coinor-cbc); takes about twenty minutes on a quiet machine.
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/.."
exec go test ./solver/stacking -run '^$' -bench '^BenchmarkIndependent$' -benchtime 1x -timeout 120m
