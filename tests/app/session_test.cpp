// The session without a window: what can be done, what cannot and why, files, recovery, marks and previews.
#include "app/session/action_text.h"
#include "app/session/session.h"
#include "exercises.h"
#include "grading/grade.h"
#include "weld/read_plan.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <fstream>

using namespace holdtrue;
using namespace holdtrue::app;
using app::test::Desk;
using app::test::finish;
using app::test::passes_of;
using app::test::shipped;

namespace {

void write(const std::filesystem::path& file, const std::string& text) { std::ofstream(file) << text; }

} // namespace

TEST_CASE("without an exercise every action that needs one says so and changes nothing") {
    const Desk bench("empty");
    Session session(bench.places);
    for (const Action& action : {Action(act::WeldNext{0}), Action(act::StartWeld{}), Action(act::AddTurn{0}),
                                 Action(act::ChooseCard{0}), Action(act::Fit{}), Action(act::Save{})}) {
        CHECK(session.why_not(action).has_value());
        session.apply(action);
        CHECK_FALSE(session.has_exercise());
        CHECK(session.news().has_value());
    }
}

TEST_CASE("every shipped exercise is listed, opens, and starts with a card for every joint") {
    const Desk bench("shipped");
    Session session(bench.places);
    REQUIRE(session.exercises().size() >= 6);
    for (std::size_t k = 1; k < session.exercises().size(); ++k)
        CHECK(session.exercises()[k - 1].level <= session.exercises()[k].level);
    for (const ShippedExercise& exercise : session.exercises()) {
        session.apply(act::Open{exercise.file});
        INFO(exercise.name);
        REQUIRE(session.has_exercise());
        CHECK(session.problems().empty());
        CHECK(session.exercise().title == exercise.title);
        CHECK(session.plan_problems().empty());
        for (std::size_t p = 0; p < session.part().passes.size(); ++p) {
            session.apply(act::ChoosePass{static_cast<int>(p)});
            CHECK(session.view().pass == static_cast<int>(p));
        }
    }
}

TEST_CASE("why a pass cannot be welded is told in words, not as a line of a plan file") {
    const Desk bench("words_of_obstacles");
    Session session(bench.places);
    int told = 0;
    for (const ShippedExercise& exercise : session.exercises()) {
        session.apply(act::Open{exercise.file});
        for (std::size_t pass = 0; pass < session.part().passes.size(); ++pass)
            if (const auto why = session.why_not(act::WeldNext{static_cast<int>(pass)})) {
                ++told;
                CHECK_MESSAGE(why->english().find('=') == std::string::npos, why->english());
            }
    }
    CHECK(told > 0);
}

TEST_CASE("every index out of range is refused") {
    const Desk bench("range");
    Session session(bench.places);
    session.apply(act::Open{shipped("lift_arm.exercise.toml")});
    for (const int index : {-2, 100000})
        for (const Action& action :
             {Action(act::WeldNext{index}), Action(act::AddTurn{index}), Action(act::AddClamp{index, true}),
              Action(act::RemoveMove{index}), Action(act::ReverseMove{index}), Action(act::ShiftMove{index, 0}),
              Action(act::SetMoveCard{index, 0}), Action(act::ChooseCard{index}), Action(act::ChooseJoint{index}),
              Action(act::Predict{index, weld::Sense::grows}), Action(act::SetWait{index, 5, 0}),
              Action(act::LayOut{{index}, part::PassKind::run, Pattern::along})}) {
            CHECK(session.why_not(action).has_value());
            session.apply(action);
        }
    CHECK(session.plan().moves.empty());
}

TEST_CASE("a broken file is told with its line and leaves the bench as it was") {
    const Desk bench("broken");
    Session session(bench.places);
    session.apply(act::Open{shipped("tee_coupon.exercise.toml")});
    const std::string title = session.exercise().title;
    const auto file = bench.places.configuration / "bad.plan.toml";
    write(file, "title = \"bad\"\nexercise = \"" + shipped("tee_coupon.exercise.toml").string() +
                    "\"\n\n[[move]]\nweld = \"no such pass\"\n");
    session.apply(act::Open{file});
    REQUIRE_FALSE(session.problems().empty());
    // A plan without cards is told too.
    CHECK(std::ranges::any_of(session.problems(), [](const text::Problem& each) { return each.line == 5; }));
    CHECK(session.exercise().title == title);
    session.apply(act::DismissProblems{});
    CHECK(session.problems().empty());
    session.apply(act::Open{bench.places.configuration / "nothing.exercise.toml"});
    CHECK_FALSE(session.problems().empty());
    session.apply(act::Open{bench.places.configuration / "picture.png"});
    CHECK(session.exercise().title == title);
}

