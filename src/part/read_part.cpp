#include "part/read_part.h"

#include "part/part_tables.h"

namespace holdtrue::part {
namespace {

using text::Document;
using text::Table;
using units::mm;

struct Tables {
    std::vector<Table> panels, joints, clamps, gauges;
};

// At least one of a kind of table.
std::vector<Table> needed(Table& root, std::string_view key, const std::string& fix) {
    std::vector<Table> tables = root.tables(key);
    if (tables.empty() && !root.has(key))
        root.problem("", "the part has no " + std::string(key), fix);
    return tables;
}

Tables read_tables(Table& root, Part& part, std::span<const SheetChange> changes) {
    part.name = root.text("name");
    part.title = root.text("title", part.name);
    part.steel = root.text("steel", part.steel);
    part.ambient_k =
        root.quantity("ambient", units::temperature, {units::celsius(-20), units::celsius(50)}, part.ambient_k);
    part.element_m = root.quantity("element", units::length, {1 * mm, 200 * mm}, part.element_m);

    Tables tables;
    tables.panels = needed(root, "panel", "add [[panel]] with name, kind, thickness_mm and its shape");
    for (Table& table : tables.panels)
        part.panels.push_back(read_panel(table, part, changes));
    for (Table& table : root.tables("pose"))
        part.poses.push_back(read_pose(table, part));
    if (part.poses.empty() && !root.has("pose"))
        root.problem("", "the part has no pose", "add [[pose]] with name and up, for how it lies at the start");
    tables.joints = needed(root, "joint", "add [[joint]] with name, type, panels, path_mm and its size");
    for (Table& table : tables.joints) {
        part.joints.push_back(read_joint(table, part));
        const int index = static_cast<int>(part.joints.size()) - 1;
        for (Pass& pass : read_passes(table, part, part.joints.back(), index))
            part.passes.push_back(std::move(pass));
    }
    if (std::optional<Table> fixture = root.table("fixture"))
        part.fixture = read_fixture(*fixture);
    else
        part.fixture.name = "bench";
    tables.clamps = root.tables("clamp");
    for (Table& table : tables.clamps)
        part.clamps.push_back(read_clamp(table, part));
    tables.gauges = needed(root, "gauge", "add [[gauge]] with name, kind and points, for what is measured at the end");
    for (Table& table : tables.gauges)
        part.gauges.push_back(read_gauge_table(table, part));
    return tables;
}

void check(Tables& tables, Part& part) {
    for (std::size_t k = 0; k < tables.panels.size(); ++k)
        check_panel(tables.panels[k], part, part.panels[k]);
    for (std::size_t k = 0; k < tables.joints.size(); ++k)
        check_joint(tables.joints[k], part, part.joints[k]);
    for (std::size_t k = 0; k < tables.clamps.size(); ++k)
        check_clamp(tables.clamps[k], part, part.clamps[k]);
    for (std::size_t k = 0; k < tables.gauges.size(); ++k)
        check_gauge(tables.gauges[k], part, part.gauges[k]);
}

std::shared_ptr<const Part> read(Document document, std::span<const SheetChange> changes) {
    auto part = std::make_shared<Part>();
    part->file = document.file();
    Table root = document.root();
    Tables tables = read_tables(root, *part, changes);
    // Geometry is looked at only once every table could be read, or each slip would be told twice.
    if (!document.has_problems())
        check(tables, *part);
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
