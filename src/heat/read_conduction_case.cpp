#include "heat/conduction_case.h"
#include "part/part_tables.h"
#include "text/names.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace holdtrue::heat {
namespace {

using text::Table;
using units::mm;
using units::Unit;

// Heat's own units; the trade has no others.
constexpr std::array kelvin_too{Unit{"c", 1, units::zero_celsius_k, "°C"}, Unit{"k", 1, 0, "K"},
                                Unit{"f", 5.0 / 9.0, units::zero_celsius_k - 32.0 * 5.0 / 9.0, "°F"}};
constexpr units::Dimension temperature{"temperature", kelvin_too};
constexpr std::array conductivity_units{Unit{"w_per_mk", 1, 0, "W/mK"}};
constexpr units::Dimension conductivity{"conductivity", conductivity_units};
constexpr std::array density_units{Unit{"kg_per_m3", 1, 0, "kg/m³"}};
constexpr units::Dimension density{"density", density_units};
constexpr std::array specific_heat_units{Unit{"j_per_kgk", 1, 0, "J/kgK"}};
constexpr units::Dimension specific_heat{"specific heat", specific_heat_units};
constexpr std::array latent_units{Unit{"kj_per_kg", 1e3, 0, "kJ/kg"}};
constexpr units::Dimension latent{"latent heat", latent_units};
constexpr std::array flux_units{Unit{"w_per_m2", 1, 0, "W/m²"}};
constexpr units::Dimension flux{"heat flux", flux_units};
constexpr std::array convection_units{Unit{"w_per_m2k", 1, 0, "W/m²K"}};
constexpr units::Dimension convection{"heat transfer coefficient", convection_units};
constexpr std::array power_units{Unit{"w_per_m3", 1, 0, "W/m³"}};
constexpr units::Dimension power{"heat per volume", power_units};

constexpr text::Range sensible_k{100, 3300}; // the range of the solver's table

material::ThermalMaterial read_material(Table& root) {
    std::optional<Table> table = root.table("material");
    if (!table) {
        if (!root.has("material"))
            root.problem("", text::in_english("the case has no [material]"),
                         text::in_english("add [material] with kind = \"steel\" or \"constant\""));
        return material::ThermalMaterial::steel();
    }
    if (table->choice<int>("kind", {{"steel", 0}, {"constant", 1}}) == 0)
        return material::ThermalMaterial::steel();
    material::ConstantProperties p;
    p.conductivity_w_per_mk = table->quantity("conductivity", conductivity, {1e-3, 1e4});
    p.density_kg_per_m3 = table->quantity("density", density, {1, 1e5});
    p.specific_heat_j_per_kgk = table->quantity("specific_heat", specific_heat, {1, 1e5});
    p.latent_heat_j_per_kg = table->quantity("latent_heat", latent, {0, 1e7}, 0.0);
    if (p.latent_heat_j_per_kg > 0) {
        p.solidus_k = table->quantity("solidus", temperature, sensible_k);
        p.liquidus_k = table->quantity("liquidus", temperature, sensible_k);
        if (p.liquidus_k < p.solidus_k + 1) {
            table->problem("liquidus", text::in_english("the melting range is narrower than 1 K"),
                           text::in_english(
                               "put the liquidus at least 1 K above the solidus; 4 K stand for a sharp melting point"));
            p.liquidus_k = p.solidus_k + 1;
        }
    }
    return material::ThermalMaterial::constant(p);
}

int read_panel_name(Table& table, const part::Part& part) {
    const std::string name = table.text("panel");
    const int panel = part::find_panel(part, name);
    if (panel < 0 && table.has("panel")) {
        const std::string near = text::nearest(name, part::names_of(part.panels));
        table.problem(
            "panel", text::in_english("there is no panel \"" + name + "\""),
            text::in_english(near.empty() ? "name one of the case's panels" : "did you mean \"" + near + "\"?"));
    }
    return std::max(panel, 0);
}

// flux, convection and emissivity, any of them together.
SurfaceLaw read_law(Table& table) {
    SurfaceLaw law;
    law.inflow_w_per_m2 = table.quantity("flux", flux, {-1e9, 1e9}, 0.0);
    law.convection_w_per_m2k = table.quantity("convection", convection, {0, 1e6}, 0.0);
    law.emissivity = table.number("emissivity", {0, 1}, 0.0);
    const std::optional<double> surroundings = table.optional_quantity("surroundings", temperature, {0, 3300});
    if (surroundings)
        law.surroundings_k = *surroundings;
    else if (law.convection_w_per_m2k > 0 || law.emissivity > 0)
        table.problem("", text::in_english("convection and radiation need surroundings"),
                      text::in_english("add surroundings_c"));
    return law;
}

bool has_law(const Table& table) {
    return table.has_quantity("flux", flux) || table.has_quantity("convection", convection) || table.has("emissivity");
}

std::optional<TemperatureHistory> read_temperature(Table& table) {
    TemperatureHistory history;
    int ways = 0;
    if (const std::optional<double> fixed = table.optional_quantity("temperature", temperature, sensible_k)) {
        ++ways;
        history.time_s = {0};
        history.temperature_k = {*fixed};
    }
    if (std::optional<Table> points = table.table("history")) {
        ++ways;
        history.time_s = points->quantities("time", units::time, {0, 1e9});
        history.temperature_k = points->quantities("temperature", temperature, sensible_k);
        if (history.time_s.size() != history.temperature_k.size())
            points->problem("",
                            text::in_english("history has " + std::to_string(history.time_s.size()) + " times and " +
                                             std::to_string(history.temperature_k.size()) + " temperatures"),
                            text::in_english("give as many of one as of the other"));
        if (std::ranges::adjacent_find(history.time_s, std::greater_equal<>{}) != history.time_s.end())
            points->problem("time", text::in_english("the times of a history do not increase"),
                            text::in_english("put them in order, none twice"));
    }
    if (std::optional<Table> sine = table.table("sine")) {
        ++ways;
        history.time_s = {0};
        history.temperature_k = {sine->quantity("mean", temperature, sensible_k)};
        history.amplitude_k = sine->quantity("amplitude", units::temperature_difference, {0, 2000});
        history.period_s = sine->quantity("period", units::time, {1e-3, 1e9});
    }
    if (ways > 1)
        table.problem("", text::in_english("the edge's temperature is given in more than one way"),
                      text::in_english("keep one of temperature_c, history and sine"));
    return ways == 1 ? std::optional(history) : std::nullopt;
}

EdgeCondition read_edge(Table& table, const part::Part& part) {
    EdgeCondition edge;
    edge.panel = read_panel_name(table, part);
    edge.side = table.choice<EdgeSide>(
        "side", {{"a", EdgeSide::a}, {"b", EdgeSide::b}, {"start", EdgeSide::start}, {"end", EdgeSide::end}});
    if (!part.panels.empty() && part.panels[edge.panel].closed &&
        (edge.side == EdgeSide::start || edge.side == EdgeSide::end))
        table.problem("side", text::in_english("a closed panel has no start and no end"),
                      text::in_english("write a or b"));
    edge.temperature = read_temperature(table);
    edge.law = read_law(table);
    if (edge.temperature && has_law(table))
        table.problem("",
                      text::in_english("an edge of fixed temperature has no flux, convection or radiation of its own"),
                      text::in_english("keep either the temperature or the others"));
    if (!edge.temperature && !has_law(table) && !table.has("history") && !table.has("sine"))
        table.problem(
            "", text::in_english("the edge has no condition"),
            text::in_english("add temperature_c, [edge.history], [edge.sine], flux_w_per_m2, convection_w_per_m2k or "
                             "emissivity; an insulated edge needs no [[edge]]"));
    return edge;
}

void read_time(Table& root, ConductionCase& result) {
    std::optional<Table> table = root.table("time");
    if (!table) {
        if (!root.has("time"))
            root.problem("", text::in_english("the case has no [time]"),
                         text::in_english("add [time] with end_s, or with steady = true"));
        return;
    }
    result.steady = table->flag("steady", false);
    if (result.steady)
        return;
    result.end_s = table->quantity("end", units::time, {1e-6, 1e9});
    result.step_s = table->quantity("step", units::time, {1e-9, 1e9}, 0.0);
    if (result.step_s > 0 && result.end_s / result.step_s > 1e6)
        table->problem("step", text::in_english("the case would take more than a million steps"),
                       text::in_english("raise step_s or leave it out"));
    if (table->has_quantity("print", units::time))
        result.print_s = table->quantities("print", units::time, {0, result.end_s});
    if (std::ranges::adjacent_find(result.print_s, std::greater_equal<>{}) != result.print_s.end())
        table->problem("print", text::in_english("the times to print do not increase"),
                       text::in_english("put them in order, none twice"));
    if (result.print_s.empty() || result.print_s.back() < result.end_s)
        result.print_s.push_back(result.end_s);
}

// So that no file can ask for days of work: nodes times stages, from the explicit step of a square cell.
void check_work(const Table& root, const ConductionCase& result) {
    const double element_m = result.part.element_m;
    const double capacity =
        result.material.enthalpy_j_per_m3(result.initial_k + 1) - result.material.enthalpy_j_per_m3(result.initial_k);
    const double explicit_s =
        element_m * element_m * capacity / (4 * result.material.conductivity_w_per_mk(result.initial_k));
    const double steps = result.step_s > 0 ? result.end_s / result.step_s : 400;
    const double stages = std::max(3.0, 2 * std::sqrt(result.end_s / steps / explicit_s));
    const part::Mesh mesh = part::build_mesh(result.part);
    constexpr double most = 3e10; // about two minutes
    if (steps * stages * mesh.node_count() > most)
        root.problem("time",
                     text::in_english("the case would take some " +
                                      std::to_string(static_cast<long long>(steps * stages)) + " stages on " +
                                      std::to_string(mesh.node_count()) + " nodes"),
                     text::in_english("raise element_mm or step_s, or end earlier"));
}

// A steady state needs somewhere for the heat of each panel to go.
void check_steady(const Table& root, const ConductionCase& result) {
    const auto takes = [](const SurfaceLaw& law) { return law.convection_w_per_m2k > 0 || law.emissivity > 0; };
    for (std::size_t p = 0; p < result.part.panels.size(); ++p) {
        const auto here = [&](const auto& condition) { return condition.panel == static_cast<int>(p); };
        const bool held =
            std::ranges::any_of(
                result.edges,
                [&](const EdgeCondition& edge) { return here(edge) && (edge.temperature || takes(edge.law)); }) ||
            std::ranges::any_of(result.faces, [&](const FaceCondition& face) { return here(face) && takes(face.law); });
        if (!held)
            root.problem(
                "time", text::in_english("panel " + result.part.panels[p].name + " has no steady state"),
                text::in_english("give it a fixed temperature, convection or radiation somewhere, or an end_s"));
    }
    for (const EdgeCondition& edge : result.edges)
        if (edge.temperature && (edge.temperature->time_s.size() > 1 || edge.temperature->period_s > 0))
            root.problem("time",
                         text::in_english("an edge's temperature changes with time, so there is no steady state"),
                         text::in_english("give an end_s instead of steady = true"));
}

} // namespace

