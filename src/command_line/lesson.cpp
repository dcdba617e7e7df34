#include "command_line/commands.h"
#include "lesson/question.h"
#include "lesson/schedule.h"
#include "lesson/terminal_text.h"
#include "record/progress.h"
#include "text/assets.h"
#include "text/input_error.h"
#include "text/toml_reader.h"

#include <CLI/CLI.hpp>
#include <sys/ioctl.h>
#include <unistd.h>

#include <algorithm>
#include <chrono>
#include <cstdio>
#include <iostream>
#include <map>
#include <memory>
#include <optional>

namespace holdtrue::command_line {
namespace {

struct LessonRequest {
    std::string name;
    bool list = false, models = false, figure = false, quiz = false, due = false;
    std::vector<std::string> set; // "volts=20"
    std::uint64_t seed = 0;
    std::string trainee, record;
    std::optional<int> width;
};

lesson::TerminalStyle style_of(const LessonRequest& request) {
    lesson::TerminalStyle style;
    style.styled = ::isatty(STDOUT_FILENO) != 0;
    winsize window{};
    if (request.width)
        style.width = *request.width;
    else if (style.styled && ::ioctl(STDOUT_FILENO, TIOCGWINSZ, &window) == 0 && window.ws_col >= 40)
        style.width = std::min<int>(window.ws_col, 100);
    return style;
}

void print(const std::string& text) { std::fputs(text.c_str(), stdout); }

void print_list(const std::vector<lesson::Lesson>& lessons) {
    for (const lesson::Lesson& one : lessons)
        std::printf("%2d  %-32s level %d  %2zu questions  %s\n", one.number, one.name.c_str(), one.level,
                    one.questions.size(), one.title.c_str());
    print("\nRead one with 'holdtrue lesson NAME', practise with 'holdtrue lesson NAME --quiz'.\n");
}

// What an author of lessons chooses from.
void print_models() {
    const auto key_in_file = [](std::string_view key, const units::Unit& unit) {
        return std::string(key) + (unit.suffix.empty() ? "" : "_" + std::string(unit.suffix));
    };
    for (const lesson::Model& model : lesson::models()) {
        std::printf("%s: %s\n", std::string(model.name).c_str(), std::string(model.title).c_str());
        for (const lesson::Input& input : model.inputs) {
            const units::Unit& unit = input.dimension->units[input.unit];
            std::printf("    in   %-28s %s to %s, usually %s\n", key_in_file(input.key, unit).c_str(),
                        lesson::number_text(unit.from_si(input.low)).c_str(),
                        lesson::number_text(unit.from_si(input.high)).c_str(),
                        lesson::number_text(unit.from_si(input.usual)).c_str());
        }
        for (const lesson::Output& output : model.outputs)
            std::printf("    out  %-28s %s\n", key_in_file(output.key, output.dimension->units[output.unit]).c_str(),
                        std::string(output.title).c_str());
        if (model.word)
            std::printf("    out  a word, to be chosen from choices\n");
    }
}

// Moves an input of the figure as "key=value" says, in the unit that people read.
void apply(const std::string& assignment, const lesson::Figure& figure, std::vector<double>& inputs) {
    const std::size_t equals = assignment.find('=');
    const std::string key = assignment.substr(0, equals);
    const int input = figure.model->input(key);
    std::vector<std::string> keys;
    for (const lesson::Input& one : figure.model->inputs)
        keys.emplace_back(one.key);
    if (input < 0)
        throw text::InputError("", 0, text::in_english("the figure has no input \"" + key + '"'),
                               text::in_english("it has " + text::listed(keys)));
    const lesson::Input& one = figure.model->inputs[input];
    const units::Unit& unit = one.dimension->units[one.unit];
    std::size_t used = 0;
    double value = 0;
    try {
        value = std::stod(assignment.substr(std::min(assignment.size(), equals + 1)), &used);
    } catch (const std::exception&) {
        used = std::string::npos;
    }
    const double si = unit.to_si(value);
    if (equals == std::string::npos || used != assignment.size() - equals - 1 || !(si >= one.low && si <= one.high))
        throw text::InputError("", 0, text::in_english("--set " + assignment + " cannot be used"),
                               text::in_english("give " + key + "=NUMBER from " +
                                                lesson::number_text(unit.from_si(one.low)) + " to " +
                                                lesson::with_unit(one.high, *one.dimension, one.unit)));
    inputs[input] = si;
}

void print_figure(const lesson::Lesson& lesson, const LessonRequest& request, const lesson::TerminalStyle& style) {
    std::vector<double> inputs = lesson.figure.inputs;
    for (const std::string& assignment : request.set)
        apply(assignment, lesson.figure, inputs);
    print(lesson::wrapped(lesson.figure.caption, style.width) + '\n');
    print(lesson::in_terminal(lesson.figure, lesson::evaluate(lesson.figure, inputs), style));
    std::string sliders;
    for (const lesson::Slider& slider : lesson.figure.sliders)
        sliders += " --set " + std::string(lesson.figure.model->inputs[slider.input].key) + "=...";
    print("\nMove it: holdtrue lesson " + lesson.name + " --figure" + sliders + '\n');
}

void print_lesson(const lesson::Lesson& lesson, const LessonRequest& request) {
    const lesson::TerminalStyle style = style_of(request);
    const std::string title = std::to_string(lesson.number) + ". " + lesson.title;
    print((style.styled ? "\x1b[1m" + title + "\x1b[0m" : title) + "\n\n");
    print(lesson::wrapped("Aim: " + lesson.aim, style.width, 5) + '\n');
    print(lesson::in_terminal(lesson.text, style) + '\n');
    print_figure(lesson, request, style);
    print("\nSources:\n");
    for (const std::string& source : lesson.sources)
        print(lesson::wrapped("- " + source, style.width, 2));
    std::printf("\n%zu questions: holdtrue lesson %s --quiz\n", lesson.questions.size(), lesson.name.c_str());
}

struct Asked {
    const lesson::Lesson* lesson;
    const lesson::Question* question;
    std::string name() const { return lesson->name + '/' + question->id; }
};

// The record of the trainee to whom the answers are to be counted: named, or the current one; none: not recorded.
struct Learner {
    std::unique_ptr<record::Record> record;
    std::optional<record::Trainee> trainee;
};
Learner learner_of(const LessonRequest& request) {
    Learner learner;
    const auto path = request.record.empty() ? record::default_path() : std::filesystem::path(request.record);
    if (std::filesystem::exists(path)) { // asking questions must not create one
        learner.record = std::make_unique<record::Record>(path);
        learner.trainee =
            request.trainee.empty() ? learner.record->current_trainee() : learner.record->find_trainee(request.trainee);
    }
    if (!learner.trainee && !request.trainee.empty())
        throw text::InputError(path.string(), 0, text::in_english("there is no trainee \"" + request.trainee + '"'),
                               text::in_english("add one with 'holdtrue record trainee add NAME'"));
    return learner;
}

// What is due by spaced repetition, most overdue first; never answered questions follow in the order of the lessons.
std::vector<Asked> due_first(std::vector<Asked> all, const Learner& learner, bool due_only) {
    std::map<std::string, record::Milliseconds> due;
    if (learner.trainee)
        for (const auto& progress : record::question_progress(*learner.record, learner.trainee->id))
            due[progress.question] = progress.due_ms;
    const record::Milliseconds now = record::now_ms(), never = now + 1;
    const auto when = [&](const Asked& asked) {
        const auto at = due.find(asked.name());
        return at == due.end() ? never : at->second > now ? at->second + never : at->second;
    };
    std::ranges::stable_sort(all, {}, when);
    if (due_only)
        std::erase_if(all, [&](const Asked& asked) {
            const auto at = due.find(asked.name());
            return at != due.end() && at->second > now;
        });
    return all;
}

// As it is recorded: the text of a choice, because its letter depends on the seed.
std::string answer_given(const lesson::Posed& posed, const std::string& typed) {
    return posed.choices.empty() ? typed : posed.choices[lesson::chosen(posed, typed)];
}

int run_quiz(const std::vector<Asked>& questions, Learner& learner, const LessonRequest& request) {
    const lesson::TerminalStyle style = style_of(request);
    const std::uint64_t seed = request.seed ? request.seed : static_cast<std::uint64_t>(record::now_ms());
    if (!learner.trainee)
        print("Answers are not recorded: name a trainee with --trainee, or choose one with 'holdtrue record trainee "
              "use NAME'.\n\n");
    int right = 0, asked = 0;
    bool ended = false;
    for (const Asked& one : questions) {
        const lesson::Posed posed = lesson::pose(*one.question, seed + static_cast<std::uint64_t>(asked));
        print(lesson::wrapped(std::to_string(asked + 1) + ". " + posed.text, style.width, 3));
        for (std::size_t k = 0; k < posed.choices.size(); ++k)
            print("   " + lesson::wrapped(std::string(1, static_cast<char>('a' + k)) + ") " + posed.choices[k],
                                          style.width - 3, 6));
        const auto started = std::chrono::steady_clock::now();
        std::string typed;
        lesson::Judgement judgement = lesson::Judgement::not_understood;
        while (judgement == lesson::Judgement::not_understood) {
            print(posed.choices.empty() ? "   answer" + (posed.unit.empty() ? "" : " [" + posed.unit + "]") + ": "
                                        : std::string("   letter: "));
            std::fflush(stdout);
            if (!std::getline(std::cin, typed)) {
                ended = true;
                break;
            }
            judgement = lesson::judge(posed, typed);
            if (judgement == lesson::Judgement::not_understood)
                print(posed.choices.empty() ? "   Give a number.\n" : "   Give one of the letters.\n");
        }
        if (ended)
            break;
        const bool is_right = judgement == lesson::Judgement::right;
        const double thinking_s = std::chrono::duration<double>(std::chrono::steady_clock::now() - started).count();
        ++asked;
        right += is_right;
        const std::string verdict = is_right ? "Right. " : "Wrong. The right answer: " + posed.right_words + ". ";
        print("   " + lesson::wrapped(verdict + posed.why, style.width - 3, 3) + '\n');
        if (learner.trainee)
            learner.record->add_answer({0, "", learner.trainee->id, one.name(), answer_given(posed, typed), is_right,
                                        lesson::quality(is_right, thinking_s), record::now_ms(),
                                        static_cast<record::Milliseconds>(thinking_s * 1000)});
    }
    std::printf("%d of %d right.\n", right, asked);
    return asked > 0 && right == asked && !ended ? 0 : 1;
}

int run_lesson(const LessonRequest& request) {
    if (request.models) {
        print_models();
        return 0;
    }
    const std::vector<lesson::Lesson> lessons = lesson::read_lessons(text::lessons_folder());
    if (request.list || (request.name.empty() && !request.due)) {
        print_list(lessons);
        return 0;
    }
    if (request.quiz || request.due) {
        std::vector<Asked> questions;
        for (const lesson::Lesson& one : lessons)
            if (request.name.empty() || &one == &lesson::find_lesson(lessons, request.name))
                for (const lesson::Question& question : one.questions)
                    questions.push_back({&one, &question});
        Learner learner = learner_of(request);
        questions = due_first(std::move(questions), learner, request.due);
        if (questions.empty()) {
            print("Nothing is due.\n");
            return 0;
        }
        return run_quiz(questions, learner, request);
    }
    const lesson::Lesson& lesson = lesson::find_lesson(lessons, request.name);
    if (request.figure)
        print_figure(lesson, request, style_of(request));
    else
        print_lesson(lesson, request);
    return 0;
}

} // namespace

void add_lesson(CLI::App& program, int& exit_code) {
    CLI::App* command = program.add_subcommand("lesson", "Shows a lesson, its live figure, or asks its questions");
    auto request = std::make_shared<LessonRequest>();
    command->add_option("NAME", request->name, "name or number of a lesson; none: the list")->type_name("lesson");
    command->add_flag("--list", request->list, "list the lessons");
    command->add_flag("--models", request->models, "for authors: the models that figures and questions may use");
    command->add_flag("--figure", request->figure, "only the live figure");
    command->add_option("--set", request->set, "move an input of the figure: --set volts=20 (may be repeated)")
        ->expected(1)
        ->multi_option_policy(CLI::MultiOptionPolicy::TakeAll);
    command->add_flag("--quiz", request->quiz, "ask the questions; those due come first");
    command->add_flag("--due", request->due, "ask only what is due by spaced repetition, of all lessons or NAME");
    command->add_option("--seed", request->seed, "same seed, same numbers and order of choices");
    command->add_option("--trainee", request->trainee, "whose answers they are (default: the current trainee)");
    command->add_option("--file", request->record, "another record than the one in the data folder");
    command->add_option("--width", request->width, "columns to wrap to")->check(CLI::Range(40, 200));
    command->footer("Examples:\n"
                    "  holdtrue lesson                              the list\n"
                    "  holdtrue lesson volts_feed_and_travel        text, figure and sources\n"
                    "  holdtrue lesson 9 --figure --set volts=24    the figure with other settings\n"
                    "  holdtrue lesson 9 --quiz --seed 7            its questions; exit code 0 if all are right\n"
                    "  holdtrue lesson --due                        what is due today, of all lessons");
    command->callback([request, &exit_code] { exit_code = run_lesson(*request); });
}

} // namespace holdtrue::command_line
