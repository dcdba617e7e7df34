// The steps of a shipped plan, for the distortion model: its passes with the heat that the arc and the heat model give
// them, on a mesh of any size. What weld::simulate() hands to distortion::evaluate(), read back from its outcome.
#pragma once

#include "arc/read_shop.h"
#include "distortion/evaluate.h"
#include "part/read_part.h"
#include "weld/read_plan.h"
#include "weld/simulate.h"

#include <memory>
#include <string>
#include <variant>
#include <vector>

namespace holdtrue::distortion::testing {

struct PlayedPlan {
    std::shared_ptr<const weld::Outcome> outcome; // owns the temperatures; its displacements are left out
    std::vector<Step> steps;
};

inline PlayedPlan play_plan(const std::string& folder, const std::string& part_file, const std::string& plan_file,
                            double element_scale) {
    PlayedPlan played;
    const auto part = part::read_part(folder + "/assets/parts/" + part_file);
    const auto shop = arc::read_shop(folder + "/assets/shops/rookwood.shop.toml");
    const weld::Plan plan = weld::read_plan(folder + "/lessons/exercises/" + plan_file, *part, *shop);
    played.outcome = weld::simulate(part, shop, plan, {.element_scale = element_scale, .distortion = false});
    const weld::Outcome& outcome = *played.outcome;
    std::size_t frame = 0;
    for (std::size_t k = 0; k < plan.moves.size(); ++k) {
        const weld::MoveOutcome& move = outcome.moves[k];
        Step step;
        step.end_s = move.end_s;
        if (const auto* pass = std::get_if<weld::WeldPass>(&plan.moves[k].what)) {
            step.kind = Step::Kind::weld;
            step.pass = pass->pass;
            step.reversed = pass->reversed;
            step.heat_input_j_per_m = move.arc.heat_input_j_per_m;
            step.heat_j = move.heat_j;
            step.travel_m_per_s = plan.cards[static_cast<std::size_t>(pass->card)].travel_m_per_s;
            step.throat_m = move.arc.throat_m;
            step.deposit_area_m2 = move.arc.deposit_area_m2;
            step.interpass_k = move.interpass_k;
        } else if (const auto* clamp = std::get_if<weld::ClampMove>(&plan.moves[k].what)) {
            step.kind = clamp->fix ? Step::Kind::fix_clamp : Step::Kind::free_clamp;
            step.clamp = clamp->clamp;
        }
        // Frames end with the end of every move.
        while (frame + 1 < outcome.frames.size() && outcome.frames[frame + 1].time_s <= move.end_s + 1e-9)
            ++frame;
        step.temperature_end_k = outcome.frames[frame].temperature_k;
        played.steps.push_back(step);
    }
    return played;
}

} // namespace holdtrue::distortion::testing
