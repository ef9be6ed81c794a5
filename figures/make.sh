#!/usr/bin/env bash
# SPDX-License-Identifier: MIT
# Draws every figure anew with the built program: bash figures/make.sh [PROGRAM]
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/.."
. examples/packages.sh gnuplot-nox pngquant
tidemark=$(realpath "${1:-build/tidemark}")

for form in svg png; do
    for name in loin round; do
        "$tidemark" day --case "examples/$name.ini" --figure "figures/$name.$form" >/dev/null
    done
    "$tidemark" plan --case examples/schedule.ini --figure "figures/schedule.$form" >/dev/null
    "$tidemark" choose --case examples/choose.ini --start "2026-11-28 10:00" \
        --ready "2026-12-19 10:00" --figure "figures/ways.$form" >/dev/null
done

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
(
    cd figures
    gnuplot -e "form = 'svg'" thickness.gp
    gnuplot -e "form = 'png'" thickness.gp
    # Fewer colours, a third of the size, no difference to the eye.
    pngquant --quality 80-98 --speed 1 --strip --force --ext .png ./*.png
)
