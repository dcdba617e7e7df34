#include "arc/read_shop.h"
#include "command_line/commands.h"
#include "command_line/shipped_file.h"
#include "grading/read_exercise.h"
#include "grading/variant.h"
#include "lesson/lesson.h"
#include "part/read_part.h"
#include "text/assets.h"
#include "text/input_error.h"
#include "weld/read_plan.h"

#include <CLI/CLI.hpp>

#include <cstdio>
#include <filesystem>
#include <memory>
#include <string>
#include <vector>

namespace holdtrue::command_line {
namespace {

struct CheckArguments {
    std::vector<std::filesystem::path> files;
    std::filesystem::path exercise; // for plans; empty: the one that the plan names
};

std::string count(std::size_t number, std::string_view one, std::string_view many) {
    return std::to_string(number) + ' ' + std::string(number == 1 ? one : many);
}

void check_lessons(const grading::Exercise& exercise) {
    if (exercise.lessons.empty())
        return;
    const std::vector<lesson::Lesson> lessons = lesson::read_lessons(text::lessons_folder());
    for (const std::string& name : exercise.lessons)
        lesson::find_lesson(lessons, name, exercise.file.string());
}

// What is no obstacle to a mark, and yet most likely a mistake of whoever wrote the rules.
void check_rules(const arc::RuleBook& rules) {
    std::vector<text::Problem> problems;
    for (const arc::Rule& rule : rules.unjudged())
        problems.push_back(
            {rule.file, rule.line,
             text::in_english("nothing in the program judges a rule " + rule.id + " as it stands; marks leave it out"),
             text::in_english("correct its id, numbers and unit ('holdtrue rules' lists those that are judged), or use "
                              "the program that the rules came with")});
    if (!problems.empty())
        throw text::InputError(std::move(problems));
}

// Reads the file by what its name ends in; returns what it holds, in a few words.
std::string read_one(const std::filesystem::path& file, const std::filesystem::path& exercise_given) {
    const std::string name = file.filename().string();
    if (name.ends_with(".part.toml")) {
        const auto part = part::read_part(file);
        return count(part->panels.size(), "panel", "panels") + ", " + count(part->passes.size(), "pass", "passes") +
               ", " + count(part->gauges.size(), "gauge", "gauges");
    }
    if (name.ends_with(".shop.toml")) {
        const auto shop = arc::read_shop(file);
        return count(shop->wires.size(), "wire", "wires") + ", " + count(shop->gases.size(), "gas", "gases");
    }
    if (name.ends_with(".exercise.toml")) {
        const grading::Exercise exercise = grading::read_exercise(file);
        check_lessons(exercise);
        check_rules(*exercise.rules);
        for (int variant = 1; variant <= exercise.variant_count; ++variant)
            grading::read_exercise(file, variant); // each in itself, or its problem
        return "part " + exercise.part->name + ", shop " + exercise.shop->name + ", level " +
               std::to_string(exercise.level) +
               (exercise.variant_count > 0
                    ? ", " + count(static_cast<std::size_t>(exercise.variant_count), "variant", "variants")
                    : "") +
               (exercise.hints.empty() ? "" : ", " + count(exercise.hints.size(), "hint", "hints"));
    }
    if (name.ends_with(".plan.toml")) {
        const std::filesystem::path of_plan = exercise_given.empty() ? weld::exercise_of(file) : exercise_given;
        if (of_plan.empty())
            throw text::InputError(
                file.string(), 0, text::in_english("names no exercise, so its passes cannot be looked up"),
                text::in_english("add exercise = \"NAME.exercise.toml\" to it, or give --exercise FILE"));
        const weld::PlanHeading heading = weld::read_heading(file);
        const grading::Exercise exercise = grading::read_exercise_for(of_plan, heading);
        const weld::Plan plan = grading::read_plan_for(exercise, file);
        return "for " + exercise.name +
               (exercise.variant > 0 ? " in variant " + std::to_string(exercise.variant) : "") + ", " +
               count(plan.cards.size(), "card", "cards") + ", " + count(plan.moves.size(), "move", "moves");
    }
    if (name == "lesson.toml") {
        const lesson::Lesson lesson = lesson::read_lesson(std::filesystem::absolute(file).parent_path());
        return "lesson " + lesson.name + ", " + count(lesson.questions.size(), "question", "questions");
    }
    throw text::InputError(
        file.string(), 0, text::in_english("is of no kind that is known by its name"),
        text::in_english("name it NAME.part.toml, NAME.shop.toml, NAME.exercise.toml, NAME.plan.toml or, in a "
                         "lesson's folder, lesson.toml"));
}

int check(const CheckArguments& arguments) {
    std::vector<text::Problem> problems;
    std::size_t good = 0;
    for (const std::filesystem::path& file : arguments.files) {
        try {
            const std::string words = read_one(file, arguments.exercise);
            std::printf("%s: ok, %s\n", file.string().c_str(), words.c_str());
            ++good;
        } catch (const text::InputError& error) {
            problems.insert(problems.end(), error.problems().begin(), error.problems().end());
        }
    }
    std::printf("%zu of %s ok\n", good, count(arguments.files.size(), "file", "files").c_str());
    std::fflush(stdout);
    if (!problems.empty())
        throw text::InputError(std::move(problems));
    return 0;
}

} // namespace

void add_check(CLI::App& program, int& exit_code) {
    CLI::App* command = program.add_subcommand(
        "check", "Says whether part, shop, plan and exercise files are right, and what to correct");
    auto arguments = std::make_shared<CheckArguments>();
    command->add_option("FILE", arguments->files, "files to check; their names end in .part.toml, .shop.toml, ...")
        ->required();
    add_file(*command, "--exercise", arguments->exercise, FileKind::exercise, "check plans against this exercise file");
    command->footer("Examples:\n"
                    "  holdtrue check arm.part.toml arm.exercise.toml\n"
                    "  holdtrue check my.plan.toml --exercise arm.exercise.toml");
    command->callback([arguments, &exit_code] { exit_code = check(*arguments); });
}

} // namespace holdtrue::command_line