TEST_CASE("a plan saved in the window reads back as the same moves") {
    const Desk bench("save");
    Session session(bench.places);
    session.apply(act::Open{shipped("lift_arm.model.plan.toml")});
    REQUIRE(session.has_exercise());
    const auto passes = passes_of(session.plan());
    REQUIRE(passes.size() > 20);
    session.apply(act::AddWait{33, 0, -1});
    CHECK(session.unsaved());
    session.apply(act::SaveAs{bench.places.configuration / "mine"});
    CHECK_FALSE(session.unsaved());
    const auto file = bench.places.configuration / "mine.plan.toml";
    REQUIRE(std::filesystem::exists(file));
    Session other(bench.places);
    other.apply(act::Open{file});
    REQUIRE(other.problems().empty());
    CHECK(passes_of(other.plan()) == passes);
    CHECK(std::get<weld::Wait>(other.plan().moves.back().what).time_s == 33);
    CHECK(other.preferences().recent.front() == file);
}

TEST_CASE("what was not saved is there after a crash, and gone after a proper end") {
    const Desk bench("crash");
    {
        Session session(bench.places);
        session.apply(act::Open{shipped("tee_coupon.exercise.toml")});
        session.apply(act::WeldNext{0});
        session.rest();
        // No Quit: the program dies here.
    }
    {
        Session session(bench.places);
        REQUIRE(session.question() == Question::recover);
        session.apply(act::Recover{});
        REQUIRE(session.problems().empty());
        REQUIRE(session.plan().moves.size() == 1);
        CHECK(session.unsaved());
        session.apply(act::Quit{});
        CHECK(session.question() == Question::save_first);
        CHECK_FALSE(session.should_close());
        session.apply(act::Quit{true});
        CHECK(session.should_close());
    }
    Session session(bench.places);
    CHECK(session.question() == Question::none);
}

TEST_CASE("preferences last") {
    const Desk bench("preferences");
    {
        Session session(bench.places);
        session.apply(act::SetUnits{units::System::imperial});
        session.apply(act::SetLanguage{Language::spanish});
        session.apply(act::SetShade{Shade::dark});
        session.apply(act::SetScale{1.5});
        session.apply(act::SetScale{9});
        session.apply(act::SetWindowSize{{1500, 900}});
    }
    const Session session(bench.places);
    CHECK(session.preferences().units == units::System::imperial);
    CHECK(session.preferences().language == Language::spanish);
    CHECK(session.preferences().shade == Shade::dark);
    CHECK(session.preferences().scale == 1.5);
}

TEST_CASE("the window opens as it was left, on a smaller screen no larger than that, and as asked for before all") {
    const Desk bench("window_size");
    {
        Session session(bench.places);
        session.apply(act::SetWindowSize{{1500, 900}});
    }
    const Preferences left = Session(bench.places).preferences();
    CHECK(window_size({}, left, {}) == WindowSize{1500, 900});
    CHECK(window_size({}, left, {1920, 1080}) == WindowSize{1500, 900});
    CHECK(window_size({}, left, {1366, 740}) == WindowSize{1366, 740});
    CHECK(window_size({1600, 0}, left, {1366, 740}) == WindowSize{1600, 740});
    CHECK(window_size({}, Preferences(), {}) == WindowSize{1280, 800});
}

TEST_CASE("the mark in the window is the mark of the plan's own file") {
    const Desk bench("mark");
    Session session(bench.places);
    session.apply(act::Open{shipped("tee_coupon.model.plan.toml")});
    REQUIRE(session.problems().empty());
    session.apply(act::StartWeld{});
    finish(session);
    REQUIRE(session.marked());
    CHECK(session.marked_is_current());
    const grading::Exercise& exercise = session.exercise();
    const weld::Plan plan = weld::read_plan(shipped("tee_coupon.model.plan.toml"), *exercise.part, *exercise.shop);
    const auto outcome = weld::simulate(exercise.part, exercise.shop, plan);
    CHECK(session.marked()->mark.total == grading::grade(exercise, *outcome).total);

    // A change makes it the mark of another plan; undo brings it back.
    session.apply(act::AddWait{10, 0, -1});
    CHECK_FALSE(session.marked_is_current());
    session.apply(act::Undo{});
    CHECK(session.marked_is_current());

    session.apply(act::SetTime{1e9});
    CHECK(session.view().time_s == session.marked()->outcome->total_s);
    session.apply(act::StepMove{-1});
    CHECK(session.view().time_s == session.marked()->outcome->moves.back().start_s);
    session.apply(act::SetTime{0});
    session.apply(act::SetSpeed{100});
    session.apply(act::Play{});
    session.advance(0.5);
    CHECK(session.view().time_s == doctest::Approx(50));
}

