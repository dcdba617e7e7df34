#include "command_line/check_output.h"
#include "command_line/commands.h"
#include "command_line/interrupt.h"
#include "command_line/named_choice.h"
#include "command_line/outcome_text.h"
#include "command_line/progress_bar.h"
#include "command_line/shipped_file.h"
#include "command_line/trainee.h"
#include "distortion/condensed_store.h"
#include "grading/grade.h"
#include "grading/variant.h"
#include "record/keep_attempt.h"
#include "record/take_hint.h"
#include "report/outcome_json.h"
#include "report/picture.h"
#include "report/sheet.h"
#include "text/atomic_file.h"
#include "text/input_error.h"
#include "weld/read_plan.h"
#include "weld/simulate.h"

#include <CLI/CLI.hpp>

#include <cstdio>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <memory>
#include <optional>

namespace holdtrue::command_line {
namespace {

struct WeldChoices {
    std::filesystem::path exercise, plan;
    std::optional<std::filesystem::path> json, picture, report, order_sheet;
    std::optional<double> time_s;
    std::string trainee; // whose record keeps the attempt; empty: none
    std::optional<int> variant;
    units::System system = units::System::metric;
    report::Paper paper = report::Paper::a4;
};

// What can be refused is refused before the work starts.
void check_outputs(const WeldChoices& choices) {
    if (choices.picture)
        report::check_picture_name(*choices.picture);
    for (const auto& sheet : {choices.report, choices.order_sheet})
        if (sheet)
            report::check_sheet_name(*sheet);
    for (const auto& file : {choices.json, choices.picture, choices.report, choices.order_sheet})
        if (file)
            check_output(*file);
}

std::shared_ptr<const weld::Outcome> simulate_with_bar(const grading::Exercise& exercise, const weld::Plan& plan,
                                                       std::stop_token stop) {
    weld::Progress progress;
    const ProgressBar bar([&progress] { return progress.share.load(); },
                          [&progress, count = plan.moves.size()] {
                              const auto move = static_cast<std::size_t>(progress.move.load());
                              return move < count ? "move " + std::to_string(move + 1) + " of " + std::to_string(count)
                                                  : std::string("cooling and measuring");
                          });
    weld::Options options;
    options.condensed = weld::condense(*exercise.part, options.element_scale, stop, distortion::usual_store());
    return weld::simulate(exercise.part, exercise.shop, plan, options, &progress, std::move(stop));
}

std::string text_of(const std::filesystem::path& file) {
    std::ifstream in(file, std::ios::binary);
    return {std::istreambuf_iterator<char>(in), {}};
}

int weld_and_mark(const WeldChoices& choices) {
    check_outputs(choices);
    const RecordedTrainee kept_for = named_trainee(choices.trainee);
    const record::Milliseconds started_ms = record::now_ms();
    weld::PlanHeading heading = weld::read_heading(choices.plan);
    if (kept_for.trainee) { // a plan without a name is theirs, and gets the variant that their name draws
        const auto owner = kept_for.record->find_trainee(heading.trainee);
        if (!heading.trainee.empty() && (!owner || owner->id != kept_for.id()))
            throw text::InputError(choices.plan.string(), 0,
                                   text::in_english("the plan is that of \"" + heading.trainee + "\", not of \"" +
                                                    kept_for.trainee->name + '"'),
                                   text::in_english("leave --trainee out to mark it without keeping the attempt"));
        heading.trainee = kept_for.trainee->name;
    }
    const grading::Exercise exercise = grading::read_exercise_for(choices.exercise, heading, choices.variant);
    weld::Plan plan = grading::read_plan_for(exercise, choices.plan);
    plan.hints = record::hints_that_count(exercise, plan.hints, kept_for.record.get(), kept_for.id());

    const InterruptWatch watch;
    const std::shared_ptr<const weld::Outcome> outcome = simulate_with_bar(exercise, plan, watch.token());
    if (watch.interrupted()) {
        std::fprintf(stderr, "stopped; nothing was written\n");
        return exit_interrupted;
    }
    const grading::Mark mark = grading::grade(exercise, *outcome, choices.system);

    std::printf("%s\n", exercise.title.c_str());
    if (exercise.variant > 0)
        std::printf("%s\n", grading::variant_text(exercise).english().c_str());
    if (const std::string foreign = grading::foreign_variant(exercise, heading).english(); !foreign.empty())
        std::printf("The plan %s.\n", foreign.c_str());
    std::printf("Plan: %s\n\n", plan.title.c_str());
    std::printf("%s\n", moves_text(exercise, *outcome, mark, choices.system).c_str());
    std::printf("%s\n", gauges_text(*outcome, choices.system).c_str());
    std::printf("%s", mark_text(exercise, mark).c_str());

    if (choices.json)
        text::write_atomically(*choices.json, report::outcome_json(exercise, *outcome, mark));
    if (choices.picture) {
        report::PictureOptions options;
        options.time_s = choices.time_s;
        options.system = choices.system;
        report::save_outcome_picture(*choices.picture, exercise.title, *outcome, mark, options);
    }
    if (choices.report)
        report::save_attempt_report(*choices.report, exercise, *outcome, mark, {choices.paper, choices.system});
    if (choices.order_sheet)
        report::save_order_sheet(*choices.order_sheet, exercise, *outcome, {choices.paper, choices.system});
    if (kept_for.trainee) {
        record::Attempt attempt = record::attempt_of(exercise, text_of(choices.plan), mark, plan.hints,
                                                     HOLDTRUE_VERSION, started_ms, record::now_ms());
        attempt.trainee = kept_for.id();
        kept_for.record->add_attempt(attempt);
    }
    return mark.passed ? 0 : 1;
}

} // namespace

void add_weld(CLI::App& program, int& exit_code) {
    CLI::App* command =
        program.add_subcommand("weld", "Welds an exercise by a plan on the simulated part, measures it and marks it");
    auto choices = std::make_shared<WeldChoices>();
    add_file(*command, "EXERCISE", choices->exercise, FileKind::exercise, "exercise file (.exercise.toml)")->required();
    command->add_option("PLAN", choices->plan, "plan file (.plan.toml)")->required();
    command->add_option("--json", choices->json, "save everything that was found, for programs");
    command->add_option("--picture", choices->picture, "save a picture: heat map, passes, finished shape (.png, .svg)");
    command->add_option("--time", choices->time_s, "show the heat at this second of the job instead of the peak")
        ->check(CLI::NonNegativeNumber);
    command->add_option("--report", choices->report, "save the attempt as a printed sheet (.pdf)");
    command->add_option("--order-sheet", choices->order_sheet, "save the order of work to hang at the fixture (.pdf)");
    add_named_choice<units::System>(*command, "--units", choices->system,
                                    {{"metric", units::System::metric}, {"imperial", units::System::imperial}},
                                    "metric or imperial, for what people read");
    add_named_choice<report::Paper>(*command, "--paper", choices->paper,
                                    {{"a4", report::Paper::a4}, {"letter", report::Paper::letter}}, "a4 or letter");
    command->add_option("--trainee", choices->trainee, "keep the attempt in this trainee's record");
    command
        ->add_option("--variant", choices->variant,
                     "the exercise's variant of this number (0: as written), whatever plan and name say")
        ->check(CLI::Range(0, weld::highest_variant));
    command->footer("Exit code: 0 passed, 1 not passed, 2 something is wrong with the input, 130 stopped by Ctrl-C.\n"
                    "Example: holdtrue weld arm.exercise.toml arm.plan.toml --picture arm.png --report arm.pdf");
    command->callback([choices, &exit_code] { exit_code = weld_and_mark(*choices); });
}

} // namespace holdtrue::command_line
