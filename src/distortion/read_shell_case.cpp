#include "distortion/shell_case.h"
#include "text/names.h"

#include <Eigen/Geometry>

#include <algorithm>
#include <array>
#include <cmath>
#include <map>

namespace holdtrue::distortion {
namespace {

using Eigen::Vector3d;
using text::Table;
using units::Unit;

// Units that only such cases need.
constexpr std::array modulus_units{Unit{"gpa", 1e9, 0, "GPa"}, Unit{"mpa", 1e6, 0, "MPa"}, Unit{"pa", 1, 0, "Pa"}};
constexpr units::Dimension modulus{"modulus", modulus_units};
constexpr std::array expansion_units{Unit{"per_k", 1, 0, "1/K"}};
constexpr units::Dimension expansion{"expansion", expansion_units};
constexpr std::array force_units{Unit{"n", 1, 0, "N"}};
constexpr units::Dimension force{"force", force_units};
constexpr std::array moment_units{Unit{"nm", 1, 0, "N m"}};
constexpr units::Dimension moment{"moment", moment_units};
constexpr std::array line_units{Unit{"n_per_m", 1, 0, "N/m"}};
constexpr units::Dimension line_force{"force per length", line_units};
constexpr std::array pressure_units{Unit{"pa", 1, 0, "Pa"}, Unit{"mpa", 1e6, 0, "MPa"}};
constexpr units::Dimension pressure{"pressure", pressure_units};
constexpr std::array difference_units{Unit{"k", 1, 0, "K"}};
constexpr units::Dimension difference{"temperature difference", difference_units};

constexpr int most_elements = 100000;
enum class Side { a, b, start, end };

struct CasePanel {
    std::string name;
    std::vector<Vector3d> a, b;
    bool closed = false;
    double thickness_m = 0;
    int along = 1, across = 1; // elements
    int first_element = 0;
    std::vector<int> node; // (along + 1) x (across + 1), node(i, j) at j * (along + 1) + i; a closed one repeats i = 0

    int at(int i, int j) const { return node[static_cast<std::size_t>(j * (along + 1) + i)]; }
    std::vector<int> edge(Side side) const {
        std::vector<int> nodes;
        if (side == Side::a || side == Side::b)
            for (int i = 0; i <= along; ++i)
                nodes.push_back(at(i, side == Side::a ? 0 : across));
        else
            for (int j = 0; j <= across; ++j)
                nodes.push_back(at(side == Side::start ? 0 : along, j));
        return nodes;
    }
};

// The mapped quadrilateral has area everywhere.
bool has_area(const Corners& c) {
    const Vector3d normal = (c[2] - c[0]).cross(c[3] - c[1]);
    if (!(normal.norm() > 0))
        return false;
    for (std::size_t k = 0; k < 4; ++k) {
        const Vector3d here = (c[(k + 1) % 4] - c[k]).cross(c[(k + 3) % 4] - c[k]);
        if (here.dot(normal) < -1e-9 * normal.squaredNorm())
            return false;
    }
    return true;
}

class Reader {
public:
    explicit Reader(text::Document& document) : document_(document), root_(document.root()) {}

    ShellCase read() {
        root_.text("kind"); // known to whoever called
        case_.title = root_.text("title", "");
        read_material();
        std::vector<Table> panels = root_.tables("panel");
        if (panels.empty())
            root_.problem("", "the case has no [[panel]]", "add at least one panel");
        for (Table& panel : panels)
            read_panel(panel);
        if (document_.has_problems()) { // nothing below makes sense on a broken mesh
            root_.know({"support", "point_load", "edge_load", "surface_load", "thermal", "probe"});
            document_.finish();
        }
        const std::size_t unknowns = 6 * case_.mesh.node_m.size();
        case_.loads.fixed.assign(unknowns, 0);
        case_.loads.force = Eigen::VectorXd::Zero(static_cast<Eigen::Index>(unknowns));
        for (Table& support : root_.tables("support"))
            read_support(support);
        read_loads();
        for (Table& probe : root_.tables("probe"))
            read_probe(probe);
        document_.finish();
        return std::move(case_);
    }

private:
    void read_material() {
        std::optional<Table> table = root_.table("material");
        if (!table) {
            root_.problem("material", "the case has no [material]", "add [material] with young_gpa and poisson");
            return;
        }
        case_.mesh.elastic.young_pa = table->quantity("young", modulus, {1, 1e15});
        case_.mesh.elastic.poisson = table->number("poisson", {-0.9, 0.499});
        expansion_per_k_ = table->quantity("expansion", expansion, {-1e-2, 1e-2}, 0.0);
    }