TEST_CASE("in other units the mark says the same in time, and until then says it as before") {
    const Desk bench("units");
    Session session(bench.places);
    session.apply(act::Open{shipped("tee_coupon.too_hot.plan.toml")});
    session.apply(act::StartWeld{});
    finish(session);
    REQUIRE(session.marked());
    const auto outcome = session.marked()->outcome;
    const auto said_in = [&](units::System system) {
        const grading::Mark wanted = grading::grade(session.exercise(), *session.marked()->outcome, system);
        const grading::Mark& mark = session.marked()->mark;
        REQUIRE(mark.remarks.size() == wanted.remarks.size());
        CHECK(mark.total == wanted.total);
        return std::ranges::equal(mark.remarks, wanted.remarks, [](const auto& one, const auto& other) {
            return one.measured == other.measured && one.limit == other.limit && one.try_this == other.try_this;
        });
    };
    using enum units::System;
    REQUIRE(said_in(metric));
    REQUIRE_FALSE(said_in(imperial));
    // What asks for other units does not do the work itself.
    session.apply(act::SetUnits{imperial});
    CHECK(said_in(metric));
    session.take_finished();
    CHECK_FALSE(session.worker().busy_with_weld());
    finish(session);
    CHECK(said_in(imperial));
    CHECK(session.marked()->outcome == outcome);
    CHECK(session.marked_is_current());
    CHECK_FALSE(session.take_finished()); // and that is all
    CHECK_FALSE(session.worker().busy());

    // A change of the plan goes first; the words come after its preview.
    session.apply(act::SetUnits{metric});
    session.take_finished();
    session.apply(act::AddWait{10, 0, -1});
    finish(session);
    REQUIRE(session.preview_is_rough());
    for (int jobs = 0; jobs < 5 && session.worker().busy(); ++jobs)
        finish(session);
    CHECK(session.preview_is_current());
    CHECK_FALSE(session.preview_is_rough());
    CHECK(said_in(metric));
    CHECK_FALSE(session.marked_is_current());

    // The mark of a weld that is under way comes in the units that are asked for meanwhile.
    session.apply(act::StartWeld{});
    session.apply(act::SetUnits{imperial});
    for (int jobs = 0; jobs < 5 && session.worker().busy(); ++jobs)
        finish(session);
    REQUIRE(session.marked()->outcome != outcome);
    CHECK(said_in(imperial));
}

TEST_CASE("trying again goes to the bench of the gravest remark, and a remark leads to what it speaks of") {
    const Desk bench("again");
    Session session(bench.places);
    CHECK(session.why_not(act::FollowRemark{0}).has_value());
    bool earlier = false;
    for (const char* plan :
         {"tee_coupon.too_cold.plan.toml", "tee_coupon.model.plan.toml", "tee_coupon.one_side.plan.toml"}) {
        INFO(plan);
        session.apply(act::Open{shipped(plan)});
        session.apply(act::StartWeld{});
        finish(session);
        REQUIRE(session.marked());
        const std::vector<grading::Remark> remarks = session.marked()->mark.remarks;
        session.apply(act::TryAgain{});
        const bool leads_to_card = !remarks.empty() && remarks[0].aspect == grading::Aspect::settings &&
                                   remarks[0].verdict != grading::Verdict::pass;
        CHECK(session.view().bench == (leads_to_card ? Bench::setup : Bench::order));
        CHECK((session.kept() != nullptr) == earlier); // every weld stays beside the next one
        earlier = true;
        for (std::size_t k = 0; k < remarks.size(); ++k) {
            session.apply(act::FollowRemark{static_cast<int>(k)});
            if (remarks[k].card >= 0)
                CHECK(session.view().card == remarks[k].card);
            if (remarks[k].gauge >= 0)
                CHECK(session.view().gauge == remarks[k].gauge);
            if (remarks[k].move >= 0)
                CHECK(session.view().move == remarks[k].move);
        }
        CHECK(session.why_not(act::FollowRemark{static_cast<int>(remarks.size())}).has_value());
        if (std::string(plan) == "tee_coupon.too_cold.plan.toml")
            CHECK(leads_to_card); // its settings are what is wrong with it
    }
}

TEST_CASE("Check proposes settings that keep every rule, over the whole window it names") {
    const Desk bench("propose");
    Session session(bench.places);
    CHECK(session.why_not(act::ProposeQuick{}).has_value());
    session.apply(act::ShowBench{Bench::check});
    session.apply(act::ProposeQuick{});
    REQUIRE(session.quick_window());
    const auto fails = [&] {
        return std::ranges::count(session.quick_check()->findings, arc::Verdict::fail, &arc::Finding::verdict);
    };
    REQUIRE(session.quick_check());
    CHECK(fails() == 0);
    const arc::Window window = *session.quick_window();
    const QuickCard quick = *session.quick_card();
    CHECK(quick.card.volts_v == window.card.volts_v);
    for (const double volts : {window.volts.low.value, window.volts.high.value})
        for (const double feed : {window.drive.low.value, window.drive.high.value})
            for (const double travel : {window.travel.low.value, window.travel.high.value}) {
                arc::SettingCard card = quick.card;
                card.volts_v = volts;
                card.wire_feed_m_per_s = feed;
                card.travel_m_per_s = travel;
                session.apply(act::QuickCheck{card, quick.section});
                CHECK(fails() == 0);
                CHECK(session.quick_window()); // still of this joint
            }
    arc::Section thicker = quick.section;
    thicker.thickness_a_m *= 2;
    session.apply(act::QuickCheck{quick.card, thicker});
    CHECK_FALSE(session.quick_window());
}

