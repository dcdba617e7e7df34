// The plan as the session changes it: passes, waits, the chosen move, patterns, undo and redo.
#include "app/session/plan_edit.h"
#include "app/session/session.h"
#include "exercises.h"
#include "grading/read_exercise.h"
#include "grading/variant.h"

#include <doctest/doctest.h>

#include <algorithm>

using namespace holdtrue;
using namespace holdtrue::app;
using app::test::Desk;
using app::test::passes_of;
using app::test::shipped;

TEST_CASE("a pass is appended once, the second click turns its direction round, undo goes back step by step") {
    const Desk bench("undo");
    Session session(bench.places);
    session.apply(act::Open{shipped("tee_coupon.exercise.toml")});
    const int tack = part::find_pass(session.part(), "left/tack1");
    REQUIRE(tack >= 0);
    session.apply(act::WeldNext{tack});
    REQUIRE(session.plan().moves.size() == 1);
    CHECK_FALSE(std::get<weld::WeldPass>(session.plan().moves[0].what).reversed);
    session.apply(act::WeldNext{tack});
    REQUIRE(session.plan().moves.size() == 1);
    CHECK(std::get<weld::WeldPass>(session.plan().moves[0].what).reversed);
    session.apply(act::AddWait{30, 0, -1});
    session.apply(act::ShiftMove{1, 0});
    CHECK(std::holds_alternative<weld::Wait>(session.plan().moves[0].what));

    session.apply(act::Undo{});
    CHECK(std::holds_alternative<weld::Wait>(session.plan().moves[1].what));
    session.apply(act::Undo{});
    session.apply(act::Undo{});
    CHECK_FALSE(std::get<weld::WeldPass>(session.plan().moves[0].what).reversed);
    session.apply(act::Undo{});
    CHECK(session.plan().moves.empty());
    CHECK(session.why_not(act::Undo{}).has_value());
    for (int k = 0; k < 4; ++k)
        session.apply(act::Redo{});
    CHECK(std::holds_alternative<weld::Wait>(session.plan().moves[0].what));
    CHECK(session.why_not(act::Redo{}).has_value());
}

TEST_CASE("what is not a weld goes where it is asked to go, and a move that is taken out leaves its neighbour chosen") {
    const Desk bench("behind");
    Session session(bench.places);
    session.apply(act::Open{shipped("tee_coupon.exercise.toml")});
    for (int pass = 0; pass < 3; ++pass)
        session.apply(act::WeldNext{pass});
    CHECK(session.view().move == 2);
    session.apply(act::AddWait{30, 0, 1});
    REQUIRE(session.plan().moves.size() == 4);
    CHECK(std::holds_alternative<weld::Wait>(session.plan().moves[1].what));
    CHECK(session.view().move == 1);
    session.apply(act::RemoveMove{1});
    CHECK(session.view().move == 1);
    CHECK(std::holds_alternative<weld::WeldPass>(session.plan().moves[1].what));
    session.apply(act::RemoveMove{0}); // the same move stays chosen
    CHECK(session.view().move == 0);
    session.apply(act::ChooseMove{1});
    session.apply(act::RemoveMove{1});
    CHECK(session.view().move == 0);
    session.apply(act::RemoveMove{0});
    CHECK(session.view().move == -1);
}

TEST_CASE("a wait goes before every run at once, but not before tacks, the first move, or where one stands") {
    const Desk bench("waits");
    Session session(bench.places);
    CHECK(session.why_not(act::WaitBeforeRuns{0, 400}).has_value());
    session.apply(act::Open{shipped("tee_coupon.exercise.toml")});
    const part::Part& part = session.part();
    for (const char* name : {"right/1", "left/tack1", "left/1", "left/2"})
        session.apply(act::WeldNext{part::find_pass(part, name)});
    session.apply(act::AddWait{30, 0, 3}); // before left/2
    CHECK(session.why_not(act::WaitBeforeRuns{0, 0}).has_value());
    session.apply(act::WaitBeforeRuns{0, 400});
    const std::vector<weld::Move>& moves = session.plan().moves;
    REQUIRE(moves.size() == 6);
    CHECK(std::get<weld::Wait>(moves[2].what).until_below_k == 400);
    CHECK(std::get<weld::Wait>(moves[4].what).time_s == 30);
    CHECK(session.why_not(act::WaitBeforeRuns{0, 400}).has_value());
    session.apply(act::Undo{});
    CHECK(session.plan().moves.size() == 5);
}

