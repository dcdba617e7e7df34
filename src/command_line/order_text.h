// A study of orders as text for a terminal, and for programs.
#pragma once

#include "order/study.h"

#include <optional>
#include <string>

namespace holdtrue::command_line {

// Where no order keeps the limits with a plan's own cards: what cards by the rule book come to (order/card_search.h).
struct ProposedReach {
    double nearest = 0; // the worst gauge's share of its limit, of the order found that is nearest
};

std::string study_text(const grading::Exercise& exercise, const weld::Plan& plan, const order::Study& study,
                       const std::optional<ProposedReach>& proposed = {});
std::string study_json(const grading::Exercise& exercise, const weld::Plan& plan, const order::Study& study,
                       const std::optional<ProposedReach>& proposed = {});
// What each card sets, a line for each.
std::string cards_text(const weld::Plan& plan);

} // namespace holdtrue::command_line
