#include "weld/starting_plan.h"

#include "arc/dial_fault.h"
#include "arc/process_words.h"
#include "arc/propose.h"
#include "units/units.h"
#include "weld/allowed_cards.h"
#include "weld/choose_card.h"

#include <algorithm>
#include <optional>
#include <utility>

namespace holdtrue::weld {
namespace {

using units::mm;

using Joints = std::vector<bool>; // see the header

bool is_asked(const Joints& joints, std::size_t joint) { return joints.empty() || joints[joint]; }

// Of the joints asked for, each once, as the part file has them.
std::vector<std::string> groups_of(const part::Part& part, const Joints& joints) {
    std::vector<std::string> groups;
    for (std::size_t j = 0; j < part.joints.size(); ++j)
        if (const std::string& group = part.joints[j].card_group;
            is_asked(joints, j) && std::ranges::find(groups, group) == groups.end())
            groups.push_back(group);
    return groups;
}

// Middle of the practice band for 3 mm steel with 0.8 mm wire and short-circuit transfer (common practice, no source).
arc::SettingCard middling_card(const part::Part& part, const arc::Shop& shop, const Joints& joints) {
    arc::SettingCard card;
    card.name = "all";
    card.groups = groups_of(part, joints);
    const auto solid = std::ranges::find(shop.wires, arc::Process::mag_135, &arc::Wire::process);
    const arc::Wire& wire = solid == shop.wires.end() ? shop.wires.front() : *solid;
    card.wire = wire.id;
    card.process = wire.process;
    if (arc::needs_gas(card.process) && !shop.gases.empty()) {
        card.gas = shop.gases.front().id;
        card.gas_flow_m3_per_s = 12 * units::litre_per_minute;
    }
    if (card.process == arc::Process::fcaw_self_114)
        card.polarity = arc::Polarity::electrode_negative;
    const arc::PowerSource& source = shop.sources.front();
    card.volts_v = arc::settable_volts_v(source, 18.5);
    card.wire_feed_m_per_s = arc::settable_feed_m_per_s(source, 6.5 / units::minute);
    card.travel_m_per_s = 350 * mm / units::minute;
    card.tip_distance_m = 10 * mm;
    return card;
}

class Writer {
public:
    Writer(const part::Part& part, const Joints& joints, Plan& plan) : part_(part), joints_(joints), plan_(plan) {
        for (const part::Clamp& clamp : part.clamps)
            fixed_.push_back(clamp.fixed_at_start);
    }

    // All passes of one kind and layer, pose after pose, beginning with the one the part lies in.
    void weld(bool tacks, int layer) {
        std::vector<int> left;
        for (std::size_t k = 0; k < part_.passes.size(); ++k) {
            const part::Pass& pass = part_.passes[k];
            if ((pass.kind == part::PassKind::tack) == tacks && pass.layer == layer &&
                is_asked(joints_, static_cast<std::size_t>(pass.joint)))
                left.push_back(static_cast<int>(k));
        }
        weld_reachable(left);
        for (int pose = 0; pose < static_cast<int>(part_.poses.size()); ++pose)
            if (std::ranges::any_of(left, [&](int pass) { return reachable(pass, pose); })) {
                turn(pose);
                weld_reachable(left);
            }
    }

private:
    bool reachable(int pass, int pose) const {
        const part::Joint& joint =
            part_.joints[static_cast<std::size_t>(part_.passes[static_cast<std::size_t>(pass)].joint)];
        const std::string& name = part_.poses[static_cast<std::size_t>(pose)].name;
        return joint.positions_reachable.empty() ||
               std::ranges::find(joint.positions_reachable, name) != joint.positions_reachable.end();
    }

    void weld_reachable(std::vector<int>& left) {
        for (const int pass : left)
            if (reachable(pass, pose_))
                plan_.moves.push_back({WeldPass{pass, false, choose_card(part_, pass, plan_.cards)}, 0});
        std::erase_if(left, [&](int pass) { return reachable(pass, pose_); });
    }

    void turn(int pose) {
        for (std::size_t k = 0; k < fixed_.size() && !part_.fixture.turns_with_part; ++k)
            if (fixed_[k]) {
                plan_.moves.push_back({ClampMove{static_cast<int>(k), false}, 0});
                fixed_[k] = false;
            }
        plan_.moves.push_back({Turn{pose}, 0});
        pose_ = pose;
    }

