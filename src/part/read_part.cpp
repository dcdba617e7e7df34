#include "part/read_part.h"

#include "part/part_tables.h"

#include <algorithm>

namespace holdtrue::part {
namespace {

using text::Document;
using text::Table;
using text::worded;
using units::mm;

// The tables of one kind, and which of them were read without a mistake.
struct Kind {
    std::vector<Table> tables;
    std::vector<bool> sound;
};

struct Tables {
    Kind panels, joints, clamps, gauges;
};

template <class Read>
Kind read_each(const Document& document, std::vector<Table> tables, const Read& read) {
    Kind kind{std::move(tables), {}};
    for (Table& table : kind.tables) {
        const std::size_t before = document.problem_count();
        read(table);
        kind.sound.push_back(document.problem_count() == before);
    }
    return kind;
}

// At least one of a kind of table.
std::vector<Table> needed(Table& root, std::string_view key, text::Wording lacks, text::Wording fix) {
    std::vector<Table> tables = root.tables(key);
    if (tables.empty() && !root.has(key))
        root.problem("", lacks, fix);
    return tables;
}

Tables read_tables(const Document& document, Table& root, Part& part, std::span<const SheetChange> changes) {
    part.name = root.text("name");
    part.title = root.text("title", part.name);
    part.steel = root.text("steel", part.steel);
    part.ambient_k =
        root.quantity("ambient", units::temperature, {units::celsius(-20), units::celsius(50)}, part.ambient_k);
    part.element_m = root.quantity("element", units::length, {1 * mm, 200 * mm}, part.element_m);

    Tables tables;
    tables.panels = read_each(document,
                              needed(root, "panel", worded("the part has no panel"),
                                     worded("add [[panel]] with name, kind, thickness_mm and its shape")),
                              [&](Table& table) { part.panels.push_back(read_panel(table, part, changes)); });
    for (Table& table : root.tables("pose"))
        part.poses.push_back(read_pose(table, part));
    if (part.poses.empty() && !root.has("pose"))
        root.problem("", worded("the part has no pose"),
                     worded("add [[pose]] with name and up, for how it lies at the start"));
    tables.joints = read_each(document,
                              needed(root, "joint", worded("the part has no joint"),
                                     worded("add [[joint]] with name, type, panels, path_mm and its size")),
                              [&](Table& table) {
                                  part.joints.push_back(read_joint(table, part));
                                  const int index = static_cast<int>(part.joints.size()) - 1;
                                  for (Pass& pass : read_passes(table, part, part.joints.back(), index))
                                      part.passes.push_back(std::move(pass));
                              });
    if (std::optional<Table> fixture = root.table("fixture"))
        part.fixture = read_fixture(*fixture);
    else
        part.fixture.name = "bench";
    tables.clamps = read_each(document, root.tables("clamp"),
                              [&](Table& table) { part.clamps.push_back(read_clamp(table, part)); });
    tables.gauges =
        read_each(document,
                  needed(root, "gauge", worded("the part has no gauge"),
                         worded("add [[gauge]] with name, kind and points, for what is measured at the end")),
                  [&](Table& table) { part.gauges.push_back(read_gauge_table(table, part)); });
    return tables;
}

// Geometry is looked at where a table, and the panels it names, could be read, or one slip would be told twice.
void check(const Document& document, Tables& tables, Part& part) {
    std::vector<bool>& panel_sound = tables.panels.sound;
    for (std::size_t k = 0; k < panel_sound.size(); ++k) {
        const std::size_t before = document.problem_count();
        if (panel_sound[k])
            check_panel(tables.panels.tables[k], part, part.panels[k]);
        panel_sound[k] = panel_sound[k] && document.problem_count() == before;
    }
    const auto is_sound = [&](int panel) {
        return panel >= 0 && static_cast<std::size_t>(panel) < panel_sound.size() &&
               panel_sound[static_cast<std::size_t>(panel)];
    };
    for (std::size_t k = 0; k < part.joints.size(); ++k)
        if (tables.joints.sound[k] && is_sound(part.joints[k].panel_a) && is_sound(part.joints[k].panel_b))
            check_joint(tables.joints.tables[k], part, part.joints[k]);
    for (std::size_t k = 0; k < part.clamps.size(); ++k)
        if (tables.clamps.sound[k] && is_sound(part.clamps[k].panel))
            check_clamp(tables.clamps.tables[k], part, part.clamps[k]);
    for (std::size_t k = 0; k < part.gauges.size(); ++k)
        if (tables.gauges.sound[k] && std::ranges::all_of(part.gauges[k].panel, is_sound))
            check_gauge(tables.gauges.tables[k], part, part.gauges[k]);
}

std::shared_ptr<const Part> read(Document document, std::span<const SheetChange> changes) {
    auto part = std::make_shared<Part>();
    part->file = document.file();
    Table root = document.root();
    Tables tables = read_tables(document, root, *part, changes);
    check(document, tables, *part);
    document.finish();
    return part;
}

} // namespace

std::shared_ptr<const Part> read_part(const std::filesystem::path& path, std::span<const SheetChange> changes) {
    return read(Document::read(path), changes);
}

std::shared_ptr<const Part> parse_part(std::string_view toml, const std::string& file_name) {
    return read(Document::parse(toml, file_name), {});
}

} // namespace holdtrue::part
