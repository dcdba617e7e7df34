#include "scratch_folder.h"
#include "text/atomic_file.h"
#include "weld/check_plan.h"
#include "weld/choose_card.h"
#include "weld/read_plan.h"
#include "weld/save_plan.h"
#include "weld/small_job.h"
#include "weld/starting_plan.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <fstream>

using namespace holdtrue;
using namespace holdtrue::weld;

namespace {

const std::string cards = R"(
[[card]]
name = "one"
groups = ["heavy", "tacks"]
wire = "solid"
gas = "mix"
gas_flow_l_per_min = 13
volts_v = 18.7
wire_feed_in_per_min = 271
travel_mm_per_min = 333
tip_distance_in = 0.4
aim = 0.35
preheat_c = 77.7

[[card]]
name = "two"
groups = ["plugs"]
wire = "gasless"
volts_v = 17.3
polarity = "electrode_negative"
wire_feed_m_per_min = 7.1
travel_mm_per_s = 5.3
tip_distance_mm = 12
motion = "drag"
plug_s = 4.5
)";

Plan parsed(const std::string& moves) {
    return parse_plan(cards + moves, "p.plan.toml", *test::small_part(), *test::small_shop());
}

bool same(const Plan& a, const Plan& b) {
    const auto card = [](const arc::SettingCard& x, const arc::SettingCard& y) {
        return x.name == y.name && x.groups == y.groups && x.process == y.process && x.wire == y.wire &&
               x.gas == y.gas && x.gas_flow_m3_per_s == y.gas_flow_m3_per_s && x.polarity == y.polarity &&
               x.volts_v == y.volts_v && x.wire_feed_m_per_s == y.wire_feed_m_per_s &&
               x.travel_m_per_s == y.travel_m_per_s && x.tip_distance_m == y.tip_distance_m && x.motion == y.motion &&
               x.aim == y.aim && x.preheat_k == y.preheat_k && x.plug_s == y.plug_s;
    };
    const auto move = [](const Move& x, const Move& y) {
        if (x.what.index() != y.what.index())
            return false;
        if (const auto* w = std::get_if<WeldPass>(&x.what)) {
            const auto& v = std::get<WeldPass>(y.what);
            return w->pass == v.pass && w->reversed == v.reversed && w->card == v.card;
        }
        if (const auto* w = std::get_if<Wait>(&x.what)) {
            const auto& v = std::get<Wait>(y.what);
            return w->time_s == v.time_s && w->until_below_k == v.until_below_k;
        }
        if (const auto* t = std::get_if<Turn>(&x.what))
            return t->pose == std::get<Turn>(y.what).pose;
        const auto &c = std::get<ClampMove>(x.what), &d = std::get<ClampMove>(y.what);
        return c.clamp == d.clamp && c.fix == d.fix;
    };
    return a.title == b.title && a.trainee == b.trainee && a.exercise == b.exercise &&
           std::ranges::equal(a.cards, b.cards, card) && std::ranges::equal(a.moves, b.moves, move) &&
           std::ranges::equal(a.predictions, b.predictions, [](const Prediction& x, const Prediction& y) {
               return x.gauge == y.gauge && x.sense == y.sense;
           });
}

const std::string whole_job = R"(
[[move]]
fix = "right"
[[move]]
tack = "fillet"
[[move]]
weld = ["fillet/layer1/2", "fillet/layer1/1"]
reverse = true
[[move]]
wait_min = 1.7
wait_until_below_f = 213
[[move]]
weld = ["fillet/layer2/1", "fillet/layer2/2"]
[[move]]
free = ["left", "right"]
[[move]]
turn = "down"
[[move]]
weld = "pad"
[[predict]]
gauge = "length"
sense = "shrinks"
)";

} // namespace

