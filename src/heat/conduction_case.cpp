#include "heat/conduction_case.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace holdtrue::heat {
namespace {

constexpr double step_growth = 0.02;      // of the time since something last changed at once
constexpr double steps_per_span = 200;    // at least, between two changes
constexpr double steps_per_period = 80;   // at least
constexpr double steady_growth = 0.05;    // of the time gone
constexpr double steady_within_k = 1e-6;  // change while the time gone doubles
constexpr double steady_ratio_most = 4e7; // of step to explicit step: 13 000 stages

// Node columns or rows of an edge, in order.
std::vector<int> edge_nodes(const part::PanelGrid& grid, EdgeSide side) {
    std::vector<int> nodes;
    if (side == EdgeSide::a || side == EdgeSide::b) {
        for (int i = 0; i < grid.nu; ++i)
            nodes.push_back(grid.node(i, side == EdgeSide::a ? 0 : grid.nv - 1));
        if (grid.closed)
            nodes.push_back(nodes.front());
    } else {
        for (int j = 0; j < grid.nv; ++j)
            nodes.push_back(grid.node(side == EdgeSide::start ? 0 : grid.nu - 1, j));
    }
    return nodes;
}

std::vector<FaceLaws> face_laws(const ConductionCase& c) {
    std::vector<FaceLaws> laws(c.part.panels.size());
    for (const FaceCondition& face : c.faces)
        for (const std::size_t side : {0u, 1u})
            if (face.side == FaceSide::both || (face.side == FaceSide::up) == (side == 0))
                laws[face.panel][side] = face.law;
    return laws;
}

void set_conditions(const ConductionCase& c, const part::Mesh& mesh, Conduction& heat) {
    std::vector<SurfacePatch> patches;
    std::vector<std::uint8_t> held(mesh.node_count(), 0);
    for (const EdgeCondition& edge : c.edges) {
        const part::PanelGrid& grid = mesh.panels[edge.panel];
        const std::vector<int> nodes = edge_nodes(grid, edge.side);
        if (edge.temperature) {
            const auto history = std::make_shared<const std::function<double(double)>>(
                [h = *edge.temperature](double time_s) { return h.at(time_s); });
            for (const int node : nodes) // a corner of two such edges belongs to the first
                if (!std::exchange(held[node], 1))
                    heat.prescribe(node, history);
            continue;
        }
        const int law = heat.add_law(edge.law);
        for (std::size_t k = 0; k + 1 < nodes.size(); ++k) {
            const double area_m2 =
                grid.thickness_m * (mesh.position_m[nodes[k + 1]] - mesh.position_m[nodes[k]]).norm();
            patches.push_back({nodes[k], area_m2 / 2, law, Account::air});
            patches.push_back({nodes[k + 1], area_m2 / 2, law, Account::air});
        }
    }
    heat.set_patches(std::move(patches));

    std::vector<NodePower> sources;
    for (const InternalHeat& internal : c.heats) {
        const part::PanelGrid& grid = mesh.panels[internal.panel];
        for (int node = grid.first_node; node < grid.first_node + grid.nu * grid.nv; ++node)
            if (mesh.node_alive[node])
                sources.push_back(
                    {node, internal.power_w_per_m3 * heat.grid().volume_m3[heat.grid().slot_of_node[node]]});
    }
    heat.set_sources(std::move(sources));
}

// Times at which a prescribed temperature has a corner.
std::vector<double> change_times(const ConductionCase& c) {
    std::vector<double> times;
    for (const EdgeCondition& edge : c.edges)
        if (edge.temperature)
            times.insert(times.end(), edge.temperature->time_s.begin(), edge.temperature->time_s.end());
    std::ranges::sort(times);
    return times;
}

// Advances to a time: in equal steps of at most step_s, or in steps that grow with the time since the last change.
void run_until(const ConductionCase& c, Conduction& heat, double time_s, const std::vector<double>& changes) {
    double longest_s = c.end_s / steps_per_span;
    for (const EdgeCondition& edge : c.edges)
        if (edge.temperature && edge.temperature->period_s > 0)
            longest_s = std::min(longest_s, edge.temperature->period_s / steps_per_period);
    if (c.step_s > 0) {
        const double span_s = time_s - heat.time_s();
        const int steps = std::max(1, static_cast<int>(std::ceil(span_s / c.step_s - 1e-9)));
        for (int k = 0; k < steps; ++k)
            heat.advance(span_s / steps);
        return;
    }
    while (time_s - heat.time_s() > 1e-12 * time_s) {
        const double now_s = heat.time_s();
        double last_s = 0, next_s = time_s; // changes about now
        for (const double change_s : changes) {
            if (change_s <= now_s * (1 + 1e-12))
                last_s = std::max(last_s, change_s);
            else
                next_s = std::min(next_s, change_s);
        }
        double step_s = std::max(step_growth * (now_s - last_s), heat.explicit_step_s());
        step_s = std::min(step_s, longest_s);
        const double left_s = next_s - now_s;
        heat.advance(left_s < 1.5 * step_s ? left_s : step_s);
    }
}

bool run_until_steady(Conduction& heat, int node_count) {
    std::vector<double> before, now;
    double doubled_s = 10 * heat.explicit_step_s();
    for (;;) {
        heat.temperatures_k(before);
        while (heat.time_s() < doubled_s) {
            const double step_s = std::max(heat.explicit_step_s(), steady_growth * heat.time_s());
            if (step_s > steady_ratio_most * heat.explicit_step_s())
                return false;
            heat.advance(step_s);
        }
        doubled_s = 2 * heat.time_s();
        heat.temperatures_k(now);
        double change_k = 0;
        for (int node = 0; node < node_count; ++node)
            change_k = std::max(change_k, std::abs(now[node] - before[node]));
        // At first nothing may have reached the inside yet; a thousand explicit steps cross a thirty-cell panel.
        if (change_k < steady_within_k && heat.time_s() > 1e4 * heat.explicit_step_s())
            return true;
    }
}

} // namespace

