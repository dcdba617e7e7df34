// What our own model says of the bodies of reference_case, for RESULTS.md: the whole chain of heat on the mesh, strip
// model, rules, shells and order, with the net heat put in as it is there.
//   reference_own box|tee WELDS [WAIT_S]     WELDS as for reference_case: ab, ba, a, a1,b1,b2,a2 ...
// One arc at a time: arcs that burn side by side have no counterpart here.
#include "distortion/condensed_response.h"
#include "distortion/job_run.h"
#include "distortion/sample_parts.h"
#include "distortion/step_heat.h"
#include "heat/weld_heat.h"

#include <cstdio>
#include <cstdlib>
#include <memory>
#include <string>

using namespace holdtrue;
using namespace holdtrue::distortion;
using part::Point;

namespace {

struct Body {
    part::Part part;
    double length_m, heat_j_per_m, sigma_m, share_a;
};

// Seams of the box are on its left and right here, 57 mm apart between mid-surfaces.
Body box(int pieces) { return {testing::box(0.2, 0.057, 0.077, 0.003, 0.005, pieces, 0), 0.2, 150e3, 0.004, 0.5}; }

Body tee(int pieces) { return {testing::tee(0.1, 0.1, 0.04, 0.005, 0.004, pieces, 0), 0.1, 250e3, 0.003, 1.0 / 3}; }

// Displacements in the end, against where each node was drawn.
struct Cold {
    const part::Mesh& mesh;
    Eigen::VectorXd moved;
    Point at(int panel, const Point& place) const {
        const part::Attachment on = part::attach(mesh, panel, place);
        Point sum = Point::Zero();
        for (std::size_t k = 0; k < 4; ++k)
            sum += on.weight[k] * moved.segment<3>(6 * on.node[k]);
        return sum;
    }
    double stretch(int panel, Point line, double length_m) const { // of the middle half along x
        line.x() = length_m / 4;
        const Point from = at(panel, line);
        line.x() = 3 * length_m / 4;
        return (at(panel, line) - from).x() / (length_m / 2);
    }
};

void report(const Cold& cold, const Body& body) {
    const double x = body.length_m / 2;
    if (body.part.name == "box") {
        const double w = 0.057 / 2;
        const double a = cold.stretch(0, {0, -w, 0}, body.length_m), b = cold.stretch(0, {0, w, 0}, body.length_m);
        const double h = 0.077 / 2;
        std::printf("stretch along seam a %.4g, seam b %.4g; corners beside a %.4g, %.4g, beside b %.4g, %.4g\n", a, b,
                    cold.stretch(0, {0, -w, -h}, body.length_m), cold.stretch(1, {0, -w, h}, body.length_m),
                    cold.stretch(0, {0, w, -h}, body.length_m), cold.stretch(1, {0, w, h}, body.length_m));
        return;
    }
    // Seen from the web, which the reference holds upright at its start.
    const double turned = (cold.at(0, {0, 0, 0}) - cold.at(1, {0, 0, 0.0425})).y() / 0.0425;
    const auto slope = [&](double y0, double y1) {
        return (cold.at(0, {x, y1, 0}).z() - cold.at(0, {x, y0, 0}).z()) / (y1 - y0) - turned;
    };
    std::printf("slope left %.5f, right %.5f rad; drawing in of the flange %.4f mm; stretch of the flange's middle "
                "%.4g, of the web's top %.4g\n",
                slope(-0.048, -0.016), slope(0.016, 0.048),
                1e3 * (cold.at(0, {x, -0.048, 0}) - cold.at(0, {x, 0.048, 0})).y(),
                cold.stretch(0, {0, 0, 0}, body.length_m), cold.stretch(1, {0, 0, 0.0425}, body.length_m));
}

} // namespace

