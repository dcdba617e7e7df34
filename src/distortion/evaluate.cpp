#include "distortion/evaluate.h"

#include "distortion/condensed_response.h"
#include "distortion/job_run.h"
#include "distortion/step_heat.h"
#include "part/gauge.h"
#include "text/verify.h"

#include <Eigen/Geometry>

#include <cmath>
#include <optional>

namespace holdtrue::distortion {

namespace {

// Node displacements without the mean motion of the part.
std::vector<Eigen::Vector3f> shown(const PartModel& model, const Eigen::VectorXd& unknowns,
                                   const Eigen::Matrix<double, 6, 1>& frame) {
    std::vector<Eigen::Vector3f> nodes(static_cast<std::size_t>(model.node_count()), Eigen::Vector3f::Zero());
    for (int n = 0; n < model.node_count(); ++n) {
        const auto k = static_cast<std::size_t>(n);
        if (!model.mesh().node_alive[k])
            continue;
        const part::Point arm = model.mesh().position_m[k] - model.middle();
        nodes[k] = (unknowns.segment<3>(6 * n) - frame.head<3>() - frame.tail<3>().cross(arm)).cast<float>();
    }
    return nodes;
}

// How much of a gauge's change goes when the mesh is halved (tests/distortion: halving the mesh ...).
double mesh_share(part::GaugeKind kind) {
    switch (kind) {
    case part::GaugeKind::distance:
    case part::GaugeKind::squareness:
    case part::GaugeKind::bow:
        return 0.10;
    default:
        return 0.25;
    }
}

} // namespace

Result evaluate(const part::Part& part, const part::Mesh& mesh, const std::vector<Step>& steps, std::stop_token stop,
                const CondensedPart* ready, bool fields) {
    Result result;
    result.model = text::worded("condensed shell");
    std::optional<CondensedPart> own;
    if (!ready)
        ready = &own.emplace(part, mesh, PartModelSettings{}, stop);
    const CondensedPart& condensed = *ready;
    if (!condensed.ok())
        return result;
    VERIFY(condensed.model().node_count() == mesh.node_count(), "condensed on the same mesh");
    ShrinkageLaw law(part, mesh, condensed.tendon_tables());
    law.prepare(steps);
    const auto heat_with = [&](YieldCurve curve) {
        const StripMetal metal(curve);
        std::vector<StepHeat> heat;
        for (const Step& step : steps)
            heat.push_back(step_heat(condensed.model(), step.temperature_end_k, metal));
        return heat;
    };
    std::vector<StepHeat> heat = heat_with(YieldCurve::effective);
    condense_heat(condensed, heat);
    CondensedResponse response(condensed);
    JobRun run(condensed.model(), response, law);
    std::vector<Eigen::Matrix<double, 6, 1>> frames;
    const auto note = [&] {
        if (fields) {
            response.keep();
            frames.push_back(run.frame());
        }
        result.gauge_after.push_back(run.gauges());
    };
    for (std::size_t k = 0; k < steps.size(); ++k) {
        if (stop.stop_requested())
            return result;
        run.play(steps[k], &heat[k]);
        note();
    }
    run.finish();
    note();
    const std::vector<Eigen::VectorXd> displacements = response.displacements();
    for (std::size_t k = 0; k < displacements.size(); ++k)
        result.displacement_m.push_back(shown(condensed.model(), displacements[k], frames[k]));

    // The band: the other yield curve of hot steel, and the span of the rules across the weld and of angles.
    const auto cold_gauges = [&](const JobSettings& settings, const std::vector<StepHeat>& its_heat) {
        CondensedResponse other_response(condensed);
        JobRun other(condensed.model(), other_response, law, settings);
        for (std::size_t k = 0; k < steps.size(); ++k)
            other.play(steps[k], &its_heat[k]);
        other.finish();
        return other.gauges();
    };
    const std::vector<double>& used = result.gauge_after.back();
    // Most metal is too cool for the two curves to strain it differently.
    std::vector<StepHeat> proof = heat_with(YieldCurve::proof);
    for (std::size_t k = 0; k < steps.size(); ++k)
        proof[k].strain_of_node -= heat[k].strain_of_node;
    condense_heat(condensed, proof);
    for (std::size_t k = 0; k < steps.size(); ++k) {
        proof[k].strain_of_node += heat[k].strain_of_node;
        proof[k].of_rows += heat[k].of_rows;
    }
    const std::vector<double> curve = cold_gauges({.error = {.tendon = 1}}, proof);
    const std::vector<double> most = cold_gauges({.error = {.rules = 1}}, heat);
    const std::vector<double> least = cold_gauges({.error = {.rules = -1}}, heat);
    for (std::size_t g = 0; g < used.size(); ++g) {
        const double of_rules = std::max(std::abs(most[g] - used[g]), std::abs(least[g] - used[g]));
        const double of_mesh = mesh_share(part.gauges[g].kind) * std::abs(used[g] - part::nominal(part.gauges[g]));
        result.bands.push_back(
            {std::hypot(curve[g] - used[g], of_rules, of_mesh),
             text::worded("spread between two yield curves of hot steel and between shrinkage rules (published, and "
                          "from solid runs of plates and tees), and the change on halving the mesh; not validated "
                          "against a measured part"),
             {curve[g], most[g], least[g]}});
    }
    return result;
}

} // namespace holdtrue::distortion
