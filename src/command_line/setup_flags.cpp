#include "command_line/setup_flags.h"

#include "arc/process_words.h"
#include "command_line/named_choice.h"
#include "command_line/shipped_file.h"
#include "material/steel_grade.h"

#include <CLI/CLI.hpp>

namespace holdtrue::command_line {

void add_flags(CLI::App& command, SetupFlags& flags) {
    const auto option = [&](const char* name, std::string& words, const char* help) {
        return command.add_option(name, words, help);
    };
    // The reader of the flags says what is wrong with a word.
    const auto choice = [&](const char* name, std::string& word, const std::vector<std::string>& words,
                            const char* help) { option(name, word, help)->type_name(one_of_type(words)); };
    std::vector<std::string> grades;
    for (const material::SteelGrade& grade : material::steel_grades())
        grades.push_back(grade.name);
    choice("--units", flags.units, {"metric", "imperial"},
           "metric (mm, mm/s, m/min) or imperial (in, in/min); a value may carry its own unit");
    choice("--process", flags.process, arc::process_numbers(),
           "ISO 4063 number: 135 MAG, 131 MIG, 136 and 114 flux-cored, 141 TIG");
    option("--wire", flags.wire, "wire diameter, or its name in the shop; left out: chosen");
    option("--wire-class", flags.wire_class, "for example ER70S-6, E71T-11, ER308LSi, ER5356");
    option("--gas", flags.gas, "for example \"75Ar 25CO2\", CO2, Ar, or its name in the shop; left out: chosen");
    choice("--joint", flags.joint, {"fillet", "lap", "butt", "corner", "edge", "plug"},
           "fillet, lap, butt, corner, edge or plug");
    option("--t1", flags.t1, "thickness of the first member: web, upper sheet, sheet with the hole");
    option("--t2", flags.t2, "thickness of the second member; left out: the same");
    option("--size", flags.size, "leg, throat of a corner, depth of a butt, hole of a plug");
    option("--gap", flags.gap, "root gap");
    option("--volts", flags.volts, "volts; left out: proposed");
    option("--feed", flags.feed, "wire feed, m/min; left out: proposed");
    option("--travel", flags.travel, "travel speed, mm/s; left out: proposed");
    option("--current", flags.current, "current of TIG");
    option("--volts-dial", flags.volts_dial, "mark of the shop's volts dial");
    option("--feed-dial", flags.feed_dial, "mark of the shop's wire feed dial");
    option("--tip", flags.tip, "contact tip to work distance");
    option("--flow", flags.flow, "gas flow, L/min");
    choice("--polarity", flags.polarity, {"positive", "negative"}, "of the electrode: positive or negative");
    choice("--motion", flags.motion, {"push", "drag"}, "push or drag");
    option("--aim", flags.aim, "share of the arc on the first member, 0 to 1");
    option("--preheat", flags.preheat, "preheat temperature");
    option("--start", flags.start, "temperature of the joint before the pass");
    choice("--metal", flags.metal, {"mild_steel", "stainless", "aluminium"}, "mild_steel, stainless or aluminium");
    choice("--steel", flags.steel, grades, "grade of mild steel, for preheat: S235, S355, A36 ...");
    choice("--coated", flags.coated, {"none", "first", "second", "both"},
           "galvanised, primed or painted: none, first, second or both");
    option("--bared", flags.bared, "width that the coating was taken off each side");
    option("--length", flags.length, "length of the weld, for time, gas, wire and cost");
    option("--passes", flags.passes, "number of passes; left out: as the size asks");
    option("--tack-length", flags.tack_length, "length of a tack");
    option("--tack-spacing", flags.tack_spacing, "distance between tacks");
    option("--plug-spacing", flags.plug_spacing, "distance between plug centres");
    option("--plug-time", flags.plug_time, "time the arc burns in a plug");
    option("--angle", flags.angle, "included angle of a V, degrees");
    option("--root-face", flags.root_face, "root face of a V");
    command.add_flag("--backing", flags.backing, "the butt lies on a backing bar");
    command.add_flag("--both-sides", flags.both_sides, "the butt is welded from both sides");
    option("--shade", flags.shade, "shade number of the helmet's filter");
    option("--draught", flags.draught, "air speed at the work, m/s");
    add_file(command, "--shop", flags.shop, FileKind::shop, "a .shop.toml: only what is on hand, with dial marks");
    command.add_flag("--json", flags.json, "every figure and finding as JSON, SI units");
    command.add_flag("--all", flags.all, "list passed rules too");
    command.add_flag("--calibration-sheet", flags.calibration_sheet,
                     "print a sheet to fill in: what each dial mark gives");
    option("--out", flags.out, "save the calibration sheet as a page to print (.pdf) instead");
    command.add_option("--paper", flags.paper, "a4 or letter")->check(CLI::IsMember({"a4", "letter"}));
}

} // namespace holdtrue::command_line