TEST_CASE("passes that the exercise does not ask for are not left to weld") {
    const grading::Exercise seams = grading::read_exercise(shipped("lift_arm_seams.exercise.toml"));
    weld::Plan plan = grading::read_plan_for(seams, shipped("lift_arm_seams.model.plan.toml"));
    CHECK(task_passes(seams, plan).left == 0);
    CHECK(task_passes(seams, plan).all == 36); // 14 tacks, 18 runs, 4 plugs
    plan.moves.clear();
    CHECK(task_passes(seams, plan).left == 36);
    CHECK(task_passes(grading::read_exercise(shipped("lift_arm.exercise.toml")), plan).left == 60);
}

TEST_CASE("the pass that is chosen is that of the chosen move, whatever becomes of the plan") {
    const Desk bench("chosen_pass");
    Session session(bench.places);
    session.apply(act::Open{shipped("tee_coupon.exercise.toml")});
    for (int pass = 0; pass < 3; ++pass)
        session.apply(act::WeldNext{pass});
    session.apply(act::ChooseMove{1});
    CHECK(session.view().pass == 1);
    session.apply(act::AddWait{30, 0, 2});
    CHECK(session.view().move == 2);
    CHECK(session.view().pass == -1);
    session.apply(act::Undo{}); // the move that takes its number is another
    CHECK(session.view().move == -1);
    CHECK(session.view().pass == -1);
    session.apply(act::Redo{});
    session.apply(act::ChooseMove{3});
    CHECK(session.view().pass == 2);
    session.apply(act::Undo{}); // it goes on being chosen under its other number
    CHECK(session.view().move == 2);
    CHECK(session.view().pass == 2);
    session.apply(act::ChoosePass{0});
    CHECK(session.view().move == 0);
    session.apply(act::ChoosePass{3}); // which the plan has not
    CHECK(session.view().move == -1);
    session.apply(act::ChooseMove{2});
    session.apply(act::RemoveMove{2});
    CHECK(session.view().move == 1);
    CHECK(session.view().pass == 1);
}

TEST_CASE("dragging one slider is one step back, two sliders are two") {
    const Desk bench("gesture");
    Session session(bench.places);
    session.apply(act::Open{shipped("tee_coupon.exercise.toml")});
    const double start_v = session.plan().cards[0].volts_v;
    arc::SettingCard card = session.plan().cards[0];
    for (int k = 1; k <= 5; ++k) {
        card.volts_v = start_v + 0.1 * k;
        session.apply(act::ChangeCard{0, card, "volts"});
    }
    card.travel_m_per_s += 0.001;
    session.apply(act::ChangeCard{0, card, "travel"});
    session.apply(act::Undo{});
    CHECK(session.plan().cards[0].volts_v == doctest::Approx(start_v + 0.5));
    session.apply(act::Undo{});
    CHECK(session.plan().cards[0].volts_v == start_v);
    CHECK_FALSE(session.can_undo());
}

TEST_CASE("backstep, skip, from the middle and by turns lay every pass of a joint once") {
    const Desk bench("patterns");
    Session session(bench.places);
    session.apply(act::Open{shipped("lap_strip.exercise.toml")});
    const part::Part& part = session.part();
    std::vector<int> runs;
    int joint = -1;
    for (std::size_t p = 0; p < part.passes.size(); ++p)
        if (part.passes[p].kind == part::PassKind::run) {
            if (joint < 0)
                joint = part.passes[p].joint;
            if (part.passes[p].joint == joint)
                runs.push_back(static_cast<int>(p));
        }
    REQUIRE(runs.size() >= 3);
    for (const Pattern pattern :
         {Pattern::along, Pattern::backstep, Pattern::skip, Pattern::middle_out, Pattern::alternate}) {
        const auto welds = laid_out(part, session.plan(), {joint}, part::PassKind::run, pattern);
        std::vector<int> laid;
        for (const weld::WeldPass& weld : welds)
            laid.push_back(weld.pass);
        std::ranges::sort(laid);
        CHECK(laid == runs);
    }
    const auto backstep = laid_out(part, session.plan(), {joint}, part::PassKind::run, Pattern::backstep);
    // Common practice, no source: each run goes against the way the joint grows.
    CHECK(std::ranges::all_of(backstep, [](const auto& weld) { return weld.reversed; }));
    CHECK(part.passes[static_cast<std::size_t>(backstep[0].pass)].from_m <
          part.passes[static_cast<std::size_t>(backstep[1].pass)].from_m);
    const auto skip = laid_out(part, session.plan(), {joint}, part::PassKind::run, Pattern::skip);
    CHECK(skip[1].pass != skip[0].pass + 1);
    session.apply(act::LayOut{{joint}, part::PassKind::run, Pattern::skip});
    CHECK(session.view().move == static_cast<int>(session.plan().moves.size()) - 1); // what follows goes behind it
    CHECK(passes_of(session.plan()).size() == runs.size());
    CHECK(session.why_not(act::LayOut{{joint}, part::PassKind::run, Pattern::skip}).has_value());
}
