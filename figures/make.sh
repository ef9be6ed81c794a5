#!/usr/bin/env bash
# SPDX-License-Identifier: MIT
# Draws every figure anew with the built program: bash figures/make.sh [PROGRAM]
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/.."
. examples/packages.sh gnuplot-nox
tidemark=$(realpath "${1:-build/tidemark}")

# Fronts by day in a bone-in section and the chance of each day; a schedule; the ways side by side.
"$tidemark" day --case examples/loin.ini --figure figures/loin.svg >/dev/null
"$tidemark" plan --case examples/schedule.ini --figure figures/schedule.svg >/dev/null
"$tidemark" choose --case examples/choose.ini --start "2026-11-28 10:00" \
    --ready "2026-12-19 10:00" --figure figures/ways.svg >/dev/null

# The pull day against the thickness. An invented case: pork loin in a brine that keeps its strength.
cured_day() {
    "$tidemark" day --muscle pork-loin --brine-salt 5% --brine-nitrite 150ppm --cooler 4C \
        --draws 0 --json "$@" | awk '$1 == "\"cured_day\":" { printf "%.4f", $2 }'
}
# The days by which 5 and 95 in 100 such cuts are cured.
pull_range() {
    "$tidemark" day --muscle pork-loin --brine-salt 5% --brine-nitrite 150ppm --cooler 4C \
        --json "$@" | awk '$1 == "\"early_5_percent\":" && !n++ { early = $2 }
                           $1 == "\"late_95_percent\":" && !m++ { printf "%.4f,%.4f", early, $2 }'
}
{
    echo "# Days on which the core is cured, by make.sh; an invented case"
    echo "thickness_mm,sheet_days,round_days,sheet_days_no_loss,round_days_no_loss,round_early,round_late"
    for mm in {20..120..5}; do
        row=$mm
        for shape in sheet round; do row+=,$(cured_day --thickness "$mm mm" --shape $shape); done
        for shape in sheet round; do
            row+=,$(cured_day --thickness "$mm mm" --shape $shape --loss none)
        done
        echo "$row,$(pull_range --thickness "$mm mm" --shape round)"
    done
} >figures/thickness.csv
# Days for each inch, as the trade has it: validation/rules-of-practice/rules.csv.
rule() { awk -F, -v rule="$1 d/in" '$1 == rule { print $2 }' validation/rules-of-practice/rules.csv; }
(
    slow=$(rule 9) quick=$(rule 7)
    cd figures
    gnuplot -e "slow = $slow; quick = $quick" thickness.gp
)
# Its title and description are ours, not the plotting program's.
sed -i -e 's|<title>Gnuplot</title>|<title>Twice as thick takes four times the days, or more</title>|' \
    -e 's|<desc>Produced by GNUPLOT[^<]*</desc>|<desc>Days on which the core of pork loin is cured against its thickness, as a sheet and as a round, beside two rules of the trade that go by the inch.</desc>|' \
    figures/thickness.svg
