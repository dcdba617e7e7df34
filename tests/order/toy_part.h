// A part without geometry for tests of the search: seams with tacks and runs in two poses, and an evaluator whose
// answer depends on every place, direction and wait of an order. It says nothing about steel.
#pragma once

#include "order/search.h"

#include <cmath>
#include <memory>
#include <string>

namespace holdtrue::order::toy {

// `seams` joints with `runs` runs each; odd ones can be welded in the second pose only. One tack per seam if asked.
inline std::shared_ptr<const part::Part> part(int seams, int runs, bool tacks) {
    auto part = std::make_shared<part::Part>();
    part->poses = {{"top_up", {0, 0, 1}, 0}, {"bottom_up", {0, 0, -1}, 0}};
    part->clamps.push_back({"stop", 0, {0, 0, 0}, {true, true, true}, 1e-4, 1000, true, 0});
    for (int s = 0; s < seams; ++s) {
        part::Joint joint;
        joint.name = "seam" + std::to_string(s);
        joint.positions_reachable = {part->poses[static_cast<std::size_t>(s % 2)].name};
        part->joints.push_back(joint);
        if (tacks)
            part->passes.push_back({joint.name + "/tack1", s, part::PassKind::tack, 0.0, 0.01, 0});
        for (int r = 0; r < runs; ++r)
            part->passes.push_back(
                {joint.name + "/" + std::to_string(r + 1), s, part::PassKind::run, 0.1 * r, 0.1 * (r + 1), 0});
    }
    return part;
}

inline weld::Plan plan(const part::Part& part) {
    weld::Plan plan;
    plan.cards.resize(1);
    const auto weld_all = [&](bool tacks) {
        for (std::size_t k = 0; k < part.passes.size(); ++k)
            if ((part.passes[k].kind == part::PassKind::tack) == tacks)
                plan.moves.push_back({weld::WeldPass{static_cast<int>(k), false, 0}, 0});
    };
    weld_all(true);
    plan.moves.push_back({weld::ClampMove{0, false}, 0});
    weld_all(false);
    return plan;
}

// Every pass pulls by an amount that falls as more is welded and that depends on what was welded just before.
class ToyEvaluator : public Evaluator {
public:
    explicit ToyEvaluator(const OrderSpace& space) : space_(&space) {}
    Finding evaluate(const Order& order) override {
        Finding finding;
        finding.deviation.assign(2, 0.0);
        double stiffness = 1;
        int before = -1;
        for (std::size_t k = 0; k < order.passes.size(); ++k) {
            const OrderedPass& each = order.passes[k];
            const double side = each.pass % 3 - 1, end = std::sin(1.7 * each.pass) * (each.reversed ? -0.6 : 1);
            const double neighbour = before >= 0 && std::abs(before - each.pass) == 1 ? 1.4 : 1;
            finding.deviation[0] += side * neighbour / stiffness;
            finding.deviation[1] += end * neighbour / (stiffness * stiffness);
            stiffness += 0.35;
            finding.total_s += 20 + space_->waits_s()[static_cast<std::size_t>(each.wait)];
            before = each.pass;
        }
        finding.turns = space_->turns(order);
        finding.total_s += 60 * finding.turns;
        return finding;
    }

private:
    const OrderSpace* space_;
};

inline Problem problem(const OrderSpace& space) {
    return {&space, [&space] { return std::make_unique<ToyEvaluator>(space); },
            [](const Finding& finding) {
                return std::abs(finding.deviation[0]) + std::abs(finding.deviation[1]) + 0.02 * finding.turns +
                       1e-5 * finding.total_s;
            },
            [](const Finding& finding) { return std::abs(finding.deviation[0]) + std::abs(finding.deviation[1]); }};
}

} // namespace holdtrue::order::toy
