#include "distortion/case_loads.h"

#include <Eigen/Geometry>

#include <array>

namespace holdtrue::distortion {
namespace {

using Eigen::Vector3d;
using text::Table;
using units::Unit;

constexpr std::array force_units{Unit{"n", 1, 0, "N"}};
constexpr units::Dimension force{"force", force_units};
constexpr std::array moment_units{Unit{"nm", 1, 0, "N m"}};
constexpr units::Dimension moment{"moment", moment_units};
constexpr std::array line_units{Unit{"n_per_m", 1, 0, "N/m"}};
constexpr units::Dimension line_force{"force per length", line_units};
constexpr std::array line_moment_units{Unit{"nm_per_m", 1, 0, "N m/m"}};
constexpr units::Dimension line_moment{"moment per length", line_moment_units};
constexpr std::array pressure_units{Unit{"pa", 1, 0, "Pa"}, Unit{"mpa", 1e6, 0, "MPa"}};
constexpr units::Dimension pressure{"pressure", pressure_units};

constexpr text::Range any_load{-1e15, 1e15};

Vector3d vector_of(Table& table, std::string_view key, const units::Dimension& dimension) {
    const std::vector<double> v = table.quantities(key, dimension, any_load, 3);
    return v.size() == 3 ? Vector3d(v[0], v[1], v[2]) : Vector3d(Vector3d::Zero());
}

Vector3d middle_of(const CasePlaces& places, int element) {
    const Corners c = places.corners_of(element);
    return 0.25 * (c[0] + c[1] + c[2] + c[3]);
}

} // namespace

void read_point_load(Table& table, const CasePlaces& places, ShellCase& into) {
    const int node = places.node_at(table);
    if (!table.has_quantity("force", force) && !table.has_quantity("moment", moment))
        table.problem("", text::in_english("the load is empty"), text::in_english("add force_n or moment_nm"));
    if (table.has_quantity("force", force))
        into.loads.force.segment<3>(6 * node) += vector_of(table, "force", force);
    if (table.has_quantity("moment", moment))
        into.loads.force.segment<3>(6 * node + 3) += vector_of(table, "moment", moment);
}

void read_edge_load(Table& table, const CasePlaces& places, ShellCase& into) {
    const std::vector<const CasePanel*> panels = places.panels_of(table, true);
    const CaseSide side = places.side_of(table);
    const bool pushes = table.has_quantity("force", line_force), turns = table.has_quantity("moment", line_moment),
               pulls = table.has_quantity("outward", line_force);
    if (!pushes && !turns && !pulls)
        table.problem("", text::in_english("the load is empty"),
                      text::in_english("add force_n_per_m, moment_nm_per_m or outward_n_per_m"));
    const Vector3d force_n_per_m = pushes ? vector_of(table, "force", line_force) : Vector3d(Vector3d::Zero());
    const Vector3d moment_n = turns ? vector_of(table, "moment", line_moment) : Vector3d(Vector3d::Zero());
    const double outward_n_per_m = table.quantity("outward", line_force, any_load, 0.0);
    for (const CasePanel* panel : panels) {
        const std::vector<int> nodes = panel->edge(side), elements = panel->edge_elements(side);
        for (std::size_t k = 0; k < elements.size(); ++k) {
            const Vector3d along = places.node_m(nodes[k + 1]) - places.node_m(nodes[k]);
            const double length_m = along.norm();
            if (!(length_m > 0))
                continue; // a pole
            // In the sheet, square to the edge, away from the element.
            Vector3d outward =
                0.5 * (places.node_m(nodes[k]) + places.node_m(nodes[k + 1])) - middle_of(places, elements[k]);
            outward -= outward.dot(along) / (length_m * length_m) * along;
            const Vector3d pull = force_n_per_m + outward_n_per_m * outward.normalized();
            for (const int node : {nodes[k], nodes[k + 1]}) {
                into.loads.force.segment<3>(6 * node) += 0.5 * length_m * pull;
                into.loads.force.segment<3>(6 * node + 3) += 0.5 * length_m * moment_n;
            }
        }
    }
}

void read_surface_load(Table& table, const CasePlaces& places, ShellCase& into) {
    const bool normal = table.has_quantity("pressure", pressure);
    const double push = normal ? table.quantity("pressure", pressure, any_load) : 0;
    const Vector3d pull = normal ? Vector3d(Vector3d::Zero()) : vector_of(table, "traction", pressure);
    for (const CasePanel* panel : places.panels_of(table, false))
        for (int e = panel->first_element; e < panel->first_element + panel->element_count(); ++e) {
            const auto& quad = into.mesh.quad[static_cast<std::size_t>(e)];
            const ShellElement element(places.corners_of(e), into.mesh.thickness_m[static_cast<std::size_t>(e)],
                                       into.mesh.elastic);
            const Vector3d per_area = pull + push * element.axes().row(2).transpose();
            for (std::size_t k = 0; k < 4; ++k)
                into.loads.force.segment<3>(6 * quad[k]) += element.nodal_area_m2()[static_cast<int>(k)] * per_area;
        }
}

void read_thermal_load(Table& table, const CasePlaces& places, std::optional<double> expansion_per_k, ShellCase& into) {
    into.loads.free_strain.resize(into.mesh.quad.size());
    if (!table.has_quantity("change", units::temperature_difference) &&
        !table.has_quantity("top_minus_bottom", units::temperature_difference))
        table.problem("", text::in_english("the load is empty"),
                      text::in_english("add change_k or top_minus_bottom_k"));
    const double change = table.quantity("change", units::temperature_difference, {-5000, 5000}, 0.0);
    const double through = table.quantity("top_minus_bottom", units::temperature_difference, {-5000, 5000}, 0.0);
    if (!expansion_per_k) {
        table.problem("", text::in_english("the material has no expansion, so that a temperature does nothing"),
                      text::in_english("add expansion_per_k to [material]"));
        return;
    }
    for (const CasePanel* panel : places.panels_of(table, false))
        for (int e = panel->first_element; e < panel->first_element + panel->element_count(); ++e) {
            const auto k = static_cast<std::size_t>(e);
            const Resultants more = thermal_strain(*expansion_per_k, change, through, into.mesh.thickness_m[k]);
            into.loads.free_strain[k].membrane += more.membrane;
            into.loads.free_strain[k].bending += more.bending;
        }
}

} // namespace holdtrue::distortion