double TemperatureHistory::at(double t) const {
    double value = temperature_k.front();
    for (std::size_t k = 0; k + 1 < time_s.size(); ++k)
        if (t > time_s[k]) {
            const double share = std::min(1.0, (t - time_s[k]) / (time_s[k + 1] - time_s[k]));
            value = (1 - share) * temperature_k[k] + share * temperature_k[k + 1];
        }
    if (period_s > 0)
        value += amplitude_k * std::sin(2 * std::numbers::pi * t / period_s);
    return value;
}

ConductionResult solve(const ConductionCase& c) {
    ConductionResult result;
    result.mesh = std::make_shared<const part::Mesh>(part::build_mesh(c.part));
    Conduction heat(result.mesh, c.material, face_laws(c), c.initial_k);
    set_conditions(c, *result.mesh, heat);

    std::vector<part::Attachment> places;
    for (const Probe& probe : c.probes)
        places.push_back(attach(*result.mesh, probe.panel, probe.at));
    const auto note = [&] {
        heat.temperatures_k(result.temperature_k);
        result.time_s.push_back(heat.time_s());
        std::vector<double> row;
        for (const part::Attachment& place : places)
            row.push_back(part::at(place, result.temperature_k));
        result.probe_k.push_back(std::move(row));
    };
    if (c.steady) {
        result.finished = run_until_steady(heat, result.mesh->node_count());
        note();
    } else {
        const std::vector<double> changes = change_times(c);
        for (const double time_s : c.print_s) {
            if (time_s > heat.time_s())
                run_until(c, heat, time_s, changes);
            note();
        }
    }
    result.accounts = heat.accounts();
    result.steps = heat.steps();
    result.explicit_step_s = heat.explicit_step_s();
    return result;
}

} // namespace holdtrue::heat
