// A plan to start from: every tack and then every pass in the order of the part file, with no more turns than that
// needs. It can be carried out; its order is not a good one. `joints`: which of the part's joints are to be welded, one
// entry for each (grading::Exercise::joint_required); none: all.
#pragma once

#include "arc/rule_book.h"
#include "arc/shop.h"
#include "part/part.h"
#include "weld/plan.h"

#include <string>
#include <vector>

namespace holdtrue::weld {

// What a trainee starts from, who is to find the settings: a card for each group of joints with the middle of what the
// power source gives. The middling card, in the middle of what practice asks, would be right for some joints as it
// stands. The shop has at least one power source and one wire, as its reader makes sure.
std::vector<arc::SettingCard> unset_cards(const part::Part& part, const arc::Shop& shop,
                                          const std::vector<bool>& joints = {});
Plan starting_plan(const part::Part& part, const arc::Shop& shop, const std::vector<bool>& joints = {});

// With one middling card for everything, whatever the joints ask for: where only orders are compared.
Plan middling_plan(const part::Part& part, const arc::Shop& shop, const std::vector<bool>& joints = {});

// For a welder with a part nobody has set up yet: the settings that the rule book proposes (arc/propose.h), with the
// wire and gas of the shop that suit best. A card that some joint already has serves the next one too where it breaks
// no rule there, so that little is set anew.
struct ProposedPlan {
    Plan plan;
    std::vector<std::string> unmet; // card groups for which no setting meets every rule: they keep the middling card
};
ProposedPlan proposed_plan(const part::Part& part, const arc::Shop& shop, const arc::RuleBook& rules,
                           const std::vector<bool>& joints = {});

} // namespace holdtrue::weld
