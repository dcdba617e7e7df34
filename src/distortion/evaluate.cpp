#include "distortion/evaluate.h"

#include "distortion/condensed_response.h"
#include "distortion/job_run.h"

#include <Eigen/Geometry>

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

} // namespace

Result evaluate(const part::Part& part, const part::Mesh& mesh, const std::vector<Step>& steps, std::stop_token stop) {
    Result result;
    result.model = "condensed shell";
    const CondensedPart condensed(part, mesh, {}, stop);
    if (!condensed.ok())
        return result;
    CondensedResponse response(condensed);
    JobRun run(condensed.model(), response);
    std::vector<Eigen::Matrix<double, 6, 1>> frames;
    const auto note = [&] {
        response.keep();
        frames.push_back(run.frame());
        result.gauge_after.push_back(run.gauges());
    };
    for (const Step& step : steps) {
        if (stop.stop_requested())
            return result;
        run.play(step);
        note();
    }
    run.finish();
    note();
    const std::vector<Eigen::VectorXd> displacements = response.displacements();
    for (std::size_t k = 0; k < displacements.size(); ++k)
        result.displacement_m.push_back(shown(condensed.model(), displacements[k], frames[k]));

    // The band: the other yield curve of hot steel in the heat's push.
    CondensedResponse other_response(condensed);
    JobRun other(condensed.model(), other_response, {.curve = YieldCurve::effective});
    for (const Step& step : steps)
        other.play(step);
    other.finish();
    const std::vector<double> there = other.gauges();
    for (std::size_t g = 0; g < there.size(); ++g)
        result.bands.push_back({std::abs(there[g] - result.gauge_after.back()[g]),
                                "spread between two yield curves of hot steel (EN 1993-1-2)"});
    return result;
}

} // namespace holdtrue::distortion
