#include "report/page_flow.h"
#include "report/sheet.h"

namespace holdtrue::report {
namespace {

// Two or three lines to write on, with what belongs on them.
void add_fields(PageFlow& page, const arc::CalibrationSheet& sheet) {
    const auto field = [&](const std::string& label, const std::string& known) {
        const Box box = page.take(21);
        const double line = box.x + 92;
        page.canvas().text({box.x, box.bottom() - 5}, label, {10});
        if (known.empty())
            page.canvas().line({line, box.bottom() - 3}, {box.right(), box.bottom() - 3}, 0.6, ink::faint);
        else
            page.canvas().text({line, box.bottom() - 5}, known, {10, true});
    };
    field("Power source", sheet.source);
    field("Wire, gas", "");
    field("Date, by", "");
}

std::vector<std::vector<Cell>> rows_of(const std::vector<arc::SheetRow>& rows, const units::Dimension& dimension,
                                       int blanks, units::System system) {
    std::vector<std::vector<Cell>> cells;
    for (const arc::SheetRow& row : rows) {
        std::vector<Cell> line{{units::significant_text(row.mark), ink::text, true}};
        line.resize(1 + static_cast<std::size_t>(blanks));
        line.push_back({row.known ? units::quantity_text(*row.known, dimension, system) : "", ink::faint});
        cells.push_back(std::move(line));
    }
    return cells;
}

} // namespace

void save_calibration_sheet(const std::filesystem::path& path, const arc::CalibrationSheet& sheet,
                            const SheetOptions& options) {
    const bool metric = options.system == units::System::metric;
    const std::string length = metric ? "mm" : "in";
    const std::string feed(units::workshop_unit(units::wire_feed, options.system).label);
    const std::string title = "Calibration sheet: what the dial marks give";
    save_sheets(path, options.paper, title, [&](Canvas& canvas, const std::function<void()>& next_page) {
        PageFlow page(canvas, next_page, options.paper, title,
                      "Holds for this power source only; measure again after a repair or with another wire size.");
        page.title(title,
                   "Dials carry marks without a unit. Fill in what yours give, then copy it into the shop file.");
        add_fields(page, sheet);
        page.heading("1. Wire feed: the 6-second check", 120);
        page.paragraph(arc::feed_steps(options.system), {9});
        page.gap(4);
        page.table({{"mark", 0.7, Align::right},
                    {"in 6 s [" + length + "]", 1.6},
                    {"times ten: feed [" + feed + "]", 1.9},
                    {"known so far", 1.3}},
                   rows_of(sheet.feed, units::wire_feed, 2, options.system), 9);
        page.heading("2. Volts: under load", 120);
        page.paragraph(arc::volts_steps(), {9});
        page.gap(4);
        page.table({{"mark", 0.7, Align::right}, {"volts under load", 3.5}, {"known so far", 1.3}},
                   rows_of(sheet.volts, units::voltage, 1, options.system), 9);
        page.heading("3. Into the shop file", 34);
        page.paragraph(
            "Under [[power_source]]: a table [power_source.volts_dial] with marks and measured_v, and a table "
            "[power_source.feed_dial] with marks and fed_in_6_s_" +
                length + ". Between measured marks the program interpolates; beyond them it refuses.",
            {9});
    });
}

} // namespace holdtrue::report
