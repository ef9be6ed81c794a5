// SPDX-License-Identifier: MIT
#include "cli/flag_groups.hpp"

namespace tidemark::cli::groups {
namespace {

po::options_description group(const char* title) {
    return po::options_description(title, page, text);
}

// clang-format off
/// What plan, bucket and choose end with.
po::options_description with_the_answer(po::options_description flags) {
    flags.add_options()
        ("more", po::bool_switch(), "everything else: tables, ranges, notes")
        ("course", po::bool_switch(), "print the course in time as a table (CSV)")
        ("json", po::bool_switch(), "print one JSON object")
        ("help", po::bool_switch(), "these flags")
        ("help-all", po::bool_switch(), "and those that set numbers of the model");
    return flags;
}
// clang-format on

} // namespace

// One line per flag, as in the help.
// clang-format off
po::options_description law() {
    po::options_description flags = group("The law it is judged by");
    flags.add_options()
        ("law", takes("CODE"), "us (default), canada, codex, eu, eu-old or uk")
        ("product", takes("CLASS"), "cured (default), bacon, sterile, ...: see numbers limit")
        ("rind", po::bool_switch(), "the rind is on, which lowers US bacon limits");
    return flags;
}

po::options_description piece() {
    po::options_description flags = group("The piece");
    flags.add_options()
        ("case", takes("FILE"), "read flags from FILE, a line each: thickness = 65 mm")
        ("muscle", takes("NAME"), "pork loin (default), picnic, leg of lamb, ...: see numbers muscle")
        ("cut", takes("NAME"), "composition, default the muscle's own: see numbers cut")
        ("shape", takes("NAME"), "sheet (default), round, ball, block, loin, ham or outline")
        ("outline", takes("FILE"), "draw the section from a table part,kind,x [mm],y [mm]")
        ("thickness", takes("LENGTH"), "at the thickest place, 65 mm or 2.5 in")
        ("width", takes("LENGTH"), "of the section, default by the shape; a block needs it")
        ("length", takes("LENGTH"), "of the piece, default from its weight")
        ("weight", takes("MASS"), "of one piece, raw, 2.5 kg or 5 lb 8 oz")
        ("pieces", takes("N"), "equal pieces in the brine, default 1")
        ("fat-cap", takes("LENGTH"), "fat along the top face, default none")
        ("bones", takes("N"), "ribs in a loin or block, default 0; of a ham its bone, 1")
        ("bone-diameter", takes("LENGTH"), "default by the shape")
        ("bone-depth", takes("LENGTH"), "bone centre to the nearest face, default by the shape")
        ("seal", takes("FACES"), "kept from the brine: top,bottom,left,right,end,ends; none")
        ("marbling", takes("SHARE"), "fat inside the lean by volume, default 0 %")
        ("fibre-angle", takes("ANGLE"), "of fibres in the section, 30 deg, default out of it")
        ("frozen", po::bool_switch(), "frozen and thawed before the cure");
    return flags;
}

po::options_description brine() {
    po::options_description flags = group("The brine, by strength or by recipe, and the cooler");
    flags.add_options()
        ("brine-salt", takes("SHARE"), "salt in the brine, 6 % is 60 g per kg of brine")
        ("brine-nitrite", takes("SHARE"), "sodium nitrite in the brine, 150 ppm, default none")
        ("brine", takes("AMOUNT"), "how much brine, 6 L or 6 kg, default so much that it keeps")
        ("water", takes("AMOUNT"), "recipe: water, 6 L or 1.5 gal")
        ("ice", takes("AMOUNT"), "recipe: ice, counted as water; weigh it, 2 kg")
        ("cold-water", takes("AMOUNT"), "recipe: water added cold to hot brine, 2 L")
        ("hot", takes("TEMP"), "of the brine before ice goes in, default boiling")
        ("ice-temperature", takes("TEMP"), "default 0 C, as it melts; a freezer has -18 C")
        ("cold-temperature", takes("TEMP"), "of the cold water, default 15 C")
        ("salt", takes("AMOUNT"), "recipe: salt, 400 g (or 1.5 cup, which is less sure)")
        ("salt-kind", takes("KIND"), "in a spoon: fine (default), pickling, coarse, flake, ...")
        ("sugar", takes("AMOUNT"), "recipe: sugar, 100 g")
        ("sugar-kind", takes("KIND"), "in a spoon: white (default) or brown")
        ("premix", takes("AMOUNT"), "recipe: curing premix, 45 g; weigh it, never by the spoon")
        ("premix-kind", takes("NAME"), "us-no1 (default), us-no2, eu, ...: see numbers premix")
        ("premix-nitrite", takes("SHARE"), "sodium nitrite in the premix, default 6.25 %")
        ("premix-nitrate", takes("SHARE"), "sodium nitrate in the premix, default none")
        ("erythorbate", takes("MASS"), "recipe: sodium erythorbate or ascorbate, 2 g")
        ("ascorbate", po::bool_switch(), "ascorbate or erythorbate is in the brine")
        ("still", takes("SPEED"), "film coefficient of still brine, 1e-6 m/s, default stirred")
        ("cooler", takes("TEMPERATURE"), "3 C or 38 F, default 4 C");
    return flags;
}

/// What every command takes that shows a screen.
po::options_description screen() {
    po::options_description flags = group("The screen");
    flags.add_options()
        ("units", takes("WORD"), "shown: both (default), metric or us")
        ("quiet", po::bool_switch(), "the answer alone; what can hurt people is told all the same");
    return flags;
}

/// What all commands that advise a day take.
po::options_description right() {
    po::options_description flags = group("When is it right?");
    flags.add_options()
        ("confidence", takes("SHARE"), "how sure the day is to be, default 90 %")
        ("taste-low", takes("SHARE"), "least mean salt that tastes cured, as eaten, default 1.8 %")
        ("taste-high", takes("SHARE"), "most, as eaten, default 2.5 %")
        ("afterwards", takes("WORD"), "eaten (default), simmered or soaked: then it may be saltier")
        ("draws", takes("N"), "pieces drawn for the chances, default 4096; 0: no chances")
        ("thickness-sd", takes("LENGTH"), "how sure the thickness is, two in three, default 3 mm")
        ("cooler-sd", takes("CHANGE"), "how sure the cooler is, 0.5 C or 1 F, default 1 C");
    return flags;
}

po::options_description answer() {
    po::options_description flags = group("The question and the answer");
    flags.add_options()
        ("piece", takes("N"), "of a bucket's file: which one, by its number in tidemark bucket")
        ("share", takes("SHARE"), "of the brine that is this piece's, where others lie in it too")
        ("at", takes("TIME"), "show this time, 5 d, in place of the best day")
        ("horizon", takes("TIME"), "look no further than this, default 120 d")
        ("notebook", takes("FILE"), "ranges as your own slices teach: see tidemark learn")
        ("more", po::bool_switch(), "everything else: tables, ranges, notes")
        ("json", po::bool_switch(), "print one JSON object")
        ("csv", po::bool_switch(), "print profiles through the core as a table")
        ("course", po::bool_switch(), "print the course in time as a table (CSV)")
        ("container", takes("VOLUME"), "that meat and brine have to fit in, 12 L or 3 gal")
        ("start", takes("DATE"), "when it begins, 2026-12-05 18:00; a date alone is its 08:00")
        ("ready", takes("DATE"), "when it is wanted, a date alone by 08:00: tells when to begin")
        ("without", takes("WAYS"), "changes to leave out: needles, thinner, soak, rest, ...")
        ("calendar", takes("FILE"), "write the dates to FILE.ics (iCalendar)")
        ("sheet", takes("FILE"), "write the batch's sheet for the cooler's door to FILE.html")
        ("figure", takes("FILE"), "draw the section to FILE.svg; .png and .pdf need gnuplot")
        ("spread", takes("FILE"), "draw what the spread of the day comes from, likewise")
        ("help", po::bool_switch(), "these flags")
        ("help-all", po::bool_switch(), "and those that set numbers of the model");
    return flags;
}

po::options_description schedule() {
    po::options_description flags = group("The schedule");
    flags.add_options()
        ("piece", takes("N"), "of a bucket's file: which one, by its number in tidemark bucket")
        ("share", takes("SHARE"), "of the brine that is this piece's, where others lie in it too")
        ("stage", takes("TEXT"), "one, as above; a flag for each, in order, in place of the file's")
        ("container", takes("VOLUME"), "that meat and brine have to fit in, 12 L or 3 gal")
        ("start", takes("DATE"), "when it begins, 2026-12-05 18:00; a date alone is its 08:00")
        ("ready", takes("DATE"), "when it is wanted, a date alone by 08:00: tells when to begin")
        ("notebook", takes("FILE"), "ranges as your own slices teach: see tidemark learn")
        ("without", takes("WAYS"), "changes to leave out: needles, thinner, soak, rest, ...")
        ("calendar", takes("FILE"), "write the dates to FILE.ics (iCalendar)")
        ("sheet", takes("FILE"), "write the batch's sheet for the cooler's door to FILE.html")
        ("figure", takes("FILE"), "draw it to FILE.svg; .png and .pdf need gnuplot");
    return with_the_answer(flags);
}

po::options_description company() {
    po::options_description flags = group("The other pieces and the answer");
    flags.add_options()
        ("with", takes("FILE"), "one more piece, by its flags alone; adds to those of the case")
        ("stage", takes("TEXT"), "one, as above; a flag for each, in order; default one brine")
        ("container", takes("VOLUME"), "that meat and brine have to fit in, 12 L or 3 gal")
        ("start", takes("DATE"), "when it begins, 2026-12-05 18:00; a date alone is its 08:00")
        ("ready", takes("DATE"), "when it is wanted, a date alone by 08:00: tells when to begin")
        ("without", takes("WAYS"), "changes to leave out: needles, thinner, soak, rest, ...")
        ("calendar", takes("FILE"), "write the dates to FILE.ics (iCalendar)")
        ("sheet", takes("FILE"), "write the batch's sheet for the cooler's door to FILE.html")
        ("figure", takes("FILE"), "draw the pieces to FILE.svg; .png and .pdf need gnuplot")
        ("out", takes("TIME"), "this piece is taken out then, before the others: 5 d")
        ("notebook", takes("FILE"), "ranges as your own slices teach: see tidemark learn")
        ("horizon", takes("TIME"), "look no further than this, default 120 d");
    return with_the_answer(flags);
}

po::options_description aims() {
    po::options_description flags = group("The aim and the answer");
    flags.add_options()
        ("target-salt", takes("SHARE"), "mean salt of the cured meat, default 2.1 %, or as --afterwards asks")
        ("target-nitrite", takes("SHARE"), "ingoing nitrite aimed at, default 150 ppm or the law's less")
        ("notebook", takes("FILE"), "ranges as your own slices teach: see tidemark learn")
        ("even", takes("SHARE"), "rest until the salt is so even, 30 % of the mean; default no rest")
        ("start", takes("DATE"), "when it can begin, 2026-12-05 18:00; a date alone is its 08:00")
        ("ready", takes("DATE"), "when it must be ready, by 08:00 if no hour is given")
        ("without", takes("WAYS"), "ways to leave out, and what has them in it: brine, needles, rub, bag")
        ("save", takes("FILE"), "write the way chosen to FILE, a case file for all that follows")
        ("sheet", takes("FILE"), "write the batch's sheet for the cooler's door to FILE.html")
        ("figure", takes("FILE"), "draw it to FILE.svg; .png and .pdf need gnuplot");
    return with_the_answer(flags);
}

po::options_description needles() {
    po::options_description flags = group("Needles, before any stage");
    flags.add_options()
        ("pump", takes("SHARE"), "brine kept, over the raw weight, 10 %")
        ("pump-salt", takes("SHARE"), "salt of the needles' brine, default the brine's")
        ("pump-nitrite", takes("SHARE"), "its sodium nitrite, 1500 ppm at 10 % pump is 150 ppm")
        ("needle-spacing", takes("LENGTH"), "from needle to needle in a row, default 30 mm")
        ("row-spacing", takes("LENGTH"), "from row to row, default as in a row")
        ("staggered", po::bool_switch(), "every other row moved by half a spacing")
        ("deposit", takes("LENGTH"), "width of what a needle leaves, default a third of the spacing")
        ("unevenness", takes("FACTOR"), "between needles, 1.3 for two in three within 30 %, default 1")
        ("needle-margin", takes("LENGTH"), "first needle from the edge, default: spread evenly over the width");
    return flags;
}

po::options_description slice_flags() {
    po::options_description flags = group("The slice, cut through the middle");
    flags.add_options()
        ("day", takes("TIME"), "when it came out of the brine, 7 d after it went in")
        ("ring", takes("LENGTH"), "from every face to where the pink ends, on the middle line")
        ("ring-top", takes("LENGTH"), "from the top face alone")
        ("ring-bottom", takes("LENGTH"), "from the bottom face")
        ("ring-left", takes("LENGTH"), "from the left face")
        ("ring-right", takes("LENGTH"), "from the right face")
        ("grey", takes("LENGTH"), "height of the grey core")
        ("grey-width", takes("LENGTH"), "width of the grey core")
        ("pink-through", po::bool_switch(), "no grey is left");
    return flags;
}

po::options_description checks() {
    po::options_description flags = group("What you found when you looked again");
    flags.add_options()
        ("found-thickness", takes("LENGTH"), "by a ruler on the slice, as --thickness was measured")
        ("found-cooler", takes("TEMPERATURE"), "by a thermometer in water where the piece stood")
        ("found-brine-salt", takes("SHARE"), "salt of the brine that is left, 3.5 %")
        ("found-salometer", takes("DEGREES"), "or its degrees by the salometer, at 60 F")
        ("found-brine-nitrite", takes("SHARE"), "nitrite of the brine that is left, 80 ppm by strip")
        ("found-core-salt", takes("SHARE"), "salt of the grey core, 1.2 % by strip or meter")
        ("found-mean-salt", takes("SHARE"), "salt of a whole slice of lean, 2.1 % by meter")
        ("found-ph", takes("NUMBER"), "of the grey core, by paper or meter");
    return flags;
}

po::options_description notebook() {
    po::options_description flags = group("The notebook and the answer");
    flags.add_options()
        ("notebook", takes("FILE"), "your own batches, a line each, made if it is not there")
        ("piece", takes("N"), "of a bucket's file: which one, by its number in tidemark bucket")
        ("share", takes("SHARE"), "of the brine that is this piece's, where others lie in it too")
        ("date", takes("DATE"), "of the slice, 2026-12-05, default none, or --start and --day")
        ("start", takes("DATE"), "when it began, 2026-12-05 18:00; a date alone is its 08:00")
        ("batch", takes("TEXT"), "a name for the batch, default none")
        ("replace", po::bool_switch(), "in place of the earlier slice of this muscle, day and name")
        ("undo", po::bool_switch(), "take the notebook's last line out")
        ("stage", takes("TEXT"), "of a schedule, one flag each, in order: see tidemark plan --help")
        ("thickness-sd", takes("LENGTH"), "how sure the thickness is, two in three, default 3 mm")
        ("cooler-sd", takes("CHANGE"), "how sure the cooler's temperature is, default 1 C")
        ("json", po::bool_switch(), "print one JSON object")
        ("help", po::bool_switch(), "these flags")
        ("help-all", po::bool_switch(), "and those that set numbers of the model");
    return flags;
}

po::options_description model() {
    po::options_description flags = group("Numbers of the model (see tidemark numbers)");
    flags.add_options()
        ("diffusivity", takes("VALUE"), "of salt in this muscle at 4 C, pork-loin has 2.64e-10 m2/s")
        ("nitrite-ratio", takes("RATIO"), "nitrite diffusivity over salt's, default 0.963")
        ("partition", takes("RATIO"), "meat water over brine at balance, default 0.95")
        ("salt-slope", takes("NUMBER"), "diffusivity gained by 1 kg salt per kg water, default 0")
        ("loss", takes("VALUE"), "of nitrite: none, a half-life as 8.19 d (default), a rate as 0.09 1/d")
        ("ascorbate-spread", takes("SHARE"), "of ascorbate's work that waits for it to come, default 0")
        ("brine-loss", takes("RATE"), "of nitrite in the brine: default 0 1/d, with ascorbate 0.204 1/d")
        ("activation-energy", takes("VALUE"), "of diffusion, default 25 kJ/mol")
        ("threshold", takes("SHARE"), "nitrite you call cured, default between first pink and lasting")
        ("myoglobin", takes("SHARE"), "of this muscle, pork-loin has 1 g/kg")
        ("ph", takes("NUMBER"), "of this muscle, pork-loin has 5.6")
        ("fibre-ratio", takes("RATIO"), "diffusivity along the fibres over across, default 1.2")
        ("cells", takes("N"), "coarse cells across the thickness, default 24");
    return flags;
}

po::options_description any_number() {
    po::options_description flags = group("Any number, by its key");
    flags.add_options()
        ("set", takes("KEY=VALUE"), "one of tidemark numbers; may be given again; adds to the file's");
    return flags;
}

po::options_description meat() {
    po::options_description flags = group("The meat");
    flags.add_options()
        ("case", takes("FILE"), "read flags from FILE, a line each: water = 6 L")
        ("muscle", takes("NAME"), "pork loin (default), picnic, leg of lamb, ...: see numbers muscle")
        ("weight", takes("MASS"), "of one piece, raw, 2.5 kg or 5 lb 8 oz")
        ("pieces", takes("N"), "pieces in the brine, default 1");
    return flags;
}

po::options_description targets() {
    po::options_description flags = group("Targets in place of a recipe");
    flags.add_options()
        ("target-salt", takes("SHARE"), "salt of the meat with all of it in, or at balance, 2 %")
        ("target-nitrite", takes("SHARE"), "ingoing, as the law counts it, 120 ppm, default none")
        ("container", takes("VOLUME"), "that meat and brine fill; or the brine alone as --brine")
        ("scale", takes("MASS"), "finest step of the scales, default 1 g, or 0.1 g");
    return flags;
}

po::options_description dosing() {
    po::options_description flags = group("How the cure goes in");
    flags.add_options()
        ("way", takes("WORD"), "brine (default), needles, rub or bag")
        ("pick-up", takes("SHARE"), "meat is taken out at this gain over raw weight, 10 %")
        ("pump", takes("SHARE"), "brine is injected to this gain over raw weight, 10 %")
        ("pump-salt", takes("SHARE"), "of the needles' brine, to weigh it out: 22 %")
        ("pump-nitrite", takes("SHARE"), "and its sodium nitrite, 1200 ppm");
    return flags;
}

po::options_description sheet() {
    po::options_description flags = group("The answer");
    flags.add_options()
        ("json", po::bool_switch(), "print one JSON object")
        ("help", po::bool_switch(), "these flags");
    return flags;
}
po::options_description verdict() {
    po::options_description flags = sheet();
    flags.add_options()
        ("piece", takes("N"), "of a bucket's file: which one, by its number in tidemark bucket")
        ("share", takes("SHARE"), "of the brine that is this piece's, where others lie in it too")
        ("stage", takes("TEXT"), "of a schedule, one flag each, in order: see tidemark plan --help")
        ("start", takes("DATE"), "when it began, for a cooler's log; a date alone is its 08:00")
        ("notebook", takes("FILE"), "as your own slices teach: see tidemark learn")
        ("figure", takes("FILE"), "the section as told, with the ring seen, to FILE.svg, .png or .pdf")
        ("more", po::bool_switch(), "what to check for each cause, and what it would have shown")
        ("help-all", po::bool_switch(), "and those that set numbers of the model");
    return flags;
}
po::options_description library() {
    po::options_description flags = group("Flags");
    flags.add_options()
        ("more", po::bool_switch(), "every number")
        ("sources", po::bool_switch(), "the works behind the keys of sources")
        ("json", po::bool_switch(), "print one JSON object")
        ("help", po::bool_switch(), "this text");
    return flags;
}
po::options_description alone() {
    po::options_description flags = group("Flags");
    flags.add_options()
        ("help", po::bool_switch(), "this text");
    return flags;
}
po::options_description lessons() {
    po::options_description flags = alone();
    flags.add_options()
        ("figure", takes("FILE"), "draw the days against the thickness to FILE.svg, .png or .pdf");
    return flags;
}
// clang-format on

} // namespace tidemark::cli::groups
