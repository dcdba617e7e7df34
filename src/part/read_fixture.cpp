#include "part/part_tables.h"
#include "text/names.h"

namespace holdtrue::part {

using text::Table;
using text::worded;
using units::mm;

Pose read_pose(Table& table, const Part& part) {
    Pose pose;
    pose.line = table.line();
    pose.name = text::read_name(table, worded("pose"), names_of(part.poses));
    pose.up = table.direction("up");
    return pose;
}

Fixture read_fixture(Table& table) {
    Fixture fixture;
    fixture.name = table.text("name", "bench");
    fixture.turns_with_part = table.flag("turns_with_part", false);
    fixture.turn_s = table.quantity("turn", units::time, {0, 3600}, fixture.turn_s);
    fixture.clamp_s = table.quantity("clamp", units::time, {0, 3600}, fixture.clamp_s);
    return fixture;
}

Clamp read_clamp(Table& table, const Part& part) {
    Clamp clamp;
    clamp.line = table.line();
    clamp.name = text::read_name(table, worded("clamp"), names_of(part.clamps));
    clamp.panel = text::find_named(table, "panel", table.text("panel"), worded("panel"), names_of(part.panels));
    clamp.at = table.point("at");
    if (table.has("holds")) {
        clamp.holds = {false, false, false};
        for (const std::string& axis : table.one_or_more("holds"))
            clamp.holds[static_cast<std::size_t>(
                text::find_named(table, "holds", axis, worded("axis"), {"x", "y", "z"}))] = true;
    } else
        table.know({"holds"});
    clamp.contact_area_m2 = table.quantity("contact", units::area, {0, 0.1}, 400 * mm * mm);
    // Pressed steel on steel in a shop, dry: some hundreds to a few thousand. Common practice, no source.
    clamp.contact_w_per_m2k = table.number("conductance_w_per_m2k", {0, 20000}, 1000.0);
    clamp.fixed_at_start = table.flag("fixed_at_start", true);
    return clamp;
}

void check_clamp(Table& table, const Part& part, const Clamp& clamp) {
    check_on_panel(table, "at", part.panels[static_cast<std::size_t>(clamp.panel)], clamp.at);
}

} // namespace holdtrue::part