    int node_at(const Vector3d& place) {
        // Nodes closer than a millionth of the first panel's size are one.
        const auto cell = [&](double x) { return std::llround(x / merge_m_); };
        for (int dx = -1; dx <= 1; ++dx)
            for (int dy = -1; dy <= 1; ++dy)
                for (int dz = -1; dz <= 1; ++dz)
                    if (const auto found =
                            known_.find({cell(place.x()) + dx, cell(place.y()) + dy, cell(place.z()) + dz});
                        found != known_.end() &&
                        (case_.mesh.node_m[static_cast<std::size_t>(found->second)] - place).norm() < merge_m_)
                        return found->second;
        const int node = static_cast<int>(case_.mesh.node_m.size());
        known_[{cell(place.x()), cell(place.y()), cell(place.z())}] = node;
        case_.mesh.node_m.push_back(place);
        return node;
    }

    void read_panel(Table& table) {
        CasePanel panel;
        std::vector<std::string> names;
        for (const CasePanel& other : panels_)
            names.push_back(other.name);
        panel.name = text::read_name(table, "panel", names);
        panel.closed = table.flag("closed", false);
        panel.a = table.points("profile_a", panel.closed ? 3 : 2);
        panel.b = table.points("profile_b", panel.closed ? 3 : 2);
        panel.thickness_m = table.quantity("thickness", units::length, {1e-9, 1e3});
        const std::vector<double> counts = table.numbers("elements", {1, 10000}, 2);
        if (panel.a.size() != panel.b.size()) {
            table.problem("profile_b", "the profiles have different numbers of points", "give both as many");
            return;
        }
        const int segments = static_cast<int>(panel.a.size()) - (panel.closed ? 0 : 1);
        if (counts.size() != 2 || segments < 1)
            return;
        panel.along = static_cast<int>(counts[0]);
        panel.across = static_cast<int>(counts[1]);
        if (panel.along != counts[0] || panel.across != counts[1] || panel.along % segments != 0) {
            table.problem("elements", "the elements along the profile do not divide its segments evenly",
                          "give whole numbers, the first a multiple of " + std::to_string(segments));
            return;
        }
        if (panel.along * panel.across + static_cast<int>(case_.mesh.quad.size()) > most_elements) {
            table.problem("elements", "the case has more than 100000 elements", "use fewer");
            return;
        }
        if (merge_m_ == 0) {
            double size = 0;
            for (const Vector3d& point : panel.b)
                size = std::max(size, (point - panel.a[0]).norm());
            merge_m_ = std::max(1e-12, 1e-6 * size);
        }
        for (int j = 0; j <= panel.across; ++j)
            for (int i = 0; i <= panel.along; ++i) {
                const double s = static_cast<double>(i) * segments / panel.along;
                const int segment = std::min(static_cast<int>(s), segments - 1);
                const auto k = static_cast<std::size_t>(segment), next = (k + 1) % panel.a.size();
                const double share = s - segment, r = static_cast<double>(j) / panel.across;
                panel.node.push_back(node_at((1 - r) * ((1 - share) * panel.a[k] + share * panel.a[next]) +
                                             r * ((1 - share) * panel.b[k] + share * panel.b[next])));
            }
        panel.first_element = static_cast<int>(case_.mesh.quad.size());
        for (int j = 0; j < panel.across; ++j)
            for (int i = 0; i < panel.along; ++i) {
                const std::array<int, 4> quad{panel.at(i, j), panel.at(i + 1, j), panel.at(i + 1, j + 1),
                                              panel.at(i, j + 1)};
                Corners corners;
                for (std::size_t k = 0; k < 4; ++k)
                    corners[k] = case_.mesh.node_m[static_cast<std::size_t>(quad[k])];
                if (!has_area(corners)) {
                    table.problem("", "panel " + panel.name + " has an element without area, or folded over",
                                  "let both profiles run the same way, with no point twice");
                    return;
                }
                case_.mesh.quad.push_back(quad);
                case_.mesh.thickness_m.push_back(panel.thickness_m);
            }
        panels_.push_back(std::move(panel));
    }

