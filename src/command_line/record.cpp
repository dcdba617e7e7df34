#include "record/record.h"

#include "command_line/commands.h"
#include "command_line/interrupt.h"
#include "command_line/shipped_file.h"
#include "command_line/text_table.h"
#include "grading/read_exercise.h"
#include "record/export.h"
#include "record/keep_attempt.h"
#include "record/progress.h"
#include "text/atomic_file.h"
#include "text/input_error.h"
#include "text/toml_reader.h"
#include "units/quantity_text.h"

#include <CLI/CLI.hpp>

#include <cmath>
#include <cstdio>
#include <memory>
#include <optional>

namespace holdtrue::command_line {
namespace {

namespace fs = std::filesystem;

struct RecordRequest {
    std::string file, exercise, trainee, name, new_name, format = "csv", what = "attempts", out, home, backup;
    bool with_names = false, yes = false, replace = false;
};

fs::path path_of(const RecordRequest& request) {
    return request.file.empty() ? record::default_path() : fs::path(request.file);
}

// Looking at a record must not create one.
record::Record existing(const RecordRequest& request) {
    const fs::path path = path_of(request);
    if (!fs::exists(path))
        throw text::InputError(
            path.string(), 0, text::in_english("there is no record yet"),
            text::in_english("add a trainee with 'holdtrue record trainee add NAME', or name a record with --file"));
    return record::Record(path);
}

record::Trainee named(const record::Record& record, const std::string& name) {
    if (const auto trainee = record.find_trainee(name))
        return *trainee;
    std::vector<std::string> names;
    for (const record::Trainee& one : record.trainees())
        names.push_back(one.name);
    const std::string near = text::nearest(name, names);
    throw text::InputError(
        record.path().string(), 0, text::in_english("there is no trainee \"" + name + '"'),
        text::in_english(near.empty() ? "see 'holdtrue record trainee list'" : "did you mean \"" + near + "\"?"));
}

std::optional<std::int64_t> chosen(const record::Record& record, const RecordRequest& request) {
    return request.trainee.empty() ? std::nullopt : std::optional(named(record, request.trainee).id);
}

void print_progress(const record::Record& record, const record::Trainee& trainee) {
    std::printf("%s\n", trainee.name.c_str());
    for (const auto& exercise : record::exercise_progress(record, trainee.id)) {
        std::string marks;
        const std::size_t from = exercise.marks.size() > 8 ? exercise.marks.size() - 8 : 0;
        for (std::size_t k = from; k < exercise.marks.size(); ++k)
            marks += (k > from ? ", " : from > 0 ? "..., " : "") + units::number_text(exercise.marks[k], 0);
        std::printf("  %-28s %3zu %-5s  best %3.0f  %-10s  %s  marks %s\n", exercise.exercise.c_str(),
                    exercise.marks.size(), exercise.marks.size() == 1 ? "try" : "tries", exercise.best,
                    exercise.passed ? "passed" : "not passed",
                    units::duration_text(static_cast<double>(exercise.spent_ms) / 1000).c_str(), marks.c_str());
    }
    int asked = 0, right = 0, due = 0;
    const record::Milliseconds now = record::now_ms();
    for (const auto& question : record::question_progress(record, trainee.id)) {
        asked += question.asked;
        right += question.right;
        due += question.due_ms <= now;
    }
    std::printf("  %d answers, %d right; %d questions due again\n", asked, right, due);
}

void list(const RecordRequest& request) {
    const record::Record record = existing(request);
    const auto trainees = record.trainees();
    if (trainees.empty())
        std::printf("No trainee yet: holdtrue record trainee add NAME\n");
    for (const record::Trainee& trainee : trainees)
        if (request.trainee.empty() || trainee.id == named(record, request.trainee).id)
            print_progress(record, trainee);
    if (!request.trainee.empty())
        named(record, request.trainee); // an unknown name is an error, not an empty list
}

void save(const RecordRequest& request) {
    const record::Record record = existing(request);
    const auto trainee = chosen(record, request);
    const std::string text = request.format == "json" ? record::as_json(record, trainee)
                             : request.format == "xapi"
                                 ? record::as_xapi(record, trainee, request.home, request.with_names)
                             : request.what == "answers" ? record::answers_csv(record, trainee)
                                                         : record::attempts_csv(record, trainee);
    if (request.out.empty() || request.out == "-")
        std::fwrite(text.data(), 1, text.size(), stdout);
    else
        text::write_atomically(request.out, text);
}

// Marks kept in the record are not trusted: every attempt at an exercise is welded again by its plan.
int recompute(const RecordRequest& request) {
    const record::Record record = existing(request);
    const grading::Exercise exercise = grading::read_exercise(request.exercise);
    const auto trainee = chosen(record, request);
    const InterruptWatch watch;
    int differ = 0, found = 0;
    for (const record::Attempt& attempt : record.attempts(trainee)) {
        if (attempt.exercise != exercise.name)
            continue;
        ++found;
        std::string now = "-", note;
        try {
            const grading::Mark mark = record::mark_again(exercise, attempt, watch.token());
            now = units::number_text(mark.total, 1);
            note = std::abs(mark.total - attempt.mark) < 0.05 && mark.passed == attempt.passed ? "the same" : "differs";
        } catch (const text::InputError& error) {
            note = "the plan does not fit any more: " + text::to_line(error.problems().front());
        }
        if (watch.interrupted())
            return exit_interrupted;
        differ += note != "the same";
        std::printf("%s  kept %5.1f  now %5s  %s\n", record::utc_text(attempt.ended_ms).substr(0, 16).c_str(),
                    attempt.mark, now.c_str(), note.c_str());
    }
    std::printf("%d attempts at %s, %d differ\n", found, exercise.name.c_str(), differ);
    return differ == 0 ? 0 : 1;
}

void add_trainee_commands(CLI::App& record_command, const std::shared_ptr<RecordRequest>& request) {
    CLI::App* trainee = record_command.add_subcommand("trainee", "Who practises on this machine");
    trainee->require_subcommand(1);
    const auto name = [&](CLI::App* command) {
        command->add_option("NAME", request->name, "name of the trainee")->required();
        return command;
    };
    trainee->add_subcommand("list", "all trainees; the current one is marked *")->callback([request] {
        const record::Record record = existing(*request);
        const auto current = record.current_trainee();
        TextTable table("ll");
        for (const record::Trainee& one : record.trainees())
            table.add({(current && current->id == one.id ? "* " : "  ") + one.name,
                       "since " + record::utc_text(one.since_ms).substr(0, 10)});
        std::printf("%s", table.text().c_str());
    });
    name(trainee->add_subcommand("add", "adds a trainee; the first one becomes current"))->callback([request] {
        record::Record record(path_of(*request));
        const record::Trainee added = record.add_trainee(request->name);
        if (!record.current_trainee())
            record.set_current_trainee(added.id);
    });
    name(trainee->add_subcommand("use", "makes a trainee current"))->callback([request] {
        record::Record record = existing(*request);
        record.set_current_trainee(named(record, request->name).id);
    });
    CLI::App* rename = name(trainee->add_subcommand("rename", "gives a trainee another name"));
    rename->add_option("NEW", request->new_name, "the new name")->required();
    rename->callback([request] {
        record::Record record = existing(*request);
        record.rename_trainee(named(record, request->name).id, request->new_name);
    });
    CLI::App* remove = name(trainee->add_subcommand("remove", "removes a trainee with all attempts and answers"));
    remove->add_flag("--yes", request->yes, "really remove");
    remove->callback([request] {
        record::Record record = existing(*request);
        const record::Trainee gone = named(record, request->name);
        const std::size_t attempts = record.attempts(gone.id).size();
        if (!request->yes)
            throw text::InputError("", 0,
                                   text::in_english("this would remove " + gone.name + " with " +
                                                    std::to_string(attempts) +
                                                    (attempts == 1 ? " attempt" : " attempts")),
                                   text::in_english("make a backup first, then add --yes"));
        const auto before = record.current_trainee();
        record.remove_trainee(gone.id);
        const auto current = record.current_trainee();
        if (!before || before->id != gone.id)
            return;
        if (current)
            std::printf("%s is current.\n", current->name.c_str());
        else if (record.trainees().empty())
            std::printf("No trainee is left: holdtrue record trainee add NAME\n");
        else
            std::printf("Nobody is current, attempts are not kept: holdtrue record trainee use NAME\n");
    });
}

} // namespace

void add_record(CLI::App& program, int& exit_code) {
    CLI::App* command = program.add_subcommand("record", "Attempts, answers and progress; export, backup, restore");
    auto request = std::make_shared<RecordRequest>();
    command->require_subcommand(1);
    command->fallthrough(); // --file may stand after what is asked
    command->add_option("--file", request->file, "another record than the one in the data folder");
    command->footer("Examples:\n"
                    "  holdtrue record trainee add \"Ann\"\n"
                    "  holdtrue record list --trainee \"Ann\"\n"
                    "  holdtrue record export --format csv -o attempts.csv\n"
                    "  holdtrue record export --format xapi --home https://training.example -o statements.json\n"
                    "  holdtrue record backup record-may.sqlite\n"
                    "  holdtrue record restore record-may.sqlite");
    // A command's callback runs after those of the commands below it.
    auto exit_of_recompute = std::make_shared<int>(0);
    command->callback([&exit_code, exit_of_recompute] { exit_code = *exit_of_recompute; });

    CLI::App* list_command = command->add_subcommand("list", "progress of all trainees, or one");
    list_command->add_option("--trainee", request->trainee, "only this one");
    list_command->callback([request] { list(*request); });

    CLI::App* export_command = command->add_subcommand("export", "writes the record for other programs");
    export_command->add_option("--format", request->format, "csv, json or xapi")
        ->check(CLI::IsMember({"csv", "json", "xapi"}));
    export_command->add_option("--what", request->what, "csv: attempts or answers")
        ->check(CLI::IsMember({"attempts", "answers"}));
    export_command->add_option("--trainee", request->trainee, "only this one");
    export_command->add_option("--home", request->home, "xapi: address of the training provider's accounts");
    export_command->add_flag("--with-names", request->with_names, "xapi: tell names too, not only ids");
    export_command->add_option("-o,--out", request->out, "file to write (default: the terminal)");
    export_command->callback([request] {
        if (request->format == "xapi" && !record::is_home_of_accounts(request->home))
            throw text::InputError(
                "", 0, text::in_english("xapi statements need the address of the accounts they belong to"),
                text::in_english("add --home with the address your training provider gave, such as https://..."));
        save(*request);
    });

    CLI::App* recompute_command =
        command->add_subcommand("recompute", "marks the kept attempts at an exercise again, from their plans");
    add_file(*recompute_command, "EXERCISE", request->exercise, FileKind::exercise, "exercise file (.exercise.toml)")
        ->required();
    recompute_command->add_option("--trainee", request->trainee, "only this one");
    recompute_command->callback([request, exit_of_recompute] { *exit_of_recompute = recompute(*request); });

    CLI::App* backup = command->add_subcommand("backup", "copies the record to a file, while it is in use or not");
    backup->add_option("FILE", request->backup, "file to write")->required();
    backup->add_flag("--replace", request->replace, "replace the file if it exists");
    backup->callback([request] {
        const record::Record record = existing(*request);
        if (fs::exists(request->backup) && !request->replace)
            throw text::InputError(
                request->backup, 0, text::in_english("exists already"),
                text::in_english("name another file, or add --replace if what it holds is not needed"));
        record.backup(request->backup);
    });

    CLI::App* restore = command->add_subcommand("restore", "takes over a backup; what was there is kept beside it");
    restore->add_option("FILE", request->backup, "a backup")->required();
    restore->callback([request] {
        const fs::path path = path_of(*request);
        std::printf("Restored. What was there before: %s\n", record::restore(path, request->backup).c_str());
    });

    add_trainee_commands(*command, request);
}

} // namespace holdtrue::command_line
