#!/usr/bin/env bash
# SPDX-License-Identifier: MIT
# Draws every figure anew, by the target `figures` or with what was built:
#   bash figures/make.sh [PROGRAM [POSTERIOR]]
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/.."
tidemark=${1:-build/tidemark} posterior=${2:-build/posterior}

# Fronts by day in a bone-in section and the chance of each day; what its spread comes from.
"$tidemark" day --case examples/loin.ini --figure figures/loin.svg --spread figures/spread.svg >/dev/null
# A schedule.
"$tidemark" plan --case examples/schedule.ini --figure figures/schedule.svg >/dev/null
# The ways side by side.
"$tidemark" choose --case examples/choose.ini --start "2026-11-28 10:00" \
    --ready "2026-12-19 10:00" --figure figures/ways.svg >/dev/null
# Days against the thickness, with the rules of the trade.
"$tidemark" teach --figure figures/thickness.svg
# What was published against what the other sources predict.
"$posterior" . --figure figures/published.svg >/dev/null