    const part::Part& part_;
    const Joints& joints_;
    Plan& plan_;
    std::vector<bool> fixed_;
    int pose_ = 0;
};

void add_moves(const part::Part& part, const Joints& joints, Plan& plan) {
    Writer writer(part, joints, plan);
    writer.weld(true, 0);
    int last_layer = 0;
    for (const part::Pass& pass : part.passes)
        last_layer = std::max(last_layer, pass.layer);
    for (int layer = 0; layer <= last_layer; ++layer)
        writer.weld(false, layer);
}

std::optional<arc::SettingCard> proposed_card(const arc::RuleBook& rules, const arc::SettingCard& middling,
                                              const arc::Shop& shop, const std::vector<arc::Section>& sections) {
    for (const arc::Section& section : sections) {
        arc::SettingCard card = middling;
        card.aim = arc::usual_aim(section);
        const arc::SettingCard chosen = arc::choose_consumables(rules, card, shop, section, {}, {true, true, true});
        const std::optional<arc::Window> window = arc::window_of(rules, chosen, shop, section);
        if (!window)
            continue;
        card = as_set(window->card, shop);
        if (!breaks_a_rule(rules, card, shop, sections))
            return card;
    }
    return std::nullopt;
}

} // namespace

std::vector<arc::SettingCard> unset_cards(const part::Part& part, const arc::Shop& shop, const Joints& joints) {
    const arc::PowerSource& source = shop.sources.front();
    const arc::Wire& wire = shop.wires.front();
    arc::SettingCard card;
    card.wire = wire.id;
    card.process = wire.process;
    if (arc::needs_gas(card.process) && !shop.gases.empty())
        card.gas = shop.gases.front().id;
    if (card.process == arc::Process::fcaw_self_114)
        card.polarity = arc::Polarity::electrode_negative;
    card.gas_flow_m3_per_s = 12 * units::litre_per_minute;
    card.volts_v = arc::settable_volts_v(source, 0.5 * (source.volts_low_v + source.volts_high_v));
    card.wire_feed_m_per_s =
        arc::settable_feed_m_per_s(source, 0.5 * (source.feed_low_m_per_s + source.feed_high_m_per_s));
    card.travel_m_per_s = 360 * mm / units::minute;
    card.tip_distance_m = 15 * mm;
    std::vector<arc::SettingCard> cards;
    for (const std::string& group : groups_of(part, joints)) {
        card.name = group;
        card.groups = {group};
        cards.push_back(card);
    }
    return cards;
}

Plan starting_plan(const part::Part& part, const arc::Shop& shop, const Joints& joints) {
    Plan plan;
    plan.cards = unset_cards(part, shop, joints);
    add_moves(part, joints, plan);
    return plan;
}

Plan middling_plan(const part::Part& part, const arc::Shop& shop, const Joints& joints) {
    Plan plan;
    plan.cards.push_back(middling_card(part, shop, joints));
    add_moves(part, joints, plan);
    return plan;
}

ProposedPlan proposed_plan(const part::Part& part, const arc::Shop& shop, const arc::RuleBook& rules,
                           const Joints& joints) {
    ProposedPlan proposed;
    std::vector<arc::SettingCard>& cards = proposed.plan.cards;
    arc::SettingCard middling = middling_card(part, shop, joints);
    for (const std::string& group : std::exchange(middling.groups, {})) {
        const std::vector<arc::Section> sections = sections_of(part, {group});
        const auto serves = std::ranges::find_if(
            cards, [&](const arc::SettingCard& card) { return !breaks_a_rule(rules, card, shop, sections); });
        if (serves != cards.end())
            serves->groups.push_back(group);
        else if (std::optional<arc::SettingCard> card = proposed_card(rules, middling, shop, sections)) {
            card->name = group;
            card->groups = {group};
            cards.push_back(*card);
        } else {
            middling.groups.push_back(group);
        }
    }
    proposed.unmet = middling.groups;
    if (!middling.groups.empty())
        cards.push_back(middling);
    proposed.plan.title = "Settings by the rule book, passes as listed";
    add_moves(part, joints, proposed.plan);
    return proposed;
}

} // namespace holdtrue::weld
