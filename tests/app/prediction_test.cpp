// Predictions are part of the mark, not of what is simulated: they are told of before the weld, can be made until it is
// simulated, and leave the simulation alone.
#include "exercises.h"
#include "grading/grade.h"
#include "screen.h"

#include <doctest/doctest.h>

using namespace holdtrue;
using namespace holdtrue::app;
using app::test::Desk;
using app::test::Screen;
using app::test::shipped;

namespace {

// Until nothing is left to be done; whether all of it was marking alone.
bool only_marks(Session& session) {
    bool only = true;
    while (session.worker().busy()) {
        only = only && session.worker().share() == 1;
        std::this_thread::sleep_for(std::chrono::milliseconds(1));
        session.take_finished();
    }
    session.take_finished();
    return only;
}

double points_by_hand(const Session& session) {
    const grading::Exercise& exercise = session.exercise();
    return grading::grade(exercise, *weld::simulate(exercise.part, exercise.shop, session.plan())).total;
}

} // namespace

TEST_CASE("a prediction made while the weld is simulated counts in its mark") {
    const Desk desk("predict_late");
    Session session(desk.places);
    session.apply(act::Open{shipped("tee_coupon.model.plan.toml")});
    const weld::Sense said = session.plan().predictions.front().sense;
    const weld::Sense other = said == weld::Sense::grows ? weld::Sense::shrinks : weld::Sense::grows;
    session.apply(act::StartWeld{});
    session.apply(act::Predict{0, other});
    test::finish(session); // the weld, as it was predicted before
    CHECK(session.marked() == nullptr);
    only_marks(session);
    REQUIRE(session.marked_is_current());
    CHECK(session.marked()->outcome->plan.predictions.front().sense == other);
    CHECK(session.marked()->mark.total == points_by_hand(session));
    CHECK(session.view().bench == Bench::weld);
    CHECK(session.kept() == nullptr);

    // Taken back, it is the mark of another plan; but what the part did is known by then.
    session.apply(act::Undo{});
    CHECK_FALSE(session.marked_is_current());
    CHECK(session.why_not(act::Predict{0, said}).has_value());
    session.apply(act::Redo{});
    CHECK(session.marked_is_current());
}

TEST_CASE("a plan that comes back by hand to what was seen is predicted as it was before that") {
    const Desk desk("predict_by_contents");
    Session session(desk.places);
    session.apply(act::Open{shipped("tee_coupon.model.plan.toml")});
    const auto sense = [&] { return session.plan().predictions.front().sense; };
    const weld::Sense said = sense(), other = said == weld::Sense::grows ? weld::Sense::shrinks : weld::Sense::grows;
    const auto set_volts = [&](double volts_v, const std::string& field) {
        arc::SettingCard card = session.plan().cards.front();
        card.volts_v = volts_v;
        session.apply(act::ChangeCard{0, card, field});
    };
    const double volts_v = session.plan().cards.front().volts_v;
    session.apply(act::StartWeld{});
    test::finish(session);
    REQUIRE(session.marked_is_current());
    const double points = session.marked()->mark.total;

    set_volts(volts_v + 1, "volts");
    REQUIRE_FALSE(session.why_not(act::Predict{0, other}).has_value()); // another plan, not seen
    session.apply(act::Predict{0, other});
    set_volts((volts_v * 60) / 60 * (1 + 1e-15), "volts");
    CHECK(session.why_not(act::Predict{0, other}).has_value());
    CHECK(session.predictions_left() == 0);
    CHECK(sense() == said);
    session.apply(act::StartWeld{});
    only_marks(session);
    REQUIRE(session.marked_is_current());
    CHECK(session.marked()->mark.total == doctest::Approx(points).epsilon(1e-9));

    // What was predicted of the other plan is not lost by the way through this one; it counts for that.
    set_volts(volts_v + 1, "volts again");
    CHECK(sense() == other);
    session.apply(act::StartWeld{});
    test::finish(session);
    REQUIRE(session.marked_is_current());
    // Two welds ago, and its card is called otherwise: it has been seen all the same.
    arc::SettingCard card = session.plan().cards.front();
    card.name = "another name";
    card.volts_v = volts_v;
    session.apply(act::ChangeCard{0, card, "name"});
    CHECK(session.why_not(act::Predict{0, other}).has_value());
    CHECK(sense() == said);
    // From its file too; for somebody else at the bench it is new.
    session.apply(act::Open{shipped("tee_coupon.model.plan.toml")});
    CHECK(session.why_not(act::Predict{0, other}).has_value());
    session.apply(act::AddTrainee{"Ada Reyes"}); // who was at the bench all the time
    CHECK(session.why_not(act::Predict{0, other}).has_value());
    session.apply(act::AddTrainee{"Ben Okafor"});
    CHECK_FALSE(session.why_not(act::Predict{0, other}).has_value());
}

