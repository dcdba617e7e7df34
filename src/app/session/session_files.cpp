#include "app/session/session.h"
#include "grading/read_exercise.h"
#include "grading/variant.h"
#include "text/atomic_file.h"
#include "weld/read_plan.h"
#include "weld/save_plan.h"

#include <algorithm>
#include <utility>

namespace holdtrue::app {

namespace fs = std::filesystem;

namespace {

bool is_exercise(const fs::path& file) { return file.string().ends_with(".exercise.toml"); }

bool is_hand_in(const fs::path& file) { return file.string().ends_with(record::hand_in_ending); }

bool is_hand_out(const fs::path& file) { return file.string().ends_with(record::hand_out_ending); }

// What no longer fits has no line that a person could look at: the plan may not have been saved at all.
weld::Plan parse_again(const weld::Plan& plan, const part::Part& part, const grading::Exercise& exercise) {
    try {
        return weld::parse_plan(weld::plan_toml(plan, part), plan.file.string(), *exercise.part, *exercise.shop);
    } catch (const text::InputError& error) {
        std::vector<text::Problem> problems = error.problems();
        for (text::Problem& problem : problems) {
            problem.line = 0;
            problem.what = {worded("the plan on the bench no longer fits: {0}"), {problem.what}};
        }
        throw text::InputError(std::move(problems));
    }
}

bool is_plan(const fs::path& file) { return file.string().ends_with(".plan.toml"); }

} // namespace

fs::path Session::autosave_file() const { return places_.configuration / "unsaved.plan.toml"; }

bool Session::asks_first(const Action& action, bool even_unsaved) {
    if (even_unsaved || !unsaved() || plan().moves.empty())
        return false;
    question_ = Question::save_first;
    asked_about_ = action;
    return true;
}

void Session::go_on_if_saved() {
    if (question_ != Question::save_first || !asked_about_ || unsaved())
        return;
    question_ = Question::none;
    const Action action = *std::exchange(asked_about_, {});
    apply(action);
}

// Unpacked beside itself, once; opened where it was unpacked.
fs::path Session::exercise_in_hand_out(const fs::path& file) const {
    const record::Bundle bundle = record::read_bundle(file);
    const std::string name = file.filename().string();
    const fs::path folder = file.parent_path() / name.substr(0, name.size() - record::hand_out_ending.size());
    const fs::path exercise = folder / (bundle.exercise + ".exercise.toml");
    if (!fs::exists(exercise))
        record::write_files(bundle, folder);
    return exercise;
}

std::vector<Sentence> Session::unfinished() const {
    std::vector<Sentence> found;
    if (const TaskPasses passes = task_passes(exercise(), plan()); passes.left > 0)
        found.push_back({worded("Passes that are not in the plan yet: {0} of {1}."),
                         {std::to_string(passes.left), std::to_string(passes.all)}});
    for (const weld::PlanProblem& problem : plan_problems_)
        found.push_back({worded("{0}: {1}"), {problem.told.what, problem.told.fix}});
    return found;
}

void Session::hand_in(const fs::path& file, bool as_it_is) {
    weld::PlanHeading heading;
    heading.trainee = plan().trainee.empty() ? trainee_name() : plan().trainee;
    heading.variant = exercise_->variant;
    if (heading.trainee.empty())
        throw text::InputError({text::Problem{"", 0, worded("the plan names nobody who could hand it in"),
                                              worded("say in Record who is at the bench, then hand in")}});
    if (!as_it_is && !unfinished().empty()) {
        question_ = Question::hand_in_unfinished;
        asked_about_ = act::HandIn{file};
        return;
    }
    const int hints = plan_is_own() ? logbook_.hints_that_count(*exercise_, plan().hints, true) : plan().hints;
    text::write_atomically(file, record::bundle_bytes(record::hand_in(*exercise_, weld::plan_toml(plan(), part()),
                                                                      heading, hints, HOLDTRUE_VERSION)));
    news_ =
        Sentence{worded("Give your instructor this file, which holds the plan: {0}"), {fs::absolute(file).string()}};
}

void Session::open(const fs::path& named) {
    const fs::path file = fs::absolute(named); // the folder of the program may be another one later
    std::error_code ignored;
    if (fs::is_directory(file, ignored)) { // what can be in a folder is a class
        class_choice_.folder = file;
        if (class_choice_.exercise.empty() && exercise_)
            class_choice_.exercise = exercise_->file;
        view_.record_page = RecordPage::school_class;
        view_.bench = Bench::record;
        prepare_bench();
        return;
    }
    not_opened_ = file;
    if (is_hand_out(file)) {
        open(exercise_in_hand_out(file));
        return;
    }
    if (is_exercise(file)) {
        weld::PlanHeading heading;
        heading.trainee = trainee_name();
        set_exercise(grading::read_exercise_for(file, heading));
        begin_plan(fresh_plan(*exercise_, heading.trainee), true);
    } else if (is_plan(file)) {
        const fs::path exercise = weld::exercise_of(file);
        if (exercise.empty() && !exercise_)
            throw text::InputError(file.string(), 0, worded("the plan names no exercise, and none is on the bench"),
                                   worded("open the exercise first, then the plan"));
        begin_plan(take_up(file, exercise.empty() ? exercise_->file : exercise), true);
    } else if (is_hand_in(file)) {
        const std::string name = record::read_bundle(file).exercise;
        begin_plan(take_up(file, exercise_named(name, file), name), true);
    } else
        throw text::InputError(
            file.string(), 0, worded("is neither an exercise nor a plan"),
            worded("open a file that ends in .exercise.toml, .plan.toml, .handout.zip or .handin.zip"));
    not_opened_.clear();
    problems_.clear(); // of the file before
    watch_files();
    remember(preferences_, file);
    save_preferences_now();
}

fs::path Session::exercise_named(const std::string& name, const fs::path& wanted_by) const {
    if (exercise_ && exercise_->name == name)
        return exercise_->file;
    const auto found = std::ranges::find(exercises_, name, &ShippedExercise::name);
    if (found == exercises_.end())
        throw text::InputError(wanted_by.string(), 0, {worded("is for exercise {0}, which is not known here"), {name}},
                               worded("open the exercise first, then this"));
    return found->file;
}

weld::Plan Session::take_up(const fs::path& file, const fs::path& exercise, const std::string& name) {
    weld::Plan plan = take_up(record::read_submission(file, name), file, exercise);
    if (!is_plan(file))
        plan.file.clear(); // what was handed in is not overwritten
    return plan;
}

weld::Plan Session::take_up(const record::Submission& submission, const fs::path& told_as, const fs::path& exercise) {
    grading::Exercise asked = grading::read_exercise_for(exercise, submission.heading);
    weld::Plan plan = record::plan_of(submission, asked, told_as);
    std::error_code ignored;
    if (!(exercise_ && fs::equivalent(exercise, exercise_->file, ignored) && exercise_->variant == asked.variant))
        set_exercise(std::move(asked));
    return plan;
}

void Session::set_exercise(grading::Exercise asked) {
    if (!rule_book_)
        rule_book_ = arc::RuleBook::read(places_.assets / "rules");
    auto exercise = std::make_shared<const grading::Exercise>(std::move(asked));
    mesh_ = std::make_shared<const part::Mesh>(part::build_mesh(*exercise->part));
    exercise_ = std::move(exercise);
    opened_ms_ = record::now_ms();
    marked_.reset(); // of another exercise
    kept_.reset();
    const RecordPage page = view_.record_page;
    view_ = View();
    view_.record_page = page;
    scene::look_from(view_.camera, scene::StandardView::corner);
}

void Session::start_anew() {
    weld::PlanHeading heading;
    heading.trainee = trainee_name();
    grading::Exercise asked = grading::read_exercise_for(exercise_->file, heading);
    if (asked.variant != exercise_->variant) {
        const Bench bench = view_.bench;
        set_exercise(std::move(asked));
        view_.bench = bench;
    }
    begin_plan(fresh_plan(*exercise_, heading.trainee), true);
}

void Session::save(const fs::path& file) {
    weld::Plan plan = history_.plan();
    plan.exercise = fs::proximate(exercise_->file, fs::absolute(file).parent_path()).generic_string();
    weld::save_plan(plan, *exercise_->part, file);
    history_.set_file(file);
    saved_revision_ = history_.revision();
    watch_files(); // what was just written is no change
    remember(preferences_, file);
    save_preferences_now();
    std::error_code ignored;
    fs::remove(autosave_file(), ignored);
    news_ = Sentence{worded("Saved as {0}."), {file.filename().string()}};
}

void Session::rest() {
    if (!unsaved() || history_.revision() == autosaved_revision_ || question_ == Question::recover)
        return;
    autosaved_revision_ = history_.revision();
    guarded([&] {
        fs::create_directories(places_.configuration);
        weld::Plan plan = history_.plan();
        plan.exercise = fs::proximate(exercise_->file, places_.configuration).generic_string();
        weld::save_plan(plan, part(), autosave_file());
    });
}

void Session::watch_files() {
    std::vector<fs::path> files;
    if (exercise_)
        files = {exercise_->file, exercise_->part->file, exercise_->shop->file, history_.plan().file};
    // Of a file that could not be opened, those the mistakes are in: it is opened when they have been put right.
    if (!not_opened_.empty()) {
        files.push_back(not_opened_);
        for (const text::Problem& problem : problems_)
            files.emplace_back(problem.file);
    }
    watched_.watch(std::move(files));
}

bool Session::look_for_changed_files() {
    const std::vector<fs::path> changed = watched_.changed();
    if (changed.empty())
        return false;
    const auto has = [&](const fs::path& file) { return std::ranges::find(changed, file) != changed.end(); };
    const fs::path not_opened = not_opened_;
    problems_.clear();
    news_.reset();
    guarded([&] {
        if (!not_opened.empty())
            open(not_opened);
        else if (has(exercise_->file) || has(exercise_->part->file) || has(exercise_->shop->file))
            read_exercise_anew();
        else if (has(history_.plan().file))
            read_plan_anew();
        if (!news_)
            news_ =
                Sentence{worded("Read anew, for it has changed on disk: {0}"), {changed.front().filename().string()}};
    });
    watch_files();
    return true;
}

// What was changed on the bench is not thrown away for what was changed on disk.
void Session::read_plan_anew() {
    const fs::path file = history_.plan().file;
    if (unsaved()) {
        news_ = Sentence{
            worded("{0} has changed on disk; the plan on the bench was kept, and saving it overwrites the file."),
            {file.filename().string()}};
        return;
    }
    begin_plan(weld::read_plan(file, part(), shop()), true);
    history_.set_file(file);
}

// The plan goes on, by the names of its passes; one that no longer fits is told, and all stays as it was.
void Session::read_exercise_anew() {
    weld::Plan plan = history_.plan();
    weld::PlanHeading heading;
    heading.trainee = plan.trainee;
    heading.variant = plan.variant;
    grading::Exercise asked = grading::read_exercise_for(exercise_->file, heading);
    if (plan.moves.empty() && !unsaved())
        plan = fresh_plan(asked, plan.trainee);
    else {
        const fs::path file = plan.file;
        plan = parse_again(plan, part(), asked);
        plan.file = file;
    }
    const bool saved = !unsaved();
    const Bench bench = view_.bench;
    seen_.forget(exercise_->file);
    set_exercise(std::move(asked));
    begin_plan(std::move(plan), saved);
    view_.bench = bench;
}

} // namespace holdtrue::app