    const CasePanel& panel_of(Table& table) {
        std::vector<std::string> names;
        for (const CasePanel& panel : panels_)
            names.push_back(panel.name);
        const int index = text::find_named(table, "panel", table.text("panel"), "panel", names);
        return panels_[static_cast<std::size_t>(index)];
    }

    Side side_of(Table& table) {
        return table.choice<Side>("side", {{"a", Side::a}, {"b", Side::b}, {"start", Side::start}, {"end", Side::end}});
    }

    int nearest_node(const Vector3d& place) const {
        std::size_t best = 0;
        for (std::size_t n = 1; n < case_.mesh.node_m.size(); ++n)
            if ((case_.mesh.node_m[n] - place).norm() < (case_.mesh.node_m[best] - place).norm())
                best = n;
        return static_cast<int>(best);
    }

    // at_mm: the nearest node; plane_mm and normal: all nodes of that plane; panel and side: an edge; panel: all of it.
    std::vector<int> nodes_of(Table& table) {
        if (table.has_quantity("at", units::length))
            return {nearest_node(table.point("at"))};
        if (table.has_quantity("plane", units::length)) {
            const Vector3d point = table.point("plane"), normal = table.direction("normal");
            std::vector<int> nodes;
            for (std::size_t n = 0; n < case_.mesh.node_m.size(); ++n)
                if (std::abs((case_.mesh.node_m[n] - point).dot(normal)) < 10 * merge_m_)
                    nodes.push_back(static_cast<int>(n));
            if (nodes.empty())
                table.problem("plane", "no node lies in this plane", "move it to where nodes are");
            return nodes;
        }
        const CasePanel& panel = panel_of(table);
        return table.has("side") ? panel.edge(side_of(table)) : panel.node;
    }