TEST_CASE("a plan is read as it is written") {
    const Plan plan = parsed(whole_job);
    REQUIRE(plan.moves.size() == 1 + 2 + 2 + 1 + 2 + 2 + 1 + 2);
    const auto part = test::small_part();
    const auto& first_run = std::get<WeldPass>(plan.moves[3].what);
    CHECK(part->passes[static_cast<std::size_t>(first_run.pass)].name == "fillet/layer1/2");
    CHECK(first_run.reversed);
    CHECK(first_run.card == 0);
    CHECK(std::get<WeldPass>(plan.moves[11].what).card == 1);
    CHECK(std::get<Wait>(plan.moves[5].what).time_s == doctest::Approx(102));
    CHECK(*std::get<Wait>(plan.moves[5].what).until_below_k == doctest::Approx(373.7056).epsilon(1e-6));
    CHECK(plan.cards[1].process == arc::Process::fcaw_self_114); // from its wire
    CHECK(plan.cards[0].tip_distance_m == doctest::Approx(0.01016));
}

TEST_CASE("a saved plan reads back the same to the last bit") {
    const auto part = test::small_part();
    const auto shop = test::small_shop();
    Plan plan = parsed(whole_job);
    plan.title = "quotes \" and \\ and\nlines, \u00e4";
    plan.trainee = "A. Apprentice";
    plan.exercise = "../x.exercise.toml";
    const Plan again = parse_plan(plan_toml(plan, *part), "again.plan.toml", *part, *shop);
    CHECK(same(plan, again));
    CHECK(plan_toml(again, *part) == plan_toml(plan, *part));

    const ScratchFolder folder("plan");
    const std::filesystem::path file = folder.path / "saved.plan.toml";
    save_plan(plan, *part, file);
    CHECK(same(plan, read_plan(file, *part, *shop)));
    CHECK_THROWS_WITH_AS(exercise_of(file), doctest::Contains("saved.plan.toml:3: there is no file ../x"),
                         text::InputError);
    plan.exercise = "x.exercise.toml";
    save_plan(plan, *part, file);
    text::write_atomically(folder.path / plan.exercise, "");
    CHECK(exercise_of(file) == folder.path / plan.exercise);
    CHECK_THROWS_AS(save_plan(plan, *part, "/no/such/folder/x.plan.toml"), text::InputError);
}

TEST_CASE("values as a window would make them survive saving") {
    const auto part = test::small_part();
    const auto shop = test::small_shop();
    Plan plan = parsed(whole_job);
    for (int k = 0; k < 500; ++k) {
        plan.cards[0].travel_m_per_s = 0.004 + 1e-5 * k / 3.0;
        plan.cards[0].wire_feed_m_per_s = 0.08 + 1e-4 * k / 7.0;
        plan.cards[0].gas_flow_m3_per_s = 1e-4 + 1e-7 * k / 3.0;
        const Plan again = parse_plan(plan_toml(plan, *part), "again.plan.toml", *part, *shop);
        // A unit whose numbers are coarser than those of SI may miss the last bit.
        CHECK(again.cards[0].travel_m_per_s == doctest::Approx(plan.cards[0].travel_m_per_s).epsilon(1e-15));
        CHECK(again.cards[0].wire_feed_m_per_s == doctest::Approx(plan.cards[0].wire_feed_m_per_s).epsilon(1e-15));
        CHECK(again.cards[0].gas_flow_m3_per_s == doctest::Approx(plan.cards[0].gas_flow_m3_per_s).epsilon(1e-15));
    }
}

TEST_CASE("the card of a pass: tacks first, then joint, then group, plugs last") {
    const auto part = test::small_part();
    const auto card = [](std::vector<std::string> groups) {
        arc::SettingCard made;
        made.groups = std::move(groups);
        return made;
    };
    const int tack = part::find_pass(*part, "fillet/tack1"), run = part::find_pass(*part, "fillet/layer1/1"),
              plug = part::find_pass(*part, "pad/plug1");
    REQUIRE(tack >= 0);
    REQUIRE(run >= 0);
    REQUIRE(plug >= 0);
    const std::vector<arc::SettingCard> all{card({"heavy"}), card({"tacks"}), card({"plugs"}), card({"pad"})};
    CHECK(choose_card(*part, tack, all) == 1);
    CHECK(choose_card(*part, run, all) == 0);
    CHECK(choose_card(*part, plug, all) == 3);
    CHECK(choose_card(*part, tack, {card({"fillet"})}) == 0);
    CHECK(choose_card(*part, plug, {card({"heavy"}), card({"plugs"})}) == 1);
    CHECK(choose_card(*part, run, {card({"tacks"}), card({"plugs"})}) == -1);
}

