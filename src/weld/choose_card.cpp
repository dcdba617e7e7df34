#include "weld/choose_card.h"

#include <algorithm>

namespace holdtrue::weld {

std::vector<std::string> card_groups(const part::Part& part) {
    std::vector<std::string> groups{"tacks", "plugs"};
    for (const part::Joint& joint : part.joints)
        for (const std::string& name : {joint.name, joint.card_group})
            if (std::ranges::find(groups, name) == groups.end())
                groups.push_back(name);
    return groups;
}

int choose_card(const part::Part& part, int pass_index, const std::vector<arc::SettingCard>& cards) {
    const part::Pass& pass = part.passes[static_cast<std::size_t>(pass_index)];
    const part::Joint& joint = part.joints[static_cast<std::size_t>(pass.joint)];
    std::vector<std::string> wanted{joint.name, joint.card_group};
    if (pass.kind == part::PassKind::tack)
        wanted.insert(wanted.begin(), "tacks");
    if (pass.kind == part::PassKind::plug)
        wanted.push_back("plugs");
    for (const std::string& group : wanted)
        for (std::size_t k = 0; k < cards.size(); ++k)
            if (std::ranges::find(cards[k].groups, group) != cards[k].groups.end())
                return static_cast<int>(k);
    return -1;
}

arc::SetupChange setup_change_before(const Plan& plan, std::size_t move) {
    const auto* after = std::get_if<WeldPass>(&plan.moves[move].what);
    while (after && move-- > 0)
        if (const auto* before = std::get_if<WeldPass>(&plan.moves[move].what))
            return arc::setup_change(plan.cards[static_cast<std::size_t>(before->card)],
                                     plan.cards[static_cast<std::size_t>(after->card)]);
    return {};
}

} // namespace holdtrue::weld
