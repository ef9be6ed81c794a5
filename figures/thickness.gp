# SPDX-License-Identifier: MIT
# The pull day against the thickness, for a sheet and a round, from thickness.csv, with two rules that
# go by the inch: slow and quick [days an inch]. A page 1080 wide: a phone shows it a third as large,
# and the text still is ten pixels high.
set terminal svg noenhanced background 'white' font 'sans-serif,30' size 1080,1150
set output 'thickness.svg'
set encoding utf8
set datafile separator ','
blue = '#0072B2'
orange = '#D55E00'

# The sheet without loss at 50 and 100 mm: the exact fourfold.
stats 'thickness.csv' using ($1 == 50 ? $4 : NaN) every ::1 name 'thin' nooutput
stats 'thickness.csv' using ($1 == 100 ? $4 : NaN) every ::1 name 'thick' nooutput
stats 'thickness.csv' using ($1 == 120 ? $2 : NaN) every ::1 name 'sheet' nooutput
stats 'thickness.csv' using ($1 == 120 ? $3 : NaN) every ::1 name 'round' nooutput

set title "Twice as thick takes four times the days, or more\npork loin, 5 % brine, 150 ppm nitrite, 4 °C (39 °F)" offset 0,0.4
set xlabel 'thickness [mm]'
set ylabel 'day on which the core is cured' offset 1,0
set xrange [0:145]
set yrange [0:36]
set x2range [0:145 / 25.4]
set format x2 '%g in'
set rmargin 5
set xtics 0,25,125 nomirror out
set x2tics 0,1,5 nomirror out
set ytics 0,4,36 nomirror out
set border 7 lw 2
set grid ytics lt 1 lw 1 lc rgb '#DDDDDD'
set style fill solid 0.25 noborder
set key at graph 0.03, 0.97 top left Left reverse samplen 2.5 spacing 1.2 width -2
set label 'sheet' at 122, sheet_max textcolor rgb blue
set label 'round' at 122, round_max textcolor rgb orange
set label '2 × the thickness' at 63, thin_max - 1.4 left front
set label '4 ×' at 102, 8.4 left front
set label 'the days' at 102, 7.0 left front
set arrow from 50, thin_max to 100, thin_max nohead dt 3 lw 3 front
set arrow from 100, thin_max to 100, thick_max nohead dt 3 lw 3 front
set object circle at first 50, thin_max size screen 0.009 fillstyle solid fillcolor rgb 'black' front
set object circle at first 100, thick_max size screen 0.009 fillstyle solid fillcolor rgb 'black' front

# The rules, each beside its line.
set label sprintf('%g days an inch', slow) at 25.4 * 25 / slow - 2, 25.4 right textcolor rgb '#555555'
set label sprintf('%g days an inch', quick) at 62, 62 * quick / 25.4 - 2.2 center rotate by 45 textcolor rgb '#555555'

plot 'thickness.csv' using 1:6:7 every ::1 with filledcurves lc rgb orange title '90 of 100 rounds', \
     '' using 1:2 every ::1 with lines lw 6 lc rgb blue title 'nitrite used up', \
     '' using 1:3 every ::1 with lines lw 6 lc rgb orange notitle, \
     '' using 1:4 every ::1 with lines lw 4 dt (10,6) lc rgb blue title 'if none were', \
     '' using 1:5 every ::1 with lines lw 4 dt (10,6) lc rgb orange notitle, \
     quick * x / 25.4 with lines lw 4 dt (3,6) lc rgb '#555555' notitle, \
     slow * x / 25.4 with lines lw 4 dt (3,6) lc rgb '#555555' notitle
