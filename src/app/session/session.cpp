#include "app/session/session.h"

#include "app/scene/moment.h"
#include "app/scene/surface.h"
#include "arc/read_shop.h"
#include "text/assets.h"
#include "text/system_words.h"
#include "text/toml_reader.h"
#include "weld/choose_card.h"
#include "weld/save_plan.h"
#include "weld/starting_plan.h"

#include <algorithm>
#include <cstdlib>
#include <tuple>

namespace holdtrue::app {

namespace fs = std::filesystem;

namespace {

fs::path configuration_folder() {
    if (const char* base = std::getenv("XDG_CONFIG_HOME"); base && *base)
        return fs::path(base) / "holdtrue";
    if (const char* home = std::getenv("HOME"); home && *home)
        return fs::path(home) / ".config" / "holdtrue";
    return fs::temp_directory_path() / "holdtrue";
}

// Only what the list shows is read here; an exercise with a mistake is listed too, and told of when it is opened.
std::vector<ShippedExercise> exercises_in(const fs::path& folder) {
    std::vector<ShippedExercise> found;
    std::error_code ignored;
    for (const auto& entry : fs::recursive_directory_iterator(folder, ignored)) {
        if (!entry.path().string().ends_with(".exercise.toml"))
            continue;
        ShippedExercise shipped{entry.path(), entry.path().stem().stem().string(), {}};
        shipped.title = shipped.name;
        try {
            text::Document document = text::Document::read(entry.path());
            shipped.title = document.root().text("title", shipped.name);
            shipped.pass_mark = document.root().number("pass_mark", {0, 100}, grading::Exercise().pass_mark);
            shipped.level = document.root().integer("level", 1, 3, 1);
            shipped.place = document.root().integer("place", 1, 99, 99);
        } catch (const text::InputError&) { // listed by its file name
        }
        found.push_back(std::move(shipped));
    }
    const auto standing = [](const ShippedExercise& shipped) {
        return std::tie(shipped.level, shipped.place, shipped.name);
    };
    std::ranges::sort(found, [&](const auto& a, const auto& b) { return standing(a) < standing(b); });
    return found;
}

} // namespace

Places usual_places() {
    return {text::assets_folder(), text::lessons_folder(), configuration_folder(), record::default_path()};
}

Session::Session(Places places, std::function<void()> wake)
    : places_(std::move(places)), logbook_(places_.record), worker_(wake), among_study_(wake),
      class_study_(std::move(wake)) {
    guarded([&] { preferences_ = read_preferences(places_.configuration / "preferences.toml"); });
    exercises_ = exercises_in(places_.lessons);
    guarded([&] { logbook_.open_if_kept(); });
    std::error_code ignored;
    if (fs::exists(autosave_file(), ignored))
        question_ = Question::recover;
}

double Session::exaggeration() const {
    if (view_.exaggeration > 0)
        return view_.exaggeration;
    return marked_ ? scene::suggested_exaggeration(*marked_->outcome) : 1.0;
}

int Session::shown_pose() const {
    const bool shows_outcome = marked_ && (view_.bench == Bench::weld || view_.bench == Bench::inspect);
    if (!shows_outcome)
        return job_state_.pose;
    const weld::Outcome& outcome = *marked_->outcome;
    const int move = scene::moment_at(outcome, view_.time_s).move;
    return weld::state_before(outcome.plan, part(), static_cast<std::size_t>(move) + 1).pose;
}

void Session::guarded(const std::function<void()>& work) {
    try {
        work();
    } catch (const text::InputError& error) {
        problems_ = error.problems();
    } catch (const fs::filesystem_error& error) {
        problems_ = {{error.path1().string(), 0, text::system_words(error.code()),
                      worded("check the folder and that you may write it")}};
    }
}

const std::vector<weld::Prediction>* Session::predictions_held() const {
    return seen_.predictions(trainee_name(), *exercise_, plan());
}

int Session::predictions_left() const {
    const bool count = exercise_->weights.prediction > 0 && !predictions_held();
    return count ? static_cast<int>(part().gauges.size()) - static_cast<int>(plan().predictions.size()) : 0;
}

int Session::card_for(int pass) const { return std::max(weld::choose_card(part(), pass, plan().cards), 0); }

scene::Box Session::room_box() const {
    const Eigen::Matrix3d turned = scene::standing(part().poses[static_cast<std::size_t>(shown_pose())].up);
    scene::Box box;
    for (const part::Point& point : mesh_->position_m)
        box.add(turned * point);
    return box;
}

void Session::begin_plan(weld::Plan plan, bool saved) {
    worker_.cancel();
    worker_.take_finished(); // of another plan
    among_study_.cancel();
    among_orders_.reset();
    history_ = PlanHistory(std::move(plan));
    // A plan opened anew counts on from numbers no outcome has.
    saved_revision_ = saved ? history_.revision() : -1;
    autosaved_revision_ = history_.revision();
    keep_marked();
    preview_.reset();
    preview_work_ = simulated_work_ = -1;
    view_.pass = view_.move = view_.gauge = -1;
    view_.card = 0;
    view_.time_s = 0;
    view_.playing = false;
    count_hints();
    if (saved && question_ != Question::recover) { // what was on the bench before is given up
        std::error_code ignored;
        fs::remove(autosave_file(), ignored);
    }
    plan_changed();
}

weld::JobState Session::job_state_at(int move) const {
    const std::size_t count = plan().moves.size();
    const bool inside = move >= 0 && static_cast<std::size_t>(move) < count;
    return inside ? weld::state_before(plan(), part(), static_cast<std::size_t>(move)) : job_state_;
}

void Session::keep_marked() {
    if (marked_)
        kept_ = std::exchange(marked_, std::nullopt);
}

void Session::change_plan(weld::Plan plan, std::string gesture) {
    // What comes back to work whose outcome has been seen comes back to what was predicted of it.
    const std::vector<weld::Prediction>* held = seen_.predictions(trainee_name(), *exercise_, plan);
    history_.change(std::move(plan), std::move(gesture), held);
    plan_changed();
}

void Session::plan_changed() {
    const weld::Plan& plan = history_.plan();
    job_state_ = weld::state_before(plan, part(), plan.moves.size());
    plan_problems_ = weld::check_plan(plan, part(), shop());
    view_.card = std::clamp(view_.card, 0, std::max(static_cast<int>(plan.cards.size()) - 1, 0));
    keep_choice();
    view_.playing = false;
    check_chosen_card();
    if (std::exchange(simulated_work_, history_.work()) == history_.work())
        return;
    // What is under way is of the plan as it was, so the preview takes its place.
    if (plan_problems_.empty() && !plan.moves.empty())
        worker_.start({exercise_, plan, history_.revision(), history_.work(), Job::Kind::glance});
    else {
        worker_.cancel();
        preview_.reset();
    }
}

void Session::choose_move(int move) {
    view_.move = move;
    if (move < 0)
        return;
    const auto* weld = std::get_if<weld::WeldPass>(&plan().moves[static_cast<std::size_t>(move)].what);
    view_.pass = weld ? weld->pass : -1;
}

void Session::keep_choice() {
    if (view_.move < 0)
        return;
    if (view_.pass >= 0)
        view_.move = move_of_pass(plan(), view_.pass);
    else if (view_.move >= static_cast<int>(plan().moves.size()) ||
             std::holds_alternative<weld::WeldPass>(plan().moves[static_cast<std::size_t>(view_.move)].what))
        view_.move = -1;
}

std::vector<int> Session::card_joints() const {
    return joints_of(part(), plan().cards[static_cast<std::size_t>(view_.card)]);
}

void Session::check_chosen_card() {
    card_check_.reset();
    if (plan().cards.empty() || !rule_book_)
        return;
    const std::vector<int> joints = card_joints();
    if (joints.empty())
        return;
    if (std::ranges::find(joints, view_.joint) == joints.end())
        view_.joint = joints.front();
    const part::Joint& joint = part().joints[static_cast<std::size_t>(view_.joint)];
    card_check_ = check_card(*rule_book_, plan().cards[static_cast<std::size_t>(view_.card)], shop(),
                             arc::section_of(part(), joint), preferences_.units);
    if (card_check_)
        card_check_->joint = view_.joint;
}

const arc::Shop* Session::check_shop() const { return exercise_ ? exercise_->shop.get() : shipped_shop_.get(); }

void Session::check_quick_card() {
    quick_check_.reset();
    if (quick_card_ && rule_book_ && check_shop())
        quick_check_ =
            check_card(*rule_book_, quick_card_->card, *check_shop(), quick_card_->section, preferences_.units);
}

void Session::prepare_bench() {
    guarded([&] {
        if ((view_.bench == Bench::lessons || view_.bench == Bench::record) && lessons_.empty())
            lessons_ = lesson::read_lessons(places_.lessons);
        if (view_.bench == Bench::record)
            logbook_.open();
        if (view_.bench != Bench::check)
            return;
        if (!rule_book_)
            rule_book_ = arc::RuleBook::read(places_.assets / "rules");
        if (!check_shop())
            for (const auto& entry : fs::directory_iterator(places_.assets / "shops"))
                if (entry.path().string().ends_with(".shop.toml")) {
                    shipped_shop_ = arc::read_shop(entry.path());
                    break;
                }
        if (!quick_card_ && check_shop())
            quick_card_ = usual_quick_card(*check_shop());
        check_quick_card();
    });
}

void Session::save_preferences_now() {
    guarded([&] { save_preferences(preferences_, places_.configuration / "preferences.toml"); });
}

std::optional<Bench> bench_of(const grading::Remark& remark) {
    if (remark.card >= 0 && (remark.aspect == grading::Aspect::settings || remark.move < 0))
        return Bench::setup;
    return remark.move >= 0 ? std::optional(Bench::order) : std::nullopt;
}

weld::Plan fresh_plan(const grading::Exercise& exercise, const std::string& trainee) {
    weld::Plan plan;
    plan.title = exercise.title;
    plan.trainee = trainee;
    plan.cards = weld::unset_cards(*exercise.part, *exercise.shop);
    return plan;
}

} // namespace holdtrue::app
