#include "arc/calibration_sheet.h"

#include <algorithm>

namespace holdtrue::arc {
namespace {

std::vector<SheetRow> rows_of(const std::optional<Dial>& dial) {
    std::vector<SheetRow> rows;
    if (!dial || dial->points.size() < 2) {
        for (int mark = 1; mark <= 10; ++mark)
            rows.push_back({static_cast<double>(mark), std::nullopt});
        return rows;
    }
    const double span = dial->points.back().value - dial->points.front().value;
    for (std::size_t i = 0; i < dial->points.size(); ++i) {
        if (i > 0 && dial->points[i].value - dial->points[i - 1].value > span / 4)
            rows.push_back({(dial->points[i].mark + dial->points[i - 1].mark) / 2, std::nullopt});
        rows.push_back({dial->points[i].mark, dial->points[i].value});
    }
    return rows;
}

// Lines of at most 78 columns, three in.
std::string indented(const std::string& words) {
    std::string text, line;
    for (std::size_t from = 0; from < words.size();) {
        const std::size_t to = std::min(words.find(' ', from), words.size());
        if (line.size() + 1 + to - from > 75) {
            text += "   " + line + '\n';
            line.clear();
        }
        line += (line.empty() ? "" : " ") + words.substr(from, to - from);
        from = to + 1;
    }
    return text + "   " + line + '\n';
}

std::string padded(const std::string& text, std::size_t width) {
    return text.size() >= width ? text : std::string(width - text.size(), ' ') + text;
}

} // namespace

CalibrationSheet calibration_sheet(const PowerSource* source) {
    CalibrationSheet sheet;
    sheet.source = source ? source->name : "";
    sheet.feed = rows_of(source ? source->feed_dial : std::nullopt);
    sheet.volts = rows_of(source ? source->volts_dial : std::nullopt);
    return sheet;
}

std::string feed_steps(units::System system) {
    return std::string("Gloves and glasses on. Snip the wire at the nozzle, point the torch away from people and from "
                       "the work. Press the trigger for 6 seconds, measure what came out. Times ten is the feed of one "
                       "minute") +
           (system == units::System::metric ? " (640 mm: 6.4 m/min)." : " (25 in: 250 in/min).");
}

std::string volts_steps() {
    return "Weld a bead on scrap at a steady feed. A second person reads the volts between the feeder's terminal and "
           "the "
           "work clamp while the arc burns. Insulated probes only; who is not trained to measure on live leads leaves "
           "it "
           "to someone who is. Idle volts are of no use here.";
}

std::string in_text(const CalibrationSheet& sheet, units::System system) {
    const bool metric = system == units::System::metric;
    const std::string length = metric ? "mm" : "in";
    const units::Unit& feed = units::workshop_unit(units::wire_feed, system);
    std::string text = "Calibration sheet: what the dial marks give\n\n";
    text += "Power source: " + (sheet.source.empty() ? std::string(40, '_') : sheet.source) + "\n";
    text += "Wire, gas:    " + std::string(40, '_') + "\nDate, by:     " + std::string(40, '_') + "\n\n";

    text += "1. Wire feed: the 6-second check\n" + indented(feed_steps(system)) + "\n";
    text += "   mark   in 6 s [" + length + "]   feed [" + std::string(feed.label) + "]   known so far\n";
    for (const SheetRow& row : sheet.feed)
        text += padded(units::significant_text(row.mark), 7) + "   ___________   ____________   " +
                (row.known ? units::quantity_text(*row.known, units::wire_feed, system) : "") + "\n";

    text += "\n2. Volts: under load\n" + indented(volts_steps()) + "\n";
    text += "   mark   volts under load   known so far\n";
    for (const SheetRow& row : sheet.volts)
        text += padded(units::significant_text(row.mark), 7) + "   ________________   " +
                (row.known ? units::quantity_text(*row.known, units::voltage, system) : "") + "\n";

    text += "\n3. Into the shop file, under [[power_source]]\n\n"
            "   [power_source.volts_dial]\n"
            "   name = \"volts\"\n"
            "   marks = [ ]\n"
            "   measured_v = [ ]\n\n"
            "   [power_source.feed_dial]\n"
            "   name = \"wire feed\"\n"
            "   marks = [ ]\n"
            "   fed_in_6_s_" +
            length +
            " = [ ]\n\n"
            "   Between measured marks the program interpolates; beyond them it refuses.\n";
    return text;
}

} // namespace holdtrue::arc