ConductionCase read_conduction_case(text::Document& document) {
    Table root = document.root();
    ConductionCase result;
    result.title = root.text("title", "");
    result.part.element_m = root.quantity("element", units::length, {0.05 * mm, 1}, 10 * mm);
    result.initial_k = root.quantity("initial", temperature, sensible_k, units::celsius(20));
    result.material = read_material(root);

    std::vector<Table> panels = root.tables("panel");
    if (panels.empty() && !root.has("panel"))
        root.problem("", text::in_english("the case has no panel"),
                     text::in_english("add [[panel]] with name, kind, thickness_mm and its shape"));
    for (Table& table : panels)
        result.part.panels.push_back(part::read_panel(table, result.part, {}));
    for (Table& table : root.tables("edge"))
        result.edges.push_back(read_edge(table, result.part));
    for (Table& table : root.tables("face")) {
        FaceCondition face;
        face.panel = read_panel_name(table, result.part);
        face.side = table.choice<FaceSide>(
            "side", {{"both", FaceSide::both}, {"up", FaceSide::up}, {"down", FaceSide::down}}, FaceSide::both);
        face.law = read_law(table);
        if (!has_law(table))
            table.problem(
                "", text::in_english("the face has no condition"),
                text::in_english(
                    "add flux_w_per_m2, convection_w_per_m2k or emissivity; an insulated face needs no [[face]]"));
        result.faces.push_back(face);
    }
    for (Table& table : root.tables("source")) {
        InternalHeat heat;
        heat.panel = read_panel_name(table, result.part);
        heat.power_w_per_m3 = table.quantity("power", power, {-1e12, 1e12});
        result.heats.push_back(heat);
    }
    std::vector<Table> probes = root.tables("probe");
    if (probes.empty() && !root.has("probe"))
        root.problem("", text::in_english("the case has no probe"),
                     text::in_english("add [[probe]] with name, panel and at_mm, for what is printed"));
    for (Table& table : probes) {
        Probe probe;
        probe.name = text::read_name(table, text::worded("probe"), part::names_of(result.probes));
        probe.panel = read_panel_name(table, result.part);
        probe.at = table.point("at");
        result.probes.push_back(probe);
    }
    read_time(root, result);

    // What only makes sense of tables that are right in themselves.
    if (document.problem_count() == 0) {
        for (std::size_t p = 0; p < panels.size(); ++p)
            part::check_panel(panels[p], result.part, result.part.panels[p]);
        for (std::size_t k = 0; k < probes.size(); ++k)
            part::check_on_panel(probes[k], "at", result.part.panels[result.probes[k].panel], result.probes[k].at);
        if (result.steady)
            check_steady(root, result);
        else if (document.problem_count() == 0)
            check_work(root, result);
    }
    document.finish();
    return result;
}

} // namespace holdtrue::heat
