#include "distortion/case_loads.h"
#include "distortion/case_panels.h"
#include "distortion/case_places.h"
#include "distortion/free_motion.h"
#include "distortion/shell_case.h"
#include "text/names.h"

#include <algorithm>
#include <array>
#include <map>

namespace holdtrue::distortion {
namespace {

using text::Table;
using units::Unit;

// Units that only such cases need.
constexpr std::array modulus_units{Unit{"gpa", 1e9, 0, "GPa"}, Unit{"mpa", 1e6, 0, "MPa"}, Unit{"pa", 1, 0, "Pa"}};
constexpr units::Dimension modulus{"modulus", modulus_units};
constexpr std::array expansion_units{Unit{"per_k", 1, 0, "1/K"}};
constexpr units::Dimension expansion{"expansion", expansion_units};

class Reader {
public:
    explicit Reader(text::Document& document) : document_(document), root_(document.root()), panels_(case_.mesh) {}

    ShellCase read() {
        root_.text("kind"); // known to whoever called
        case_.title = root_.text("title", "");
        read_material();
        const std::vector<Table> panels = root_.tables("panel");
        if (panels.empty())
            root_.problem("", text::in_english("the case has no [[panel]]"),
                          text::in_english("add at least one panel"));
        for (const Table& panel : panels)
            panels_.read(panel);
        if (document_.problem_count() > 0) { // nothing below makes sense on a broken mesh
            root_.know({"support", "point_load", "edge_load", "surface_load", "thermal", "probe"});
            document_.finish();
        }
        places_.emplace(case_.mesh, panels_);
        const std::size_t unknowns = 6 * case_.mesh.node_m.size();
        case_.loads.fixed.assign(unknowns, 0);
        case_.loads.force = Eigen::VectorXd::Zero(static_cast<Eigen::Index>(unknowns));
        for (Table& support : root_.tables("support"))
            read_support(support);
        for (Table& table : root_.tables("point_load"))
            read_point_load(table, *places_, case_);
        for (Table& table : root_.tables("edge_load"))
            read_edge_load(table, *places_, case_);
        for (Table& table : root_.tables("surface_load"))
            read_surface_load(table, *places_, case_);
        for (Table& table : root_.tables("thermal"))
            read_thermal_load(table, *places_, expansion_per_k_, case_);
        std::vector<Table> probes = root_.tables("probe");
        if (probes.empty())
            root_.problem("", text::in_english("the case has no [[probe]]"),
                          text::in_english("add a probe with name, kind and at_mm, for what is printed"));
        for (Table& probe : probes)
            read_probe(probe);
        if (document_.problem_count() == 0)
            check_held();
        document_.finish();
        return std::move(case_);
    }

private:
    void read_material() {
        std::optional<Table> table = root_.table("material");
        if (!table) {
            root_.problem("material", text::in_english("the case has no [material]"),
                          text::in_english("add [material] with young_gpa and poisson"));
            return;
        }
        case_.mesh.elastic.young_pa = table->quantity("young", modulus, {1, 1e15});
        case_.mesh.elastic.poisson = table->number("poisson", {-0.9, 0.499});
        expansion_per_k_ = table->optional_quantity("expansion", expansion, {-1e-2, 1e-2});
    }

    void read_support(Table& table) {
        const std::string name = table.text("name", "");
        const std::vector<std::string> words{"x", "y", "z", "rx", "ry", "rz"};
        const std::vector<int> nodes = places_->nodes_of(table);
        std::vector<int>& held = supports_[name];
        const std::vector<std::string> holds = table.texts("holds");
        if (holds.empty() && table.has("holds"))
            table.problem("holds", text::in_english("the support holds nothing"),
                          text::in_english("name x, y, z, rx, ry or rz"));
        for (const std::string& word : holds) {
            const auto found = std::ranges::find(words, word);
            if (found == words.end()) {
                table.problem("holds", text::in_english("\"" + word + "\" is no direction"),
                              text::in_english("name x, y, z, rx, ry or rz"));
                continue;
            }
            for (const int node : nodes) {
                const int unknown = 6 * node + static_cast<int>(found - words.begin());
                if (!case_.loads.fixed[static_cast<std::size_t>(unknown)])
                    held.push_back(unknown);
                case_.loads.fixed[static_cast<std::size_t>(unknown)] = 1;
            }
        }
    }

    void read_probe(Table& table) {
        ShellProbe probe;
        std::vector<std::string> names;
        for (const ShellProbe& other : case_.probes)
            names.push_back(other.name);
        probe.name = text::read_name(table, text::worded("probe"), names);
        probe.kind = table.choice<ShellProbeKind>("kind", {{"displacement", ShellProbeKind::displacement},
                                                           {"reaction", ShellProbeKind::reaction},
                                                           {"stress", ShellProbeKind::stress}});
        switch (probe.kind) {
        case ShellProbeKind::displacement:
            probe.node = places_->node_at(table);
            break;
        case ShellProbeKind::reaction:
            read_reaction(table, probe);
            break;
        case ShellProbeKind::stress:
            probe.place = table.point("at");
            if (const int element = places_->element_at(table); element >= 0) {
                probe.element = element;
                probe.neighbours = places_->neighbours_of(element);
            }
            break;
        }
        case_.probes.push_back(std::move(probe));
    }

    void read_reaction(Table& table, ShellProbe& probe) {
        const std::string support = table.text("support");
        if (const auto found = supports_.find(support); found != supports_.end())
            probe.unknowns = found->second;
        else
            table.problem("support", text::in_english("there is no support \"" + support + "\""),
                          text::in_english("give one of the supports this name"));
    }

    void check_held() {
        const std::optional<FreeMotion> motion = free_motion(case_.mesh, case_.loads.fixed);
        if (!motion)
            return;
        const CasePanel& panel = panels_.of_element(motion->element);
        panel.table.problem("",
                            text::in_english("the supports leave panel " + panel.name + " free to " + motion->words),
                            text::in_english("add supports, or let it share nodes with a panel that is held"));
    }

    text::Document& document_;
    Table root_;
    ShellCase case_;
    CasePanels panels_;
    std::optional<CasePlaces> places_; // once there is a mesh
    std::optional<double> expansion_per_k_;
    std::map<std::string, std::vector<int>> supports_;
};

} // namespace

ShellCase read_shell_case(text::Document& document) { return Reader(document).read(); }

} // namespace holdtrue::distortion
