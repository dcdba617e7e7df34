// A plain conduction case: panels that do not touch, with conditions on their edges and faces, solved by
// heat/conduction.h. For running published benchmarks through the solver that the welding runs on. lessons/AUTHORING.md
// has the file's format, tests/cases examples.
#pragma once

#include "heat/conduction.h"
#include "part/part.h"
#include "text/toml_reader.h"

#include <optional>
#include <string>
#include <vector>

namespace holdtrue::heat {

// profile_a, profile_b, and the rulings through the first and the last profile point (open panels).
enum class EdgeSide { a, b, start, end };
enum class FaceSide { both, up, down }; // up: where the panel's normal points

// Temperature against time: linear between the points and constant before and after; plus a sine.
struct TemperatureHistory {
    std::vector<double> time_s, temperature_k; // equal counts, at least one, times increasing
    double amplitude_k = 0, period_s = 0;      // period 0: no sine
    double at(double time_s) const;
};

struct EdgeCondition {
    int panel = 0;
    EdgeSide side = EdgeSide::a;
    std::optional<TemperatureHistory> temperature; // if not, the law
    SurfaceLaw law;
};

struct FaceCondition {
    int panel = 0;
    FaceSide side = FaceSide::both;
    SurfaceLaw law;
};

struct InternalHeat {
    int panel = 0;
    double power_w_per_m3 = 0;
};

struct Probe {
    std::string name;
    int panel = 0;
    part::Point at;
};

struct ConductionCase {
    std::string title;
    part::Part part; // panels and element size only
    material::ThermalMaterial material = material::ThermalMaterial::steel();
    double initial_k = 293.15;
    std::vector<EdgeCondition> edges;
    std::vector<FaceCondition> faces;
    std::vector<InternalHeat> heats;
    std::vector<Probe> probes; // at least one
    bool steady = false;
    double end_s = 0;
    double step_s = 0;           // 0: chosen
    std::vector<double> print_s; // increasing, the last is end_s; empty when steady
};

// Reads what is beside `kind`, then finishes the document: throws text::InputError with everything that is wrong.
ConductionCase read_conduction_case(text::Document& document);

struct ConductionResult {
    std::shared_ptr<const part::Mesh> mesh;
    std::vector<double> time_s;               // as print_s, or the one time at which it was steady
    std::vector<std::vector<double>> probe_k; // [time][probe]
    std::vector<double> temperature_k;        // node_count, at the end
    HeatAccounts accounts;
    bool finished = true; // false: steady was asked for and not reached
    int steps = 0;
    double explicit_step_s = 0;
};
ConductionResult solve(const ConductionCase& conduction_case);

} // namespace holdtrue::heat