int main(int argc, char** argv) {
    const std::string name = argc > 1 ? argv[1] : "", welds = argc > 2 ? argv[2] : "";
    if ((name != "box" && name != "tee") || welds.empty())
        return std::fputs("see the head of own_case.cpp\n", stderr), 2;
    const double wait_s = argc > 3 ? std::atof(argv[3]) : 0;
    // A weld that is not cut is one pass.
    const int pieces = welds.find_first_of("12") == std::string::npos ? 1 : 2;
    Body body = name == "box" ? box(pieces) : tee(pieces);
    for (part::Joint& joint : body.part.joints)
        joint.tacked = true; // the reference body is one piece
    for (part::Panel& panel : body.part.panels)
        panel.yield_pa = 275e6;
    const auto part = std::make_shared<const part::Part>(body.part);
    const auto mesh = std::make_shared<const part::Mesh>(part::build_mesh(*part));
    heat::WeldHeat heat(part, mesh, {});

    std::vector<std::unique_ptr<std::vector<float>>> fields;
    const auto keep_field = [&] {
        fields.push_back(
            std::make_unique<std::vector<float>>(heat.temperature_k().begin(), heat.temperature_k().end()));
    };
    std::vector<Step> steps;
    const auto add = [&](Step step) {
        keep_field();
        step.temperature_end_k = *fields.back();
        step.end_s = heat.time_s();
        steps.push_back(step);
    };
    keep_field();
    for (std::size_t k = 0; k < welds.size(); ++k) {
        if (welds[k] != 'a' && welds[k] != 'b')
            continue;
        const bool second = k + 1 < welds.size() && welds[k + 1] == '2';
        const int pass = (welds[k] == 'a' ? 0 : pieces) + (second ? 1 : 0);
        if (!steps.empty()) {
            heat.wait(wait_s, 0);
            add({});
        }
        const part::Pass& run = part->passes[static_cast<std::size_t>(pass)];
        Step step;
        step.kind = Step::Kind::weld;
        step.pass = pass;
        step.interpass_k = heat.hottest_along_k(pass);
        heat::Arc arc;
        arc.pass = pass;
        arc.travel_m_per_s = 0.006;
        arc.net_power_w = body.heat_j_per_m * arc.travel_m_per_s;
        arc.sigma_m = body.sigma_m;
        arc.share_a = body.share_a;
        arc.throat_m = 0.003;
        step.heat_input_j_per_m = body.heat_j_per_m;
        step.heat_j = body.heat_j_per_m * (run.to_m - run.from_m);
        step.travel_m_per_s = arc.travel_m_per_s;
        step.throat_m = arc.throat_m;
        step.deposit_area_m2 = name == "box" ? 4e-6 : 7e-6;
        heat.weld(arc);
        add(step);
    }
    heat.wait(0, 300);

    // The reference is one piece before and behind the arc: tacks end to end, and ties that are born a bead's length at
    // a time. With the 30 mm groups and sparse tacks of a job the hot halves of a box bow before they are tied.
    const GroupSettings one_piece{.groups_per_pass = 20, .group_m = 0.010, .tack_pitch_m = 0.012};
    const CondensedPart condensed(*part, *mesh, {.groups = one_piece});
    CondensedResponse response(condensed);
    ShrinkageLaw law(*part, *mesh);
    law.prepare(steps);
    for (const Step& step : steps)
        if (step.kind == Step::Kind::weld && (step.pass == 0 || step.pass == pieces)) {
            const GroupShrinkage free = law.of(
                condensed.model().groups()[static_cast<std::size_t>(condensed.model().groups_of_pass(step.pass)[0])],
                step, 0);
            std::printf("force of weld %c with no stress there: %.4g N, %.4g N per J/m\n", step.pass == 0 ? 'a' : 'b',
                        free.tendon_n[0] + free.tendon_n[1], (free.tendon_n[0] + free.tendon_n[1]) / body.heat_j_per_m);
        }
    JobRun run(condensed.model(), response, law);
    std::vector<StepHeat> felt;
    for (const Step& step : steps)
        felt.push_back(step_heat(condensed.model(), step.temperature_end_k, StripMetal(YieldCurve::effective)));
    for (std::size_t k = 0; k < steps.size(); ++k)
        run.play(steps[k], &felt[k]);
    run.finish();
    response.keep();
    report({*mesh, response.displacements()[0]}, body);
}
