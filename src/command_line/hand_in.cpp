#include "record/hand_in.h"

#include "command_line/commands.h"
#include "command_line/shipped_file.h"
#include "command_line/trainee.h"
#include "grading/variant.h"
#include "record/take_hint.h"
#include "text/atomic_file.h"
#include "text/input_error.h"

#include <CLI/CLI.hpp>

#include <cstdio>
#include <filesystem>
#include <memory>

namespace holdtrue::command_line {
namespace {

struct HandInChoices {
    std::filesystem::path plan, out, exercise;
    std::string trainee;
};

int hand_in(const HandInChoices& choices) {
    record::check_bundle_name(choices.out, record::BundleKind::hand_in);
    const std::string text = record::read_bounded(choices.plan, record::ArchiveLimits{}.file_bytes);
    weld::PlanHeading heading = weld::parse_heading(text, choices.plan.string());
    if (!choices.trainee.empty())
        heading.trainee = choices.trainee;
    const std::filesystem::path exercise_file =
        choices.exercise.empty() ? weld::exercise_of(choices.plan) : choices.exercise;
    if (exercise_file.empty())
        throw text::InputError(
            choices.plan.string(), 0, text::in_english("names no exercise"),
            text::in_english("add exercise = \"NAME.exercise.toml\" to it, or give --exercise FILE"));
    const grading::Exercise exercise = grading::read_exercise_for(exercise_file, heading);
    grading::parse_plan_for(exercise, text, choices.plan.string()); // must read as a plan
    if (heading.trainee.empty())
        throw text::InputError(choices.plan.string(), 0, text::in_english("names no trainee"),
                               text::in_english("add trainee = \"YOUR NAME\" to it, or give --trainee NAME"));
    const RecordedTrainee known = trainee_of_plan(heading.trainee);
    const int hints = record::hints_that_count(exercise, heading.hints, known.record.get(), known.id());
    const std::string bytes = record::bundle_bytes(record::hand_in(exercise, text, heading, hints, HOLDTRUE_VERSION));
    text::write_atomically(choices.out, bytes);
    std::printf("%s: exercise %s, by %s%s, hints %d, SHA-256 %s\n", choices.out.string().c_str(), exercise.name.c_str(),
                heading.trainee.c_str(),
                exercise.variant > 0 ? (", variant " + std::to_string(exercise.variant)).c_str() : "", hints,
                record::sha256_hex(bytes).c_str());
    return 0;
}

} // namespace

void add_hand_in(CLI::App& program, int& exit_code) {
    CLI::App* command = program.add_subcommand("handin", "Packs a plan into one file for the instructor");
    auto choices = std::make_shared<HandInChoices>();
    command->add_option("PLAN", choices->plan, "your plan (.plan.toml)")->required();
    command->add_option("-o,--out", choices->out, "file to write (.handin.zip)")->required();
    add_file(*command, "--exercise", choices->exercise, FileKind::exercise,
             "the exercise file instead of the one that the plan names");
    command->add_option("--trainee", choices->trainee, "who hands in; by default the plan's trainee");
    command->footer("'holdtrue class' marks hand-ins and plans alike; it works the mark out from the plan.\n"
                    "Example: holdtrue handin my.plan.toml -o ann.handin.zip");
    command->callback([choices, &exit_code] { exit_code = hand_in(*choices); });
}

} // namespace holdtrue::command_line