TEST_CASE("the usual aim goes with the thicknesses until another is set, and a joint without a setting says why") {
    const Desk bench("aim");
    Session session(bench.places);
    session.apply(act::ShowBench{Bench::check});
    REQUIRE(session.quick_card());
    QuickCard quick = *session.quick_card();
    CHECK(quick.card.aim == arc::usual_aim(quick.section));
    quick.section.thickness_a_m = 0.012;
    quick.section.thickness_b_m = 0.003;
    session.apply(act::QuickCheck{quick.card, quick.section});
    CHECK(session.quick_card()->card.aim > 0.55); // the thick one takes more of the arc (rule unequal.aim)
    quick.card.aim = 0.4;
    session.apply(act::QuickCheck{quick.card, quick.section});
    CHECK(session.quick_card()->card.aim == 0.4);
    quick.section.thickness_a_m = 0.010;
    session.apply(act::QuickCheck{quick.card, quick.section});
    CHECK(session.quick_card()->card.aim == 0.4);
    session.apply(act::ProposeQuick{});
    CHECK_FALSE(session.quick_window());
    REQUIRE(session.news());
    CHECK(session.news()->english().find("share of the arc on the thicker member") != std::string::npos);
}

TEST_CASE("a preview comes after every change of the plan, and a weld can be cancelled") {
    const Desk bench("preview");
    Session session(bench.places);
    session.apply(act::Open{shipped("tee_coupon.exercise.toml")});
    session.apply(act::WeldNext{0});
    finish(session);
    REQUIRE(session.preview_is_current());
    CHECK(session.preview()->moves.size() == 1);
    session.apply(act::AddWait{30, 0, -1});
    CHECK_FALSE(session.preview_is_current());
    finish(session);
    CHECK(session.preview_is_current());
    session.apply(act::StartWeld{});
    session.apply(act::CancelWeld{});
    finish(session);
    CHECK(session.marked() == nullptr);
    // What a change of the plan has cancelled does not stand in the way of the next weld.
    session.apply(act::StartWeld{});
    CHECK(session.why_not(act::StartWeld{}));
    session.apply(act::AddWait{30, 0, -1});
    CHECK_FALSE(session.why_not(act::StartWeld{}));
    session.apply(act::CancelWeld{});
    finish(session);
}

TEST_CASE("after the glance on a coarse mesh the preview finds each pass as warm as the weld will") {
    const Desk bench("as_warm");
    Session session(bench.places);
    session.apply(act::Open{shipped("tee_coupon.model.plan.toml")});
    do
        finish(session);
    while (!session.preview_is_current() || session.preview_is_rough());
    const auto preview = session.preview();
    session.apply(act::StartWeld{});
    finish(session);
    REQUIRE(session.marked());
    const weld::Outcome& welded = *session.marked()->outcome;
    REQUIRE(preview->moves.size() == welded.moves.size());
    for (std::size_t m = 0; m < welded.moves.size(); ++m)
        CHECK(preview->moves[m].interpass_k == doctest::Approx(welded.moves[m].interpass_k).epsilon(1e-9));
}

TEST_CASE("actions have a written form, what is wrong with a line is told with its number") {
    const Desk bench("text");
    Session session(bench.places);
    CHECK(split_words("open 'a b' \"c\" d # e") == std::vector<std::string>{"open", "a b", "c", "d"});
    session.apply(act::Open{shipped("tee_coupon.exercise.toml")});
    const auto parse = [&](const std::string& line) { return parse_action(split_words(line), session, "s", 7); };
    session.apply(parse("weld left/tack1"));
    session.apply(parse("wait_until 60C"));
    REQUIRE(session.plan().moves.size() == 2);
    CHECK(std::get<weld::Wait>(session.plan().moves[1].what).until_below_k == doctest::Approx(333.15));
    for (const char* line : {"wield left/1", "weld nothing", "weld", "wait soon", "bench kitchen"})
        try {
            parse(line);
            FAIL(line);
        } catch (const text::InputError& error) {
            CHECK(error.problems()[0].line == 7);
            CHECK_FALSE(error.problems()[0].fix.empty());
        }
    CHECK(action_verbs().size() > 40);
}