    void read_support(Table& table) {
        const std::string name = table.text("name", "");
        const std::vector<std::string> words{"x", "y", "z", "rx", "ry", "rz"};
        const std::vector<int> nodes = nodes_of(table);
        std::vector<int>& held = supports_[name];
        for (const std::string& word : table.texts("holds")) {
            const auto found = std::ranges::find(words, word);
            if (found == words.end()) {
                table.problem("holds", "\"" + word + "\" is no direction", "name x, y, z, rx, ry or rz");
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

    Vector3d vector_of(Table& table, std::string_view key, const units::Dimension& dimension) {
        const std::vector<double> v = table.quantities(key, dimension, {-1e15, 1e15}, 3);
        return v.size() == 3 ? Vector3d(v[0], v[1], v[2]) : Vector3d(Vector3d::Zero());
    }

    void read_loads() {
        Eigen::VectorXd& load = case_.loads.force;
        for (Table& table : root_.tables("point_load")) {
            const int node = nearest_node(table.point("at"));
            if (!table.has_quantity("force", force) && !table.has_quantity("moment", moment))
                table.problem("", "the load is empty", "add force_n or moment_nm");
            if (table.has_quantity("force", force))
                load.segment<3>(6 * node) += vector_of(table, "force", force);
            if (table.has_quantity("moment", moment))
                load.segment<3>(6 * node + 3) += vector_of(table, "moment", moment);
        }
        for (Table& table : root_.tables("edge_load")) {
            const std::vector<int> edge = panel_of(table).edge(side_of(table));
            const Vector3d per_length = vector_of(table, "force", line_force);
            for (std::size_t k = 0; k + 1 < edge.size(); ++k) {
                const double length = (case_.mesh.node_m[static_cast<std::size_t>(edge[k + 1])] -
                                       case_.mesh.node_m[static_cast<std::size_t>(edge[k])])
                                          .norm();
                for (const int node : {edge[k], edge[k + 1]})
                    load.segment<3>(6 * node) += 0.5 * length * per_length;
            }
        }
        for (Table& table : root_.tables("surface_load")) {
            const CasePanel& panel = panel_of(table);
            const bool normal = table.has_quantity("pressure", pressure);
            const double push = normal ? table.quantity("pressure", pressure, {-1e15, 1e15}) : 0;
            const Vector3d pull = normal ? Vector3d(Vector3d::Zero()) : vector_of(table, "traction", pressure);
            for (int e = panel.first_element; e < panel.first_element + panel.along * panel.across; ++e) {
                Corners corners;
                const auto& quad = case_.mesh.quad[static_cast<std::size_t>(e)];
                for (std::size_t k = 0; k < 4; ++k)
                    corners[k] = case_.mesh.node_m[static_cast<std::size_t>(quad[k])];
                const ShellElement element(corners, panel.thickness_m, case_.mesh.elastic);
                const Vector3d per_area = pull + push * element.axes().row(2).transpose();
                for (std::size_t k = 0; k < 4; ++k)
                    load.segment<3>(6 * quad[k]) += element.nodal_area_m2()[static_cast<int>(k)] * per_area;
            }
        }
        for (Table& table : root_.tables("thermal")) {
            case_.loads.free_strain.resize(case_.mesh.quad.size());
            const double change = table.quantity("change", difference, {-5000, 5000}, 0.0);
            const double through = table.quantity("top_minus_bottom", difference, {-5000, 5000}, 0.0);
            int first = 0, last = static_cast<int>(case_.mesh.quad.size());
            if (table.has("panel")) {
                const CasePanel& panel = panel_of(table);
                first = panel.first_element;
                last = first + panel.along * panel.across;
            }
            for (int e = first; e < last; ++e) {
                const auto k = static_cast<std::size_t>(e);
                const Resultants more = thermal_strain(expansion_per_k_, change, through, case_.mesh.thickness_m[k]);
                case_.loads.free_strain[k].membrane += more.membrane;
                case_.loads.free_strain[k].bending += more.bending;
            }
        }
    }

    void read_probe(Table& table) {
        ShellProbe probe;
        std::vector<std::string> names;
        for (const ShellProbe& other : case_.probes)
            names.push_back(other.name);
        probe.name = text::read_name(table, "probe", names);
        probe.kind = table.choice<ShellProbeKind>("kind", {{"displacement", ShellProbeKind::displacement},
                                                           {"reaction", ShellProbeKind::reaction},
                                                           {"stress", ShellProbeKind::stress}});
        if (probe.kind == ShellProbeKind::reaction) {
            const std::string support = table.text("support");
            if (const auto found = supports_.find(support); found != supports_.end())
                probe.unknowns = found->second;
            else
                table.problem("support", "there is no support \"" + support + "\"",
                              "give one of the supports this name");
        } else {
            const Vector3d place = table.point("at");
            probe.node = nearest_node(place);
            double best = std::numeric_limits<double>::infinity();
            for (std::size_t e = 0; e < case_.mesh.quad.size(); ++e) {
                Vector3d middle = Vector3d::Zero();
                for (const int node : case_.mesh.quad[e])
                    middle += 0.25 * case_.mesh.node_m[static_cast<std::size_t>(node)];
                if (const double d = (middle - place).norm(); d < best) {
                    best = d;
                    probe.element = static_cast<int>(e);
                }
            }
        }
        case_.probes.push_back(std::move(probe));
    }

    text::Document& document_;
    Table root_;
    ShellCase case_;
    double expansion_per_k_ = 0, merge_m_ = 0;
    std::vector<CasePanel> panels_;
    std::map<std::array<long long, 3>, int> known_;
    std::map<std::string, std::vector<int>> supports_;
};

} // namespace

ShellCase read_shell_case(text::Document& document) { return Reader(document).read(); }

} // namespace holdtrue::distortion