TEST_CASE("a plan from the window is held to the same rule, wrong indices included") {
    const auto part = test::small_part();
    const auto shop = test::small_shop();
    Plan plan = parsed("");
    CHECK(check_plan(plan, *part, *shop).empty());
    plan.moves = {{WeldPass{99, false, 0}, 0}, {WeldPass{0, false, 7}, 0}, {Turn{-1}, 0},
                  {ClampMove{5, true}, 0},     {Wait{-1, {}}, 0},          {Turn{1}, 0}};
    plan.predictions = {{12, Sense::grows, 0}};
    const std::vector<PlanProblem> found = check_plan(plan, *part, *shop);
    REQUIRE(found.size() == 7);
    for (int k = 0; k < 6; ++k)
        CHECK(found[static_cast<std::size_t>(k)].move == k);
    CHECK(found[5].told.what.english() == "the part cannot be turned while clamp left holds it");
    CHECK(found[6].prediction == 0);
}

TEST_CASE("the state before a move is what the moves before it made") {
    const auto part = test::small_part();
    const Plan plan = parsed(whole_job);
    const JobState begin = state_before(plan, *part, 0);
    CHECK(begin.fixed == std::vector<bool>{true, false});
    CHECK(begin.pose == 0);
    const JobState end = state_before(plan, *part, plan.moves.size());
    CHECK(end.fixed == std::vector<bool>{false, false});
    CHECK(end.pose == 1);
    CHECK(std::ranges::all_of(end.welded, [](bool welded) { return welded; }));
    CHECK(obstacle({WeldPass{0, false, 0}, 0}, begin, *part, plan.cards.size()) == std::nullopt);
    CHECK(obstacle({WeldPass{0, false, 0}, 0}, end, *part, plan.cards.size())->what.english() ==
          "pass fillet/tack1 is welded twice");
}

TEST_CASE("a starting plan welds every pass of every shipped part, and can be carried out") {
    const std::filesystem::path assets = std::filesystem::path(HOLDTRUE_SOURCE_DIR) / "assets";
    const auto shop = arc::read_shop(assets / "shops/rookwood.shop.toml");
    int parts = 0;
    for (const auto& entry : std::filesystem::directory_iterator(assets / "parts")) {
        const auto part = part::read_part(entry.path());
        CAPTURE(part->name);
        const Plan plan = starting_plan(*part, *shop);
        CHECK(check_plan(plan, *part, *shop).empty());
        const JobState end = state_before(plan, *part, plan.moves.size());
        CHECK(std::ranges::all_of(end.welded, [](bool welded) { return welded; }));
        CHECK(plan_toml(plan, *part).find("e+") == std::string::npos); // numbers as people write them
        ++parts;
    }
    CHECK(parts >= 6);
}

TEST_CASE("plans to start from weld the joints that are asked for, with cards for them and no others") {
    const std::filesystem::path assets = std::filesystem::path(HOLDTRUE_SOURCE_DIR) / "assets";
    const auto shop = arc::read_shop(assets / "shops/rookwood.shop.toml");
    const auto part = part::read_part(assets / "parts/lift_arm.part.toml");
    std::vector<bool> joints; // seams and doubler, no bushes
    for (const part::Joint& joint : part->joints)
        joints.push_back(joint.card_group != "bushes");
    for (const Plan& plan : {starting_plan(*part, *shop, joints), middling_plan(*part, *shop, joints),
                             proposed_plan(*part, *shop, arc::RuleBook::read(), joints).plan}) {
        CHECK(check_plan(plan, *part, *shop).empty());
        const JobState end = state_before(plan, *part, plan.moves.size());
        for (std::size_t k = 0; k < part->passes.size(); ++k)
            CHECK(static_cast<bool>(end.welded[k]) == joints[static_cast<std::size_t>(part->passes[k].joint)]);
        for (const arc::SettingCard& card : plan.cards)
            CHECK(std::ranges::find(card.groups, "bushes") == card.groups.end());
    }
}

