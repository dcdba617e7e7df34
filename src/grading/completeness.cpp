#include "grading/aspects.h"

#include <algorithm>

namespace holdtrue::grading {
namespace {

// What a pass counts for: its length, or for a plug the width of its hole.
double weight_of(const part::Part& part, const part::Pass& pass) {
    return pass.kind == part::PassKind::plug ? std::max(1e-3, part.joints[static_cast<std::size_t>(pass.joint)].size_m)
                                             : pass.to_m - pass.from_m;
}

std::vector<char> welded_passes(const Marking& marking) {
    std::vector<char> welded(marking.part().passes.size());
    for (std::size_t k = 0; k < marking.outcome.moves.size(); ++k)
        if (const auto* weld = std::get_if<weld::WeldPass>(&marking.outcome.plan.moves[k].what))
            welded[static_cast<std::size_t>(weld->pass)] = 1;
    return welded;
}

} // namespace

Completeness find_completeness(const Marking& marking) {
    const part::Part& part = marking.part();
    const std::vector<char> welded = welded_passes(marking);
    Completeness result;
    double all = 0, done = 0;
    if (marking.exercise.all_passes_required) {
        // A tack only holds until the run over it: leaving it out is a fault of order, not unfinished work.
        for (std::size_t k = 0; k < part.passes.size(); ++k) {
            if (part.passes[k].kind == part::PassKind::tack || !marking.exercise.asks_for(part.passes[k].joint))
                continue;
            const double weight = weight_of(part, part.passes[k]);
            all += weight;
            if (welded[k])
                done += weight;
            else
                result.missing.push_back(part.passes[k].name);
        }
    } else {
        // Something of every joint, more than a tack.
        for (std::size_t j = 0; j < part.joints.size(); ++j) {
            if (!marking.exercise.asks_for(static_cast<int>(j)))
                continue;
            bool there = false;
            for (std::size_t k = 0; k < part.passes.size(); ++k)
                there |= part.passes[k].joint == static_cast<int>(j) && part.passes[k].kind != part::PassKind::tack &&
                         welded[k];
            all += 1;
            if (there)
                done += 1;
            else
                result.missing.push_back(part.joints[j].name);
        }
    }
    // Complete is exactly 1, whatever the rounding of the sums.
    result.share = result.missing.empty() || all <= 0 ? 1 : done / all;
    return result;
}

Sentence name_of_move(const Marking& marking, int move) {
    const auto& what = marking.outcome.plan.moves[static_cast<std::size_t>(move)].what;
    const std::string number = std::to_string(move + 1);
    if (const auto* weld = std::get_if<weld::WeldPass>(&what))
        return {worded("move {0}, pass '{1}'"),
                {number, marking.part().passes[static_cast<std::size_t>(weld->pass)].name}};
    if (const auto* clamp = std::get_if<weld::ClampMove>(&what))
        return {clamp->fix ? worded("move {0}, fixing clamp '{1}'") : worded("move {0}, freeing clamp '{1}'"),
                {number, marking.part().clamps[static_cast<std::size_t>(clamp->clamp)].name}};
    return {std::holds_alternative<weld::Wait>(what) ? worded("move {0}, a wait") : worded("move {0}, a turn"),
            {number}};
}

} // namespace holdtrue::grading