TEST_CASE("what is welded already is not simulated again for a hint, and its mark counts it") {
    const Desk desk("hint_after");
    Session session(desk.places);
    session.apply(act::Open{shipped("tee_coupon.model.plan.toml")});
    session.apply(act::StartWeld{});
    test::finish(session);
    REQUIRE(session.marked_is_current());
    const double before = session.marked()->mark.total;
    session.apply(act::TakeHint{});
    CHECK_FALSE(session.marked_is_current());
    session.apply(act::StartWeld{});
    CHECK(only_marks(session));
    REQUIRE(session.marked_is_current());
    CHECK(session.marked()->mark.total < before);
    CHECK(session.marked()->mark.total == points_by_hand(session));
    CHECK(session.kept() == nullptr); // the same weld
}

TEST_CASE("a prediction leaves the preview of the heat as it is") {
    const Desk desk("predict_preview");
    Session session(desk.places);
    session.apply(act::Open{shipped("tee_coupon.exercise.toml")});
    session.apply(act::WeldNext{0});
    while (!session.preview_is_current() || session.preview_is_rough())
        test::finish(session);
    session.apply(act::Predict{0, weld::Sense::grows});
    CHECK(session.preview_is_current());
    CHECK_FALSE(session.worker().busy());
    CHECK(session.unsaved());
}

TEST_CASE("gauges without a prediction are counted, and the key that welds goes by the bench that tells of them") {
    const Desk desk("predictions_left");
    Screen screen(desk.places);
    screen.open(shipped("tee_coupon.model.plan.toml"));
    CHECK(screen.session.predictions_left() == 0);
    screen.open(shipped("lift_arm.exercise.toml")); // with the most gauges
    screen.press_key('4');
    screen.frames(2);
    CHECK(screen.find("Weld the plan")->in_sight); // below what is told of them
    screen.open(shipped("tee_coupon.exercise.toml"));
    const int gauges = static_cast<int>(screen.session.part().gauges.size());
    CHECK(screen.session.predictions_left() == gauges);
    screen.session.apply(act::WeldNext{0});
    screen.press_key('3');
    screen.press_key(GLFW_KEY_ENTER, true);
    CHECK(screen.session.view().bench == Bench::weld);
    CHECK_FALSE(screen.session.worker().busy_with_weld());
    screen.press_key(GLFW_KEY_ENTER, true); // told, and not in the way
    CHECK(screen.session.worker().busy_with_weld());
    screen.session.apply(act::CancelWeld{});
    for (int g = 0; g < gauges; ++g) {
        screen.session.apply(act::Predict{g, weld::Sense::grows});
        CHECK(screen.session.predictions_left() == gauges - 1 - g);
    }
    screen.press_key('3');
    screen.press_key(GLFW_KEY_ENTER, true);
    CHECK(screen.session.worker().busy_with_weld());
    screen.session.apply(act::CancelWeld{});
}
