#include "app/session/session.h"
#include "grading/read_exercise.h"
#include "grading/variant.h"
#include "weld/read_plan.h"
#include "weld/save_plan.h"

#include <algorithm>

namespace holdtrue::app {

namespace fs = std::filesystem;

namespace {

bool is_exercise(const fs::path& file) { return file.string().ends_with(".exercise.toml"); }

bool is_plan(const fs::path& file) { return file.string().ends_with(".plan.toml"); }

} // namespace

fs::path Session::autosave_file() const { return places_.configuration / "unsaved.plan.toml"; }

void Session::open(const fs::path& file) {
    not_opened_ = file;
    if (is_exercise(file))
        open_exercise(file);
    else if (is_plan(file)) {
        const fs::path exercise = weld::exercise_of(file);
        if (exercise.empty() && !exercise_)
            throw text::InputError(file.string(), 0, "the plan names no exercise, and none is on the bench",
                                   "open the exercise first, then the plan");
        const fs::path answered = exercise.empty() ? exercise_->file : exercise;
        const int variant = grading::read_exercise_for(answered, weld::read_heading(file)).variant;
        std::error_code ignored;
        if (!(exercise_ && fs::equivalent(answered, exercise_->file, ignored) && exercise_->variant == variant))
            open_exercise(answered, variant);
        begin_plan(weld::read_plan(file, *exercise_->part, *exercise_->shop), true);
        history_.set_file(file);
    } else
        throw text::InputError(file.string(), 0, "is neither an exercise nor a plan",
                               "open a file that ends in .exercise.toml or .plan.toml");
    not_opened_.clear();
    watch_files();
    remember(preferences_, file);
    save_preferences_now();
}

void Session::open_exercise(const fs::path& file, int variant) {
    // All is read before anything on the bench is given up.
    auto exercise = std::make_shared<const grading::Exercise>(grading::read_exercise(file, variant));
    if (!rule_book_)
        rule_book_ = arc::RuleBook::read(places_.assets / "rules");
    auto mesh = std::make_shared<const part::Mesh>(part::build_mesh(*exercise->part));
    exercise_ = std::move(exercise);
    mesh_ = std::move(mesh);
    opened_ms_ = record::now_ms();
    kept_.reset();
    view_ = View();
    begin_plan(fresh_plan(*exercise_), true);
    scene::look_from(view_.camera, scene::StandardView::corner);
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
    news_ = Words{worded("Saved as {0}."), {file.filename().string()}};
}

void Session::rest() {
    if (!unsaved() || history_.revision() == autosaved_revision_)
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
            news_ = Words{worded("Read anew, for it has changed on disk: {0}"), {changed.front().filename().string()}};
    });
    watch_files();
    return true;
}

// What was changed on the bench is not thrown away for what was changed on disk.
void Session::read_plan_anew() {
    const fs::path file = history_.plan().file;
    if (unsaved()) {
        news_ =
            Words{worded("{0} has changed on disk; the plan on the bench was kept, and saving it overwrites the file."),
                  {file.filename().string()}};
        return;
    }
    begin_plan(weld::read_plan(file, part(), shop()), true);
    history_.set_file(file);
}

// The plan goes on, by the names of its passes; one that no longer fits is told, and all stays as it was.
void Session::read_exercise_anew() {
    const int variants = grading::read_exercise(exercise_->file).variant_count;
    auto exercise = std::make_shared<const grading::Exercise>(
        grading::read_exercise(exercise_->file, std::min(exercise_->variant, variants)));
    weld::Plan plan = history_.plan();
    if (plan.moves.empty() && !unsaved())
        plan = fresh_plan(*exercise);
    else
        plan =
            weld::parse_plan(weld::plan_toml(plan, part()), "the plan on the bench", *exercise->part, *exercise->shop);
    plan.file = history_.plan().file;
    const bool saved = !unsaved();
    const View view = view_;
    mesh_ = std::make_shared<const part::Mesh>(part::build_mesh(*exercise->part));
    exercise_ = std::move(exercise);
    kept_.reset();
    begin_plan(std::move(plan), saved);
    view_.bench = view.bench;
}

} // namespace holdtrue::app
