#include "command_line/commands.h"
#include "command_line/shipped_file.h"
#include "command_line/trainee.h"
#include "grading/variant.h"
#include "record/archive.h"
#include "record/take_hint.h"
#include "text/atomic_file.h"
#include "text/toml_text.h"
#include "units/quantity_text.h"

#include <CLI/CLI.hpp>

#include <cstdio>
#include <filesystem>
#include <memory>
#include <string>

namespace holdtrue::command_line {
namespace {

struct HintChoices {
    std::filesystem::path exercise, plan;
    std::string trainee;
};

int hint(const HintChoices& choices) {
    if (is_shipped(choices.plan))
        throw text::InputError(choices.plan.string(), 0,
                               text::in_english("ships with the program, and a hint is noted in the plan"),
                               text::in_english("copy it and name the copy"));
    const std::string text = record::read_bounded(choices.plan, record::ArchiveLimits{}.file_bytes);
    const weld::PlanHeading heading = weld::parse_heading(text, choices.plan.string());
    const grading::Exercise exercise = grading::read_exercise_for(choices.exercise, heading);
    const RecordedTrainee known =
        choices.trainee.empty() ? trainee_of_plan(heading.trainee) : named_trainee(choices.trainee);

    // That the plan can be edited is seen before the record is.
    int hints = heading.hints;
    text::with_root_key(text, "hints", std::to_string(hints), choices.plan.string());
    const record::TakenHint taken = record::take_hint(exercise, hints, known.record.get(), known.id());
    text::write_atomically(choices.plan,
                           text::with_root_key(text, "hints", std::to_string(hints), choices.plan.string()));

    std::printf("Hint %d of %d: %s\n", taken.number, taken.of, taken.text.c_str());
    std::printf("It costs %s points; so far %s. Noted in %s%s.\n", units::significant_text(taken.cost).c_str(),
                units::significant_text(taken.cost_so_far).c_str(), choices.plan.string().c_str(),
                known.trainee ? (" and in the record of " + known.trainee->name).c_str()
                              : "; no trainee of the record is named, so the plan alone tells of it");
    return 0;
}

} // namespace

void add_hint(CLI::App& program, int& exit_code) {
    CLI::App* command = program.add_subcommand("hint", "Gives the next hint of an exercise; each one costs points");
    auto choices = std::make_shared<HintChoices>();
    add_file(*command, "EXERCISE", choices->exercise, FileKind::exercise, "exercise file (.exercise.toml)")->required();
    command->add_option("PLAN", choices->plan, "your plan (.plan.toml); the hint is noted in it")->required();
    command->add_option("--trainee", choices->trainee,
                        "note it in this trainee's record; by default the plan's, if the record knows the name");
    command->footer("The remarks on a weld cost nothing: weld the plan and read them first.\n"
                    "Example: holdtrue hint arm.exercise.toml my.plan.toml");
    command->callback([choices, &exit_code] { exit_code = hint(*choices); });
}

} // namespace holdtrue::command_line
