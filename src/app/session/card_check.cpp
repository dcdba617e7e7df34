#include "app/session/card_check.h"

#include "arc/process_words.h"
#include "arc/propose.h"
#include "text/input_error.h"

#include <algorithm>
#include <tuple>

namespace holdtrue::app {

std::vector<int> joints_of(const part::Part& part, const arc::SettingCard& card) {
    const auto serves = [&](const std::string& name) {
        return std::ranges::find(card.groups, name) != card.groups.end();
    };
    std::vector<int> joints;
    for (std::size_t j = 0; j < part.joints.size(); ++j) {
        const part::Joint& joint = part.joints[j];
        const bool plugs = joint.type == part::JointType::plug && serves("plugs");
        if (serves(joint.name) || serves(joint.card_group) || plugs)
            joints.push_back(static_cast<int>(j));
    }
    if (joints.empty())
        for (std::size_t j = 0; j < part.joints.size(); ++j)
            if (part.joints[j].type != part::JointType::plug)
                joints.push_back(static_cast<int>(j));
    return joints;
}

QuickCard usual_quick_card(const arc::Shop& shop) {
    QuickCard quick;
    quick.section.thickness_a_m = quick.section.thickness_b_m = 0.005;
    quick.section.size_m = 0.004;
    arc::SettingCard& card = quick.card;
    if (!shop.wires.empty()) {
        card.wire = shop.wires.front().id;
        card.process = shop.wires.front().process;
    }
    if (!shop.gases.empty() && arc::needs_gas(card.process))
        card.gas = shop.gases.front().id;
    card.gas_flow_m3_per_s = 12 * units::litre_per_minute;
    // Middle of what the usual source gives at 5 mm (common practice, no source); a start to change from.
    card.volts_v = 19;
    card.wire_feed_m_per_s = 6.5 / units::minute;
    card.travel_m_per_s = 0.006;
    card.tip_distance_m = 0.012;
    card.aim = arc::usual_aim(quick.section);
    return quick;
}

bool same_task(const QuickCard& a, const QuickCard& b) {
    const auto joint = [](const arc::Section& s) {
        return std::tuple(s.type, s.thickness_a_m, s.thickness_b_m, s.size_m, s.root_gap_m);
    };
    const auto rest = [](const arc::SettingCard& c) {
        return std::tuple(c.wire, c.gas, c.process, c.tip_distance_m, c.gas_flow_m3_per_s, c.aim, c.preheat_k);
    };
    return joint(a.section) == joint(b.section) && rest(a.card) == rest(b.card);
}

std::optional<CardCheck> check_card(const arc::RuleBook& book, const arc::SettingCard& card, const arc::Shop& shop,
                                    const arc::Section& section, units::System system) {
    try {
        CardCheck check;
        check.section = section;
        check.figures = arc::setup_figures(card, shop, check.section);
        check.findings = book.judge(card, shop, check.section, check.figures, system);
        std::ranges::stable_sort(check.findings, [](const auto& a, const auto& b) { return a.verdict > b.verdict; });
        return check;
    } catch (const text::InputError&) {
        return {};
    }
}

} // namespace holdtrue::app
