// The readers of the tables of a .part.toml, put together in read_part.cpp. Each records what it finds wrong with its
// table and returns a harmless value; the checks are for tables that were read without a problem.
#pragma once

#include "part/read_part.h"
#include "text/toml_reader.h"

#include <string>
#include <vector>

namespace holdtrue::part {

template <class Named>
std::vector<std::string> names_of(const std::vector<Named>& list) {
    std::vector<std::string> names;
    for (const Named& entry : list)
        names.push_back(entry.name);
    return names;
}

Panel read_panel(text::Table& table, const Part& part, std::span<const SheetChange> changes);
Joint read_joint(text::Table& table, const Part& part);
std::vector<Pass> read_passes(text::Table& table, const Part& part, const Joint& joint, int joint_index);
Pose read_pose(text::Table& table, const Part& part);
Fixture read_fixture(text::Table& table);
Clamp read_clamp(text::Table& table, const Part& part);
Gauge read_gauge_table(text::Table& table, const Part& part);

void check_panel(text::Table& table, const Part& part, const Panel& panel);
void check_joint(text::Table& table, const Part& part, const Joint& joint);
void check_clamp(text::Table& table, const Part& part, const Clamp& clamp);
void check_gauge(text::Table& table, const Part& part, Gauge& gauge);

// The same text for whatever rides on a panel.
void check_on_panel(text::Table& table, std::string_view key, const Panel& panel, const Point& point);

} // namespace holdtrue::part
