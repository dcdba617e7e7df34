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

std::vector<StepHeat> heat_of(const std::vector<Step>& steps, const PartModel& model, YieldCurve curve) {
    const StripMetal metal(curve);
    std::vector<StepHeat> heat;
    for (const Step& step : steps)
        heat.push_back(step_heat(model, step.temperature_end_k, metal));
    return heat;
}

// With the other yield curve of hot steel, and with the span of the rules across the weld and of angles. `heat` and
// `used`: of the job with what is taken for true, the latter its last readings.
std::vector<GaugeBand> bands(const part::Part& part, const CondensedPart& condensed, const ShrinkageLaw& law,
                             const std::vector<Step>& steps, const std::vector<StepHeat>& heat,
                             const std::vector<double>& used) {
    const auto cold_gauges = [&](const ShrinkageError& error, const std::vector<StepHeat>& its_heat) {
        CondensedResponse response(condensed);
        JobRun run(condensed.model(), response, law, {.error = error});
        for (std::size_t k = 0; k < steps.size(); ++k)
            run.play(steps[k], &its_heat[k]);
        run.finish();
        return run.gauges();
    };
    // Most metal is too cool for the two curves to strain it differently.
    std::vector<StepHeat> proof = heat_of(steps, condensed.model(), YieldCurve::proof);
    for (std::size_t k = 0; k < steps.size(); ++k)
        proof[k].strain_of_node -= heat[k].strain_of_node;
    condense_heat(condensed, proof);
    for (std::size_t k = 0; k < steps.size(); ++k) {
        proof[k].strain_of_node += heat[k].strain_of_node;
        proof[k].of_rows += heat[k].of_rows;
    }
    const std::vector<double> curve = cold_gauges({.tendon = 1}, proof);
    const std::vector<double> most = cold_gauges({.rules = 1}, heat);
    const std::vector<double> least = cold_gauges({.rules = -1}, heat);
    std::vector<GaugeBand> bands;
    for (std::size_t g = 0; g < used.size(); ++g) {
        const double of_rules = std::max(std::abs(most[g] - used[g]), std::abs(least[g] - used[g]));
        const double of_mesh = mesh_share(part.gauges[g].kind) * std::abs(used[g] - part::nominal(part.gauges[g]));
        bands.push_back(
            {std::hypot(curve[g] - used[g], of_rules, of_mesh),
             text::worded("spread between two yield curves of hot steel and between shrinkage rules (published, and "
                          "from solid runs of plates and tees), and the change on halving the mesh; not validated "
                          "against a measured part"),
             {curve[g], most[g], least[g]}});
    }
    return bands;
}

} // namespace

Result evaluate(const part::Part& part, const part::Mesh& mesh, const std::vector<Step>& steps, std::stop_token stop,
                const CondensedPart* ready, const Wanted& wanted) {
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
    std::vector<StepHeat> heat = heat_of(steps, condensed.model(), YieldCurve::effective);
    condense_heat(condensed, heat);
    CondensedResponse response(condensed);
    JobRun run(condensed.model(), response, law);
    std::vector<Eigen::Matrix<double, 6, 1>> frames;
    const auto note = [&] {
        if (wanted.fields) {
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

    if (wanted.bands)
        result.bands = bands(part, condensed, law, steps, heat, result.gauge_after.back());
    return result;
}

} // namespace holdtrue::distortion
