// Whoever does what the remarks say passes. A trainee who knows nothing leaves the dials in the middle and welds every
// joint straight through without a tack, then follows the three leading remarks to the letter, and passes at the third
// weld at the latest.
#include "arc/dial_fault.h"
#include "grading/grade.h"
#include "grading/read_exercise.h"
#include "weld/simulate.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <map>
#include <variant>

using namespace holdtrue;
using text::Sentence;

namespace {

std::vector<weld::Move> passes(const grading::Exercise& exercise, bool tacks) {
    std::vector<weld::Move> moves;
    for (std::size_t k = 0; k < exercise.part->passes.size(); ++k) {
        const part::Pass& pass = exercise.part->passes[k];
        if ((pass.kind == part::PassKind::tack) == tacks &&
            (exercise.joint_required.empty() || exercise.joint_required[static_cast<std::size_t>(pass.joint)]))
            moves.push_back({weld::WeldPass{static_cast<int>(k), false, 0}, 0});
    }
    return moves;
}

weld::Plan naive_plan(const grading::Exercise& exercise) {
    const arc::Shop& shop = *exercise.shop;
    const arc::PowerSource& source = shop.sources.front();
    arc::SettingCard card;
    card.name = "all";
    card.wire = shop.wires.front().id;
    card.process = shop.wires.front().process;
    card.gas = shop.gases.front().id;
    card.gas_flow_m3_per_s = 12 * units::litre_per_minute;
    card.volts_v = arc::settable_volts_v(source, 0.5 * (source.volts_low_v + source.volts_high_v));
    card.wire_feed_m_per_s =
        arc::settable_feed_m_per_s(source, 0.5 * (source.feed_low_m_per_s + source.feed_high_m_per_s));
    card.travel_m_per_s = 6e-3;
    card.tip_distance_m = 15e-3;
    for (const part::Joint& joint : exercise.part->joints)
        card.groups.push_back(joint.card_group);
    weld::Plan plan;
    plan.cards = {card};
    plan.moves = passes(exercise, false);
    for (std::size_t g = 0; g < exercise.part->gauges.size(); ++g)
        plan.predictions.push_back({static_cast<int>(g), weld::Sense::grows});
    return plan;
}

// Does what a sentence tells, of alternatives the first.
void follow(const Sentence& advice, const grading::Exercise& exercise, arc::SettingCard* card, weld::Plan& plan) {
    struct Dial {
        double arc::SettingCard::*field;
        double unit;
    };
    static const std::map<std::string, Dial> dials{
        {"the volts", {&arc::SettingCard::volts_v, 1}},
        {"the wire feed", {&arc::SettingCard::wire_feed_m_per_s, 1 / units::minute}},
        {"the travel speed", {&arc::SettingCard::travel_m_per_s, units::mm / units::minute}},
        {"the tip distance", {&arc::SettingCard::tip_distance_m, units::mm}},
        {"the share of the arc on the first member", {&arc::SettingCard::aim, 1}}};
    const std::string& told = advice.pattern;
    if (card && (told.starts_with("raise {0}") || told.starts_with("lower {0}"))) {
        const auto dial = dials.find(advice.parts[0].pattern);
        REQUIRE_MESSAGE(dial != dials.end(), advice.english());
        card->*dial->second.field = std::stod(advice.parts[2].pattern) * dial->second.unit;
    } else if (card && told == "take wire '{0}'")
        card->wire = advice.parts[0].pattern;
    else if (card && told == "take gas '{0}'")
        card->gas = advice.parts[0].pattern;
    else if (told.starts_with("Tack each joint") || told.starts_with("Put the tacks of")) {
        std::vector<weld::Move> moves = passes(exercise, true);
        moves.insert(moves.end(), plan.moves.begin(), plan.moves.end());
        plan.moves = std::move(moves);
    } else if (told.starts_with("Put a wait until below {0} before every")) {
        std::vector<weld::Move> moves;
        for (const weld::Move& move : plan.moves) {
            const auto* weld = std::get_if<weld::WeldPass>(&move.what);
            const bool run =
                weld && exercise.part->passes[static_cast<std::size_t>(weld->pass)].kind != part::PassKind::tack;
            if (!moves.empty() && run)
                moves.push_back({weld::Wait{0, exercise.heat.interpass_max_k}, 0});
            moves.push_back(move);
        }
        plan.moves = std::move(moves);
    } else
        for (const Sentence& part : advice.parts) {
            follow(part, exercise, card, plan);
            if (told == "{0}, or {1}")
                break;
        }
}

} // namespace

TEST_CASE("whoever follows the remarks passes an exercise of the first level at the third weld") {
    for (const std::string name : {"tee_coupon", "lap_strip", "tee_against_the_clock", "pivot_bracket_lug"}) {
        CAPTURE(name);
        const grading::Exercise exercise =
            grading::read_exercise(std::string(HOLDTRUE_SOURCE_DIR) + "/lessons/exercises/" + name + ".exercise.toml");
        weld::Plan plan = naive_plan(exercise);
        double before = 0;
        for (int weld = 1;; ++weld) {
            const grading::Mark mark = grading::grade(exercise, *weld::simulate(exercise.part, exercise.shop, plan));
            CAPTURE(weld);
            CAPTURE(mark.why_not.english());
            CHECK(mark.total > before);
            before = mark.total;
            if (mark.passed) {
                CHECK(weld > 1); // the start is no plan to pass with
                break;
            }
            REQUIRE(weld < 3);
            int read = 0;
            for (const grading::Remark& remark : mark.remarks)
                if (remark.verdict != grading::Verdict::pass && ++read <= 3)
                    follow(remark.try_this, exercise, remark.card >= 0 ? &plan.cards[0] : nullptr, plan);
        }
    }
}
