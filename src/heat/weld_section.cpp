#include "heat/weld_section.h"

#include "heat/conduction.h"
#include "heat/pass_track.h"
#include "units/portable_math.h"

#include <Eigen/Geometry>

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

namespace holdtrue::heat {
namespace {

constexpr double reach_m = 0.1;                  // each way from the weld
constexpr double finest_m = 0.75e-3;             // largest cell at the weld
constexpr double even_m = 0.012;                 // cells are equal up to here
constexpr double growth = 1.15;                  // from there on each is longer than the last by this
constexpr double strip_width_m = 1e-3;           // any width: it cancels
constexpr double wedge = 0.1;                    // angle, of a plug [rad]; it cancels too
constexpr double enough_k = units::celsius(480); // below this nothing that is asked for changes
constexpr double at_most_s = 1200;

// Temperatures along one way from the weld.
struct Arm {
    std::vector<double> distance_m, temperature_k; // from 0
    double length_m() const { return distance_m.back(); }
    double temperature_at(double d) const {
        const auto next = std::ranges::lower_bound(distance_m, d);
        if (next == distance_m.begin())
            return temperature_k.front();
        if (next == distance_m.end())
            return temperature_k.back();
        const auto k = next - distance_m.begin();
        const double share = (d - distance_m[k - 1]) / (distance_m[k] - distance_m[k - 1]);
        return (1 - share) * temperature_k[k - 1] + share * temperature_k[k];
    }
};

// Walks from a place along the grid line nearest to `direction`, up to the rim, a hole or the reach.
Arm walk(const part::Mesh& mesh, int panel, const part::Attachment& place, const part::Point& direction,
         const std::vector<double>& temperature_k) {
    const part::PanelGrid& grid = mesh.panels[panel];
    Arm arm{{0.0}, {part::at(place, temperature_k)}};
    int cell_u = (place.cell - grid.first_cell) % grid.cells_u(),
        cell_v = (place.cell - grid.first_cell) / grid.cells_u();

    // The step over the cell, along u or v, that points best.
    const auto corner = [&](int k) { return mesh.position_m[mesh.cell_nodes[place.cell][k]]; };
    const part::Point along_u = (corner(1) - corner(0) + corner(2) - corner(3)).normalized();
    const part::Point along_v = (corner(3) - corner(0) + corner(2) - corner(1)).normalized();
    const double u = along_u.dot(direction), v = along_v.dot(direction);
    const int step_u = std::abs(u) >= std::abs(v) ? (u > 0 ? 1 : -1) : 0;
    const int step_v = step_u != 0 ? 0 : (v > 0 ? 1 : -1);

    // Mean of the two nodes on the far side of the present cell.
    part::Point last = place.position;
    for (;;) {
        if (grid.closed)
            cell_u = (cell_u + grid.cells_u()) % grid.cells_u();
        if (cell_u < 0 || cell_v < 0 || cell_u >= grid.cells_u() || cell_v >= grid.cells_v() ||
            !mesh.cell_alive[grid.cell(cell_u, cell_v)])
            break;
        const int i = cell_u + (step_u > 0 ? 1 : 0), j = cell_v + (step_v > 0 ? 1 : 0);
        const int near = grid.node(i, j);
        const int far = step_u != 0 ? grid.node(i, j + 1) : grid.node(i + 1, j);
        // Where on that side: as the place lies between its cell's two grid lines.
        const double share = step_u != 0 ? place.weight[2] + place.weight[3] : place.weight[1] + place.weight[2];
        const part::Point here = (1 - share) * mesh.position_m[near] + share * mesh.position_m[far];
        const double step_m = (here - last).norm();
        if (step_m > 1e-6) {
            arm.distance_m.push_back(arm.distance_m.back() + step_m);
            arm.temperature_k.push_back((1 - share) * temperature_k[near] + share * temperature_k[far]);
            last = here;
        }
        if (arm.distance_m.back() >= reach_m)
            break;
        cell_u += step_u;
        cell_v += step_v;
    }
    return arm;
}

// Distances of the cut's nodes from the weld, from 0 to the arm's length; empty if there is no arm.
std::vector<double> graded(double length_m, double element_m) {
    std::vector<double> at{0.0};
    if (length_m < 0.5 * element_m)
        return {};
    double step_m = element_m;
    while (at.back() < length_m) {
        if (at.back() >= even_m)
            step_m *= growth;
        at.push_back(at.back() + step_m);
    }
    const double shrink = length_m / at.back(); // so that the last one falls on the rim
    for (double& d : at)
        d *= shrink;
    return at;
}

// One panel's cut.
struct Cut {
    std::vector<double> y_m, start_k; // across the weld
    double thickness_m = 0, power_w = 0;
    std::size_t middle = 0; // index of y = 0
};

Cut cut_of(const std::array<Arm, 2>& arms, bool one_sided, double element_m) {
    Cut cut;
    if (!one_sided) {
        const std::vector<double> left = graded(arms[1].length_m(), element_m);
        for (std::size_t k = left.size(); k-- > 1;) {
            cut.y_m.push_back(-left[k]);
            cut.start_k.push_back(arms[1].temperature_at(left[k]));
        }
    }
    cut.middle = cut.y_m.size();
    cut.y_m.push_back(0);
    cut.start_k.push_back(arms[0].temperature_k.front());
    const std::vector<double> right = graded(arms[0].length_m(), element_m);
    for (std::size_t k = 1; k < right.size(); ++k) {
        cut.y_m.push_back(right[k]);
        cut.start_k.push_back(arms[0].temperature_at(right[k]));
    }
    if (cut.y_m.size() == 1) { // a panel narrower than a cell: at least one
        cut.y_m.push_back(element_m);
        cut.start_k.push_back(cut.start_k.front());
    }
    return cut;
}

part::Mesh strip_mesh(const std::vector<Cut>& cuts, bool plug) {
    part::Mesh mesh;
    for (std::size_t m = 0; m < cuts.size(); ++m) {
        part::PanelGrid grid;
        grid.first_node = mesh.node_count();
        grid.first_cell = mesh.cell_count();
        grid.nu = static_cast<int>(cuts[m].y_m.size());
        grid.nv = 2;
        grid.thickness_m = cuts[m].thickness_m;
        for (const double side : {-0.5, 0.5})
            for (const double y : cuts[m].y_m)
                mesh.position_m.emplace_back(y, side * (plug ? wedge * std::max(y, 1e-4) : strip_width_m), 0);
        for (int i = 0; i + 1 < grid.nu; ++i)
            mesh.cell_nodes.push_back({grid.node(i, 0), grid.node(i + 1, 0), grid.node(i + 1, 1), grid.node(i, 1)});
        mesh.panels.push_back(grid);
        mesh.panel_of_node.resize(mesh.position_m.size(), static_cast<int>(m));
    }
    mesh.normal.assign(mesh.position_m.size(), {0, 0, 1});
    mesh.cell_alive.assign(mesh.cell_nodes.size(), 1);
    mesh.node_alive.assign(mesh.position_m.size(), 1);
    return mesh;
}

// Length of a cut on which `peak_k` is above a limit, linear between nodes.
double width_above(const std::vector<double>& y_m, const double* peak_k, double limit_k) {
    double width = 0;
    for (std::size_t k = 0; k + 1 < y_m.size(); ++k) {
        const double a = peak_k[k] - limit_k, b = peak_k[k + 1] - limit_k, length = y_m[k + 1] - y_m[k];
        if (a > 0 && b > 0)
            width += length;
        else if (a > 0 || b > 0)
            width += length * std::max(a, b) / (std::abs(a) + std::abs(b));
    }
    return width;
}

// Time at which a cooling curve last fell through a level, or -1.
struct Crossing {
    double level_k;
    double last_k = 0, time_s = -1;
    void note(double from_s, double to_s, double temperature_k) {
        if (last_k >= level_k && temperature_k < level_k)
            time_s = from_s + (to_s - from_s) * (last_k - level_k) / (last_k - temperature_k);
        last_k = temperature_k;
    }
};

} // namespace

SectionFigures weld_section(const WeldHeat& heat, const Arc& arc) {
    const part::Part& part = heat.part();
    const part::Mesh& mesh = heat.mesh();
    const part::Pass& pass = part.passes[arc.pass];
    const part::Joint& joint = part.joints[pass.joint];
    const bool plug = pass.kind == part::PassKind::plug;
    const double middle_m = plug ? pass.from_m : 0.5 * (pass.from_m + pass.to_m);
    const part::Point middle = part::path_point(joint, middle_m), tangent = part::path_tangent(joint, middle_m);

    SectionFigures figures;
    figures.element_m = std::min(finest_m, arc.sigma_m / 3);

    // Cut the panels; a bead on one panel is one cut.
    std::vector<Cut> cuts;
    for (const int panel : {joint.panel_a, joint.panel_b}) {
        const double power_w =
            arc.net_power_w * (panel == joint.panel_a && cuts.empty() ? arc.share_a : 1 - arc.share_a);
        if (!cuts.empty() && joint.panel_a == joint.panel_b) {
            cuts.front().power_w += power_w;
            break;
        }
        const part::Attachment place = attach(mesh, panel, middle);
        const part::Point across = mesh.normal[place.node[0]].cross(tangent);
        const std::array<Arm, 2> arms{walk(mesh, panel, place, across, heat.temperature_k()),
                                      walk(mesh, panel, place, -across, heat.temperature_k())};
        const std::size_t longer = arms[0].length_m() >= arms[1].length_m() ? 0 : 1;
        cuts.push_back(cut_of({arms[longer], arms[1 - longer]}, plug, figures.element_m));
        cuts.back().thickness_m = mesh.panels[panel].thickness_m;
        cuts.back().power_w = power_w;
    }

    auto strip = std::make_shared<const part::Mesh>(strip_mesh(cuts, plug));
    const Surroundings& s = heat.surroundings();
    const SurfaceLaw air{s.ambient_k, s.convection_w_per_m2k, s.emissivity, 0};
    Conduction conduction(strip, heat.material(), std::vector<FaceLaws>(cuts.size(), {air, air}), s.ambient_k);
    std::vector<NodePower> shape; // for an arc of 1 W (plug) or 1 W/m (run) on the strip
    for (std::size_t m = 0; m < cuts.size(); ++m) {
        const part::PanelGrid& grid = strip->panels[m];
        const std::size_t first = shape.size();
        double sum = 0;
        for (int node = grid.first_node; node < grid.first_node + 2 * grid.nu; ++node) {
            const std::size_t k = (node - grid.first_node) % grid.nu;
            conduction.set_temperature(node, cuts[m].start_k[k]);
            const double r = cuts[m].y_m[k] / arc.sigma_m;
            const double w =
                conduction.grid().volume_m3[conduction.grid().slot_of_node[node]] * units::exp_minus(0.5 * r * r);
            shape.push_back({node, w});
            sum += w;
        }
        const double share = plug ? wedge / (2 * std::numbers::pi) : strip_width_m;
        for (std::size_t k = first; k < shape.size(); ++k)
            shape[k].power_w *= cuts[m].power_w * share / sum;
    }
    std::vector<Bridge> bead;
    if (cuts.size() == 2) {
        const double conductance_m = plug ? bridge_conductance_m(part, mesh, arc.pass) * wedge / (2 * std::numbers::pi)
                                          : bridge_conductance_per_m(joint) * strip_width_m;
        for (const int side : {0, 1}) {
            const int a = strip->panels[0].node(static_cast<int>(cuts[0].middle), side),
                      b = strip->panels[1].node(static_cast<int>(cuts[1].middle), side);
            bead.push_back({{a, a, a, a}, {b, b, b, b}, {1, 0, 0, 0}, {1, 0, 0, 0}, conductance_m / 2});
        }
    }

    // The arc comes from `before_s` ahead of the section, or rests on the plug.
    const double pass_s = plug ? arc.plug_s / 2 : arc.sigma_m / arc.travel_m_per_s;
    const double before_s = plug ? arc.plug_s / 2 : 4 * pass_s;
    const double arc_step_s = plug ? arc.plug_s / 24 : pass_s / 6;
    std::vector<Crossing> at_800(cuts.size(), Crossing{units::celsius(800)}),
        at_500(cuts.size(), Crossing{units::celsius(500)});
    double t = -before_s;
    while (t < at_most_s) {
        const bool burning = t < before_s - 1e-9;
        const double step_s = burning ? std::min(arc_step_s, before_s - t) : std::max(arc_step_s, 0.05 * t);
        if (burning) {
            const double z = plug ? 0 : (t + 0.5 * step_s) / pass_s;
            const double intensity =
                plug ? 1.0 : units::exp_minus(0.5 * z * z) / (arc.sigma_m * std::sqrt(2 * std::numbers::pi));
            std::vector<NodePower> powers = shape;
            for (NodePower& power : powers)
                power.power_w *= intensity;
            conduction.set_sources(std::move(powers));
        } else {
            conduction.set_sources({});
        }
        if (!bead.empty() && t + step_s > (plug ? before_s - 1e-9 : 0)) {
            conduction.add_bridges(bead);
            bead.clear();
        }
        conduction.advance(step_s);
        for (std::size_t m = 0; m < cuts.size(); ++m) {
            const double now_k = conduction.temperature_k(strip->panels[m].node(static_cast<int>(cuts[m].middle), 0));
            at_800[m].note(t, t + step_s, now_k);
            at_500[m].note(t, t + step_s, now_k);
        }
        t += step_s;
        if (!burning && conduction.hottest_k() < enough_k)
            break;
    }

    std::vector<double> peak_k;
    conduction.peaks_k(peak_k);
    double hottest = 0;
    for (std::size_t m = 0; m < cuts.size(); ++m) {
        const double* const row = &peak_k[strip->panels[m].first_node];
        const double sides = plug ? 2 : 1;
        figures.width_500_m += sides * width_above(cuts[m].y_m, row, units::celsius(500));
        figures.width_800_m += sides * width_above(cuts[m].y_m, row, units::celsius(800));
        if (row[cuts[m].middle] > hottest) {
            hottest = row[cuts[m].middle];
            figures.t85_s =
                at_800[m].time_s >= 0 && at_500[m].time_s > at_800[m].time_s ? at_500[m].time_s - at_800[m].time_s : 0;
        }
    }
    return figures;
}

} // namespace holdtrue::heat