// No weld of a plan that anybody may have without having set anything keeps all rules; with the middling card most
// welds of the frame do.
TEST_CASE("a starting plan gives no joint's settings away") {
    const arc::RuleBook rules = arc::RuleBook::read();
    const auto share_that_keeps_rules = [&](const Plan& plan, const part::Part& part, const arc::Shop& shop) {
        int welds = 0, kept = 0;
        for (const Move& move : plan.moves)
            if (const auto* weld = std::get_if<WeldPass>(&move.what)) {
                const part::Pass& pass = part.passes[static_cast<std::size_t>(weld->pass)];
                const part::Joint& joint = part.joints[static_cast<std::size_t>(pass.joint)];
                const auto& card = plan.cards[static_cast<std::size_t>(weld->card)];
                ++welds;
                kept += arc::worst(rules.judge(card, shop, arc::section_of(part, joint))) == arc::Verdict::pass;
            }
        return double(kept) / welds;
    };
    const std::filesystem::path assets = std::filesystem::path(HOLDTRUE_SOURCE_DIR) / "assets";
    for (const auto& shop_entry : std::filesystem::directory_iterator(assets / "shops"))
        for (const auto& entry : std::filesystem::directory_iterator(assets / "parts")) {
            const auto part = part::read_part(entry.path());
            const auto shop = arc::read_shop(shop_entry.path());
            CAPTURE(part->name);
            CAPTURE(shop->name);
            CHECK(share_that_keeps_rules(starting_plan(*part, *shop), *part, *shop) == 0);
            if (part->name == "rail_frame" && shop->name == "rookwood")
                CHECK(share_that_keeps_rules(middling_plan(*part, *shop), *part, *shop) > 0.5);
        }
}

TEST_CASE(
    "a proposed plan breaks no rule on any shipped part, but where it says that none is met, and can be carried out") {
    const std::filesystem::path assets = std::filesystem::path(HOLDTRUE_SOURCE_DIR) / "assets";
    const auto shop = arc::read_shop(assets / "shops/rookwood.shop.toml");
    const arc::RuleBook rules = arc::RuleBook::read();
    for (const auto& entry : std::filesystem::directory_iterator(assets / "parts")) {
        const auto part = part::read_part(entry.path());
        CAPTURE(part->name);
        const ProposedPlan proposed = proposed_plan(*part, *shop, rules);
        CHECK(check_plan(proposed.plan, *part, *shop).empty());
        CHECK(plan_toml(proposed.plan, *part).find("00000") == std::string::npos); // numbers as people write them
        CHECK(proposed.plan.moves.size() == starting_plan(*part, *shop).moves.size());
        for (const Move& move : proposed.plan.moves)
            if (const auto* weld = std::get_if<WeldPass>(&move.what)) {
                const part::Pass& pass = part->passes[static_cast<std::size_t>(weld->pass)];
                const part::Joint& joint = part->joints[static_cast<std::size_t>(pass.joint)];
                CAPTURE(joint.name);
                const bool is_unmet = std::ranges::find(proposed.unmet, joint.card_group) != proposed.unmet.end();
                const auto& card = proposed.plan.cards[static_cast<std::size_t>(weld->card)];
                CHECK((is_unmet ||
                       arc::worst(rules.judge(card, *shop, arc::section_of(*part, joint))) != arc::Verdict::fail));
            }
    }
}
